//! Which way the grain runs in an outline that is a piece's own.

use crate::measure::Length;
use crate::plan::{PatternOutline, Spot};
use crate::web::components::choice;
use crate::web::form::Shown;
use maud::Markup;

const DOWN: &str = "down";
const ACROSS: &str = "across";
const SLANTED: &str = "aslant";

pub(super) fn field(form: &Shown, outline: &PatternOutline) -> Markup {
    choice(
        form,
        "grain",
        "The grain runs",
        "In the outline as it was drawn. It is shown and laid with its grain upright, and cut on the fold where a fold runs along the grain.",
        &grains(outline),
    )
}

/// The outline with its grain as chosen; what is not chosen stays.
pub(super) fn set(outline: &mut PatternOutline, way: &str) {
    match way {
        DOWN if of(outline) != DOWN => outline.grain = None,
        ACROSS if of(outline) != ACROSS => outline.grain = level(outline),
        _ => {}
    }
}

/// The ways the grain may run; the one it is drawn with first, where it is another.
fn grains(outline: &PatternOutline) -> Vec<(String, String)> {
    let mut ways = vec![(DOWN, "up and down"), (ACROSS, "across")];
    if of(outline) == SLANTED {
        ways.push((SLANTED, "aslant, as it is drawn"));
    }
    ways.into_iter().map(|(a, b)| (a.to_string(), b.to_string())).collect()
}

/// Which way the grainline of an outline is drawn.
pub(super) fn of(outline: &PatternOutline) -> &'static str {
    match &outline.grain {
        Some([a, b]) if a.y == b.y => ACROSS,
        Some([a, b]) if a.x != b.x => SLANTED,
        _ => DOWN,
    }
}

/// A grainline across the middle of an outline.
fn level(outline: &PatternOutline) -> Option<[Spot; 2]> {
    let ends = || outline.edges.iter().filter_map(|e| e.path.end());
    let (left, right) = (ends().map(|p| p.x).min()?, ends().map(|p| p.x).max()?);
    let (top, low) = (ends().map(|p| p.y).min()?, ends().map(|p| p.y).max()?);
    let part = |l: Length, of: i64| Length::from_units(l.units() / of);
    let y = part(top + low, 2);
    let inset = part(right - left, 8);
    Some([Spot::new(left + inset, y), Spot::new(right - inset, y)]).filter(|[a, b]| a != b)
}
