//! Maps of sheets, and outlines, drawn on a page.

use crate::drafting::{Shape, path_of};
use crate::sheets::PatternMap;
use kurbo::{Affine, BezPath, PathEl, Point, Rect};
use maud::{Markup, html};

/// Longest side of a drawing, in its own measure.
const LONG: f64 = 480.0;

fn data(path: &BezPath) -> String {
    let p = |p: &Point| format!("{:.1} {:.1}", p.x, p.y);
    let mut out = String::new();
    for element in path.elements() {
        out += &match element {
            PathEl::MoveTo(a) => format!("M{}", p(a)),
            PathEl::LineTo(a) => format!("L{}", p(a)),
            PathEl::QuadTo(a, b) => format!("Q{} {}", p(a), p(b)),
            PathEl::CurveTo(a, b, c) => format!("C{} {} {}", p(a), p(b), p(c)),
            PathEl::ClosePath => "Z".into(),
        };
    }
    out
}

/// To the drawing's measure, with room round it.
fn fitted(bounds: Rect, long: f64) -> (Affine, String) {
    let scale = long / bounds.width().max(bounds.height()).max(0.01);
    let to = Affine::scale(scale) * Affine::translate(-bounds.origin().to_vec2());
    let (wide, high) = (bounds.width() * scale, bounds.height() * scale);
    (to, format!("-8 -8 {:.1} {:.1}", wide + 16.0, high + 16.0))
}

/// Which sheet is where, and the pieces on them.
pub fn map(map: &PatternMap) -> Markup {
    let bounds = Rect::from_origin_size((0.0, 0.0), map.size);
    let (to, view) = fitted(bounds, LONG);
    let counted = |n: usize, one: &str| format!("{n} {one}{}", if n == 1 { "" } else { "s" });
    let says = format!(
        "Map of {} with {}",
        counted(map.tiles.len(), "sheet"),
        counted(map.pieces.len(), "piece")
    );
    html! {
        svg.pattern-map viewBox=(view) role="img" aria-label=(says) {
            @for piece in &map.pieces {
                path.piece d=(data(&(to * path_of(&piece.points)))) { title { (piece.name) } }
            }
            @for (rect, name) in &map.tiles {
                @let (a, b) = (to * Point::new(rect.x0, rect.y0), to * Point::new(rect.x1, rect.y1));
                rect.sheet x=(format!("{:.1}", a.x)) y=(format!("{:.1}", a.y)) width=(format!("{:.1}", b.x - a.x)) height=(format!("{:.1}", b.y - a.y)) {}
                text x=(format!("{:.1}", (a.x + b.x) / 2.0)) y=(format!("{:.1}", (a.y + b.y) / 2.0))
                    font-size=(format!("{:.1}", ((b.x - a.x) / 4.0).clamp(7.0, 18.0))) text-anchor="middle" dominant-baseline="central" { (name) }
            }
        }
    }
}

/// A small drawing has no more points than this.
const POINTS: usize = 400;

/// A closed line alone, small.
pub fn line(path: &BezPath) -> Markup {
    let (to, view) = fitted(kurbo::Shape::bounding_box(path), 120.0);
    let mut points = Vec::new();
    kurbo::flatten(to * path.clone(), 0.3, |element| points.extend(element.end_point()));
    let every = points.len().div_ceil(POINTS).max(1);
    let points: Vec<Point> = points.into_iter().step_by(every).collect();
    html! { svg.pattern-line viewBox=(view) aria-hidden="true" { path.piece d=(data(&path_of(&points))) {} } }
}

/// The outline as it would be kept: cut line, stitching line, grainline, names of edges.
pub fn outline(shape: &Shape, name: &str) -> Markup {
    let bounds = shape.cut_bounds().union(shape.bounds());
    let (to, view) = fitted(bounds, LONG);
    let [from, end] = shape.grain.map(|p| to * p);
    html! {
        svg.pattern-outline viewBox=(view) role="img" aria-label=(format!("Outline of {name}: cut line, stitching line, grainline")) {
            path.piece d=(data(&(to * shape.cut_line()))) {}
            path.stitching d=(data(&(to * shape.stitching()))) {}
            @for (_, line) in &shape.inner { path.inside d=(data(&(to * line.clone()))) {} }
            path.grain d=(format!("M{:.1} {:.1}L{:.1} {:.1}", from.x, from.y, end.x, end.y)) {}
            @for notch in &shape.notches {
                @if let Some(place) = shape.notch_place(notch) {
                    @let (p, out, along) = (to * place.point, place.outward * 9.0, place.along * 4.0);
                    path.notch d=(data(&path_of(&[p + out - along, p + out + along, p - out * 0.4]))) {}
                }
            }
            @for (_, p) in &shape.marks {
                @let p = to * *p;
                circle.mark cx=(format!("{:.1}", p.x)) cy=(format!("{:.1}", p.y)) r="3" {}
            }
            @for (n, edge) in shape.edges.iter().enumerate() {
                @let place = shape.place(edge, edge.length() / 2.0);
                @let p = to * place.point - place.outward * 14.0;
                text x=(format!("{:.1}", p.x)) y=(format!("{:.1}", p.y)) text-anchor="middle" dominant-baseline="central" { (n + 1) }
            }
        }
    }
}
