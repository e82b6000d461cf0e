//! What changed in the quilting.

use super::{cloth_length, counted, pairs};
use crate::figures::{Change, Figures, PieceQuilting};
use crate::measure::Unit;

pub(super) fn changes(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let (was, is) = (&before.quilting, &after.quilting);
    let mut changes: Vec<Change> = cloth_length("Quilting to stitch".into(), was.total, is.total, unit)
        .into_iter()
        .collect();
    for (old, new) in pairs(&was.pieces, &is.pieces, |p| &p.piece) {
        let name = new.or(old).map_or("", |p| p.name.as_str());
        let lines = |p: Option<&PieceQuilting>| p.map_or(0, |p| p.lines);
        if lines(old) != lines(new) {
            changes.push(counted(
                format!("{name} lines of quilting on a panel"),
                lines(old),
                lines(new),
                "line",
                "lines",
            ));
        }
    }
    changes
}
