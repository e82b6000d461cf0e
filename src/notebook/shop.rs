//! The shop list: which projects are shopped for, what is ticked, and what is
//! bought with it.

use super::cloths::{self, check_price, insert_cloth, keep_and_update};
use super::columns::{At, Key, now};
use super::movements::{self, put_length};
use super::plans::{current, next};
use super::projects::details_and_name;
use super::shopping::is_sound_tick;
use super::{
    BoughtCloth, Id, Movement, MovementKind, Notebook, NotebookError, Parts, ProjectState, Purchase, Result, Revision,
    StockCloth, StockRemnant, Tick, shelf_changes,
};
use crate::figures::shopping::{after_wash, at_hand, same_cloth};
use crate::measure::Length;
use crate::plan::{Cloth, Edit, Plan};
use rusqlite::{Row, Transaction, params};

/// An open project, as it may be shopped for.
#[derive(Clone, Debug)]
pub struct ShopProject {
    pub id: Id,
    pub title: String,
    pub plan: Plan,
    pub chosen: bool,
    /// Cloths of the plan everything is cut from, and how much that was.
    pub cut: Vec<(String, Length)>,
}

impl Notebook {
    /// Open projects, the one changed last first.
    pub fn shop_projects(&self) -> Result<Vec<ShopProject>> {
        self.read(shop_projects)
    }

    /// Shops for these open projects and no others.
    pub fn choose_shop_projects(&self, chosen: &[Id]) -> Result<()> {
        let chosen = chosen.to_vec();
        self.write(move |t| {
            let open = open_projects(t)?;
            t.execute("DELETE FROM shop_left_out", [])?;
            for (id, _) in open.into_iter().filter(|(id, _)| !chosen.contains(id)) {
                t.execute("INSERT INTO shop_left_out (project) VALUES (?1)", [Key(id)])?;
            }
            Ok(())
        })
    }

    pub fn ticks(&self) -> Result<Vec<Tick>> {
        self.read(ticks)
    }

    /// Keeps a tick, or that there is none. What was said later on any device
    /// stays, so a tick may arrive late or twice.
    pub fn tick(&self, tick: &Tick) -> Result<()> {
        let mut tick = tick.clone();
        self.write(move |t| {
            if !is_sound_tick(&tick) {
                return Err(NotebookError::refused("key", "This line is not on the shop list."));
            }
            // A clock that is ahead must not outlast every later word.
            tick.changed_at = tick.changed_at.min(now());
            let known = ticks(t)?.into_iter().find(|k| k.key == tick.key);
            if known.is_some_and(|k| k.changed_at >= tick.changed_at) {
                return Ok(());
            }
            write_tick(t, &tick)
        })
    }

    /// What is bought becomes cloth on the shelf, and every plan on the list
    /// that wants it sees it: all in one. Sent twice, it is bought once.
    pub fn buy(&self, purchase: &Purchase) -> Result<()> {
        let purchase = purchase.clone();
        self.write(move |t| {
            if shelf_changes::is_known(t, purchase.id)? {
                return Ok(());
            }
            shelf_changes::begin(t, purchase.id)?;
            let mut before = shelf_changes::Before::default();
            let known = ticks(t)?;
            let mut tick = |key: &str, wanted: Option<&str>| -> Result<()> {
                let old = known.iter().find(|k| k.key == key);
                let old = old.cloned().unwrap_or_else(|| Tick {
                    key: key.into(),
                    wanted: String::new(),
                    ticked: false,
                    changed_at: now(),
                    bought: false,
                });
                before.ticks.push(old.clone());
                let new = Tick {
                    wanted: wanted.map_or(old.wanted, String::from),
                    ticked: wanted.is_some(),
                    changed_at: now(),
                    bought: wanted.is_some(),
                    ..old
                };
                write_tick(t, &new)
            };
            for (key, wanted) in &purchase.things {
                tick(key, Some(wanted))?;
            }
            for cloth in &purchase.cloths {
                tick(&cloth.key, None)?;
            }
            for cloth in &purchase.cloths {
                check_price(cloth.price.as_ref())?;
                buy_cloth(t, &purchase, cloth, &mut before)?;
            }
            shelf_changes::keep(t, purchase.id, &before)
        })
    }
}

fn open_projects(t: &Transaction<'_>) -> Result<Vec<(Id, bool)>> {
    let mut statement = t.prepare_cached(
        "SELECT p.id, NOT EXISTS (SELECT 1 FROM shop_left_out o WHERE o.project = p.id) FROM project p
         WHERE p.binned_at IS NULL AND p.state <> 'finished' ORDER BY p.changed_at DESC, p.id DESC",
    )?;
    let rows = statement.query_map([], |r| Ok((r.get::<_, Key>(0)?.0, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn shop_projects(t: &Transaction<'_>) -> Result<Vec<ShopProject>> {
    let mut found = Vec::new();
    for (id, chosen) in open_projects(t)? {
        let (details, _) = details_and_name(t, id)?;
        debug_assert!(details.state != ProjectState::Finished);
        let Revision { plan, .. } = current(t, id)?;
        let moved = movements::of_project(t, id)?;
        let cut = plan.cloths.iter().filter_map(|c| {
            let stock = c.stock.as_ref()?;
            let of = || {
                moved
                    .iter()
                    .filter(|m| m.kind == MovementKind::CutFrom && m.cloth.to_string() == *stock)
            };
            let length = of().map(|m| m.length).fold(Length::ZERO, |a, b| a + b);
            of().any(|m| m.complete).then(|| (c.id.clone(), length))
        });
        found.push(ShopProject {
            id,
            title: details.title,
            cut: cut.collect(),
            plan,
            chosen,
        });
    }
    Ok(found)
}

fn buy_cloth(
    t: &Transaction<'_>,
    purchase: &Purchase,
    bought: &BoughtCloth,
    undo: &mut shelf_changes::Before,
) -> Result<()> {
    let projects = shop_projects(t)?;
    let wanting: Vec<(&ShopProject, &Cloth)> = projects
        .iter()
        .filter(|p| p.chosen)
        .flat_map(|p| p.plan.cloths.iter().map(move |c| (p, c)))
        .filter(|(p, c)| same_cloth(c) == bought.key && p.cut.iter().all(|(id, _)| *id != c.id))
        .collect();
    let described: Vec<&Cloth> = wanting.iter().map(|(_, c)| *c).collect();
    let Some(described) = at_hand(&described, &[]) else {
        return Err(NotebookError::refused(
            "cloths",
            format!(
                "No project on the list wants {} any more. Take its tick out, or add it to the shelf as a cloth.",
                bought.name
            ),
        ));
    };
    let on_shelf = match described.stock.as_ref().and_then(|id| Id::try_parse(id).ok()) {
        Some(id) => on_shelf(t, id, undo)?,
        None => None,
    };
    let shrinkage = on_shelf.as_ref().map_or(described.shrinkage, |c| c.shrinkage);
    let counted = after_wash(bought.length, shrinkage);
    let owned_before = on_shelf.as_ref().map_or(Length::ZERO, |c| c.owned);
    let shelved = match on_shelf {
        // Of the very width: it lies beside what is there.
        Some(before) if before.usable_width == bought.width => {
            let mut after = before.clone();
            put_length(&mut after, counted)?;
            after.price = bought.price.clone().or(after.price);
            after.version = keep_and_update(t, &before, &after)?;
            undo.cloths.push((before, after.clone()));
            after
        }
        other => {
            let mut new = new_cloth(other.as_ref(), described, bought);
            put_length(&mut new, counted)?;
            insert_cloth(t, &new)?;
            undo.new.push(new.clone());
            new
        }
    };
    let moved = Movement {
        id: Id::now_v7(),
        cloth: shelved.id,
        kind: MovementKind::Bought,
        day: purchase.day,
        made_at: now(),
        project: None,
        length: bought.length,
        price: bought.price.clone(),
        owned_before: if undo.new.iter().any(|new| new.id == shelved.id) {
            Length::ZERO
        } else {
            owned_before
        },
        owned_after: shelved.owned,
        parts: Parts::default(),
        complete: false,
        change: Some(purchase.id),
    };
    movements::insert(t, &moved)?;
    for (project, cloth) in wanting {
        let seen = shelved.for_plan(cloth.id.clone());
        let sees = Cloth {
            usable_width: seen.usable_width,
            owned: seen.owned,
            remnants: seen.remnants,
            outlined: seen.outlined,
            ready_cut: seen.ready_cut,
            price: seen.price.or_else(|| cloth.price.clone()),
            stock: seen.stock,
            ..cloth.clone()
        };
        let revision = current(t, project.id)?;
        let plan = match Edit::Cloth(sees.clone()).apply(&revision.plan, &revision.plan) {
            Ok(plan) => plan,
            Err(clash) => {
                return Err(NotebookError::Clash {
                    clash,
                    current: Box::new(revision),
                });
            }
        };
        if plan != revision.plan {
            next(t, project.id, &revision, format!("{} bought", cloth.name), plan)?;
            undo.plans.push((project.id, cloth.clone(), sees));
        }
    }
    Ok(())
}

/// The cloth more was bought of. From the bin it comes back: a second one made
/// from the plan's word would have its remnants too, and both count once it is restored.
fn on_shelf(t: &Transaction<'_>, id: Id, undo: &mut shelf_changes::Before) -> Result<Option<StockCloth>> {
    match cloths::cloth(t, id) {
        Ok(cloth) => return Ok(Some(cloth)),
        Err(NotebookError::NotFound(_)) => {}
        Err(other) => return Err(other),
    }
    match cloths::unbin(t, id) {
        Ok(()) => undo.unbinned.push(id),
        Err(NotebookError::NotFound(_)) => return Ok(None),
        Err(other) => return Err(other),
    }
    Ok(Some(cloths::cloth(t, id)?))
}

/// As the shelf or the plan describes it, of the width that was bought. What a
/// plan counted at hand comes along, a length of another width as a remnant.
fn new_cloth(on_shelf: Option<&StockCloth>, described: &Cloth, bought: &BoughtCloth) -> StockCloth {
    let mut new = match on_shelf {
        // That cloth keeps what it has.
        Some(cloth) => StockCloth {
            owned: Length::ZERO,
            remnants: Vec::new(),
            outlined: Vec::new(),
            ready_cut: Vec::new(),
            ..cloth.clone()
        },
        None => StockCloth::of_plan(bought.new, described),
    };
    new.id = bought.new;
    new.version = 1;
    if new.usable_width != bought.width && new.owned.is_positive() {
        new.remnants.push(StockRemnant {
            width: new.usable_width,
            length: new.owned,
            count: 1,
            note: "full width".into(),
        });
        new.owned = Length::ZERO;
    }
    new.usable_width = bought.width;
    new.price = bought.price.clone().or(new.price);
    new
}

pub(super) fn write_tick(t: &Transaction<'_>, tick: &Tick) -> Result<()> {
    t.execute(
        "INSERT INTO shop_tick (key, wanted, ticked, changed_at, bought) VALUES (?1, ?2, ?3, ?4, ?5)
         ON CONFLICT (key) DO UPDATE SET wanted = excluded.wanted, ticked = excluded.ticked,
            changed_at = excluded.changed_at, bought = excluded.bought",
        params![tick.key, tick.wanted, tick.ticked, At(tick.changed_at), tick.bought],
    )?;
    Ok(())
}

pub(super) fn ticks(t: &Transaction<'_>) -> Result<Vec<Tick>> {
    let mut statement = t.prepare_cached("SELECT * FROM shop_tick ORDER BY key")?;
    let tick = |row: &Row<'_>| {
        Ok(Tick {
            key: row.get("key")?,
            wanted: row.get("wanted")?,
            ticked: row.get("ticked")?,
            changed_at: row.get::<_, At>("changed_at")?.0,
            bought: row.get("bought")?,
        })
    };
    let rows = statement.query_map([], tick)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}
