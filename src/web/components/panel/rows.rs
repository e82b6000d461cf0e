//! Patches sewn in rows of their own: equilateral triangles, diamonds,
//! hexagons. Drawn as the panel is once its ragged edge is cut straight.

use super::colours::ink_on;
use super::shapes::{Point, SIDE, path};
use super::{Drawn, Frame, letter};
use crate::plan::{Unit, UnitKind};
use maud::html;

/// Height of an equilateral triangle of [`SIDE`].
const TALL: i64 = 208;

pub fn drawn(frame: &Frame) -> Drawn {
    let (w, h) = (
        frame.drawn(frame.panel.inside.width),
        frame.drawn(frame.panel.inside.height),
    );
    let Some(unit) = frame.face.units.first() else {
        return Drawn {
            defs: html! {},
            body: html! {},
            width: SIDE,
            height: SIDE,
            left_out: false,
        };
    };
    let tile = frame.id("tile");
    let Repeat {
        wide,
        high,
        left,
        top,
        patches,
    } = one_repeat(unit);
    Drawn {
        defs: html! {
            pattern id=(tile) x=(-left) y=(-top) width=(wide) height=(high) patternUnits="userSpaceOnUse" {
                @for (position, points) in &patches {
                    @let (index, colour) = super::cloth_of(frame.plan, unit.cloths.get(*position).map_or("", String::as_str));
                    path.patch d=(path(points)) fill=(colour) {}
                    @if 72 >= frame.least_letter {
                        @let n = points.len() as i64;
                        text.cloth-letter x=(points.iter().map(|p| p.0).sum::<i64>() / n) y=(points.iter().map(|p| p.1).sum::<i64>() / n)
                            fill=(ink_on(colour)) text-anchor="middle" dominant-baseline="central" font-size="72" { (index.map_or("?".into(), letter)) }
                    }
                }
            }
        },
        body: html! { rect x="0" y="0" width=(w) height=(h) fill=(format!("url(#{tile})")) {} },
        width: w.max(1),
        height: h.max(1),
        left_out: false,
    }
}

/// One repeat: its size, how much of it lies outside the straight edge at the
/// left and at the top, and its patches with what reaches in from its neighbours.
struct Repeat {
    wide: i64,
    high: i64,
    left: i64,
    top: i64,
    patches: Vec<(usize, Vec<Point>)>,
}

fn one_repeat(unit: &Unit) -> Repeat {
    const S: i64 = SIDE;
    const H: i64 = SIDE / 2;
    let n = unit.cloths.len().clamp(1, 8) as i64;
    // Every second row is moved, and the cloths of each begin one further on.
    let rows = if n % 2 == 0 { n } else { 2 * n };
    let (across, down) = match unit.kind {
        UnitKind::Triangle60 => (H, TALL),
        UnitKind::Diamond60 => (S, TALL),
        _ => (2 * TALL, S + H),
    };
    let mut patches = Vec::new();
    for row in -1..=rows {
        for column in -2..=2 * n {
            let turn = (column + row).rem_euclid(n) as usize;
            let odd = row.rem_euclid(2);
            let (x, y) = (column * across, row * down);
            let points = match unit.kind {
                // The second row mirrors the first, so that corners meet.
                UnitKind::Triangle60 if (column + row).rem_euclid(2) == 0 => {
                    vec![(x, y + TALL), (x + H, y), (x + S, y + TALL)]
                }
                UnitKind::Triangle60 => vec![(x, y), (x + S, y), (x + H, y + TALL)],
                UnitKind::Diamond60 => {
                    let x = x - odd * H;
                    vec![(x + H, y), (x + H + S, y), (x + S, y + TALL), (x, y + TALL)]
                }
                _ => {
                    let x = x + odd * TALL;
                    vec![
                        (x + TALL, y),
                        (x + 2 * TALL, y + H),
                        (x + 2 * TALL, y + H + S),
                        (x + TALL, y + 2 * S),
                        (x, y + H + S),
                        (x, y + H),
                    ]
                }
            };
            patches.push((turn, points));
        }
    }
    Repeat {
        wide: n * across,
        high: rows * down,
        left: match unit.kind {
            UnitKind::Triangle60 | UnitKind::Diamond60 => H,
            _ => TALL,
        },
        top: match unit.kind {
            UnitKind::Triangle60 | UnitKind::Diamond60 => 0,
            _ => H,
        },
        patches,
    }
}
