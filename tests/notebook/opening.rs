use crate::common::*;
use notchbook::measure::Unit;
use notchbook::notebook::{Notebook, NotebookError, Settings};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

#[test]
fn a_notebook_comes_back_as_it_was_left() {
    let Fresh { dir, notebook } = fresh();
    let id = notebook.start_project(new_id(), &details("Moss waistcoat")).unwrap();
    fill(&notebook, id);
    let settings = Settings {
        name: "Sewing room".into(),
        unit: Unit::Cm,
        currency: "€".into(),
        description_limit: 4000,
    };
    notebook.save_settings(&settings).unwrap();
    let before = notebook.project(id).unwrap();
    drop(notebook);
    // Everything is in the one file once it is closed.
    assert!(!dir.path().join("notebook.sqlite-wal").exists());
    let again = Notebook::open(dir.path()).unwrap();
    assert_eq!(again.project(id).unwrap(), before);
    assert_eq!(again.settings().unwrap(), settings);
    assert_eq!(again.folder(), dir.path());
}

#[test]
fn settings_that_make_no_sense_are_refused() {
    let f = fresh();
    let n = &f.notebook;
    let good = n.settings().unwrap();
    let nameless = Settings {
        name: "  ".into(),
        ..good.clone()
    };
    assert_eq!(refused_field(n.save_settings(&nameless)), "name");
    let wordless = Settings {
        description_limit: 0,
        ..good.clone()
    };
    assert_eq!(refused_field(n.save_settings(&wordless)), "description_limit");
    assert_eq!(n.settings().unwrap(), good);
}

#[test]
fn one_folder_is_open_once() {
    let Fresh { dir, notebook } = fresh();
    let copy = notebook.clone();
    let refused = Notebook::open(dir.path()).err().unwrap();
    assert!(matches!(refused, NotebookError::Folder(..)));
    assert!(
        refused.to_string().contains("another Notchbook has it open"),
        "{refused}"
    );
    drop(notebook);
    assert!(Notebook::open(dir.path()).is_err(), "a copy still has it open");
    drop(copy);
    assert!(Notebook::open(dir.path()).is_ok());
}

#[test]
fn a_second_process_is_refused() {
    let Fresh { dir, notebook } = fresh();
    let id = notebook.start_project(new_id(), &details("Moss waistcoat")).unwrap();
    let mut second = Command::new(env!("CARGO_BIN_EXE_notchbook"))
        .args(["--port", "0", "--folder"])
        .arg(dir.path())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // Only so that a second process that is let in does not hang the test.
    let patience = Instant::now() + Duration::from_secs(60);
    while second.try_wait().unwrap().is_none() {
        if Instant::now() > patience {
            second.kill().unwrap();
            panic!("the second process was let in");
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    let output = second.wait_with_output().unwrap();
    assert!(!output.status.success());
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("another Notchbook has it open"), "{said}");
    assert_eq!(notebook.project(id).unwrap().details.title, "Moss waistcoat");
}

#[test]
fn folders_that_cannot_hold_a_notebook_are_refused_in_words() {
    let dir = tempfile::tempdir().unwrap();
    let said = |folder: &std::path::Path| Notebook::open(folder).err().map(|e| e.to_string()).unwrap_or_default();

    let file = dir.path().join("file");
    std::fs::write(&file, "I am a file").unwrap();
    assert!(said(&file).contains("not a folder"), "{}", said(&file));
    assert!(
        said(&file.join("below")).contains("not a folder"),
        "{}",
        said(&file.join("below"))
    );

    let text = dir.path().join("text");
    std::fs::create_dir(&text).unwrap();
    std::fs::write(text.join("notebook.sqlite"), "Dear diary, ".repeat(100)).unwrap();
    assert!(said(&text).contains("is not a notebook"), "{}", said(&text));

    let other = dir.path().join("other");
    std::fs::create_dir(&other).unwrap();
    let database = rusqlite::Connection::open(other.join("notebook.sqlite")).unwrap();
    database
        .execute_batch("CREATE TABLE recipes (name TEXT); INSERT INTO recipes VALUES ('soup');")
        .unwrap();
    assert!(said(&other).contains("not written by Notchbook"), "{}", said(&other));
    let left: String = database
        .query_row("SELECT name FROM recipes", [], |r| r.get(0))
        .unwrap();
    assert_eq!(left, "soup");
}
