//! What the maker says about time: hours a week, and paces of her own.

use serde::{Deserialize, Serialize};

/// A kind of work whose minutes are logged and expected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Work {
    /// Cutting patches, counted by the patch.
    #[default]
    Cut,
    /// Piecing, counted by the patch.
    Piece,
    /// Pressing, counted by the patch.
    Press,
    /// Layering, counted by the quilted panel.
    Layer,
    /// Quilting, counted by the metre of line.
    Quilt,
    /// Cutting to shape, counted by the piece.
    Shape,
    /// Assembling, counted by the piece.
    Assemble,
    /// Making and sewing on binding, counted by the metre.
    Bind,
    /// Sewing by hand, counted by the metre.
    HandSew,
    /// Setting closures, counted one by one.
    Close,
    /// Anything else: not counted by an amount.
    Other,
}

impl Work {
    pub const ALL: [Work; 11] = [
        Work::Cut,
        Work::Piece,
        Work::Press,
        Work::Layer,
        Work::Quilt,
        Work::Shape,
        Work::Assemble,
        Work::Bind,
        Work::HandSew,
        Work::Close,
        Work::Other,
    ];
    pub const fn name(self) -> &'static str {
        match self {
            Work::Cut => "cut",
            Work::Piece => "piece",
            Work::Press => "press",
            Work::Layer => "layer",
            Work::Quilt => "quilt",
            Work::Shape => "cut to shape",
            Work::Assemble => "assemble",
            Work::Bind => "bind",
            Work::HandSew => "sew by hand",
            Work::Close => "set closures",
            Work::Other => "other work",
        }
    }
}

/// Time for a plan.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TimePlan {
    /// Minutes a week the maker has for it; 0 while unsaid.
    pub minutes_a_week: u32,
    /// Minutes of work outside the figures: designing, shopping, a first fitting.
    pub other_minutes: u32,
}

/// For whom it is made: cautions differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum MadeFor {
    #[default]
    Adult,
    Child,
    Animal,
    Household,
}

impl MadeFor {
    pub const ALL: [MadeFor; 4] = [MadeFor::Adult, MadeFor::Child, MadeFor::Animal, MadeFor::Household];
    pub(super) fn is_adult(&self) -> bool {
        *self == MadeFor::Adult
    }
    pub const fn name(self) -> &'static str {
        match self {
            MadeFor::Adult => "an adult",
            MadeFor::Child => "a child",
            MadeFor::Animal => "an animal",
            MadeFor::Household => "the household",
        }
    }
}
