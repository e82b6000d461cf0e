//! Patterns at full size: pieces side by side on a plane, the plane on sheets of
//! paper. All in millimetres; the outlines come from [`crate::drafting`].
//!
//! - [`size`]: papers and how much of one is printed on
//! - [`place`]: pieces on the plane, whole on one sheet where they fit; [`pack`]: turned,
//!   and into gaps
//! - [`tiles`]: which sheets the plane needs, their names
//! - [`ink`]: what is drawn, as values
//! - [`piece`]: the lines of a piece; [`label`]: where its words stand
//! - [`cover`]: test squares, instructions, the map; [`map`]: the map
//! - [`sheet`]: one sheet: join marks, frame, foot

mod cover;
pub mod ink;
mod label;
mod map;
mod pack;
mod piece;
mod place;
mod sheet;
mod size;
mod tiles;

pub use map::PatternMap;
pub use size::PatternPaper;

use crate::drafting::formats::DrawnPiece;
use chrono::NaiveDate;
use ink::Plot;
use place::Placed;
use tiles::Tiles;

/// The most sheets of one file.
pub const MOST_PAGES: usize = 400;

/// What is printed: pieces of one project.
#[derive(Clone, Debug)]
pub struct PatternSheet {
    pub title: String,
    pub date: NaiveDate,
    pub pieces: Vec<DrawnPiece>,
}

/// The pieces laid out on a paper.
pub struct LaidOut {
    /// As they lie: some turned by a quarter.
    pieces: Vec<DrawnPiece>,
    placed: Vec<Placed>,
    tiles: Tiles,
    paper: PatternPaper,
}

impl PatternSheet {
    /// Where each piece comes to lie, or why it cannot be printed on this paper.
    pub fn lay_out(&self, paper: PatternPaper) -> Result<LaidOut, String> {
        if self.pieces.is_empty() {
            return Err("No piece is chosen. Tick at least one.".into());
        }
        let (pieces, placed) = place::place(&self.pieces, paper);
        let tiles = Tiles::of(&pieces, &placed, paper);
        let pages = tiles.all.len() + 1;
        if pages > MOST_PAGES {
            return Err(format!(
                "That would be {pages} sheets of {}; {MOST_PAGES} are the most. Choose fewer pieces, or a larger paper.",
                paper.name()
            ));
        }
        Ok(LaidOut {
            pieces,
            placed,
            tiles,
            paper,
        })
    }

    pub fn map(&self, laid: &LaidOut) -> PatternMap {
        map::map(&laid.pieces, laid)
    }

    /// Every page of the file.
    pub fn plot(&self, laid: &LaidOut) -> Plot {
        let mut plot = Plot {
            title: format!("{}, pattern", self.title),
            date: self.date,
            pages: Vec::new(),
        };
        if laid.paper.has_cover() {
            plot.pages.extend(cover::pages(self, laid));
        }
        let covers = plot.pages.len();
        let count = covers + laid.tiles.all.len();
        for n in 0..laid.tiles.all.len() {
            plot.pages.push(sheet::page(self, laid, n, (covers + n + 1, count)));
        }
        plot
    }
}

/// `3 May 2026`.
fn date_words(date: NaiveDate) -> String {
    date.format("%-d %B %Y").to_string()
}
