//! The face of a piece: plain cloth, or units in an arrangement.

use crate::measure::Length;
use serde::{Deserialize, Serialize};

/// One pieced square.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum UnitKind {
    /// One square of one cloth.
    Square,
    /// Two triangles, one seam corner to corner.
    HalfSquareTriangle,
    /// Four triangles that meet in the middle: top, right, bottom, left.
    QuarterSquareTriangle,
    /// Two to eight strips side by side, left to right.
    Rail,
}

impl UnitKind {
    pub const ALL: [UnitKind; 4] = [
        UnitKind::Square,
        UnitKind::HalfSquareTriangle,
        UnitKind::QuarterSquareTriangle,
        UnitKind::Rail,
    ];

    pub const fn name(self) -> &'static str {
        match self {
            UnitKind::Square => "plain square",
            UnitKind::HalfSquareTriangle => "half-square triangle",
            UnitKind::QuarterSquareTriangle => "quarter-square triangle",
            UnitKind::Rail => "rail",
        }
    }

    /// The least and most cloths the unit is made of, by position.
    pub const fn positions(self) -> (usize, usize) {
        match self {
            UnitKind::Square => (1, 1),
            UnitKind::HalfSquareTriangle => (2, 2),
            UnitKind::QuarterSquareTriangle => (4, 4),
            UnitKind::Rail => (2, 8),
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unit {
    pub kind: UnitKind,
    /// Ids of cloths, one for each position of the unit; one cloth may stand in several.
    pub cloths: Vec<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Arrangement {
    #[default]
    AllAlike,
    /// Two units in turn, like a checkerboard, the first in the top left corner.
    Alternating,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Face {
    /// One rectangle of one cloth.
    Plain { cloth: String },
    /// Units sewn into a panel.
    Patchwork {
        /// Side of one unit when sewn in.
        finished: Length,
        arrangement: Arrangement,
        /// One unit, or two when alternating.
        units: Vec<Unit>,
    },
}

impl Face {
    /// Every cloth id named, with repeats.
    pub fn cloths(&self) -> Box<dyn Iterator<Item = &str> + '_> {
        match self {
            Face::Plain { cloth } => Box::new(std::iter::once(cloth.as_str())),
            Face::Patchwork { units, .. } => Box::new(units.iter().flat_map(|u| u.cloths.iter().map(String::as_str))),
        }
    }
}
