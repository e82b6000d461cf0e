//! A cutting layout drawn to scale: across the page is across the cloth,
//! selvage to selvage; down the page is along it.

use super::swatch::safe_colour;
use crate::figures::{ClothFigures, Placed, Sheet};
use crate::measure::{Length, MM, Round, Unit};
use crate::sheets::sentence;
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::fmt::Write;

/// Drawn in whole millimetres of cloth.
fn mm(x: Length) -> i64 {
    x.round_to(MM).units() / MM.units()
}

pub fn layout_drawing(cloth: &ClothFigures, unit: Unit, name: &str) -> Markup {
    let widest = cloth
        .layout
        .sheets
        .iter()
        .map(|s| mm(s.width))
        .max()
        .unwrap_or(1)
        .max(1);
    html! {
        @for (i, sheet) in cloth.layout.sheets.iter().enumerate() {
            @if !sheet.strips.is_empty() {
                // Sheets of one cloth are drawn to one scale, in tenths of the widest.
                @let tenths = (mm(sheet.width) * 10 + widest - 1) / widest;
                figure class=(format!("layout tenths-{tenths}")) {
                    (sheet_drawing(cloth, sheet, tenths, &format!("{name}-{i}")))
                    figcaption {
                        (sentence(&format!("{}: {} across, {} along", sheet.name, sheet.width.both(unit, Round::Nearest), sheet.length.both(unit, Round::Up))))
                    }
                }
            }
        }
    }
}

fn sheet_drawing(cloth: &ClothFigures, sheet: &Sheet, tenths: i64, name: &str) -> Markup {
    let (w, h) = (mm(sheet.width).max(1), mm(sheet.length).max(1));
    // Lettering of about the same size on the page whatever the cloth measures:
    // a narrow one is drawn small, a long one fills the height.
    let type_size = (w * 10 / (26 * tenths.max(4))).max(h / 40).max(4);
    let hatch = format!("hatch-{name}");
    let paths = paths(cloth, sheet);
    let margin = type_size * 2;
    html! {
        svg.sheet viewBox=(format!("{} {} {} {}", -margin - 1, -h / 100 - 2, w + w / 60 + margin + 2, h + h / 50 + 4))
            role="img" aria-label=(format!("Cutting layout of {}, {}", cloth.name, sheet.name)) {
            defs {
                pattern id=(hatch) width="14" height="14" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                    path d="M0 0v14" stroke="currentColor" stroke-opacity=".35" stroke-width="2" {}
                }
            }
            rect.ground x="0" y="0" width=(w) height=(h) {}
            rect x="0" y="0" width=(w) height=(mm(sheet.straightening)) fill=(format!("url(#{hatch})")) {}
            @for (line, path) in &paths {
                path.cut d=(path) fill=(safe_colour(&cloth.colour)) {
                    title { (format!("Line {}", line + 1)) }
                }
            }
            @for path in paths.values() { path.cut-ground d=(path) {} }
            @for path in paths.values() { path.cut-line d=(path) {} }
            @for strip in &sheet.strips {
                path.strip-edge d=(format!("M0 {}H{w}", mm(strip.at + strip.height))) {}
            }
            @for label in labels(sheet, type_size) {
                circle.label-ground cx=(label.x) cy=(label.y) r=(label.r) {}
                text.label-text x=(label.x) y=(label.y) font-size=(label.r * 5 / 4) text-anchor="middle" dominant-baseline="central" { (label.text) }
            }
            @for (y, step) in steps(sheet) {
                text.step-text x=(-type_size / 3) y=(y) font-size=(type_size) text-anchor="end" dominant-baseline="central" { (step) }
            }
            @for part in parts(sheet, type_size) {
                rect.part-ground x=(part.x) y=(part.y) width=(part.r * 2) height=(part.r * 2) {}
                text.part-text x=(part.x + part.r) y=(part.y + part.r) font-size=(part.r * 3 / 2) text-anchor="middle" dominant-baseline="central" { (part.text) }
            }
            // selvages
            path.selvage d=(format!("M0 0V{h}M{w} 0V{h}")) {}
        }
    }
}

/// One path for all pieces of a cut line: thousands of patches stay small.
fn paths(cloth: &ClothFigures, sheet: &Sheet) -> BTreeMap<usize, String> {
    let mut paths: BTreeMap<usize, String> = BTreeMap::new();
    for placed in sheet.strips.iter().flat_map(|s| &s.placed) {
        let Some(line) = cloth.cuts.get(placed.line) else {
            continue;
        };
        let path = paths.entry(placed.line).or_default();
        for (n, (x, y)) in placed.corners(line).into_iter().enumerate() {
            // Writing to a String cannot fail.
            let _ = write!(path, "{}{} {}", if n == 0 { 'M' } else { 'L' }, mm(x), mm(y));
        }
        path.push('z');
    }
    paths
}

/// Where the first strip of each step lies, and its number in the order of cuts.
fn steps(sheet: &Sheet) -> Vec<(i64, usize)> {
    let mut steps: Vec<(i64, usize)> = Vec::new();
    for strip in &sheet.strips {
        if steps.last().is_none_or(|(_, step)| *step != strip.step) {
            steps.push((mm(strip.at + strip.height.scale_down(1, 2)), strip.step));
        }
    }
    steps
}

/// The number of each part that the order of cuts names, in its corner.
fn parts(sheet: &Sheet, type_size: i64) -> Vec<Label> {
    let cuts = sheet.strips.iter().flat_map(|s| &s.cuts);
    cuts.filter_map(|cut| {
        let r = (type_size * 3 / 5)
            .min(mm(cut.part.width.min(cut.part.height)) / 4)
            .max(3);
        Some(Label {
            x: mm(cut.part.x),
            y: mm(cut.part.y),
            r,
            text: cut.number?.to_string(),
        })
    })
    .collect()
}

struct Label {
    x: i64,
    y: i64,
    r: i64,
    text: String,
}

/// The number of the cut line on the first of each run of equal pieces.
fn labels(sheet: &Sheet, type_size: i64) -> Vec<Label> {
    let mut labels = Vec::new();
    for strip in &sheet.strips {
        let mut last: Option<Placed> = None;
        for placed in &strip.placed {
            let same = last.is_some_and(|l| l.line == placed.line && l.turned == placed.turned);
            if !same {
                let r = placed.rect;
                let small = mm(r.width.min(r.height));
                labels.push(Label {
                    x: mm(r.x) + mm(r.width) / 2,
                    y: mm(r.y) + mm(r.height) / 2,
                    r: (type_size * 3 / 4).min(small * 2 / 5).max(4),
                    text: (placed.line + 1).to_string(),
                });
            }
            last = Some(*placed);
        }
    }
    labels
}
