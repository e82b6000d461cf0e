//! The face of a piece: plain cloth, or units in an arrangement.

use crate::measure::Length;
use serde::{Deserialize, Serialize};

/// How a unit is pieced. All but the last three fill a square (a rectangle
/// where [`Patchwork::finished_height`] says so); those are patches sewn in
/// rows of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum UnitKind {
    /// One square of one cloth; a rectangle where the unit has a height of its own.
    #[default]
    Square,
    /// Two triangles, one seam corner to corner: top left, bottom right.
    HalfSquareTriangle,
    /// Four triangles that meet in the middle: top, right, bottom, left.
    QuarterSquareTriangle,
    /// Two to eight strips side by side, left to right.
    Rail,
    /// Two flying geese one above the other: geese, sky.
    FlyingGeese,
    /// A square on its point in a square: centre, corners.
    SquareInASquare,
    /// Two by two squares: top left and bottom right, the other two.
    FourPatch,
    /// Three by three squares: corners and centre, the other four.
    NinePatch,
    /// Four half-square triangles that turn about the middle: blades, ground.
    Pinwheel,
    /// Two to four parts across and down, each a unit of its own: see [`Unit::parts`].
    Composed,
    /// Equilateral triangles in rows: those that point up, those that point down.
    #[serde(rename = "triangle-60")]
    Triangle60,
    /// Diamonds of 60 degrees in rows, one to eight cloths in turn.
    #[serde(rename = "diamond-60")]
    Diamond60,
    /// Hexagons in rows, one to eight cloths in turn.
    Hexagon,
}

impl UnitKind {
    pub const ALL: [UnitKind; 13] = [
        UnitKind::Square,
        UnitKind::HalfSquareTriangle,
        UnitKind::QuarterSquareTriangle,
        UnitKind::Rail,
        UnitKind::FlyingGeese,
        UnitKind::SquareInASquare,
        UnitKind::FourPatch,
        UnitKind::NinePatch,
        UnitKind::Pinwheel,
        UnitKind::Composed,
        UnitKind::Triangle60,
        UnitKind::Diamond60,
        UnitKind::Hexagon,
    ];

    pub const fn name(self) -> &'static str {
        match self {
            UnitKind::Square => "plain square",
            UnitKind::HalfSquareTriangle => "half-square triangle",
            UnitKind::QuarterSquareTriangle => "quarter-square triangle",
            UnitKind::Rail => "rail",
            UnitKind::FlyingGeese => "flying geese",
            UnitKind::SquareInASquare => "square in a square",
            UnitKind::FourPatch => "four-patch",
            UnitKind::NinePatch => "nine-patch",
            UnitKind::Pinwheel => "pinwheel",
            UnitKind::Composed => "composed of parts",
            UnitKind::Triangle60 => "equilateral triangle",
            UnitKind::Diamond60 => "60-degree diamond",
            UnitKind::Hexagon => "hexagon",
        }
    }

    /// The least and most cloths the unit is made of, by position. A composed
    /// unit names its cloths in its parts.
    pub const fn positions(self) -> (usize, usize) {
        match self {
            UnitKind::Square => (1, 1),
            UnitKind::QuarterSquareTriangle => (4, 4),
            UnitKind::Rail => (2, 8),
            UnitKind::Diamond60 | UnitKind::Hexagon => (1, 8),
            UnitKind::Composed => (0, 0),
            UnitKind::HalfSquareTriangle
            | UnitKind::FlyingGeese
            | UnitKind::SquareInASquare
            | UnitKind::FourPatch
            | UnitKind::NinePatch
            | UnitKind::Pinwheel
            | UnitKind::Triangle60 => (2, 2),
        }
    }

    /// Sewn in rows of their own: they stand alone in a panel, without sashing
    /// and not on point.
    pub const fn in_rows(self) -> bool {
        matches!(self, UnitKind::Triangle60 | UnitKind::Diamond60 | UnitKind::Hexagon)
    }

    /// May be a part of a composed unit.
    pub const fn may_be_part(self) -> bool {
        matches!(
            self,
            UnitKind::Square | UnitKind::HalfSquareTriangle | UnitKind::QuarterSquareTriangle | UnitKind::Rail
        )
    }
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unit {
    pub kind: UnitKind,
    /// Ids of cloths, one for each position of the unit; one cloth may stand in several.
    #[serde(default)]
    pub cloths: Vec<String>,
    /// Half-square triangles made at a time from one pair of squares: 2, 4 or 8.
    #[serde(default = "two", skip_serializing_if = "is_two")]
    pub at_a_time: u32,
    /// Of a composed unit: its parts row by row, as many across as down.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Part>,
}

impl Unit {
    /// A unit made the usual way.
    pub fn new(kind: UnitKind, cloths: Vec<String>) -> Unit {
        Unit {
            kind,
            cloths,
            at_a_time: 2,
            parts: Vec::new(),
        }
    }

    /// Every cloth id named, with repeats.
    pub fn all_cloths(&self) -> impl Iterator<Item = &str> {
        let own = self.cloths.iter();
        own.chain(self.parts.iter().flat_map(|p| &p.cloths)).map(String::as_str)
    }

    /// Of patches sewn in rows: which of the cloths stands at a position. Of
    /// triangles the first points up.
    pub fn cloth_in_turn(&self, column: usize, row: usize) -> usize {
        column.wrapping_add(row) % self.cloths.len().max(1)
    }
}

fn two() -> u32 {
    2
}

fn is_two(n: &u32) -> bool {
    *n == 2
}

/// One part of a composed unit: a unit of its own, turned.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    pub kind: UnitKind,
    pub cloths: Vec<String>,
    /// Quarter turns clockwise, 0 to 3.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub turn: u32,
}

fn is_zero(n: &u32) -> bool {
    *n == 0
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Arrangement {
    #[default]
    AllAlike,
    /// Two units in turn, like a checkerboard, the first in the top left corner.
    Alternating,
    /// Two to eight units in turn, each a whole row.
    Rows,
    /// One to eight units, one painted for each position: see [`Patchwork::painted`].
    Painted,
}

/// Blocks on point: a square block stands on its corner, triangles fill the edge.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OnPoint {
    /// Cloth of the setting triangles along the sides.
    pub side: String,
    /// Cloth of the four corner triangles.
    pub corner: String,
}

/// Strips between the units.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sashing {
    /// Finished width.
    pub width: Length,
    pub cloth: String,
    /// Cloth of the squares where strips cross; without it strips run through.
    /// On point there are always some.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub posts: Option<String>,
    /// Also round the outside; on point it goes round every block.
    #[serde(default)]
    pub around: bool,
}

/// A strip round the panel, from the inside out.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Border {
    /// Finished width.
    pub width: Length,
    pub cloth: String,
    /// Cloth of squares in the corners; without it the strips at the top and
    /// the bottom run through.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corners: Option<String>,
}

/// Units sewn into a panel.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Patchwork {
    /// Side of one unit when sewn in; its width where it has a height of its own.
    pub finished: Length,
    /// Height of a unit that is not square: plain rectangles and rails only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finished_height: Option<Length>,
    pub arrangement: Arrangement,
    /// One unit; two when alternating, two to eight in rows, one to eight painted.
    pub units: Vec<Unit>,
    /// Row by row, positions apart by blanks: the letter of a unit (`a` the
    /// first), then 1 to 3 for quarter turns clockwise: `a b1 a`. A position
    /// that is not there is the first unit.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub painted: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on_point: Option<OnPoint>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sashing: Option<Sashing>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub borders: Vec<Border>,
}

impl Patchwork {
    /// The unit that stands at a position, and its quarter turns. On point the
    /// rows are counted with the shorter ones between: row 1 is the first of
    /// those, one block shorter. `None` where what is painted cannot be read.
    pub fn unit_at(&self, column: usize, row: usize) -> Option<(usize, u32)> {
        let turn = 0;
        match self.arrangement {
            Arrangement::AllAlike => Some((0, turn)),
            Arrangement::Alternating if self.on_point.is_some() => Some((row % 2, turn)),
            Arrangement::Alternating => Some(((column + row) % 2, turn)),
            Arrangement::Rows => Some((row % self.units.len().max(1), turn)),
            Arrangement::Painted => self.painted_at(column, row),
        }
    }

    /// The units of one row from the left, as [`Patchwork::unit_at`] says them
    /// one by one; a mark that cannot be read is the first unit.
    pub fn row_of(&self, row: usize, columns: usize) -> Vec<(usize, u32)> {
        if self.arrangement != Arrangement::Painted {
            return (0..columns).map(|c| self.unit_at(c, row).unwrap_or((0, 0))).collect();
        }
        let painted = self.painted.get(row).map_or("", String::as_str);
        let marks = painted.split_whitespace().map(|mark| self.read_mark(mark));
        marks
            .chain(std::iter::repeat(None))
            .map(|mark| mark.unwrap_or((0, 0)))
            .take(columns)
            .collect()
    }

    /// The unit painted at a position and its quarter turns. `None` where what
    /// stands there cannot be read.
    pub fn painted_at(&self, column: usize, row: usize) -> Option<(usize, u32)> {
        let Some(mark) = self.painted.get(row).and_then(|r| r.split_whitespace().nth(column)) else {
            return Some((0, 0));
        };
        self.read_mark(mark)
    }

    /// One mark of [`Patchwork::painted`]: `b1` is the second unit, turned once.
    pub fn read_mark(&self, mark: &str) -> Option<(usize, u32)> {
        let mut chars = mark.chars();
        let letter = chars.next().filter(char::is_ascii_lowercase)?;
        let unit = (letter as usize).checked_sub('a' as usize)?;
        let turn = match chars.next() {
            None => 0,
            Some(c) => c.to_digit(4)?,
        };
        (chars.next().is_none() && unit < self.units.len()).then_some((unit, turn))
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Face {
    /// One rectangle of one cloth.
    Plain(PlainFace),
    /// Units sewn into a panel.
    Patchwork(Patchwork),
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlainFace {
    pub cloth: String,
}

impl Face {
    pub fn plain(cloth: impl Into<String>) -> Face {
        Face::Plain(PlainFace { cloth: cloth.into() })
    }

    /// Every cloth id named, with repeats.
    pub fn cloths(&self) -> Box<dyn Iterator<Item = &str> + '_> {
        match self {
            Face::Plain(plain) => Box::new(std::iter::once(plain.cloth.as_str())),
            Face::Patchwork(p) => Box::new(
                p.units
                    .iter()
                    .flat_map(Unit::all_cloths)
                    .chain(p.on_point.iter().flat_map(|o| [o.side.as_str(), o.corner.as_str()]))
                    .chain(
                        p.sashing
                            .iter()
                            .flat_map(|s| std::iter::once(s.cloth.as_str()).chain(s.posts.as_deref())),
                    )
                    .chain(
                        p.borders
                            .iter()
                            .flat_map(|b| std::iter::once(b.cloth.as_str()).chain(b.corners.as_deref())),
                    ),
            ),
        }
    }
}
