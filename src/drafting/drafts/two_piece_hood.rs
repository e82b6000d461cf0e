//! A hood of two halves, with a seam from the face over the head to the nape.

use super::three_panel_hood::{crown, seam_length};
use super::{DEEPEST, Drawing, Made, Measures, neck, part};
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind, TwoPieceHood};
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, Point, Vec2};

pub(in crate::drafting) fn draft(hood: &TwoPieceHood, mut m: Measures) -> Made {
    let most = Length::whole_mm(1_500);
    let neckline = m.positive("half_neckline", "Half the neckline", hood.half_neckline, most);
    let drop = m.between("drop", "The drop in front", hood.drop, Length::ZERO, most);
    let height = m.positive("height", "The height", hood.height, most);
    let dart = m.between("dart", "The dart", hood.dart, Length::ZERO, Length::whole_mm(150));
    let upper = m.between(
        "upper",
        "The extra width above",
        hood.upper,
        Length::ZERO,
        Length::whole_mm(500),
    );
    let room = m.between("room", "The looseness", hood.room, Length::ZERO, Length::whole_mm(500));
    m.between("face_hem", "The hem at the face", hood.face_hem, Length::ZERO, DEEPEST);
    let (edge, tall) = (neckline + dart, height + room);
    if m.sound() && dart > neckline / 3.0 {
        let most = m.show_most(neckline / 3.0);
        m.wrong(
            "dart",
            format!(
                "A dart of {} takes in too much of this neckline. Type at most {most}.",
                m.show(hood.dart)
            ),
        );
    }
    let curve = neck::checked(&mut m, edge, drop, hood.drop);
    if let Some(curve) = curve {
        neck::high_enough(&mut m, &curve, (tall, room), hood.height);
    }
    let seam = m.seam;
    let Some(curve) = curve else {
        // Only where a measure was told wrong above.
        return m.end(Vec::new);
    };
    m.end(|| {
        let back = tall - drop;
        let wide = curve.p0.x;
        let deep = wide + upper;
        let crown = crown(deep, wide, back);
        let mut half = Drawing::from(Point::ZERO);
        half.line(deep * 0.45, 0.0);
        for c in &crown {
            half.curve(c.p1, c.p2, c.p3);
        }
        half.seam("centre seam", seam);
        let down = Vec2::new(0.0, back);
        half.curve(curve.p1 + down, curve.p2 + down, curve.p3 + down)
            .edge("neck", EdgeKind::Seam, seam, CornerCut::FoldBack)
            .line(0.0, 0.0)
            .edge("face", EdgeKind::Hem, hood.face_hem, CornerCut::FoldBack)
            .notch("centre seam", seam_length(&crown, deep) / 2.0);
        if dart > 0.0 {
            let middle = edge * 0.45;
            let (from, to) = (middle - dart / 2.0, middle + dart / 2.0);
            half.notch("neck", from).notch("neck", to);
            let on = |at: f64| curve.eval(curve.inv_arclen(at, 1e-6)) + down;
            let point = on(middle) - Vec2::new(0.0, (tall * 0.25).min(90.0));
            let mut legs = BezPath::new();
            legs.move_to(on(from));
            legs.line_to(point);
            legs.line_to(on(to));
            half.inner("dart", &legs).mark("point of the dart", point);
        }
        let middle = deep * 0.45;
        half.grain(Point::new(middle, tall * 0.15), Point::new(middle, back * 0.7));
        vec![part("half", "Hood half", 2, true, &mut half)]
    })
}
