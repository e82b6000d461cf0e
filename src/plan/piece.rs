//! The pieces of the pattern.

use super::{Face, OutlineChange, Pattern, Source};
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
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quilting: Option<Quilting>,
}

/// Straight lines of quilting: how far apart, by the way they run.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Quilting {
    /// Lines up and down the piece.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub upright: Option<Length>,
    /// Lines across the piece.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub level: Option<Length>,
    /// Lines at 45 degrees that rise to the right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rising: Option<Length>,
    /// Lines at 45 degrees that fall to the right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub falling: Option<Length>,
}

/// Where the take-up by quilting comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum TakeUpFrom {
    /// [`Piece::take_up`] as it was typed.
    #[default]
    Typed,
    /// From the closest quilting lines, by measured samples.
    Spacing,
}

impl TakeUpFrom {
    fn is_typed(&self) -> bool {
        *self == TakeUpFrom::Typed
    }
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
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
    /// The rectangle round the pattern piece, with its seam allowances. Of a
    /// piece with a pattern it follows from its outline.
    pub width: Length,
    pub height: Length,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub alterations: Vec<Alteration>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub face: Option<Face>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pattern: Option<Pattern>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layers: Option<Layers>,
    /// Panel beyond the piece on every side, to be cut away when it is cut to shape.
    #[serde(default)]
    pub margin: Length,
    /// Loss in width and height by quilting.
    #[serde(default)]
    pub take_up: Percent,
    #[serde(default, skip_serializing_if = "TakeUpFrom::is_typed")]
    pub take_up_from: TakeUpFrom,
}

impl Piece {
    /// What was changed of its outline.
    pub fn outline_changes(&self) -> &[OutlineChange] {
        self.pattern.as_ref().map_or(&[], |p| &p.changes)
    }

    /// Id of the draft it comes from.
    pub fn draft(&self) -> Option<&str> {
        match &self.pattern.as_ref()?.from {
            Source::Draft(of) => Some(&of.draft),
            Source::Drawn(_) => None,
        }
    }

    /// Without the size that follows from its outline.
    pub fn as_written(self) -> Piece {
        match self.pattern {
            Some(_) => Piece {
                width: Length::ZERO,
                height: Length::ZERO,
                on_fold: false,
                ..self
            },
            None => self,
        }
    }
}
