//! Rounded corners against circles measured here: points of the old and the new
//! stitching line are worked out by their polynomials, how far apart lines lie is
//! asked of kurbo; nothing of what rounded them is used.

use crate::cases;
use crate::shapes::{TOLD, area};
use kurbo::{ParamCurveNearest, PathSeg};
use notchbook::drafting::Shape;
use notchbook::measure::{Length, MM, Unit};
use notchbook::plan::{
    ChangeOf, CornerCut, EdgeKind, EdgePath, Notch, OutlineChange, OutlineEdge, PatternOutline, RoundCorner, Segment,
    Spot,
};
use proptest::prelude::*;

fn spot(x: f64, y: f64) -> Spot {
    let units = |n: f64| Length::from_units((n * 640.0).round() as i64);
    Spot::new(units(x), units(y))
}

fn edge(name: &str, segments: Vec<Segment>) -> OutlineEdge {
    OutlineEdge {
        name: name.into(),
        path: EdgePath(segments),
        allowance: MM * 10,
        corner: CornerCut::Mitre,
        kind: EdgeKind::Seam,
    }
}

fn rounded(shape: &Shape, edge: &str, radius: Length) -> Result<Shape, String> {
    let change = OutlineChange {
        change: ChangeOf::RoundCorner(RoundCorner {
            edge: edge.into(),
            radius,
        }),
        reason: String::new(),
    };
    let told = shape.clone().changed(&[], &[change], &TOLD);
    told.map_err(|p| p.into_iter().map(|p| p.sentence).collect::<Vec<_>>().join(" "))
}

/// Points of some edges, curves in 200 steps, lines in 800; none twice.
fn line(shape: &Shape, edges: &[&str]) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = Vec::new();
    for edge in edges {
        for segment in shape.edge(edge).expect("an edge").segments() {
            let (steps, control) = match segment {
                PathSeg::Line(l) => (
                    800,
                    [l.p0, l.p0.lerp(l.p1, 1.0 / 3.0), l.p0.lerp(l.p1, 2.0 / 3.0), l.p1],
                ),
                PathSeg::Cubic(c) => (200, [c.p0, c.p1, c.p2, c.p3]),
                PathSeg::Quad(_) => panic!("no such curve was written"),
            };
            for n in 0..=steps {
                let t = f64::from(n) / f64::from(steps);
                let s = 1.0 - t;
                let weights = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
                let at =
                    |of: fn(&kurbo::Point) -> f64| -> f64 { control.iter().zip(weights).map(|(p, w)| of(p) * w).sum() };
                let p = (at(|p| p.x), at(|p| p.y));
                if points.last().is_none_or(|q| (q.0 - p.0).hypot(q.1 - p.1) > 1e-7) {
                    points.push(p);
                }
            }
        }
    }
    points
}

/// How far a point lies from the nearest of these edges.
fn from_edges(p: (f64, f64), shape: &Shape, edges: &[&str]) -> f64 {
    let segments = edges.iter().flat_map(|e| shape.edge(e).expect("an edge").segments());
    segments
        .map(|s| s.nearest(p.into(), 1e-9).distance_sq)
        .fold(f64::MAX, f64::min)
        .sqrt()
}

fn far(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// The new line runs along the old one but for one piece, and that piece is a
/// circle of the radius which touches both edges: what was cut off lies outside of
/// it and comes as near as the radius on either side; there is no bend anywhere.
fn check(old: &Shape, new: &Shape, [first, second]: [&str; 2], radius: f64) {
    let (both, after) = ([first, second], line(new, &[first, second]));
    // So flat a corner is hardly cut at all.
    if after.iter().all(|p| from_edges(*p, old, &both) < 0.01) {
        return;
    }
    let curve: Vec<usize> = (0..after.len())
        .filter(|n| from_edges(after[*n], old, &both) > 1e-5)
        .collect();
    let (from, to) = (curve[0], curve[curve.len() - 1]);
    assert_eq!(curve.len(), to - from + 1, "one piece of the line is new");
    let (from, to) = (from - 1, to + 1);
    let (a, b, middle) = (after[from], after[to], after[(from + to) / 2]);
    let half = far(a, b) / 2.0;
    let up = (radius * radius - half * half).max(0.0).sqrt();
    let across = ((b.1 - a.1) / (2.0 * half), -(b.0 - a.0) / (2.0 * half));
    let centre = [up, -up]
        .map(|up| ((a.0 + b.0) / 2.0 + across.0 * up, (a.1 + b.1) / 2.0 + across.1 * up))
        .into_iter()
        .min_by(|p, q| {
            (far(*p, middle) - radius)
                .abs()
                .total_cmp(&(far(*q, middle) - radius).abs())
        })
        .expect("two");
    for p in &after[from..=to] {
        assert!(
            (far(*p, centre) - radius).abs() < 1e-3 + radius * 1e-4,
            "{} of {radius}",
            far(*p, centre)
        );
    }
    for edge in [first, second] {
        let gone: Vec<f64> = line(old, &[edge])
            .into_iter()
            .filter(|p| from_edges(*p, new, &both) > 1e-5)
            .map(|p| far(p, centre))
            .collect();
        let nearest = gone.iter().copied().fold(f64::MAX, f64::min);
        assert!(nearest > radius - 1e-3, "{edge}: {nearest} of {radius}");
        // As near as steps of up to 5 mm let be seen.
        assert!(
            gone.is_empty() || nearest < radius.hypot(5.0),
            "{edge}: {nearest} of {radius}"
        );
    }
    for three in after.windows(3) {
        let way = |p: (f64, f64), q: (f64, f64)| (q.1 - p.1).atan2(q.0 - p.0);
        if far(three[0], three[1]) > 1e-4 && far(three[1], three[2]) > 1e-4 {
            let bend = way(three[1], three[2]) - way(three[0], three[1]);
            assert!(bend.sin().abs() < 0.06 && bend.cos() > 0.0, "a bend at {:?}", three[1]);
        }
    }
}

/// A corner at nothing: `a` arrives there, `b` leaves, both bent; `c` goes round far outside.
fn corner(angle: f64, bends: [f64; 2]) -> PatternOutline {
    let way = |angle: f64, far: f64, aside: f64| {
        let (sin, cos) = angle.sin_cos();
        spot(cos * far - sin * aside, sin * far + cos * aside)
    };
    let (from, to) = (0.3, 0.3 + angle);
    let middle = (from + to) / 2.0;
    PatternOutline {
        edges: vec![
            edge(
                "a",
                vec![Segment::Curve(
                    way(from, 140.0, bends[0]),
                    way(from, 70.0, bends[0]),
                    spot(0.0, 0.0),
                )],
            ),
            edge(
                "b",
                vec![Segment::Curve(
                    way(to, 60.0, bends[1]),
                    way(to, 130.0, bends[1] / 2.0),
                    way(to, 190.0, 0.0),
                )],
            ),
            edge(
                "c",
                vec![
                    Segment::Line(way(to, 900.0, 0.0)),
                    Segment::Line(way(middle, 2_000.0, 0.0)),
                    Segment::Line(way(from, 900.0, 0.0)),
                    Segment::Line(way(from, 200.0, 0.0)),
                ],
            ),
        ],
        ..PatternOutline::default()
    }
}

/// A quarter disc: a curve meets a straight line at a right angle. The circle of
/// radius r that touches the line and lies in the arc of radius R touches both
/// where its centre is R - r from the disc's and r from the line.
#[test]
fn a_line_and_a_circle_have_the_corner_of_the_book() {
    let k = 100.0 * 0.552_284_749_8;
    let disc = PatternOutline {
        edges: vec![
            edge("base", vec![Segment::Line(spot(100.0, 0.0))]),
            edge(
                "arc",
                vec![Segment::Curve(spot(100.0, k), spot(k, 100.0), spot(0.0, 100.0))],
            ),
            edge("left", vec![Segment::Line(spot(0.0, 0.0))]),
        ],
        ..PatternOutline::default()
    };
    let shape = Shape::of(&disc, &TOLD).expect("sound");
    let new = rounded(&shape, "base", MM * 20).expect("goes");
    check(&shape, &new, ["base", "arc"], 20.0);
    // By Pythagoras the centre is sqrt(80² - 20²) along the line; the curve leaves the
    // circle of the book by up to 0.03 mm.
    let along = (80.0f64 * 80.0 - 20.0 * 20.0).sqrt();
    let begins = new.edge("base").unwrap().segments().next().unwrap();
    let PathSeg::Line(line) = begins else {
        panic!("{begins:?}")
    };
    assert!((line.p1.x - along).abs() < 0.05, "{} {along}", line.p1.x);
    // From the other side, over the corner's two straight lines too.
    let new = rounded(&shape, "left", MM * 20).expect("goes");
    check(&shape, &new, ["left", "base"], 20.0);
    let new = rounded(&shape, "arc", MM * 20).expect("goes");
    check(&shape, &new, ["arc", "left"], 20.0);
}

/// All of a band's end is one half circle when both corners have half its width.
#[test]
fn a_band_ends_in_a_half_circle() {
    let band = PatternOutline {
        edges: vec![
            edge("top", vec![Segment::Line(spot(300.0, 0.0))]),
            edge("end", vec![Segment::Line(spot(300.0, 60.0))]),
            edge("bottom", vec![Segment::Line(spot(0.0, 60.0))]),
            edge("begin", vec![Segment::Line(spot(0.0, 0.0))]),
        ],
        ..PatternOutline::default()
    };
    let shape = Shape::of(&band, &TOLD).expect("sound");
    let once = rounded(&shape, "top", MM * 30).expect("one");
    let twice = rounded(&once, "end", MM * 30).expect("the other");
    let wanted = 300.0 * 60.0 - 2.0 * 30.0 * 30.0 * (1.0 - std::f64::consts::FRAC_PI_4);
    assert!((twice.area() - wanted).abs() < 0.01, "{} {wanted}", twice.area());
    let said = rounded(&once, "end", MM * 32).expect_err("more than is left");
    assert!(said.contains("Type at most 3.0 cm"), "{said}");
}

#[test]
fn a_notch_stays_where_it_is() {
    let mut square = PatternOutline {
        edges: vec![
            edge("top", vec![Segment::Line(spot(200.0, 0.0))]),
            edge("right", vec![Segment::Line(spot(200.0, 200.0))]),
            edge(
                "rest",
                vec![Segment::Line(spot(0.0, 200.0)), Segment::Line(spot(0.0, 0.0))],
            ),
        ],
        ..PatternOutline::default()
    };
    for (on, at) in [("top", 100), ("right", 100), ("right", 5)] {
        square.notches.push(Notch {
            edge: on.into(),
            at: MM * at,
            double: false,
        });
    }
    let shape = Shape::of(&square, &TOLD).expect("sound");
    let new = rounded(&shape, "top", MM * 50).expect("goes");
    let places: Vec<_> = new.notches.iter().map(|n| new.notch_place(n).unwrap().point).collect();
    for (p, wanted) in places.iter().zip([(100.0, 0.0), (200.0, 100.0), (200.0, 50.0)]) {
        assert!(far((p.x, p.y), wanted) < 1e-3, "{p:?} {wanted:?}");
    }
}

#[test]
fn what_cannot_be_rounded_is_said() {
    let smooth = PatternOutline {
        edges: vec![
            edge("one", vec![Segment::Line(spot(100.0, 0.0))]),
            edge(
                "on",
                vec![Segment::Curve(spot(150.0, 0.0), spot(200.0, 50.0), spot(200.0, 100.0))],
            ),
            edge("back", vec![Segment::Line(spot(0.0, 0.0))]),
        ],
        ..PatternOutline::default()
    };
    let shape = Shape::of(&smooth, &TOLD).expect("sound");
    let said = rounded(&shape, "one", MM * 10).expect_err("no corner");
    assert!(said.contains("runs straight on into “on”"), "{said}");
    let said = rounded(&shape, "on", MM * 5_000).expect_err("too large");
    assert!(said.contains("Type at most"), "{said}");
    let mut half = smooth.clone();
    half.edges[2].kind = EdgeKind::Fold;
    half.edges[2].allowance = Length::ZERO;
    // The fold of this one is slanted; whatever is said of it, its corners are not rounded.
    if let Ok(shape) = Shape::of(&half, &TOLD) {
        let said = rounded(&shape, "on", MM * 5).expect_err("on the fold");
        assert!(said.contains("lies on the fold"), "{said}");
    }
}

proptest! {
    #![proptest_config(cases(80))]

    #[test]
    fn straight_lines_lose_what_the_book_says(angle in 0.4f64..2.9, radius in 1i64..60) {
        let outline = PatternOutline {
            edges: vec![
                edge("a", vec![Segment::Line(spot(0.0, 0.0))]),
                edge("b", vec![Segment::Line(spot(400.0 * angle.cos(), 400.0 * angle.sin()))]),
                edge("c", vec![Segment::Line(spot(400.0, 0.0))]),
            ],
            ..PatternOutline::default()
        };
        let shape = Shape::of(&outline, &TOLD).expect("sound");
        // The line turns by what is left of half a round.
        let turn = std::f64::consts::PI - angle;
        let r = radius as f64;
        let back = r * (turn / 2.0).tan();
        match rounded(&shape, "a", MM * radius) {
            Ok(new) => {
                let lost = r * r * ((turn / 2.0).tan() - turn / 2.0);
                prop_assert!(((shape.area() - new.area()) - lost).abs() < 0.01 + lost * 1e-4, "{lost}");
                check(&shape, &new, ["a", "b"], r);
            }
            Err(said) => prop_assert!(back > 399.0, "{said}"),
        }
    }

    /// Between bent edges, in corners that stand out and that go in.
    #[test]
    fn the_circle_touches_both_edges(
        angle in 0.35f64..5.9, bends in [-60.0f64..60.0, -60.0f64..60.0], radius in 2i64..80, back in any::<bool>()
    ) {
        let mut outline = corner(angle, bends);
        if back {
            for edge in &mut outline.edges {
                for segment in &mut edge.path.0 {
                    let turn = |s: Spot| Spot::new(-s.x, s.y);
                    *segment = match *segment {
                        Segment::Line(a) => Segment::Line(turn(a)),
                        Segment::Curve(a, b, c) => Segment::Curve(turn(a), turn(b), turn(c)),
                    };
                }
            }
        }
        let Ok(shape) = Shape::of(&outline, &TOLD) else { return Ok(()) };
        match rounded(&shape, "a", MM * radius) {
            Ok(new) => check(&shape, &new, ["a", "b"], radius as f64),
            Err(said) => {
                prop_assert!(said.ends_with('.'), "{said}");
                if let Some((_, most)) = said.split_once("Type at most ") {
                    let (metric, _) = most.split_once(" (").expect("both units");
                    let most = Length::parse(metric, Unit::Cm).expect("a length");
                    prop_assert!(most < MM * radius, "{said}");
                    if most.is_positive() {
                        let new = rounded(&shape, "a", most).expect("what it said");
                        check(&shape, &new, ["a", "b"], most.as_mm_f64());
                    }
                }
            }
        }
    }

    /// A convex corner loses cloth, a hollow one gains it; never the other way.
    #[test]
    fn a_convex_corner_loses_and_a_hollow_one_gains(outline in crate::shapes::random(), radius in 1i64..40, n in 0usize..4) {
        let shape = Shape::of(&outline, &TOLD).expect("sound");
        let name = outline.edges[n].name.clone();
        let next = outline.edges[(n + 1) % 4].name.clone();
        let points = crate::shapes::polygon(&shape.stitching_polygon());
        let new = rounded(&shape, &name, MM * radius);
        if let Ok(new) = new {
            check(&shape, &new, [&name, &next], radius as f64);
            let (arrives, leaves) = (shape.edge(&name).unwrap(), shape.edge(&next).unwrap());
            let (ta, tb) = (shape.place(arrives, f64::MAX).along, shape.place(leaves, 0.0).along);
            let gains = new.area() - shape.area();
            let stands_out = ta.cross(tb) * area(&points).signum();
            prop_assert!(gains * stands_out < 1e-3, "{gains} {stands_out}");
        }
    }
}
