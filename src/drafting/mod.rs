//! Drafting: outlines from measures. Pure, like the figures; knows no figures,
//! no database and no page.
//!
//! - [`shape`]: an outline that can be measured, cut and drawn
//! - [`settle`]: the outlines of a plan's pieces, and what follows from them
//! - [`problem`]: what stands in the way of one
//! - [`lay`]: outlines laid on cloth
//!
//! - [`parts`]: from a draft to its parts
//! - [`measures`], [`drawing`]: what every draft is written with
//! - [`drafts`]: the drafts, a file each
//! - [`sewn`]: the length of the edges a draft is sewn to
//! - [`partners`]: parts that are sewn to each other
//! - [`circle`]: radii of circles and parts of them
//!
//! [`formats`] reads outlines from files and writes them. [`trace`] measures a piece on a photo.

mod circle;
mod drafts;
mod drawing;
pub mod formats;
pub mod lay;
mod measures;
mod partners;
mod parts;
mod problem;
mod settle;
mod sewn;
mod shape;
pub mod trace;

pub use circle::circle_radius;
pub use drafts::cautions::cautions;
pub use partners::unequal_seams;
pub use problem::DraftProblem;
pub use settle::{Part, Settled, parts_of, settled, shape_of};
pub use sewn::{SewnTimes, SewnTo, as_sewn, sewn_to};
pub use shape::{BOUND, CutSize, Place, Shape, ShapeEdge, ShapeNotch, Told, path_of, point_of};
