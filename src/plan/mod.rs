//! The plan: a plain value that says what is to be made and from what.
//!
//! A plan holds no results. Everything worked out from it is in
//! [`crate::figures`]; every change of it is kept as a revision by
//! [`crate::notebook`]. Its JSON is the interface other programs use and is
//! described in DEVELOPERS.md.

mod allowances;
mod binding;
mod care;
mod closure;
mod cloth;
mod difference;
mod draft;
mod edit;
mod lay;
mod notion;
mod outline;
mod patchwork;
mod path;
mod pattern;
mod piece;
mod read;
mod sizing;
mod thread;
mod time;

pub use allowances::{Allowances, CuttingRule};
pub use binding::{Binding, BindingCut, Edge, Fold};
pub use care::{Bleaching, Care, DryCleaning, Ironing, NaturalDrying, TumbleDrying, Washing};
pub use closure::{Closure, ClosureKind};
pub use cloth::{Cloth, ClothKind, Per, Price, ReadyCut, ReadyShape, Remnant};
pub use difference::{bring_over, differences};
pub use draft::{
    BagBody, Band, BiasStrip, BoxCover, CirclePart, CirclePiece, CushionBack, CushionCover, Draft, DraftKind,
    GatheredRectangle, PatchPocket, Sewn, SewnEdge, ShapedFacing, ThreePanelHood, Tie, TwoPieceHood,
};
pub use edit::{Clash, Edit};
pub use lay::{KeptLay, LaidCopy, LayGround, LayPoint, LayTurns};
pub use notion::{Notion, NotionKind};
pub use outline::{Corner, Outline, Outlined, Sides};
pub use patchwork::{Arrangement, Border, Face, OnPoint, Part, Patchwork, PlainFace, Sashing, Unit, UnitKind};
pub use path::{EdgePath, Segment, Spot};
pub use pattern::{
    AddToEdge, ChangeOf, CornerCut, DraftPart, EdgeKind, EdgeOf, Finish, InnerLine, Lengthen, Mark, Notch,
    OutlineChange, OutlineEdge, Pattern, PatternOutline, RoundCorner, Source,
};
pub use piece::{Along, Alteration, Layers, Piece, Quilting, TakeUpFrom};
pub use read::{PlanError, limits};
pub use sizing::{SizeRow, Sizing};
pub use thread::{Seam, Stitch, Thread, read_spool, spool_words};
pub use time::{MadeFor, TimePlan, Work};

use crate::measure;
use serde::{Deserialize, Serialize};

/// The format number this program writes. A plan with a higher one is refused.
pub const FORMAT: u32 = 1;

/// A whole plan. `Plan::default()` is an empty one in inches.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    pub format: u32,
    /// The unit shown first and taken by bare numbers.
    #[serde(default)]
    pub unit: measure::Unit,
    #[serde(default)]
    pub allowances: Allowances,
    #[serde(default)]
    pub cloths: Vec<Cloth>,
    #[serde(default)]
    pub pieces: Vec<Piece>,
    /// What pieces are drafted from: one draft may make several.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub drafts: Vec<Draft>,
    /// The edges to bind.
    #[serde(default)]
    pub edges: Vec<Edge>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub binding: Option<Binding>,
    /// Thread, closures, tools: what is needed besides cloth, in the maker's words.
    #[serde(default)]
    pub notions: Vec<Notion>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub closures: Vec<Closure>,
    /// Seams besides those the figures know of.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub seams: Vec<Seam>,
    /// How thread is counted; without it, it is not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thread: Option<Thread>,
    /// The pattern's size table.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sizing: Option<Sizing>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<TimePlan>,
    #[serde(default, skip_serializing_if = "MadeFor::is_adult")]
    pub made_for: MadeFor,
    /// Lays that were kept, at most one of a cloth.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lays: Vec<KeptLay>,
}

impl Default for Plan {
    fn default() -> Plan {
        Plan::new(measure::Unit::Inch)
    }
}

impl Plan {
    pub fn new(unit: measure::Unit) -> Plan {
        Plan {
            format: FORMAT,
            unit,
            allowances: Allowances::for_unit(unit),
            cloths: Vec::new(),
            pieces: Vec::new(),
            drafts: Vec::new(),
            edges: Vec::new(),
            binding: None,
            notions: Vec::new(),
            closures: Vec::new(),
            seams: Vec::new(),
            thread: None,
            sizing: None,
            time: None,
            made_for: MadeFor::Adult,
            lays: Vec::new(),
        }
    }

    /// As someone who counts in `unit` reads it: that unit first, and the shop's
    /// step usual with it where the plan has the one usual with its own.
    pub fn read_in(&self, unit: measure::Unit) -> Plan {
        let mut plan = self.clone();
        if plan.allowances.shop_step == Allowances::for_unit(self.unit).shop_step {
            plan.allowances.shop_step = Allowances::for_unit(unit).shop_step;
        }
        plan.unit = unit;
        plan
    }

    /// Without what follows from outlines: only what was decided, so that one
    /// device's change of a draft does not clash with another's of its piece.
    pub fn as_written(mut self) -> Plan {
        self.pieces = self.pieces.into_iter().map(Piece::as_written).collect();
        self.edges = self.edges.into_iter().map(Edge::as_written).collect();
        self.drafts = self.drafts.into_iter().map(Draft::as_written).collect();
        self
    }

    pub fn cloth(&self, id: &str) -> Option<&Cloth> {
        self.cloths.iter().find(|c| c.id == id)
    }

    pub fn piece(&self, id: &str) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.id == id)
    }

    pub fn draft(&self, id: &str) -> Option<&Draft> {
        self.drafts.iter().find(|d| d.id == id)
    }

    /// Pieces made from a draft.
    pub fn drafted_from(&self, draft: &str) -> impl Iterator<Item = &Piece> {
        self.pieces.iter().filter(move |p| p.draft() == Some(draft))
    }

    pub fn edge(&self, id: &str) -> Option<&Edge> {
        self.edges.iter().find(|e| e.id == id)
    }

    pub fn notion(&self, id: &str) -> Option<&Notion> {
        self.notions.iter().find(|n| n.id == id)
    }

    pub fn closure(&self, id: &str) -> Option<&Closure> {
        self.closures.iter().find(|c| c.id == id)
    }

    pub fn seam(&self, id: &str) -> Option<&Seam> {
        self.seams.iter().find(|s| s.id == id)
    }

    /// The lay that is kept of a cloth.
    pub fn lay(&self, cloth: &str) -> Option<&KeptLay> {
        self.lays.iter().find(|l| l.cloth == cloth)
    }

    /// An id for a new part that no part of this plan has: `p1`, `c2`, `e3`.
    pub fn free_id(&self, letter: char) -> String {
        let taken = |id: &str| {
            self.cloth(id).is_some()
                || self.piece(id).is_some()
                || self.draft(id).is_some()
                || self.edge(id).is_some()
                || self.notion(id).is_some()
                || self.closure(id).is_some()
                || self.seam(id).is_some()
        };
        (1..)
            .map(|n| format!("{letter}{n}"))
            .find(|id| !taken(id))
            .unwrap_or_default()
    }

    /// Where a cloth is used, in words: what stands in the way of taking it out.
    pub fn uses_of(&self, cloth: &str) -> Vec<String> {
        let mut uses: Vec<String> = Vec::new();
        for piece in &self.pieces {
            if piece.face.as_ref().is_some_and(|f| f.cloths().any(|c| c == cloth)) {
                uses.push(format!("the face of {}", piece.name));
            }
            if let Some(layers) = &piece.layers {
                if layers.batting.as_deref() == Some(cloth) {
                    uses.push(format!("the batting of {}", piece.name));
                }
                if layers.backing.as_deref() == Some(cloth) {
                    uses.push(format!("the backing of {}", piece.name));
                }
            }
        }
        if self.binding.as_ref().is_some_and(|b| b.cloth == cloth) {
            uses.push("the binding".into());
        }
        uses
    }
}
