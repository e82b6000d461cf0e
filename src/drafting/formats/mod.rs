//! Outlines from files and into files: bytes in, values out.
//!
//! - [`found`]: what a file holds, and what was wrong with it
//! - [`unit`]: what one of the file's units is
//! - [`edges`]: a closed line as an outline of named edges
//! - [`notches`]: notches of a file on them
//! - [`piece`]: a piece of a plan as it is written and printed
//! - [`svg`]: SVG, [`dxf`]: DXF for apparel
//! - [`line`]: closed lines, open ones joined end to end

pub mod dxf;
mod edges;
mod found;
mod line;
mod notches;
mod piece;
pub mod svg;
mod unit;

pub use edges::{Made, outline_of};
pub use found::{FileProblem, Found, FoundOutline, Inner, Role};
pub use piece::{DrawnNotch, DrawnPiece};
pub use unit::FileUnit;

/// The largest file that is read.
pub const LARGEST: usize = 4 * 1024 * 1024;

/// Outlines to choose from of one file are so many at most.
pub const MOST_OUTLINES: usize = 200;

/// The farthest a line may lie from the file's origin, in millimetres: 200 m.
const FARTHEST: f64 = 200_000.0;

/// Ends that lie so close are one point: a twentieth of a millimetre.
const SAME: f64 = 0.05;

fn too_large(bytes: &[u8]) -> Option<FileProblem> {
    (bytes.len() > LARGEST).then(|| {
        FileProblem::new(
            "The file is larger than 4 MiB. Keep the outlines alone in it: leave pictures and other drawings out, and save it again.",
        )
    })
}
