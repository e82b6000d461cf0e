//! The layers of DEVELOPERS.md, checked on the source: a lower layer never
//! names an upper one, SQL stands in the notebook alone, and the pure layers
//! know no clock, environment, database or page.

use std::fs;
use std::path::{Path, PathBuf};

/// From the bottom up; each may use those before it.
const LAYERS: [&str; 9] = [
    "measure", "plan", "drafting", "figures", "photos", "notebook", "sheets", "web", "cli",
];

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            files.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
    files
}

fn layer(name: &str) -> Vec<(PathBuf, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(name);
    sources(&folder)
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).expect("a source file");
            // Comments may speak of other layers.
            let code = text
                .lines()
                .filter(|l| !l.trim_start().starts_with("//"))
                .collect::<Vec<_>>()
                .join("\n");
            (path, code)
        })
        .collect()
}

#[test]
fn a_lower_layer_never_names_an_upper_one() {
    for (at, name) in LAYERS.iter().enumerate() {
        for (path, code) in layer(name) {
            for upper in &LAYERS[at + 1..] {
                for way in [
                    format!("crate::{upper}::"),
                    format!("crate::{upper};"),
                    format!("crate::{{{upper}"),
                ] {
                    assert!(
                        !code.contains(&way),
                        "{} names the layer {upper} above it",
                        path.display()
                    );
                }
            }
        }
    }
}

#[test]
fn photos_know_only_measures() {
    for (path, code) in layer("photos") {
        for other in ["crate::figures", "crate::plan", "crate::drafting"] {
            assert!(!code.contains(other), "{} names {other}", path.display());
        }
    }
}

#[test]
fn the_pure_layers_are_pure() {
    for name in ["measure", "plan", "figures", "drafting"] {
        for (path, code) in layer(name) {
            for foreign in [
                "rusqlite",
                "actix",
                "maud",
                "Utc::now",
                "Local::now",
                "SystemTime",
                "Instant",
                "std::env",
                "std::fs",
                "uuid",
            ] {
                assert!(!code.contains(foreign), "{} uses {foreign}", path.display());
            }
        }
    }
}

#[test]
fn sql_stands_in_the_notebook_alone() {
    for name in LAYERS.iter().filter(|l| **l != "notebook") {
        for (path, code) in layer(name) {
            for word in ["rusqlite::", "SELECT ", "INSERT INTO", "DELETE FROM", "UPDATE "] {
                let allowed = word == "rusqlite::" && path.ends_with("error.rs");
                assert!(allowed || !code.contains(word), "{} holds SQL", path.display());
            }
        }
    }
}

#[test]
fn every_layer_is_there_and_looked_at() {
    for name in LAYERS {
        assert!(!layer(name).is_empty(), "src/{name} has no source");
    }
}
