//! Ready-cut patches of a cloth. Those that cannot be read are not counted on:
//! never short, so the cloth's figures stand.

use super::Finder;
use crate::measure::Length;
use crate::plan::{Cloth, ReadyCut, ReadyShape, limits};

pub(super) fn check(find: &mut Finder, cloth: &Cloth, at: &str, name: &str) {
    if cloth.ready_cut.len() > limits::READY_CUT {
        find.add(
            format!("{at}/ready_cut"),
            format!(
                "{name} has {} kinds of ready-cut patches; it can hold {}. Leave out the fewest.",
                cloth.ready_cut.len(),
                limits::READY_CUT
            ),
        );
        return;
    }
    for (n, ready) in cloth.ready_cut.iter().enumerate() {
        let which = format!("ready-cut patches {} of {name}", n + 1);
        find.positive(
            &format!("{at}/ready_cut/{n}/width"),
            &format!("The size of {which}"),
            ready.width,
        );
        if ready.shape == ReadyShape::Rectangle {
            find.positive(
                &format!("{at}/ready_cut/{n}/height"),
                &format!("The height of {which}"),
                ready.height,
            );
        }
        find.count(
            format!("{at}/ready_cut/{n}/count"),
            &format!("The number of {which}"),
            ready.count,
            limits::READY_CUT_COUNT,
        );
    }
}

/// Whether they may be counted on.
pub(in crate::figures) fn is_sound(ready: &ReadyCut) -> bool {
    let side = |l: Length| l.is_positive() && l <= Length::MAX;
    side(ready.width)
        && (ready.shape != ReadyShape::Rectangle || side(ready.height))
        && (1..=limits::READY_CUT_COUNT).contains(&ready.count)
}
