//! A rectangle to gather: a skirt, a ruffle, a flounce.

use super::{COUNT, DEEPEST, Drawing, LARGEST, Made, Measures, count, part};
use crate::measure::{Length, Percent};
use crate::plan::{CornerCut, EdgeKind, GatheredRectangle};
use kurbo::Point;

pub(in crate::drafting) fn draft(g: &GatheredRectangle, mut m: Measures) -> Made {
    m.positive("edge", "The edge it is gathered to", g.edge, LARGEST);
    m.between("spare", "What is spare", g.spare, Length::ZERO, Length::whole_mm(2_000));
    let depth = m.positive("depth", "The depth", g.depth, Length::whole_mm(5_000));
    m.between("hem", "The hem", g.hem, Length::ZERO, DEEPEST);
    count(&mut m, "panels", "The number of panels", g.panels, COUNT);
    if g.fullness < Percent::whole(100) || g.fullness > Percent::whole(1_000) {
        m.wrong("fullness", format!("The fullness is {}. Type at least 100 %, which is not gathered, and at most 1000 %; 150 to 300 % is usual.", g.fullness));
    }
    let seam = m.seam;
    m.end(|| {
        let full = g.edge.scale_up(g.fullness.as_hundredths(), 10_000) + g.spare;
        let wide = full.scale_up(1, i64::from(g.panels.max(1))).as_mm_f64();
        let mut d = Drawing::from(Point::ZERO);
        d.line(wide, 0.0)
            .seam("gathered edge", seam)
            .line(wide, depth)
            .edge("right side", EdgeKind::Seam, seam, CornerCut::FoldBack)
            .line(0.0, depth)
            .edge("hem", EdgeKind::Hem, g.hem, CornerCut::FoldBack)
            .line(0.0, 0.0)
            .seam("left side", seam);
        for quarter in 1..4 {
            d.notch("gathered edge", wide * f64::from(quarter) / 4.0);
        }
        vec![part("panel", "Gathered panel", g.panels, false, &mut d)]
    })
}
