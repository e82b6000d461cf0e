//! Patches with angles of 60 degrees, cut from strips: equilateral triangles,
//! diamonds and hexagons. Of a strip cut up to a mark, the sides are worked out
//! anew: the strip governs, the ruler's 60-degree line gives the rest.

use super::{Cutting, SQRT_3};
use crate::figures::Size;
use crate::measure::Length;
use crate::plan::UnitKind;

/// Height of an equilateral triangle or a 60-degree diamond, rounded up.
pub fn height60(side: Length) -> Length {
    side.times_irrational_up(SQRT_3 / 2.0)
}

/// The side that belongs to a height, rounded up.
pub fn side60(height: Length) -> Length {
    height.times_irrational_up(2.0 / SQRT_3)
}

/// A hexagon from flat to flat, rounded up.
pub fn flat_to_flat(side: Length) -> Length {
    side.times_irrational_up(SQRT_3)
}

impl Cutting {
    /// The strip for equilateral triangles of this finished height: three
    /// seams, one below and two towards the point (3/4 in at 1/4 in seams).
    pub fn triangle60_strip(self, finished_height: Length) -> Length {
        self.up(finished_height + self.seam * 3)
    }

    /// The side as cut: by the trade 7/8 in more at 1/4 in seams.
    pub fn triangle60_side(self, finished: Length) -> Length {
        self.up(finished + self.addition(2.0 * SQRT_3))
    }

    /// An equilateral triangle as cut: its side, and the height of its strip.
    pub fn triangle60(self, finished: Length) -> Size {
        let height = self.triangle60_strip(height60(finished));
        Size {
            width: self.triangle60_side(finished).max(self.up(side60(height))),
            height,
        }
    }

    /// A diamond as cut: tip to tip along the strip, and the height of the
    /// strip; the cuts across it are as far apart as the strip is high.
    pub fn diamond60(self, finished: Length) -> Size {
        let height = self.up(height60(finished) + self.seam * 2);
        Size {
            // The side and half a side that the next edge leans.
            width: self.up(height.times_irrational_up(SQRT_3)),
            height,
        }
    }

    /// A hexagon as cut: tip to tip, and flat to flat, the height of the strip.
    pub fn hexagon(self, finished: Length) -> Size {
        let height = self.up(flat_to_flat(finished) + self.seam * 2);
        Size {
            width: self.up(side60(height)),
            height,
        }
    }

    /// The finished side as it comes out where strips are cut by the marks.
    pub fn as_cut60(self, kind: UnitKind, finished: Length) -> Length {
        let side = match kind {
            UnitKind::Triangle60 => side60(self.triangle60(finished).height - self.seam * 3),
            UnitKind::Diamond60 => side60(self.diamond60(finished).height - self.seam * 2),
            UnitKind::Hexagon => (self.hexagon(finished).height - self.seam * 2).times_irrational_up(1.0 / SQRT_3),
            _ => self.as_cut(finished),
        };
        side.max(finished)
    }
}
