//! Ready-cut patches that a change uses more or fewer of.

use super::{counted, pairs};
use crate::figures::{Change, ClothFigures, Figures};

pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let used = |c: Option<&ClothFigures>| c.map_or(0, |c| c.ready_cut.iter().map(|r| r.used).sum::<i64>());
    pairs(&before.cloths, &after.cloths, |c| &c.cloth)
        .into_iter()
        .filter(|(old, new)| used(*old) != used(*new))
        .map(|(old, new)| {
            let name = new.or(old).map_or("", |c| c.name.as_str());
            counted(
                format!("{name} ready-cut patches used"),
                used(old),
                used(new),
                "patch",
                "patches",
            )
        })
        .collect()
}
