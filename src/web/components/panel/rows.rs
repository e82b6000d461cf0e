//! Patches sewn in rows of their own: equilateral triangles, diamonds,
//! hexagons. Drawn as the panel is once its ragged edge is cut straight.

use super::colours::ink_on;
use super::shapes::{Point, SIDE, path};
use super::{Drawn, Frame, letter};
use crate::plan::UnitKind;
use maud::html;

/// Height of an equilateral triangle of [`SIDE`].
const TALL: i64 = 208;

pub fn drawn(frame: &Frame) -> Drawn {
    let (w, h) = (
        frame.drawn(frame.panel.before.width),
        frame.drawn(frame.panel.before.height),
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
    let (wide, high, patches) = one_repeat(unit.kind, unit.cloths.len().clamp(1, 8) as i64);
    Drawn {
        defs: html! {
            pattern id=(tile) width=(wide) height=(high) patternUnits="userSpaceOnUse" {
                @for (position, points) in &patches {
                    @let (index, colour) = super::cloth_of(frame.plan, unit.cloths.get(*position).map_or("", String::as_str));
                    path.patch d=(path(points)) fill=(colour) {}
                    @if frame.letters {
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

/// Width and height of one repeat, and its patches with what reaches in from
/// the repeats beside it.
fn one_repeat(kind: UnitKind, cloths: i64) -> (i64, i64, Vec<(usize, Vec<Point>)>) {
    const S: i64 = SIDE;
    const H: i64 = SIDE / 2;
    let mut list = Vec::new();
    let turn = |k: i64| k.rem_euclid(cloths) as usize;
    match kind {
        // The second row mirrors the first, so that corners meet.
        UnitKind::Triangle60 => {
            for x in [-S, 0] {
                list.push((0, vec![(x, TALL), (x + S, TALL), (x + H, 0)]));
                list.push((1, vec![(x + H, 0), (x + S + H, 0), (x + S, TALL)]));
                list.push((1, vec![(x, TALL), (x + S, TALL), (x + H, 2 * TALL)]));
                list.push((0, vec![(x + H, 2 * TALL), (x + S + H, 2 * TALL), (x + S, TALL)]));
            }
            (S, 2 * TALL, list)
        }
        UnitKind::Diamond60 => {
            for k in -1..=cloths {
                let x = k * S;
                list.push((turn(k), vec![(x + H, 0), (x + S + H, 0), (x + S, TALL), (x, TALL)]));
                list.push((
                    turn(k),
                    vec![(x, TALL), (x + S, TALL), (x + S + H, 2 * TALL), (x + H, 2 * TALL)],
                ));
            }
            (cloths * S, 2 * TALL, list)
        }
        _ => {
            let (step, tall) = (S * 3 / 2, TALL);
            for k in -1..=2 * cloths {
                let x = k * step;
                for row in -1..=1 {
                    let y = row * 2 * tall + if k.rem_euclid(2) == 0 { 0 } else { tall };
                    list.push((
                        turn(k),
                        vec![
                            (x, y + tall),
                            (x + H, y),
                            (x + S + H, y),
                            (x + 2 * S, y + tall),
                            (x + S + H, y + 2 * tall),
                            (x + H, y + 2 * tall),
                        ],
                    ));
                }
            }
            (2 * cloths * step, 2 * tall, list)
        }
    }
}
