//! A remnant with an outline, and the rectangles counted on, to be marked.

use crate::figures::OutlineFigures;
use crate::measure::{Length, Round, Unit};
use maud::{Markup, html};

/// Longest side of the drawing, in its own measure.
const LONG: f64 = 400.0;

pub fn outline_drawing(shape: &OutlineFigures) -> Markup {
    let (wide, high) = (shape.around.width.as_mm_f64(), shape.around.height.as_mm_f64());
    let scale = LONG / wide.max(high).max(1.0);
    let at = |l: Length| (l.as_mm_f64() * scale * 10.0).round() / 10.0;
    let points: Vec<String> = shape
        .corners
        .iter()
        .map(|c| format!("{},{}", at(c.x), at(c.y)))
        .collect();
    html! {
        figure.outline-drawing {
            svg viewBox=(format!("-6 -6 {} {}", at(shape.around.width) + 12.0, at(shape.around.height) + 12.0)) role="img"
                aria-label=(format!("Outline of {} corners with {} rectangles inside", shape.corners.len(), shape.rectangles.len())) {
                polygon.outline points=(points.join(" ")) {}
                @for (n, r) in shape.rectangles.iter().enumerate() {
                    rect.inside x=(at(r.x)) y=(at(r.y)) width=(at(r.width)) height=(at(r.height)) {}
                    text x=(at(r.x) + at(r.width) / 2.0) y=(at(r.y) + at(r.height) / 2.0) text-anchor="middle" dominant-baseline="central" { (n + 1) }
                }
            }
            figcaption {
                @if shape.rectangles.is_empty() { p { "No rectangle of 2 in (5 cm) or more lies inside along the grain: nothing is counted on." } }
                @else {
                    p.hint { "Counted on, " (shape.percent) " % of it:" }
                    ol.outline-rectangles { @for r in &shape.rectangles { li {
                        span { b { (r.width.inches(Round::Down)) " × " (r.height.inches(Round::Down)) } " (" (r.width.cm(Round::Down)) " × " (r.height.cm(Round::Down)) ")" }
                        span.meta { "from " (r.x.both(Unit::Inch, Round::Nearest)) " across, " (r.y.both(Unit::Inch, Round::Nearest)) " along" }
                    } } }
                }
            }
        }
    }
}
