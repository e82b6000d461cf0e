//! The rowids of the index. They are ordered as the answers are: the log at
//! the beginning, by the second an entry happened in, then the other kinds, one
//! after the other. So the newest entries are found without looking at the
//! rest, and a few materials without looking at the log.

use super::FoundKind;
use crate::notebook::{NotebookError, Result};
use chrono::{DateTime, Utc};
use rusqlite::{Transaction, params};
use std::ops::RangeInclusive;

/// For a kind's rows.
const KIND: u32 = 59;
/// For entries of one second.
const SECOND: u32 = 20;
/// Seconds from the year 0 to 1970: entries may have any year of four digits.
const BEFORE_1970: i64 = 62_167_219_200;

/// As the kinds lie in the index.
fn part(kind: FoundKind) -> i64 {
    match kind {
        FoundKind::Entry => 0,
        FoundKind::Material => 1,
        FoundKind::Piece => 2,
        FoundKind::Project => 3,
        FoundKind::Step => 4,
        FoundKind::Cloth => 5,
        FoundKind::Wearer => 6,
    }
}

/// All rows of a kind.
pub fn of(kind: FoundKind) -> RangeInclusive<i64> {
    let first = part(kind) << KIND;
    first..=first + (1 << KIND) - 1
}

/// Everything but the log.
pub fn without_the_log() -> RangeInclusive<i64> {
    of(FoundKind::Material).start().to_owned()..=i64::MAX
}

/// All rows of a kind, of entries those of a second.
pub fn at(kind: FoundKind, second: i64) -> RangeInclusive<i64> {
    match kind {
        FoundKind::Entry => {
            let second = (second + BEFORE_1970).clamp(0, (1 << (KIND - SECOND)) - 1);
            let first = second << SECOND;
            first..=first + (1 << SECOND) - 1
        }
        _ => of(kind),
    }
}

/// Entries from the first moment up to, and without, the second; none else.
pub fn within(moments: Option<(DateTime<Utc>, DateTime<Utc>)>) -> RangeInclusive<i64> {
    match moments {
        // Seconds are cut off: the last one may hold an entry or two of the next stretch.
        Some((from, to)) => {
            let first = at(FoundKind::Entry, from.timestamp());
            let last = at(FoundKind::Entry, to.timestamp());
            *first.start()..=*last.end()
        }
        None => of(FoundKind::Entry),
    }
}

/// The second of an entry's row; 0 of all else.
pub fn second(row: i64) -> i64 {
    match of(FoundKind::Entry).contains(&row) {
        true => (row >> SECOND) - BEFORE_1970,
        false => 0,
    }
}

/// A rowid that is free, after those that are taken.
pub fn free(t: &Transaction<'_>, kind: FoundKind, second: i64) -> Result<i64> {
    let range = at(kind, second);
    let last: Option<i64> = t
        .prepare_cached("SELECT max(id) FROM search_text WHERE id BETWEEN ?1 AND ?2")?
        .query_row(params![range.start(), range.end()], |r| r.get(0))?;
    match last {
        None => Ok(*range.start()),
        Some(last) if last < *range.end() => Ok(last + 1),
        // A million entries of one second.
        Some(_) => Err(NotebookError::refused(
            "happened_at",
            "There are too many entries of this very second.",
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_and_moments_lie_apart_and_in_order() {
        let mut ends: Vec<(i64, i64)> = FoundKind::ALL
            .iter()
            .map(|k| (*of(*k).start(), *of(*k).end()))
            .collect();
        ends.sort_unstable();
        assert!(ends.windows(2).all(|w| w[0].1 < w[1].0));
        assert_eq!(ends[0], (*of(FoundKind::Entry).start(), without_the_log().start() - 1));
        let moments = [
            "0001-01-01T00:00:00Z",
            "1969-12-31T23:59:59Z",
            "1970-01-01T00:00:00Z",
            "2026-11-25T10:00:00Z",
            "9999-12-31T23:59:59Z",
        ];
        let seconds = moments.map(|m| m.parse::<DateTime<Utc>>().unwrap().timestamp());
        for pair in seconds.windows(2) {
            let (a, b) = (at(FoundKind::Entry, pair[0]), at(FoundKind::Entry, pair[1]));
            assert!(a.end() < b.start() && a.start() >= &0);
            assert!(of(FoundKind::Entry).contains(b.end()));
            assert_eq!((second(*a.start()), second(*a.end())), (pair[0], pair[0]));
        }
    }
}
