//! The pattern of a piece: its outline, edge by edge, or the draft it comes from.

use super::{Along, EdgePath, Spot};
use crate::measure::Length;
use serde::{Deserialize, Serialize};

/// A piece that is more than the rectangle round it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pattern {
    pub from: Source,
    /// Edges of a draft that are finished otherwise than it proposes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub finish: Vec<Finish>,
    /// What was changed of the outline, in this order, each with its reason.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changes: Vec<OutlineChange>,
}

/// Where the outline comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Source {
    /// One part of a draft of the plan: it follows the draft's measures.
    Draft(DraftPart),
    /// An outline of its own: read from a file, traced, drawn.
    Drawn(PatternOutline),
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DraftPart {
    /// Id of a draft of the plan.
    pub draft: String,
    /// Name of its part, such as `side`.
    pub part: String,
}

/// The stitching line: a closed path of named edges in order round. `x` runs
/// across, `y` down along the grain.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PatternOutline {
    /// Each begins where the one before it ends, the first where the last ends.
    pub edges: Vec<OutlineEdge>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notches: Vec<Notch>,
    /// The grainline, from its upper end to its lower; straight down if left out. What runs
    /// otherwise is turned until it stands upright.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grain: Option<[Spot; 2]>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<Mark>,
    /// Lines inside the piece: a fold, the place of a pocket.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub inner: Vec<InnerLine>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OutlineEdge {
    /// Unique in its outline.
    pub name: String,
    /// From the end of the edge before it.
    pub path: EdgePath,
    /// From the stitching line out to the cut line.
    #[serde(default)]
    pub allowance: Length,
    /// How the allowance is cut at the end of this edge.
    #[serde(default, skip_serializing_if = "CornerCut::is_mitre")]
    pub corner: CornerCut,
    #[serde(default, skip_serializing_if = "EdgeKind::is_seam")]
    pub kind: EdgeKind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum EdgeKind {
    #[default]
    Seam,
    /// Turned in: its allowance is the depth that is turned.
    Hem,
    /// Lies on the fold of the cloth: the piece is the other half too.
    Fold,
    /// Covered by a binding: no allowance.
    Bound,
}

impl EdgeKind {
    pub const ALL: [EdgeKind; 4] = [EdgeKind::Seam, EdgeKind::Hem, EdgeKind::Fold, EdgeKind::Bound];

    fn is_seam(&self) -> bool {
        *self == EdgeKind::Seam
    }

    /// As it stands in files and forms.
    pub const fn name(self) -> &'static str {
        match self {
            EdgeKind::Seam => "seam",
            EdgeKind::Hem => "hem",
            EdgeKind::Fold => "fold",
            EdgeKind::Bound => "bound",
        }
    }
}

/// How two allowances meet beyond a corner of the stitching line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CornerCut {
    /// Both cut lines run on until they meet; a long point is cut off.
    #[default]
    Mitre,
    /// The allowance of this edge is ended at a right angle to its seam.
    Square,
    /// The side mirrored at the turn of the hem, so that both lie on each other
    /// when it is turned.
    FoldBack,
}

impl CornerCut {
    pub const ALL: [CornerCut; 3] = [CornerCut::Mitre, CornerCut::Square, CornerCut::FoldBack];

    fn is_mitre(&self) -> bool {
        *self == CornerCut::Mitre
    }

    /// As it stands in files and forms.
    pub const fn name(self) -> &'static str {
        match self {
            CornerCut::Mitre => "mitre",
            CornerCut::Square => "square",
            CornerCut::FoldBack => "fold-back",
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notch {
    /// Name of the edge.
    pub edge: String,
    /// Along the stitching line, from where the edge begins.
    pub at: Length,
    /// Two side by side: usual for the back.
    #[serde(default, skip_serializing_if = "is_false")]
    pub double: bool,
}

/// A point to mark through: a pocket's corner, the end of a dart.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mark {
    pub name: String,
    pub at: Spot,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct InnerLine {
    pub name: String,
    pub from: Spot,
    pub path: EdgePath,
}

/// An edge finished in its own way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Finish {
    /// Name of the edge.
    pub edge: String,
    pub allowance: Length,
    #[serde(default)]
    pub corner: CornerCut,
    #[serde(default)]
    pub kind: EdgeKind,
}

/// One change of an outline, kept with its reason.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OutlineChange {
    pub change: ChangeOf,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub reason: String,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ChangeOf {
    Lengthen(Lengthen),
    AddToEdge(AddToEdge),
    RoundCorner(RoundCorner),
}

/// Cut apart at a line and spread, or folded out: what lies beyond the line
/// moves, the seams are drawn anew across it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lengthen {
    /// `height`: the line runs across; `width`: it runs along the grain.
    pub along: Along,
    /// Where the line runs: its `y` or `x`, measured from the outline's top or left.
    pub at: Length,
    /// Negative shortens.
    pub by: Length,
}

/// An edge moved parallel to itself; what meets it is drawn to it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AddToEdge {
    pub edge: String,
    /// Outwards; negative takes away.
    pub by: Length,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoundCorner {
    /// The corner at the end of this edge.
    pub edge: String,
    pub radius: Length,
}

/// An edge of a piece's outline.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EdgeOf {
    /// Id of the piece.
    pub piece: String,
    /// Name of the edge.
    pub edge: String,
}

fn is_false(value: &bool) -> bool {
    !*value
}
