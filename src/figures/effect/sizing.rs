//! What changed in the size.

use super::differs;
use crate::figures::{Change, Figures, SizingFigures};

pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let size = |f: &Figures, which: fn(&SizingFigures) -> Option<usize>| {
        let sizing = f.sizing.as_ref()?;
        sizing.sizes.get(which(sizing)?).cloned()
    };
    [
        ("Size taken", (|s| s.taken) as fn(&SizingFigures) -> Option<usize>),
        ("Size by the measures", |s| s.recommended),
    ]
    .into_iter()
    .filter_map(|(what, which)| {
        let show = |f: &Figures| size(f, which).unwrap_or_else(|| "none".into());
        let (was, is) = (show(before), show(after));
        let difference = format!("{was} to {is}");
        differs(what.into(), was, is, difference)
    })
    .collect()
}
