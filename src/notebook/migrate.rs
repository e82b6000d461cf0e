//! From an older notebook to a newer one: the files of migrations/ in order.

use super::{NotebookError, Result};
use crate::photos::sync_folder;
use rusqlite::{Connection, TransactionBehavior};
use rust_embed::RustEmbed;
use std::path::{Path, PathBuf};

/// Flat files `0001_subject.sql`; the number is the version it leads to.
#[derive(RustEmbed)]
#[folder = "migrations/"]
#[include = "*.sql"]
struct Migrations;

/// Stands in every notebook of this program (`PRAGMA application_id`, set by the first migration).
const APPLICATION: i64 = 1_315_927_139;

/// Brings the database to the newest version. An older one is first copied
/// beside itself; a newer one, or one of another program, is refused untouched.
pub fn migrate(connection: &mut Connection, folder: &Path, file: &Path) -> Result<()> {
    let steps = steps()?;
    let newest = i64::try_from(steps.len()).unwrap_or(i64::MAX);
    let version = pragma(connection, "user_version")?;
    let objects: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |r| r.get(0))?;
    let fresh = version == 0 && pragma(connection, "application_id")? == 0 && objects == 0;
    if !fresh {
        refuse_foreign(connection, folder)?;
    }
    connection.pragma_update(None, "journal_mode", "WAL")?;
    if version == newest {
        return Ok(());
    }
    if !fresh {
        let copy = copy(connection, file, version)?;
        tracing::info!(from = version, to = newest, copy = %copy.display(), "migrating the notebook");
    }
    apply(connection, &steps, version)
}

/// Refuses a database of another program, or of a newer one than this.
pub fn refuse_foreign(connection: &Connection, folder: &Path) -> Result<()> {
    if pragma(connection, "application_id")? != APPLICATION {
        return Err(NotebookError::Folder(
            folder.to_path_buf(),
            "its notebook.sqlite was not written by Notchbook; choose another folder".into(),
        ));
    }
    let newest = i64::try_from(steps()?.len()).unwrap_or(i64::MAX);
    if pragma(connection, "user_version")? > newest {
        return Err(NotebookError::Newer(folder.to_path_buf()));
    }
    Ok(())
}

/// Each step whole or not at all, with its number.
fn apply(connection: &mut Connection, steps: &[String], version: i64) -> Result<()> {
    // A step may have to build a table anew, which references would forbid
    // half-way; they are checked before it is kept.
    connection.pragma_update(None, "foreign_keys", false)?;
    for (number, sql) in (1i64..).zip(steps).filter(|(number, _)| *number > version) {
        let step = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        step.execute_batch(sql)?;
        let broken: i64 = step.query_row("SELECT count(*) FROM pragma_foreign_key_check", [], |r| r.get(0))?;
        if broken > 0 {
            return Err(NotebookError::Damaged(format!(
                "bringing it up to date (step {number}) would leave {broken} references to nothing, so it was left as it is"
            )));
        }
        step.pragma_update(None, "user_version", number)?;
        step.commit()?;
    }
    connection.pragma_update(None, "foreign_keys", true)?;
    Ok(())
}

fn pragma(connection: &Connection, name: &str) -> Result<i64> {
    Ok(connection.pragma_query_value(None, name, |r| r.get(0))?)
}

/// The migrations in order. Their numbers must run from 1 without a gap.
fn steps() -> Result<Vec<String>> {
    let mut names: Vec<_> = Migrations::iter().collect();
    names.sort();
    let mut steps = Vec::new();
    for (name, number) in names.iter().zip(1usize..) {
        let text = Migrations::get(name).and_then(|f| String::from_utf8(f.data.into_owned()).ok());
        match text {
            Some(text) if name.split('_').next().and_then(|n| n.parse().ok()) == Some(number) => steps.push(text),
            _ => {
                return Err(NotebookError::Damaged(format!(
                    "this program was built with a wrong list of migrations ({name})"
                )));
            }
        }
    }
    Ok(steps)
}

/// A whole copy as it was, named with its version. An earlier copy is never
/// written over: it may be the only good one.
fn copy(connection: &Connection, file: &Path, version: i64) -> Result<PathBuf> {
    let name = |n: u32| match n {
        1 => file.with_extension(format!("v{version}.sqlite")),
        n => file.with_extension(format!("v{version}-{n}.sqlite")),
    };
    let target = (1..=u32::MAX)
        .map(name)
        .find(|path| !path.exists())
        .ok_or(NotebookError::Failed)?;
    // Made aside and renamed, so that a copy with that name is always whole.
    let aside = file.with_extension("copying");
    match std::fs::remove_file(&aside) {
        Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(e.into()),
        _ => {}
    }
    let Some(text) = aside.to_str() else {
        return Err(NotebookError::Folder(
            aside.clone(),
            "its name is not plain text".into(),
        ));
    };
    connection.execute("VACUUM INTO ?1", [text])?;
    std::fs::File::open(&aside)?.sync_all()?;
    std::fs::rename(&aside, &target)?;
    if let Some(folder) = target.parent() {
        sync_folder(folder)?;
    }
    Ok(target)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn migrations_are_numbered_without_gaps() {
        assert!(steps().unwrap().len() >= 2);
    }

    #[test]
    fn a_failed_step_is_undone_and_the_ones_before_it_stay() {
        let good = "CREATE TABLE a (n INTEGER PRIMARY KEY) STRICT;
            CREATE TABLE b (n INTEGER REFERENCES a (n)) STRICT;
            INSERT INTO a VALUES (1); INSERT INTO b VALUES (1);";
        for (bad, part) in [
            (
                "CREATE TABLE c (n INTEGER) STRICT; INSERT INTO none VALUES (1);",
                "none",
            ),
            (
                "CREATE TABLE c (n INTEGER) STRICT; DELETE FROM a;",
                "references to nothing",
            ),
        ] {
            let mut connection = Connection::open_in_memory().unwrap();
            let steps = [good.to_string(), bad.to_string()];
            let error = apply(&mut connection, &steps, 0).unwrap_err().to_string();
            assert!(error.contains(part), "{error}");
            assert_eq!(pragma(&connection, "user_version").unwrap(), 1);
            let (tables, rows): (i64, i64) = connection
                .query_row(
                    "SELECT (SELECT count(*) FROM sqlite_schema WHERE name IN ('a', 'b', 'c')), (SELECT count(*) FROM a)",
                    [],
                    |r| Ok((r.get(0)?, r.get(1)?)),
                )
                .unwrap();
            assert_eq!((tables, rows), (2, 1));
        }
    }
}
