//! Ready-cut patches: what is used of them.

use super::Page;
use crate::figures::ClothFigures;

pub(super) fn lines(page: &mut Page, cloth: &ClothFigures) {
    for ready in &cloth.ready_cut {
        page.pair(
            "ready-cut",
            &format!(
                "{}: {} used, {} stay in stock",
                ready.named(page.unit),
                ready.used,
                ready.left
            ),
        );
    }
}
