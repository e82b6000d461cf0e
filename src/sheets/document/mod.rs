//! A sheet as a plain value: what stands on it, in order, before anybody
//! decides whether it becomes a page or paper. Holds words and drawings that
//! are ready to be shown; nothing in it is worked out any more.
//!
//! - [`table`]: rows and columns
//! - [`drawing`]: drawings to scale

mod drawing;
mod table;

pub use drawing::{Drawing, Ground, Hatch, Label, Line, POINT, Point, Shape, mm, scale_for, scale_words, tint};
pub use table::{Cell, Column, Row, Table};

use chrono::NaiveDate;
use std::sync::Arc;

/// One sheet.
#[derive(Clone, Debug, Default)]
pub struct Document {
    /// What kind of sheet it is: "Cut sheet".
    pub kind: &'static str,
    /// What it is of: the project's title.
    pub title: String,
    /// Which state of it: "Revision 7".
    pub state: String,
    /// The day it was made.
    pub date: NaiveDate,
    pub blocks: Vec<Block>,
}

impl Document {
    /// The date in words: `3 May 2026`.
    pub fn date_words(&self) -> String {
        self.date.format("%-d %B %Y").to_string()
    }
}

#[derive(Clone, Debug)]
pub enum Block {
    /// A part of the sheet; what follows it stays with it.
    Heading(String),
    /// A part of a part.
    Subheading(String),
    Text(String),
    /// In smaller letters: where a figure comes from.
    Small(String),
    /// What to mind.
    Cautions(Vec<String>),
    /// A few figures side by side: what, the number, a line under it.
    Numbers(Vec<Number>),
    Table(Table),
    /// What is done one after the other, each with a box to tick.
    Steps(Vec<String>),
    /// Side by side where there is room.
    Drawings(Vec<Drawing>),
    /// Alone it is large, several stand side by side.
    Pictures(Vec<Picture>),
}

/// A photo.
#[derive(Clone, Debug)]
pub struct Picture {
    /// Names it in the notebook, for a page.
    pub hash: String,
    /// What it shows, for those who cannot see it.
    pub says: String,
    /// Words under it; may be empty.
    pub under: String,
    /// For paper.
    pub jpeg: Arc<Vec<u8>>,
}

#[derive(Clone, Debug, Default)]
pub struct Number {
    pub what: String,
    pub number: String,
    pub under: String,
}

impl Number {
    pub fn new(what: &str, number: impl Into<String>, under: impl Into<String>) -> Number {
        Number {
            what: what.into(),
            number: number.into(),
            under: under.into(),
        }
    }
}
