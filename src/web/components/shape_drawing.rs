//! An outline to scale: cut line, stitching line, notches, grainline, names of
//! its edges. A piece on the fold is drawn as the half it is cut from, one whose fold does not
//! run along the grain opened out.

use crate::drafting::{Place, Shape, ShapeEdge, path_of};
use crate::measure::{Length, Round, Unit};
use crate::plan::EdgeKind;
use kurbo::{BezPath, Point, Rect, Shape as _, Vec2};
use maud::{Markup, html};

/// Longest side of a drawing, in its own measure.
const LONG: f64 = 400.0;
const ROUND: f64 = 26.0;

/// The drawing with the names of its edges.
pub fn shape_drawing(shape: &Shape, name: &str, unit: Unit) -> Markup {
    drawn(shape, name, Some(unit))
}

/// Lines alone, for a small place.
pub fn shape_icon(shape: &Shape) -> Markup {
    drawn(shape, "", None)
}

fn drawn(shape: &Shape, name: &str, named: Option<Unit>) -> Markup {
    let half = shape;
    let shape = &*shape.as_cut();
    // Its place in the list; of the other half nothing, whose edges are the same.
    let number = |edge: &ShapeEdge| half.edges.iter().position(|e| e.name == edge.name);
    let bounds = shape.cut_bounds();
    let view = View {
        bounds,
        scale: LONG / bounds.width().max(bounds.height()).max(1.0),
    };
    let round = if named.is_some() { ROUND } else { 6.0 };
    let (wide, high) = (bounds.width() * view.scale, bounds.height() * view.scale);
    let frame = format!(
        "{:.1} {:.1} {:.1} {:.1}",
        -round,
        -round,
        wide + 2.0 * round,
        high + 2.0 * round
    );
    let cut = path_of(&shape.cut_polygon());
    let stitching = shape.stitching();
    let [from, to] = shape.grain.map(|p| view.at(p));
    html! {
        svg.shape viewBox=(frame) role=[named.map(|_| "img")] aria-hidden=[named.is_none().then_some("true")] aria-label=[named.map(|_| format!("Outline of {name}: cut line, stitching line, grainline"))] {
            path.cut-line d=(view.path(&cut)) {}
            @for edge in &shape.edges {
                path.stitching.fold[edge.kind == EdgeKind::Fold].bound[edge.kind == EdgeKind::Bound] data-edge=[number(edge).filter(|_| named.is_some())] d=(view.path(&edge.path)) {}
            }
            @for (_, line) in &shape.inner { path.inner-line d=(view.path(line)) {} }
            @if named.is_some() {
                path.grain d=(arrow(from, to)) {}
                @for notch in &shape.notches {
                    @if let Some(place) = shape.notch_place(notch) {
                        path.notch d=(view.notch(place.point, place.along, place.outward, notch.double)) {}
                    }
                }
                @for (_, p) in &shape.marks {
                    @let p = view.at(*p);
                    circle.mark cx=(figure(p.x)) cy=(figure(p.y)) r="3" {}
                }
                @for (i, edge) in shape.edges.iter().filter_map(|e| Some((number(e)?, e))) {
                    @let place = shape.place(edge, edge.length() / 2.0);
                    @let p = view.at(place.point) - place.outward * 15.0;
                    @if fits(edge.name.len(), edge.length() * view.scale, room(&stitching, &place, 400.0 / view.scale) * view.scale, place.outward) {
                        text.edge-name x=(figure(p.x)) y=(figure(p.y)) text-anchor=(anchor(place.outward)) dominant-baseline="middle" { (edge.name) }
                    }
                    // In a small drawing its number in the list stands for it.
                    @let p = view.at(place.point) + place.outward * (edge.allowance * view.scale + 16.0);
                    text.edge-number x=(figure(p.x)) y=(figure(p.y)) text-anchor="middle" dominant-baseline="central" { (i + 1) }
                }
            }
        }
    }
}

/// Whether a name has room beside its edge, and one on the other side too: it
/// would run over the next one. It stands in the list below in any case.
fn fits(letters: usize, edge: f64, room: f64, outward: Vec2) -> bool {
    let text = letters as f64 * 8.5;
    let deep = outward.x.abs() * text + outward.y.abs() * 24.0 + 15.0;
    let long = outward.y.abs() * text + 20.0;
    edge > long && room > deep * 2.0
}

/// How far the piece reaches inwards from a place on its edge.
fn room(stitching: &BezPath, place: &Place, most: f64) -> f64 {
    (1..=12)
        .map(|n| most * f64::from(n) / 12.0)
        .take_while(|d| stitching.winding(place.point - place.outward * *d) != 0)
        .last()
        .unwrap_or_default()
}

/// A text inside of an upright edge begins at it.
fn anchor(outward: Vec2) -> &'static str {
    if outward.x > 0.7 {
        "end"
    } else if outward.x < -0.7 {
        "start"
    } else {
        "middle"
    }
}

/// Width and height of what is cut, in words.
pub fn cut_words(width: Length, height: Length, unit: Unit) -> String {
    format!(
        "{} wide, {} high",
        width.both(unit, Round::Up),
        height.both(unit, Round::Up)
    )
}

struct View {
    bounds: Rect,
    scale: f64,
}

impl View {
    fn at(&self, p: Point) -> Point {
        Point::new((p.x - self.bounds.x0) * self.scale, (p.y - self.bounds.y0) * self.scale)
    }

    fn path(&self, path: &BezPath) -> String {
        use kurbo::PathEl::{ClosePath, CurveTo, LineTo, MoveTo, QuadTo};
        let mut d = String::new();
        for element in path.elements() {
            let (letter, points): (char, Vec<Point>) = match *element {
                MoveTo(p) => ('M', vec![p]),
                LineTo(p) => ('L', vec![p]),
                QuadTo(a, p) => ('Q', vec![a, p]),
                CurveTo(a, b, p) => ('C', vec![a, b, p]),
                ClosePath => ('Z', vec![]),
            };
            d.push(letter);
            for p in points {
                let p = self.at(p);
                d += &format!("{} {} ", figure(p.x), figure(p.y));
            }
        }
        d
    }

    /// A small triangle on the stitching line, pointing out.
    fn notch(&self, p: Point, along: Vec2, outward: Vec2, double: bool) -> String {
        let middle = self.at(p);
        let one = |p: Point| {
            let (a, b, tip) = (p - along * 4.0, p + along * 4.0, p + outward * 7.0);
            format!(
                "M{} {}L{} {}L{} {}Z",
                figure(a.x),
                figure(a.y),
                figure(tip.x),
                figure(tip.y),
                figure(b.x),
                figure(b.y)
            )
        };
        if double {
            one(middle - along * 5.0) + &one(middle + along * 5.0)
        } else {
            one(middle)
        }
    }
}

fn arrow(from: Point, to: Point) -> String {
    let length = (to - from).hypot();
    if length < 1.0 {
        return String::new();
    }
    let along = (to - from) / length;
    let aside = Vec2::new(-along.y, along.x);
    let tip = |p: Point, back: Vec2| {
        let (a, b) = (p + back * 9.0 + aside * 4.0, p + back * 9.0 - aside * 4.0);
        format!(
            "M{} {}L{} {}L{} {}",
            figure(a.x),
            figure(a.y),
            figure(p.x),
            figure(p.y),
            figure(b.x),
            figure(b.y)
        )
    };
    format!(
        "M{} {}L{} {}",
        figure(from.x),
        figure(from.y),
        figure(to.x),
        figure(to.y)
    ) + &tip(from, along)
        + &tip(to, -along)
}

fn figure(x: f64) -> String {
    let text = format!("{x:.1}");
    text.strip_suffix(".0").map(str::to_string).unwrap_or(text)
}
