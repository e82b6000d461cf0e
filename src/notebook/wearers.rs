use super::columns::{At, Day, Json, Key, Word, has_plain_year, now};
use super::projects::found;
use super::{Id, MeasurementSet, Notebook, NotebookError, Result, Wearer, WearerKind};
use crate::measure::Length;
use crate::plan::MadeFor;
use rusqlite::{OptionalExtension, Row, Transaction, params};
use std::collections::HashSet;

impl Notebook {
    /// By name, without the bin.
    pub fn wearers(&self) -> Result<Vec<Wearer>> {
        self.read(all)
    }

    /// The bin, the one put there last first.
    pub fn binned_wearers(&self) -> Result<Vec<Wearer>> {
        self.read(|t| {
            list(
                t,
                "SELECT * FROM wearer WHERE binned_at IS NOT NULL ORDER BY binned_at DESC, id",
            )
        })
    }

    pub fn wearer(&self, id: Id) -> Result<Wearer> {
        self.read(|t| wearer(t, id))
    }

    /// Saves a wearer with all measurements as begun from version `seen`, 0
    /// for a new one. Earlier versions are kept. Sets are kept newest first.
    pub fn save_wearer(&self, seen: i64, wearer: &Wearer) -> Result<i64> {
        let new = newest_first(wearer);
        self.write(move |t| {
            let mut new = new;
            let before = match self::wearer(t, new.id) {
                Ok(before) => before,
                Err(NotebookError::NotFound(_)) if seen == 0 && !is_known(t, new.id)? => {
                    check_wearer(&new)?;
                    new.version = 1;
                    insert_wearer(t, &new)?;
                    return Ok(1);
                }
                Err(other) => return Err(other),
            };
            new.version = before.version;
            // The same save sent twice, or nothing changed.
            if new == before {
                return Ok(before.version);
            }
            if before.version != seen {
                return Err(NotebookError::Stale(before.name));
            }
            check_wearer(&new)?;
            t.execute(
                "INSERT INTO wearer_version (wearer, version, kept_at, value) VALUES (?1, ?2, ?3, ?4)",
                params![Key(before.id), before.version, At(now()), Json(&before)],
            )?;
            new.version = seen + 1;
            update_wearer(t, &new)?;
            Ok(new.version)
        })
    }

    /// Projects made for a wearer in the bin keep naming it.
    pub fn bin_wearer(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE wearer SET binned_at = coalesce(binned_at, ?2) WHERE id = ?1",
                params![Key(id), At(now())],
            )?;
            found(changed, "wearer")
        })
    }

    pub fn restore_wearer(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute("UPDATE wearer SET binned_at = NULL WHERE id = ?1", [Key(id)])?;
            found(changed, "wearer")
        })
    }
}

/// Which cautions a plan for this wearer shows; of one in the bin too.
pub(super) fn made_for(t: &Transaction<'_>, id: Id) -> Result<MadeFor> {
    let kind = t
        .query_row("SELECT kind FROM wearer WHERE id = ?1", [Key(id)], |r| {
            Ok(r.get::<_, Word<WearerKind>>(0)?.0)
        })
        .optional()?;
    Ok(kind.ok_or(NotebookError::NotFound("wearer"))?.made_for())
}

/// In the bin or out of it.
pub(super) fn is_known(t: &Transaction<'_>, id: Id) -> Result<bool> {
    Ok(
        t.query_row("SELECT EXISTS (SELECT 1 FROM wearer WHERE id = ?1)", [Key(id)], |r| {
            r.get(0)
        })?,
    )
}

pub(super) fn wearer(t: &Transaction<'_>, id: Id) -> Result<Wearer> {
    let row = t
        .prepare_cached("SELECT * FROM wearer WHERE id = ?1 AND binned_at IS NULL")?
        .query_row([Key(id)], wearer_of)
        .optional()?;
    let mut wearer = row.ok_or(NotebookError::NotFound("wearer"))?;
    wearer.sets = sets_of(t, id)?;
    Ok(wearer)
}

pub(super) fn all(t: &Transaction<'_>) -> Result<Vec<Wearer>> {
    list(
        t,
        "SELECT * FROM wearer WHERE binned_at IS NULL ORDER BY name COLLATE NOCASE, id",
    )
}

fn list(t: &Transaction<'_>, sql: &str) -> Result<Vec<Wearer>> {
    let mut statement = t.prepare_cached(sql)?;
    let rows = statement.query_map([], wearer_of)?;
    let mut wearers: Vec<Wearer> = rows.collect::<rusqlite::Result<_>>()?;
    for wearer in &mut wearers {
        wearer.sets = sets_of(t, wearer.id)?;
    }
    Ok(wearers)
}

/// Without the measurements.
fn wearer_of(row: &Row<'_>) -> rusqlite::Result<Wearer> {
    Ok(Wearer {
        id: row.get::<_, Key>("id")?.0,
        name: row.get("name")?,
        kind: row.get::<_, Word<_>>("kind")?.0,
        note: row.get("note")?,
        sets: Vec::new(),
        version: row.get("version")?,
    })
}

fn sets_of(t: &Transaction<'_>, wearer: Id) -> Result<Vec<MeasurementSet>> {
    let mut statement = t.prepare_cached("SELECT * FROM measurement_set WHERE wearer = ?1 ORDER BY position")?;
    let rows = statement.query_map([Key(wearer)], set_of)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn set_of(row: &Row<'_>) -> rusqlite::Result<MeasurementSet> {
    Ok(MeasurementSet {
        id: row.get::<_, Key>("id")?.0,
        taken_on: row.get::<_, Day>("taken_on")?.0,
        values: row.get::<_, Json<_>>("measured")?.0,
    })
}

pub(super) fn measurement_set(t: &Transaction<'_>, id: Id) -> Result<Option<MeasurementSet>> {
    Ok(t.prepare_cached("SELECT * FROM measurement_set WHERE id = ?1")?
        .query_row([Key(id)], set_of)
        .optional()?)
}

/// Whom a set was taken of.
pub(super) fn wearer_of_set(t: &Transaction<'_>, id: Id) -> Result<Option<Id>> {
    Ok(
        t.query_row("SELECT wearer FROM measurement_set WHERE id = ?1", [Key(id)], |r| {
            Ok(r.get::<_, Key>(0)?.0)
        })
        .optional()?,
    )
}

/// The last measurements taken of a wearer.
pub(super) fn newest_set(t: &Transaction<'_>, wearer: Id) -> Result<Option<Id>> {
    Ok(t.query_row(
        "SELECT id FROM measurement_set WHERE wearer = ?1 ORDER BY taken_on DESC, position LIMIT 1",
        [Key(wearer)],
        |r| Ok(r.get::<_, Key>(0)?.0),
    )
    .optional()?)
}

/// Sets of one day stay in the order given.
pub(super) fn newest_first(wearer: &Wearer) -> Wearer {
    let mut wearer = wearer.clone();
    wearer.sets.sort_by_key(|set| std::cmp::Reverse(set.taken_on));
    wearer
}

pub(super) fn check_wearer(wearer: &Wearer) -> Result<()> {
    let refused = |field, message: String| Err(NotebookError::refused(field, message));
    if wearer.name.trim().is_empty() {
        return refused("name", "Give the wearer a name.".into());
    }
    let mut met = HashSet::new();
    for set in &wearer.sets {
        if !met.insert(set.id) {
            return refused("sets", format!("Two sets of measurements have the id {}.", set.id));
        }
        if !has_plain_year(&set.taken_on) {
            return refused("taken_on", "Write the year with four digits.".into());
        }
        for measured in &set.values {
            if measured.name.trim().is_empty() {
                return refused("values", "Say what was measured beside each value.".into());
            }
            if !measured.value.is_positive() || measured.value > Length::MAX {
                return refused(
                    "values",
                    format!("The {} is more than 0 and at most 200 m.", measured.name),
                );
            }
        }
    }
    Ok(())
}

pub(super) fn insert_wearer(t: &Transaction<'_>, wearer: &Wearer) -> Result<()> {
    t.execute(
        "INSERT INTO wearer (id, name, kind, note, version, changed_at) VALUES (?1, ?2, ?3, '', ?4, ?5)",
        params![
            Key(wearer.id),
            wearer.name,
            Word(wearer.kind),
            wearer.version,
            At(now())
        ],
    )?;
    update_wearer(t, wearer)
}

fn update_wearer(t: &Transaction<'_>, wearer: &Wearer) -> Result<()> {
    t.execute(
        "UPDATE wearer SET name = ?2, kind = ?3, note = ?4, version = ?5, changed_at = ?6 WHERE id = ?1",
        params![
            Key(wearer.id),
            wearer.name,
            Word(wearer.kind),
            wearer.note,
            wearer.version,
            At(now())
        ],
    )?;
    let kept: HashSet<Id> = wearer.sets.iter().map(|s| s.id).collect();
    for gone in sets_of(t, wearer.id)?.iter().filter(|s| !kept.contains(&s.id)) {
        remove_set(t, gone)?;
    }
    for (position, set) in (0i64..).zip(&wearer.sets) {
        if wearer_of_set(t, set.id)?.is_some_and(|of| of != wearer.id) {
            return Err(NotebookError::refused(
                "sets",
                format!("The measurements of {} belong to another wearer.", set.taken_on),
            ));
        }
        t.execute(
            "INSERT INTO measurement_set (id, wearer, position, taken_on, measured) VALUES (?1, ?2, ?3, ?4, ?5)
             ON CONFLICT (id) DO UPDATE SET position = ?3, taken_on = ?4, measured = ?5",
            params![
                Key(set.id),
                Key(wearer.id),
                position,
                Day(set.taken_on),
                Json(&set.values)
            ],
        )?;
    }
    Ok(())
}

/// A project is made to its measurements, so they stay as long as one names them.
fn remove_set(t: &Transaction<'_>, set: &MeasurementSet) -> Result<()> {
    let project: Option<String> = t
        .query_row(
            "SELECT title FROM project WHERE measurements = ?1 ORDER BY changed_at DESC LIMIT 1",
            [Key(set.id)],
            |r| r.get(0),
        )
        .optional()?;
    if let Some(title) = project {
        return Err(NotebookError::refused(
            "sets",
            format!(
                "“{title}” is made to the measurements of {}. Choose others for that project before taking these out.",
                set.taken_on
            ),
        ));
    }
    t.execute("DELETE FROM measurement_set WHERE id = ?1", [Key(set.id)])?;
    Ok(())
}
