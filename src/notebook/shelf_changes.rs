//! Purchases and cuts change several things at once; undoing one takes all of
//! it back, or nothing where something was changed since.

use super::cloths::{self, keep_and_update};
use super::columns::{At, Json, Key, now};
use super::plans::{current, next};
use super::shop::write_tick;
use super::{Id, Notebook, NotebookError, Result, StockCloth, Tick};
use crate::plan::{Cloth, Edit};
use rusqlite::{OptionalExtension, Transaction, params};
use serde::{Deserialize, Serialize};

/// What was there before a change.
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Before {
    /// Cloths of the shelf before and after.
    pub cloths: Vec<(StockCloth, StockCloth)>,
    /// Cloths the change put on the shelf.
    pub new: Vec<StockCloth>,
    /// Cloths the change took out of the bin.
    #[serde(default)]
    pub unbinned: Vec<Id>,
    /// Of plans: the project, the cloth before, and what it became.
    pub plans: Vec<(Id, Cloth, Cloth)>,
    pub ticks: Vec<Tick>,
    /// The project that was thereby asked what is left.
    pub answered: Option<Id>,
}

impl Notebook {
    /// Takes a purchase or a cut back. Twice is once. Refused with a sentence
    /// where what it changed was changed again since.
    pub fn undo_shelf_change(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let row = t
                .query_row(
                    "SELECT before, undone_at FROM shelf_change WHERE id = ?1",
                    [Key(id)],
                    |r| Ok((r.get::<_, Json<Before>>(0)?.0, r.get::<_, Option<At>>(1)?)),
                )
                .optional()?;
            let (before, undone) = row.ok_or(NotebookError::NotFound("purchase or cut"))?;
            if undone.is_some() {
                return Ok(());
            }
            take_back(t, id, &before)
        })
    }
}

fn take_back(t: &Transaction<'_>, id: Id, before: &Before) -> Result<()> {
    let changed = |what: &str| {
        NotebookError::refused(
            "undo",
            format!("{what} was changed since, so this cannot be undone in one step. Correct it by hand."),
        )
    };
    for (cloth, became) in &before.cloths {
        let now = match cloths::cloth(t, cloth.id) {
            Ok(now) => now,
            Err(NotebookError::NotFound(_)) => return Err(changed(&cloth.name)),
            Err(other) => return Err(other),
        };
        if !is_as(&now, became) {
            return Err(changed(&cloth.name));
        }
        if !is_as(&now, cloth) {
            keep_and_update(t, &now, cloth)?;
        }
    }
    for came in &before.new {
        match cloths::cloth(t, came.id) {
            Ok(now) if !is_as(&now, came) => return Err(changed(&now.name)),
            Ok(_) => cloths::bin(t, came.id)?,
            // In the bin already.
            Err(NotebookError::NotFound(_)) => {}
            Err(other) => return Err(other),
        }
    }
    for cloth in &before.unbinned {
        cloths::bin(t, *cloth)?;
    }
    for (project, cloth, became) in &before.plans {
        let revision = current(t, *project)?;
        // Taken out of the plan since: nothing to take back there.
        let Some(now) = revision.plan.cloth(&cloth.id) else {
            continue;
        };
        if now != became {
            return Err(changed(&format!("{} in a plan", cloth.name)));
        }
        let plan = Edit::Cloth(cloth.clone())
            .apply(&revision.plan, &revision.plan)
            .map_err(|_| changed(&cloth.name))?;
        next(
            t,
            *project,
            &revision,
            format!("{} not bought after all", cloth.name),
            plan,
        )?;
    }
    for tick in &before.ticks {
        write_tick(
            t,
            &Tick {
                changed_at: now(),
                ..tick.clone()
            },
        )?;
    }
    if let Some(project) = before.answered {
        t.execute("DELETE FROM given_back WHERE project = ?1", [Key(project)])?;
    }
    t.execute(
        "UPDATE shelf_change SET undone_at = ?2 WHERE id = ?1",
        params![Key(id), At(now())],
    )?;
    Ok(())
}

/// The same but for its version: what was changed and changed back is as it was.
fn is_as(now: &StockCloth, then: &StockCloth) -> bool {
    *now == StockCloth {
        version: now.version,
        ..then.clone()
    }
}

pub(super) fn is_known(t: &Transaction<'_>, id: Id) -> Result<bool> {
    Ok(t.query_row(
        "SELECT EXISTS (SELECT 1 FROM shelf_change WHERE id = ?1)",
        [Key(id)],
        |r| r.get(0),
    )?)
}

/// The row comes first, because movements name it.
pub(super) fn begin(t: &Transaction<'_>, id: Id) -> Result<()> {
    t.execute(
        "INSERT INTO shelf_change (id, made_at, before) VALUES (?1, ?2, ?3)",
        params![Key(id), At(now()), Json(&Before::default())],
    )?;
    Ok(())
}

pub(super) fn keep(t: &Transaction<'_>, id: Id, before: &Before) -> Result<()> {
    t.execute(
        "UPDATE shelf_change SET before = ?2 WHERE id = ?1",
        params![Key(id), Json(before)],
    )?;
    Ok(())
}
