//! A writer killed at any moment: every save that was answered is there, no
//! half of one, and the notebook opens again.
//!
//! The writer is this very test program, started again with a folder to write
//! into. It prints a line after each save that was answered; nothing it prints
//! may be missing afterwards. `NOTCHBOOK_ROUNDS=5000` looks longer.

use crate::dice::Dice;
use notchbook::measure::INCH;
use notchbook::notebook::{Entry, EntryKind, Id, Notebook, ProjectDetails, StockCloth, check};
use notchbook::plan::{ClothKind, Edge, Edit};
use std::collections::{HashMap, HashSet};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

const FOLDER: &str = "NOTCHBOOK_KILL_FOLDER";
const PROJECT: &str = "NOTCHBOOK_KILL_PROJECT";

fn rounds() -> u64 {
    let asked = std::env::var("NOTCHBOOK_ROUNDS").ok();
    asked.and_then(|n| n.parse().ok()).unwrap_or(300)
}

fn picture(seed: u32) -> Vec<u8> {
    let shade = |x: u32, y: u32| (x * 7 + y * 13 + seed * 31) as u8;
    let image = image::RgbImage::from_fn(48, 32, |x, y| image::Rgb([shade(x, y), shade(y, x), seed as u8]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    image.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    bytes.into_inner()
}

fn entry(text: String) -> Entry {
    Entry {
        id: Id::now_v7(),
        kind: EntryKind::Note,
        happened_at: "2026-03-01T10:00:00Z".parse().expect("a moment"),
        text,
        ..serde_json::from_str(
            r#"{"id":"019c48ba-6423-706d-b602-2fe8a9d05d0d","kind":"note","happened_at":"2026-03-01T10:00:00Z"}"#,
        )
        .expect("an entry")
    }
}

/// The writer: not a test of its own, it only writes where it is told to.
#[test]
fn writer() {
    let Some(folder) = std::env::var_os(FOLDER).map(PathBuf::from) else {
        return;
    };
    let project: Id = std::env::var(PROJECT).expect("a project").parse().expect("an id");
    let notebook = Notebook::open(&folder).expect("it opens after every kill");
    let mut out = std::io::stdout().lock();
    let mut say = |line: String| {
        writeln!(out, "@{line}")
            .and_then(|()| out.flush())
            .expect("the one who kills listens");
    };
    for n in 0.. {
        match n % 5 {
            0 => {
                let entry = entry(format!("Line {n} {}", "of several words ".repeat(n % 40)));
                notebook.add_entry(project, &entry).expect("an entry");
                say(format!("entry {} {}", entry.id, entry.text.len()));
            }
            1 => {
                let seen = notebook.project(project).expect("it").revision;
                let edge = Edge {
                    id: "e1".into(),
                    name: format!("Hem {n}"),
                    length: INCH * (1 + seen % 90),
                    count: 1,
                    corners: 0,
                    closed: false,
                    from: None,
                };
                let (_, after) = notebook
                    .change_plan(project, seen, &Edit::Edge(edge))
                    .expect("a change");
                say(format!(
                    "revision {} {}",
                    after.number,
                    after.plan.edges[0].length.units()
                ));
            }
            2 => {
                let mut cloth = cloth();
                cloth.name = format!("Cloth {n}");
                let version = notebook.save_cloth(0, &cloth).expect("a cloth");
                cloth.version = version;
                cloth.note = "x".repeat(n % 300);
                notebook.save_cloth(version, &cloth).expect("saved again");
                say(format!("cloth {} {}", cloth.id, cloth.note.len()));
            }
            3 => {
                let file = folder.join(format!("{n}-{}.png", std::process::id()));
                std::fs::write(&file, picture(std::process::id().wrapping_add(n as u32))).expect("a file");
                let photo = notebook.add_photo(&file).expect("a photo");
                let _ = std::fs::remove_file(&file);
                let mut with = entry(String::new());
                with.kind = EntryKind::Photo;
                with.photos = vec![photo.hash.clone()];
                notebook.add_entry(project, &with).expect("a photo's entry");
                say(format!("photo {} {}", with.id, photo.hash.0));
            }
            _ => {
                let project = notebook.project(project).expect("it");
                let mut details = project.details.clone();
                details.about = format!("About {n} {}", std::process::id());
                let version = notebook
                    .save_details(project.id, project.details_version, &details)
                    .expect("details");
                say(format!("details {version} {}", details.about));
            }
        }
    }
}

fn cloth() -> StockCloth {
    let json =
        r##"{"id":"019c48ba-6423-706d-b602-2fe8a9d05d0d","name":"Moss","usable_width":"42 in","colour":"#607050"}"##;
    let mut cloth: StockCloth = serde_json::from_str(json).expect("a cloth");
    cloth.id = Id::now_v7();
    cloth.kind = ClothKind::Cloth;
    cloth
}

/// What was answered, over all rounds.
#[derive(Default)]
struct Promised {
    entries: HashMap<Id, usize>,
    photos: HashMap<Id, String>,
    revisions: HashMap<i64, i64>,
    cloths: HashMap<Id, usize>,
    details: Option<(i64, String)>,
}

impl Promised {
    fn take(&mut self, line: &str) {
        let mut words = line.splitn(3, ' ');
        let mut next = || words.next().expect("a word").to_string();
        let (what, first, second) = (next(), next(), next());
        match what.as_str() {
            "entry" => drop(
                self.entries
                    .insert(first.parse().expect("id"), second.parse().expect("length")),
            ),
            "photo" => drop(self.photos.insert(first.parse().expect("id"), second)),
            "revision" => drop(
                self.revisions
                    .insert(first.parse().expect("number"), second.parse().expect("units")),
            ),
            "cloth" => drop(
                self.cloths
                    .insert(first.parse().expect("id"), second.parse().expect("length")),
            ),
            "details" => self.details = Some((first.parse().expect("version"), second)),
            other => panic!("{other}"),
        }
    }

    fn hold(&self, notebook: &Notebook, project: Id, round: u64) {
        let log: HashMap<Id, Entry> = notebook
            .log(project)
            .expect("the log")
            .into_iter()
            .map(|e| (e.id, e))
            .collect();
        for (id, length) in &self.entries {
            let kept = log
                .get(id)
                .unwrap_or_else(|| panic!("round {round}: an answered entry is gone"));
            assert_eq!(kept.text.len(), *length);
        }
        for (id, hash) in &self.photos {
            let kept = log
                .get(id)
                .unwrap_or_else(|| panic!("round {round}: an answered photo is gone"));
            assert_eq!(kept.photos[0].0, *hash);
        }
        // No half save: the writer adds a photo's row and its entry in two saves, never an entry without its photo.
        for photo in log.values().flat_map(|e| &e.photos) {
            notebook.photo(photo).expect("its row");
        }
        for (number, units) in &self.revisions {
            let kept = notebook.revision(project, *number).expect("an answered revision");
            assert_eq!(kept.plan.edges[0].length.units(), *units, "round {round}");
        }
        let shelf: HashMap<Id, StockCloth> = notebook
            .cloths()
            .expect("the shelf")
            .into_iter()
            .map(|c| (c.id, c))
            .collect();
        for (id, length) in &self.cloths {
            assert_eq!(shelf[id].note.len(), *length, "round {round}");
        }
        let now = notebook.project(project).expect("the project");
        if let Some((version, about)) = &self.details {
            assert!(now.details_version >= *version);
            if now.details_version == *version {
                assert_eq!(now.details.about, *about);
            }
        }
        // Revisions run on without a gap.
        let numbers: Vec<i64> = notebook
            .revisions(project)
            .expect("revisions")
            .iter()
            .map(|r| r.0)
            .collect();
        assert_eq!(numbers.iter().collect::<HashSet<_>>().len() as i64, now.revision);
    }
}

fn run_and_kill(folder: &Path, project: Id, after: Duration, promised: &mut Promised) {
    let mut child = Command::new(std::env::current_exe().expect("this program"))
        .args(["--exact", "kill::writer", "--nocapture", "--test-threads=1"])
        .env(FOLDER, folder)
        .env(PROJECT, project.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the writer starts");
    let out = BufReader::new(child.stdout.take().expect("its output"));
    let (lines, heard) = std::sync::mpsc::channel();
    let listener = std::thread::spawn(move || {
        for line in out.lines().map_while(Result::ok) {
            // The test program prints before the first line without ending its own.
            if let Some((_, line)) = line.split_once('@') {
                let _ = lines.send(line.to_string());
            }
        }
    });
    // Counted from its first save: before that there is nothing to lose.
    let first = heard.recv_timeout(Duration::from_secs(60)).expect("the writer writes");
    promised.take(&first);
    std::thread::sleep(after);
    child.kill().expect("SIGKILL");
    child.wait().expect("it is gone");
    listener.join().expect("all lines heard");
    for line in heard {
        promised.take(&line);
    }
}

#[test]
fn every_answered_save_outlives_a_kill() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("notebook");
    let details = ProjectDetails {
        title: "Winter skirt".into(),
        ..ProjectDetails::default()
    };
    let project = Notebook::open(&folder)
        .and_then(|n| n.start_project(Id::now_v7(), &details))
        .expect("a project");
    let mut promised = Promised::default();
    let mut dice = Dice(20_261_125);
    let rounds = rounds();
    for round in 0..rounds {
        run_and_kill(
            &folder,
            project,
            Duration::from_micros(dice.below(40_000)),
            &mut promised,
        );
        let notebook = Notebook::open(&folder).expect("it opens after a kill");
        if round % 10 == 9 || round + 1 == rounds {
            promised.hold(&notebook, project, round);
            let found = check(&folder).expect("a check");
            assert_eq!(found.problems, Vec::<String>::new(), "round {round}");
        }
    }
    assert!(promised.entries.len() as u64 > rounds / 4 && !promised.photos.is_empty());
    println!(
        "{rounds} kills: {} entries, {} photos, {} revisions, {} cloths held",
        promised.entries.len(),
        promised.photos.len(),
        promised.revisions.len(),
        promised.cloths.len()
    );
}
