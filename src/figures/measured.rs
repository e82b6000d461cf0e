//! What a wearer's measures say over time: when they are too old to go by, how
//! each has changed, and what newer ones mean for a size table. Today is handed in.

use super::sizing::SizingFigures;
use super::work_out;
use crate::measure::Length;
use crate::plan::{MadeFor, Plan, SizeRow, Sizing};
use chrono::{Months, NaiveDate};

/// One measure on one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measured {
    pub name: String,
    pub value: Length,
}

/// What was measured on one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MeasuredOn {
    pub day: NaiveDate,
    pub values: Vec<Measured>,
}

impl MeasuredOn {
    /// Names are told apart without their case.
    pub fn value(&self, name: &str) -> Option<Length> {
        self.values.iter().find(|m| same(&m.name, name)).map(|m| m.value)
    }
}

fn same(a: &str, b: &str) -> bool {
    a.trim().eq_ignore_ascii_case(b.trim())
}

/// A tape laid round a body is not read finer than this: what differs by less
/// is the same. Common practice.
pub const TAPE: Length = Length::inches_frac(1, 16);

/// Whether two measures differ by more than a tape tells.
pub fn differs(then: Length, now: Length) -> bool {
    (now - then).abs() >= TAPE
}

/// Bodies change: how many whole months old measures are, where they are older
/// than a year, of a child than six months. Tables and chairs do not grow.
pub fn months_too_old(of: MadeFor, taken_on: NaiveDate, today: NaiveDate) -> Option<u32> {
    let limit = match of {
        MadeFor::Child => 6,
        MadeFor::Adult | MadeFor::Animal => 12,
        MadeFor::Household => return None,
    };
    let after = |months: u32| taken_on.checked_add_months(Months::new(months));
    if after(limit)? >= today {
        return None;
    }
    let days = (today - taken_on).num_days();
    // The mean month of the calendar is 30.44 days; the calendar itself decides.
    let near = u32::try_from(days * 100 / 3044).ok()?;
    [near + 1, near, near.saturating_sub(1)]
        .into_iter()
        .find(|months| after(*months).is_some_and(|day| day <= today))
}

/// One measure over the days it was taken, the earliest first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MeasureHistory {
    pub name: String,
    pub taken: Vec<(NaiveDate, Length)>,
}

impl MeasureHistory {
    /// Whether any two of its values differ by more than a tape tells.
    pub fn changed(&self) -> bool {
        let lengths = || self.taken.iter().map(|(_, length)| *length);
        lengths()
            .min()
            .zip(lengths().max())
            .is_some_and(|(least, most)| differs(least, most))
    }
}

/// Every measure that was taken on two days or more, in the order of the newest
/// set. Of two sets of one day the first given counts.
pub fn histories(sets: &[MeasuredOn]) -> Vec<MeasureHistory> {
    let mut sets: Vec<&MeasuredOn> = sets.iter().collect();
    sets.sort_by_key(|set| std::cmp::Reverse(set.day));
    let mut list: Vec<MeasureHistory> = Vec::new();
    for set in &sets {
        for m in &set.values {
            match list.iter_mut().find(|h| same(&h.name, &m.name)) {
                Some(known) if known.taken.iter().any(|(day, _)| *day == set.day) => {}
                Some(known) => known.taken.push((set.day, m.value)),
                None => list.push(MeasureHistory {
                    name: m.name.trim().to_string(),
                    taken: vec![(set.day, m.value)],
                }),
            }
        }
    }
    list.retain(|h| h.taken.len() > 1);
    for history in &mut list {
        history.taken.reverse();
    }
    list
}

/// One measure in two sets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MeasureChange {
    pub name: String,
    pub then: Option<Length>,
    pub now: Option<Length>,
}

impl MeasureChange {
    /// Now less then, where both are known.
    pub fn by(&self) -> Option<Length> {
        self.then.zip(self.now).map(|(then, now)| now - then)
    }

    /// Measured both times, and not the same.
    pub fn differs(&self) -> bool {
        self.then.zip(self.now).is_some_and(|(then, now)| differs(then, now))
    }
}

/// Every measure of either set, those of `then` first.
pub fn measure_changes(then: &MeasuredOn, now: &MeasuredOn) -> Vec<MeasureChange> {
    let before = then.values.iter().map(|m| MeasureChange {
        name: m.name.trim().to_string(),
        then: Some(m.value),
        now: now.value(&m.name),
    });
    let added = now.values.iter().filter(|m| then.value(&m.name).is_none());
    let added = added.map(|m| MeasureChange {
        name: m.name.trim().to_string(),
        then: None,
        now: Some(m.value),
    });
    before.chain(added).collect()
}

/// The size table with the measures of the same names, as they are on that day.
/// A row that was not measured keeps its value.
pub fn with_measures(table: &Sizing, measures: &MeasuredOn) -> Sizing {
    let row = |row: &SizeRow| SizeRow {
        wearer: measures.value(&row.name).or(row.wearer),
        ..row.clone()
    };
    Sizing {
        rows: table.rows.iter().map(row).collect(),
        measured_on: measures.day.to_string(),
        ..table.clone()
    }
}

/// What other measures mean for a plan's size table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refit {
    /// The table with them in it.
    pub table: Sizing,
    /// Sizes and ease by the table as it is, and by the new one.
    pub then: Option<SizingFigures>,
    pub now: Option<SizingFigures>,
    /// Rows with an earlier measure that these do not have.
    pub not_measured: Vec<String>,
}

/// Nothing where the plan has no size table, or has these measures already.
pub fn refit(plan: &Plan, measures: &MeasuredOn) -> Option<Refit> {
    let before = plan.sizing.as_ref()?;
    let table = with_measures(before, measures);
    if table == *before {
        return None;
    }
    let not_measured = before
        .rows
        .iter()
        .filter(|row| row.wearer.is_some() && measures.value(&row.name).is_none());
    Some(Refit {
        then: alone(plan, before),
        now: alone(plan, &table),
        not_measured: not_measured.map(|row| row.name.trim().to_string()).collect(),
        table,
    })
}

/// The figures of a size table by itself: no cloth is laid out for it.
fn alone(plan: &Plan, table: &Sizing) -> Option<SizingFigures> {
    let mut bare = Plan::new(plan.unit);
    bare.sizing = Some(table.clone());
    work_out(&bare).sizing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{CM, INCH, Unit};

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn set(on: &str, values: &[(&str, i64)]) -> MeasuredOn {
        MeasuredOn {
            day: day(on),
            values: values
                .iter()
                .map(|(name, cm)| Measured {
                    name: (*name).into(),
                    value: CM * *cm,
                })
                .collect(),
        }
    }

    #[test]
    fn a_year_is_old_and_half_of_one_for_a_child() {
        let old = |of, taken: &str| months_too_old(of, day(taken), day("2026-11-25"));
        assert_eq!(old(MadeFor::Adult, "2025-11-25"), None, "a year to the day");
        assert_eq!(old(MadeFor::Adult, "2025-11-24"), Some(12));
        assert_eq!(old(MadeFor::Animal, "2024-11-24"), Some(24));
        assert_eq!(old(MadeFor::Animal, "2024-11-26"), Some(23));
        assert_eq!(old(MadeFor::Child, "2026-05-25"), None);
        assert_eq!(old(MadeFor::Child, "2026-05-24"), Some(6));
        assert_eq!(old(MadeFor::Household, "1990-01-01"), None);
        assert_eq!(old(MadeFor::Child, "2027-01-01"), None, "a day to come");
        // The last day of August has no counterpart in February.
        let left = months_too_old(MadeFor::Child, day("2025-08-31"), day("2026-03-01"));
        assert_eq!(left, Some(6));
        for odd in [NaiveDate::MIN, NaiveDate::MAX] {
            let _ = months_too_old(MadeFor::Adult, odd, day("2026-11-25"));
            let _ = months_too_old(MadeFor::Adult, day("2026-11-25"), odd);
        }
    }

    #[test]
    fn a_history_needs_two_days() {
        let sets = [
            set("2026-01-01", &[("waist girth", 70), ("once", 1)]),
            set("2025-01-01", &[("Waist girth", 68), ("bust girth", 90)]),
            set("2026-01-01", &[("waist girth", 99)]),
            set("2024-01-01", &[("waist girth ", 66), ("bust girth", 89)]),
        ];
        let found = histories(&sets);
        let names: Vec<(&str, usize)> = found.iter().map(|h| (h.name.as_str(), h.taken.len())).collect();
        assert_eq!(names, [("waist girth", 3), ("bust girth", 2)]);
        assert_eq!(found[0].taken[0], (day("2024-01-01"), CM * 66));
        assert_eq!(found[0].taken[2], (day("2026-01-01"), CM * 70));
        assert!(histories(&sets[..1]).is_empty());
        assert!(found[0].changed() && found[1].changed());
        let still = MeasureHistory {
            name: "height".into(),
            taken: vec![
                (day("2025-01-01"), CM * 168),
                (day("2026-01-01"), CM * 168 + Length::from_units(500)),
            ],
        };
        assert!(!still.changed(), "less than a tape tells");
    }

    #[test]
    fn every_measure_of_either_set_is_compared() {
        let then = set("2025-01-01", &[("waist girth", 70), ("neck girth", 36)]);
        let now = set("2026-01-01", &[("waist girth", 69), ("hip girth", 98)]);
        let told: Vec<(String, Option<Length>)> = measure_changes(&then, &now)
            .iter()
            .map(|c| (c.name.clone(), c.by()))
            .collect();
        assert_eq!(
            told,
            [
                ("waist girth".into(), Some(-CM)),
                ("neck girth".into(), None),
                ("hip girth".into(), None)
            ]
        );
    }

    #[test]
    fn newer_measures_change_size_and_ease_and_keep_what_was_not_taken() {
        let row = |name: &str, wearer: i64| SizeRow {
            name: name.into(),
            body: [32, 34, 36].map(|n| INCH * n).to_vec(),
            garment: [36, 38, 40].map(|n| INCH * n).to_vec(),
            wearer: Some(INCH * wearer),
            ease: None,
        };
        let mut plan = Plan::new(Unit::Inch);
        let newest = MeasuredOn {
            day: day("2026-01-01"),
            values: vec![Measured {
                name: "Bust girth".into(),
                value: INCH * 36,
            }],
        };
        assert_eq!(refit(&plan, &newest), None);
        plan.sizing = Some(Sizing {
            sizes: ["8", "10", "12"].map(String::from).to_vec(),
            rows: vec![row("bust girth", 32), row("hip girth", 34)],
            measured_on: "2024-01-01".into(),
            chosen: String::new(),
        });
        let refit = super::refit(&plan, &newest).unwrap();
        let (then, now) = (refit.then.unwrap(), refit.now.unwrap());
        assert_eq!((then.taken, now.taken), (Some(0), Some(2)));
        assert_eq!(now.rows[0].ease[0], Length::ZERO, "size 8 would not give any ease");
        assert_eq!(refit.not_measured, ["hip girth"]);
        assert_eq!(refit.table.rows[1].wearer, Some(INCH * 34));
        assert_eq!(refit.table.measured_on, "2026-01-01");
        plan.sizing = Some(refit.table);
        assert_eq!(super::refit(&plan, &newest), None, "taken already");
    }
}
