use super::columns::{At, Json, Key, Units, now};
use super::projects::{found, live, touch};
use super::{Id, MarkPoint, Notebook, NotebookError, PhotoHash, PhotoMark, Result};
use crate::measure::Length;
use rusqlite::{OptionalExtension, Row, Transaction, params};

/// Most characters of what was measured.
const WHAT: usize = 120;
/// Most marks of one project, those of the bin among them.
const MOST: i64 = 2000;

impl Notebook {
    /// The marks of all photos of a project, without the bin, in the order they were made.
    pub fn photo_marks(&self, project: Id) -> Result<Vec<PhotoMark>> {
        self.read(|t| {
            live(t, project)?;
            of_project(t, project)
        })
    }

    /// What is in the bin of them, the one put there last first.
    pub fn binned_photo_marks(&self, project: Id) -> Result<Vec<PhotoMark>> {
        self.read(|t| {
            live(t, project)?;
            list(
                t,
                "SELECT * FROM photo_mark WHERE project = ?1 AND binned_at IS NOT NULL ORDER BY binned_at DESC, id",
                project,
            )
        })
    }

    /// Saves a mark as begun from version `seen`, 0 for a new one; sent again
    /// it changes nothing. The earlier one is kept.
    pub fn save_photo_mark(&self, project: Id, seen: i64, mark: &PhotoMark) -> Result<i64> {
        let new = mark.clone();
        self.write(move |t| {
            live(t, project)?;
            let mut new = new;
            let Some((of, before, binned)) = any(t, new.id)? else {
                if seen != 0 {
                    return Err(NotebookError::NotFound("mark"));
                }
                check_mark(&new)?;
                let there: i64 = t.query_row(
                    "SELECT count(*) FROM photo_mark WHERE project = ?1",
                    [Key(project)],
                    |r| r.get(0),
                )?;
                if there >= MOST {
                    return Err(NotebookError::refused(
                        "length",
                        format!("A project holds {MOST} marks on its photos. This one has them."),
                    ));
                }
                new.version = 1;
                insert_mark(t, project, &new)?;
                touch(t, project, now())?;
                return Ok(1);
            };
            if of != project || binned {
                return Err(NotebookError::NotFound("mark"));
            }
            new.version = before.version;
            if new == before {
                return Ok(before.version);
            }
            if before.version != seen {
                return Err(NotebookError::Stale("This mark".into()));
            }
            check_mark(&new)?;
            if new.photo != before.photo {
                return Err(NotebookError::refused("photo", "A mark stays on its photo."));
            }
            t.execute(
                "INSERT INTO photo_mark_version (mark, version, kept_at, value) VALUES (?1, ?2, ?3, ?4)",
                params![Key(before.id), before.version, At(now()), Json(&before)],
            )?;
            new.version = seen + 1;
            t.execute(
                "UPDATE photo_mark SET from_x = ?2, from_y = ?3, to_x = ?4, to_y = ?5, length = ?6, what = ?7,
                    version = ?8, changed_at = ?9 WHERE id = ?1",
                params![
                    Key(new.id),
                    new.from.x,
                    new.from.y,
                    new.to.x,
                    new.to.y,
                    Units(new.length),
                    new.what,
                    new.version,
                    At(now()),
                ],
            )?;
            touch(t, project, now())?;
            Ok(new.version)
        })
    }

    /// What a mark was before each save, newest first.
    pub fn earlier_photo_marks(&self, id: Id) -> Result<Vec<PhotoMark>> {
        self.read(|t| {
            let mut statement =
                t.prepare_cached("SELECT value FROM photo_mark_version WHERE mark = ?1 ORDER BY version DESC")?;
            let rows = statement.query_map([Key(id)], |r| Ok(r.get::<_, Json<PhotoMark>>(0)?.0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    pub fn bin_photo_mark(&self, project: Id, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE photo_mark SET binned_at = coalesce(binned_at, ?3) WHERE id = ?1 AND project = ?2",
                params![Key(id), Key(project), At(now())],
            )?;
            found(changed, "mark")
        })
    }

    pub fn restore_photo_mark(&self, project: Id, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE photo_mark SET binned_at = NULL WHERE id = ?1 AND project = ?2",
                params![Key(id), Key(project)],
            )?;
            found(changed, "mark")
        })
    }
}

/// Its project, the mark, and whether it lies in the bin.
fn any(t: &Transaction<'_>, id: Id) -> Result<Option<(Id, PhotoMark, bool)>> {
    let row = t
        .prepare_cached("SELECT * FROM photo_mark WHERE id = ?1")?
        .query_row([Key(id)], |r| {
            let binned: Option<At> = r.get("binned_at")?;
            Ok((r.get::<_, Key>("project")?.0, mark_of(r)?, binned.is_some()))
        })
        .optional()?;
    Ok(row)
}

pub(super) fn of_project(t: &Transaction<'_>, project: Id) -> Result<Vec<PhotoMark>> {
    list(
        t,
        "SELECT * FROM photo_mark WHERE project = ?1 AND binned_at IS NULL ORDER BY id",
        project,
    )
}

/// Those on the photos of an entry.
pub(super) fn of_entry(t: &Transaction<'_>, entry: Id) -> Result<Vec<PhotoMark>> {
    list(
        t,
        "SELECT m.* FROM photo_mark m JOIN entry e ON e.project = m.project
         JOIN entry_photo i ON i.entry = e.id AND i.photo = m.photo
         WHERE e.id = ?1 AND m.binned_at IS NULL ORDER BY i.position, m.id",
        entry,
    )
}

fn list(t: &Transaction<'_>, sql: &str, id: Id) -> Result<Vec<PhotoMark>> {
    let mut statement = t.prepare_cached(sql)?;
    let rows = statement.query_map([Key(id)], mark_of)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn mark_of(row: &Row<'_>) -> rusqlite::Result<PhotoMark> {
    Ok(PhotoMark {
        id: row.get::<_, Key>("id")?.0,
        photo: PhotoHash(row.get("photo")?),
        from: MarkPoint {
            x: row.get("from_x")?,
            y: row.get("from_y")?,
        },
        to: MarkPoint {
            x: row.get("to_x")?,
            y: row.get("to_y")?,
        },
        length: row.get::<_, Units>("length")?.0,
        what: row.get("what")?,
        version: row.get("version")?,
    })
}

/// As far as the mark itself can tell.
pub(super) fn check_mark(mark: &PhotoMark) -> Result<()> {
    let on_photo = |p: MarkPoint| [p.x, p.y].iter().all(|n| (0..=MarkPoint::FULL).contains(n));
    if !on_photo(mark.from) || !on_photo(mark.to) {
        return Err(NotebookError::refused(
            "from_x",
            "Both ends of a mark lie on its photo.",
        ));
    }
    if mark.from == mark.to {
        return Err(NotebookError::refused(
            "to_x",
            "Both ends of the line are at the same place. Move one.",
        ));
    }
    if !mark.length.is_positive() || mark.length > Length::MAX {
        return Err(NotebookError::refused(
            "length",
            "The length of a mark is more than 0 and at most 200 m.",
        ));
    }
    if mark.what.chars().count() > WHAT {
        return Err(NotebookError::refused(
            "what",
            format!("What was measured has at most {WHAT} characters."),
        ));
    }
    Ok(())
}

pub(super) fn insert_mark(t: &Transaction<'_>, project: Id, mark: &PhotoMark) -> Result<()> {
    if !super::photo_rows::is_kept(t, &mark.photo)? {
        return Err(NotebookError::NotFound("photo"));
    }
    t.execute(
        "INSERT INTO photo_mark (id, project, photo, from_x, from_y, to_x, to_y, length, what, version, changed_at)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
        params![
            Key(mark.id),
            Key(project),
            mark.photo.0,
            mark.from.x,
            mark.from.y,
            mark.to.x,
            mark.to.y,
            Units(mark.length),
            mark.what,
            mark.version,
            At(now()),
        ],
    )?;
    Ok(())
}
