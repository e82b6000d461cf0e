//! Half-square and quarter-square triangles.
//!
//! Cut as triangles, or sewn in pairs of squares and cut then: along one
//! diagonal twice (2 at a time, the same size as cut singly), all round (4) or
//! along both diagonals (8).

use super::{Cutting, SQRT_2};
use crate::measure::Length;

/// Seam allowances a half-square triangle takes beyond the finished side: two
/// square to the sides and one along the diagonal.
const HALF: f64 = 2.0 + SQRT_2;
/// And a quarter-square triangle, beyond its finished long side.
const QUARTER: f64 = 2.0 + 2.0 * SQRT_2;

impl Cutting {
    /// A triangle's square, never so small that its unit could not be trimmed
    /// to the size the plain squares beside it are cut.
    fn triangle(self, finished: Length, factor: f64) -> Length {
        let to_trim = self.square(finished) + self.seam.times_irrational_up(factor - 2.0);
        (finished + self.addition(factor)).max(to_trim)
    }

    /// The square that is cut once corner to corner into two half-square
    /// triangles.
    pub fn half_square(self, finished: Length) -> Length {
        self.up(self.triangle(finished, HALF))
    }

    /// The square that is cut corner to corner both ways into four
    /// quarter-square triangles whose long side is the finished size.
    pub fn quarter_square(self, finished: Length) -> Length {
        self.up(self.triangle(finished, QUARTER))
    }

    /// Four half-square triangles from one pair of squares that is sewn all
    /// round and cut along both diagonals, before it is rounded up to a mark:
    /// the seam line, a square of its own, becomes the long sides. By geometry
    /// in either rule, (f + 2s) * sqrt 2 + 2s: the trade's (f + 1/2) / 0.64 is
    /// short below 3 in and long above.
    pub fn half_squares_four_unrounded(self, finished: Length) -> Length {
        self.square(finished).times_irrational_up(SQRT_2) + self.seam * 2
    }

    /// The same as it is cut.
    pub fn half_squares_four(self, finished: Length) -> Length {
        self.up(self.half_squares_four_unrounded(finished))
    }

    /// Eight half-square triangles from one pair of squares that is sewn on
    /// both sides of both diagonals and cut into four squares, each two of
    /// them: twice the square for two.
    pub fn half_squares_eight(self, finished: Length) -> Length {
        self.up(self.triangle(finished, HALF) * 2)
    }
}

pub(super) fn quarter_addition(cutting: Cutting) -> Length {
    cutting.addition(QUARTER)
}

pub(super) fn half_addition(cutting: Cutting) -> Length {
    cutting.addition(HALF)
}

/// The seams of a side setting triangle, by geometry.
pub(super) fn quarter_seams(seam: Length) -> Length {
    seam.times_irrational_up(QUARTER)
}

pub(super) fn half_seams(seam: Length) -> Length {
    seam.times_irrational_up(HALF)
}
