//! Cut sizes of patches from the finished size of a unit.
//!
//! A cut size is never rounded down: it is exact, or the next mark of the
//! ruler above. What is laid on the cloth is what is printed to cut.
//!
//! - [`square`]: squares, rectangles, rails, and the parts of a unit
//! - [`triangles`]: half-square and quarter-square triangles, 2, 4 or 8 at a time
//! - [`geese`]: flying geese, four at a time
//! - [`square_in_a_square`]: a square on its point in a square
//! - [`setting`]: triangles round blocks on point
//! - [`sixty`]: equilateral triangles, 60-degree diamonds, hexagons
//! - [`cuts`]: everything one unit is cut from

mod cuts;
mod geese;
mod setting;
mod sixty;
mod square;
mod square_in_a_square;
mod triangles;

pub use cuts::UnitCut;
pub use geese::Geese;
pub use setting::{diagonal, diagonal_at_least};
pub use sixty::{flat_to_flat, height60, side60};
pub use square_in_a_square::InASquare;

use super::{Shape, Size};
use crate::measure::{EIGHTH, Length, MM, SIXTEENTH, Unit};
use crate::plan::{CuttingRule, UnitKind};
use std::f64::consts::SQRT_2;

pub(super) const SQRT_3: f64 = 1.732_050_807_568_877_2;

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
    /// Up to the next mark of the ruler.
    pub fn up(self, length: Length) -> Length {
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

    /// Raw size of a sewn unit: what it is trimmed to before it is sewn in.
    pub fn trim_to(self, finished: Length) -> Length {
        finished + self.seam * 2
    }

    /// The finished size as a plain square comes out that is cut by the
    /// ruler's marks: the finished size, or a little more. What a unit is
    /// sewn from is measured by it, so that every unit can be trimmed to the
    /// size of the plain squares beside it.
    pub fn as_cut(self, finished: Length) -> Length {
        self.square(finished) - self.seam * 2
    }

    /// What one unit grows where squares are cut by the ruler's marks: the raw
    /// unit is as large as a plain square, not as the finished size alone asks.
    pub fn growth(self, finished: Length) -> Length {
        self.square(finished) - self.trim_to(finished)
    }

    /// The least finished size a unit can have: its seam allowances must lie
    /// flat under it without crossing.
    pub fn least_finished(self, kind: UnitKind, positions: usize) -> Length {
        let times = |n: usize| self.seam * i64::try_from(n).unwrap_or(i64::MAX);
        match kind {
            UnitKind::Rail => times(positions.max(2)),
            UnitKind::Square | UnitKind::HalfSquareTriangle | UnitKind::QuarterSquareTriangle => times(2),
            // Made of parts half as large, or with patches half as high.
            UnitKind::FlyingGeese | UnitKind::SquareInASquare | UnitKind::FourPatch | UnitKind::Pinwheel => times(4),
            UnitKind::NinePatch => times(6),
            // By its parts: see `least_of`.
            UnitKind::Composed => times(4),
            // The circle that touches all sides must be as wide as two seams.
            UnitKind::Triangle60 => self.seam.times_irrational_up(2.0 * SQRT_3),
            UnitKind::Diamond60 => self.seam.times_irrational_up(4.0 / SQRT_3),
            UnitKind::Hexagon => self.seam.times_irrational_up(2.0 / SQRT_3),
        }
    }
}

/// How many parts stand side by side in a composed unit of `parts` parts.
pub fn across(parts: usize) -> usize {
    (2..=4).find(|n| n * n >= parts).unwrap_or(4)
}

pub(super) fn square_of(side: Length) -> Size {
    Size {
        width: side,
        height: side,
    }
}

/// What a rectangle is called.
fn square_or_rectangle(size: Size) -> Shape {
    if size.width == size.height {
        Shape::Square
    } else {
        Shape::Rectangle
    }
}
