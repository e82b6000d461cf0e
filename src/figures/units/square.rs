//! Squares, rectangles and rails: a seam on every side.

use super::Cutting;
use crate::figures::Size;
use crate::measure::Length;

impl Cutting {
    /// A square: finished size and a seam on both sides.
    pub fn square(self, finished: Length) -> Length {
        self.up(finished + self.seam * 2)
    }

    /// A rectangle, both sides as a square's.
    pub fn rectangle(self, finished: Size) -> Size {
        Size {
            width: self.square(finished.width),
            height: self.square(finished.height),
        }
    }

    /// The finished side of one of `across` equal parts of a unit. Measured by
    /// the unit as cut, so that the sewn parts can be trimmed to it.
    pub fn part(self, finished: Length, across: usize) -> Length {
        let across = i64::try_from(across.max(1)).unwrap_or(1);
        self.as_cut(finished).scale_up(1, across)
    }

    /// One strip of a rail of `strips` strips side by side.
    pub fn rail(self, finished: Size, strips: usize) -> Size {
        Size {
            width: self.square(self.part(finished.width, strips)),
            height: self.square(finished.height),
        }
    }

    /// How wide `count` equal parts are when sewn side by side, raw edge to raw
    /// edge, each `cut` wide.
    pub fn sewn(self, cut: Length, count: usize) -> Length {
        let count = i64::try_from(count.max(1)).unwrap_or(1);
        cut * count - self.seam * 2 * (count - 1)
    }
}
