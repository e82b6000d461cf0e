//! Rows of a list in a form, as remnants are typed, put together after both
//! changed the list. A row has no name of its own: here it is known by its
//! number, which was that of the row it was filled from; in what was saved
//! meanwhile by what is in it, for rows that were taken out moved the others up.

use crate::measure::{Length, Unit};
use crate::web::form::Typed;
use std::collections::BTreeMap;

/// A list in a form: fields `PREFIX…_0`, `PREFIX…_1`.
pub struct List {
    pub prefix: &'static str,
    /// As its rows are called on the page: "Remnant".
    pub name: &'static str,
    /// More rows than these are not read.
    pub most: usize,
    /// Fields an empty row may have: a count, a choice.
    pub aside: &'static [&'static str],
}

/// What a row holds, by field; nothing empty.
type Row = BTreeMap<String, String>;
/// As it is read: `10` and `10 in` are one length.
type Meant = BTreeMap<String, Result<Length, String>>;

/// A row both changed, each another way, or one of them took out.
#[derive(Debug, PartialEq, Eq)]
pub struct RowClash {
    /// Its number in the list as it was put together.
    pub at: usize,
    pub theirs: String,
    pub mine: String,
}

pub struct Merged {
    pub fields: Vec<(String, String)>,
    pub clashes: Vec<RowClash>,
}

impl List {
    pub fn has(&self, field: &str) -> bool {
        self.split(field).is_some()
    }

    /// A field's name within the row, and the row's number.
    fn split<'a>(&self, field: &'a str) -> Option<(&'a str, usize)> {
        let (name, number) = field.strip_prefix(self.prefix)?.rsplit_once('_')?;
        Some((name, number.parse().ok()?))
    }

    /// By number, those that hold nothing left out.
    fn rows(&self, typed: &Typed) -> BTreeMap<usize, Row> {
        let mut rows: BTreeMap<usize, Row> = BTreeMap::new();
        for (field, value) in &typed.0 {
            if let Some((name, number)) = self.split(field).filter(|_| !value.trim().is_empty()) {
                rows.entry(number).or_default().insert(name.into(), value.trim().into());
            }
        }
        rows.retain(|_, row| row.keys().any(|name| !self.aside.contains(&name.as_str())));
        rows
    }

    fn meant(&self, row: &Row, unit: Unit) -> Meant {
        let mut meant: Meant = row
            .iter()
            .map(|(name, value)| {
                let words = matches!(name.as_str(), "note" | "shape" | "by");
                let length = Length::parse(value, unit).ok().filter(|_| !words);
                (name.clone(), length.ok_or_else(|| value.clone()))
            })
            .collect();
        // An empty count is read as one.
        meant
            .entry("count".into())
            .or_insert_with(|| Length::parse("1", unit).map_err(|_| String::new()));
        meant
    }

    /// The rows as both meant them; nothing where they would be too many.
    pub fn together(&self, before: &Typed, theirs: &Typed, mine: &Typed, unit: Unit) -> Option<Merged> {
        let was: Vec<(usize, Row)> = self.rows(before).into_iter().collect();
        let saved: Vec<Row> = self.rows(theirs).into_values().collect();
        let mut here = self.rows(mine);
        let meant = |row: &Row| self.meant(row, unit);
        let was_meant: Vec<Meant> = was.iter().map(|(_, row)| meant(row)).collect();
        let saved_meant: Vec<Meant> = saved.iter().map(meant).collect();
        let became = followed(&was_meant, &saved_meant, self.aside);

        let mut rows: Vec<Row> = Vec::new();
        let mut clashes = Vec::new();
        for (i, (number, row)) in was.iter().enumerate() {
            let theirs = became[i].map(|at| &saved[at]);
            let mine = here.remove(number);
            let is = |other: Option<&Row>, than: Option<&Row>| other.map(meant) == than.map(meant);
            if is(mine.as_ref(), Some(row)) || is(mine.as_ref(), theirs) {
                rows.extend(theirs.cloned());
            } else if is(theirs, Some(row)) {
                rows.extend(mine);
            } else {
                clashes.push(RowClash {
                    at: rows.len(),
                    theirs: told(theirs),
                    mine: told(mine.as_ref()),
                });
                // An empty row stands where it was taken out here.
                rows.push(mine.unwrap_or_default());
            }
        }
        let added: Vec<usize> = (0..saved.len()).filter(|at| !became.contains(&Some(*at))).collect();
        rows.extend(added.iter().map(|at| saved[*at].clone()));
        // One that was added here and is there already is this form, sent a second time.
        let mut known: Vec<&Meant> = added.iter().map(|at| &saved_meant[*at]).collect();
        for row in here.into_values() {
            match known.iter().position(|k| **k == meant(&row)) {
                Some(at) => drop(known.remove(at)),
                None => rows.push(row),
            }
        }
        if rows.len() > self.most {
            return None;
        }
        let fields = rows.into_iter().enumerate().flat_map(|(number, row)| {
            row.into_iter()
                .map(move |(name, value)| (format!("{}{name}_{number}", self.prefix), value))
        });
        Some(Merged {
            fields: fields.collect(),
            clashes,
        })
    }
}

fn told(row: Option<&Row>) -> String {
    match row {
        None => "taken out".into(),
        Some(row) => {
            let parts: Vec<String> = row.iter().map(|(name, value)| format!("{name} {value}")).collect();
            parts.join(", ")
        }
    }
}

/// For each row as it was, where it is now: those that stayed as they were, in
/// their order; of what is between two of them, what is most alike.
fn followed(was: &[Meant], now: &[Meant], aside: &[&str]) -> Vec<Option<usize>> {
    let mut became = vec![None; was.len()];
    // The longest run of rows both have, counted from the end.
    let mut longest = vec![vec![0usize; now.len() + 1]; was.len() + 1];
    for i in (0..was.len()).rev() {
        for j in (0..now.len()).rev() {
            longest[i][j] = if was[i] == now[j] {
                longest[i + 1][j + 1] + 1
            } else {
                longest[i + 1][j].max(longest[i][j + 1])
            };
        }
    }
    let (mut i, mut j) = (0, 0);
    let (mut from_i, mut from_j) = (0, 0);
    while i < was.len() && j < now.len() {
        if was[i] == now[j] {
            most_alike(was, now, from_i..i, from_j..j, aside, &mut became);
            became[i] = Some(j);
            (i, j) = (i + 1, j + 1);
            (from_i, from_j) = (i, j);
        } else if longest[i + 1][j] >= longest[i][j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    most_alike(was, now, from_i..was.len(), from_j..now.len(), aside, &mut became);
    became
}

/// Changed rows are those that share most; what shares nothing but a count or a
/// choice was taken out, or is new.
fn most_alike(
    was: &[Meant],
    now: &[Meant],
    before: std::ops::Range<usize>,
    after: std::ops::Range<usize>,
    aside: &[&str],
    became: &mut [Option<usize>],
) {
    let alike = |a: &Meant, b: &Meant| {
        let shared = |(name, value): &(&String, &Result<Length, String>)| b.get(*name) == Some(value);
        a.iter()
            .filter(shared)
            .filter(|(name, _)| !aside.contains(&name.as_str()))
            .count()
    };
    let mut pairs: Vec<(usize, usize, usize)> = before
        .flat_map(|i| after.clone().map(move |j| (i, j)))
        .map(|(i, j)| (alike(&was[i], &now[j]), i, j))
        .filter(|(alike, ..)| *alike > 0)
        .collect();
    pairs.sort_by_key(|(alike, i, j)| (std::cmp::Reverse(*alike), *i, *j));
    for (_, i, j) in pairs {
        if became[i].is_none() && !became.contains(&Some(j)) {
            became[i] = Some(j);
        }
    }
}

#[cfg(test)]
#[path = "../../../tests/support/dice.rs"]
mod dice;

#[cfg(test)]
mod tests {
    use super::*;

    const REMNANTS: List = List {
        prefix: "rem_",
        name: "Remnant",
        most: 6,
        aside: &["count"],
    };

    /// Rows of "across x along", an empty text an empty row.
    fn form(rows: &[&str]) -> Typed {
        let mut typed = Typed::default();
        for (n, row) in rows.iter().enumerate() {
            let (across, along) = row.split_once('x').unwrap_or(("", ""));
            typed.set(&format!("rem_width_{n}"), across);
            typed.set(&format!("rem_length_{n}"), along);
            typed.set(&format!("rem_count_{n}"), if row.is_empty() { "" } else { "1" });
        }
        typed
    }

    fn shown(merged: &Merged) -> Vec<String> {
        let typed = Typed(merged.fields.clone());
        let rows = REMNANTS.rows(&typed).into_values();
        rows.map(|r| format!("{}x{}", r["width"], r["length"])).collect()
    }

    /// (before, saved meanwhile, here) to (both, clashes)
    fn both(before: &[&str], theirs: &[&str], mine: &[&str]) -> (Vec<String>, usize) {
        let merged = REMNANTS.together(&form(before), &form(theirs), &form(mine), Unit::Inch);
        let merged = merged.expect("few enough");
        (shown(&merged), merged.clashes.len())
    }

    fn rows(list: &[&str]) -> Vec<String> {
        list.iter().map(|s| s.to_string()).collect()
    }

    #[test]
    fn a_row_added_on_each_device_stands() {
        let (list, clashes) = both(&["10x20"], &["10x20", "5x6"], &["10x20", "7x8"]);
        assert_eq!((list, clashes), (rows(&["10x20", "5x6", "7x8"]), 0));
        let (list, clashes) = both(&[], &["5x6"], &["7x8"]);
        assert_eq!((list, clashes), (rows(&["5x6", "7x8"]), 0));
    }

    #[test]
    fn what_one_of_them_changed_or_took_out_is_so() {
        // There the first was taken out, which moved the second up; here the second was changed.
        let (list, clashes) = both(&["10x20", "5x6"], &["5x6"], &["10x20", "5x7"]);
        assert_eq!((list, clashes), (rows(&["5x7"]), 0));
        let (list, clashes) = both(
            &["10x20", "5x6", "3x3"],
            &["10x20", "5x6 1/2", "3x3"],
            &["", "5x6", "3x4"],
        );
        assert_eq!((list, clashes), (rows(&["5x6 1/2", "3x4"]), 0));
        let (list, clashes) = both(&["10x20"], &["10x20"], &[""]);
        assert_eq!((list, clashes), (rows(&[]), 0));
    }

    #[test]
    fn a_row_both_changed_is_shown_both() {
        let typed = [
            form(&["10x20", "5x6"]),
            form(&["10x21", "5x6"]),
            form(&["10x22", "5x6"]),
        ];
        let merged = REMNANTS
            .together(&typed[0], &typed[1], &typed[2], Unit::Inch)
            .expect("few enough");
        assert_eq!(shown(&merged), rows(&["10x22", "5x6"]));
        let clash = &merged.clashes[0];
        assert_eq!(clash.at, 0);
        assert!(
            clash.theirs.contains("length 21") && clash.mine.contains("length 22"),
            "{clash:?}"
        );
        // Taken out on one, changed on the other: either way it is asked.
        let (list, clashes) = both(&["10x20", "5x6"], &["5x6"], &["10x21", "5x6"]);
        assert_eq!((list, clashes), (rows(&["10x21", "5x6"]), 1));
        let (list, clashes) = both(&["10x20", "5x6"], &["10x21", "5x6"], &["", "5x6"]);
        assert_eq!((list, clashes), (rows(&["5x6"]), 1));
    }

    /// A remnant that is not there would be cloth that runs short.
    #[test]
    fn sent_a_second_time_it_adds_nothing() {
        let (list, clashes) = both(
            &["10 in x20 in"],
            &["10 in x20 in", "5 in x6 in", "9 in x9 in"],
            &["10 in x20 in", "5x6"],
        );
        assert_eq!((list.len(), clashes), (3, 0), "{list:?}");
        let (list, clashes) = both(&["10 in x20 in"], &["11 in x20 in"], &["11x20"]);
        assert_eq!((list.len(), clashes), (1, 0), "{list:?}");
    }

    #[test]
    fn too_many_rows_are_not_left_out_in_silence() {
        let full = ["1x1", "1x2", "1x3", "1x4", "1x5"];
        let typed = |more: &str| form(&[&full[..], &[more]].concat());
        assert!(
            REMNANTS
                .together(&form(&full), &typed("7x7"), &typed("8x8"), Unit::Inch)
                .is_none()
        );
    }

    /// Whatever two devices do to a list, each row as it was is there once, was
    /// changed or taken out by one of them, or is asked about; every new row is there.
    #[test]
    fn no_row_is_lost_or_doubled() {
        const MANY: List = List { most: 99, ..REMNANTS };
        let mut dice = super::dice::Dice(20_261_129);
        let mut next = |below: u64| dice.below(below);
        for round in 0..4_000 {
            let before: Vec<String> = (0..next(5)).map(|n| format!("{}x{n}", 100 + n)).collect();
            let (mut theirs, mut mine) = (Vec::new(), before.clone());
            let mut touched = 0;
            for row in &before {
                match next(4) {
                    0 => touched += 1,
                    1 => {
                        touched += 1;
                        theirs.push(format!("{row} 1/2"));
                    }
                    _ => theirs.push(row.clone()),
                }
            }
            for row in &mut mine {
                match next(4) {
                    0 => row.clear(),
                    1 => row.push_str(" 1/4"),
                    _ => {}
                }
            }
            let new: Vec<String> = (0..next(3)).map(|n| format!("{}x7", 300 + n)).collect();
            let own: Vec<String> = (0..next(3)).map(|n| format!("{}x7", 400 + n)).collect();
            theirs.extend(new.clone());
            mine.extend(own.clone());
            let of = |list: &[String]| form(&list.iter().map(String::as_str).collect::<Vec<_>>());
            let merged = MANY
                .together(&of(&before), &of(&theirs), &of(&mine), Unit::Inch)
                .expect("few enough");
            let list = shown(&merged);
            let says = format!(
                "round {round}: {before:?} {theirs:?} {mine:?} became {list:?} {:?}",
                merged.clashes
            );
            for row in own.iter().chain(&new) {
                let there = list.iter().filter(|r| *r == row).count();
                let asked = merged
                    .clashes
                    .iter()
                    .any(|c| c.theirs.contains(row.split_once('x').expect("a row").0));
                assert!(there == 1 || asked, "{says}");
            }
            for (n, row) in before.iter().enumerate() {
                let there = list
                    .iter()
                    .filter(|r| r.split('x').next() == row.split('x').next())
                    .count();
                assert!(there <= 1, "{says}");
                // Untouched by both it stays as it is.
                if theirs.contains(row) && mine[n] == *row {
                    assert_eq!(there, 1, "{says}");
                    assert!(list.contains(row), "{says}");
                }
            }
            // Where one of them changed nothing there is nothing to ask.
            if touched == 0 && new.is_empty() || mine[..before.len()] == before[..] {
                assert!(merged.clashes.is_empty(), "{says}");
            }
        }
    }
}
