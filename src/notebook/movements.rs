//! The history of a cloth: what came to it, what was cut from it, what went back.

use super::cloths::{self, keep_and_update};
use super::columns::{At, Day, Json, Key, Units, Word, now};
use super::projects::{details_and_name, live};
use super::{
    ClothUsed, Id, Movement, MovementKind, Notebook, NotebookError, Parts, ProjectState, Result, StockCloth,
    StockRemnant, shelf_changes,
};
use crate::measure::{Area, Length, Money, Round, Unit};
use crate::plan::{Price, limits};
use chrono::{Local, NaiveDate};
use rusqlite::{Row, Transaction, params};

/// Of a movement that was not undone.
const STANDS: &str = "(m.change IS NULL OR NOT EXISTS
    (SELECT 1 FROM shelf_change c WHERE c.id = m.change AND c.undone_at IS NOT NULL))";

impl Notebook {
    /// Newest first.
    pub fn movements(&self, cloth: Id) -> Result<Vec<Movement>> {
        self.read(|t| {
            cloths::cloth(t, cloth)?;
            list(
                t,
                &format!("m.cloth = ?1 AND {STANDS} ORDER BY m.made_at DESC, m.id DESC"),
                cloth,
            )
        })
    }

    /// What a project cut and gave back, the oldest first.
    pub fn movements_of_project(&self, project: Id) -> Result<Vec<Movement>> {
        self.read(|t| of_project(t, project))
    }

    /// Takes what a project cut from its cloths off the shelf and puts what
    /// comes back onto it, all in one. Sent twice, it is done once.
    pub fn use_cloths(&self, change: Id, project: Id, day: NaiveDate, used: &[ClothUsed]) -> Result<()> {
        let used = used.to_vec();
        self.write(move |t| {
            if shelf_changes::is_known(t, change)? {
                return Ok(());
            }
            live(t, project)?;
            shelf_changes::begin(t, change)?;
            let mut before = shelf_changes::Before::default();
            for one in &used {
                take_and_give(t, change, project, day, one, &mut before)?;
            }
            // Once it is finished, this is the answer to what is left.
            if details_and_name(t, project)?.0.state == ProjectState::Finished {
                answer(t, project)?;
                before.answered = Some(project);
            }
            shelf_changes::keep(t, change, &before)
        })
    }

    /// The maker says that nothing of a project's cloth is left.
    pub fn nothing_left(&self, project: Id) -> Result<()> {
        self.write(move |t| {
            live(t, project)?;
            answer(t, project)
        })
    }

    /// Whether a project was asked what of its cloth is left.
    pub fn asked_what_is_left(&self, project: Id) -> Result<bool> {
        self.read(|t| {
            Ok(t.query_row(
                "SELECT EXISTS (SELECT 1 FROM given_back WHERE project = ?1)",
                [Key(project)],
                |r| r.get(0),
            )?)
        })
    }
}

fn answer(t: &Transaction<'_>, project: Id) -> Result<()> {
    t.execute(
        "INSERT INTO given_back (project, answered_at) VALUES (?1, ?2) ON CONFLICT DO NOTHING",
        params![Key(project), At(now())],
    )?;
    Ok(())
}

fn take_and_give(
    t: &Transaction<'_>,
    change: Id,
    project: Id,
    day: NaiveDate,
    used: &ClothUsed,
    undo: &mut shelf_changes::Before,
) -> Result<()> {
    let cuts = used.cut.is_positive() || !used.taken.is_empty();
    if !cuts && used.given_back.is_empty() && !used.complete {
        return Ok(());
    }
    let before = cloths::cloth(t, used.cloth)?;
    if before.version != used.seen {
        return Err(NotebookError::Stale(before.name));
    }
    let mut cut = before.clone();
    take_length(&mut cut, used.cut)?;
    take_parts(&mut cut, &used.taken)?;
    let mut after = cut.clone();
    for remnant in &used.given_back {
        put_remnant(&mut after, remnant.clone())?;
    }
    if after != before {
        after.version = keep_and_update(t, &before, &after)?;
    }
    let movement = |kind, from: &StockCloth, to: &StockCloth| Movement {
        id: Id::now_v7(),
        cloth: before.id,
        kind,
        day,
        made_at: now(),
        project: Some(project),
        length: Length::ZERO,
        price: None,
        owned_before: from.owned,
        owned_after: to.owned,
        parts: Parts::default(),
        complete: false,
        change: Some(change),
    };
    if cuts || used.complete {
        let cut = Movement {
            length: used.cut,
            parts: used.taken.clone(),
            complete: used.complete,
            ..movement(MovementKind::CutFrom, &before, &cut)
        };
        insert(t, &cut)?;
    }
    if !used.given_back.is_empty() {
        let back = Movement {
            parts: Parts {
                remnants: used.given_back.clone(),
                ..Parts::default()
            },
            ..movement(MovementKind::GivenBack, &cut, &after)
        };
        insert(t, &back)?;
    }
    undo.cloths.push((before, after));
    Ok(())
}

fn take_length(cloth: &mut StockCloth, cut: Length) -> Result<()> {
    if cut.is_negative() || cut > cloth.owned {
        return Err(NotebookError::refused(
            "cut",
            format!(
                "{} has {} at hand in one piece. Type at most that, or correct the shelf first.",
                cloth.name,
                cloth.owned.both_cloth(Unit::Inch, Round::Down)
            ),
        ));
    }
    cloth.owned -= cut;
    Ok(())
}

fn take_parts(cloth: &mut StockCloth, parts: &Parts) -> Result<()> {
    let name = cloth.name.clone();
    let gone = |what: &str| {
        NotebookError::refused(
            "cut",
            format!("{what} of {name} are not on the shelf. Untick what is not there."),
        )
    };
    for taken in &parts.remnants {
        let mut left = taken.count;
        for r in cloth
            .remnants
            .iter_mut()
            .filter(|r| (r.width, r.length) == (taken.width, taken.length))
        {
            let some = left.min(r.count);
            r.count -= some;
            left -= some;
        }
        if left > 0 {
            return Err(gone("These remnants"));
        }
    }
    cloth.remnants.retain(|r| r.count > 0);
    for taken in &parts.outlined {
        let mut left = taken.count;
        for o in cloth.outlined.iter_mut().filter(|o| o.outline == taken.outline) {
            let some = left.min(o.count);
            o.count -= some;
            left -= some;
        }
        if left > 0 {
            return Err(gone("These remnants"));
        }
    }
    cloth.outlined.retain(|o| o.count > 0);
    for taken in &parts.ready_cut {
        let mut left = taken.count;
        let same =
            |r: &&mut crate::plan::ReadyCut| (r.shape, r.width, r.height) == (taken.shape, taken.width, taken.height);
        for r in cloth.ready_cut.iter_mut().filter(same) {
            let some = left.min(r.count);
            r.count -= some;
            left -= some;
        }
        if left > 0 {
            return Err(gone("So many ready-cut patches"));
        }
    }
    cloth.ready_cut.retain(|r| r.count > 0);
    Ok(())
}

fn put_remnant(cloth: &mut StockCloth, new: StockRemnant) -> Result<()> {
    let same = |r: &&mut StockRemnant| (r.width, r.length, &r.note) == (new.width, new.length, &new.note);
    if let Some(known) = cloth.remnants.iter_mut().find(same) {
        let count = known.count.saturating_add(new.count);
        if count <= limits::REMNANT_COUNT {
            known.count = count;
            return Ok(());
        }
    }
    if cloth.remnants.len() >= limits::REMNANTS {
        return Err(NotebookError::refused(
            "cut",
            format!(
                "{} has {} kinds of remnants, as many as are kept. Take some off the shelf first.",
                cloth.name,
                limits::REMNANTS
            ),
        ));
    }
    cloth.remnants.push(new);
    // The largest first, as they are cut from.
    cloth
        .remnants
        .sort_by_key(|r| std::cmp::Reverse(Area::of(r.width, r.length)));
    Ok(())
}

/// A new length beside what is at hand. Two lengths are not one: the longer is
/// what is at hand in one piece, the other a remnant of full width.
pub(super) fn put_length(cloth: &mut StockCloth, length: Length) -> Result<()> {
    let (longer, shorter) = (cloth.owned.max(length), cloth.owned.min(length));
    cloth.owned = longer;
    if !shorter.is_positive() {
        return Ok(());
    }
    let remnant = StockRemnant {
        width: cloth.usable_width,
        length: shorter,
        count: 1,
        note: "full width".into(),
    };
    put_remnant(cloth, remnant)
}

/// What the maker changed by hand, noted beside the save.
pub(super) fn correct(t: &Transaction<'_>, before: &StockCloth, after: &StockCloth) -> Result<()> {
    if before.owned == after.owned {
        return Ok(());
    }
    insert(
        t,
        &Movement {
            id: Id::now_v7(),
            cloth: after.id,
            kind: MovementKind::Corrected,
            day: Local::now().date_naive(),
            made_at: now(),
            project: None,
            length: Length::ZERO,
            price: None,
            owned_before: before.owned,
            owned_after: after.owned,
            parts: Parts::default(),
            complete: false,
            change: None,
        },
    )
}

pub(super) fn insert(t: &Transaction<'_>, m: &Movement) -> Result<()> {
    t.execute(
        "INSERT INTO movement (id, cloth, kind, day, made_at, project, length, price, price_per, owned_before, owned_after,
                parts, complete, change)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
        params![
            Key(m.id),
            Key(m.cloth),
            Word(m.kind),
            Day(m.day),
            At(m.made_at),
            m.project.map(Key),
            Units(m.length),
            m.price.as_ref().map(|p| p.amount.as_hundredths()),
            m.price.as_ref().map(|p| Word(p.per)),
            Units(m.owned_before),
            Units(m.owned_after),
            Json(&m.parts),
            m.complete,
            m.change.map(Key),
        ],
    )?;
    Ok(())
}

pub(super) fn of_project(t: &Transaction<'_>, project: Id) -> Result<Vec<Movement>> {
    list(
        t,
        &format!("m.project = ?1 AND {STANDS} ORDER BY m.made_at, m.id"),
        project,
    )
}

pub(super) fn of_cloth(t: &Transaction<'_>, cloth: Id) -> Result<Vec<Movement>> {
    list(t, &format!("m.cloth = ?1 AND {STANDS} ORDER BY m.made_at, m.id"), cloth)
}

fn list(t: &Transaction<'_>, which: &str, id: Id) -> Result<Vec<Movement>> {
    let mut statement = t.prepare_cached(&format!("SELECT m.* FROM movement m WHERE {which}"))?;
    let rows = statement.query_map([Key(id)], movement_of)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn movement_of(row: &Row<'_>) -> rusqlite::Result<Movement> {
    let amount: Option<i64> = row.get("price")?;
    let per = row.get::<_, Option<Word<_>>>("price_per")?;
    Ok(Movement {
        id: row.get::<_, Key>("id")?.0,
        cloth: row.get::<_, Key>("cloth")?.0,
        kind: row.get::<_, Word<_>>("kind")?.0,
        day: row.get::<_, Day>("day")?.0,
        made_at: row.get::<_, At>("made_at")?.0,
        project: row.get::<_, Option<Key>>("project")?.map(|k| k.0),
        length: row.get::<_, Units>("length")?.0,
        price: amount.zip(per).map(|(amount, per)| Price {
            amount: Money::hundredths(amount),
            per: per.0,
        }),
        owned_before: row.get::<_, Units>("owned_before")?.0,
        owned_after: row.get::<_, Units>("owned_after")?.0,
        parts: row.get::<_, Json<_>>("parts")?.0,
        complete: row.get("complete")?,
        change: row.get::<_, Option<Key>>("change")?.map(|k| k.0),
    })
}
