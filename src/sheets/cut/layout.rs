//! The cutting layout of one cloth, drawn to scale: across the paper is across
//! the cloth, selvage to selvage; down the paper is along it.

use crate::figures::{ClothFigures, Placed, Sheet, Strip};
use crate::measure::{Length, Round, Unit};
use crate::sheets::document::{
    Block, Drawing, Ground, Hatch, Label, Line, POINT, Point, Shape, mm, scale_for, scale_words, tint,
};
use std::collections::BTreeMap;

/// The room of one drawing on the smaller paper, in millimetres.
const ROOM: (f64, f64) = (170.0, 185.0);
/// A drawing keeps to about half a page, unless that makes it much smaller.
const HALF: (f64, f64) = (170.0, 110.0);
/// For the steps of the order of cuts.
const ASIDE: f64 = 8.0;
/// A long cloth is divided into so many drawings at the most.
const DRAWINGS: f64 = 3.0;

/// How the drawings are read, once for a sheet.
pub const READ: &str = "In the layouts numbers in circles are lines of the cut list; beside the left edge stands the step of the order of cuts, in dark squares the parts it names. Hatched: cut away to make the edge straight. Dashed: the selvages, on a remnant its sides.";

pub fn layout(cloth: &ClothFigures, unit: Unit, blocks: &mut Vec<Block>) {
    let drawn: Vec<&Sheet> = cloth.layout.sheets.iter().filter(|s| !s.strips.is_empty()).collect();
    if drawn.is_empty() {
        return;
    }
    let width = drawn.iter().map(|s| mm(s.width)).fold(1.0, f64::max);
    let length = drawn.iter().map(|s| mm(s.length)).fold(1.0, f64::max);
    // All of one cloth to one scale. A long one is divided where it would
    // otherwise be drawn too narrow to read.
    let across = scale_for(width, length / DRAWINGS, ROOM);
    let one_to = [scale_for(width, length, HALF), scale_for(width, length, ROOM)]
        .into_iter()
        .find(|whole| *whole <= across * 1.7)
        .unwrap_or(across);
    blocks.push(Block::Subheading(format!("Cutting layout, {}", scale_words(one_to))));
    let drawings = drawn.into_iter().flat_map(|sheet| {
        let parts = divided(sheet, ROOM.1 * one_to).into_iter();
        parts.map(move |part| drawing(cloth, sheet, &part, one_to, unit))
    });
    blocks.push(Block::Drawings(drawings.collect()));
}

/// Strips that are drawn together, and where on the cloth.
struct Part<'a> {
    strips: &'a [Strip],
    from: f64,
    to: f64,
    whole: bool,
}

fn divided(sheet: &Sheet, high: f64) -> Vec<Part<'_>> {
    let end = mm(sheet.length);
    if end <= high {
        return vec![Part {
            strips: &sheet.strips,
            from: 0.0,
            to: end,
            whole: true,
        }];
    }
    let mut parts = Vec::new();
    let (mut first, mut from) = (0, 0.0);
    for (n, strip) in sheet.strips.iter().enumerate() {
        let last = mm(strip.at + strip.height);
        if last - from > high && n > first {
            let to = mm(strip.at);
            parts.push(Part {
                strips: &sheet.strips[first..n],
                from,
                to,
                whole: false,
            });
            (first, from) = (n, to);
        }
    }
    let to = sheet.strips.last().map_or(end, |s| mm(s.at + s.height));
    parts.push(Part {
        strips: &sheet.strips[first..],
        from,
        to: end.min((from + high).max(to)),
        whole: false,
    });
    parts
}

fn drawing(cloth: &ClothFigures, sheet: &Sheet, part: &Part, one_to: f64, unit: Unit) -> Drawing {
    let (width, height) = (mm(sheet.width), part.to - part.from);
    let down = |y: Length| mm(y) - part.from;
    let mut shapes = Vec::new();
    if part.from == 0.0 && sheet.straightening.is_positive() {
        shapes.push(Shape::Areas {
            outlines: vec![rectangle(0.0, 0.0, width, mm(sheet.straightening))],
            colour: None,
            hatch: Hatch::Waste,
            line: Line::Fine,
        });
    }
    for outlines in cut_pieces(cloth, part.strips, &down).into_values() {
        shapes.push(Shape::Areas {
            outlines,
            colour: Some(tint(&cloth.colour)),
            hatch: Hatch::None,
            line: Line::Fine,
        });
    }
    shapes.push(Shape::Lines {
        paths: part
            .strips
            .iter()
            .map(|s| vec![(0.0, down(s.at + s.height)), (width, down(s.at + s.height))])
            .collect(),
        line: Line::Strong,
    });
    shapes.push(Shape::Lines {
        paths: vec![vec![(0.0, 0.0), (width, 0.0)], vec![(0.0, height), (width, height)]],
        line: Line::Fine,
    });
    shapes.push(Shape::Lines {
        paths: vec![vec![(0.0, 0.0), (0.0, height)], vec![(width, 0.0), (width, height)]],
        line: Line::Dashed,
    });
    labels(part.strips, one_to, &down, &mut shapes);
    let place = match part.whole {
        true => String::new(),
        false => format!(
            ", from {} to {} along",
            from_mm(part.from).both(unit, Round::Nearest),
            from_mm(part.to).both(unit, Round::Nearest)
        ),
    };
    Drawing {
        title: String::new(),
        says: format!("Cutting layout of {}, {}{place}", cloth.name, sheet.name),
        caption: format!(
            "{}: {} across, {} along{place}.",
            sheet.name,
            sheet.width.both(unit, Round::Nearest),
            sheet.length.both(unit, Round::Up)
        ),
        width,
        height,
        one_to,
        aside: ASIDE,
        below: 0.0,
        keep: false,
        shapes,
    }
}

fn from_mm(length: f64) -> Length {
    Length::from_units((length * crate::measure::MM.units() as f64) as i64)
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Vec<Point> {
    vec![(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
}

/// The outlines of all pieces, by line of the cut list.
fn cut_pieces(
    cloth: &ClothFigures,
    strips: &[Strip],
    down: &impl Fn(Length) -> f64,
) -> BTreeMap<usize, Vec<Vec<Point>>> {
    let mut all: BTreeMap<usize, Vec<Vec<Point>>> = BTreeMap::new();
    for placed in strips.iter().flat_map(|s| &s.placed) {
        if let Some(line) = cloth.cuts.get(placed.line) {
            let corners = placed.corners(line).into_iter();
            let outline = corners.map(|(x, y)| (mm(x), down(y))).collect();
            all.entry(placed.line).or_default().push(outline);
        }
    }
    all
}

/// The number of the line on the first of each run of equal pieces, of the
/// step beside the first strip cut in it, and of each part in its corner.
fn labels(strips: &[Strip], one_to: f64, down: &impl Fn(Length) -> f64, shapes: &mut Vec<Shape>) {
    let mut label = |at: Point, text: usize, size: f64, ground: Ground| {
        shapes.push(Shape::Label(Label {
            at,
            text: text.to_string(),
            size,
            ground,
            bold: true,
        }));
    };
    // As large as half the piece, between 4 and 8 points.
    let fitting = |real: f64| (real / one_to / POINT * 0.45).clamp(4.0, 8.0);
    let mut step = None;
    for strip in strips {
        let mut last: Option<&Placed> = None;
        for placed in &strip.placed {
            if !last.is_some_and(|l| l.line == placed.line && l.turned == placed.turned) {
                let r = placed.rect;
                let middle = (mm(r.x) + mm(r.width) / 2.0, down(r.y) + mm(r.height) / 2.0);
                label(
                    middle,
                    placed.line + 1,
                    fitting(mm(r.width.min(r.height))),
                    Ground::Disc,
                );
            }
            last = Some(placed);
        }
        if step != Some(strip.step) {
            step = Some(strip.step);
            let middle = down(strip.at) + mm(strip.height) / 2.0;
            label((-1.6 * one_to, middle), strip.step, 8.5, Ground::Beside);
        }
        for cut in &strip.cuts {
            if let Some(number) = cut.number {
                let size = fitting(mm(cut.part.width.min(cut.part.height)) * 0.7).min(6.5);
                let off = size * POINT * one_to * 0.75;
                label(
                    (mm(cut.part.x) + off, down(cut.part.y) + off),
                    number,
                    size,
                    Ground::Square,
                );
            }
        }
    }
}
