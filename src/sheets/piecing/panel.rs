//! A panel drawn to scale as it is sewn: units side by side or on point, or
//! patches in rows, with sashing and borders.

use super::painter::Painter;
use super::{in_rows, on_point};
use crate::figures::PanelFigures;
use crate::plan::{Patchwork, Plan, limits};
use crate::sheets::document::{Drawing, Ground, Label, Line, POINT, Point, Shape, mm, scale_for, scale_words};

/// The room of a panel on the smaller paper, in millimetres: with its units on
/// one page where they stay large enough for that, else more.
const BESIDE_UNITS: (f64, f64) = (162.0, 100.0);
const ROOM: (f64, f64) = (162.0, 150.0);
const LARGE_ENOUGH: f64 = 10.0;
/// For the number of a row and the way it is pressed.
const ASIDE: f64 = 12.0;
/// On point some rows begin at the lower edge.
const BELOW: f64 = 6.0;
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

/// One panel, as it is sewn or as its mirror image.
pub struct Drawn<'a> {
    pub name: &'a str,
    /// Of the piece cut from it, on its own, in millimetres.
    pub outline: Option<Vec<Point>>,
    pub mirrored: bool,
}

impl Drawn<'_> {
    /// What stands under it.
    fn caption(&self) -> String {
        let mut caption = match self.mirrored {
            false => "As it is sewn, without the seam allowances round it.".to_string(),
            true => "For the mirrored half: each row the other way round, each unit as in a mirror.".to_string(),
        };
        if self.outline.is_some() {
            caption.push_str("\nDashed: the piece, cut from the middle");
            caption.push_str(if self.mirrored {
                ", its pattern turned over."
            } else {
                "."
            });
        }
        caption
    }
}

/// `None` where there are too many patches to draw.
pub fn panel(plan: &Plan, face: &Patchwork, panel: &PanelFigures, drawn: &Drawn) -> Option<Drawing> {
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
        in_rows::draw(&mut painter, face, panel);
    } else if face.on_point.is_some() {
        on_point::draw(&mut painter, face, &inside, (w, h));
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
    if let Some(outline) = &drawn.outline {
        outlines.push(Shape::Lines {
            paths: vec![in_the_middle(outline, panel, (width, height))],
            line: Line::Dashed,
        });
    }
    // Under the letters: a seam must not cross one.
    let letters = shapes
        .iter()
        .position(|s| matches!(s, Shape::Label(_)))
        .unwrap_or(shapes.len());
    shapes.splice(letters..letters, outlines);
    if drawn.mirrored {
        mirror(&mut shapes, width);
    }
    // The rows of a mirrored panel on point begin elsewhere.
    if !(drawn.mirrored && face.on_point.is_some()) {
        shapes.extend(row_labels(face, &inside, border, (height, one_to)));
    }
    (count <= PATCHES).then(|| Drawing {
        title: String::new(),
        says: format!(
            "{} of {}: {} across, {} down",
            if drawn.mirrored { "Mirrored panel" } else { "Panel" },
            drawn.name,
            panel.columns,
            panel.rows
        ),
        caption: drawn.caption(),
        width,
        height,
        one_to,
        aside: ASIDE,
        below: if face.on_point.is_some() { BELOW } else { 0.0 },
        // With the legend.
        keep: true,
        shapes,
    })
}

/// Sizes of a panel's parts in millimetres.
pub struct Inside {
    pub columns: usize,
    pub rows: usize,
    pub unit: (f64, f64),
    pub sash: f64,
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
    pub fn across(&self) -> f64 {
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

/// The number of each row where it begins, and the way its seams are pressed.
fn row_labels(face: &Patchwork, inside: &Inside, border: f64, (height, one_to): (f64, f64)) -> Vec<Shape> {
    let first = face.units.first();
    let left = |down: f64| ((-1.6 * one_to, border + down), Ground::Beside);
    let places: Vec<(Point, Ground)> = if first.is_some_and(|u| u.kind.in_rows()) {
        (0..inside.rows).map(|r| left(in_rows::middle(face, r))).collect()
    } else if face.on_point.is_some() {
        let half = inside.across() / 2.0;
        let begins = on_point::rows(face, inside.columns, inside.rows).into_iter();
        let begins = begins.filter_map(|row| row.blocks.first().map(|(at, _)| *at));
        begins
            .map(|(x, y)| match x {
                1 => left(y as f64 * half),
                _ => ((border + x as f64 * half, height + 2.6 * one_to), Ground::Bare),
            })
            .collect()
    } else {
        let middle = |r: usize| inside.corner(0, r).1 + inside.unit.1 / 2.0;
        (0..inside.rows).map(|r| left(middle(r))).collect()
    };
    // As far apart as the two that are closest to each other.
    let closest = places
        .windows(2)
        .map(|pair| (pair[1].0.0 - pair[0].0.0).abs().max((pair[1].0.1 - pair[0].0.1).abs()))
        .fold(f64::MAX, f64::min);
    let size = (closest / one_to / POINT * 0.8).min(8.5);
    if size < 5.0 {
        return Vec::new();
    }
    (0..)
        .zip(places)
        .map(|(r, (at, ground))| {
            Shape::Label(Label {
                at,
                text: format!("{} {}", r + 1, if r % 2 == 0 { "→" } else { "←" }),
                size,
                ground,
                bold: true,
            })
        })
        .collect()
}

fn moved(mut shapes: Vec<Shape>, by: f64) -> Vec<Shape> {
    each_point(&mut shapes, |p| (p.0 + by, p.1 + by));
    shapes
}

/// Left and right changed over; letters are read as before.
fn mirror(shapes: &mut [Shape], width: f64) {
    each_point(shapes, |p| (width - p.0, p.1));
}

fn each_point(shapes: &mut [Shape], go: impl Fn(Point) -> Point) {
    for shape in shapes {
        match shape {
            Shape::Areas { outlines: paths, .. } | Shape::Lines { paths, .. } => {
                paths.iter_mut().flatten().for_each(|p| *p = go(*p))
            }
            Shape::Label(label) => label.at = go(label.at),
        }
    }
}

/// The outline on the panel as it is before quilting, which takes it up.
fn in_the_middle(outline: &[Point], panel: &PanelFigures, (width, height): (f64, f64)) -> Vec<Point> {
    let ends = |of: fn(&Point) -> f64| {
        let all = outline.iter().map(of);
        (all.clone().fold(f64::MAX, f64::min), all.fold(f64::MIN, f64::max))
    };
    let (across, down) = (ends(|p| p.0), ends(|p| p.1));
    let more = |before: f64, after: f64| if after > 0.0 { before / after } else { 1.0 };
    let (wider, higher) = (
        more(mm(panel.before.width), mm(panel.after.width)),
        more(mm(panel.before.height), mm(panel.after.height)),
    );
    let middle = ((across.0 + across.1) / 2.0, (down.0 + down.1) / 2.0);
    let mut placed: Vec<Point> = outline
        .iter()
        .map(|p| {
            let (x, y) = ((p.0 - middle.0) * wider, (p.1 - middle.1) * higher);
            (width / 2.0 + x, height / 2.0 + y)
        })
        .collect();
    placed.extend(placed.first().copied());
    placed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;
    use crate::plan::Face;

    /// A hood of two halves, each cut from a panel of half-square triangles.
    const HOOD: &str = r##"{"format":1,"unit":"cm",
        "cloths":[{"id":"c1","name":"Moss","usable_width":"110 cm"},{"id":"c2","name":"Rust","usable_width":"110 cm"}],
        "drafts":[{"id":"d1","name":"Hood","seam":"1 cm","kind":{"two-piece-hood":{"half_neckline":"21 cm","drop":"2 cm","height":"33 cm","dart":"2 cm","upper":"3 cm","room":"5 cm","face_hem":"0 cm"}}}],
        "pieces":[{"id":"p1","name":"Hood","cut_count":2,"mirrored":true,"width":"1 in","height":"1 in",
            "pattern":{"from":{"draft":{"draft":"d1","part":"half"}}},
            "face":{"kind":"patchwork","finished":"5 cm","arrangement":"all-alike","units":[{"kind":"half-square-triangle","cloths":["c1","c2"]}]},
            "layers":{"batting":"c1"},"margin":"2 cm","take_up":"4 %"}]}"##;

    fn drawings() -> Vec<Drawing> {
        let plan = Plan::from_json(HOOD).unwrap();
        let figures = work_out(&plan);
        let piece = figures.pieces.first().expect("the piece is sound");
        let Some(Face::Patchwork(face)) = plan.pieces[0].face.as_ref() else {
            unreachable!()
        };
        super::super::drawn_panels(&plan, piece, face, piece.panel.as_ref().expect("a panel"))
    }

    fn areas(drawing: &Drawing) -> Vec<(String, Vec<(i64, i64)>)> {
        let whole = |x: f64| (x * 1000.0).round() as i64;
        let mut list = Vec::new();
        for shape in &drawing.shapes {
            if let Shape::Areas {
                outlines,
                colour: Some(colour),
                ..
            } = shape
            {
                for outline in outlines {
                    let mut points: Vec<(i64, i64)> = outline.iter().map(|p| (whole(p.0), whole(p.1))).collect();
                    points.sort_unstable();
                    points.dedup();
                    list.push((format!("{colour:?}"), points));
                }
            }
        }
        list.sort();
        list
    }

    fn dashed(drawing: &Drawing) -> Vec<Point> {
        let mut found = drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Lines {
                paths,
                line: Line::Dashed,
            } => paths.first().cloned(),
            _ => None,
        });
        found.next().expect("the outline is drawn")
    }

    #[test]
    fn the_other_half_is_the_mirror_image_with_its_outline() {
        let both = drawings();
        assert_eq!(both.len(), 2);
        let (one, other) = (&both[0], &both[1]);
        assert!(one.says.starts_with("Panel of Hood") && other.says.starts_with("Mirrored panel of Hood"));
        assert_ne!(areas(one), areas(other), "triangles lean the other way");
        let mut back = other.clone();
        mirror(&mut back.shapes, other.width);
        assert_eq!(areas(one), areas(&back));
        // The outline lies on the panel with its margin round it, and is mirrored too.
        let (outline, turned) = (dashed(one), dashed(other));
        for ((x, y), (over, down)) in outline.iter().zip(&turned) {
            assert!((one.width - x - over).abs() < 1e-9 && (y - down).abs() < 1e-9);
            assert!(*x > 0.0 && *x < one.width && *y > 0.0 && *y < one.height, "{x} {y}");
        }
        let leans = outline.iter().any(|(x, y)| {
            !outline
                .iter()
                .any(|(a, b)| (one.width - x - a).abs() < 1.0 && (y - b).abs() < 1.0)
        });
        assert!(leans, "a hood is not its own mirror image");
        // Letters stay what they were.
        let letters = |d: &Drawing| {
            let mut all: Vec<String> = d
                .shapes
                .iter()
                .filter_map(|s| match s {
                    Shape::Label(l) => Some(l.text.clone()),
                    _ => None,
                })
                .collect();
            all.sort();
            all
        };
        assert_eq!(letters(one), letters(other));
    }
}
