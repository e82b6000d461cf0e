//! Circle and part-circle pieces: the radius of an inner edge (a waistline, the
//! neck of a cape) that is to be so long when it is cut.

use crate::measure::Length;
use std::f64::consts::TAU;

/// How much of a whole circle the piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Circle {
    Whole,
    Half,
    Third,
    Quarter,
}

impl Circle {
    const fn parts(self) -> i64 {
        match self {
            Circle::Whole => 1,
            Circle::Half => 2,
            Circle::Third => 3,
            Circle::Quarter => 4,
        }
    }
}

/// The radius at which the inner edge measures `edge`, seams and ease counted
/// in by the caller. Rounded down, once: an opening cut too small can be cut
/// larger, one cut too large is lost.
pub fn circle_radius(edge: Length, circle: Circle) -> Length {
    (edge * circle.parts()).times_irrational_down(1.0 / TAU)
}
