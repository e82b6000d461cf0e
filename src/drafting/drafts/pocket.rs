//! A patch pocket: straight or with rounded lower corners, hemmed or faced at
//! the top.

use super::{DEEPEST, Drawing, Made, Measures, part};
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind, PatchPocket};
use kurbo::{Point, Vec2};
use std::f64::consts::FRAC_PI_2;

const LARGEST: Length = Length::whole_mm(1_000);

pub(in crate::drafting) fn draft(pocket: &PatchPocket, mut m: Measures) -> Made {
    let w = m.positive("width", "The pocket's width", pocket.width, LARGEST);
    let h = m.positive("height", "The pocket's height", pocket.height, LARGEST);
    let r = m.between(
        "corners",
        "The radius of the corners",
        pocket.corners,
        Length::ZERO,
        LARGEST,
    );
    let hem = match pocket.faced {
        true => m.positive("hem", "The facing", pocket.hem, DEEPEST),
        false => m.between("hem", "The hem", pocket.hem, Length::ZERO, DEEPEST),
    };
    // Some of each side stays straight: the hem is turned along it.
    let most = (w / 2.0).min(h - 1.0).max(0.0);
    if m.sound() && r > most {
        let most = m.show_most(most);
        m.wrong(
            "corners",
            format!(
                "Corners of radius {} do not fit on this pocket. Type at most {most}.",
                m.show(pocket.corners)
            ),
        );
    }
    if m.sound() && hem > h - r {
        let most = m.show_most(h - r);
        m.wrong(
            "hem",
            format!(
                "A hem of {} reaches below the straight part of the sides. Type at most {most}.",
                m.show(pocket.hem)
            ),
        );
    }
    let seam = m.seam;
    m.end(|| {
        let (top, kind, corner) = match pocket.faced {
            true => (seam, EdgeKind::Seam, CornerCut::Mitre),
            false => (pocket.hem, EdgeKind::Hem, CornerCut::FoldBack),
        };
        let mut d = Drawing::from(Point::ZERO);
        d.line(w, 0.0).edge("top", kind, top, corner).line(w, h - r);
        if r > 0.0 {
            d.arc(Vec2::new(0.0, 1.0), Point::new(w - r, h), FRAC_PI_2, r);
        }
        d.seam("right side", seam);
        if w - 2.0 * r > 0.05 {
            d.line(r, h).seam("bottom", seam);
        }
        if r > 0.0 {
            d.arc(Vec2::new(-1.0, 0.0), Point::new(0.0, h - r), FRAC_PI_2, r);
        }
        d.line(0.0, 0.0).edge("left side", EdgeKind::Seam, seam, corner);
        let mut parts = vec![part("pocket", "Pocket", 1, false, &mut d)];
        if pocket.faced {
            let mut f = Drawing::from(Point::ZERO);
            f.line(w, 0.0)
                .seam("top", seam)
                .line(w, hem)
                .seam("right side", seam)
                .line(0.0, hem)
                .seam("bottom", seam)
                .line(0.0, 0.0)
                .seam("left side", seam);
            parts.push(part("facing", "Pocket facing", 1, false, &mut f));
        }
        parts
    })
}
