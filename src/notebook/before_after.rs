use super::columns::{At, Json, Key, now};
use super::projects::{found, live, touch};
use super::{BeforeAfter, Id, Notebook, NotebookError, PhotoHash, Result};
use rusqlite::{OptionalExtension, Row, Transaction, params};

impl Notebook {
    /// The two photos of a project that stand side by side, where they were chosen.
    pub fn before_after(&self, project: Id) -> Result<Option<BeforeAfter>> {
        self.read(|t| {
            live(t, project)?;
            of_project(t, project)
        })
    }

    /// The version of the last pair, in the bin or out of it; 0 before the first.
    pub fn before_after_version(&self, project: Id) -> Result<i64> {
        self.read(|t| {
            live(t, project)?;
            Ok(any(t, project)?.map_or(0, |(pair, _)| pair.version))
        })
    }

    /// Saves the pair as begun from version `seen`, 0 for the first. The
    /// earlier one is kept.
    pub fn save_before_after(&self, project: Id, seen: i64, pair: &BeforeAfter) -> Result<i64> {
        let new = pair.clone();
        self.write(move |t| {
            live(t, project)?;
            check_pair(&new)?;
            for photo in [&new.before, &new.after] {
                if !super::photo_rows::is_kept(t, photo)? {
                    return Err(NotebookError::NotFound("photo"));
                }
            }
            let before = any(t, project)?;
            let version = before.as_ref().map_or(0, |(pair, _)| pair.version);
            if let Some((same, false)) = &before
                && (&same.before, &same.after) == (&new.before, &new.after)
            {
                return Ok(version);
            }
            if version != seen {
                return Err(NotebookError::Stale("Before and after".into()));
            }
            if let Some((before, _)) = &before {
                t.execute(
                    "INSERT INTO before_after_version (project, version, kept_at, value) VALUES (?1, ?2, ?3, ?4)",
                    params![Key(project), version, At(now()), Json(before)],
                )?;
            }
            let new = BeforeAfter {
                version: version + 1,
                ..new
            };
            write(t, project, &new)?;
            touch(t, project, now())?;
            Ok(new.version)
        })
    }

    pub fn bin_before_after(&self, project: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE before_after SET binned_at = coalesce(binned_at, ?2) WHERE project = ?1",
                params![Key(project), At(now())],
            )?;
            found(changed, "pair of photos")
        })
    }

    pub fn restore_before_after(&self, project: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE before_after SET binned_at = NULL WHERE project = ?1",
                [Key(project)],
            )?;
            found(changed, "pair of photos")
        })
    }
}

pub(super) fn check_pair(pair: &BeforeAfter) -> Result<()> {
    if pair.before == pair.after {
        return Err(NotebookError::refused(
            "after",
            "Choose another photo for after: both are the same.",
        ));
    }
    Ok(())
}

/// With whether it lies in the bin.
fn any(t: &Transaction<'_>, project: Id) -> Result<Option<(BeforeAfter, bool)>> {
    let row = t
        .prepare_cached("SELECT * FROM before_after WHERE project = ?1")?
        .query_row([Key(project)], |r| {
            let binned: Option<At> = r.get("binned_at")?;
            Ok((pair_of(r)?, binned.is_some()))
        })
        .optional()?;
    Ok(row)
}

pub(super) fn of_project(t: &Transaction<'_>, project: Id) -> Result<Option<BeforeAfter>> {
    Ok(any(t, project)?.filter(|(_, binned)| !binned).map(|(pair, _)| pair))
}

fn pair_of(row: &Row<'_>) -> rusqlite::Result<BeforeAfter> {
    Ok(BeforeAfter {
        before: PhotoHash(row.get("before")?),
        after: PhotoHash(row.get("after")?),
        version: row.get("version")?,
    })
}

pub(super) fn write(t: &Transaction<'_>, project: Id, pair: &BeforeAfter) -> Result<()> {
    t.execute(
        "INSERT INTO before_after (project, before, after, version, changed_at) VALUES (?1, ?2, ?3, ?4, ?5)
         ON CONFLICT (project) DO UPDATE SET before = ?2, after = ?3, version = ?4, changed_at = ?5, binned_at = NULL",
        params![Key(project), pair.before.0, pair.after.0, pair.version, At(now())],
    )?;
    Ok(())
}
