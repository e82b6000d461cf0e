//! A panel drawn to scale as it is sewn: units side by side or on point, or
//! patches in rows, with sashing and borders.

use super::painter::Painter;
use crate::figures::PanelFigures;
use crate::plan::{Patchwork, Plan, UnitKind, limits};
use crate::sheets::document::{Drawing, Ground, Label, Line, Point, Shape, mm, scale_for, scale_words};

/// The room of a panel on the smaller paper, in millimetres: with its units on
/// one page where they stay large enough for that, else more.
const BESIDE_UNITS: (f64, f64) = (162.0, 112.0);
const ROOM: (f64, f64) = (162.0, 150.0);
const LARGE_ENOUGH: f64 = 12.0;
/// For the number of a row and the way it is pressed.
const ASIDE: f64 = 12.0;
/// More patches than this are too small to see.
const PATCHES: usize = 12_000;

/// By the size with its seams, which is a little larger than what is drawn.
fn scale(face: &Patchwork, panel: &PanelFigures) -> f64 {
    let (width, height) = (mm(panel.before.width), mm(panel.before.height));
    let one_to = scale_for(width, height, BESIDE_UNITS);
    if mm(face.finished) / one_to >= LARGE_ENOUGH {
        one_to
    } else {
        scale_for(width, height, ROOM)
    }
}

pub fn heading(face: &Patchwork, panel: &PanelFigures) -> String {
    format!("Panel, {}", scale_words(scale(face, panel)))
}

/// `None` where there are too many patches to draw.
pub fn panel(plan: &Plan, face: &Patchwork, panel: &PanelFigures, name: &str) -> Option<Drawing> {
    let first = face.units.first()?;
    let each = face
        .units
        .iter()
        .map(|u| crate::sheets::shapes::patches(u, 0).len())
        .max()?;
    let units = panel.columns.max(0).saturating_mul(panel.rows.max(0)).saturating_mul(2);
    if usize::try_from(units).ok()?.saturating_mul(each) > PATCHES * 2 {
        return None;
    }
    let inside = Inside::of(face, panel);
    let (w, h) = inside.size(face, panel);
    let mut painter = Painter::within(plan, w, h);
    let mut seams = Vec::new();
    if first.kind.in_rows() {
        in_rows(&mut painter, face, panel);
    } else if face.on_point.is_some() {
        on_point(&mut painter, face, &inside, (w, h));
    } else {
        straight(&mut painter, face, &inside, &mut seams);
    }
    let count = painter.count();
    let border: f64 = face.borders.iter().take(limits::BORDERS).map(|b| mm(b.width)).sum();
    let (width, height) = (w + 2.0 * border, h + 2.0 * border);
    let one_to = scale(face, panel);
    let mut shapes = moved(painter.shapes(one_to), border);
    let mut around = Painter::new(plan);
    borders(&mut around, face, (w, h));
    shapes.extend(around.shapes(one_to));
    let mut outlines = moved(
        vec![Shape::Lines {
            paths: seams,
            line: Line::Strong,
        }],
        border,
    );
    outlines.push(Shape::Areas {
        outlines: vec![vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]],
        colour: None,
        hatch: Default::default(),
        line: Line::Strong,
    });
    // Under the letters: a seam must not cross one.
    let letters = shapes
        .iter()
        .position(|s| matches!(s, Shape::Label(_)))
        .unwrap_or(shapes.len());
    shapes.splice(letters..letters, outlines);
    if face.on_point.is_none() && !first.kind.in_rows() {
        shapes.extend(row_labels(&inside, border, one_to));
    }
    (count <= PATCHES).then(|| Drawing {
        title: String::new(),
        says: format!("Panel of {name}: {} across, {} down", panel.columns, panel.rows),
        caption: "As it is sewn, without the seam allowances round it.".into(),
        width,
        height,
        one_to,
        aside: ASIDE,
        shapes,
    })
}

/// Sizes of a panel's parts in millimetres.
struct Inside {
    columns: usize,
    rows: usize,
    unit: (f64, f64),
    sash: f64,
    /// Width of the sashing round the outside.
    edge: f64,
}

impl Inside {
    fn of(face: &Patchwork, panel: &PanelFigures) -> Inside {
        let sash = face.sashing.as_ref().map_or(0.0, |s| mm(s.width));
        Inside {
            columns: panel.columns.clamp(0, 100_000) as usize,
            rows: panel.rows.clamp(0, 100_000) as usize,
            unit: (mm(face.finished), mm(face.finished_height.unwrap_or(face.finished))),
            sash,
            edge: if face.sashing.as_ref().is_some_and(|s| s.around) {
                sash
            } else {
                0.0
            },
        }
    }

    fn size(&self, face: &Patchwork, panel: &PanelFigures) -> (f64, f64) {
        if face.units.first().is_some_and(|u| u.kind.in_rows()) {
            return (mm(panel.inside.width), mm(panel.inside.height));
        }
        if face.on_point.is_some() {
            let across = self.across();
            return (self.columns as f64 * across, self.rows as f64 * across);
        }
        let side = |count: usize, unit: f64| count as f64 * (unit + self.sash) - self.sash + 2.0 * self.edge;
        (side(self.columns, self.unit.0), side(self.rows, self.unit.1))
    }

    /// A block on point with half its sashing, from corner to corner.
    fn across(&self) -> f64 {
        (self.unit.0 + self.sash) * std::f64::consts::SQRT_2
    }

    fn corner(&self, column: usize, row: usize) -> Point {
        (
            self.edge + column as f64 * (self.unit.0 + self.sash),
            self.edge + row as f64 * (self.unit.1 + self.sash),
        )
    }
}

fn straight(painter: &mut Painter, face: &Patchwork, inside: &Inside, seams: &mut Vec<Vec<Point>>) {
    let (w, h) = inside.unit;
    for r in 0..inside.rows {
        for (c, (unit, turn)) in face.row_of(r, inside.columns).into_iter().enumerate() {
            let (x, y) = inside.corner(c, r);
            if let Some(unit) = face.units.get(unit) {
                painter.unit(unit, turn, inside.unit, &|p| (x + p.0, y + p.1));
                seams.push(vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]);
            }
        }
    }
    let Some(sashing) = face.sashing.as_ref().filter(|_| inside.sash > 0.0) else {
        return;
    };
    // Where a strip lies before the nth unit, and after the last.
    let lines = |count: usize| if inside.edge > 0.0 { 0..count + 1 } else { 1..count };
    let s = inside.sash;
    for r in 0..inside.rows {
        for c in lines(inside.columns) {
            let (x, y) = inside.corner(c, r);
            painter.rectangle(&sashing.cloth, (x - s, y), (s, h));
        }
    }
    for r in lines(inside.rows) {
        let y = inside.corner(0, r).1 - s;
        match &sashing.posts {
            Some(posts) => {
                for c in 0..inside.columns {
                    painter.rectangle(&sashing.cloth, (inside.corner(c, r).0, y), (w, s));
                }
                for c in lines(inside.columns) {
                    painter.rectangle(posts, (inside.corner(c, r).0 - s, y), (s, s));
                }
            }
            None => {
                let end = inside.corner(inside.columns, 0).0 - s + inside.edge;
                painter.rectangle(&sashing.cloth, (0.0, y), (end, s));
            }
        }
    }
}

fn on_point(painter: &mut Painter, face: &Patchwork, inside: &Inside, (width, height): (f64, f64)) {
    let across = inside.across();
    let half = across / 2.0;
    let (side, pitch, s) = (inside.unit.0, inside.unit.0 + inside.sash, inside.sash);
    let turned = |(x, y): Point| {
        let k = std::f64::consts::FRAC_1_SQRT_2;
        ((x - y) * k, (x + y) * k)
    };
    for r in 0..(2 * inside.rows).saturating_sub(1) {
        let odd = r % 2;
        for (c, (unit, turn)) in face
            .row_of(r, inside.columns.saturating_sub(odd))
            .into_iter()
            .enumerate()
        {
            let middle = ((2 * c + 1 + odd) as f64 * half, (r + 1) as f64 * half);
            let place = |(x, y): Point| {
                let (x, y) = turned((x - pitch / 2.0, y - pitch / 2.0));
                (middle.0 + x, middle.1 + y)
            };
            let square = |x: f64, y: f64, w: f64, h: f64| {
                [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
                    .into_iter()
                    .map(place)
                    .collect::<Vec<Point>>()
            };
            if let Some(sashing) = face.sashing.as_ref().filter(|_| s > 0.0) {
                let (t, end) = (s / 2.0, pitch - s / 2.0);
                for (x, y, w, h) in [
                    (t, 0.0, side, t),
                    (t, end, side, t),
                    (0.0, t, t, side),
                    (end, t, t, side),
                ] {
                    painter.patch(&sashing.cloth, square(x, y, w, h), t * 0.6);
                }
                let posts = sashing.posts.as_deref().unwrap_or(&sashing.cloth);
                for (x, y) in [(0.0, 0.0), (end, 0.0), (0.0, end), (end, end)] {
                    painter.patch(posts, square(x, y, t, t), 0.0);
                }
            }
            if let Some(unit) = face.units.get(unit) {
                painter.unit(unit, turn, inside.unit, &|(x, y)| place((x + s / 2.0, y + s / 2.0)));
            }
        }
    }
    let Some(setting) = &face.on_point else { return };
    let back = s * std::f64::consts::FRAC_1_SQRT_2;
    let (from, base) = (half + back, across - 2.0 * back);
    if base <= 0.0 {
        return;
    }
    let deep = base / 2.0;
    for c in 0..inside.columns.saturating_sub(1) {
        let x = c as f64 * across + from;
        for (y, tip) in [(0.0, deep), (height, height - deep)] {
            painter.patch(&setting.side, vec![(x, y), (x + base, y), (x + deep, tip)], deep * 0.5);
        }
    }
    for r in 0..inside.rows.saturating_sub(1) {
        let y = r as f64 * across + from;
        for (x, tip) in [(0.0, deep), (width, width - deep)] {
            painter.patch(&setting.side, vec![(x, y), (x, y + base), (tip, y + deep)], deep * 0.5);
        }
    }
    let leg = (half - back).max(0.0);
    for (x, dx) in [(0.0, leg), (width, -leg)] {
        for (y, dy) in [(0.0, leg), (height, -leg)] {
            painter.patch(&setting.corner, vec![(x, y), (x + dx, y), (x, y + dy)], leg * 0.35);
        }
    }
}

/// Triangles, diamonds and hexagons, their ragged ends cut off straight.
fn in_rows(painter: &mut Painter, face: &Patchwork, panel: &PanelFigures) {
    let Some(unit) = face.units.first() else { return };
    let s = mm(face.finished);
    let (h, tall) = (s / 2.0, s * 3f64.sqrt() / 2.0);
    let n = unit.cloths.len().max(1) as i64;
    let (across, down, left, top) = match unit.kind {
        UnitKind::Triangle60 => (h, tall, h, 0.0),
        UnitKind::Diamond60 => (s, tall, h, 0.0),
        _ => (2.0 * tall, s + h, tall, h),
    };
    for row in 0..panel.rows.clamp(0, 10_000) {
        for column in -2..panel.columns.clamp(0, 10_000) + 2 {
            let odd = row.rem_euclid(2) as f64;
            let (x, y) = (column as f64 * across - left, row as f64 * down - top);
            let outline = match unit.kind {
                UnitKind::Triangle60 if (column + row).rem_euclid(2) == 0 => {
                    vec![(x, y + tall), (x + h, y), (x + s, y + tall)]
                }
                UnitKind::Triangle60 => vec![(x, y), (x + s, y), (x + h, y + tall)],
                UnitKind::Diamond60 => {
                    let x = x - odd * h;
                    vec![(x + h, y), (x + h + s, y), (x + s, y + tall), (x, y + tall)]
                }
                _ => {
                    let x = x + odd * tall;
                    vec![
                        (x + tall, y),
                        (x + 2.0 * tall, y + h),
                        (x + 2.0 * tall, y + h + s),
                        (x + tall, y + 2.0 * s),
                        (x, y + h + s),
                        (x, y + h),
                    ]
                }
            };
            let turn = (column + row).rem_euclid(n) as usize;
            let cloth = unit.cloths.get(turn).map_or("", String::as_str);
            painter.patch(cloth, outline, s * 0.35);
        }
    }
}

/// From the inside out: the sides first, then the top and the bottom.
fn borders(painter: &mut Painter, face: &Patchwork, (w, h): (f64, f64)) {
    let all: f64 = face.borders.iter().take(limits::BORDERS).map(|b| mm(b.width)).sum();
    let mut out = all;
    let (mut wide, mut high) = (w, h);
    for border in face.borders.iter().take(limits::BORDERS) {
        let b = mm(border.width);
        out -= b;
        let (x, y) = (out, out);
        painter.rectangle(&border.cloth, (x, y + b), (b, high));
        painter.rectangle(&border.cloth, (x + b + wide, y + b), (b, high));
        for top in [y, y + b + high] {
            match &border.corners {
                Some(corners) => {
                    painter.rectangle(&border.cloth, (x + b, top), (wide, b));
                    painter.rectangle(corners, (x, top), (b, b));
                    painter.rectangle(corners, (x + b + wide, top), (b, b));
                }
                None => painter.rectangle(&border.cloth, (x, top), (wide + 2.0 * b, b)),
            }
        }
        wide += 2.0 * b;
        high += 2.0 * b;
    }
}

/// The number of each row and the way its seams are pressed.
fn row_labels(inside: &Inside, border: f64, one_to: f64) -> Vec<Shape> {
    if inside.unit.1 / one_to < 3.0 {
        return Vec::new();
    }
    (0..inside.rows)
        .map(|r| {
            let way = if r % 2 == 0 { "→" } else { "←" };
            Shape::Label(Label {
                at: (-1.6 * one_to, border + inside.corner(0, r).1 + inside.unit.1 / 2.0),
                text: format!("{} {way}", r + 1),
                size: 8.5,
                ground: Ground::Beside,
                bold: true,
            })
        })
        .collect()
}

fn moved(mut shapes: Vec<Shape>, by: f64) -> Vec<Shape> {
    let go = |p: &mut Point| *p = (p.0 + by, p.1 + by);
    for shape in &mut shapes {
        match shape {
            Shape::Areas { outlines: paths, .. } | Shape::Lines { paths, .. } => {
                paths.iter_mut().flatten().for_each(go)
            }
            Shape::Label(label) => go(&mut label.at),
        }
    }
    shapes
}
