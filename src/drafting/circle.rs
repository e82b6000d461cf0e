//! The radius of an inner edge (a waistline, the neck of a cape) that is to be so
//! long when it is cut.

use crate::measure::Length;
use crate::plan::CirclePart;
use std::f64::consts::TAU;

impl CirclePart {
    /// How many of it make a whole circle.
    pub(super) const fn parts(self) -> i64 {
        match self {
            CirclePart::Whole => 1,
            CirclePart::Half => 2,
            CirclePart::Third => 3,
            CirclePart::Quarter => 4,
        }
    }
}

/// The radius at which the inner edge measures `edge`, seams and ease counted
/// in by the caller. Rounded down, once: an opening cut too small can be cut
/// larger, one cut too large is lost.
pub fn circle_radius(edge: Length, circle: CirclePart) -> Length {
    (edge * circle.parts()).times_irrational_down(1.0 / TAU)
}
