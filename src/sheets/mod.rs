//! Sheets: the plan and the log put on paper or a page. Formats what the
//! figures say; computes nothing.
//!
//! - [`document`]: a sheet as a plain value
//! - [`cut`]: the cut sheet
//! - [`lay_sheet`]: outlines laid on a cloth
//! - [`piecing`]: the piecing sheet
//! - [`project_sheet`]: the project on paper
//! - [`shop_sheet`]: the shop list
//! - [`swatch_card`]: cloth stapled to paper
//! - [`shapes`]: the patches of a unit
//! - [`paper`]: sheets as PDF
//! - [`pattern`]: pieces at full size on sheets of paper
//! - [`materials`], [`answers`]: what viewers are told
//! - [`export`]: the notebook as a folder a person can read
//! - [`plain`]: the maker's Markdown without its marks
//! - [`words`]: what all of them say alike

mod answers;
mod cut;
pub mod document;
mod export;
mod lay_sheet;
mod list;
mod paper;
mod pattern;
mod piecing;
mod plain;
mod project_sheet;
mod publish;
pub mod shapes;
mod shop_sheet;
mod swatch_card;
mod words;

pub use answers::answers;
pub use cut::cut_sheet;
pub use document::Document;
use export::slug;
pub use export::{Exported, export};
pub use lay_sheet::{LaySheetOf, lay_sheet};
pub use list::{
    Chapters, Group, Line, Materials, OwnUnit, PICTURE, Section, Source, TITLE, TextLength, Viewer, article, chapters,
    differences, head, materials, pictures, title_for,
};
pub use paper::{Paper, marks_sheet, pdf, plot};
pub use pattern::{LaidOut, MOST_PAGES, PatternMap, PatternPaper, PatternSheet};
pub use piecing::piecing_sheet;
pub use project_sheet::{Photo, ProjectSheet, project_sheet};
pub use publish::{Published, publish};
pub use shop_sheet::{ShopSheet, shop_sheet};
pub use swatch_card::swatch_card;
pub use words::{at_sixty, in_both, letter, outline_change_words, purpose_words, sentence, shape_words, way_name};

use chrono::NaiveDate;

/// Which project a sheet is of, in which state, and the day it is made.
#[derive(Clone, Debug)]
pub struct SheetOf {
    pub title: String,
    pub state: String,
    pub date: NaiveDate,
}
