//! Cut sizes of patches from the finished size of a unit.
//!
//! A cut size is never rounded down: it is exact, or the next mark of the
//! ruler above. What is laid on the cloth is what is printed to cut.

use super::{Shape, Size};
use crate::measure::{EIGHTH, Length, MM, SIXTEENTH, Unit};
use crate::plan::{CuttingRule, UnitKind};
use std::f64::consts::SQRT_2;

/// The mark of the ruler a cut is made by: 1/8 in, 1/16 in by exact geometry, 1 mm.
pub fn ruler_mark(unit: Unit, rule: CuttingRule) -> Length {
    match (unit, rule) {
        (Unit::Inch, CuttingRule::Trade) => EIGHTH,
        (Unit::Inch, CuttingRule::Exact) => SIXTEENTH,
        (Unit::Cm, _) => MM,
    }
}

/// The mark for larger cuts (panels, strips): 1/8 in or 1 mm.
pub fn coarse_mark(unit: Unit) -> Length {
    ruler_mark(unit, CuttingRule::Trade)
}

/// How patches are cut: the seam, the rule and the ruler.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cutting {
    pub seam: Length,
    pub rule: CuttingRule,
    pub unit: Unit,
}

impl Cutting {
    fn up(self, length: Length) -> Length {
        length.ceil_to(ruler_mark(self.unit, self.rule))
    }

    /// What is added to the finished size for `factor` seam allowances.
    fn addition(self, factor: f64) -> Length {
        let exact = self.seam.times_irrational_up(factor);
        match self.rule {
            // The trade adds whole eighths of an inch: 7/8 and 1 1/4 at 1/4 in seams.
            CuttingRule::Trade => exact.ceil_to(EIGHTH),
            CuttingRule::Exact => exact,
        }
    }

    /// A square: finished size and a seam on both sides.
    pub fn square(self, finished: Length) -> Length {
        self.up(finished + self.seam * 2)
    }

    /// What one unit grows where squares are cut by the ruler's marks: the raw
    /// unit is as large as a plain square, not as the finished size alone asks.
    pub fn growth(self, finished: Length) -> Length {
        self.square(finished) - self.trim_to(finished)
    }

    /// A triangle's square, never so small that its unit could not be trimmed
    /// to the size the plain squares beside it are cut.
    fn triangle(self, finished: Length, factor: f64) -> Length {
        let to_trim = self.square(finished) + self.seam.times_irrational_up(factor - 2.0);
        self.up((finished + self.addition(factor)).max(to_trim))
    }

    /// The square that is cut once corner to corner into two half-square
    /// triangles: two seams square to the sides and one along the diagonal.
    pub fn half_square(self, finished: Length) -> Length {
        self.triangle(finished, 2.0 + SQRT_2)
    }

    /// The square that is cut corner to corner both ways into four
    /// quarter-square triangles whose long side is the finished size.
    pub fn quarter_square(self, finished: Length) -> Length {
        self.triangle(finished, 2.0 + 2.0 * SQRT_2)
    }

    /// One strip of a rail of `strips` strips side by side.
    pub fn rail(self, finished: Length, strips: usize) -> Size {
        let strips = i64::try_from(strips.max(1)).unwrap_or(1);
        Size {
            width: self.up(finished.scale_up(1, strips) + self.seam * 2),
            height: self.square(finished),
        }
    }

    /// How wide a sewn rail is, raw edge to raw edge, before it is trimmed.
    pub fn rail_sewn(self, finished: Length, strips: usize) -> Length {
        let count = i64::try_from(strips.max(1)).unwrap_or(1);
        self.rail(finished, strips).width * count - self.seam * 2 * (count - 1)
    }

    /// What one position of a unit is cut as.
    pub fn cut(self, kind: UnitKind, finished: Length, positions: usize) -> (Shape, Size) {
        let square = |side| Size {
            width: side,
            height: side,
        };
        match kind {
            UnitKind::HalfSquareTriangle => (Shape::HalfSquareTriangle, square(self.half_square(finished))),
            UnitKind::QuarterSquareTriangle => (Shape::QuarterSquareTriangle, square(self.quarter_square(finished))),
            UnitKind::Rail => {
                let cut = self.rail(finished, positions);
                let shape = if cut.width == cut.height {
                    Shape::Square
                } else {
                    Shape::Rectangle
                };
                (shape, cut)
            }
            _ => (Shape::Square, square(self.square(finished))),
        }
    }

    /// Raw size of a sewn unit: what it is trimmed to before it is sewn in.
    pub fn trim_to(self, finished: Length) -> Length {
        finished + self.seam * 2
    }

    /// The least finished size a unit can have: its seam allowances must lie
    /// flat under it without crossing.
    pub fn least_finished(self, kind: UnitKind, positions: usize) -> Length {
        match kind {
            UnitKind::Rail => self.seam * i64::try_from(positions.max(2)).unwrap_or(2),
            _ => self.seam * 2,
        }
    }
}
