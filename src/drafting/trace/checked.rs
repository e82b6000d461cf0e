//! A fifth length, measured by hand, held against what the photo says.

use super::Homography;
use crate::drafting::shape::round;
use crate::measure::Length;
use kurbo::Point;

/// Hundredths of a per cent from which the difference is warned of: 0.5 %.
pub const WARN_ABOVE: i64 = 50;
/// A piece that reaches farther beyond the marks than this share of their size
/// is measured badly: own simulation, 400 photos a row.
pub const FAR: f64 = 0.5;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Checked {
    pub by_hand: Length,
    pub on_photo: Length,
    /// On the photo less by hand.
    pub off: Length,
    /// Of the length by hand, in hundredths of a per cent, away from zero.
    pub off_hundredths: i64,
    /// What taps alone may do, 19 times of 20.
    pub taps: Length,
}

impl Checked {
    pub fn is_off(&self) -> bool {
        self.off_hundredths.abs() > WARN_ABOVE
    }
}

/// None where an end is on no table, or no length was measured.
pub fn checked(h: &Homography, from: Point, to: Point, by_hand: Length, tap: f64) -> Option<Checked> {
    let (on_photo, taps) = h.length(from, to, tap)?;
    if !by_hand.is_positive() {
        return None;
    }
    let off = on_photo - by_hand.as_mm_f64();
    let share = off / by_hand.as_mm_f64() * 10_000.0;
    Some(Checked {
        by_hand,
        on_photo: within(on_photo)?,
        off: within(off)?,
        // Away from zero: 0.501 % is more than 0.5 %.
        off_hundredths: (share.abs().ceil().copysign(share)) as i64,
        taps: within(taps)?,
    })
}

/// None beyond what any length may be.
fn within(mm: f64) -> Option<Length> {
    (mm.abs() < 200_000.0).then(|| round::nearest(mm))
}

/// By how much of the marks' size the points reach beyond the rectangle round
/// the marks, at most; nothing where they lie within.
pub fn reaches_outside(marks: &[Point], points: &[Point]) -> f64 {
    let round = |list: &[Point]| {
        list.iter()
            .skip(1)
            .fold(kurbo::Rect::from_points(list[0], list[0]), |r, p| r.union_pt(*p))
    };
    if marks.is_empty() || points.is_empty() {
        return 0.0;
    }
    let (m, p) = (round(marks), round(points));
    let beyond = [
        (m.x0 - p.x0) / m.width(),
        (p.x1 - m.x1) / m.width(),
        (m.y0 - p.y0) / m.height(),
        (p.y1 - m.y1) / m.height(),
    ];
    beyond.into_iter().fold(0.0, f64::max)
}
