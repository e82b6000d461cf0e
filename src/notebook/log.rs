use super::columns::{At, Json, Key, Units, Word, has_plain_year, now};
use super::projects::{found, live, touch};
use super::{Decided, Entry, EntryKind, Id, Notebook, NotebookError, PhotoHash, Result, SecondThought, WorkDone};
use crate::measure::Length;
use rusqlite::{OptionalExtension, Params, Row, Transaction, params};

impl Notebook {
    /// Newest first, without the bin.
    pub fn log(&self, project: Id) -> Result<Vec<Entry>> {
        self.read(|t| of_project(t, project))
    }

    /// A stretch of the log, or of its entries of one kind, newest first: at
    /// most so many, without the newest so many.
    pub fn log_part(&self, project: Id, kind: Option<EntryKind>, without: usize, most: usize) -> Result<Vec<Entry>> {
        self.read(|t| {
            let number = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
            live(t, project)?;
            let (most, without) = (number(most), number(without));
            match kind {
                None => {
                    let part = format!("{NEWEST_FIRST} LIMIT ?2 OFFSET ?3");
                    list(t, &part, params![Key(project), most, without])
                }
                Some(kind) => {
                    let part = "SELECT * FROM entry WHERE project = ?1 AND binned_at IS NULL AND kind = ?4
                                ORDER BY happened_at DESC, id DESC LIMIT ?2 OFFSET ?3";
                    list(t, part, params![Key(project), most, without, Word(kind)])
                }
            }
        })
    }

    /// How many entries of each kind the log has; kinds it has none of are left out.
    pub fn log_kinds(&self, project: Id) -> Result<Vec<(EntryKind, usize)>> {
        self.read(|t| {
            let mut statement = t.prepare_cached(
                "SELECT kind, count(*) FROM entry WHERE project = ?1 AND binned_at IS NULL GROUP BY kind",
            )?;
            let counts = statement.query_map([Key(project)], |r| {
                let kind: Word<EntryKind> = r.get(0)?;
                Ok((kind.0, usize::try_from(r.get::<_, i64>(1)?).unwrap_or(0)))
            })?;
            Ok(counts.collect::<rusqlite::Result<_>>()?)
        })
    }

    /// How many entries the log has, and how many photos.
    pub fn log_length(&self, project: Id) -> Result<(usize, usize)> {
        self.read(|t| {
            let count = |sql: &str| -> Result<usize> {
                let n: i64 = t.prepare_cached(sql)?.query_row([Key(project)], |r| r.get(0))?;
                Ok(usize::try_from(n).unwrap_or(0))
            };
            Ok((
                count("SELECT count(*) FROM entry WHERE project = ?1 AND binned_at IS NULL")?,
                count(
                    "SELECT count(*) FROM entry e JOIN entry_photo i ON i.entry = e.id
                     WHERE e.project = ?1 AND e.binned_at IS NULL",
                )?,
            ))
        })
    }

    /// How many entries of its log are newer than this one; nothing where it is
    /// not in the project's log.
    pub fn newer_in_log(&self, project: Id, entry: Id) -> Result<Option<usize>> {
        self.read(|t| {
            let newer: Option<i64> = t
                .prepare_cached(
                    "SELECT (SELECT count(*) FROM entry n WHERE n.project = e.project AND n.binned_at IS NULL
                             AND (n.happened_at > e.happened_at OR (n.happened_at = e.happened_at AND n.id > e.id)))
                     FROM entry e WHERE e.id = ?2 AND e.project = ?1 AND e.binned_at IS NULL",
                )?
                .query_row(params![Key(project), Key(entry)], |r| r.get(0))
                .optional()?;
            Ok(newer.and_then(|n| usize::try_from(n).ok()))
        })
    }

    /// The bin of a project's log, the one put there last first.
    pub fn binned_entries(&self, project: Id) -> Result<Vec<Entry>> {
        self.read(|t| {
            live(t, project)?;
            let binned =
                "SELECT * FROM entry WHERE project = ?1 AND binned_at IS NOT NULL ORDER BY binned_at DESC, id DESC";
            list(t, binned, [Key(project)])
        })
    }

    /// The project and the entry.
    pub fn entry(&self, id: Id) -> Result<(Id, Entry)> {
        self.read(|t| entry(t, id))
    }

    /// Adds an entry; sent again under the same id it changes nothing. An
    /// entry written for a project that meanwhile lies in the bin is kept with it.
    pub fn add_entry(&self, project: Id, entry: &Entry) -> Result<()> {
        let entry = entry.clone();
        self.write(move |t| {
            if entry_exists(t, entry.id)? {
                return Ok(());
            }
            let there: bool = t.query_row(
                "SELECT EXISTS (SELECT 1 FROM project WHERE id = ?1)",
                [Key(project)],
                |r| r.get(0),
            )?;
            found(usize::from(there), "project")?;
            check_entry(t, project, &entry)?;
            // Of a timer that still runs these are the minutes.
            super::timer::stop(t, entry.id, now())?;
            insert_entry(t, project, &Entry { version: 1, ..entry })?;
            touch(t, project, now())
        })
    }

    /// Saves an entry as begun from version `seen`; the earlier one is kept.
    pub fn save_entry(&self, seen: i64, entry: &Entry) -> Result<i64> {
        let new = entry.clone();
        self.write(move |t| {
            let (project, before) = self::entry(t, new.id)?;
            let mut new = new;
            new.version = before.version;
            // The same save sent twice, or nothing changed.
            if new == before {
                return Ok(before.version);
            }
            if before.version != seen {
                return Err(NotebookError::Stale("This entry".into()));
            }
            check_entry(t, project, &new)?;
            t.execute(
                "INSERT INTO entry_version (entry, version, kept_at, value) VALUES (?1, ?2, ?3, ?4)",
                params![Key(before.id), before.version, At(now()), Json(&before)],
            )?;
            new.version = seen + 1;
            update_entry(t, &new)?;
            touch(t, project, now())?;
            Ok(new.version)
        })
    }

    /// What an entry was before each save, newest first.
    pub fn earlier_entries(&self, id: Id) -> Result<Vec<Entry>> {
        self.read(|t| {
            entry(t, id)?;
            let mut statement =
                t.prepare_cached("SELECT value FROM entry_version WHERE entry = ?1 ORDER BY version DESC")?;
            let rows = statement.query_map([Key(id)], |r| Ok(r.get::<_, Json<Entry>>(0)?.0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    pub fn bin_entry(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE entry SET binned_at = coalesce(binned_at, ?2) WHERE id = ?1",
                params![Key(id), At(now())],
            )?;
            found(changed, "entry")
        })
    }

    pub fn restore_entry(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute("UPDATE entry SET binned_at = NULL WHERE id = ?1", [Key(id)])?;
            found(changed, "entry")
        })
    }
}

pub(super) fn entry_exists(t: &Transaction<'_>, id: Id) -> Result<bool> {
    Ok(
        t.query_row("SELECT EXISTS (SELECT 1 FROM entry WHERE id = ?1)", [Key(id)], |r| {
            r.get(0)
        })?,
    )
}

/// Its project and the entry, where it is not in the bin.
pub(super) fn entry(t: &Transaction<'_>, id: Id) -> Result<(Id, Entry)> {
    let row = t
        .prepare_cached("SELECT * FROM entry WHERE id = ?1 AND binned_at IS NULL")?
        .query_row([Key(id)], |row| Ok((row.get::<_, Key>("project")?.0, entry_of(row)?)))
        .optional()?;
    let (project, mut entry) = row.ok_or(NotebookError::NotFound("entry"))?;
    entry.photos = photos_of(t, id)?;
    Ok((project, entry))
}

/// What was decided, the oldest first, without the bin.
pub(super) fn decided(t: &Transaction<'_>, project: Id) -> Result<Vec<Decided>> {
    let mut statement = t.prepare_cached(
        "SELECT id, text, why FROM entry WHERE project = ?1 AND kind = ?2 AND binned_at IS NULL ORDER BY happened_at, id",
    )?;
    let rows = statement.query_map(params![Key(project), Word(EntryKind::Decision)], |r| {
        Ok(Decided {
            id: r.get::<_, Key>(0)?.0,
            text: r.get(1)?,
            why: r.get(2)?,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Those of every entry of a project, the bin among them.
pub(super) fn ids(t: &Transaction<'_>, project: Id) -> Result<Vec<Id>> {
    let mut statement = t.prepare_cached("SELECT id FROM entry WHERE project = ?1")?;
    let rows = statement.query_map([Key(project)], |r| Ok(r.get::<_, Key>(0)?.0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Those that belong to a piece or a cloth of the plan.
pub(super) fn tied_to_the_plan(t: &Transaction<'_>, project: Id) -> Result<Vec<Id>> {
    let mut statement = t.prepare_cached(
        "SELECT id FROM entry WHERE project = ?1 AND (piece IS NOT NULL OR cloth IS NOT NULL) AND binned_at IS NULL",
    )?;
    let rows = statement.query_map([Key(project)], |r| Ok(r.get::<_, Key>(0)?.0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// What is not in the bin, newest first.
pub(super) fn of_project(t: &Transaction<'_>, project: Id) -> Result<Vec<Entry>> {
    live(t, project)?;
    list(t, NEWEST_FIRST, [Key(project)])
}

const NEWEST_FIRST: &str =
    "SELECT * FROM entry WHERE project = ?1 AND binned_at IS NULL ORDER BY happened_at DESC, id DESC";

fn list(t: &Transaction<'_>, sql: &str, values: impl Params) -> Result<Vec<Entry>> {
    let mut statement = t.prepare_cached(sql)?;
    let rows = statement.query_map(values, entry_of)?;
    let mut entries: Vec<Entry> = rows.collect::<rusqlite::Result<_>>()?;
    for entry in &mut entries {
        entry.photos = photos_of(t, entry.id)?;
    }
    Ok(entries)
}

/// Without its photos.
fn entry_of(row: &Row<'_>) -> rusqlite::Result<Entry> {
    let from: Option<i64> = row.get("revision_from")?;
    let to: Option<i64> = row.get("revision_to")?;
    let again: Option<bool> = row.get("would_do_again")?;
    let thought: Option<String> = row.get("second_thought")?;
    let work: Option<Word<_>> = row.get("work")?;
    let minutes: Option<u32> = row.get("minutes")?;
    Ok(Entry {
        id: row.get::<_, Key>("id")?.0,
        kind: row.get::<_, Word<_>>("kind")?.0,
        happened_at: row.get::<_, At>("happened_at")?.0,
        text: row.get("text")?,
        why: row.get("why")?,
        length: row.get::<_, Option<Units>>("length")?.map(|u| u.0),
        work: work
            .zip(minutes)
            .map(|(Word(kind), minutes)| WorkDone { kind, minutes }),
        piece: row.get("piece")?,
        cloth: row.get("cloth")?,
        step: row.get::<_, Option<Key>>("step")?.map(|k| k.0),
        photos: Vec::new(),
        revisions: from.zip(to),
        effect: row.get::<_, Json<_>>("effect")?.0,
        second_thought: again
            .zip(thought)
            .map(|(would_do_again, text)| SecondThought { would_do_again, text }),
        version: row.get("version")?,
    })
}

fn photos_of(t: &Transaction<'_>, entry: Id) -> Result<Vec<PhotoHash>> {
    let mut statement = t.prepare_cached("SELECT photo FROM entry_photo WHERE entry = ?1 ORDER BY position")?;
    let rows = statement.query_map([Key(entry)], |r| Ok(PhotoHash(r.get(0)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// What an entry needs to be one, and that what it names is there.
pub(super) fn check_entry(t: &Transaction<'_>, project: Id, entry: &Entry) -> Result<()> {
    check_entry_alone(entry)?;
    for photo in &entry.photos {
        if !super::photo_rows::is_kept(t, photo)? {
            return Err(NotebookError::refused(
                "photos",
                "A photo of this entry has not arrived. Choose it again.",
            ));
        }
    }
    if let Some(step) = entry.step
        && super::steps::project_of(t, step)? != Some(project)
    {
        return Err(NotebookError::refused(
            "step",
            "This step is not one of this project. Choose another, or none.",
        ));
    }
    if let Some((_, to)) = entry.revisions {
        let newest: Option<i64> = t.query_row(
            "SELECT max(number) FROM revision WHERE project = ?1",
            [Key(project)],
            |r| r.get(0),
        )?;
        if newest.is_none_or(|newest| to > newest) {
            return Err(NotebookError::refused(
                "revisions",
                format!("The plan has no revision {to}."),
            ));
        }
    }
    Ok(())
}

/// As far as the entry itself can tell.
pub(super) fn check_entry_alone(entry: &Entry) -> Result<()> {
    let sensible = |length: Length| !length.is_negative() && length <= Length::MAX;
    let said = !entry.text.trim().is_empty();
    let (field, message) = match entry.kind {
        EntryKind::Note if !said && entry.photos.is_empty() => ("text", "Write something, or add a photo."),
        EntryKind::Decision if !said && entry.why.trim().is_empty() => ("text", "Write what you decided."),
        EntryKind::Photo if entry.photos.is_empty() => ("photos", "Choose a photo."),
        EntryKind::Measure if entry.length.is_none() => ("length", "Type what you measured."),
        EntryKind::Work if entry.work.is_none() => ("minutes", "Say which work it was, and how long it took."),
        _ if entry.work.is_some() && entry.kind != EntryKind::Work => ("minutes", "Only an entry of work has minutes."),
        _ if !entry
            .work
            .is_none_or(|work| (1..=WorkDone::MOST).contains(&work.minutes)) =>
        {
            ("minutes", "An entry holds 1 minute to 24 hours of work.")
        }
        _ if !entry.length.is_none_or(sensible) => ("length", "A measure is 0 or more and at most 200 m."),
        _ if !has_plain_year(&entry.happened_at) => ("happened_at", "Write the year with four digits."),
        _ if entry.revisions.is_some_and(|(from, to)| from < 1 || from > to) => (
            "revisions",
            "A decision goes from an earlier revision of the plan to a later one.",
        ),
        _ if entry.revisions.is_some() && entry.kind != EntryKind::Decision => {
            ("revisions", "Only a decision names revisions of the plan.")
        }
        _ => return Ok(()),
    };
    Err(NotebookError::refused(field, message))
}

pub(super) fn insert_entry(t: &Transaction<'_>, project: Id, entry: &Entry) -> Result<()> {
    t.prepare_cached(
        "INSERT INTO entry (id, project, kind, happened_at, text, why, effect, version, changed_at, work, minutes)
         VALUES (?1, ?2, ?3, ?4, '', '', '[]', ?5, ?4, ?6, ?7)",
    )?
    .execute(params![
        Key(entry.id),
        Key(project),
        Word(entry.kind),
        At(entry.happened_at),
        entry.version,
        entry.work.map(|w| Word(w.kind)),
        entry.work.map(|w| w.minutes),
    ])?;
    update_entry(t, entry)
}

fn update_entry(t: &Transaction<'_>, entry: &Entry) -> Result<()> {
    let thought = entry.second_thought.as_ref();
    t.prepare_cached(
        "UPDATE entry SET kind = ?2, happened_at = ?3, text = ?4, why = ?5, length = ?6, piece = ?7, revision_from = ?8,
                revision_to = ?9, effect = ?10, would_do_again = ?11, second_thought = ?12, version = ?13, changed_at = ?14,
                work = ?15, minutes = ?16, cloth = ?17, step = ?18
         WHERE id = ?1",
    )?
    .execute(params![
        Key(entry.id),
        Word(entry.kind),
        At(entry.happened_at),
        entry.text,
        entry.why,
        entry.length.map(Units),
        entry.piece,
        entry.revisions.map(|r| r.0),
        entry.revisions.map(|r| r.1),
        Json(&entry.effect),
        thought.map(|s| s.would_do_again),
        thought.map(|s| &s.text),
        entry.version,
        At(now()),
        entry.work.map(|w| Word(w.kind)),
        entry.work.map(|w| w.minutes),
        entry.cloth,
        entry.step.map(Key),
    ])?;
    t.prepare_cached("DELETE FROM entry_photo WHERE entry = ?1")?
        .execute([Key(entry.id)])?;
    for (position, photo) in (0i64..).zip(&entry.photos) {
        t.prepare_cached("INSERT INTO entry_photo (entry, position, photo) VALUES (?1, ?2, ?3)")?
            .execute(params![Key(entry.id), position, photo.0])?;
    }
    Ok(())
}
