//! Sheets: the plan and the log put on paper or a page. Formats what the
//! figures say; computes nothing.

mod answers;
mod export;
mod list;
mod publish;

pub use answers::answers;
use export::slug;
pub use export::{Exported, export};
pub use list::{
    Chapters, Group, Line, Materials, PICTURE, Section, Source, TITLE, TextLength, Viewer, article, chapters,
    differences, head, materials, pictures, title_for,
};
pub use publish::{Published, publish};
