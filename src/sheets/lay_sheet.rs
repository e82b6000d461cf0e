//! Outlines laid on a cloth, on paper: drawn to scale, and piece by piece where
//! each lies, to lay them out by with a tape.

use super::SheetOf;
use super::document::{
    Block, Cell, Column, Document, Drawing, Ground, Hatch, Label, Line, Number, POINT, Row, Shape, Table, scale_for,
    scale_words, tint,
};
use super::words::{in_both, letter, long, wide};
use crate::drafting::lay::{between, roomiest};
use crate::figures::Figures;
use crate::figures::lay::{LaidPiece, LayFigures, LaySheet};
use crate::measure::{Length, MM, Round, Unit};
use crate::plan::{Cloth, Plan};
use kurbo::{Point, Rect, Vec2};

/// The room of one drawing on the smaller paper, in millimetres.
const ROOM: (f64, f64) = (170.0, 185.0);
/// A drawing keeps to about half a page, unless that makes it much smaller.
const HALF: (f64, f64) = (170.0, 125.0);
/// At this scale a pocket is still told from another.
const READABLE: f64 = 14.0;
/// For lengths along the cloth.
const ASIDE: f64 = 10.0;
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

/// Where a drawing no higher than `high` ends and the next begins: near its end,
/// where fewest pieces are divided.
fn divided(sheet: &LaySheet, high: f64) -> Vec<(f64, f64)> {
    let round = around(&sheet.outline);
    let ends: Vec<Rect> = sheet.pieces.iter().map(|p| around(&p.outline)).collect();
    let through = |y: f64| ends.iter().filter(|r| r.y0 < y - 0.5 && r.y1 > y + 0.5).count();
    let mut parts = Vec::new();
    let mut from = round.y0;
    while round.y1 - from > high * (1.0 + 1e-9) {
        let last = from + high;
        let near = ends
            .iter()
            .map(|r| r.y1)
            .filter(|y| *y <= last && *y >= from + high * 0.7);
        let best = near.min_by(|a, b| through(*a).cmp(&through(*b)).then(b.total_cmp(a)));
        let to = best.filter(|y| through(*y) < through(last)).unwrap_or(last);
        parts.push((from, to));
        from = to;
    }
    parts.push((from, round.y1));
    parts
}

fn around(outline: &[Point]) -> Rect {
    let first = outline.first().copied().unwrap_or(Point::ORIGIN);
    outline
        .iter()
        .fold(Rect::from_points(first, first), |r, p| r.union_pt(*p))
}

fn pairs(points: &[Point], from: f64) -> Vec<(f64, f64)> {
    points.iter().map(|p| (p.x, p.y - from)).collect()
}

fn drawing(colour: &str, unit: Unit, sheet: &LaySheet, (from, to): (f64, f64), whole: bool, one_to: f64) -> Drawing {
    let round = around(&sheet.outline);
    let (width, height) = (round.x1, to - from);
    let mut shapes = Vec::new();
    let mut labels = Vec::new();
    for turned in [false, true] {
        let of_it = sheet.pieces.iter().filter(|p| p.mirrored == turned);
        let outlines: Vec<Vec<(f64, f64)>> = of_it
            .flat_map(|p| between(&p.outline, from, to))
            .map(|part| pairs(&part, from))
            .collect();
        if !outlines.is_empty() {
            shapes.push(Shape::Areas {
                outlines,
                colour: Some(tint(colour)),
                hatch: if turned { Hatch::Rising } else { Hatch::None },
                line: Line::Strong,
            });
        }
    }
    for piece in &sheet.pieces {
        let parts = between(&piece.outline, from, to);
        let roomy = parts
            .iter()
            .map(|part| roomiest(part))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((middle, room)) = roomy {
            label(
                piece,
                middle - Vec2::new(0.0, from),
                room,
                one_to,
                &mut shapes,
                &mut labels,
            );
        }
    }
    edges(sheet, (from, to), &mut shapes);
    marks(unit, (from, to), width, one_to, &mut shapes, &mut labels);
    shapes.append(&mut labels);
    let length = |mm: f64| Length::from_units((mm * MM.units() as f64).round() as i64);
    let place = match whole {
        true => String::new(),
        false => format!(
            ", from {} to {} along",
            length(from).both(unit, Round::Nearest),
            length(to).both(unit, Round::Nearest)
        ),
    };
    Drawing {
        title: String::new(),
        says: format!("Lay on {}, {} pieces{place}", sheet.name, sheet.pieces.len()),
        caption: format!(
            "{}: {} across, {} along{place}.",
            sheet.name,
            length(round.width()).both(unit, Round::Nearest),
            length(round.height()).both(unit, Round::Up)
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

/// Selvages and fold of a length, the edge of a remnant.
fn edges(sheet: &LaySheet, (from, to): (f64, f64), shapes: &mut Vec<Shape>) {
    let round = around(&sheet.outline);
    let side = |x: f64| vec![(x, 0.0), (x, to - from)];
    if sheet.from_bolt {
        let ends = [round.y0, round.y1]
            .into_iter()
            .filter(|y| *y >= from - 1e-6 && *y <= to + 1e-6);
        shapes.push(Shape::Lines {
            paths: ends.map(|y| vec![(round.x0, y - from), (round.x1, y - from)]).collect(),
            line: Line::Fine,
        });
        let (fold, selvages) = match sheet.folded {
            true => (vec![side(round.x0)], vec![side(round.x1)]),
            false => (Vec::new(), vec![side(round.x0), side(round.x1)]),
        };
        shapes.push(Shape::Lines {
            paths: fold,
            line: Line::Strong,
        });
        shapes.push(Shape::Lines {
            paths: selvages,
            line: Line::Dashed,
        });
    } else {
        for part in between(&sheet.outline, from, to) {
            let mut path = pairs(&part, from);
            path.extend(path.first().copied());
            shapes.push(Shape::Lines {
                paths: vec![path],
                line: Line::Dashed,
            });
        }
    }
}

/// The letter and the grainline where the piece has most room.
fn label(piece: &LaidPiece, middle: Point, room: f64, one_to: f64, shapes: &mut Vec<Shape>, labels: &mut Vec<Shape>) {
    let down = piece.grain[1] - piece.grain[0];
    let down = if down.hypot() > 0.0 {
        down / down.hypot()
    } else {
        Vec2::new(0.0, 1.0)
    };
    let aside = Vec2::new(-down.y, down.x);
    // On paper at most 22 mm long; the letter stands beside it.
    let half = (room * 0.85).min(11.0 * one_to);
    let size = (room / one_to / POINT * 0.8).clamp(4.0, 10.0);
    let off = (room * 0.4).min(size * POINT * one_to * 0.8);
    let middle_of_line = middle + aside * off;
    let (top, bottom) = (middle_of_line - down * half, middle_of_line + down * half);
    let head = (half * 0.35).min(2.0 * one_to);
    let wing = |side: f64| top + down * head + aside * (head * 0.6 * side);
    let at = |p: Point| (p.x, p.y);
    shapes.push(Shape::Lines {
        paths: vec![vec![at(bottom), at(top)], vec![at(wing(1.0)), at(top), at(wing(-1.0))]],
        line: Line::Fine,
    });
    labels.push(Shape::Label(Label {
        at: at(middle - aside * off),
        text: piece.letter.clone(),
        size,
        ground: Ground::Bare,
        bold: true,
    }));
}

/// Lengths along the cloth at its left edge.
fn marks(
    unit: Unit,
    (from, to): (f64, f64),
    width: f64,
    one_to: f64,
    shapes: &mut Vec<Shape>,
    labels: &mut Vec<Shape>,
) {
    let (step, of) = match unit {
        Unit::Inch => (127.0, 25.4),
        Unit::Cm => (100.0, 10.0),
    };
    // Not nearer to each other than two lines of letters.
    let step = [1.0, 2.0, 4.0, 8.0, 16.0]
        .map(|n| n * step)
        .into_iter()
        .find(|s| s / one_to >= 7.0)
        .unwrap_or(step * 32.0);
    let first = ((from - 1e-6) / step).ceil().max(0.0) as u32;
    let last = ((to + 1e-6) / step).floor().max(0.0) as u32;
    let tick = (1.5 * one_to).min(width);
    let mut paths = Vec::new();
    for n in first..=last {
        let y = f64::from(n) * step;
        paths.push(vec![(0.0, y - from), (tick, y - from)]);
        let number = (y / of).round();
        let name = match (n == first, unit) {
            (true, Unit::Inch) => format!("{number} in"),
            (true, Unit::Cm) => format!("{number} cm"),
            _ => number.to_string(),
        };
        labels.push(Shape::Label(Label {
            at: (-one_to, y - from),
            text: name,
            size: 7.0,
            ground: Ground::Beside,
            bold: false,
        }));
    }
    shapes.push(Shape::Lines {
        paths,
        line: Line::Fine,
    });
}

/// How a copy lies, against how it is drawn in the pattern.
fn lying(piece: &LaidPiece) -> String {
    let mut words = match piece.quarters {
        2 => "top down",
        1 | 3 => "across the grain",
        _ => "as drawn",
    }
    .to_string();
    if piece.mirrored {
        words.push_str(", turned over");
    }
    if piece.on_fold {
        words.push_str(", on the fold");
    }
    words
}

/// Every letter once: its name, and how its copies lie.
fn legend(lay: &LayFigures) -> Table {
    let mut letters: Vec<(&LaidPiece, Vec<(String, usize)>)> = Vec::new();
    for piece in lay.sheets.iter().flat_map(|s| &s.pieces) {
        let at = letters.iter().position(|(p, _)| p.letter == piece.letter);
        let at = at.unwrap_or_else(|| {
            letters.push((piece, Vec::new()));
            letters.len() - 1
        });
        let ways = &mut letters[at].1;
        let way = lying(piece);
        match ways.iter_mut().find(|(w, _)| *w == way) {
            Some((_, count)) => *count += 1,
            None => ways.push((way, 1)),
        }
    }
    letters.sort_by_key(|(p, _)| (p.letter.len(), p.letter.clone()));
    Table {
        columns: vec![
            Column::strong("Letter"),
            Column::words("Piece").wide(),
            Column::number("Laid"),
            Column::words("How they lie"),
        ],
        rows: letters
            .into_iter()
            .map(|(piece, ways)| {
                let count: usize = ways.iter().map(|(_, n)| n).sum();
                let told: Vec<String> = match ways.as_slice() {
                    [(way, _)] => vec![way.clone()],
                    _ => ways.iter().map(|(way, n)| format!("{n} {way}")).collect(),
                };
                Row::of(vec![
                    piece.letter.clone().into(),
                    piece.name.clone().into(),
                    count.to_string().into(),
                    told.join("; ").into(),
                ])
            })
            .collect(),
        ticks: false,
    }
}

fn places(lay: &LayFigures, unit: Unit) -> Table {
    let from_bolt = lay.sheets.iter().all(|s| s.from_bolt);
    let near = |mm: f64| -> Cell {
        let length = Length::from_units((mm.max(0.0) * MM.units() as f64).round() as i64);
        let text = |u: Unit| match u {
            Unit::Inch => length.inches(Round::Nearest),
            Unit::Cm => length.cm(Round::Nearest),
        };
        in_both(unit, text).into()
    };
    let mut columns = vec![
        Column::strong("Copy"),
        Column::words("How it lies").wide(),
        Column::number("From the left"),
        Column::number("Along"),
    ];
    if !from_bolt {
        columns.push(Column::words("On"));
    }
    let mut rows: Vec<(f64, f64, Row)> = Vec::new();
    for (n, sheet) in lay.sheets.iter().enumerate() {
        for piece in &sheet.pieces {
            let round = around(&piece.outline);
            let mut cells = vec![
                format!("{} {}", piece.letter, piece.copy + 1).into(),
                lying(piece).into(),
                near(round.x0),
                near(round.y0),
            ];
            if !from_bolt {
                cells.push(sheet.name.clone().into());
            }
            // In the order they are met along the cloth.
            rows.push((n as f64, round.y0, Row::of(cells)));
        }
    }
    rows.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    Table {
        columns,
        rows: rows.into_iter().map(|(_, _, row)| row).collect(),
        ticks: true,
    }
}
