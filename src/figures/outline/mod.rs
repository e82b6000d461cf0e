//! Leftovers that are no rectangles: what can be cut from them.
//!
//! - [`corners`]: from what was measured to corners, or a sentence on what is wrong
//! - [`inside`]: rectangles along the grain that lie wholly inside
//! - [`at_hand`]: those beside the rectangles a cloth has anyway
//! - [`words`]: an outline in a few words
//!
//! Cutting layouts and bindings know rectangles only. So an outline counts as
//! the rectangles found in it, and never as more than it is: every edge of
//! theirs is rounded inward.

mod at_hand;
mod corners;
mod inside;
mod words;

pub(super) use at_hand::AtHand;
pub use words::outline_words;

use super::{Rect, Size};
use crate::measure::{Area, Length};
use crate::plan::{Outline, Outlined, limits};

/// An outline as it is drawn and cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutlineFigures {
    /// Its corners in order round, across and along, from a corner of the rectangle round it.
    pub corners: Vec<OutlineCorner>,
    /// Of the rectangle round it.
    pub around: Size,
    /// What it has, rounded down.
    pub area: Area,
    /// What is counted on: rectangles inside it that do not overlap, the largest first.
    pub rectangles: Vec<Rect>,
    /// How much of it they are, rounded down.
    pub percent: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OutlineCorner {
    pub x: Length,
    pub y: Length,
}

/// What one outline gives. A sentence where no outline is made of what was measured.
pub fn outline(outline: &Outline) -> Result<OutlineFigures, String> {
    let shape = corners::of(outline)?;
    let at = |(x, y): &(i64, i64)| OutlineCorner {
        x: Length::from_units(*x),
        y: Length::from_units(*y),
    };
    let most = |axis: fn(&(i64, i64)) -> i64| Length::from_units(shape.points.iter().map(axis).max().unwrap_or(0));
    let area = shape.area();
    let rectangles = inside::rectangles(&shape);
    let counted = rectangles
        .iter()
        .map(|r| Area::of(r.width, r.height).units())
        .sum::<i128>();
    Ok(OutlineFigures {
        corners: shape.points.iter().map(at).collect(),
        around: Size {
            width: most(|p| p.0),
            height: most(|p| p.1),
        },
        area,
        percent: i64::try_from(counted * 100 / area.units().max(1)).unwrap_or(0),
        rectangles,
    })
}

/// Whether it may be cut from.
pub(super) fn is_sound(outlined: &Outlined) -> bool {
    (1..=limits::REMNANT_COUNT).contains(&outlined.count) && corners::of(&outlined.outline).is_ok()
}

/// What is wrong with it, if anything: the sentence of [`outline`], without its work.
pub(super) fn fault(outline: &Outline) -> Option<String> {
    corners::of(outline).err()
}
