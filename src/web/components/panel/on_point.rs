//! Blocks on their corner: outer rows of whole blocks, shorter rows between
//! them, triangles along the edge. Sashing goes round every block: each is
//! drawn with half of it on every side, and the triangles stand back as far.

use super::shapes::SIDE;
use super::{DRAWN, Drawn, Frame, repeat};
use crate::plan::Arrangement;
use maud::{Markup, html};
use std::collections::BTreeSet;
use std::fmt::Write;

pub fn drawn(frame: &Frame) -> Drawn {
    // From corner to corner, so that blocks fill the panel to its edge. Even, for its half.
    let across = (((SIDE + frame.sash) as f64 * std::f64::consts::SQRT_2 / 2.0).round() as i64) * 2;
    let half = across / 2;
    let (w, h) = (frame.columns * across, frame.rows * across);
    let (tile, deep) = (frame.id("tile"), repeat(frame.face).1);
    let painted = painted(frame);
    let mut stamps: BTreeSet<(usize, u32)> = painted.0.iter().map(|p| (p.2, p.3)).collect();
    // Row r of the repeat: its block, or the first where it is painted over.
    let unit_of = |row: i64| match frame.face.arrangement {
        Arrangement::Painted => 0,
        _ => frame
            .face
            .unit_at(0, row.rem_euclid(2 * deep) as usize)
            .map_or(0, |(u, _)| u),
    };
    stamps.extend((0..2 * deep).map(|r| (unit_of(r), 0)));
    let stamps: Vec<_> = stamps.into_iter().collect();
    Drawn {
        defs: html! {
            (frame.stamps(&stamps))
            g id=(frame.id("strips")) { (strips(frame)) }
            pattern id=(tile) width=(across) height=(across * deep) patternUnits="userSpaceOnUse" {
                // Rows one above and one below reach into the tile.
                @for row in -1..=2 * deep {
                    @let y = (row + 1) * half;
                    @let xs = if row.rem_euclid(2) == 0 { vec![half] } else { vec![0, across] };
                    @for x in xs { (block(frame, x, y, unit_of(row), 0)) }
                }
            }
        },
        body: html! {
            rect x="0" y="0" width=(w) height=(h) fill=(format!("url(#{tile})")) {}
            @for (x, y, unit, turn) in &painted.0 { (block(frame, x * half, y * half, *unit, *turn)) }
            @if let Some(setting) = &frame.face.on_point {
                path.patch d=(sides(frame, across)) fill=(frame.colour(&setting.side)) {}
                path.patch d=(corners(w, h, half - back(frame))) fill=(frame.colour(&setting.corner)) {}
            }
        },
        width: w,
        height: h,
        left_out: painted.1,
    }
}

/// A block about its middle.
fn block(frame: &Frame, x: i64, y: i64, unit: usize, turn: u32) -> Markup {
    html! {
        g transform=(format!("translate({x} {y}) rotate(45)")) {
            @if frame.sash > 0 { use href=(format!("#{}", frame.id("strips"))) {} }
            use href=(format!("#{}", frame.stamp(unit, turn))) x=(-SIDE / 2) y=(-SIDE / 2) {}
        }
    }
}

/// Half of each strip and a quarter of each post round a block.
fn strips(frame: &Frame) -> Markup {
    let (s, out) = (frame.sash / 2, (SIDE + frame.sash) / 2);
    html! {
        @if let Some(sashing) = frame.face.sashing.as_ref().filter(|_| frame.sash > 0) {
            rect x=(-out) y=(-out) width=(2 * out) height=(2 * out) fill=(frame.colour(&sashing.cloth)) {}
            @if let Some(posts) = &sashing.posts {
                @for (x, y) in [(-out, -out), (out - s, -out), (-out, out - s), (out - s, out - s)] {
                    rect x=(x) y=(y) width=(s) height=(s) fill=(frame.colour(posts)) {}
                }
            }
        }
    }
}

/// How far the setting triangles stand back for half the sashing along them.
fn back(frame: &Frame) -> i64 {
    (frame.sash as f64 / std::f64::consts::SQRT_2).round() as i64
}

/// Triangles between the outer blocks along all four sides, as one path.
fn sides(frame: &Frame, across: i64) -> String {
    let (w, h) = (frame.columns * across, frame.rows * across);
    let (from, base) = (across / 2 + back(frame), across - 2 * back(frame));
    let deep = base / 2;
    let mut path = String::new();
    if base <= 0 {
        return path;
    }
    // Writing to a String cannot fail.
    for c in 0..(frame.columns - 1).min(1_000) {
        let x = c * across + from;
        let _ = write!(path, "M{x} 0h{base}l-{deep} {deep}z M{x} {h}h{base}l-{deep} -{deep}z");
    }
    for r in 0..(frame.rows - 1).min(1_000) {
        let y = r * across + from;
        let _ = write!(path, "M0 {y}v{base}l{deep} -{deep}z M{w} {y}v{base}l-{deep} -{deep}z");
    }
    path
}

fn corners(w: i64, h: i64, leg: i64) -> String {
    let leg = leg.max(0);
    format!(
        "M0 0h{leg}l-{leg} {leg}z M{w} 0v{leg}l-{leg} -{leg}z M{w} {h}h-{leg}l{leg} -{leg}z M0 {h}v-{leg}l{leg} {leg}z"
    )
}

/// Painted blocks by the middle of each in half diagonals: rows of whole
/// blocks and shorter ones between them in turn.
fn painted(frame: &Frame) -> (Vec<(i64, i64, usize, u32)>, bool) {
    let mut list = Vec::new();
    if frame.face.arrangement != Arrangement::Painted {
        return (list, false);
    }
    for (r, row) in frame.face.painted.iter().enumerate() {
        let r = r as i64;
        if r >= 2 * frame.rows - 1 {
            break;
        }
        let inner = r % 2;
        for (c, mark) in row.split_whitespace().enumerate() {
            let c = c as i64;
            if c >= frame.columns - inner {
                break;
            }
            match frame.face.read_mark(mark) {
                None | Some((0, 0)) => {}
                Some(_) if list.len() >= DRAWN => return (list, true),
                Some((unit, turn)) => list.push((2 * c + 1 + inner, r + 1, unit, turn)),
            }
        }
    }
    (list, false)
}
