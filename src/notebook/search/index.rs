//! The index, and how it stays in step. Whatever a change of the notebook
//! touches is noted by triggers that live with the writing connection, and
//! worded anew before the same transaction ends: no save can forget it, and
//! what is undone is undone here too.

use super::rows::{self, Found};
use super::{FoundKind, places};
use crate::notebook::columns::Key;
use crate::notebook::plans::current;
use crate::notebook::projects::details_and_name;
use crate::notebook::settings::settings;
use crate::notebook::{Entry, Id, NotebookError, Result, cloths, log, movements, photo_marks, shares, steps, wearers};
use crate::plan::Plan;
use rusqlite::{Transaction, params};
use std::collections::HashSet;

/// Raise this when [`rows`] says things in other words.
const WORDING: i64 = 7;

/// What is to be worded anew: `project` and all in it, its `plan` alone, an
/// `entry`, a `step`, a `cloth` of the shelf, a `wearer`.
const TRIGGERS: &str = "
CREATE TEMP TABLE search_stale (kind TEXT NOT NULL, item TEXT NOT NULL);

CREATE TEMP TRIGGER search_project_new AFTER INSERT ON main.project BEGIN
    INSERT INTO search_stale VALUES ('project', NEW.id);
END;
CREATE TEMP TRIGGER search_project AFTER UPDATE OF title, wearer, for_whom, pattern_name, pattern_maker, pattern_size, about
        ON main.project BEGIN
    INSERT INTO search_stale VALUES ('project', NEW.id);
END;
CREATE TEMP TRIGGER search_plan AFTER INSERT ON main.revision BEGIN
    INSERT INTO search_stale VALUES ('plan', NEW.project);
END;
CREATE TEMP TRIGGER search_remark AFTER INSERT ON main.choice BEGIN
    INSERT INTO search_stale VALUES ('plan', NEW.project);
END;
CREATE TEMP TRIGGER search_remark_gone AFTER DELETE ON main.choice BEGIN
    INSERT INTO search_stale VALUES ('plan', OLD.project);
END;
CREATE TEMP TRIGGER search_entry_new AFTER INSERT ON main.entry BEGIN
    INSERT INTO search_stale VALUES ('entry', NEW.id);
END;
CREATE TEMP TRIGGER search_entry AFTER UPDATE ON main.entry BEGIN
    INSERT INTO search_stale VALUES ('entry', NEW.id);
END;
CREATE TEMP TRIGGER search_mark_new AFTER INSERT ON main.photo_mark BEGIN
    INSERT INTO search_stale SELECT 'entry', e.id FROM entry_photo i JOIN entry e ON e.id = i.entry
        WHERE i.photo = NEW.photo AND e.project = NEW.project;
END;
CREATE TEMP TRIGGER search_mark AFTER UPDATE ON main.photo_mark BEGIN
    INSERT INTO search_stale SELECT 'entry', e.id FROM entry_photo i JOIN entry e ON e.id = i.entry
        WHERE i.photo = NEW.photo AND e.project = NEW.project;
END;
CREATE TEMP TRIGGER search_step_new AFTER INSERT ON main.step BEGIN
    INSERT INTO search_stale VALUES ('step', NEW.id);
END;
CREATE TEMP TRIGGER search_step AFTER UPDATE OF title, work, binned_at ON main.step BEGIN
    INSERT INTO search_stale VALUES ('step', NEW.id);
END;
CREATE TEMP TRIGGER search_step_title AFTER UPDATE OF title, binned_at ON main.step
        WHEN NEW.title <> OLD.title OR (NEW.binned_at IS NULL) <> (OLD.binned_at IS NULL) BEGIN
    INSERT INTO search_stale SELECT 'entry', id FROM entry WHERE step = NEW.id;
END;
CREATE TEMP TRIGGER search_cloth_new AFTER INSERT ON main.cloth BEGIN
    INSERT INTO search_stale VALUES ('cloth', NEW.id);
END;
CREATE TEMP TRIGGER search_cloth AFTER UPDATE ON main.cloth BEGIN
    INSERT INTO search_stale VALUES ('cloth', NEW.id);
END;
CREATE TEMP TRIGGER search_cloth_moved AFTER INSERT ON main.movement BEGIN
    INSERT INTO search_stale VALUES ('cloth', NEW.cloth);
END;
CREATE TEMP TRIGGER search_wearer_new AFTER INSERT ON main.wearer BEGIN
    INSERT INTO search_stale VALUES ('wearer', NEW.id);
END;
CREATE TEMP TRIGGER search_wearer AFTER UPDATE ON main.wearer BEGIN
    INSERT INTO search_stale VALUES ('wearer', NEW.id);
END;
CREATE TEMP TRIGGER search_wearer_name AFTER UPDATE OF name ON main.wearer WHEN NEW.name <> OLD.name BEGIN
    INSERT INTO search_stale SELECT 'project', id FROM project WHERE wearer = NEW.id;
END;
";

/// Begins to watch what this connection changes, and makes the index where
/// there is none yet, or one worded by another program.
pub fn watch(t: &Transaction<'_>) -> Result<()> {
    t.execute_batch(TRIGGERS)?;
    let number: i64 = t.query_row("SELECT number FROM search_wording", [], |r| r.get(0))?;
    if number != WORDING {
        t.execute("INSERT INTO search (search) VALUES ('delete-all')", [])?;
        t.execute("DELETE FROM search_text", [])?;
        t.execute_batch(
            "INSERT INTO search_stale SELECT 'project', id FROM project;
             INSERT INTO search_stale SELECT 'cloth', id FROM cloth;
             INSERT INTO search_stale SELECT 'wearer', id FROM wearer;",
        )?;
        t.execute("UPDATE search_wording SET number = ?1", [WORDING])?;
    }
    catch_up(t)
}

/// Words anew what this transaction touched.
pub fn catch_up(t: &Transaction<'_>) -> Result<()> {
    let stale: Vec<(String, Id)> = {
        let mut statement = t.prepare_cached("SELECT DISTINCT kind, item FROM search_stale")?;
        let rows = statement.query_map([], |r| Ok((r.get(0)?, r.get::<_, Key>(1)?.0)))?;
        rows.collect::<rusqlite::Result<_>>()?
    };
    if stale.is_empty() {
        return Ok(());
    }
    t.execute("DELETE FROM search_stale", [])?;
    let whole: HashSet<Id> = stale
        .iter()
        .filter(|(kind, _)| kind == "project")
        .map(|(_, id)| *id)
        .collect();
    let mut changes = Changes::default();
    for (kind, id) in &stale {
        match kind.as_str() {
            "project" => {
                project(t, *id, &mut changes)?;
                plan(t, *id, &mut changes)?;
                let newest = readable_plan(t, *id)?;
                for entry in log::ids(t, *id)? {
                    self::entry(t, entry, newest.as_ref(), &mut changes)?;
                }
                for step in steps::order(t, *id)? {
                    self::step(t, step, &mut changes)?;
                }
            }
            "plan" if !whole.contains(id) => {
                plan(t, *id, &mut changes)?;
                // Pieces and cloths may have other names now.
                let tied = log::tied_to_the_plan(t, *id)?;
                let newest = if tied.is_empty() { None } else { readable_plan(t, *id)? };
                for entry in tied {
                    self::entry(t, entry, newest.as_ref(), &mut changes)?;
                }
            }
            "entry" => entry(t, *id, None, &mut changes)?,
            "step" => step(t, *id, &mut changes)?,
            "cloth" => cloth(t, *id, &mut changes)?,
            "wearer" => wearer(t, *id, &mut changes)?,
            _ => {}
        }
    }
    changes.write(t)
}

fn project(t: &Transaction<'_>, id: Id, changes: &mut Changes) -> Result<()> {
    let (details, for_whom) = details_and_name(t, id)?;
    changes.replace(
        t,
        "kind = 'project' AND project = ?1",
        id,
        &[rows::project(&details, &for_whom)],
        Some(id),
    )
}

fn plan(t: &Transaction<'_>, id: Id, changes: &mut Changes) -> Result<()> {
    let (details, for_whom) = details_and_name(t, id)?;
    let parts = match current(t, id) {
        Ok(revision) => rows::plan(
            &revision.plan,
            &shares::choices(t, id)?,
            &rows::place(&details, &for_whom),
        ),
        // A plan that cannot be read must not stand in the way of a save; its page says what is wrong.
        Err(NotebookError::Damaged(error)) => {
            tracing::warn!(%error, "a plan cannot be searched");
            Vec::new()
        }
        Err(other) => return Err(other),
    };
    changes.replace(
        t,
        "kind IN ('piece', 'material') AND project = ?1",
        id,
        &parts,
        Some(id),
    )
}

/// One that cannot be read names nothing.
fn readable_plan(t: &Transaction<'_>, id: Id) -> Result<Option<Plan>> {
    match current(t, id) {
        Ok(revision) => Ok(Some(revision.plan)),
        Err(NotebookError::Damaged(_)) => Ok(None),
        Err(other) => Err(other),
    }
}

/// `newest` is its project's plan, where it is at hand.
fn entry(t: &Transaction<'_>, id: Id, newest: Option<&Plan>, changes: &mut Changes) -> Result<()> {
    let (found, of) = match log::entry(t, id) {
        Ok((of, entry)) => {
            let (details, for_whom) = details_and_name(t, of)?;
            let unit = settings(t)?.unit;
            let tied = tied(t, of, &entry, newest)?;
            let tied: Vec<&str> = tied.iter().map(String::as_str).collect();
            (
                vec![rows::entry(
                    &entry,
                    &photo_marks::of_entry(t, id)?,
                    unit,
                    &tied,
                    &rows::place(&details, &for_whom),
                )],
                Some(of),
            )
        }
        Err(NotebookError::NotFound(_)) => (Vec::new(), None),
        Err(other) => return Err(other),
    };
    changes.replace(t, "kind = 'entry' AND item = ?1", id, &found, of)
}

/// The names of what an entry belongs to, as they are now.
fn tied(t: &Transaction<'_>, project: Id, entry: &Entry, newest: Option<&Plan>) -> Result<Vec<String>> {
    let mut names = Vec::new();
    if let Some(step) = entry.step {
        match steps::step(t, step) {
            Ok((_, step)) => names.push(step.title),
            Err(NotebookError::NotFound(_)) => {}
            Err(other) => return Err(other),
        }
    }
    if entry.piece.is_some() || entry.cloth.is_some() {
        let own = if newest.is_none() {
            readable_plan(t, project)?
        } else {
            None
        };
        let plan = newest.or(own.as_ref());
        let piece = plan.zip(entry.piece.as_deref()).and_then(|(plan, p)| plan.piece(p));
        let cloth = plan.zip(entry.cloth.as_deref()).and_then(|(plan, c)| plan.cloth(c));
        names.extend(piece.map(|p| p.name.clone()));
        names.extend(cloth.map(|c| c.name.clone()));
    }
    Ok(names)
}

fn step(t: &Transaction<'_>, id: Id, changes: &mut Changes) -> Result<()> {
    let (found, of) = match steps::step(t, id) {
        Ok((of, step)) => {
            let (details, for_whom) = details_and_name(t, of)?;
            (vec![rows::step(&step, &rows::place(&details, &for_whom))], Some(of))
        }
        Err(NotebookError::NotFound(_)) => (Vec::new(), None),
        Err(other) => return Err(other),
    };
    changes.replace(t, "kind = 'step' AND item = ?1", id, &found, of)
}

fn cloth(t: &Transaction<'_>, id: Id, changes: &mut Changes) -> Result<()> {
    let found = match cloths::cloth(t, id) {
        Ok(cloth) => vec![rows::cloth(&cloth, &movements::of_cloth(t, id)?, settings(t)?.unit)],
        Err(NotebookError::NotFound(_)) => Vec::new(),
        Err(other) => return Err(other),
    };
    changes.replace(t, "kind = 'cloth' AND item = ?1", id, &found, None)
}

fn wearer(t: &Transaction<'_>, id: Id, changes: &mut Changes) -> Result<()> {
    let found = match wearers::wearer(t, id) {
        Ok(wearer) => vec![rows::wearer(&wearer, settings(t)?.unit)],
        Err(NotebookError::NotFound(_)) => Vec::new(),
        Err(other) => return Err(other),
    };
    changes.replace(t, "kind = 'wearer' AND item = ?1", id, &found, None)
}

/// What is to be told to the index. It takes rows quickly only in the order of
/// their rowids, so all of them are gathered first.
#[derive(Default)]
struct Changes(Vec<(i64, Told, Found)>);

enum Told {
    Gone,
    New,
}

impl Changes {
    /// Puts `new` in place of the rows that are `which`; those that say the same
    /// as before are left alone.
    fn replace(&mut self, t: &Transaction<'_>, which: &str, id: Id, new: &[Found], project: Option<Id>) -> Result<()> {
        let mut old: Vec<(i64, Found)> = {
            let mut statement = t.prepare_cached(&format!(
                "SELECT id, kind, item, title, body, place FROM search_text WHERE {which} ORDER BY id DESC"
            ))?;
            let rows = statement.query_map([Key(id)], |r| {
                let row = r.get("id")?;
                let kind: String = r.get("kind")?;
                let found = Found {
                    kind: FoundKind::ALL
                        .into_iter()
                        .find(|k| k.word() == kind)
                        .unwrap_or(FoundKind::Entry),
                    second: places::second(row),
                    item: r.get("item")?,
                    title: r.get("title")?,
                    body: r.get("body")?,
                    place: r.get("place")?,
                };
                Ok((row, found))
            })?;
            rows.collect::<rusqlite::Result<_>>()?
        };
        // Parts of one plan stay in its order: each takes the place of the one
        // that stood there before.
        for found in new {
            let at = places::at(found.kind, found.second);
            let before = old.iter().rposition(|(row, _)| at.contains(row)).map(|i| old.remove(i));
            match before {
                Some((_, same)) if same == *found => {}
                Some((row, gone)) => {
                    t.prepare_cached(
                        "UPDATE search_text SET item = ?2, title = ?3, body = ?4, place = ?5 WHERE id = ?1",
                    )?
                    .execute(params![row, found.item, found.title, found.body, found.place])?;
                    self.0.push((row, Told::Gone, gone));
                    self.0.push((row, Told::New, found.clone()));
                }
                None => {
                    let row = places::free(t, found.kind, found.second)?;
                    t.prepare_cached(
                        "INSERT INTO search_text (id, kind, project, item, title, body, place)
                         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
                    )?
                    .execute(params![
                        row,
                        found.kind.word(),
                        project.map(Key),
                        found.item,
                        found.title,
                        found.body,
                        found.place
                    ])?;
                    self.0.push((row, Told::New, found.clone()));
                }
            }
        }
        for (row, gone) in old {
            t.prepare_cached("DELETE FROM search_text WHERE id = ?1")?
                .execute([row])?;
            self.0.push((row, Told::Gone, gone));
        }
        Ok(())
    }

    fn write(mut self, t: &Transaction<'_>) -> Result<()> {
        // Stable: of one row told several times the first goes first.
        self.0.sort_by_key(|(row, _, _)| *row);
        for (row, told, found) in &self.0 {
            let sql = match told {
                Told::Gone => {
                    "INSERT INTO search (search, rowid, title, body, place) VALUES ('delete', ?1, ?2, ?3, ?4)"
                }
                Told::New => "INSERT INTO search (rowid, title, body, place) VALUES (?1, ?2, ?3, ?4)",
            };
            t.prepare_cached(sql)?
                .execute(params![row, found.title, found.body, found.place])?;
        }
        Ok(())
    }
}
