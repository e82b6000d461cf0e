//! What a change does to the time expected.

use crate::figures::{Change, Figures, time};

pub(super) const WHAT: &str = time::WHAT;

pub(super) fn changes(before: &Figures, after: &Figures) -> Option<Change> {
    time::change(&before.time, &after.time)
}
