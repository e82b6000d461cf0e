//! A drawing as a strip, to its scale.

use super::letters::{letters, lines, printable};
use super::marks::{Ink, Mark, Spot, Stroke};
use super::strips::{SMALL, SMALL_LINE, Strip};
use crate::sheets::document::{Drawing, Ground, Label, Line, Shape};

/// Points to a millimetre.
const MM: f64 = 72.0 / 25.4;

pub fn picture(drawing: &Drawing, width: f32) -> Strip {
    let scale = MM / drawing.one_to.max(1e-6);
    let left = drawing.aside * MM;
    let spot = |(x, y): (f64, f64)| -> Spot { ((left + x * scale) as f32, (y * scale) as f32 + 2.0) };
    let mut marks = Vec::new();
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
    let mut height = (drawing.height * scale) as f32 + 6.0;
    for text in lines(&drawing.caption, width, SMALL, false) {
        marks.push(Mark::grey((left as f32, height + SMALL), SMALL, text));
        height += SMALL_LINE;
    }
    Strip {
        height,
        before: 10.0,
        marks,
        ..Strip::default()
    }
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
    let from = if label.ground == Ground::Beside { x - wide } else { x - wide / 2.0 };
    marks.push(Mark::Words {
        at: (from, foot),
        size,
        bold: label.bold,
        ink,
        text,
    });
}
