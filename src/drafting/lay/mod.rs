//! Outlines laid on cloth: from the bolt, single or folded, or on leftovers.

mod body;
mod bound;
mod check;
mod circles;
mod layout;
mod outline;
mod prepared;
mod problem;
mod proof;
mod repair;
mod search;
mod simpler;
mod slide;
mod tangle;

pub use circles::roomiest;
pub use layout::{Layout, Placement};
pub use problem::{Cloth, Faces, MOST_COPIES, MOST_CORNERS, Piece, Problem, ProblemError, Turns};
pub use proof::Proof;
pub use search::{Search, State};
