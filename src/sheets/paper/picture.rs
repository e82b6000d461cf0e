//! Drawings as strips, to their scale.

use super::letters::{letters, lines, printable};
use super::marks::{Ink, Mark, Spot, Stroke};
use super::said::{Part, Role};
use super::strips::{BODY, BODY_LINE, SMALL, SMALL_LINE, Strip};
use crate::sheets::document::{Drawing, Ground, Label, Line, Shape};

/// Points to a millimetre.
const MM: f64 = 72.0 / 25.4;

/// Between two that stand side by side.
const BETWEEN: f32 = 14.0;
/// What the words over and under a drawing may take beyond its own width.
const LEAST: f32 = 110.0;

/// Drawings from left to right, as many as there is room for, then the next
/// below them.
pub fn pictures(all: &[Drawing], width: f32, block: usize) -> Vec<Strip> {
    let mut out: Vec<Strip> = Vec::new();
    let wides: Vec<f32> = all.iter().map(|drawing| taken(drawing).min(width)).collect();
    let mut used = width + 1.0;
    for (n, (drawing, wide)) in all.iter().zip(&wides).enumerate() {
        if used + wide > width + 0.01 {
            out.push(Strip {
                before: 10.0,
                ..Strip::default()
            });
            used = 0.0;
        }
        // The next begins at the middle of the page, or where it is free.
        let next = used + wide + BETWEEN;
        let middle = (width + BETWEEN) / 2.0;
        let next = if used == 0.0 && next < middle && all.len() < 3 && !drawing.title.is_empty() {
            middle
        } else {
            next
        };
        let last = wides.get(n + 1).is_none_or(|following| next + following > width + 0.01);
        let end = if last { width } else { next - BETWEEN };
        let (marks, height) = picture(drawing, (end - used).max(*wide), (block, n));
        if let Some(strip) = out.last_mut() {
            strip.keep |= drawing.keep;
            strip
                .marks
                .extend(marks.into_iter().map(|mark| mark.moved((used, 0.0))));
            strip.height = strip.height.max(height);
        }
        used = next;
    }
    out
}

/// How wide a drawing is with a little room for its title and caption.
fn taken(drawing: &Drawing) -> f32 {
    let words = |text: &str, size: f32, bold: bool| {
        let lines = text.lines().map(|line| letters(bold).width(&printable(line), size));
        // Rounding must not break what fits exactly.
        lines.fold(0.0, f32::max).min(LEAST) + 0.5
    };
    let wide = ((drawing.on_paper().0 + drawing.aside) * MM) as f32;
    wide.max(words(&drawing.title, BODY, true))
        .max(words(&drawing.caption, SMALL, false))
}

/// One drawing, its title above and its caption `wide` under it, and how high
/// all of it is.
fn picture(drawing: &Drawing, wide: f32, (block, number): (usize, usize)) -> (Vec<Mark>, f32) {
    let part = |role: Role, n: usize| Mark::at(&[Part::of_block(role, block, number * 2 + n)]);
    let scale = MM / drawing.one_to.max(1e-6);
    let left = drawing.aside * MM;
    let mut top = 2.0;
    let titles = lines(&drawing.title, wide, BODY, true);
    let spot_top = top + titles.len() as f32 * BODY_LINE;
    let spot = |(x, y): (f64, f64)| -> Spot { ((left + x * scale) as f32, (y * scale) as f32 + spot_top) };
    let mut marks = vec![part(Role::Paragraph, 0)];
    for text in titles {
        marks.push(Mark::words((left as f32, top + BODY), BODY, true, text));
        top += BODY_LINE;
    }
    marks.push(part(Role::Figure(printable(&drawing.says)), 0));
    for shape in &drawing.shapes {
        match shape {
            Shape::Areas {
                outlines,
                colour,
                hatch,
                line,
            } => marks.push(Mark::Path {
                outlines: outlines.iter().map(|o| o.iter().copied().map(spot).collect()).collect(),
                closed: true,
                fill: *colour,
                hatch: *hatch,
                line: stroke(*line),
            }),
            Shape::Lines { paths, line } => marks.push(Mark::Path {
                outlines: paths.iter().map(|o| o.iter().copied().map(spot).collect()).collect(),
                closed: false,
                fill: None,
                hatch: Default::default(),
                line: stroke(*line),
            }),
            Shape::Label(label) => lettered(label, spot(label.at), &mut marks),
        }
    }
    marks.push(part(Role::Paragraph, 1));
    let mut height = (drawing.height * scale + drawing.below * MM) as f32 + top + 4.0;
    for text in lines(&drawing.caption, wide - left as f32, SMALL, false) {
        marks.push(Mark::grey((left as f32, height + SMALL), SMALL, text));
        height += SMALL_LINE;
    }
    (marks, height)
}

fn stroke(line: Line) -> Option<Stroke> {
    match line {
        Line::None => None,
        Line::Fine => Some(Stroke::of(0.45)),
        Line::Strong => Some(Stroke::of(1.0)),
        Line::Dashed => Some(Stroke {
            dashed: true,
            ..Stroke::of(0.9)
        }),
    }
}

fn lettered(label: &Label, (x, y): Spot, marks: &mut Vec<Mark>) {
    let size = label.size as f32;
    let text = printable(&label.text);
    let wide = letters(label.bold).width(&text, size);
    // Capitals and figures are 0.72 of the size high.
    let foot = y + size * 0.36;
    let mut ink = Ink::Black;
    match label.ground {
        Ground::Disc => marks.push(Mark::Disc {
            middle: (x, y),
            radius: (size * 0.78).max(wide / 2.0 + size * 0.2),
            edge: true,
        }),
        Ground::Light => marks.push(Mark::Disc {
            middle: (x, y),
            radius: (size * 0.62).max(wide / 2.0 + size * 0.1),
            edge: false,
        }),
        Ground::Square => {
            let half = (size * 0.6, (wide / 2.0 + size * 0.25).max(size * 0.6));
            marks.push(Mark::filled(vec![
                (x - half.1, y - half.0),
                (x + half.1, y - half.0),
                (x + half.1, y + half.0),
                (x - half.1, y + half.0),
            ]));
            ink = Ink::White;
        }
        Ground::Bare | Ground::Beside => {}
    }
    let from = if label.ground == Ground::Beside {
        x - wide
    } else {
        x - wide / 2.0
    };
    marks.push(Mark::Words {
        at: (from, foot),
        size,
        bold: label.bold,
        ink,
        text,
    });
}
