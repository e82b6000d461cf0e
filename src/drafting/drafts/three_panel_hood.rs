//! A hood of two sides and a strip between them. Half of the strip's width is
//! part of the neckline on either side.

use super::{DEEPEST, Drawing, Made, Measures, Part, neck, part, sound};
use crate::drafting::shape::round;
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind, ThreePanelHood};
use kurbo::{CubicBez, ParamCurveArclen, Point, Vec2};

pub(in crate::drafting) fn draft(hood: &ThreePanelHood, mut m: Measures) -> Made {
    let most = Length::whole_mm(1_500);
    let neckline = m.positive("half_neckline", "Half the neckline", hood.half_neckline, most);
    let drop = m.between("drop", "The drop in front", hood.drop, Length::ZERO, most);
    let height = m.positive("height", "The height", hood.height, most);
    let depth = m.positive("depth", "The depth", hood.depth, most);
    let strip = m.positive("strip", "The strip's width", hood.strip, most);
    let hollow = m.between(
        "face_curve",
        "The hollow of the face edge",
        hood.face_curve,
        Length::ZERO,
        most,
    );
    let room = m.between("room", "The looseness", hood.room, Length::ZERO, Length::whole_mm(500));
    m.between("face_hem", "The hem at the face", hood.face_hem, Length::ZERO, DEEPEST);
    let side_neck = neckline - strip / 2.0;
    let (tall, deep) = (height + room, depth + room / 2.0);
    if m.sound() && side_neck < neckline * 0.25 {
        let most = m.show_most(neckline * 1.5);
        m.wrong("strip", format!("A strip this wide leaves the sides too little of the neckline. Type at most {most}, or a longer neckline."));
    }
    let curve = neck::checked(&mut m, side_neck, drop, hood.drop);
    if let Some(curve) = curve {
        let wide = curve.p0.x;
        if deep < wide {
            let least = m.show_least(wide - room / 2.0);
            m.wrong(
                "depth",
                format!(
                    "A hood {} deep is shallower than its neckline, which takes {} at the neck. Type at least {least}.",
                    m.show(hood.depth),
                    m.show_least(wide)
                ),
            );
        }
        neck::high_enough(&mut m, &curve, (tall, room), hood.height);
        let most = deep * 0.4;
        if hollow > most {
            let most = m.show_most(most);
            m.wrong(
                "face_curve",
                format!(
                    "The face edge is hollowed by {}, too much for this depth. Type at most {most}.",
                    m.show(hood.face_curve)
                ),
            );
        }
    }
    let seam = m.seam;
    let Some(curve) = curve else {
        // Only where a measure was told wrong above.
        return m.end(Vec::new);
    };
    if !m.sound() {
        return m.end(Vec::new);
    }
    let parts = {
        let back = tall - drop;
        let wide = curve.p0.x;
        let crown = crown(deep, wide, back);
        let length = round::nearest(seam_length(&crown, deep)).as_mm_f64();
        let mut side = Drawing::from(Point::ZERO);
        side.line(deep * 0.45, 0.0);
        for c in &crown {
            side.curve(c.p1, c.p2, c.p3);
        }
        side.seam("centre seam", seam);
        let down = Vec2::new(0.0, back);
        side.curve(curve.p1 + down, curve.p2 + down, curve.p3 + down).edge(
            "neck",
            EdgeKind::Seam,
            seam,
            face_corner(hollow),
        );
        if hollow > 0.0 {
            // A curve stands off its chord by three quarters of its handles.
            let x = hollow * 4.0 / 3.0;
            side.curve(Point::new(x, tall * 2.0 / 3.0), Point::new(x, tall / 3.0), Point::ZERO);
        } else {
            side.line(0.0, 0.0);
        }
        side.edge("face", EdgeKind::Hem, hood.face_hem, face_corner(hollow))
            .notch("centre seam", length / 3.0)
            .notch("centre seam", length * 2.0 / 3.0);
        let middle = deep * 0.45;
        side.grain(Point::new(middle, tall * 0.2), Point::new(middle, back * 0.9));

        vec![
            part("side", "Hood side", 2, true, &mut side),
            centre_strip(hood, length, seam),
        ]
    };
    if let Some(side) = parts.first()
        && !sound(side, m.unit)
    {
        m.wrong(
            "face_curve",
            format!(
                "A face edge hollowed by {} runs across the neck edge. Type less, or a smaller drop.",
                m.show(hood.face_curve)
            ),
        );
    }
    m.end(|| parts)
}

/// The strip between the sides, for a centre seam of `length`.
pub(in crate::drafting) fn centre_strip(hood: &ThreePanelHood, length: f64, seam: Length) -> Part {
    let strip = hood.strip.as_mm_f64();
    let mut centre = Drawing::from(Point::ZERO);
    centre
        .line(strip, 0.0)
        .edge("face", EdgeKind::Hem, hood.face_hem, CornerCut::FoldBack)
        .line(strip, length)
        .seam("right seam", seam)
        .line(0.0, length)
        .seam("neck", seam)
        .line(0.0, 0.0)
        .edge("left seam", EdgeKind::Seam, seam, CornerCut::FoldBack);
    for name in ["right seam", "left seam"] {
        centre.notch(name, length / 3.0).notch(name, length * 2.0 / 3.0);
    }
    part("strip", "Hood centre strip", 1, false, &mut centre)
}

/// A hem along a curve cannot fold back on itself at its corners.
fn face_corner(hollow: f64) -> CornerCut {
    if hollow > 0.0 {
        CornerCut::Mitre
    } else {
        CornerCut::FoldBack
    }
}

/// From the top round the back of the head to the neck, which it meets upright.
pub(super) fn crown(deep: f64, wide: f64, back: f64) -> [CubicBez; 2] {
    let (start, turn) = (Point::new(deep * 0.45, 0.0), Point::new(deep, back * 0.5));
    let round = 0.55;
    let end = Point::new(wide, back);
    [
        CubicBez::new(
            start,
            start + Vec2::new((deep - start.x) * round, 0.0),
            turn - Vec2::new(0.0, turn.y * round),
            turn,
        ),
        CubicBez::new(
            turn,
            turn + Vec2::new(0.0, back * 0.25),
            end - Vec2::new(0.0, back * 0.2),
            end,
        ),
    ]
}

pub(super) fn seam_length(crown: &[CubicBez; 2], deep: f64) -> f64 {
    deep * 0.45 + crown.iter().map(|c| c.arclen(1e-6)).sum::<f64>()
}
