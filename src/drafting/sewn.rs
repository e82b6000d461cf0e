//! The edges a draft is sewn to: a hood to the neck edges of front and back, a
//! band or a ruffle to whatever it goes round. Their length is the draft's.

use super::DraftProblem;
use super::measures::Measures;
use super::settle::shape_on_trail;
use super::shape::{Shape, ShapeEdge, round};
use crate::measure::Length;
use crate::plan::{Draft, EdgeKind, EdgeOf, Plan, SewnEdge, limits};
use std::borrow::Cow;

/// How the length of what a draft is sewn to comes about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SewnTo {
    pub edges: Vec<SewnTimes>,
    /// All edges as often as they count.
    pub total: Length,
    /// The draft takes half of it: the other half is its mirror image.
    pub half: bool,
    pub shorter_by: Length,
    /// What the draft is made for.
    pub length: Length,
}

/// One edge and how often it counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SewnTimes {
    pub piece: String,
    pub edge: String,
    /// As drawn, on its stitching line.
    pub length: Length,
    pub times: u32,
}

/// What the draft is sewn to; nothing where its length is typed.
pub fn sewn_to(plan: &Plan, draft: &Draft) -> Result<Option<SewnTo>, Vec<DraftProblem>> {
    let mut m = Measures::new(&format!("drafts/{}", draft.id), plan.unit, draft.seam);
    let found = of(plan, draft, &mut m, &mut vec![draft.id.clone()]);
    m.end(|| found)
}

/// The draft with the length of what it is sewn to.
pub fn as_sewn(plan: &Plan, draft: &Draft) -> Result<Draft, Vec<DraftProblem>> {
    let sewn = sewn_to(plan, draft)?;
    let mut new = draft.clone();
    if let (Some(found), Some(taken)) = (sewn, new.kind.sewn()) {
        *taken.length = found.length;
    }
    Ok(new)
}

/// As [`as_sewn`], while drafts are worked out; what is wrong is told to `m`.
pub(super) fn on_trail<'a>(plan: &Plan, draft: &'a Draft, m: &mut Measures, trail: &mut Vec<String>) -> Cow<'a, Draft> {
    let Some(found) = of(plan, draft, m, trail) else {
        return Cow::Borrowed(draft);
    };
    let mut new = draft.clone();
    if let Some(taken) = new.kind.sewn() {
        *taken.length = found.length;
    }
    Cow::Owned(new)
}

fn of(plan: &Plan, draft: &Draft, m: &mut Measures, trail: &mut Vec<String>) -> Option<SewnTo> {
    let mut kind = draft.kind.clone();
    let taken = kind.sewn()?;
    if taken.edges.is_empty() {
        return None;
    }
    m.between(
        "shorter_by",
        "What it is shorter by",
        *taken.shorter_by,
        Length::ZERO,
        Length::whole_mm(1_000),
    );
    if taken.edges.len() > limits::SEWN_EDGES {
        m.wrong(
            FIELD,
            format!(
                "It is sewn to {} edges; {} can be added up. Type the length instead.",
                taken.edges.len(),
                limits::SEWN_EDGES
            ),
        );
        return None;
    }
    let edges: Vec<(SewnTimes, f64)> = taken
        .edges
        .iter()
        .filter_map(|edge| one(plan, edge, m, trail))
        .collect();
    if edges.len() < taken.edges.len() {
        return None;
    }
    let total: f64 = edges.iter().map(|(_, mm)| mm).sum();
    let share = if taken.half { total / 2.0 } else { total };
    let length = round::nearest(share - round::mm(*taken.shorter_by));
    if !length.is_positive() {
        m.wrong(
            "shorter_by",
            format!(
                "The edges are {} long: that leaves nothing. Type less.",
                m.show(round::nearest(share))
            ),
        );
        return None;
    }
    Some(SewnTo {
        edges: edges.into_iter().map(|(edge, _)| edge).collect(),
        total: round::nearest(total),
        half: taken.half,
        shorter_by: *taken.shorter_by,
        length,
    })
}

/// The field of the edges.
const FIELD: &str = "sewn_to";

/// One edge, and its length as often as it counts in millimetres.
fn one(plan: &Plan, sewn: &SewnEdge, m: &mut Measures, trail: &mut Vec<String>) -> Option<(SewnTimes, f64)> {
    let of = sewn.of();
    let (shape, at) = followed(plan, &of, FIELD, m, trail)?;
    let (piece, edge) = (plan.piece(&of.piece)?, shape.edges.get(at)?);
    let times = sewn.times.unwrap_or_else(|| shape.times_sewn(piece.cut_count));
    if times == 0 || times > limits::CUT_COUNT {
        m.wrong(
            FIELD,
            format!(
                "The edge “{}” of {} counts {times} times. Type a number from 1 to {}.",
                edge.name,
                piece.name,
                limits::CUT_COUNT
            ),
        );
        return None;
    }
    let told = SewnTimes {
        piece: piece.name.clone(),
        edge: edge.name.clone(),
        length: edge.length_nearest(),
        times,
    };
    Some((told, edge.length() * f64::from(times)))
}

/// The shape and the place of its edge a draft follows; what stands in the way
/// is told beside `field`.
pub(super) fn followed(
    plan: &Plan,
    of: &EdgeOf,
    field: &str,
    m: &mut Measures,
    trail: &mut Vec<String>,
) -> Option<(Shape, usize)> {
    let Some(piece) = plan.piece(&of.piece) else {
        m.wrong(
            field,
            "The piece whose edge this follows is not in the plan. Choose an edge.".into(),
        );
        return None;
    };
    let shape = match shape_on_trail(plan, piece, trail) {
        Ok(shape) => shape,
        Err(problems) => {
            let why = problems.first().map(|p| p.sentence.as_str()).unwrap_or_default();
            m.wrong(field, format!("The edge of {} cannot be followed: {why}", piece.name));
            return None;
        }
    };
    let is_it = |e: &ShapeEdge| e.name == of.edge && e.kind != EdgeKind::Fold;
    match shape.edges.iter().position(is_it) {
        Some(at) => Some((shape, at)),
        None => {
            m.wrong(
                field,
                format!("{} has no edge “{}” to follow. Choose an edge.", piece.name, of.edge),
            );
            None
        }
    }
}
