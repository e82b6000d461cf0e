//! The outlines of a plan's pieces, and what follows from them: width and height
//! of the piece, whether it lies on the fold, lengths of bound edges. The one
//! place where they are worked out.

use super::shape::{Shape, Told};
use super::{DraftProblem, as_sewn, parts};
use crate::plan::{Piece, Plan, Source};
use std::borrow::Cow;

pub use parts::{Part, parts_of};

/// A plan whose pieces and edges are as their outlines say.
#[derive(Clone, Debug)]
pub struct Settled<'a> {
    pub plan: Cow<'a, Plan>,
    pub problems: Vec<DraftProblem>,
    /// Ids of pieces with an outline that could not be worked out: their width
    /// and height are as they were before, and nothing may be built on them.
    pub unsettled_pieces: Vec<String>,
    /// Ids of edges to bind whose outline could not be worked out.
    pub unsettled_edges: Vec<String>,
}

impl Plan {
    /// Whether anything in it follows from an outline.
    fn has_outlines(&self) -> bool {
        !self.drafts.is_empty()
            || self.pieces.iter().any(|p| p.pattern.is_some())
            || self.edges.iter().any(|e| e.from.is_some())
    }
}

/// The plan with width, height and fold of each piece that has a pattern, and the
/// lengths of edges taken from one, filled in.
pub fn settled(plan: &Plan) -> Settled<'_> {
    let mut settled = Settled {
        plan: Cow::Borrowed(plan),
        problems: Vec::new(),
        unsettled_pieces: Vec::new(),
        unsettled_edges: Vec::new(),
    };
    if !plan.has_outlines() {
        return settled;
    }
    settled.problems.extend(parts::problems(plan));
    let mut new = plan.clone();
    for draft in &mut new.drafts {
        // What is wrong with its edges the pieces made from it say.
        if let Ok(sewn) = as_sewn(plan, draft) {
            *draft = sewn;
        }
    }
    let mut shapes = Vec::new();
    for piece in new.pieces.iter_mut().filter(|p| p.pattern.is_some()) {
        match shape_of(plan, piece) {
            Ok(shape) => {
                let size = shape.cut_size();
                piece.width = size.width;
                piece.height = size.height;
                piece.on_fold = shape.fold_x().is_some();
                if !piece.alterations.is_empty() {
                    settled.problems.push(DraftProblem::new(
                        format!("pieces/{}/alterations", piece.id),
                        format!(
                            "{} has an outline, so it is altered by changes of the outline. Take its alterations of width and height out and lengthen the outline instead.",
                            piece.name
                        ),
                    ));
                    settled.unsettled_pieces.push(piece.id.clone());
                }
                shapes.push((piece.id.clone(), shape));
            }
            Err(problems) => {
                settled.problems.extend(problems);
                settled.unsettled_pieces.push(piece.id.clone());
            }
        }
    }
    for edge in &mut new.edges {
        let Some(from) = &edge.from else { continue };
        let shape = shapes.iter().find(|(id, _)| *id == from.piece).map(|(_, s)| s);
        let found = shape.and_then(|s| s.edge(&from.edge).map(|e| s.sewn_length(e)));
        match found {
            Some(length) => edge.length = length,
            None => {
                settled.unsettled_edges.push(edge.id.clone());
                if let Some(sentence) = missing(plan, &edge.name, from, shape.is_some()) {
                    let field = format!("edges/{}/from", edge.id);
                    settled.problems.push(DraftProblem::new(field, sentence));
                }
            }
        }
    }
    settled.plan = Cow::Owned(new);
    settled
}

/// Why an edge is not found; nothing where its piece's own problem says it.
fn missing(plan: &Plan, name: &str, from: &crate::plan::EdgeOf, drawn: bool) -> Option<String> {
    match plan.piece(&from.piece) {
        None => Some(format!(
            "{name} is taken from a piece that is no longer in the plan. Choose another, or type its length."
        )),
        Some(piece) if piece.pattern.is_none() => Some(format!(
            "{name} is taken from the outline of {}, which has none. Choose another, or type its length.",
            piece.name
        )),
        Some(piece) if drawn => Some(format!(
            "{} has no edge “{}” for {name}. Choose another, or type its length.",
            piece.name, from.edge
        )),
        Some(_) => None,
    }
}

/// The outline of a piece with all its changes.
pub fn shape_of(plan: &Plan, piece: &Piece) -> Result<Shape, Vec<DraftProblem>> {
    shape_on_trail(plan, piece, &mut Vec::new())
}

/// As [`shape_of`]; `trail` are the drafts being worked out, so that none waits
/// for itself.
pub(super) fn shape_on_trail(plan: &Plan, piece: &Piece, trail: &mut Vec<String>) -> Result<Shape, Vec<DraftProblem>> {
    let Some(pattern) = &piece.pattern else {
        return Err(vec![DraftProblem::new(
            format!("pieces/{}/pattern", piece.id),
            format!("{} has no outline. Draft it, or draw one.", piece.name),
        )]);
    };
    let told = Told {
        field: format!("pieces/{}/pattern", piece.id),
        name: &piece.name,
        unit: plan.unit,
    };
    let shape = match &pattern.from {
        Source::Drawn(outline) => {
            let inner = Told {
                field: format!("{}/from/drawn", told.field),
                ..told.clone()
            };
            Shape::of(outline, &inner)?
        }
        Source::Draft(of) => {
            let wrong = |sentence: String| Err(vec![DraftProblem::new(format!("{}/from", told.field), sentence)]);
            let Some(draft) = plan.draft(&of.draft) else {
                return wrong(format!(
                    "{} comes from a draft that is no longer in the plan. Draft it again, or take the outline off.",
                    piece.name
                ));
            };
            let made = parts::on_trail(plan, draft, trail)?;
            let Some(part) = made.into_iter().find(|p| p.key == of.part) else {
                return wrong(format!(
                    "The draft “{}” has no part “{}” any more. Take {} out, or change the draft.",
                    draft.name, of.part, piece.name
                ));
            };
            Shape::of(&part.outline, &told)?
        }
    };
    if pattern.changes.len() > crate::plan::limits::OUTLINE_CHANGES {
        return Err(vec![DraftProblem::new(
            format!("{}/changes", told.field),
            format!(
                "{} has {} changes of its outline; it can hold {}. Add some of them up.",
                piece.name,
                pattern.changes.len(),
                crate::plan::limits::OUTLINE_CHANGES
            ),
        )]);
    }
    shape.changed(&pattern.finish, &pattern.changes, &told)
}
