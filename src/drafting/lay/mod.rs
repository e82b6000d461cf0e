//! Outlines laid on cloth: from the bolt, single or folded, or on leftovers.
//!
//! What is asked:
//! - [`problem`]: pieces, cloth, gap, and what is refused
//! - [`prepared`]: every way a piece may lie, worked out once
//! - [`simpler`], [`body`], [`circles`]: outlines made quick to ask
//! - [`outline`]: closed outlines of straight edges
//!
//! What is found:
//! - [`slide`]: a first layout, piece by piece
//! - [`tangle`], [`repair`]: overlaps, and how they are undone
//! - [`search`]: which layouts are tried, in steps
//! - [`bound`], [`proof`]: what no layout can do
//! - [`check`]: the last look at what is given out
//! - [`again`]: the same look at what was kept
//! - [`layout`]: where every copy lies

mod again;
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

pub use again::{Misfit, Place, laid_again};
pub use circles::roomiest;
pub use layout::{Layout, Placement};
pub use outline::{TOUCH, between};
pub use problem::{Cloth, Faces, MOST_COPIES, MOST_CORNERS, Piece, Problem, ProblemError, Turns};
pub use proof::Proof;
pub use search::{Search, State};
