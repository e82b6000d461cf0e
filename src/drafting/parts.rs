//! From a draft to its parts.

use super::drafts::{
    along, bag, band, box_cover, circle_piece, cushion, gathered, pocket, three_panel_hood, two_piece_hood,
};
use super::measures::Measures;
use super::{DraftProblem, partners, sewn};
use crate::plan::{Draft, DraftKind, PatternOutline, Plan, limits};

/// One part of a draft: what becomes a piece of the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// How pieces name it: `side`.
    pub key: &'static str,
    /// To propose as the piece's name.
    pub name: String,
    /// How many to cut; of a mirrored pair, both.
    pub cut_count: u32,
    pub mirrored: bool,
    pub outline: PatternOutline,
}

/// The parts a draft makes, or what is wrong with its measures.
pub fn parts_of(plan: &Plan, draft: &Draft) -> Result<Vec<Part>, Vec<DraftProblem>> {
    on_trail(plan, draft, &mut Vec::new())
}

pub(super) fn on_trail(plan: &Plan, draft: &Draft, trail: &mut Vec<String>) -> Result<Vec<Part>, Vec<DraftProblem>> {
    let at = format!("drafts/{}", draft.id);
    if trail.contains(&draft.id) {
        return Err(vec![DraftProblem::new(
            at,
            format!("“{}” follows an edge that follows it. Choose another edge.", draft.name),
        )]);
    }
    trail.push(draft.id.clone());
    let mut measures = Measures::new(&at, plan.unit, draft.seam);
    let draft = sewn::on_trail(plan, draft, &mut measures, trail);
    let mut made = match &draft.kind {
        DraftKind::ThreePanelHood(hood) => three_panel_hood::draft(hood, measures),
        DraftKind::TwoPieceHood(hood) => two_piece_hood::draft(hood, measures),
        DraftKind::PatchPocket(pocket) => pocket::draft(pocket, measures),
        DraftKind::Band(band) => band::band(band, measures),
        DraftKind::Tie(tie) => band::tie(tie, measures),
        DraftKind::ShapedFacing(facing) => along::facing(facing, measures, plan, trail),
        DraftKind::BiasStrip(strip) => along::bias(strip, measures, plan, trail),
        DraftKind::CirclePiece(circle) => circle_piece::draft(circle, measures),
        DraftKind::GatheredRectangle(rectangle) => gathered::draft(rectangle, measures),
        DraftKind::CushionCover(cover) => cushion::draft(cover, measures),
        DraftKind::BoxCover(cover) => box_cover::draft(cover, measures),
        DraftKind::BagBody(bag) => bag::draft(bag, measures),
    };
    trail.pop();
    if let Ok(parts) = &mut made {
        partners::follow(plan, &draft, parts);
    }
    made
}

/// What is wrong with the list of drafts.
pub(super) fn problems(plan: &Plan) -> Vec<DraftProblem> {
    let mut found = Vec::new();
    if plan.drafts.len() > limits::DRAFTS {
        found.push(DraftProblem::new(
            "drafts",
            format!(
                "The plan has {} drafts; it can hold {}. Divide it into two projects.",
                plan.drafts.len(),
                limits::DRAFTS
            ),
        ));
        return found;
    }
    for (i, draft) in plan.drafts.iter().enumerate() {
        let at = format!("drafts/{}", draft.id);
        if draft.name.trim().is_empty() {
            found.push(DraftProblem::new(
                format!("{at}/name"),
                "This draft has no name. Type one.",
            ));
        } else if draft.name.chars().count() > limits::TEXT {
            found.push(DraftProblem::new(
                format!("{at}/name"),
                format!(
                    "The name of a draft is longer than {} characters. Shorten it.",
                    limits::TEXT
                ),
            ));
        }
        if draft.id.trim().is_empty() || plan.drafts.iter().take(i).any(|d| d.id == draft.id) {
            found.push(DraftProblem::new(
                format!("{at}/id"),
                format!(
                    "The id “{}” of a draft is empty or stands twice. Give each draft its own.",
                    draft.id
                ),
            ));
        }
    }
    found
}
