//! A drawing of a sheet, in millimetres on paper: printed from the browser at
//! full size it is to scale too.

use crate::sheets::document::{Drawing, Ground, Hatch, Label, Line, POINT, Point, Shape};
use maud::{Markup, html};
use std::collections::BTreeSet;
use std::fmt::Write;

pub fn picture(drawing: &Drawing, number: &str) -> Markup {
    let (wide, high) = drawing.on_paper();
    let edge = 1.0;
    let (wide, high, left) = (
        wide + drawing.aside + 2.0 * edge,
        high + drawing.below + 2.0 * edge,
        drawing.aside + edge,
    );
    let spot = |(x, y): Point| (x / drawing.one_to, y / drawing.one_to);
    let hatches: BTreeSet<Hatch> = drawing
        .shapes
        .iter()
        .filter_map(|s| match s {
            Shape::Areas { hatch, .. } => Some(*hatch),
            _ => None,
        })
        .collect();
    html! {
        figure.paper-drawing {
            @if !drawing.title.is_empty() { p { b { (drawing.title) } } }
            svg width=(format!("{wide:.1}mm")) viewBox=(format!("{:.2} {:.2} {wide:.2} {high:.2}", -left, -edge)) role="img" aria-label=(drawing.says) {
                defs { @for hatch in &hatches { (pattern(*hatch, number)) } }
                @for shape in &drawing.shapes {
                    @match shape {
                        Shape::Areas { outlines, colour, hatch, line } => {
                            @let d = path(outlines, true, spot);
                            @if let Some((r, g, b)) = colour { path d=(d) fill=(format!("#{r:02x}{g:02x}{b:02x}")) {} }
                            @if !hatch.lines().0.is_empty() { path d=(d) fill=(format!("url(#{})", id(*hatch, number))) {} }
                            @if *line != Line::None { path class=(class(*line)) d=(d) {} }
                        }
                        Shape::Lines { paths, line } => path class=(class(*line)) d=(path(paths, false, spot)) {},
                        Shape::Label(label) => (lettered(label, spot(label.at))),
                    }
                }
            }
            @if !drawing.caption.is_empty() { figcaption { @for line in drawing.caption.lines() { div { (super::super::sentence(line)) } } } }
        }
    }
}

fn class(line: Line) -> &'static str {
    match line {
        Line::None => "none",
        Line::Fine => "fine",
        Line::Strong => "strong",
        Line::Dashed => "dashed",
    }
}

fn path(outlines: &[Vec<Point>], closed: bool, spot: impl Fn(Point) -> Point) -> String {
    let mut d = String::new();
    for outline in outlines {
        for (n, point) in outline.iter().enumerate() {
            let (x, y) = spot(*point);
            // Writing to a String cannot fail.
            let _ = write!(d, "{}{x:.2} {y:.2}", if n == 0 { 'M' } else { 'L' });
        }
        if closed {
            d.push('z');
        }
    }
    d
}

fn id(hatch: Hatch, number: &str) -> String {
    format!("hatch-{number}-{}", format!("{hatch:?}").to_lowercase())
}

/// One repeat of the hatching: a square, turned where its lines are slanted.
fn pattern(hatch: Hatch, number: &str) -> Markup {
    let (ways, apart) = hatch.lines();
    html! {
        @if let Some(first) = ways.first() {
            @let turn = first.1.atan2(first.0).to_degrees();
            pattern id=(id(hatch, number)) width=(format!("{apart:.2}")) height=(format!("{apart:.2}")) patternUnits="userSpaceOnUse" patternTransform=(format!("rotate({turn:.0})")) {
                path.hatched d=(if ways.len() > 1 { format!("M0 0h{apart:.2}M0 0v{apart:.2}") } else { format!("M0 0h{apart:.2}") }) {}
            }
        }
    }
}

fn lettered(label: &Label, (x, y): Point) -> Markup {
    let size = label.size * POINT;
    let wide = size * 0.58 * label.text.chars().count() as f64;
    let anchor = if label.ground == Ground::Beside {
        "end"
    } else {
        "middle"
    };
    html! {
        @match label.ground {
            Ground::Disc => circle.disc cx=(n(x)) cy=(n(y)) r=(n((size * 0.78).max(wide / 2.0 + size * 0.2))) {},
            Ground::Light => circle.light cx=(n(x)) cy=(n(y)) r=(n((size * 0.62).max(wide / 2.0))) {},
            Ground::Square => {
                @let half = (wide / 2.0 + size * 0.25).max(size * 0.6);
                rect.dark x=(n(x - half)) y=(n(y - size * 0.6)) width=(n(2.0 * half)) height=(n(size * 1.2)) {}
            }
            Ground::Bare | Ground::Beside => {}
        }
        text.on-dark[label.ground == Ground::Square].heavy[label.bold] x=(n(x)) y=(n(y)) font-size=(n(size)) text-anchor=(anchor) dominant-baseline="central" { (label.text) }
    }
}

fn n(number: f64) -> String {
    format!("{number:.2}")
}
