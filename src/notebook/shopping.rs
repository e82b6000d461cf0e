//! Shopping and the history of cloths, read out of the notebook and taken in.

use super::cloths::{self, check_price};
use super::columns::{At, Key, has_plain_year, now};
use super::movements;
use super::shop::{ticks, write_tick};
use super::{Id, NotebookError, Result, Shopping, Tick};
use crate::measure::Length;
use rusqlite::{Transaction, params};
use std::collections::HashSet;

/// What is in the bin stays behind; so does what undoes a purchase.
pub(super) fn read_out(t: &Transaction<'_>, projects: &[Id]) -> Result<Shopping> {
    let listed = |sql: &str| -> Result<Vec<Id>> {
        let mut statement = t.prepare(sql)?;
        let rows = statement.query_map([], |r| Ok(r.get::<_, Key>(0)?.0))?;
        let all: Vec<Id> = rows.collect::<rusqlite::Result<_>>()?;
        Ok(all.into_iter().filter(|id| projects.contains(id)).collect())
    };
    let mut moved = Vec::new();
    for cloth in cloths::shelf(t)? {
        moved.extend(movements::of_cloth(t, cloth.id)?);
    }
    for m in &mut moved {
        m.project = m.project.filter(|p| projects.contains(p));
        m.change = None;
    }
    moved.sort_by_key(|m| (m.made_at, m.id));
    Ok(Shopping {
        left_out: listed("SELECT project FROM shop_left_out ORDER BY project")?,
        given_back: listed("SELECT project FROM given_back ORDER BY project")?,
        ticks: ticks(t)?,
        movements: moved,
    })
}

pub(super) fn insert(t: &Transaction<'_>, shopping: &Shopping) -> Result<()> {
    for project in &shopping.left_out {
        t.execute("INSERT INTO shop_left_out (project) VALUES (?1)", [Key(*project)])?;
    }
    for project in &shopping.given_back {
        t.execute(
            "INSERT INTO given_back (project, answered_at) VALUES (?1, ?2)",
            params![Key(*project), At(now())],
        )?;
    }
    // What this notebook ticked itself stays.
    let own: HashSet<String> = ticks(t)?.into_iter().map(|tick| tick.key).collect();
    for tick in shopping.ticks.iter().filter(|tick| !own.contains(&tick.key)) {
        write_tick(t, tick)?;
    }
    for moved in &shopping.movements {
        movements::insert(t, moved)?;
    }
    Ok(())
}

/// Longest key of a line of the list, and longest words of it, in bytes.
const LONGEST: usize = 400;

pub(super) fn is_sound_tick(tick: &Tick) -> bool {
    !tick.key.is_empty()
        && tick.key.len() <= LONGEST
        && tick.wanted.len() <= LONGEST
        && has_plain_year(&tick.changed_at)
}

/// As far as the file itself can tell.
pub(super) fn check_shopping_alone(shopping: &Shopping) -> Result<()> {
    let refused = |message: &str| Err(NotebookError::refused("shop", message));
    let mut projects = HashSet::new();
    let mut asked = HashSet::new();
    let mut keys = HashSet::new();
    let mut moved = HashSet::new();
    let twice = !shopping.left_out.iter().all(|id| projects.insert(id))
        || !shopping.given_back.iter().all(|id| asked.insert(id))
        || !shopping.ticks.iter().all(|tick| keys.insert(&tick.key))
        || !shopping.movements.iter().all(|m| moved.insert(m.id));
    if twice {
        return refused("an id or key stands in it twice.");
    }
    if !shopping.ticks.iter().all(is_sound_tick) {
        return refused("a tick names a line of the list by 1 to 400 letters, and a moment.");
    }
    for m in &shopping.movements {
        let length = |l: Length| (Length::ZERO..=Length::MAX).contains(&l);
        if ![m.length, m.owned_before, m.owned_after].into_iter().all(length) {
            return refused("a length is at least 0 and at most 200 m.");
        }
        if !has_plain_year(&m.day) || !has_plain_year(&m.made_at) {
            return refused("a year has more than four digits.");
        }
        check_price(m.price.as_ref())?;
    }
    Ok(())
}
