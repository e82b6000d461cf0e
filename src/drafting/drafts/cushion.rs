//! A cushion cover: a front, and a back of two parts that lie over each other or
//! of one with a zip below.

use super::{DEEPEST, Drawing, Made, Measures, part};
use crate::measure::Length;
use crate::plan::{CornerCut, CushionBack, CushionCover, EdgeKind};
use kurbo::Point;

pub(in crate::drafting) fn draft(c: &CushionCover, mut m: Measures) -> Made {
    let most = Length::whole_mm(3_000);
    let width = m.positive("width", "The cushion's width", c.width, most);
    let height = m.positive("height", "The cushion's height", c.height, most);
    let smaller = m.between(
        "smaller",
        "What it is smaller by",
        c.smaller,
        Length::ZERO,
        Length::whole_mm(200),
    );
    let (w, h) = (width - smaller, height - smaller);
    if m.sound() && w.min(h) < 20.0 {
        m.wrong(
            "smaller",
            format!(
                "A cover {} smaller than this cushion is too small to sew. Type less.",
                m.show(c.smaller)
            ),
        );
    }
    let opening = match c.back {
        CushionBack::Overlap => m.positive("opening", "The overlap", c.opening, most),
        CushionBack::Zip => m.positive("opening", "The zip's length", c.opening, most),
    };
    m.between("hem", "The hem at the opening", c.hem, Length::ZERO, DEEPEST);
    let limit = if c.back == CushionBack::Zip { w } else { h };
    if m.sound() && opening > limit {
        let most = m.show_most(limit);
        m.wrong(
            "opening",
            format!(
                "An opening of {} is larger than the cover. Type at most {most}.",
                m.show(c.opening)
            ),
        );
    }
    let seam = m.seam;
    m.end(|| {
        let rectangle = |h: f64| {
            let mut d = Drawing::from(Point::ZERO);
            d.line(w, 0.0)
                .seam("top", seam)
                .line(w, h)
                .seam("right side", seam)
                .line(0.0, h)
                .seam("bottom", seam)
                .line(0.0, 0.0)
                .seam("left side", seam);
            d
        };
        let mut front = rectangle(h);
        if c.back == CushionBack::Zip {
            // The bottom runs from right to left; the opening lies in its middle.
            let ends = [(w - opening) / 2.0, (w + opening) / 2.0];
            let mut back = rectangle(h);
            for d in [&mut front, &mut back] {
                for end in ends {
                    d.notch("bottom", end);
                }
            }
            return vec![
                part("front", "Cushion front", 1, false, &mut front),
                part("back", "Cushion back", 1, false, &mut back),
            ];
        }
        let tall = (h + opening) / 2.0;
        let mut back = Drawing::from(Point::ZERO);
        back.line(w, 0.0)
            .seam("outer edge", seam)
            .line(w, tall)
            .edge("right side", EdgeKind::Seam, seam, CornerCut::FoldBack)
            .line(0.0, tall)
            .edge("opening", EdgeKind::Hem, c.hem, CornerCut::FoldBack)
            .line(0.0, 0.0)
            .seam("left side", seam)
            // Where the other part's edge comes to lie.
            .notch("right side", tall - opening)
            .notch("left side", opening);
        vec![
            part("front", "Cushion front", 1, false, &mut front),
            part("back", "Cushion back", 2, false, &mut back),
        ]
    })
}
