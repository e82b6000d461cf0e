//! A box cover: top and bottom, a wall round front and sides, and a back wall of
//! two strips with a zip between them.

use super::{Drawing, Made, Measures, part};
use crate::measure::Length;
use crate::plan::BoxCover;
use kurbo::Point;

pub(in crate::drafting) fn draft(b: &BoxCover, mut m: Measures) -> Made {
    let most = Length::whole_mm(3_000);
    let w = m.positive("width", "The width", b.width, most);
    let d = m.positive("depth", "The depth", b.depth, most);
    let h = m.positive("height", "The height of the walls", b.height, most);
    m.between(
        "zip_seam",
        "The allowance at the zip",
        b.zip_seam,
        Length::ZERO,
        Length::whole_mm(100),
    );
    let gap = m.between(
        "zip_gap",
        "The gap of the zip",
        b.zip_gap,
        Length::ZERO,
        Length::whole_mm(100),
    );
    if m.sound() && gap > h - 2.0 {
        let most = m.show_most((h - 2.0).max(0.0));
        m.wrong(
            "zip_gap",
            format!(
                "A gap of {} leaves nothing of the wall. Type at most {most}.",
                m.show(b.zip_gap)
            ),
        );
    }
    let seam = m.seam;
    m.end(|| {
        let rectangle = |w: f64, h: f64, names: [&str; 4], right: Length| {
            let mut r = Drawing::from(Point::ZERO);
            r.line(w, 0.0)
                .seam(names[0], seam)
                .line(w, h)
                .seam(names[1], right)
                .line(0.0, h)
                .seam(names[2], seam)
                .line(0.0, 0.0)
                .seam(names[3], seam);
            r
        };
        let mut panel = rectangle(w, d, ["back", "right side", "front", "left side"], seam);
        let long = w + 2.0 * d;
        // Walls lie along the grain, their height across it.
        let mut wall = rectangle(h, long, ["end", "upper edge", "far end", "lower edge"], seam);
        for corner in [d, d + w] {
            wall.notch("upper edge", corner).notch("lower edge", corner);
        }
        let mut zip = rectangle(
            (h - gap) / 2.0,
            w,
            ["end", "zip edge", "far end", "long edge"],
            b.zip_seam,
        );
        vec![
            part("panel", "Top and bottom", 2, false, &mut panel),
            part("wall", "Front and side wall", 1, false, &mut wall),
            part("zip", "Back wall, one side of the zip", 2, false, &mut zip),
        ]
    })
}
