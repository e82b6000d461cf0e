//! A layout drawn to scale: across the page is across the cloth, down the page
//! along it.

use crate::drafting::lay::roomiest;
use crate::figures::lay::{LaidPiece, LaySheet};
use crate::measure::Unit;
use kurbo::{Point, Vec2};
use maud::{Markup, html};

/// Width of the cloth in the drawing's own measure, and room beside it for marks.
const WIDE: f64 = 240.0;
const MARKS: f64 = 33.0;

/// `name` is the drawing's own on its page.
pub fn sheet_drawing(sheet: &LaySheet, name: &str, unit: Unit) -> Markup {
    let most = |axis: fn(&Point) -> f64| sheet.outline.iter().map(axis).fold(1.0, f64::max);
    let (width, length) = (most(|p| p.x), most(|p| p.y));
    // A long narrow remnant is drawn no taller than a page.
    let scale = (WIDE / width).min(if sheet.from_bolt { f64::INFINITY } else { 360.0 / length });
    let (w, h) = (width * scale, length * scale);
    let (top, bottom) = (16.0, 20.0);
    let count = match sheet.pieces.len() {
        1 => "1 piece".to_string(),
        n => format!("{n} pieces"),
    };
    html! {
        figure.lay {
            svg viewBox=(format!("{} {} {} {}", -MARKS, -top, tenth(w + 2.0 * MARKS), tenth(h + top + bottom)))
                role="img" aria-label=(format!("{}: {count} laid", sheet.name)) {
                defs {
                    pattern id=(format!("turned-over-{name}")) width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                        path.turned-lines d="M0 0v5" {}
                    }
                }
                path.lay-cloth d=(path(&sheet.outline, scale)) {}
                @for piece in &sheet.pieces {
                    path.lay-piece.turned-over[piece.mirrored] d=(path(&piece.outline, scale)) {}
                    @if piece.mirrored { path.turned-fill d=(path(&piece.outline, scale)) fill=(format!("url(#turned-over-{name})")) {} }
                }
                @for piece in &sheet.pieces { (label(piece, scale)) }
                path.lay-edge d=(path(&sheet.outline, scale)) {}
                @if sheet.from_bolt { (sides(sheet.folded, w, h)) }
                (marks(length, scale, w, unit))
            }
            figcaption { (sheet.name) ", " (count) }
        }
    }
}

fn tenth(x: f64) -> f64 {
    (x * 10.0).round() / 10.0
}

fn path(outline: &[Point], scale: f64) -> String {
    let mut path = String::new();
    for (n, p) in outline.iter().enumerate() {
        path += &format!(
            "{}{} {}",
            if n == 0 { 'M' } else { 'L' },
            tenth(p.x * scale),
            tenth(p.y * scale)
        );
    }
    path + "z"
}

/// The letter and the grain, where the piece has most room.
fn label(piece: &LaidPiece, scale: f64) -> Markup {
    let (middle, room) = roomiest(&piece.outline);
    let (x, y, room) = (middle.x * scale, middle.y * scale, room * scale);
    let down = piece.grain[1] - piece.grain[0];
    let down = if down.hypot() > 0.0 {
        down / down.hypot()
    } else {
        Vec2::new(0.0, 1.0)
    };
    let aside = Vec2::new(-down.y, down.x);
    let half = (room * 0.85).min(22.0);
    let (cx, cy) = (x + aside.x * room.min(14.0) * 0.45, y + aside.y * room.min(14.0) * 0.45);
    let (tx, ty) = (cx - down.x * half, cy - down.y * half);
    let head = (half * 0.35).min(4.0);
    let wing = |side: f64| {
        let (px, py) = (
            tx + down.x * head + aside.x * head * 0.6 * side,
            ty + down.y * head + aside.y * head * 0.6 * side,
        );
        format!("{} {}", tenth(px), tenth(py))
    };
    let grain = format!(
        "M{} {}L{} {}M{}L{} {}L{}",
        tenth(cx + down.x * half),
        tenth(cy + down.y * half),
        tenth(tx),
        tenth(ty),
        wing(1.0),
        tenth(tx),
        tenth(ty),
        wing(-1.0)
    );
    let size = (room * 0.9).clamp(5.0, 12.0);
    html! {
        path.lay-grain d=(grain) {}
        text.lay-name x=(tenth(x - aside.x * size * 0.5)) y=(tenth(y - aside.y * size * 0.5)) font-size=(tenth(size)) text-anchor="middle" dominant-baseline="central" { (piece.letter) }
        @if piece.on_fold { title { (piece.name) ", on the fold" } }
    }
}

/// Selvages, or fold and selvages.
fn sides(folded: bool, w: f64, h: f64) -> Markup {
    let (left, right) = if folded {
        ("fold", "both selvages")
    } else {
        ("selvage", "selvage")
    };
    html! {
        path.lay-fold[folded].lay-selvage[!folded] d=(format!("M0 0V{}", tenth(h))) {}
        path.lay-selvage d=(format!("M{0} 0V{1}", tenth(w), tenth(h))) {}
        text.lay-side x="0" y="-6" font-size="10" { (left) }
        text.lay-side x=(tenth(w)) y="-6" font-size="10" text-anchor="end" { (right) }
    }
}

/// Lengths along the cloth: inches on one side, centimetres on the other.
fn marks(length: f64, scale: f64, w: f64, unit: Unit) -> Markup {
    let every = |step: f64| {
        // Not nearer to each other than their own height.
        let step = [1.0, 2.0, 4.0, 8.0]
            .map(|n| n * step)
            .into_iter()
            .find(|s| s * scale >= 14.0)
            .unwrap_or(step * 16.0);
        let count = (length / step + 1e-9).floor() as u32;
        (0..=count).map(move |n| f64::from(n) * step)
    };
    let (inch_x, cm_x) = match unit {
        Unit::Inch => (-5.0, w + 5.0),
        Unit::Cm => (w + 5.0, -5.0),
    };
    let side = |x: f64, step: f64, of: f64, name: &'static str| {
        let (anchor, tick) = if x < 0.0 { ("end", "M-4 ") } else { ("start", "M") };
        html! {
            @for at in every(step) {
                @let y = tenth(at * scale);
                @if x < 0.0 { path.lay-mark d=(format!("{tick}{y}H0")) {} }
                @else { path.lay-mark d=(format!("{tick}{} {y}h4", tenth(w))) {} }
                text.lay-side x=(tenth(x)) y=(y) font-size="10" text-anchor=(anchor) dominant-baseline="central" {
                    ((at / of).round()) @if at == 0.0 { " " (name) }
                }
            }
        }
    };
    html! {
        (side(inch_x, 5.0 * 25.4, 25.4, "in"))
        (side(cm_x, 100.0, 10.0, "cm"))
    }
}
