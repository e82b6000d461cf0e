//! Looking a notebook over without changing it: the database by SQLite's own
//! checks, every photo against the hash it is named by.

use super::connections::open_beside;
use super::error::is_damage;
use super::{NotebookError, PhotoHash, Result};
use crate::photos::{PhotoFormat, Store};
use rusqlite::Connection;
use std::path::Path;

/// What a check found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Checked {
    pub projects: i64,
    pub entries: i64,
    pub photos: usize,
    /// What is wrong, each as a sentence; empty where all is well.
    pub problems: Vec<String>,
}

/// Most lines of SQLite's report that are handed on.
const MOST: usize = 20;

/// Checks the notebook in `folder`; it may be open elsewhere meanwhile.
pub fn check(folder: &Path) -> Result<Checked> {
    checked(folder, photo_problem)
}

/// As [`check`], but of each photo only that a file of its length is there:
/// quick enough for every start.
pub(super) fn look_over(folder: &Path) -> Result<Checked> {
    checked(folder, photo_missing)
}

fn checked(folder: &Path, look_at: impl Fn(&Path, &Named) -> Result<Option<String>>) -> Result<Checked> {
    let database = open_beside(folder)?;
    let mut checked = Checked {
        problems: database_problems(&database)?,
        ..Checked::default()
    };
    // The tables of a damaged file may not be readable at all.
    if checked.problems.is_empty() {
        checked.projects = database.query_row("SELECT count(*) FROM project", [], |r| r.get(0))?;
        checked.entries = database.query_row("SELECT count(*) FROM entry", [], |r| r.get(0))?;
        for photo in photos(&database)? {
            checked.photos += 1;
            checked.problems.extend(look_at(folder, &photo)?);
        }
    }
    Ok(checked)
}

/// What SQLite says of a database, and references to nothing.
pub(super) fn database_problems(database: &Connection) -> Result<Vec<String>> {
    let mut problems = Vec::new();
    let read = |sql: &str| -> rusqlite::Result<Vec<String>> {
        let mut statement = database.prepare(sql)?;
        statement.query_map([], |r| r.get(0))?.take(MOST).collect()
    };
    let mut look = |sql: &str, say: &dyn Fn(String) -> String| -> Result<()> {
        match read(sql) {
            Ok(lines) => problems.extend(lines.into_iter().filter(|line| line != "ok").map(say)),
            // Damaged so that not even the question can be answered.
            Err(e) if is_damage(&e) => problems.push(format!("notebook.sqlite is damaged: {e}.")),
            Err(e) => return Err(e.into()),
        }
        Ok(())
    };
    look("PRAGMA integrity_check(20)", &|line| {
        format!("notebook.sqlite is damaged: {line}.")
    })?;
    look(
        "SELECT \"table\" || ' refers to a row of ' || \"parent\" || ' that is not there' FROM pragma_foreign_key_check",
        &|line| format!("notebook.sqlite does not hold together: {line}."),
    )?;
    Ok(problems)
}

/// A photo a database names.
pub(super) struct Named {
    pub hash: PhotoHash,
    pub format: PhotoFormat,
    pub bytes: i64,
}

impl Named {
    pub fn file_name(&self) -> String {
        format!("{}.{}", self.hash.0, self.format.name())
    }
}

pub(super) fn photos(database: &Connection) -> Result<Vec<Named>> {
    let mut statement = database.prepare("SELECT hash, format, bytes FROM photo ORDER BY hash")?;
    let rows = statement.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, String>(1)?, r.get(2)?)))?;
    rows.map(|row| {
        let (hash, format, bytes) = row?;
        let format = PhotoFormat::from_name(&format)
            .ok_or_else(|| NotebookError::Damaged(format!("the photo {hash} is of an unknown format")))?;
        Ok(Named {
            hash: PhotoHash(hash),
            format,
            bytes,
        })
    })
    .collect()
}

/// The content of an original, and whether it is what its name says.
pub(super) fn original(folder: &Path, photo: &Named) -> Result<std::result::Result<Vec<u8>, String>> {
    let path = Store::original_in(&folder.join("photos"), &photo.hash, photo.format)?;
    let bytes = match std::fs::read(&path) {
        Ok(bytes) => bytes,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
            return Ok(Err(format!("The photo {} is not there.", photo.file_name())));
        }
        Err(e) => return Ok(Err(format!("The photo {} cannot be read: {e}.", photo.file_name()))),
    };
    if PhotoHash::of(&bytes) != photo.hash {
        return Ok(Err(format!(
            "The photo {} is not the file it was: it is torn, or was replaced.",
            photo.file_name()
        )));
    }
    Ok(Ok(bytes))
}

fn photo_problem(folder: &Path, photo: &Named) -> Result<Option<String>> {
    Ok(original(folder, photo)?.err())
}

fn photo_missing(folder: &Path, photo: &Named) -> Result<Option<String>> {
    let path = Store::original_in(&folder.join("photos"), &photo.hash, photo.format)?;
    Ok(match std::fs::metadata(&path) {
        Ok(file) if i64::try_from(file.len()) == Ok(photo.bytes) => None,
        Ok(_) => Some(format!(
            "The photo {} is not the file it was: it is torn, or was replaced.",
            photo.file_name()
        )),
        Err(_) => Some(format!("The photo {} is not there.", photo.file_name())),
    })
}
