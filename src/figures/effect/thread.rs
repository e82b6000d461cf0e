//! What changed in the thread.

use super::{cloth_length, counted};
use crate::figures::{Change, Figures};
use crate::measure::{Length, Unit};

pub(super) fn changes(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let total = |f: &Figures| f.thread.as_ref().map_or(Length::ZERO, |t| t.total);
    let spools = |f: &Figures| f.thread.as_ref().map_or(0, |t| t.spools);
    let mut changes: Vec<Change> = cloth_length("Thread".into(), total(before), total(after), unit)
        .into_iter()
        .collect();
    let (was, is) = (spools(before), spools(after));
    if was != is {
        changes.push(counted("Spools of thread".into(), was, is, "spool", "spools"));
    }
    changes
}
