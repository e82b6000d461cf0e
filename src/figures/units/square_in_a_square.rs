//! A square on its point, with a triangle at each side that makes it a square
//! again.

use super::setting::divided;
use super::triangles::{half_addition, half_seams};
use super::{Cutting, SQRT_2};
use crate::measure::{EIGHTH, Length};
use crate::plan::CuttingRule;

/// Squares for one square in a square: one centre, and two for its corners,
/// each cut once corner to corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InASquare {
    pub centre: Length,
    pub corner: Length,
}

impl Cutting {
    /// A square in a square of this finished side.
    pub fn square_in_a_square(self, finished: Length) -> InASquare {
        let side = self.as_cut(finished);
        InASquare {
            // The centre finishes at the side divided by the square root of 2.
            centre: self.square(side.times_irrational_up(1.0 / SQRT_2)),
            corner: self.half_square(self.part(finished, 2)),
        }
    }

    /// The corner square round a centre of this finished side: by the trade
    /// the centre divided by 1.414, up to 1/8 in, and 7/8 in at 1/4 in seams.
    pub fn corners_round(self, centre: Length) -> Length {
        let exact = centre.times_irrational_up(1.0 / SQRT_2) + half_seams(self.seam);
        match self.rule {
            CuttingRule::Trade => self.up((divided(centre).ceil_to(EIGHTH) + half_addition(self)).max(exact)),
            CuttingRule::Exact => self.up(exact),
        }
    }
}
