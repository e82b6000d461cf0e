//! What a failing disk leaves: found at the start, told on the first page, and
//! by `notchbook check`.

use crate::support::Server;
use notchbook::notebook::check;
use std::io::{Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// The first page once the look over the notebook is done and found something.
fn told(folder: &Path) -> (Server, String) {
    let server = Server::in_folder(folder, &[]);
    // Only so that a notebook found sound does not hang the test.
    let patience = Instant::now() + Duration::from_secs(60);
    loop {
        let page = server.get("/").text();
        if page.contains("This notebook is damaged") {
            return (server, page);
        }
        assert!(Instant::now() < patience, "nothing was told: {page}");
        std::thread::sleep(Duration::from_millis(50));
    }
}

fn originals(folder: &Path) -> Vec<PathBuf> {
    let below = std::fs::read_dir(folder.join("photos/originals")).expect("originals");
    let mut files: Vec<PathBuf> = below
        .flatten()
        .flat_map(|f| {
            std::fs::read_dir(f.path())
                .expect("a folder")
                .flatten()
                .map(|f| f.path())
        })
        .collect();
    files.sort();
    files
}

#[test]
fn torn_and_replaced_photos_are_found_and_told() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("notebook");
    drop(Server::in_folder(&folder, &["--sample"]));
    assert_eq!(check(&folder).expect("checked").problems, Vec::<String>::new());
    let files = originals(&folder);
    assert!(files.len() > 3);
    let name = |n: usize| files[n].file_name().expect("a name").to_string_lossy().into_owned();
    // Torn in the middle; gone; another picture under its name, of the same length.
    let whole = std::fs::read(&files[0]).expect("a photo");
    std::fs::write(&files[0], &whole[..whole.len() / 2]).expect("torn");
    std::fs::remove_file(&files[1]).expect("gone");
    let mut other = std::fs::read(&files[2]).expect("a photo");
    let middle = other.len() / 2;
    other[middle] ^= 0x40;
    std::fs::write(&files[2], &other).expect("replaced");

    let problems = check(&folder).expect("checked").problems;
    assert_eq!(problems.len(), 3, "{problems:?}");
    for n in 0..3 {
        assert!(problems.iter().any(|p| p.contains(&name(n))), "{problems:?}");
    }
    // At the start the lengths are looked at; hashes are for the check.
    let (_, page) = told(&folder);
    assert!(page.contains(&name(0)) && page.contains(&name(1)), "{page}");
}

#[test]
fn a_damaged_database_is_told_and_what_can_be_read_is_shown() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("notebook");
    drop(Server::in_folder(&folder, &["--sample"]));
    let file = folder.join("notebook.sqlite");
    // Entries of an index taken away beneath SQLite's feet.
    let database = rusqlite::Connection::open(&file).expect("a database");
    let (page, size): (u64, u64) = database
        .query_row(
            "SELECT rootpage, (SELECT page_size FROM pragma_page_size) FROM sqlite_schema
             WHERE type = 'index' AND tbl_name = 'entry' ORDER BY name LIMIT 1",
            [],
            |r| Ok((r.get::<_, i64>(0)? as u64, r.get::<_, i64>(1)? as u64)),
        )
        .expect("an index");
    database
        .pragma_update(None, "wal_checkpoint", "TRUNCATE")
        .expect("one file");
    drop(database);
    let mut raw = std::fs::File::options().write(true).open(&file).expect("the file");
    raw.seek(SeekFrom::Start((page - 1) * size + 3)).expect("a place");
    raw.write_all(&[0, 0]).expect("no cells");
    drop(raw);

    let problems = check(&folder).expect("checked").problems;
    assert!(
        problems.iter().any(|p| p.contains("notebook.sqlite is damaged")),
        "{problems:?}"
    );
    let (server, page) = told(&folder);
    assert!(page.contains("notchbook restore FILE --folder NEW-FOLDER"), "{page}");
    // What does not need the damaged part is still shown, and can be copied by hand.
    let cloths = server.get("/cloth");
    assert!(
        cloths.status == 200 && cloths.text().contains("Indigo linen"),
        "{}",
        cloths.text()
    );
}
