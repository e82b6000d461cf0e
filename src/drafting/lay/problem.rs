//! What is to be laid on what, and what is refused at once.

use super::outline::{crosses_itself, tidied};
use kurbo::Point;

/// Most copies of all pieces together, and most corners of one outline.
pub const MOST_COPIES: usize = 400;
pub const MOST_CORNERS: usize = 2000;
/// Largest measure of anything here, in millimetres: the 200 m of every length.
const LARGEST: f64 = 200_000.0;

/// How a piece may be turned on the cloth.
#[derive(Clone, Debug, PartialEq)]
pub enum Turns {
    /// As it is: one-way print or nap.
    OneWay,
    /// Along the grain either way up.
    BothWays,
    /// Along or across the grain.
    Quarters,
    /// By these angles in degrees.
    Angles(Vec<f64>),
}

impl Turns {
    pub(super) fn degrees(&self) -> Vec<f64> {
        match self {
            Turns::OneWay => vec![0.0],
            Turns::BothWays => vec![0.0, 180.0],
            Turns::Quarters => vec![0.0, 180.0, 90.0, 270.0],
            Turns::Angles(list) => list.iter().map(|d| d.rem_euclid(360.0)).collect(),
        }
    }
}

/// Which face of the cloth the copies need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Faces {
    /// All copies alike.
    Alike,
    /// A mirrored pair: every second copy mirrored across the grain.
    Pair,
    /// Cloth without a right side: each copy either way.
    Either,
}

/// A piece to be cut. Its outline has its seam allowances; `x` runs along the
/// grain, `y` across, both in millimetres.
#[derive(Clone, Debug)]
pub struct Piece {
    pub name: String,
    pub outline: Vec<Point>,
    /// How many in all; of a mirrored pair, both.
    pub count: usize,
    pub turns: Turns,
    pub faces: Faces,
    /// A half piece whose edge of smallest `y` lies on the fold of the cloth.
    pub on_fold: bool,
}

/// What the pieces are cut from. `x` runs along the cloth, `y` from one selvage
/// (or the fold) to the other.
#[derive(Clone, Debug)]
pub enum Cloth {
    /// One layer of this usable width, as long as it takes.
    Single { width: f64 },
    /// Folded lengthwise, right sides together: two layers of half this width.
    Folded { width: f64 },
    /// Leftovers of these outlines, one layer, grain along `x`.
    Remnants(Vec<Vec<Point>>),
}

#[derive(Clone, Debug)]
pub struct Problem {
    pub pieces: Vec<Piece>,
    pub cloth: Cloth,
    /// Least distance between two cut pieces, in millimetres.
    pub gap: f64,
}

/// Why nothing can be laid, in a sentence that says what to do.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ProblemError {
    #[error("Choose at least one piece to lay.")]
    NoPieces,
    #[error("These are more than {MOST_COPIES} pieces. Lay them in several goes.")]
    TooMany,
    #[error("The outline of {0} needs three corners or more, and none beyond 200 m.")]
    NoOutline(String),
    #[error("The outline of {0} crosses itself. Mend it first.")]
    Crosses(String),
    #[error("The outline of {0} has more than {MOST_CORNERS} corners.")]
    Corners(String),
    #[error("{0} lies on the fold. Fold the cloth lengthwise, or lay the whole piece on a single layer.")]
    NoFold(String),
    #[error(
        "{0} is not its own mirror image, and doubled cloth gives one of each hand. Lay it on a single layer, or make it a mirrored pair."
    )]
    OneHand(String),
    #[error("The cloth needs a width between 1 mm and 200 m.")]
    Width,
    #[error("Remnant {0} needs an outline that does not cross itself.")]
    Remnant(usize),
    #[error("The gap between pieces can be from nothing to 10 cm.")]
    Gap,
}

impl Problem {
    /// What is wrong with it that shows without laying anything; one thing more,
    /// a piece of one hand on doubled cloth, is said when a search begins.
    pub fn check(&self) -> Result<(), ProblemError> {
        if self.pieces.iter().all(|p| p.count == 0) {
            return Err(ProblemError::NoPieces);
        }
        if self.pieces.iter().map(|p| p.count.min(MOST_COPIES + 1)).sum::<usize>() > MOST_COPIES {
            return Err(ProblemError::TooMany);
        }
        if !(0.0..=100.0).contains(&self.gap) {
            return Err(ProblemError::Gap);
        }
        for piece in &self.pieces {
            match trouble(&piece.outline) {
                Some(Trouble::None) => return Err(ProblemError::NoOutline(piece.name.clone())),
                Some(Trouble::Many) => return Err(ProblemError::Corners(piece.name.clone())),
                Some(Trouble::Crossed) => return Err(ProblemError::Crosses(piece.name.clone())),
                None => {}
            }
            if piece.on_fold && !matches!(self.cloth, Cloth::Folded { .. }) {
                return Err(ProblemError::NoFold(piece.name.clone()));
            }
            if let Turns::Angles(list) = &piece.turns
                && (list.is_empty() || list.iter().any(|d| !d.is_finite()))
            {
                return Err(ProblemError::NoOutline(piece.name.clone()));
            }
        }
        match &self.cloth {
            Cloth::Single { width } | Cloth::Folded { width } => {
                if !(1.0..=LARGEST).contains(width) {
                    return Err(ProblemError::Width);
                }
            }
            Cloth::Remnants(outlines) => {
                if outlines.is_empty() {
                    return Err(ProblemError::Width);
                }
                if let Some(at) = outlines.iter().position(|o| trouble(o).is_some()) {
                    return Err(ProblemError::Remnant(at + 1));
                }
            }
        }
        Ok(())
    }
}

enum Trouble {
    None,
    Many,
    Crossed,
}

fn trouble(outline: &[Point]) -> Option<Trouble> {
    let finite = |p: &Point| p.x.abs() <= LARGEST && p.y.abs() <= LARGEST;
    if outline.len() > MOST_CORNERS {
        return Some(Trouble::Many);
    }
    if !outline.iter().all(finite) {
        return Some(Trouble::None);
    }
    let tidy = tidied(outline);
    if tidy.len() < 3 {
        return Some(Trouble::None);
    }
    // A bow's halves cancel: crossing is looked for before area.
    if crosses_itself(&tidy) {
        return Some(Trouble::Crossed);
    }
    (super::outline::area(&tidy) < 1.0).then_some(Trouble::None)
}
