//! Notchbook: a maker's notebook that works out the cloth.
//!
//! Layers, an arrow points only downward (DEVELOPERS.md):
//! cli -> web -> sheets -> notebook (+ photos) -> figures, drafting -> plan -> measure.

pub mod cli;
pub mod drafting;
pub mod figures;
pub mod measure;
pub mod notebook;
pub mod photos;
pub mod plan;
pub mod sheets;
pub mod web;
