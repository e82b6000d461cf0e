//! A panel drawn as it will look: one repeat of the arrangement as an SVG
//! pattern, so that a thousand units cost no more than four.

use super::swatch::{letter, safe_colour};
use crate::plan::{Arrangement, Face, Plan, Unit, UnitKind};
use maud::{Markup, html};

/// The side of a drawn unit.
const SIDE: i64 = 40;

/// One unit alone, for choosing its kind.
pub fn unit_drawing(kind: UnitKind) -> Markup {
    let shapes: Vec<(&str, &str)> = match kind {
        UnitKind::HalfSquareTriangle => vec![("M0 0h40L0 40z", "dark"), ("M40 0v40h-40z", "light")],
        UnitKind::QuarterSquareTriangle => vec![
            ("M0 0h40L20 20z", "dark"),
            ("M40 0v40L20 20z", "light"),
            ("M40 40h-40L20 20z", "dark"),
            ("M0 40v-40L20 20z", "light"),
        ],
        UnitKind::Rail => vec![
            ("M0 0h13v40h-13z", "dark"),
            ("M13 0h14v40h-14z", "light"),
            ("M27 0h13v40h-13z", "mid"),
        ],
        _ => vec![("M0 0h40v40h-40z", "dark")],
    };
    html! {
        svg.unit viewBox="-1 -1 42 42" width="42" height="42" aria-hidden="true" {
            @for (path, tone) in shapes { path class=(tone) d=(path) {} }
        }
    }
}

/// The face of a piece, `columns` by `rows` units, in the plan's cloths with
/// their letters. `name` keeps ids on a page apart.
pub fn panel_drawing(plan: &Plan, face: &Face, columns: i64, rows: i64, name: &str) -> Markup {
    let (columns, rows) = (columns.clamp(1, 200), rows.clamp(1, 200));
    match face {
        Face::Plain(plain) => {
            let (index, colour) = cloth_of(plan, &plain.cloth);
            html! {
                svg.face-view.plain viewBox="0 0 120 90" role="img" aria-label=(format!("Plain cloth {}", letter(index))) {
                    rect x="0" y="0" width="120" height="90" fill=(colour) {}
                    (chip(60, 45, index))
                }
            }
        }
        Face::Patchwork(face_of) => {
            let units = &face_of.units;
            let alternating = face_of.arrangement == Arrangement::Alternating;
            let at = |c: i64, r: i64| -> Option<&Unit> {
                if alternating {
                    units.get(((c + r) % 2) as usize)
                } else {
                    units.first()
                }
            };
            let span = if alternating { 2 } else { 1 };
            let (w, h) = (columns * SIDE, rows * SIDE);
            let pattern = format!("tile-{name}");
            html! {
                svg.face-view viewBox=(format!("-1 -1 {} {}", w + 2, h + 2)) role="img"
                    aria-label=(format!("Panel of {columns} by {rows} units")) {
                    defs {
                        pattern id=(pattern) width=(span * SIDE) height=(span * SIDE) patternUnits="userSpaceOnUse" {
                            @for r in 0..span { @for c in 0..span {
                                @if let Some(unit) = at(c, r) { (unit_at(plan, unit, c * SIDE, r * SIDE)) }
                            } }
                        }
                    }
                    rect x="0" y="0" width=(w) height=(h) fill=(format!("url(#{pattern})")) stroke="currentColor" {}
                }
                (legend(plan, face))
            }
        }
    }
}

fn cloth_of<'a>(plan: &'a Plan, id: &str) -> (usize, &'a str) {
    let at = plan.cloths.iter().position(|c| c.id == id);
    at.map_or((25, "#b8bcc6"), |i| (i, safe_colour(&plan.cloths[i].colour)))
}

fn unit_at(plan: &Plan, unit: &Unit, x: i64, y: i64) -> Markup {
    let s = SIDE;
    let half = s / 2;
    let count = unit.cloths.len().max(1) as i64;
    let shape = |position: i64| -> (String, i64, i64) {
        match unit.kind {
            UnitKind::HalfSquareTriangle => match position {
                0 => (format!("M{x} {y}h{s}l-{s} {s}z"), x + s / 4 + 2, y + s / 4 + 2),
                _ => (
                    format!("M{} {y}v{s}h-{s}z", x + s),
                    x + s - s / 4 - 2,
                    y + s - s / 4 - 2,
                ),
            },
            UnitKind::QuarterSquareTriangle => {
                let (cx, cy) = (x + half, y + half);
                match position {
                    0 => (format!("M{x} {y}h{s}L{cx} {cy}z"), cx, y + 8),
                    1 => (format!("M{} {y}v{s}L{cx} {cy}z", x + s), x + s - 8, cy),
                    2 => (format!("M{} {}h-{s}L{cx} {cy}z", x + s, y + s), cx, y + s - 8),
                    _ => (format!("M{x} {}v-{s}L{cx} {cy}z", y + s), x + 8, cy),
                }
            }
            UnitKind::Rail => {
                let (from, to) = (position * s / count, (position + 1) * s / count);
                (
                    format!("M{} {y}h{}v{s}h-{}z", x + from, to - from, to - from),
                    x + (from + to) / 2,
                    y + half,
                )
            }
            _ => (format!("M{x} {y}h{s}v{s}h-{s}z"), x + half, y + half),
        }
    };
    html! {
        @for (position, id) in unit.cloths.iter().enumerate() {
            @let (path, lx, ly) = shape(position as i64);
            @let (index, colour) = cloth_of(plan, id);
            path d=(path) fill=(colour) stroke="#1d2450" stroke-opacity=".35" stroke-width=".7" {}
            text x=(lx) y=(ly) class="cloth-letter" fill=(ink_on(colour)) text-anchor="middle" dominant-baseline="central" font-size="9" { (letter(index)) }
        }
    }
}

fn chip(x: i64, y: i64, index: usize) -> Markup {
    html! {
        circle cx=(x) cy=(y) r="13" fill="#ffffff" {}
        text x=(x) y=(y) text-anchor="middle" dominant-baseline="central" font-size="14" fill="#1d2450" { (letter(index)) }
    }
}

/// Dark or light lettering, whichever is read better on the colour (the WCAG
/// relative luminance where both contrasts are equal is about 0.18).
pub fn ink_on(colour: &str) -> &'static str {
    let channel = |at: usize| -> f64 {
        let v = f64::from(u8::from_str_radix(colour.get(at..at + 2).unwrap_or("80"), 16).unwrap_or(128)) / 255.0;
        if v <= 0.04045 {
            v / 12.92
        } else {
            ((v + 0.055) / 1.055).powf(2.4)
        }
    };
    let luminance = 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
    if luminance > 0.18 { "#14182f" } else { "#ffffff" }
}

fn legend(plan: &Plan, face: &Face) -> Markup {
    let mut seen: Vec<usize> = Vec::new();
    for id in face.cloths() {
        if let Some(i) = plan.cloths.iter().position(|c| c.id == id)
            && !seen.contains(&i)
        {
            seen.push(i);
        }
    }
    html! {
        ul.legend {
            @for i in seen { li { (super::swatch(&plan.cloths[i].colour, Some(&letter(i)), None)) span { (plan.cloths[i].name) } } }
        }
    }
}
