//! A patch pocket: straight or with rounded lower corners, hemmed at the top.

use super::DraftProblem;
use super::drawing::Drawing;
use super::parts::{Measures, Part};
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind, PatchPocket};
use kurbo::{Point, Vec2};

const LARGEST: Length = Length::whole_mm(1_000);

pub(super) fn draft(pocket: &PatchPocket, mut m: Measures) -> Result<Vec<Part>, Vec<DraftProblem>> {
    let w = m.positive("width", "The pocket's width", pocket.width, LARGEST);
    let h = m.positive("height", "The pocket's height", pocket.height, LARGEST);
    let r = m.between(
        "corners",
        "The radius of the corners",
        pocket.corners,
        Length::ZERO,
        LARGEST,
    );
    m.between("hem", "The hem", pocket.hem, Length::ZERO, Length::whole_mm(200));
    if m.sound() && pocket.hem >= pocket.height {
        m.wrong(
            "hem",
            format!(
                "A hem of {} is deeper than the pocket. Type less than its height of {}.",
                m.show(pocket.hem),
                m.show(pocket.height)
            ),
        );
    }
    // Some of each side stays straight: the hem is turned along it.
    let most = (w / 2.0).min(h - 1.0);
    if m.sound() && r > most {
        m.wrong(
            "corners",
            format!(
                "Corners of radius {} do not fit on this pocket. Type at most {}.",
                m.show(pocket.corners),
                m.show_most(most.max(0.0))
            ),
        );
    }
    let seam = m.seam;
    m.end(|| {
        let (down, left, up) = (Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0), Vec2::new(0.0, -1.0));
        let mut d = Drawing::from(Point::new(0.0, 0.0));
        d.line(w, 0.0)
            .edge("top", EdgeKind::Hem, pocket.hem, CornerCut::FoldBack);
        d.line(w, h - r);
        if r > 0.0 {
            d.arc(down, Point::new(w - r, h), left, r);
        }
        d.seam("right side", seam);
        if w - 2.0 * r > 0.05 {
            d.line(r, h).seam("bottom", seam);
        }
        if r > 0.0 {
            d.arc(left, Point::new(0.0, h - r), up, r);
        }
        d.line(0.0, 0.0)
            .edge("left side", EdgeKind::Seam, seam, CornerCut::FoldBack);
        vec![Part {
            key: "pocket",
            name: "Pocket".into(),
            cut_count: 1,
            mirrored: false,
            outline: d.done(),
        }]
    })
}
