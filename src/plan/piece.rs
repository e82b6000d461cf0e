//! The pieces of the pattern.

use super::Face;
use crate::measure::{Length, Percent};
use serde::{Deserialize, Serialize};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Along {
    Width,
    /// The most common change: longer or shorter.
    #[default]
    Height,
}

impl Along {
    pub const fn name(self) -> &'static str {
        match self {
            Along::Width => "width",
            Along::Height => "height",
        }
    }
}

/// A change to the printed pattern: by how much, and why.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Alteration {
    pub along: Along,
    /// Signed: `+1 in` lengthens.
    pub by: Length,
    #[serde(default)]
    pub reason: String,
}

/// What lies under the face of a quilted piece.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layers {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batting: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backing: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    pub id: String,
    pub name: String,
    /// How many to cut in all; of a mirrored pair, both.
    pub cut_count: u32,
    /// Half of them are mirror images.
    #[serde(default)]
    pub mirrored: bool,
    /// `width` is measured to the fold: the piece is twice as wide.
    #[serde(default)]
    pub on_fold: bool,
    /// The rectangle round the pattern piece, with its seam allowances.
    pub width: Length,
    pub height: Length,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub alterations: Vec<Alteration>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub face: Option<Face>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layers: Option<Layers>,
    /// Panel beyond the piece on every side, to be cut away when it is cut to shape.
    #[serde(default)]
    pub margin: Length,
    /// Loss in width and height by quilting.
    #[serde(default)]
    pub take_up: Percent,
}
