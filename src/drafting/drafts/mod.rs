//! The drafts, each from its measures: a file each.
//!
//! - [`three_panel_hood`], [`two_piece_hood`], with [`neck`]: hoods
//! - [`pocket`]: patch pockets
//! - [`band`]: bands and ties
//! - [`along`]: facings and bias strips for an edge of another piece
//! - [`circle_piece`]: circles and parts of them
//! - [`gathered`]: rectangles to gather
//! - [`cushion`], [`box_cover`]: covers
//! - [`bag`]: bag bodies
//! - [`cautions`]: what can hurt

pub(super) mod along;
pub(super) mod bag;
pub(super) mod band;
pub(super) mod box_cover;
pub(super) mod cautions;
pub(super) mod circle_piece;
pub(super) mod cushion;
pub(super) mod gathered;
mod neck;
pub(super) mod pocket;
pub(super) mod three_panel_hood;
pub(super) mod two_piece_hood;

use super::DraftProblem;
use super::drawing::Drawing;
use super::measures::Measures;
use super::parts::Part;
use super::shape::{Shape, Told};
use crate::measure::{Length, Unit};

/// Nothing drafted is longer: 20 m.
const LARGEST: Length = Length::whole_mm(20_000);
/// The deepest hem.
const DEEPEST: Length = Length::whole_mm(200);
/// Pieces of one part.
const COUNT: u32 = crate::plan::limits::CUT_COUNT;

fn part(key: &'static str, name: &str, cut_count: u32, mirrored: bool, drawing: &mut Drawing) -> Part {
    Part {
        key,
        name: name.into(),
        cut_count,
        mirrored,
        outline: drawing.done(),
    }
}

fn count(m: &mut Measures, field: &str, what: &str, count: u32, most: u32) {
    if count == 0 || count > most {
        m.wrong(field, format!("{what} is {count}. Type a number from 1 to {most}."));
    }
}

/// Whether a part can be cut as it is drawn: measures that do not go together
/// may let its edges cross.
fn sound(part: &Part, unit: Unit) -> bool {
    let told = Told {
        field: String::new(),
        name: &part.name,
        unit,
    };
    Shape::of(&part.outline, &told).is_ok()
}

type Made = Result<Vec<Part>, Vec<DraftProblem>>;
