//! A copy of the whole notebook in one file, and a notebook from such a copy.
//!
//! The file is an ordinary ZIP: `notebook.sqlite` as it was at one moment, and
//! `photos/HASH.EXT`, the originals. It is made while the notebook may be in
//! use, checked by reading it back, and put in place only when it is whole.

use super::check::{database_problems, original, photos};
use super::connections::open_beside;
use super::{NotebookError, PhotoHash, Result};
use crate::photos::{MAX_BYTES, PhotoFormat, Store, sync_folder};
use chrono::{DateTime, Utc};
use rusqlite::Connection;
use rusqlite::backup::Backup;
use std::collections::HashSet;
use std::fs::File;
use std::io::{Read, Seek, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

const DATABASE: &str = "notebook.sqlite";
const ABOUT: &str = "README.txt";
/// When a backup was last made, as RFC 3339, in the notebook's folder.
const LAST: &str = "last-backup.txt";
/// More than any notebook's database holds; a file that claims more is no backup.
const MAX_DATABASE: u64 = 4 * 1024 * 1024 * 1024;
/// Parts of a backup: far more photos than anyone takes.
const MAX_PARTS: usize = 1_000_000;

const WORDS: &str = "\
A backup of a Notchbook notebook: everything written is in notebook.sqlite, every
picture in photos. The pictures are the originals: they may say where and with
which camera they were taken.

To go back to it:  notchbook restore THIS-FILE --folder NEW-FOLDER
The folder must be new or empty; nothing is ever written over.
";

/// What went into a backup or came out of one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BackedUp {
    pub photos: usize,
    pub bytes: u64,
    /// Photos that could not be copied because their files are gone or damaged.
    pub problems: Vec<String>,
}

/// Writes a backup of the notebook in `folder` to the new file `to`. The
/// notebook may be open: the copy is of one moment.
pub fn back_up(folder: &Path, to: &Path) -> Result<BackedUp> {
    let source = open_beside(folder)?;
    let taken = || {
        NotebookError::refused(
            "file",
            format!(
                "{} is there already and is not written over. Name another file.",
                to.display()
            ),
        )
    };
    if to.exists() {
        return Err(taken());
    }
    let into = match to.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    };
    if !into.is_dir() {
        return Err(NotebookError::refused(
            "file",
            format!("There is no folder {}. Make it, or name another file.", into.display()),
        ));
    }
    let copy = NamedTempFile::new_in(&into)?;
    copy_database(&source, copy.path())?;
    let database = Connection::open(copy.path())?;
    let wrong = database_problems(&database)?;
    if let Some(problem) = wrong.first() {
        return Err(NotebookError::Damaged(format!(
            "{problem} No backup was made; keep the earlier ones"
        )));
    }
    let named = photos(&database)?;
    drop(database);

    let mut done = BackedUp::default();
    let mut file = NamedTempFile::new_in(&into)?;
    let mut zip = ZipWriter::new(std::io::BufWriter::new(file.as_file_mut()));
    // Pictures are packed already.
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let packed = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .large_file(true);
    zip.start_file(ABOUT, stored).map_err(odd)?;
    zip.write_all(WORDS.as_bytes())?;
    zip.start_file(DATABASE, packed).map_err(odd)?;
    std::io::copy(&mut File::open(copy.path())?, &mut zip)?;
    let mut kept = HashSet::new();
    for photo in &named {
        match original(folder, photo)? {
            Ok(bytes) => {
                zip.start_file(format!("photos/{}", photo.file_name()), stored)
                    .map_err(odd)?;
                zip.write_all(&bytes)?;
                kept.insert(photo.file_name());
                done.photos += 1;
            }
            Err(problem) => done.problems.push(problem),
        }
    }
    zip.finish().map_err(odd)?.flush()?;
    file.as_file().sync_all()?;
    read_back(file.as_file_mut(), &kept)?;
    done.bytes = file.as_file().metadata()?.len();
    file.persist_noclobber(to).map_err(|e| match e.error.kind() {
        std::io::ErrorKind::AlreadyExists => taken(),
        _ => NotebookError::File(e.error),
    })?;
    sync_folder(&into)?;
    // A folder that may not be written to is backed up all the same.
    if let Err(error) = std::fs::write(folder.join(LAST), super::columns::now().to_rfc3339()) {
        tracing::warn!(%error, "the day of the backup could not be noted");
    }
    Ok(done)
}

/// When the notebook in `folder` was last backed up, by its own note.
pub fn last_backup(folder: &Path) -> Option<DateTime<Utc>> {
    let text = std::fs::read_to_string(folder.join(LAST)).ok()?;
    let at = DateTime::parse_from_rfc3339(text.trim()).ok()?;
    Some(at.with_timezone(&Utc))
}

/// SQLite's online backup in one step: it reads one state, and no writer has
/// to wait for it.
fn copy_database(source: &Connection, to: &Path) -> Result<()> {
    let mut copy = Connection::open(to)?;
    let backup = Backup::new(source, &mut copy)?;
    // Busy where another program holds the whole file for a moment.
    backup.run_to_completion(i32::MAX, std::time::Duration::from_millis(50), None)?;
    drop(backup);
    // One file by itself, without a journal beside it.
    copy.pragma_update(None, "journal_mode", "DELETE")?;
    copy.close().map_err(|(_, e)| e)?;
    File::open(to)?.sync_all()?;
    Ok(())
}

/// What was written is what is read: sums of the archive and hashes of the photos.
fn read_back(file: &mut File, kept: &HashSet<String>) -> Result<()> {
    let torn = || NotebookError::Damaged("the backup could not be read back, so it was thrown away. Try again".into());
    file.rewind()?;
    let mut zip = ZipArchive::new(std::io::BufReader::new(file)).map_err(|_| torn())?;
    let mut found = 0;
    for at in 0..zip.len() {
        let mut part = zip.by_index(at).map_err(|_| torn())?;
        let name = part.name().map_err(|_| torn())?.into_owned();
        match name.strip_prefix("photos/") {
            Some(photo) => {
                let mut bytes = Vec::new();
                part.read_to_end(&mut bytes).map_err(|_| torn())?;
                let sound = kept.contains(photo) && photo.starts_with(&PhotoHash::of(&bytes).0);
                found += usize::from(sound);
            }
            None => {
                std::io::copy(&mut part, &mut std::io::sink()).map_err(|_| torn())?;
            }
        }
    }
    if found == kept.len() { Ok(()) } else { Err(torn()) }
}

/// Makes a notebook of a backup in `folder`, which must be new or empty. All
/// of it is checked aside before the folder is there; if anything is wrong,
/// nothing is left behind.
pub fn restore(from: &Path, folder: &Path) -> Result<BackedUp> {
    let refused = |what: String| NotebookError::refused("file", what);
    let occupied = match std::fs::read_dir(folder) {
        Ok(mut items) => items.next().is_some(),
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => false,
        Err(e) => return Err(NotebookError::Folder(folder.to_path_buf(), e.to_string())),
    };
    if occupied {
        return Err(refused(format!(
            "The folder {} is not empty. A backup is restored into a new or empty folder, so that nothing is written over.",
            folder.display()
        )));
    }
    let file = File::open(from).map_err(|e| refused(format!("{} cannot be opened: {e}.", from.display())))?;
    let packed_size = file.metadata()?.len();
    let no_backup = |why: &str| refused(format!("{} is not a whole backup: {why}.", from.display()));
    let mut zip = ZipArchive::new(std::io::BufReader::new(file))
        .map_err(|_| no_backup("it is not a ZIP file, or its end is missing"))?;
    if zip.len() > MAX_PARTS {
        return Err(no_backup("it has more parts than a backup can have"));
    }
    let parent = match folder.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    };
    std::fs::create_dir_all(&parent)?;
    let aside = tempfile::Builder::new().prefix(".restoring-").tempdir_in(&parent)?;
    let mut done = BackedUp {
        bytes: packed_size,
        ..BackedUp::default()
    };
    let mut seen = HashSet::new();
    for at in 0..zip.len() {
        let mut part = zip.by_index(at).map_err(|_| no_backup("a part of it cannot be read"))?;
        let name = part
            .name()
            .map_err(|_| no_backup("a part of it has no readable name"))?
            .into_owned();
        if !seen.insert(name.clone()) {
            return Err(no_backup("a part of it is there twice"));
        }
        if name == ABOUT {
            continue;
        }
        if name == DATABASE {
            let mut to = File::create(aside.path().join(DATABASE))?;
            let size = std::io::copy(&mut (&mut part).take(MAX_DATABASE + 1), &mut to)
                .map_err(|_| no_backup("its notebook.sqlite is torn"))?;
            if size > MAX_DATABASE {
                return Err(no_backup("its notebook.sqlite is larger than any notebook"));
            }
            to.sync_all()?;
            continue;
        }
        let Some((hash, format)) = photo_name(&name) else {
            return Err(no_backup(&format!("“{}” does not belong into it", short(&name))));
        };
        let mut bytes = Vec::new();
        (&mut part)
            .take(MAX_BYTES + 1)
            .read_to_end(&mut bytes)
            .map_err(|_| no_backup(&format!("the photo {} is torn", short(&name))))?;
        if PhotoHash::of(&bytes) != hash {
            return Err(no_backup(&format!(
                "the photo {} is not what its name says",
                short(&name)
            )));
        }
        Store::put(&aside.path().join("photos"), &bytes, &hash, format)?;
        done.photos += 1;
    }
    if !aside.path().join(DATABASE).is_file() {
        return Err(no_backup("it holds no notebook.sqlite"));
    }
    let database = open_beside(aside.path())?;
    if let Some(problem) = database_problems(&database)?.first() {
        return Err(no_backup(problem.trim_end_matches('.')));
    }
    for photo in photos(&database)? {
        if !seen.contains(&format!("photos/{}", photo.file_name())) {
            // Gone already when the backup was made: what is there is worth having.
            done.problems.push(format!(
                "The photo {} was not in the backup: it was missing when that was made.",
                photo.file_name()
            ));
        }
    }
    drop(database);
    for left in ["notebook.sqlite-wal", "notebook.sqlite-shm"] {
        let _ = std::fs::remove_file(aside.path().join(left));
    }
    sync_folder(aside.path())?;
    // An empty folder in the way gives its place; anything in it would make this fail.
    match std::fs::remove_dir(folder) {
        Err(e) if e.kind() != std::io::ErrorKind::NotFound => {
            return Err(NotebookError::Folder(folder.to_path_buf(), e.to_string()));
        }
        _ => {}
    }
    std::fs::rename(aside.path(), folder)?;
    // It has its place; there is nothing left to clear away.
    let _ = aside.keep();
    sync_folder(&parent)?;
    Ok(done)
}

fn photo_name(name: &str) -> Option<(PhotoHash, PhotoFormat)> {
    let (hash, ending) = name.strip_prefix("photos/")?.split_once('.')?;
    let hash = PhotoHash(hash.to_string());
    Some((hash.clone(), PhotoFormat::from_name(ending)?)).filter(|_| hash.is_sound())
}

fn short(name: &str) -> String {
    name.chars().filter(|c| !c.is_control()).take(80).collect()
}

fn odd(error: zip::result::ZipError) -> NotebookError {
    match error {
        zip::result::ZipError::Io(e) => NotebookError::File(e),
        other => NotebookError::File(std::io::Error::other(other.to_string())),
    }
}
