//! Straight-grain strips across the width of the cloth.

use super::Cut;
use crate::figures::{BiasStrip, Size};
use crate::measure::{Length, Round};
use crate::plan::{Plan, limits};

/// Whole strips of `width` that reach `total`: rounded up before anything is
/// multiplied by it. `width` must be more than nothing.
pub fn strips_needed(total: Length, width: Length) -> i64 {
    total.times_needed(width).max(1)
}

/// Length of `count` strips sewn end to end on the diagonal: their ends are
/// square, so each join takes a square of the strip.
pub fn strips_made(count: i64, width: Length, strip: Length) -> Length {
    width * count - strip * (count - 1).max(0)
}

pub(super) fn cut(plan: &Plan, total: Length, strip: Length, width: Length) -> Result<Cut, String> {
    let unit = plan.unit;
    // count * width - (count - 1) * strip >= total
    let count = strips_needed(total - strip, width - strip);
    if count > limits::CUTS {
        return Err(format!(
            "This binding would take {count} strips. Choose a wider cloth for it."
        ));
    }
    let made = strips_made(count, width, strip);
    let rectangle = Size {
        width,
        height: strip * count,
    };
    let mut working = vec![if count == 1 {
        format!(
            "Strips across the width: 1 strip of {} is enough.",
            width.both(unit, Round::Down)
        )
    } else {
        format!(
            "Strips across the width of {}: each diagonal join takes {}, so {count} whole strips; {count} × {} − {} joins = {}.",
            width.both(unit, Round::Down),
            strip.cut_one(unit),
            match unit {
                crate::measure::Unit::Inch => width.inches(Round::Down),
                crate::measure::Unit::Cm => width.cm(Round::Down),
            },
            count - 1,
            made.both(unit, Round::Down)
        )
    }];
    working.push(format!(
        "{count} × {} = {} of cloth.",
        strip.cut_one(unit),
        rectangle.height.both(unit, Round::Up)
    ));
    Ok(Cut {
        strips: vec![BiasStrip { length: width, count }],
        joins: count - 1,
        made,
        rectangle,
        drawn: Vec::new(),
        working,
        cautions: vec!["Straight-grain binding does not go round curves. Choose bias for a curved edge.".into()],
    })
}
