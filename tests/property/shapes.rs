//! Outlines: lengths and areas against sums of fine chords made here, cut lines
//! against distances measured here, never by the code that drew them.

use crate::cases;
use notchbook::drafting::{Shape, Told};
use notchbook::measure::{Length, MM, Unit};
use notchbook::plan::{
    CornerCut, EdgeKind, EdgePath, Lengthen, OutlineChange, OutlineEdge, PatternOutline, Segment, Spot,
};
use proptest::prelude::*;

pub const TOLD: Told<'static> = Told {
    field: String::new(),
    name: "Piece",
    unit: Unit::Cm,
};

pub fn edge(name: &str, path: &str, allowance: i64, corner: CornerCut, kind: EdgeKind) -> OutlineEdge {
    OutlineEdge {
        name: name.into(),
        path: path.parse().expect("a path"),
        allowance: MM * allowance,
        corner,
        kind,
    }
}

pub fn seam(name: &str, path: &str, allowance: i64) -> OutlineEdge {
    edge(name, path, allowance, CornerCut::Mitre, EdgeKind::Seam)
}

pub fn outline(edges: Vec<OutlineEdge>) -> PatternOutline {
    PatternOutline {
        edges,
        ..PatternOutline::default()
    }
}

fn shape(edges: Vec<OutlineEdge>) -> Shape {
    Shape::of(&outline(edges), &TOLD).expect("sound")
}

/// Twice the signed area over 2.
pub fn area(points: &[(f64, f64)]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum::<f64>() / 2.0
}

pub fn polygon(points: &[kurbo::Point]) -> Vec<(f64, f64)> {
    points.iter().map(|p| (p.x, p.y)).collect()
}

/// Points of an outline, each curve in `steps` by its polynomial.
pub fn chords(outline: &PatternOutline, steps: i32) -> Vec<(f64, f64)> {
    let mm = |s: Spot| (s.x.as_mm_f64(), s.y.as_mm_f64());
    let mut at = mm(outline.edges.last().unwrap().path.end().unwrap());
    let mut points = Vec::new();
    for edge in &outline.edges {
        for segment in &edge.path.0 {
            match segment {
                Segment::Line(end) => {
                    at = mm(*end);
                    points.push(at);
                }
                Segment::Curve(a, b, end) => {
                    let (p, a, b, q) = (at, mm(*a), mm(*b), mm(*end));
                    for n in 1..=steps {
                        let t = f64::from(n) / f64::from(steps);
                        let s = 1.0 - t;
                        let mix = |p: f64, a: f64, b: f64, q: f64| {
                            s * s * s * p + 3.0 * s * s * t * a + 3.0 * s * t * t * b + t * t * t * q
                        };
                        points.push((mix(p.0, a.0, b.0, q.0), mix(p.1, a.1, b.1, q.1)));
                    }
                    at = q;
                }
            }
        }
    }
    points
}

/// Length of a closed line of chords.
pub fn round(points: &[(f64, f64)]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1)).sum()
}

pub fn distance_to_line(p: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let length = dx * dx + dy * dy;
    let t = if length > 0.0 {
        (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

/// Distance of a point from a closed line.
pub fn distance(p: (f64, f64), line: &[(f64, f64)]) -> f64 {
    let next = line.iter().cycle().skip(1);
    line.iter()
        .zip(next)
        .map(|(a, b)| distance_to_line(p, *a, *b))
        .fold(f64::MAX, f64::min)
}

pub fn inside(p: (f64, f64), line: &[(f64, f64)]) -> bool {
    let next = line.iter().cycle().skip(1);
    line.iter().zip(next).fold(false, |odd, (a, b)| {
        let crosses = (a.1 > p.1) != (b.1 > p.1) && p.0 < (b.0 - a.0) * (p.1 - a.1) / (b.1 - a.1) + a.0;
        odd != crosses
    })
}

#[test]
fn a_rectangle_with_allowances_is_exact() {
    let s = shape(vec![
        seam("top", "L 100 0", 10),
        seam("right", "L 100 50", 10),
        edge("hem", "L 0 50", 30, CornerCut::FoldBack, EdgeKind::Hem),
        edge("left", "L 0 0", 10, CornerCut::Mitre, EdgeKind::Seam),
    ]);
    assert_eq!(s.cut_size().width, MM * 120);
    assert_eq!(s.cut_size().height, MM * 90);
    assert!((area(&polygon(&s.cut_polygon())) - 120.0 * 90.0).abs() < 1e-3);
    assert!((s.area() - 5_000.0).abs() < 1e-9);
    assert!((s.perimeter() - 300.0).abs() < 1e-9);
}

/// A trouser leg narrows to its hem; turned up, the hem must be as wide as the
/// leg is where it lies. Slope 1 in 10: 40 mm up the leg is 4 mm wider on a side.
#[test]
fn a_hem_that_folds_back_is_the_side_mirrored() {
    let leg = |corner| {
        shape(vec![
            seam("top", "L 300 0", 10),
            edge("right", "L 280 200", 10, corner, EdgeKind::Seam),
            edge("hem", "L 20 200", 40, corner, EdgeKind::Hem),
            seam("left", "L 0 0", 10),
        ])
    };
    let folded = leg(CornerCut::FoldBack);
    let cut = polygon(&folded.cut_polygon());
    // The side's cut line 10 mm out, by hand: 10 * sqrt(1 + 0.01) across.
    let aside = 10.0 * (1.0f64 + 0.01).sqrt();
    let right_at = |y: f64| 280.0 + (200.0 - y) / 10.0 + aside;
    let lowest: Vec<_> = cut.iter().filter(|p| (p.1 - 240.0).abs() < 1e-6).collect();
    let right = lowest.iter().map(|p| p.0).fold(f64::MIN, f64::max);
    let left = lowest.iter().map(|p| p.0).fold(f64::MAX, f64::min);
    assert!((right - right_at(160.0)).abs() < 1e-6, "{right} {}", right_at(160.0));
    assert!((left - (300.0 - right_at(160.0))).abs() < 1e-6);
    // At the turn itself it is as wide as the leg there.
    let turn: Vec<_> = cut.iter().filter(|p| (p.1 - 200.0).abs() < 1e-6).map(|p| p.0).collect();
    assert!(turn.iter().any(|x| (x - right_at(200.0)).abs() < 1e-6), "{turn:?}");
    // A mitre would narrow on: too narrow to be turned up.
    let mitred = polygon(&leg(CornerCut::Mitre).cut_polygon());
    let right = mitred
        .iter()
        .filter(|p| p.1 > 239.9)
        .map(|p| p.0)
        .fold(f64::MIN, f64::max);
    assert!(right < right_at(200.0));
}

#[test]
fn a_half_on_the_fold_is_half_of_the_whole() {
    let half = shape(vec![
        edge("fold", "L 0 0", 0, CornerCut::Mitre, EdgeKind::Fold),
        seam("top", "C 40 0 80 10 90 30", 10),
        seam("side", "L 70 120", 15),
        edge("hem", "L 0 120", 20, CornerCut::Mitre, EdgeKind::Hem),
    ]);
    let whole = half.unfolded();
    assert_eq!(whole.edges.len(), 6);
    let (a, b) = (half.cut_size(), whole.cut_size());
    assert_eq!(a.height, b.height);
    assert!((a.width * 2 - b.width).abs().units() <= 1);
    let (a, b) = (
        area(&polygon(&half.cut_polygon())),
        area(&polygon(&half.whole_cut_polygon())),
    );
    assert!((a * 2.0 - b).abs() < 0.01, "{a} {b}");
    assert!(polygon(&half.cut_polygon()).iter().all(|p| p.0 > -1e-6));
}

#[test]
fn a_long_point_is_cut_off_and_a_square_end_is_square() {
    let points = |corner| {
        vec![
            edge("long", "L 300 20", 10, corner, EdgeKind::Seam),
            seam("back", "L 0 40", 10),
            seam("end", "L 0 0", 10),
        ]
    };
    let sharp = shape(points(CornerCut::Mitre));
    let reach = sharp.cut_bounds().x1 - 300.0;
    assert!(reach > 10.0 && reach <= 30.0 + 1e-9, "{reach}");
    let square = shape(points(CornerCut::Square));
    let cut = polygon(&square.cut_polygon());
    // 10 mm on along the seam and 10 mm out of it.
    let along = (300.0 / 300.0f64.hypot(20.0), 20.0 / 300.0f64.hypot(20.0));
    let corner = (
        300.0 + 10.0 * along.0 + 10.0 * along.1,
        20.0 + 10.0 * along.1 - 10.0 * along.0,
    );
    assert!(
        cut.iter().any(|p| (p.0 - corner.0).hypot(p.1 - corner.1) < 1e-4),
        "{cut:?}"
    );
}

#[test]
fn what_is_no_outline_is_said() {
    let bad = |edges: Vec<OutlineEdge>| {
        Shape::of(&outline(edges), &TOLD)
            .expect_err("wrong")
            .into_iter()
            .map(|p| format!("{}: {}", p.field, p.sentence))
            .collect::<Vec<_>>()
            .join(" ")
    };
    let mitre = CornerCut::Mitre;
    for (edges, part) in [
        (vec![], "no edges"),
        (
            vec![seam("a", "L 10 0 L 10 10 L 0 0", 10), seam("a", "L 5 5", 1)],
            "Give each its own name",
        ),
        (
            vec![
                seam("a", "L 100 100", 10),
                seam("b", "L 100 0", 10),
                seam("c", "L 0 100", 10),
                seam("d", "L 0 0", 10),
            ],
            "cross each other",
        ),
        (
            vec![
                seam("a", "L 100 0", 10),
                seam("b", "L 100 0", 10),
                seam("c", "L 50 50", 1),
                seam("d", "L 0 0", 1),
            ],
            "no length",
        ),
        (
            vec![
                seam("a", "L 100 0", -1),
                seam("b", "L 0 90", 10),
                seam("c", "L 0 0", 10),
            ],
            "less than nothing",
        ),
        (
            vec![
                seam("a", "L 100 0", 2000),
                seam("b", "L 0 90", 10),
                seam("c", "L 0 0", 10),
            ],
            "at most",
        ),
        (
            vec![
                edge("a", "C 30 -5 70 -5 100 0", 0, mitre, EdgeKind::Fold),
                seam("b", "L 0 90", 10),
                seam("c", "L 0 0", 10),
            ],
            "must be straight",
        ),
        (
            vec![
                edge("a", "L 100 50", 0, mitre, EdgeKind::Fold),
                seam("b", "L 40 90 L 90 0", 10),
                seam("c", "L 0 0", 10),
            ],
            "on either side",
        ),
        (
            vec![
                edge("a", "L 100 0", 5, mitre, EdgeKind::Bound),
                seam("b", "L 0 90", 10),
                seam("c", "L 0 0", 10),
            ],
            "covered by a binding",
        ),
        (
            vec![
                edge("a", "L 100 0", 5, CornerCut::FoldBack, EdgeKind::Seam),
                seam("b", "L 0 90", 10),
                seam("c", "L 0 0", 10),
            ],
            "takes one hem",
        ),
        (
            vec![seam("a", "L 100 0", 10), seam("b", "L 0 0", 10)],
            "encloses nothing",
        ),
    ] {
        let said = bad(edges);
        assert!(said.contains(part), "{part}: {said}");
        assert!(said.ends_with('.'), "{said}");
    }
}

/// A random outline: a rectangle whose four sides bulge or are hollow.
pub fn random() -> impl Strategy<Value = PatternOutline> {
    let side = || (-30i64..40, 0i64..25, 0u8..3);
    (80i64..600, 80i64..600, side(), side(), side(), side()).prop_map(|(w, h, a, b, c, d)| {
        let (w, h) = (w * 640 + 13, h * 640 + 7);
        let spot = |x: i64, y: i64| Spot::new(Length::from_units(x), Length::from_units(y));
        let out = |n: i64| n * 640;
        let ways = [
            ("top", spot(w, 0), spot(w / 3, -out(a.0)), spot(w * 2 / 3, -out(a.0)), a),
            (
                "right",
                spot(w, h),
                spot(w + out(b.0), h / 3),
                spot(w + out(b.0), h * 2 / 3),
                b,
            ),
            (
                "bottom",
                spot(0, h),
                spot(w * 2 / 3, h + out(c.0)),
                spot(w / 3, h + out(c.0)),
                c,
            ),
            (
                "left",
                spot(0, 0),
                spot(-out(d.0), h * 2 / 3),
                spot(-out(d.0), h / 3),
                d,
            ),
        ];
        outline(
            ways.into_iter()
                .map(|(name, end, first, second, (bulge, allowance, corner))| OutlineEdge {
                    name: name.into(),
                    path: EdgePath(vec![if bulge == 0 {
                        Segment::Line(end)
                    } else {
                        Segment::Curve(first, second, end)
                    }]),
                    allowance: MM * allowance,
                    corner: if corner == 1 {
                        CornerCut::Square
                    } else {
                        CornerCut::Mitre
                    },
                    kind: EdgeKind::Seam,
                })
                .collect(),
        )
    })
}

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn lengths_and_areas_are_those_of_fine_chords(outline in random()) {
        let s = Shape::of(&outline, &TOLD).expect("sound");
        let fine = chords(&outline, 4_000);
        prop_assert!((s.perimeter() - round(&fine)).abs() < 0.01);
        prop_assert!((s.area() - area(&fine).abs()).abs() < 0.05);
        // And it is written down as it was read.
        prop_assert_eq!(s.to_outline().edges, outline.edges);
    }

    /// Every place of the stitching line has its whole allowance outside of it,
    /// and what is cut is nowhere much larger than that.
    #[test]
    fn the_cut_line_is_never_inside_an_allowance(outline in random()) {
        let s = Shape::of(&outline, &TOLD).expect("sound");
        let cut = polygon(&s.cut_polygon());
        prop_assert!(area(&cut) > 0.0);
        let widest = s.edges.iter().map(|e| e.allowance).fold(0.0, f64::max);
        for edge in &s.edges {
            let length = edge.length();
            for n in 0..=40 {
                let place = s.place(edge, length * f64::from(n) / 40.0);
                // Everything nearer than the allowance, straight out of the edge, is cut with it.
                let out = edge.allowance - 1e-3;
                if out > 0.0 {
                    let q = place.point + place.outward * out;
                    let q = (q.x, q.y);
                    // At an end the cut line itself may run there.
                    prop_assert!(inside(q, &cut) || distance(q, &cut) < 1e-5, "{} at {n}: {q:?}", edge.name);
                }
            }
        }
        let line = chords(&outline, 400);
        for p in &cut {
            prop_assert!(distance(*p, &line) <= widest * 3.0 + 0.2);
        }
        // The size told is that of the polygon, never smaller.
        let size = s.cut_size();
        let (mut x, mut y) = ((f64::MAX, f64::MIN), (f64::MAX, f64::MIN));
        for p in &cut {
            x = (x.0.min(p.0), x.1.max(p.0));
            y = (y.0.min(p.1), y.1.max(p.1));
        }
        prop_assert!(size.width.as_mm_f64() >= x.1 - x.0 - 1e-4 && size.width.as_mm_f64() <= x.1 - x.0 + 0.01);
        prop_assert!(size.height.as_mm_f64() >= y.1 - y.0 - 1e-4 && size.height.as_mm_f64() <= y.1 - y.0 + 0.01);
    }

    /// Lengthened, a piece is longer by just that.
    #[test]
    fn lengthening_adds_what_it_says(outline in random(), by in 1i64..100, at in 30i64..50) {
        let s = Shape::of(&outline, &TOLD).expect("sound");
        let change = OutlineChange {
            change: notchbook::plan::ChangeOf::Lengthen(Lengthen {
                along: notchbook::plan::Along::Height,
                at: MM * at,
                by: MM * by,
            }),
            reason: String::new(),
        };
        let top = s.bounds().y0;
        prop_assume!(s.edges.iter().all(|e| (e.start().y - top - at as f64).abs() > 1.0));
        let before = s.cut_size();
        if let Ok(longer) = s.clone().changed(&[], &[change], &TOLD) {
            prop_assert!(longer.cut_size().height >= before.height + MM * by - MM);
            prop_assert!(longer.area() > s.area());
        }
    }

    #[test]
    fn mirrored_or_walked_the_other_way_it_is_cut_as_large(outline in random()) {
        let s = Shape::of(&outline, &TOLD).expect("sound");
        let mut mirrored = outline.clone();
        let turn = |spot: Spot| Spot::new(-spot.x, spot.y);
        for edge in &mut mirrored.edges {
            for segment in &mut edge.path.0 {
                *segment = match *segment {
                    Segment::Line(a) => Segment::Line(turn(a)),
                    Segment::Curve(a, b, c) => Segment::Curve(turn(a), turn(b), turn(c)),
                };
            }
        }
        let other = Shape::of(&mirrored, &TOLD).expect("sound");
        prop_assert_eq!(s.cut_size(), other.cut_size());
        let (a, b) = (area(&polygon(&s.cut_polygon())), area(&polygon(&other.cut_polygon())));
        prop_assert!((a - b).abs() < 0.01, "{a} {b}");
    }
}
