//! The pieces of a plan that are cut from one cloth, as outlines laid on it:
//! on its width from the bolt, single or folded, or on its remnants.
//!
//! - [`pieces`]: which pieces, and the outline each is cut by
//! - [`ground`]: what they are laid on
//! - [`answer`]: a layout as it is drawn, what is to be bought
//! - [`words`]: why there is none, in a sentence
//! - [`kept`]: a lay that was kept, asked anew whether it holds
//! - [`not_laid`]: the pieces of the plan that are no part of it, and why
//!
//! Looking for a layout takes time, so it is not one of the figures that every
//! page works out: [`LayJob::problem`] goes into a search, and what that finds
//! comes back through [`LayJob::answer`].

mod answer;
mod ground;
mod kept;
mod not_laid;
mod pieces;
mod words;

pub use crate::plan::{LayGround, LayTurns};
pub use answer::{LaidPiece, LayFigures, LaySheet};
pub use kept::{HeldLay, kept_lay};
pub use not_laid::{NotLaid, WhyNotLaid, layers_under, not_laid};
pub use pieces::LayPiece;

pub(super) use kept::held;

use super::{Figures, PieceFigures, Problem, Size};
use crate::drafting::lay;
use crate::measure::Length;
use crate::plan::{Cloth, Plan};

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct LayWish {
    /// Ids of pieces; those that are not cut from this cloth are left out.
    pub pieces: Vec<String>,
    pub ground: LayGround,
    pub turns: LayTurns,
    /// Least distance between two cut lines.
    pub gap: Length,
}

/// Everything a search and its answer need.
#[derive(Clone, Debug)]
pub struct LayJob<'a> {
    pub problem: lay::Problem,
    pub pieces: Vec<LayPiece>,
    plan: &'a Plan,
    cloth: &'a Cloth,
    ground: LayGround,
    turns: LayTurns,
    leftovers: Vec<Leftover>,
}

/// A leftover in the problem.
#[derive(Clone, Debug)]
struct Leftover {
    name: String,
    /// Which kind of remnant it is, rectangles first, and which of them, from 0.
    kind: usize,
    nth: u32,
}

/// The pieces a cloth of the plan may be asked about, in the plan's order.
/// `figures` are those of the plan.
pub fn lay_pieces(plan: &Plan, figures: &Figures, cloth: &str) -> Vec<LayPiece> {
    pieces::of(plan, cloth, |piece| panel_in(figures, piece))
}

/// The same while the figures are being worked out.
pub(super) fn pieces_on(plan: &Plan, pieces: &[(usize, PieceFigures)], cloth: &str) -> Vec<LayPiece> {
    pieces::of(plan, cloth, |id| {
        let (_, found) = pieces.iter().find(|(_, f)| f.piece == id)?;
        Some(found.panel.as_ref()?.before)
    })
}

/// What the cloth's pieces can be laid on.
pub fn lay_grounds(cloth: &Cloth) -> Vec<LayGround> {
    ground::of(cloth)
}

/// The wish as a problem to lay. Refused with the field that is wrong: `pieces`,
/// `ground`, `gap`, or the cloth itself.
pub fn lay_job<'a>(plan: &'a Plan, figures: &Figures, cloth: &'a Cloth, wish: &LayWish) -> Result<LayJob<'a>, Problem> {
    job_of(plan, lay_pieces(plan, figures, &cloth.id), cloth, wish)
}

/// The size of a piece's panel; without one it cannot be laid.
fn panel_in(figures: &Figures, piece: &str) -> Option<Size> {
    let found = figures.pieces.iter().find(|f| f.piece == piece)?;
    Some(found.panel.as_ref()?.before)
}

fn job_of<'a>(plan: &'a Plan, pieces: Vec<LayPiece>, cloth: &'a Cloth, wish: &LayWish) -> Result<LayJob<'a>, Problem> {
    let chosen: Vec<LayPiece> = pieces.into_iter().filter(|p| wish.pieces.contains(&p.piece)).collect();
    let refused = |field: &str, message: String| Problem {
        field: field.into(),
        message,
    };
    let (laid_on, leftovers) = ground::cloth(cloth, wish.ground).map_err(|message| refused("ground", message))?;
    let problem = lay::Problem {
        pieces: chosen.iter().map(|p| p.laid(wish.ground, wish.turns)).collect(),
        cloth: laid_on,
        gap: wish.gap.as_mm_f64(),
    };
    // Everything that is refused without laying anything.
    if let Err(error) = problem.check() {
        let field = match error {
            lay::ProblemError::Width | lay::ProblemError::Remnant(_) => "ground",
            lay::ProblemError::Gap => "gap",
            _ => "pieces",
        };
        return Err(refused(field, error.to_string()));
    }
    Ok(LayJob {
        problem,
        pieces: chosen,
        plan,
        cloth,
        ground: wish.ground,
        turns: wish.turns,
        leftovers,
    })
}
