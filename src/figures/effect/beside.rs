//! Several plans beside each other, figure by figure.

use super::{PROBLEM, every, without_repeats};
use crate::figures::{Change, Figures};
use crate::measure::Unit;
use serde::Serialize;
use std::borrow::Cow;
use std::collections::{HashMap, HashSet};

/// Where a plan has no such part.
const NO_FIGURE: &str = "–";

/// A figure that is not the same in all of the plans.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Row {
    pub what: String,
    /// One for each plan, in their order.
    pub cells: Vec<Cell>,
    /// The last plan against the one before it, where there are three and
    /// those two differ.
    pub between: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Cell {
    pub value: String,
    /// Against the first plan, where it differs.
    pub difference: Option<String>,
}

/// Rows of every figure that differs between the first plan and another.
/// What is to be put right is left out: each plan says that by itself.
pub fn beside(plans: &[&Figures]) -> Vec<Row> {
    let plans = told_apart(plans);
    let Some((first, others)) = plans.split_first() else {
        return Vec::new();
    };
    // One unit for all columns: the first plan's.
    let unit = first.unit;
    let against: Vec<Vec<Change>> = others.iter().map(|other| told(first, other, unit)).collect();
    let between = match others {
        [.., one, other] => told(one, other, unit),
        _ => Vec::new(),
    };
    // Rows as `effect` tells them; cells also where a figure is told by another.
    let mut order: Vec<Change> = Vec::new();
    for changes in &against {
        // Rows new to the order stand before the next one that is in it.
        let mut new: Vec<Change> = Vec::new();
        for change in without_repeats(changes.clone()) {
            match order.iter().position(|c| c.what == change.what) {
                Some(at) => {
                    order.splice(at..at, new.drain(..));
                }
                None => new.push(change),
            }
        }
        order.extend(new);
    }
    order
        .iter()
        .map(|sample| {
            let what = &sample.what;
            let start = Cell {
                value: sample.before.clone(),
                difference: None,
            };
            // A plan that tells no change has the first one's figure, or has no
            // such part at all; the other comparison knows which.
            let same = |at: usize| {
                against.len() != 2
                    || between
                        .iter()
                        .any(|c| c.what == *what && *(if at == 0 { &c.before } else { &c.after }) == start.value)
            };
            let cells =
                against
                    .iter()
                    .enumerate()
                    .map(|(at, changes)| match changes.iter().find(|c| c.what == *what) {
                        Some(c) => Cell {
                            value: c.after.clone(),
                            difference: Some(c.difference.clone()),
                        },
                        None if same(at) => start.clone(),
                        None => Cell {
                            value: NO_FIGURE.into(),
                            difference: Some("not to be compared".into()),
                        },
                    });
            let cells: Vec<Cell> = std::iter::once(start.clone()).chain(cells).collect();
            let open = cells.iter().any(|c| c.value == NO_FIGURE);
            let between = between.iter().find(|c| c.what == *what).map(|c| c.difference.clone());
            Row {
                what: what.clone(),
                cells,
                between: between.or(open.then(|| NO_FIGURE.into())),
            }
        })
        .collect()
}

/// Figures by whose names rows can be told apart: a part that is called as
/// another one, in whichever of the plans, gets its id beside the name.
fn told_apart<'a>(plans: &[&'a Figures]) -> Vec<Cow<'a, Figures>> {
    let mut ids: HashMap<&str, HashSet<&str>> = HashMap::new();
    for plan in plans {
        for (name, id) in plan.pieces.iter().map(|p| (&p.name, &p.piece)) {
            ids.entry(name).or_default().insert(id);
        }
        for (name, id) in plan.cloths.iter().map(|c| (&c.name, &c.cloth)) {
            ids.entry(name).or_default().insert(id);
        }
    }
    for plan in plans {
        for (name, id) in plan.closures.iter().map(|c| (&c.name, &c.closure)) {
            ids.entry(name).or_default().insert(id);
        }
    }
    let double: HashSet<&str> = ids
        .into_iter()
        .filter(|(_, ids)| ids.len() > 1)
        .map(|(name, _)| name)
        .collect();
    let rename = |name: &mut String, id: &str| {
        if double.contains(name.as_str()) {
            *name = format!("{name} ({id})");
        }
    };
    plans
        .iter()
        .map(|plan| {
            if double.is_empty() {
                return Cow::Borrowed(*plan);
            }
            let mut plan = (*plan).clone();
            plan.pieces.iter_mut().for_each(|p| rename(&mut p.name, &p.piece));
            plan.cloths.iter_mut().for_each(|c| rename(&mut c.name, &c.cloth));
            plan.quilting
                .pieces
                .iter_mut()
                .for_each(|p| rename(&mut p.name, &p.piece));
            plan.batting.iter_mut().for_each(|b| rename(&mut b.name, &b.cloth));
            plan.closures.iter_mut().for_each(|c| rename(&mut c.name, &c.closure));
            Cow::Owned(plan)
        })
        .collect()
}

fn told(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let mut changes = every(before, after, unit);
    changes.retain(|c| c.what != PROBLEM);
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;
    use crate::measure::INCH;
    use crate::plan::{Face, Plan};

    fn plan(finished: i64, count: u32) -> Plan {
        let mut plan = Plan::from_json(
            r#"{"format":1,
            "cloths":[{"id":"c1","name":"Cream linen","usable_width":"42 in"}],
            "pieces":[{"id":"p1","name":"Sleeve","cut_count":2,"width":"18 in","height":"24 in",
              "face":{"kind":"patchwork","finished":"6 in","arrangement":"all-alike","units":[{"kind":"square","cloths":["c1"]}]}}]}"#,
        )
        .unwrap();
        plan.pieces[0].cut_count = count;
        if let Some(Face::Patchwork(p)) = &mut plan.pieces[0].face {
            p.finished = INCH * finished;
        }
        plan
    }

    #[test]
    fn the_same_figure_stands_in_one_row() {
        let [now, a, b] = [plan(6, 2), plan(4, 2), plan(6, 3)].map(|p| work_out(&p));
        let rows = beside(&[&now, &a, &b]);
        let row = |what: &str| {
            rows.iter()
                .find(|r| r.what == what)
                .unwrap_or_else(|| panic!("{what} in {rows:?}"))
        };
        let values = |what: &str| row(what).cells.iter().map(|c| c.value.as_str()).collect::<Vec<_>>();
        assert_eq!(values("Cream linen patches"), ["24", "60", "36"]);
        assert_eq!(row("Cream linen patches").between.as_deref(), Some("24 fewer patches"));
        // What B leaves as it is stands there as it is, without a difference.
        assert_eq!(values("Sleeve units across and down"), ["3 × 4", "5 × 6", "3 × 4"]);
        assert_eq!(row("Sleeve units across and down").cells[2].difference, None);
        assert_eq!(values("Sleeve panels"), ["2", "2", "3"]);
        let names: Vec<&str> = rows.iter().map(|r| r.what.as_str()).collect();
        let mut once = names.clone();
        once.sort();
        once.dedup();
        assert_eq!(once.len(), names.len(), "{names:?}");
        assert!(beside(&[&now, &now, &now]).is_empty());
        assert!(beside(&[]).is_empty());
    }

    #[test]
    fn parts_of_one_name_keep_rows_of_their_own() {
        let twice = |first: i64, second: i64| {
            let mut two = plan(6, 2);
            two.pieces.push(plan(first, 1).pieces[0].clone());
            two.pieces.push(plan(second, 1).pieces[0].clone());
            two.pieces[1].id = "p2".into();
            two.pieces[2].id = "p3".into();
            work_out(&two)
        };
        // A changes the second sleeve, B the third.
        let rows = beside(&[&twice(6, 6), &twice(4, 6), &twice(6, 4)]);
        let grids: Vec<_> = rows
            .iter()
            .filter(|r| r.what.ends_with("units across and down"))
            .collect();
        let values = |n: usize| grids[n].cells.iter().map(|c| c.value.as_str()).collect::<Vec<_>>();
        assert_eq!(grids[0].what, "Sleeve (p2) units across and down");
        assert_eq!(
            (values(0), values(1)),
            (vec!["3 × 4", "5 × 6", "3 × 4"], vec!["3 × 4", "3 × 4", "5 × 6"])
        );
    }

    #[test]
    fn two_plans_tell_every_change_and_no_other() {
        let [now, a] = [plan(6, 2), plan(4, 2)].map(|p| work_out(&p));
        let rows = beside(&[&now, &a]);
        for change in crate::figures::effect(&now, &a) {
            let row = rows.iter().find(|r| r.what == change.what).expect("a row");
            assert_eq!(
                (&row.cells[0].value, &row.cells[1].value),
                (&change.before, &change.after)
            );
            assert_eq!(row.cells[1].difference.as_ref(), Some(&change.difference));
        }
    }
}
