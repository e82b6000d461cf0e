//! Outlines laid on a cloth, on paper: drawn to scale, and piece by piece where
//! each lies, to lay them out by with a tape.
//!
//! - [`drawing`]: a length or remnant, divided where it is long
//! - [`tables`]: what the letters mean, where each copy lies

mod drawing;
mod tables;

use super::SheetOf;
use super::document::{Block, Document, Number, scale_for, scale_words};
use super::words::{in_both, letter, long, wide};
use crate::figures::Figures;
use crate::figures::lay::LayFigures;
use crate::measure::Unit;
use crate::plan::{Cloth, Plan};
use drawing::{around, divided, drawing};
use kurbo::Rect;
use tables::{legend, places};

/// The room of one drawing on the smaller paper, in millimetres.
const ROOM: (f64, f64) = (170.0, 185.0);
/// A drawing keeps to about half a page, unless that makes it much smaller.
const HALF: (f64, f64) = (170.0, 125.0);
/// At this scale a pocket is still told from another.
const READABLE: f64 = 14.0;
/// A long lay is divided into so many drawings at the most.
const DRAWINGS: f64 = 3.0;

/// What a lay sheet is made of.
#[derive(Clone, Copy, Debug)]
pub struct LaySheetOf<'a> {
    pub of: &'a SheetOf,
    pub plan: &'a Plan,
    pub figures: &'a Figures,
    pub cloth: &'a Cloth,
    pub lay: &'a LayFigures,
    /// The plan keeps it; else it was only found.
    pub kept: bool,
}

pub fn lay_sheet(sheet: &LaySheetOf) -> Document {
    let (unit, lay) = (sheet.plan.unit, sheet.lay);
    let at = sheet
        .plan
        .cloths
        .iter()
        .position(|c| c.id == sheet.cloth.id)
        .unwrap_or(0);
    let figures = sheet.figures.cloths.iter().find(|f| f.cloth == sheet.cloth.id);
    let mut blocks = vec![Block::Heading(format!("{}  {}", letter(at), sheet.cloth.name))];
    let said = match figures.and_then(|f| f.lay.as_ref()).filter(|_| sheet.kept) {
        Some(told) => told.told.clone(),
        None if sheet.kept => "This lay is kept; the figures of its cloth cannot be worked out yet.".into(),
        None => "This lay was found and is not kept: the plan does not count on it.".into(),
    };
    blocks.push(Block::Text(said));
    blocks.push(Block::Numbers(numbers(sheet)));
    blocks.push(Block::Cautions(lay.cautions.clone()));
    let colour = figures.map_or(sheet.cloth.colour.as_str(), |f| f.colour.as_str());
    drawn(colour, unit, lay, &mut blocks);
    blocks.push(Block::Subheading("Where each lies".into()));
    blocks.push(Block::Small(
        "Measured from the left edge of the drawing and from the beginning of the cloth to the nearest corner of the rectangle round the piece, to the nearest mark: a help for laying out, not for cutting.".into(),
    ));
    blocks.push(Block::Table(places(lay, unit)));
    Document {
        kind: "Lay sheet",
        title: sheet.of.title.clone(),
        state: sheet.of.state.clone(),
        date: sheet.of.date,
        blocks,
    }
}

fn numbers(sheet: &LaySheetOf) -> Vec<Number> {
    let (unit, lay) = (sheet.plan.unit, sheet.lay);
    let both = |what: &str, of: &dyn Fn(Unit) -> String| {
        let (text, under) = in_both(unit, of);
        Number::new(what, text, under)
    };
    let mut all = Vec::new();
    if lay.length.is_positive() {
        all.push(both("Length of the lay", &|u| long(lay.length, u)));
        all.push(both("With straightening", &|u| long(lay.needed, u)));
        all.push(both("Usable width", &|u| wide(sheet.cloth.usable_width, u)));
    }
    all.push(Number::new("Filled with pieces", format!("{} %", lay.percent), ""));
    all
}

/// The drawings of a lay and what their letters mean.
pub(super) fn drawn(colour: &str, unit: Unit, lay: &LayFigures, blocks: &mut Vec<Block>) {
    let size = |of: fn(&Rect) -> f64| lay.sheets.iter().map(|s| of(&around(&s.outline))).fold(1.0, f64::max);
    let (width, length) = (size(Rect::width), size(Rect::height));
    // All to one scale. A lay is divided only where it would be drawn much smaller:
    // unlike strips, its pieces do not end together.
    let across = scale_for(width, length / DRAWINGS, ROOM);
    let one_to = [scale_for(width, length, HALF), scale_for(width, length, ROOM)]
        .into_iter()
        .find(|whole| *whole <= (across * 2.2).max(READABLE))
        .unwrap_or(across);
    blocks.push(Block::Subheading(format!("Lay, {}", scale_words(one_to))));
    let drawings = lay.sheets.iter().flat_map(|sheet| {
        let parts = divided(sheet, ROOM.1 * one_to);
        let whole = parts.len() < 2;
        parts
            .into_iter()
            .map(move |part| drawing(colour, unit, sheet, part, whole, one_to))
    });
    blocks.push(Block::Drawings(drawings.collect()));
    let mut read = "Letters name the pieces. Arrows are grainlines and point to the top of a piece. Dashed: the selvages, on a remnant its edge.".to_string();
    let pieces = || lay.sheets.iter().flat_map(|s| &s.pieces);
    if lay.sheets.iter().any(|s| s.folded) {
        read.push_str(" The strong left edge is the fold, the right one both selvages.");
    }
    if pieces().any(|p| p.mirrored) {
        read.push_str(" Hatched: turned over.");
    }
    blocks.push(Block::Small(read));
    blocks.push(Block::Table(legend(lay)));
}
