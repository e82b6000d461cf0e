//! A length of cloth or a remnant with what lies on it, drawn to scale: across
//! the paper is across the cloth, down the paper along it.

use crate::drafting::lay::{between, roomiest};
use crate::figures::lay::{LaidPiece, LaySheet};
use crate::measure::{Length, MM, Round, Unit};
use crate::sheets::document::{Drawing, Ground, Hatch, Label, Line, POINT, Shape, tint};
use kurbo::{Point, Rect, Vec2};

/// For lengths along the cloth.
const ASIDE: f64 = 10.0;

/// Where a drawing no higher than `high` ends and the next begins: near its end,
/// where fewest pieces are divided.
pub(super) fn divided(sheet: &LaySheet, high: f64) -> Vec<(f64, f64)> {
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

pub(super) fn around(outline: &[Point]) -> Rect {
    let first = outline.first().copied().unwrap_or(Point::ORIGIN);
    outline
        .iter()
        .fold(Rect::from_points(first, first), |r, p| r.union_pt(*p))
}

fn pairs(points: &[Point], from: f64) -> Vec<(f64, f64)> {
    points.iter().map(|p| (p.x, p.y - from)).collect()
}

pub(super) fn drawing(
    colour: &str,
    unit: Unit,
    sheet: &LaySheet,
    (from, to): (f64, f64),
    whole: bool,
    one_to: f64,
) -> Drawing {
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
