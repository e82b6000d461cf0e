//! Bias strips as they lie on a rectangle of cloth, and a panel with its lines
//! of quilting: drawn to scale, in whole millimetres.

use super::swatch::safe_colour;
use crate::figures::{BiasPiece, LineSet, LineWay, Point, Size};
use crate::measure::{Length, MM, Round, Unit};
use crate::sheets::sentence;
use maud::{Markup, html};
use std::fmt::Write;

fn mm(x: Length) -> i64 {
    x.round_to(MM).units() / MM.units()
}

/// The strips of a rectangle, each with its number. A table beside it names
/// their lengths.
pub fn strips_drawing(rectangle: Size, strips: &[BiasPiece], strip: Length, colour: &str, unit: Unit) -> Markup {
    let (w, h) = (mm(rectangle.width).max(1), mm(rectangle.height).max(1));
    // Numbers of neighbouring strips stay apart.
    let type_size = (w.max(h) / 28).min(mm(strip) * 2 / 5).max(4);
    let path = |corners: &[Point]| {
        let mut path = String::new();
        for (n, p) in corners.iter().enumerate() {
            // Writing to a String cannot fail.
            let _ = write!(path, "{}{} {}", if n == 0 { "M" } else { "L" }, mm(p.x), mm(p.y));
        }
        path + "z"
    };
    let middle = |corners: &[Point]| {
        let count = corners.len().max(1) as i64;
        let sum = |of: fn(&Point) -> Length| corners.iter().map(|p| mm(of(p))).sum::<i64>() / count;
        (sum(|p| p.x), sum(|p| p.y))
    };
    html! {
        figure.layout.strips.many[strips.len() > 8] tabindex=[(strips.len() > 8).then_some("0")] {
            svg.sheet viewBox=(format!("{} {} {} {}", -w / 60 - 1, -h / 60 - 1, w + w / 30 + 2, h + h / 30 + 2))
                role="img" aria-label=(format!("{} bias strips on {}", strips.len(), rectangle.both(unit, Round::Nearest))) {
                rect.ground x="0" y="0" width=(w) height=(h) {}
                @for strip in strips {
                    @let path = path(&strip.corners);
                    path.cut d=(path) fill=(safe_colour(colour)) { title { "Strip " (strip.number) ": " (strip.length.both(unit, Round::Down)) } }
                    path.cut-ground d=(path) {}
                    path.cut-line d=(path) {}
                }
                @for strip in strips {
                    @let (x, y) = middle(&strip.corners);
                    circle.label-ground cx=(x) cy=(y) r=(type_size) {}
                    text.label-text x=(x) y=(y) font-size=(type_size * 5 / 4) text-anchor="middle" dominant-baseline="central" { (strip.number) }
                }
                path.selvage d=(format!("M0 0V{h}M{w} 0V{h}")) {}
            }
            figcaption {
                (sentence(&format!("{} across, {} along the grain", rectangle.width.both(unit, Round::Nearest), rectangle.height.both(unit, Round::Nearest))))
            }
        }
    }
}

/// A panel with its lines, and how far some of them are from its left and top edge.
pub fn quilting_drawing(panel: Size, sets: &[LineSet], name: &str, unit: Unit) -> Markup {
    let (w, h) = (mm(panel.width).max(1), mm(panel.height).max(1));
    // About as large as small print, whether width or height fills its place.
    let type_size = (w / 14).max(h / 30).max(3);
    let room = type_size * 5;
    let one = |l: Length| match unit {
        Unit::Inch => l.inches(Round::Nearest),
        Unit::Cm => l.cm(Round::Nearest),
    };
    // As many measures as can be read, the middle one among them.
    let labelled = |set: &LineSet, span: i64, size: i64| -> Vec<usize> {
        let apart = mm(set.along_edge).max(1);
        let every = ((size + apart - 1) / apart).max(1) as usize;
        let most = (span / size.max(1)).max(1) as usize;
        let all = (0..set.lines.len()).filter(|n| n.abs_diff(set.middle) % every == 0);
        all.take(most + 1).collect()
    };
    html! {
        figure.layout.quilted {
            svg.sheet viewBox=(format!("{} {} {} {}", -room, -type_size * 2, w + room + type_size, h + type_size * 3))
                role="img" aria-label=(format!("Lines of quilting on {name}")) {
                rect.ground x="0" y="0" width=(w) height=(h) {}
                @for set in sets {
                    path class=(format!("quilt-line {}", set.way.name())) d=(set.lines.iter().fold(String::new(), |mut d, l| {
                        let _ = write!(d, "M{} {}L{} {}", mm(l.from.x), mm(l.from.y), mm(l.to.x), mm(l.to.y));
                        d
                    })) {}
                    @if let Some(l) = set.lines.get(set.middle) {
                        path.quilt-line.middle d=(format!("M{} {}L{} {}", mm(l.from.x), mm(l.from.y), mm(l.to.x), mm(l.to.y))) {}
                    }
                    @if set.way == LineWay::Upright {
                        @for n in labelled(set, w, type_size * 4) {
                            text.quilt-measure x=(mm(set.lines[n].from.x)) y=(-type_size * 2 / 3) font-size=(type_size) text-anchor="middle" { (one(set.lines[n].from.at)) }
                        }
                    }
                    @if set.way == LineWay::Level {
                        @for n in labelled(set, h, type_size * 3 / 2) {
                            text.quilt-measure x=(-type_size / 2) y=(mm(set.lines[n].from.y)) font-size=(type_size) text-anchor="end" dominant-baseline="central" { (one(set.lines[n].from.at)) }
                        }
                    }
                }
                rect.quilt-edge x="0" y="0" width=(w) height=(h) {}
            }
        }
    }
}
