//! A panel drawn as it will look. What repeats is one repeat as an SVG
//! pattern, so that a thousand units cost no more than four; what is painted
//! is each unit once and a reference for every position.

mod borders;
mod colours;
mod grid;
mod legend;
mod on_point;
mod rows;
#[cfg(test)]
mod tests;
mod unit;

pub use legend::unit_letter;
pub use unit::{kind_shapes, unit_drawing};

use super::swatch::letter;
use crate::figures::PanelFigures;
use crate::measure::Length;
use crate::plan::{Face, Patchwork, Plan};
use crate::sheets::shapes;
use colours::cloth_of;
use maud::{Markup, html};
use shapes::SIDE;

/// Painted positions drawn one by one; beyond them a note stands.
const DRAWN: usize = 5_000;

/// A panel is shown about so many pixels wide or high, and a letter of fewer
/// than so many cannot be read.
const SHOWN: i64 = 300;
const READABLE: i64 = 8;

/// A drawing inside its own frame: what it is made of, how large it is, and
/// whether some of it was left out.
struct Drawn {
    defs: Markup,
    body: Markup,
    width: i64,
    height: i64,
    left_out: bool,
}

/// The face of a piece as its figures say, in the plan's cloths with their
/// letters. `name` keeps ids on a page apart.
pub fn panel_drawing(plan: &Plan, face: &Face, panel: &PanelFigures, name: &str) -> Markup {
    match face {
        Face::Plain(plain) => {
            let (index, colour) = cloth_of(plan, &plain.cloth);
            let letter = index.map_or("?".into(), letter);
            html! {
                svg.face-view.plain viewBox="0 0 120 90" role="img" aria-label=(format!("Plain cloth {letter}")) {
                    rect x="0" y="0" width="120" height="90" fill=(colour) {}
                    circle cx="60" cy="45" r="13" fill="#ffffff" {}
                    text x="60" y="45" text-anchor="middle" dominant-baseline="central" font-size="14" fill="#1d2450" { (letter) }
                }
            }
        }
        Face::Patchwork(face_of) => {
            let frame = Frame::of(plan, face_of, panel, name);
            let in_rows = face_of.units.first().is_some_and(|u| u.kind.in_rows());
            let inner = if in_rows {
                rows::drawn(&frame)
            } else if face_of.on_point.is_some() {
                on_point::drawn(&frame)
            } else {
                grid::drawn(&frame)
            };
            let all = borders::around(&frame, inner);
            let edge = all.width / 150 + 2;
            let unlettered = face_of
                .units
                .iter()
                .any(|u| shapes::patches(u, 0).iter().any(|p| p.room < frame.least_letter));
            html! {
                svg.face-view viewBox=(format!("{} {} {} {}", -edge, -edge, all.width + 2 * edge, all.height + 2 * edge)) role="img"
                    aria-label=(format!("Panel of {} across and {} down, {}", panel.columns, panel.rows, legend::arranged(face_of))) {
                    defs { (all.defs) }
                    (all.body)
                    rect.outline x="0" y="0" width=(all.width) height=(all.height) {}
                }
                @if all.left_out { p.hint.drawn-part { "The first " (DRAWN) " painted positions are drawn; all are counted." } }
                (legend::unit_legend(plan, face_of, unlettered))
                (legend::legend(plan, face))
            }
        }
    }
}

/// For the painter: units across, down, how high one is drawn, and whether they stand on point.
pub fn panel_extent(plan: &Plan, face: &Patchwork, panel: &PanelFigures) -> String {
    let high = Frame::of(plan, face, panel, "").high;
    let point = u8::from(face.on_point.is_some());
    format!("{} {} {high} {point}", panel.columns, panel.rows)
}

/// What every way of drawing a patchwork needs.
struct Frame<'a> {
    plan: &'a Plan,
    face: &'a Patchwork,
    columns: i64,
    rows: i64,
    panel: &'a PanelFigures,
    name: &'a str,
    /// The least height a letter is drawn at.
    least_letter: i64,
    /// Height of a drawn unit; its width is [`SIDE`].
    high: i64,
    /// Drawn width of the sashing, 0 without.
    sash: i64,
}

impl<'a> Frame<'a> {
    fn of(plan: &'a Plan, face: &'a Patchwork, panel: &'a PanelFigures, name: &'a str) -> Frame<'a> {
        let mut frame = Frame {
            plan,
            face,
            // Far beyond what a limit lets through; a hostile plan must not overflow a drawing.
            columns: panel.columns.clamp(1, 100_000),
            rows: panel.rows.clamp(1, 100_000),
            panel,
            name,
            least_letter: READABLE * SIDE * panel.columns.max(panel.rows).clamp(1, 100_000) / SHOWN,
            high: SIDE,
            sash: 0,
        };
        if let Some(height) = face.finished_height {
            frame.high = frame.drawn(height).max(SIDE / 40);
        }
        if let Some(sashing) = &face.sashing {
            frame.sash = frame.drawn(sashing.width);
        }
        frame
    }

    /// A length of cloth as long as it is drawn.
    fn drawn(&self, length: Length) -> i64 {
        let side = i128::from(self.face.finished.units().max(1));
        let drawn = (i128::from(length.units()) * i128::from(SIDE) + side / 2).div_euclid(side);
        i64::try_from(drawn.clamp(0, 100_000_000)).unwrap_or(0)
    }

    fn colour(&self, id: &str) -> &'a str {
        cloth_of(self.plan, id).1
    }

    fn id(&self, what: &str) -> String {
        format!("{what}-{}", self.name)
    }

    /// Every unit in every turn that stands somewhere, as something to refer to.
    fn stamps(&self, wanted: &[(usize, u32)]) -> Markup {
        html! {
            @for (unit, turn) in wanted {
                @if let Some(made) = self.face.units.get(*unit) {
                    g id=(self.stamp(*unit, *turn)) { (unit::unit_patches(self.plan, made, *turn, self.high, self.least_letter)) }
                }
            }
        }
    }

    fn stamp(&self, unit: usize, turn: u32) -> String {
        self.id(&format!("u{unit}{turn}"))
    }
}

/// Repeats of the arrangement down and across: after so many it begins anew.
fn repeat(face: &Patchwork) -> (i64, i64) {
    use crate::plan::Arrangement;
    match face.arrangement {
        Arrangement::Alternating if face.on_point.is_some() => (1, 2),
        Arrangement::Alternating => (2, 2),
        Arrangement::Rows => (1, face.units.len().clamp(1, 8) as i64),
        Arrangement::AllAlike | Arrangement::Painted => (1, 1),
    }
}
