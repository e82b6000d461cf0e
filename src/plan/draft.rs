//! Drafts: the measures pieces are drafted from. The outlines themselves are
//! worked out by [`crate::drafting`].

use super::EdgeOf;
use crate::measure::{Length, Percent};
use serde::{Deserialize, Serialize};

/// One draft; its parts become pieces of the plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Draft {
    pub id: String,
    pub name: String,
    /// Seam allowance of its parts, where an edge says nothing else.
    pub seam: Length,
    pub kind: DraftKind,
}

/// What is drafted, with its measures. All are finished measures: allowances
/// are added to them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DraftKind {
    ThreePanelHood(ThreePanelHood),
    TwoPieceHood(TwoPieceHood),
    PatchPocket(PatchPocket),
    Band(Band),
    Tie(Tie),
    ShapedFacing(ShapedFacing),
    BiasStrip(BiasStrip),
    CirclePiece(CirclePiece),
    GatheredRectangle(GatheredRectangle),
    CushionCover(CushionCover),
    BoxCover(BoxCover),
    BagBody(BagBody),
}

impl Draft {
    /// Without the length that follows from the edges it is sewn to.
    pub fn as_written(mut self) -> Draft {
        if let Some(sewn) = self.kind.sewn()
            && !sewn.edges.is_empty()
        {
            *sewn.length = Length::ZERO;
        }
        self
    }
}

/// An edge of an outline that something is sewn to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SewnEdge {
    /// Id of the piece.
    pub piece: String,
    /// Name of the edge.
    pub edge: String,
    /// How often it counts, as it is drawn. Left out: as often as the piece is
    /// cut, and of a piece on the fold both halves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub times: Option<u32>,
}

impl SewnEdge {
    pub fn of(&self) -> EdgeOf {
        EdgeOf {
            piece: self.piece.clone(),
            edge: self.edge.clone(),
        }
    }
}

/// The measure of a draft that can be taken from edges of outlines.
pub struct Sewn<'a> {
    /// Its key, as in files and forms.
    pub key: &'static str,
    pub length: &'a mut Length,
    pub edges: &'a mut Vec<SewnEdge>,
    pub shorter_by: &'a mut Length,
    /// Of the garment's edge it takes one half: the other half is its mirror image.
    pub half: bool,
}

impl DraftKind {
    /// Nothing for what is sewn to no edge, or follows one as a whole.
    pub fn sewn(&mut self) -> Option<Sewn<'_>> {
        let (key, length, edges, shorter_by, half) = match self {
            DraftKind::ThreePanelHood(d) => (
                "half_neckline",
                &mut d.half_neckline,
                &mut d.sewn_to,
                &mut d.shorter_by,
                true,
            ),
            DraftKind::TwoPieceHood(d) => (
                "half_neckline",
                &mut d.half_neckline,
                &mut d.sewn_to,
                &mut d.shorter_by,
                true,
            ),
            DraftKind::Band(d) => ("length", &mut d.length, &mut d.sewn_to, &mut d.shorter_by, false),
            DraftKind::CirclePiece(d) => ("edge", &mut d.edge, &mut d.sewn_to, &mut d.shorter_by, false),
            DraftKind::GatheredRectangle(d) => ("edge", &mut d.edge, &mut d.sewn_to, &mut d.shorter_by, false),
            DraftKind::PatchPocket(_)
            | DraftKind::Tie(_)
            | DraftKind::ShapedFacing(_)
            | DraftKind::BiasStrip(_)
            | DraftKind::CushionCover(_)
            | DraftKind::BoxCover(_)
            | DraftKind::BagBody(_) => return None,
        };
        Some(Sewn {
            key,
            length,
            edges,
            shorter_by,
            half,
        })
    }
}

/// Two sides and a strip between them, from the face over the head to the nape.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThreePanelHood {
    /// From the middle of the back to the middle of the front, on the garment.
    pub half_neckline: Length,
    /// Edges of outlines it is sewn to: where there are any, the length is theirs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sewn_to: Vec<SewnEdge>,
    /// How much shorter than those edges, on either side.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shorter_by: Length,
    /// How much lower the neckline lies in front than at the back.
    pub drop: Length,
    /// From the neckline in front over the head to the neckline, halved.
    pub height: Length,
    /// From the face to the back of the head.
    pub depth: Length,
    /// Width of the centre strip.
    pub strip: Length,
    /// How far the face edge is hollowed in its middle.
    #[serde(default)]
    pub face_curve: Length,
    /// Looseness: all of it in the height, half in the depth.
    #[serde(default)]
    pub room: Length,
    /// Turned in at the face.
    pub face_hem: Length,
}

/// Two halves with a seam over the middle of the head.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TwoPieceHood {
    pub half_neckline: Length,
    /// Edges of outlines it is sewn to: where there are any, the length is theirs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sewn_to: Vec<SewnEdge>,
    /// How much shorter than those edges, on either side.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shorter_by: Length,
    /// How much lower the neckline lies in front than at the back.
    pub drop: Length,
    pub height: Length,
    /// Taken in by a dart at the neckline; nothing is no dart.
    #[serde(default)]
    pub dart: Length,
    /// How much wider the hood is above than at the neck.
    #[serde(default)]
    pub upper: Length,
    /// Looseness in the height.
    #[serde(default)]
    pub room: Length,
    pub face_hem: Length,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PatchPocket {
    pub width: Length,
    pub height: Length,
    /// Radius of the lower corners; nothing is a square pocket.
    #[serde(default)]
    pub corners: Length,
    /// Turned down at the top, or as deep as the facing.
    pub hem: Length,
    /// A facing of its own instead of a hem.
    #[serde(default, skip_serializing_if = "is_false")]
    pub faced: bool,
}

/// A straight band: a waistband, a cuff.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Band {
    pub length: Length,
    /// Edges of outlines it is sewn to: where there are any, the length is theirs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sewn_to: Vec<SewnEdge>,
    /// How much shorter than those edges.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shorter_by: Length,
    pub width: Length,
    /// Folded lengthwise: cut twice as wide.
    #[serde(default, skip_serializing_if = "is_false")]
    pub folded: bool,
    /// Added at one end to close on.
    #[serde(default)]
    pub overlap: Length,
    pub count: u32,
}

/// A tie, folded lengthwise and turned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tie {
    pub length: Length,
    pub width: Length,
    /// How far its end slants; nothing is a square end.
    #[serde(default)]
    pub point: Length,
    pub count: u32,
}

/// A facing cut as the edge it faces.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShapedFacing {
    pub along: EdgeOf,
    pub width: Length,
    pub count: u32,
    /// Half of them mirror images.
    #[serde(default, skip_serializing_if = "is_false")]
    pub pair: bool,
}

/// A strip on the bias for an edge.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BiasStrip {
    pub along: EdgeOf,
    /// Of the strip as it is cut.
    pub width: Length,
    /// Added to the length, to join it or turn its ends in.
    pub extra: Length,
    pub count: u32,
}

/// How much of a whole circle a piece is, all its panels together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CirclePart {
    #[default]
    Whole,
    Half,
    Third,
    Quarter,
}

/// A skirt, a cape, a ruffle cut round.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CirclePiece {
    /// Length of the inner edge, of all panels together.
    pub edge: Length,
    /// Edges of outlines it is sewn to: where there are any, the length is theirs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sewn_to: Vec<SewnEdge>,
    /// How much shorter than those edges.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shorter_by: Length,
    #[serde(default)]
    pub part: CirclePart,
    /// From the inner edge to the hem.
    pub length: Length,
    pub panels: u32,
    pub hem: Length,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GatheredRectangle {
    /// What it is gathered to, of all panels together.
    pub edge: Length,
    /// Edges of outlines it is sewn to: where there are any, the length is theirs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sewn_to: Vec<SewnEdge>,
    /// How much shorter than those edges.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shorter_by: Length,
    /// So much longer before: 250 % is two and a half times as long.
    pub fullness: Percent,
    /// Added to the length to even the gathers out.
    #[serde(default)]
    pub spare: Length,
    pub depth: Length,
    pub panels: u32,
    pub hem: Length,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CushionBack {
    /// Two parts that lie over each other.
    #[default]
    Overlap,
    /// One part, with a zip in the lower seam.
    Zip,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CushionCover {
    /// Of the cushion.
    pub width: Length,
    pub height: Length,
    /// So much smaller than the cushion, for a plump one.
    #[serde(default)]
    pub smaller: Length,
    #[serde(default)]
    pub back: CushionBack,
    /// How far the parts of the back lie over each other, or the zip's length.
    pub opening: Length,
    /// Turned in at the edges of the opening.
    pub hem: Length,
}

/// Top and bottom with walls between them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoxCover {
    pub width: Length,
    pub depth: Length,
    /// Of the walls.
    pub height: Length,
    /// Allowance on both sides of the zip in the back wall.
    pub zip_seam: Length,
    /// Width of the zip that shows between them.
    #[serde(default)]
    pub zip_gap: Length,
}

/// Two panels whose lower corners are cut out, so that the bag stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BagBody {
    pub width: Length,
    pub height: Length,
    /// Depth of the bottom; nothing is a flat bag.
    #[serde(default)]
    pub gusset: Length,
    pub hem: Length,
}

fn is_zero(length: &Length) -> bool {
    *length == Length::ZERO
}

fn is_false(value: &bool) -> bool {
    !*value
}
