//! Sheets: the plan and the log put on paper or a page. Formats what the
//! figures say; computes nothing.

mod answers;
mod export;
mod materials;

pub use answers::answers;
pub use export::{Exported, export};
pub use materials::{Line, Materials, PICTURE, Section, TITLE, materials};
