//! A circle or a part of one in panels: each a sector with its middle along the grain.

use super::{COUNT, DEEPEST, Drawing, Made, Measures, count, part};
use crate::drafting::circle::circle_radius;
use crate::measure::Length;
use crate::plan::{CirclePart, CirclePiece, CornerCut, EdgeKind};
use kurbo::{Point, Vec2};
use std::f64::consts::TAU;

pub(in crate::drafting) fn draft(circle: &CirclePiece, mut m: Measures) -> Made {
    let most = Length::whole_mm(5_000);
    m.positive("edge", "The inner edge", circle.edge, most);
    let length = m.positive("length", "The length", circle.length, most);
    m.between("hem", "The hem", circle.hem, Length::ZERO, DEEPEST);
    count(&mut m, "panels", "The number of panels", circle.panels, COUNT);
    if m.sound() && circle.part == CirclePart::Whole && circle.panels < 2 {
        m.wrong(
            "panels",
            "A whole circle is cut in 2 panels or more. Type at least 2, or choose half a circle.".into(),
        );
    }
    let seam = m.seam;
    m.end(|| {
        let radius = circle_radius(circle.edge, circle.part).as_mm_f64();
        let angle = TAU / circle.part.parts() as f64 / f64::from(circle.panels.max(1));
        let outer = radius + length;
        let on = |r: f64, a: f64| Point::new(r * a.sin(), r * a.cos());
        let side = angle / 2.0;
        let mut d = Drawing::from(on(radius, -side));
        // Along the inner edge the direction turns against the angle.
        d.arc(Vec2::new(side.cos(), side.sin()), on(radius, side), -angle, radius)
            .seam("inner edge", seam);
        let far = on(outer, side);
        d.line(far.x, far.y).seam("right side", seam);
        d.arc(Vec2::new(-side.cos(), side.sin()), on(outer, -side), angle, outer)
            .edge("hem", EdgeKind::Hem, circle.hem, CornerCut::Mitre);
        let near = on(radius, -side);
        d.line(near.x, near.y).seam("left side", seam);
        d.notch("inner edge", radius * angle / 2.0).grain(
            Point::new(0.0, radius + length * 0.15),
            Point::new(0.0, radius + length * 0.85),
        );
        vec![part("panel", "Circle panel", circle.panels, false, &mut d)]
    })
}
