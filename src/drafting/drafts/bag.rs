//! A bag body: two panels, whose lower corners are cut out and sewn across so
//! that the bag stands.

use super::{DEEPEST, Drawing, Made, Measures, part};
use crate::measure::Length;
use crate::plan::{BagBody, CornerCut, EdgeKind};
use kurbo::Point;

pub(in crate::drafting) fn draft(bag: &BagBody, mut m: Measures) -> Made {
    let most = Length::whole_mm(3_000);
    let w = m.positive("width", "The bag's width", bag.width, most);
    let h = m.positive("height", "The bag's height", bag.height, most);
    let g = m.between("gusset", "The depth of the bottom", bag.gusset, Length::ZERO, most);
    m.between("hem", "The hem", bag.hem, Length::ZERO, DEEPEST);
    let seam = m.seam;
    m.end(|| {
        let (wide, c) = (w + g, g / 2.0);
        let mut d = Drawing::from(Point::ZERO);
        d.line(wide, 0.0)
            .edge("top", EdgeKind::Hem, bag.hem, CornerCut::FoldBack)
            .line(wide, h)
            .seam("right side", seam);
        if g > 0.0 {
            d.line(wide - c, h).seam("right corner", seam);
            d.line(wide - c, h + c).seam("right corner below", seam);
        }
        d.line(c, h + c).seam("bottom", seam);
        if g > 0.0 {
            d.line(c, h).seam("left corner below", seam);
            d.line(0.0, h).seam("left corner", seam);
        }
        d.line(0.0, 0.0)
            .edge("left side", EdgeKind::Seam, seam, CornerCut::FoldBack);
        vec![part("panel", "Bag panel", 2, false, &mut d)]
    })
}
