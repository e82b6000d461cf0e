//! SVG with real units.
//!
//! - [`read`](read()): the closed outlines of a drawing
//! - [`element`]: the lines of one element; [`path`]: path data
//! - [`size`]: what one unit of the drawing is, viewports
//! - [`write`](write()): pieces, a group each

mod element;
mod path;
mod read;
mod size;
mod write;

pub use read::read;
pub use write::write;
