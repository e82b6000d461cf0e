//! Where lines of quilting lie, in words.

use super::{LineSet, LineWay, PanelEdge};
use crate::figures::Size;
use crate::measure::{Length, Round, Unit, capital};

pub(super) fn one(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => length.inches(Round::Nearest),
        Unit::Cm => length.cm(Round::Nearest),
    }
}

pub(super) fn set_words(set: &LineSet, panel: Size, unit: Unit) -> String {
    let count = set.lines.len();
    let lines = if count == 1 { "line" } else { "lines" };
    let sum = set.length.both(unit, Round::Up);
    let Some(middle) = set.lines.get(set.middle) else {
        return String::new();
    };
    let at = match set.way {
        LineWay::Upright => format!("{} from the left edge", one(middle.from.at, unit)),
        LineWay::Level => format!("{} from the top edge", one(middle.from.at, unit)),
        LineWay::Rising | LineWay::Falling => format!(
            "from {} {} to {} {}",
            one(middle.from.at, unit),
            from_words(middle.from.edge),
            one(middle.to.at, unit),
            from_words(middle.to.edge)
        ),
    };
    match set.way {
        LineWay::Upright | LineWay::Level => format!(
            "{} lines {} apart: the first through the middle, {at}, the others from it to both sides; {count} {lines} × {} = {sum}.",
            capital(set.way.name()),
            one(set.spacing, unit),
            one(
                if set.way == LineWay::Upright {
                    panel.height
                } else {
                    panel.width
                },
                unit
            )
        ),
        LineWay::Rising | LineWay::Falling => format!(
            "{} lines at 45 degrees, {} apart square to them, so × 1.414 = {} along an edge: the first through the middle, {at}, the others from it to both sides; {count} {lines}, {sum} together.",
            capital(set.way.name()),
            one(set.spacing, unit),
            one(set.along_edge, unit)
        ),
    }
}

/// "down the left edge", "along the top edge".
pub fn from_words(edge: PanelEdge) -> &'static str {
    match edge {
        PanelEdge::Left => "down the left edge",
        PanelEdge::Right => "down the right edge",
        PanelEdge::Top => "along the top edge",
        PanelEdge::Bottom => "along the bottom edge",
    }
}
