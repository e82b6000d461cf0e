//! The whole notebook in one file and back; and what a check finds.

use crate::common::{details, fill, fresh, is_not_found, new_id, note};
use crate::pictures::jpeg;
use notchbook::notebook::{Id, Notebook, NotebookError, back_up, check, last_backup, restore};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use zip::write::SimpleFileOptions;

/// A notebook with a project, an entry and two photos.
fn filled(notebook: &Notebook, folder: &Path) -> Id {
    let id = notebook.start_project(new_id(), &details("Winter skirt")).unwrap();
    fill(notebook, id);
    let mut entry = note("First fitting.", "2026-03-01T10:00:00Z");
    for seed in 0..2 {
        let file = folder.join(format!("{seed}.jpg"));
        std::fs::write(&file, jpeg(60, 40, seed)).unwrap();
        entry.photos.push(notebook.add_photo(&file).unwrap().hash);
    }
    notebook.add_entry(id, &entry).unwrap();
    id
}

fn originals(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for part in std::fs::read_dir(folder.join("photos/originals")).unwrap() {
        for file in std::fs::read_dir(part.unwrap().path()).unwrap() {
            found.push(file.unwrap().path());
        }
    }
    found.sort();
    found
}

fn words(error: NotebookError) -> String {
    let text = error.to_string();
    assert!(text.ends_with('.'), "{text}");
    text
}

#[test]
fn a_backup_of_an_open_notebook_is_the_whole_of_it() {
    let here = fresh();
    let aside = tempfile::tempdir().unwrap();
    let id = filled(&here.notebook, aside.path());
    assert_eq!(last_backup(here.dir.path()), None);
    // Somebody goes on writing.
    let writing = AtomicBool::new(true);
    let file = aside.path().join("kept.zip");
    let done = std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut n = 0;
            while writing.load(Ordering::Relaxed) {
                let entry = note(&format!("Line {n}"), "2026-03-02T10:00:00Z");
                here.notebook.add_entry(id, &entry).unwrap();
                n += 1;
            }
        });
        let done = back_up(here.dir.path(), &file);
        writing.store(false, Ordering::Relaxed);
        done.unwrap()
    });
    assert_eq!((done.photos, done.problems), (2, vec![]));
    assert!(last_backup(here.dir.path()).is_some());

    let folder = aside.path().join("again");
    let back = restore(&file, &folder).unwrap();
    assert_eq!((back.photos, back.problems), (2, vec![]));
    assert_eq!(check(&folder).unwrap().problems, Vec::<String>::new());
    let again = Notebook::open(&folder).unwrap();
    assert_eq!(again.project(id).unwrap(), {
        let mut now = here.notebook.project(id).unwrap();
        now.changed_at = again.project(id).unwrap().changed_at;
        now
    });
    assert_eq!(again.revisions(id).unwrap(), here.notebook.revisions(id).unwrap());
    // Of the log, what was there at one moment: no line without the ones before it.
    let lines: Vec<String> = again.log(id).unwrap().into_iter().map(|e| e.text).collect();
    let all: Vec<String> = here.notebook.log(id).unwrap().into_iter().map(|e| e.text).collect();
    assert!(all.ends_with(&lines), "{lines:?}");
    for photo in again.log(id).unwrap().iter().flat_map(|e| &e.photos) {
        assert!(again.photo(photo).is_ok());
    }
}

#[test]
fn nothing_is_written_over_and_a_folder_without_a_notebook_is_refused() {
    let here = fresh();
    let aside = tempfile::tempdir().unwrap();
    let file = aside.path().join("kept.zip");
    std::fs::write(&file, "mine").unwrap();
    assert!(words(back_up(here.dir.path(), &file).unwrap_err()).contains("there already"));
    assert_eq!(std::fs::read(&file).unwrap(), b"mine");
    let nowhere = aside.path().join("none/kept.zip");
    assert!(words(back_up(here.dir.path(), &nowhere).unwrap_err()).contains("no folder"));
    assert!(words(back_up(aside.path(), &aside.path().join("b.zip")).unwrap_err()).contains("no notebook.sqlite"));
    let good = aside.path().join("good.zip");
    back_up(here.dir.path(), &good).unwrap();
    // The folder of a notebook in use, and any folder with something in it.
    assert!(words(restore(&good, here.dir.path()).unwrap_err()).contains("not empty"));
    assert!(words(restore(&file, &aside.path().join("x")).unwrap_err()).contains("not a whole backup"));
    assert!(!aside.path().join("x").exists());
    // An empty one gives its place.
    let empty = aside.path().join("empty");
    std::fs::create_dir(&empty).unwrap();
    restore(&good, &empty).unwrap();
    assert!(Notebook::open(&empty).is_ok());
}

#[test]
fn a_torn_backup_is_refused_and_leaves_nothing() {
    let here = fresh();
    let aside = tempfile::tempdir().unwrap();
    filled(&here.notebook, aside.path());
    let file = aside.path().join("kept.zip");
    back_up(here.dir.path(), &file).unwrap();
    let whole = std::fs::read(&file).unwrap();
    let places = tempfile::tempdir().unwrap();
    let torn = aside.path().join("torn.zip");
    let try_it = |bytes: &[u8], what: &str| {
        std::fs::write(&torn, bytes).unwrap();
        let folder = places.path().join("again");
        match restore(&torn, &folder) {
            // A byte that means nothing, such as a date: then all must be there.
            Ok(_) => {
                assert_eq!(check(&folder).unwrap().problems, Vec::<String>::new(), "{what}");
                std::fs::remove_dir_all(&folder).unwrap();
            }
            Err(refused) => assert!(!words(refused).is_empty()),
        }
        assert_eq!(std::fs::read_dir(places.path()).unwrap().count(), 0, "{what}");
    };
    for part in 0..40 {
        try_it(&whole[..whole.len() * part / 40], &format!("cut at {part}/40"));
    }
    for at in (0..whole.len()).step_by(whole.len() / 120) {
        let mut changed = whole.clone();
        changed[at] ^= 0x55;
        try_it(&changed, &format!("changed at {at}"));
    }
}

#[test]
fn what_does_not_belong_in_a_backup_is_refused() {
    let here = fresh();
    let aside = tempfile::tempdir().unwrap();
    let id = filled(&here.notebook, aside.path());
    let file = aside.path().join("kept.zip");
    back_up(here.dir.path(), &file).unwrap();
    type Parts = Vec<(String, Vec<u8>)>;
    let mut parts: Parts = Vec::new();
    let mut zip = zip::ZipArchive::new(std::fs::File::open(&file).unwrap()).unwrap();
    for at in 0..zip.len() {
        let mut part = zip.by_index(at).unwrap();
        let mut bytes = Vec::new();
        part.read_to_end(&mut bytes).unwrap();
        parts.push((part.name().unwrap().into_owned(), bytes));
    }
    let places = tempfile::tempdir().unwrap();
    let odd = |change: &dyn Fn(&mut Parts)| {
        let mut parts = parts.clone();
        change(&mut parts);
        let mut bytes = Vec::new();
        let mut zip = zip::ZipWriter::new(std::io::Cursor::new(&mut bytes));
        for (name, content) in &parts {
            zip.start_file(name.as_str(), SimpleFileOptions::default()).unwrap();
            zip.write_all(content).unwrap();
        }
        zip.finish().unwrap();
        let file = places.path().join("odd.zip");
        std::fs::write(&file, bytes).unwrap();
        let said = restore(&file, &places.path().join("again")).map_err(words);
        std::fs::remove_file(&file).unwrap();
        if said.is_err() {
            assert_eq!(std::fs::read_dir(places.path()).unwrap().count(), 0);
        }
        said
    };
    for name in [
        "../outside.txt",
        "/etc/passwd",
        "photos/../../x.jpg",
        "photos/short.jpg",
        "other.txt",
    ] {
        let said = odd(&|parts| parts.push((name.into(), b"x".to_vec()))).unwrap_err();
        assert!(
            said.contains("does not belong") || said.contains("readable name"),
            "{name}: {said}"
        );
    }
    assert!(!places.path().parent().unwrap().join("outside.txt").exists());
    let said = odd(&|parts| {
        parts
            .iter_mut()
            .find(|(n, _)| n.starts_with("photos/"))
            .unwrap()
            .1
            .push(0)
    });
    assert!(said.unwrap_err().contains("not what its name says"));
    let said = odd(&|parts| parts.iter_mut().find(|(n, _)| n.ends_with("sqlite")).unwrap().1 = vec![7; 9000]);
    assert!(said.is_err());
    let said = odd(&|parts| parts.retain(|(n, _)| !n.ends_with("sqlite")));
    assert!(said.unwrap_err().contains("no notebook.sqlite"));
    // A photo that was lost before the backup: the rest is worth having, and it is said.
    let back = odd(&|parts| {
        let at = parts.iter().position(|(n, _)| n.starts_with("photos/")).unwrap();
        parts.remove(at);
    })
    .unwrap();
    assert_eq!((back.photos, back.problems.len()), (1, 1));
    let again = Notebook::open(&places.path().join("again")).unwrap();
    assert!(!is_not_found(again.project(id)));
}

#[test]
fn a_check_finds_torn_and_replaced_photos_and_a_damaged_database() {
    let here = fresh();
    let aside = tempfile::tempdir().unwrap();
    filled(&here.notebook, aside.path());
    let checked = check(here.dir.path()).unwrap();
    assert_eq!((checked.projects, checked.entries, checked.photos), (1, 1, 2));
    assert_eq!(checked.problems, Vec::<String>::new());
    let files = originals(here.dir.path());
    let whole = std::fs::read(&files[0]).unwrap();
    std::fs::write(&files[0], &whole[..whole.len() - 9]).unwrap();
    std::fs::remove_file(&files[1]).unwrap();
    let problems = check(here.dir.path()).unwrap().problems;
    assert_eq!(problems.len(), 2, "{problems:?}");
    assert!(problems.iter().any(|p| p.contains("torn, or was replaced")));
    assert!(problems.iter().any(|p| p.contains("not there")));
    // A backup keeps what is there and says what is not.
    let done = back_up(here.dir.path(), &aside.path().join("kept.zip")).unwrap();
    assert_eq!((done.photos, done.problems.len()), (0, 2));

    // The same number of bytes with a page of nonsense in the middle.
    let folder = here.dir.path().to_path_buf();
    drop(here.notebook);
    let file = folder.join("notebook.sqlite");
    let mut bytes = std::fs::read(&file).unwrap();
    assert!(bytes.len() > 4096 * 8);
    for page in 2..8 {
        bytes[4096 * page..4096 * page + 600].fill(0xa5);
    }
    std::fs::write(&file, bytes).unwrap();
    match check(&folder) {
        Ok(checked) => assert!(!checked.problems.is_empty()),
        Err(error) => assert!(!words(error).is_empty()),
    }
    assert!(back_up(&folder, &aside.path().join("damaged.zip")).is_err());
    assert!(!aside.path().join("damaged.zip").exists());
}
