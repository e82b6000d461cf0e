//! Sheets as PDF, written by the program itself: no browser, no printer
//! driver, letters embedded.
//!
//! - [`letters`]: the type, how wide a text is, where a line breaks
//! - [`marks`]: what a page is made of
//! - [`marks_sheet`]: marks to trace a piece by
//! - [`said`]: what is read out to those who cannot see it
//! - [`strips`]: blocks as strips that are never divided between two pages
//! - [`rows`]: a table as such strips
//! - [`picture`]: a drawing
//! - [`photos`]: photos, alone or side by side
//! - [`pages`]: strips on pages
//! - [`write`]: pages as a PDF file
//! - [`plot`](mod@plot): patterns at full size as a PDF file

pub(super) mod letters;
mod marks;
mod marks_sheet;
mod pages;
mod photos;
mod picture;
mod plot;
mod rows;
pub(super) mod said;
mod strips;
mod write;

pub use marks_sheet::marks_sheet;
pub use plot::plot;

use super::document::Document;

/// The paper a sheet is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Paper {
    #[default]
    A4,
    Letter,
}

impl Paper {
    pub const ALL: [Paper; 2] = [Paper::A4, Paper::Letter];

    /// In addresses.
    pub const fn word(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
        }
    }

    pub const fn name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "Letter",
        }
    }

    pub fn read(word: &str) -> Option<Paper> {
        Paper::ALL.into_iter().find(|paper| paper.word() == word)
    }

    /// Width and height in points.
    const fn points(self) -> (f32, f32) {
        match self {
            // 210 by 297 mm.
            Paper::A4 => (595.275_6, 841.889_8),
            // 8 1/2 by 11 in.
            Paper::Letter => (612.0, 792.0),
        }
    }
}

/// The sheet as a PDF file. What cannot be written is a fault of the program,
/// told in a sentence.
pub fn pdf(document: &Document, paper: Paper) -> Result<Vec<u8>, String> {
    let pages = pages::pages(document, paper);
    write::write(document, paper, &pages)
}
