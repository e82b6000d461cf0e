//! Leftovers that are no rectangles, as a person with a tape can tell them.

use crate::measure::Length;
use serde::{Deserialize, Serialize};

/// Leftovers of one outline, all alike.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Outlined {
    pub outline: Outline,
    pub count: u32,
}

/// Straight edges from corner to corner.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outline {
    /// Each corner in order round, by its distance from two lines at a right
    /// angle, one of them along the grain: two edges of a cutting mat.
    Corners(Vec<Corner>),
    /// The lengths of a triangle's or a quadrilateral's sides.
    Sides(Sides),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Corner {
    /// From the line along the grain.
    pub across: Length,
    pub along: Length,
}

/// A triangle is fixed by its three sides; four need a diagonal too.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sides {
    /// In order round; the first runs along the grain.
    pub sides: Vec<Length>,
    /// Of four sides: from where the first begins to where the second ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diagonal: Option<Length>,
}
