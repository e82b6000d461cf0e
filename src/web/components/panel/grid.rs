//! Units side by side in straight rows, with or without sashing.

use super::shapes::SIDE;
use super::{DRAWN, Drawn, Frame, repeat};
use crate::plan::Arrangement;
use maud::{Markup, html};

pub fn drawn(frame: &Frame) -> Drawn {
    let (columns, rows, sash) = (frame.columns, frame.rows, frame.sash);
    let around = frame.face.sashing.as_ref().is_some_and(|s| s.around);
    let edge = if around { sash } else { 0 };
    let (across, down) = (SIDE + sash, frame.high + sash);
    let (w, h) = (columns * across - sash + 2 * edge, rows * down - sash + 2 * edge);
    let tile = frame.id("tile");
    let (every, deep) = repeat(frame.face);
    let painted = painted(frame);
    let mut stamps: Vec<(usize, u32)> = Vec::new();
    for (_, _, unit, turn) in &painted.0 {
        if !stamps.contains(&(*unit, *turn)) {
            stamps.push((*unit, *turn));
        }
    }
    Drawn {
        defs: html! {
            (frame.stamps(&stamps))
            // The sashing is to the left of and above its unit; the first of it lies
            // outside the panel where it does not go round.
            pattern id=(tile) x=(edge - sash) y=(edge - sash) width=(every * across) height=(deep * down) patternUnits="userSpaceOnUse" {
                @for r in 0..deep { @for c in 0..every {
                    g transform=(format!("translate({} {})", c * across, r * down)) {
                        (strips(frame))
                        @let unit = match frame.face.arrangement {
                            Arrangement::Painted => Some((0, 0)),
                            _ => frame.face.unit_at(c as usize, r as usize),
                        };
                        @if let Some(made) = unit.and_then(|(u, _)| frame.face.units.get(u)) {
                            g transform=(format!("translate({sash} {sash})")) {
                                (super::unit::unit_patches(frame.plan, made, 0, frame.high, frame.least_letter))
                            }
                        }
                    }
                } }
            }
        },
        body: html! {
            rect x="0" y="0" width=(w) height=(h) fill=(format!("url(#{tile})")) {}
            @for (c, r, unit, turn) in &painted.0 {
                use href=(format!("#{}", frame.stamp(*unit, *turn))) x=(edge + c * across) y=(edge + r * down) {}
            }
        },
        width: w,
        height: h,
        left_out: painted.1,
    }
}

/// The sashing to the left of and above one unit, and the post where they meet.
fn strips(frame: &Frame) -> Markup {
    let (s, high) = (frame.sash, frame.high);
    html! {
        @if let Some(sashing) = &frame.face.sashing {
            @if s > 0 {
                @let colour = frame.colour(&sashing.cloth);
                rect.patch x="0" y=(s) width=(s) height=(high) fill=(colour) {}
                @match &sashing.posts {
                    Some(posts) => {
                        rect.patch x=(s) y="0" width=(SIDE) height=(s) fill=(colour) {}
                        rect.patch x="0" y="0" width=(s) height=(s) fill=(frame.colour(posts)) {}
                    }
                    // It runs through: no seam where the upright ones meet it.
                    None => {
                        rect x="0" y="0" width=(s + SIDE) height=(s) fill=(colour) {}
                        path.seam d=(format!("M0 0h{}M0 {s}h{}", s + SIDE, s + SIDE)) {}
                    }
                }
            }
        }
    }
}

/// What is painted other than the first unit as it is, with its position; and
/// whether it was too much to draw.
pub fn painted(frame: &Frame) -> (Vec<(i64, i64, usize, u32)>, bool) {
    let mut list = Vec::new();
    if frame.face.arrangement != Arrangement::Painted {
        return (list, false);
    }
    for (r, row) in frame.face.painted.iter().enumerate() {
        if r as i64 >= frame.rows {
            break;
        }
        for (c, mark) in row.split_whitespace().enumerate() {
            if c as i64 >= frame.columns {
                break;
            }
            match frame.face.read_mark(mark) {
                None | Some((0, 0)) => {}
                Some(_) if list.len() >= DRAWN => return (list, true),
                Some((unit, turn)) => list.push((c as i64, r as i64, unit, turn)),
            }
        }
    }
    (list, false)
}
