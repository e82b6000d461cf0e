//! SVG with real units.
//!
//! - [`read`](read()): the closed outlines of a drawing
//! - [`element`]: the lines of one element; [`path`]: path data
//! - [`copies`]: linked copies (`use`)
//! - [`size`]: what one unit of the drawing is, viewports
//! - [`write`](write()): pieces, a group each

mod copies;
mod element;
mod path;
mod read;
mod size;
mod write;

pub use read::read;
pub use write::write;
