//! Setting triangles round blocks on point: along the sides quarters of a
//! square, so that their long side, the edge of the panel, is on the straight
//! grain; in the corners halves of a square.

use super::triangles::{half_addition, half_seams, quarter_addition, quarter_seams};
use super::{Cutting, SQRT_2};
use crate::measure::Length;
use crate::plan::CuttingRule;

/// The trade's square root of 2 is 1.414: printed charts are worked out with
/// it, and with all its places one row of them comes out an eighth larger.
fn multiplied(side: Length) -> Length {
    side.scale_up(1414, 1000)
}

pub(super) fn divided(side: Length) -> Length {
    side.scale_up(1000, 1414)
}

impl Cutting {
    /// The square for four side triangles, before it is rounded up to a mark:
    /// by the trade 1.414 times the block and 1 1/4 in at 1/4 in seams.
    pub fn setting_side_unrounded(self, block: Length) -> Length {
        // As large as geometry asks round a block cut by the ruler's marks:
        // what 1.414 leaves out is in the addition, but not at every seam.
        let exact = self.as_cut(block).times_irrational_up(SQRT_2) + quarter_seams(self.seam);
        match self.rule {
            CuttingRule::Trade => (multiplied(block) + quarter_addition(self)).max(exact),
            CuttingRule::Exact => exact,
        }
    }

    /// The square for two corner triangles, before it is rounded up to a mark:
    /// by the trade the block divided by 1.414 and 7/8 in at 1/4 in seams.
    pub fn setting_corner_unrounded(self, block: Length) -> Length {
        let exact = self.as_cut(block).times_irrational_up(1.0 / SQRT_2) + half_seams(self.seam);
        match self.rule {
            CuttingRule::Trade => (divided(block) + half_addition(self)).max(exact),
            CuttingRule::Exact => exact,
        }
    }

    /// The square that is cut corner to corner both ways into four side triangles.
    pub fn setting_side(self, block: Length) -> Length {
        self.up(self.setting_side_unrounded(block))
    }

    /// The square that is cut once corner to corner into two corner triangles.
    pub fn setting_corner(self, block: Length) -> Length {
        self.up(self.setting_corner_unrounded(block))
    }
}

/// Corner to corner across a square: how wide a block on point is, rounded up.
pub fn diagonal(side: Length) -> Length {
    side.times_irrational_up(SQRT_2)
}

/// The same rounded down: how much of a panel it is sure to cover.
pub fn diagonal_at_least(side: Length) -> Length {
    side.times_irrational_down(SQRT_2)
}
