//! The pieces of a plan that are cut from one cloth, as outlines laid on it:
//! on its width from the bolt, single or folded, or on its remnants.
//!
//! - [`pieces`]: which pieces, and the outline each is cut by
//! - [`ground`]: what they are laid on
//! - [`answer`]: a layout as it is drawn, what is to be bought
//! - [`words`]: why there is none, in a sentence
//!
//! Looking for a layout takes time, so it is not one of the figures that every
//! page works out: [`LayJob::problem`] goes into a search, and what that finds
//! comes back through [`LayJob::answer`].

mod answer;
mod ground;
mod pieces;
mod words;

pub use answer::{LaidPiece, LayFigures, LaySheet};
pub use ground::LayGround;
pub use pieces::LayPiece;

use super::{Figures, Problem};
use crate::drafting::lay;
use crate::measure::Length;
use crate::plan::{Cloth, Plan};

/// How pieces may be turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash, serde::Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LayTurns {
    /// Along the grain, either way up.
    #[default]
    BothWays,
    /// All tops the same way: one-way print or nap.
    OneWay,
    /// Along or across the grain.
    Across,
}

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
    /// Of each leftover in the problem, which kind of remnant it is.
    leftovers: Vec<String>,
}

/// The pieces a cloth of the plan may be asked about, in the plan's order.
/// `figures` are those of the plan.
pub fn lay_pieces(plan: &Plan, figures: &Figures, cloth: &str) -> Vec<LayPiece> {
    pieces::of(plan, figures, cloth)
}

/// What the cloth's pieces can be laid on.
pub fn lay_grounds(cloth: &Cloth) -> Vec<LayGround> {
    ground::of(cloth)
}

/// The wish as a problem to lay. Refused with the field that is wrong: `pieces`,
/// `ground`, `gap`, or the cloth itself.
pub fn lay_job<'a>(plan: &'a Plan, figures: &Figures, cloth: &'a Cloth, wish: &LayWish) -> Result<LayJob<'a>, Problem> {
    let chosen: Vec<LayPiece> = lay_pieces(plan, figures, &cloth.id)
        .into_iter()
        .filter(|p| wish.pieces.contains(&p.piece))
        .collect();
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
