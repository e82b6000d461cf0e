//! What the documents say stays true.

use notchbook::figures::{allowance_sources, work_out};
use notchbook::plan::Plan;
use std::fs;
use std::path::{Path, PathBuf};

fn root(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn text(path: &str) -> String {
    fs::read_to_string(root(path)).unwrap_or_else(|e| panic!("{path}: {e}"))
}

/// The first fenced JSON of DEVELOPERS.md.
fn example() -> String {
    let guide = text("DEVELOPERS.md");
    let start = guide.find("```json").expect("an example") + "```json".len();
    guide[start..start + guide[start..].find("```").expect("its end")].to_string()
}

#[test]
fn the_plan_in_the_guide_is_a_plan_without_problems() {
    let plan = Plan::from_json(&example()).expect("the example reads");
    let figures = work_out(&plan);
    assert_eq!(figures.problems, []);
    assert!(figures.binding.is_some() && figures.totals.patches > 0);
}

#[test]
fn every_key_of_a_plan_is_in_the_guide() {
    let guide = text("DEVELOPERS.md");
    let plan: serde_json::Value =
        serde_json::from_str(&Plan::from_json(&example()).expect("a plan").to_json()).expect("JSON");
    fn keys(value: &serde_json::Value, found: &mut Vec<String>) {
        match value {
            serde_json::Value::Object(map) => map.iter().for_each(|(k, v)| {
                found.push(k.clone());
                keys(v, found);
            }),
            serde_json::Value::Array(list) => list.iter().for_each(|v| keys(v, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    keys(&plan, &mut found);
    assert!(found.len() > 40);
    for key in found {
        assert!(guide.contains(&key), "{key} is not in DEVELOPERS.md");
    }
}

#[test]
fn every_allowance_stands_in_the_guide_with_its_source() {
    let guide = text("DEVELOPERS.md");
    for a in allowance_sources() {
        let row = format!("| `{}` | {} | {} | {} |", a.field, a.label, a.default, a.source);
        assert!(guide.contains(&row), "DEVELOPERS.md lacks the row\n{row}");
    }
}

#[test]
fn what_the_readme_names_is_there() {
    let readme = text("README.md");
    for (start, end) in [("](", ")")] {
        for part in readme.split(start).skip(1) {
            let target = part.split(end).next().unwrap_or("");
            if !target.starts_with("http") {
                assert!(root(target).exists(), "README.md names {target}, which is not there");
            }
        }
    }
    assert!(readme.contains("cargo run --release -- --sample") && readme.contains("tests/run"));
    // The job in one paragraph comes first.
    let first = readme.split("\n\n").nth(1).expect("a first paragraph");
    assert!(first.starts_with("Someone who sews") && first.len() > 600);
}

#[test]
fn nothing_but_what_belongs_there_is_at_the_top() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "migrations",
        "static",
        "tests",
        "sample-notebook",
        "target",
    ];
    for entry in fs::read_dir(root("")).expect("the project").flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        assert!(
            name.starts_with('.') || allowed.contains(&name.as_str()),
            "{name} does not belong at the top level"
        );
    }
}
