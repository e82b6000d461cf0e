//! Everything one unit is cut from.

use super::{Cutting, across, square_of, square_or_rectangle};
use crate::figures::{Shape, Size};
use crate::measure::Length;
use crate::plan::{Unit, UnitKind};

/// Patches of one cloth and one size for one unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitCut {
    pub cloth: String,
    pub shape: Shape,
    pub cut: Size,
    /// In one unit.
    pub patches: i64,
    /// Units sewn from one set of squares before they are cut apart; 1 where
    /// each is sewn from its own patches. A set is cut whole or not at all.
    pub set: i64,
}

impl UnitCut {
    /// Rectangles to cut for `units` units.
    pub fn cuts(&self, units: i64) -> i64 {
        let up = |n: i64, by: i64| n.saturating_add(by - 1).div_euclid(by);
        if self.set <= 1 {
            return up(units.saturating_mul(self.patches), self.shape.yields());
        }
        let in_a_set = up(self.patches * self.set, self.shape.yields());
        up(units, self.set).saturating_mul(in_a_set)
    }
}

impl Cutting {
    /// What a unit of this finished size is cut from, position by position. A
    /// unit that names too few cloths is cut from those it names.
    pub fn unit_cuts(self, unit: &Unit, finished: Size) -> Vec<UnitCut> {
        let side = finished.width;
        let cloths = unit.cloths.iter();
        let of = |cloth: &String, shape: Shape, cut: Length, patches: i64, set: i64| UnitCut {
            cloth: cloth.clone(),
            shape,
            cut: square_of(cut),
            patches,
            set,
        };
        // Patches of the first and of the second cloth.
        let two = |first: (Shape, Length, i64), second: (Shape, Length, i64), set: i64| -> Vec<UnitCut> {
            cloths
                .clone()
                .zip([first, second])
                .map(|(cloth, (shape, cut, patches))| of(cloth, shape, cut, patches, set))
                .collect()
        };
        match unit.kind {
            UnitKind::Composed => self.composed(unit, side),
            UnitKind::Square | UnitKind::Rail | UnitKind::QuarterSquareTriangle => {
                let (shape, cut) = self.plain(unit.kind, finished, unit.cloths.len());
                cloths
                    .map(|cloth| UnitCut {
                        cut,
                        ..of(cloth, shape, Length::ZERO, 1, 1)
                    })
                    .collect()
            }
            UnitKind::HalfSquareTriangle => {
                let (shape, cut, set) = match unit.at_a_time {
                    4 => (Shape::FourHalfSquares, self.half_squares_four(side), 4),
                    8 => (Shape::EightHalfSquares, self.half_squares_eight(side), 8),
                    _ => (Shape::HalfSquareTriangle, self.half_square(side), 1),
                };
                cloths.map(|cloth| of(cloth, shape, cut, 1, set)).collect()
            }
            UnitKind::FlyingGeese => {
                let squares = self.geese(side);
                two(
                    (Shape::GeeseLarge, squares.large, 2),
                    (Shape::GeeseSmall, squares.small, 4),
                    2,
                )
            }
            UnitKind::SquareInASquare => {
                let squares = self.square_in_a_square(side);
                two(
                    (Shape::Square, squares.centre, 1),
                    (Shape::HalfSquareTriangle, squares.corner, 4),
                    1,
                )
            }
            UnitKind::FourPatch => {
                let cut = self.square(self.part(side, 2));
                two((Shape::Square, cut, 2), (Shape::Square, cut, 2), 1)
            }
            UnitKind::NinePatch => {
                let cut = self.square(self.part(side, 3));
                two((Shape::Square, cut, 5), (Shape::Square, cut, 4), 1)
            }
            UnitKind::Pinwheel => {
                let cut = self.half_square(self.part(side, 2));
                let blades = (Shape::HalfSquareTriangle, cut, 4);
                two(blades, blades, 1)
            }
            UnitKind::Triangle60 | UnitKind::Diamond60 | UnitKind::Hexagon => {
                let (shape, cut) = match unit.kind {
                    UnitKind::Triangle60 => (Shape::Triangle60, self.triangle60(side)),
                    UnitKind::Diamond60 => (Shape::Diamond60, self.diamond60(side)),
                    _ => (Shape::Hexagon, self.hexagon(side)),
                };
                cloths
                    .map(|cloth| UnitCut {
                        cut,
                        ..of(cloth, shape, Length::ZERO, 1, 1)
                    })
                    .collect()
            }
        }
    }

    /// The least finished size of a unit, by [`Cutting::least_finished`].
    pub fn least_of(self, unit: &Unit) -> Size {
        let square = square_of(self.least_finished(unit.kind, unit.cloths.len()));
        match unit.kind {
            UnitKind::Rail => Size {
                height: self.least_finished(UnitKind::Square, 1),
                ..square
            },
            UnitKind::Composed => {
                let across = i64::try_from(across(unit.parts.len())).unwrap_or(1);
                let parts = unit.parts.iter();
                let least = parts.map(|p| self.least_finished(p.kind, p.cloths.len())).max();
                square_of(least.unwrap_or(self.seam * 2) * across)
            }
            _ => square,
        }
    }

    /// What one position of a unit is cut as whose positions are all alike.
    fn plain(self, kind: UnitKind, finished: Size, positions: usize) -> (Shape, Size) {
        match kind {
            UnitKind::HalfSquareTriangle => (Shape::HalfSquareTriangle, square_of(self.half_square(finished.width))),
            UnitKind::QuarterSquareTriangle => (
                Shape::QuarterSquareTriangle,
                square_of(self.quarter_square(finished.width)),
            ),
            UnitKind::Rail => {
                let cut = self.rail(finished, positions);
                (square_or_rectangle(cut), cut)
            }
            _ => {
                let cut = self.rectangle(finished);
                (square_or_rectangle(cut), cut)
            }
        }
    }

    /// The parts one by one; those of one cloth and size together.
    fn composed(self, unit: &Unit, side: Length) -> Vec<UnitCut> {
        let finished = square_of(self.part(side, across(unit.parts.len())));
        let mut cuts: Vec<UnitCut> = Vec::new();
        for part in &unit.parts {
            let (shape, cut) = self.plain(part.kind, finished, part.cloths.len());
            for cloth in &part.cloths {
                match cuts
                    .iter_mut()
                    .find(|c| c.cloth == *cloth && c.shape == shape && c.cut == cut)
                {
                    Some(same) => same.patches += 1,
                    None => cuts.push(UnitCut {
                        cloth: cloth.clone(),
                        shape,
                        cut,
                        patches: 1,
                        set: 1,
                    }),
                }
            }
        }
        cuts
    }
}
