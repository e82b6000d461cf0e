//! What became of kept lays.

use super::{NONE, differs, pairs};
use crate::figures::{Change, ClothFigures, Figures, LayState};

/// A lay that came, went, or holds no longer; lengths are told by what is to be bought.
pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let said = |cloth: &ClothFigures| match cloth.lay.as_ref().map(|lay| lay.state) {
        None => NONE,
        Some(LayState::Used) => "kept and used",
        Some(LayState::NotShorter) => "kept, rectangles take less",
        Some(LayState::NoLongerHolds) => "kept, holds no longer",
    };
    pairs(&before.cloths, &after.cloths, |c| &c.cloth)
        .into_iter()
        .filter_map(|(old, new)| {
            // A cloth that cannot be worked out says nothing of its lay.
            let (old, new) = (old?, new?);
            let (was, is) = (said(old), said(new));
            let difference = match (was, is) {
                (NONE, _) => "kept",
                (_, NONE) => "taken out",
                _ => is.trim_start_matches("kept, ").trim_start_matches("kept and "),
            };
            differs(format!("Lay on {}", new.name), was.into(), is.into(), difference.into())
        })
        .collect()
}
