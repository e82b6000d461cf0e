//! Borders round a panel, from the inside out: the sides first, then the top
//! and the bottom run through, or squares stand in the corners.

use super::{Drawn, Frame};
use maud::{Markup, html};

pub fn around(frame: &Frame, inner: Drawn) -> Drawn {
    let borders: Vec<_> = frame.face.borders.iter().take(crate::plan::limits::BORDERS).collect();
    let widths: Vec<i64> = borders.iter().map(|b| frame.drawn(b.width)).collect();
    let all: i64 = widths.iter().sum();
    if all == 0 {
        return inner;
    }
    // From the outermost inwards, each drawn whole and covered by the next.
    let (w, h) = (inner.width + 2 * all, inner.height + 2 * all);
    let mut at = 0;
    let mut rings: Vec<Markup> = Vec::new();
    for (border, width) in borders.iter().zip(&widths).rev() {
        let (x, y, wide, high, b) = (at, at, w - 2 * at, h - 2 * at, *width);
        let colour = frame.colour(&border.cloth);
        rings.push(html! {
            rect.patch x=(x) y=(y) width=(wide) height=(high) fill=(colour) {}
            @match &border.corners {
                Some(corners) => {
                    @for (cx, cy) in [(x, y), (x + wide - b, y), (x, y + high - b), (x + wide - b, y + high - b)] {
                        rect.patch x=(cx) y=(cy) width=(b) height=(b) fill=(frame.colour(corners)) {}
                    }
                }
                None => path.seam d=(format!("M{x} {}h{wide}M{x} {}h{wide}", y + b, y + high - b)) {},
            }
        });
        at += width;
    }
    Drawn {
        defs: inner.defs,
        body: html! {
            @for ring in &rings { (ring) }
            g transform=(format!("translate({all} {all})")) { (inner.body) rect.patch x="0" y="0" width=(inner.width) height=(inner.height) fill="none" {} }
        },
        width: w,
        height: h,
        left_out: inner.left_out,
    }
}
