//! Pieces with a fold, whichever way it runs: held against both halves worked out
//! here, point by point reflected at the fold's line.

use crate::cases;
use crate::shapes::{TOLD, area, chords, distance, inside, polygon};
use notchbook::drafting::formats::{DrawnPiece, dxf, svg};
use notchbook::drafting::{Shape, settled, shape_of};
use notchbook::figures::lay::{LayGround, LayPiece, LayTurns, LayWish, lay_job, lay_pieces};
use notchbook::figures::{Figures, work_out};
use notchbook::measure::{Length, MM, Unit};
use notchbook::plan::{
    Cloth, CornerCut, EdgeKind, EdgePath, Face, OutlineEdge, Pattern, PatternOutline, Piece, Plan, Segment, Source,
    Spot,
};
use proptest::prelude::*;

fn spot(x: f64, y: f64) -> Spot {
    let units = |n: f64| Length::from_units((n * 640.0).round() as i64);
    Spot::new(units(x), units(y))
}

/// A half whose fold runs from nothing so far in a direction; the other edges lie to its
/// right hand. `bend` is how far they bulge.
fn half(angle: f64, long: f64, wide: f64, bend: f64, allowance: i64) -> PatternOutline {
    let (sin, cos) = angle.sin_cos();
    let place = |along: f64, aside: f64| spot(cos * along - sin * aside, sin * along + cos * aside);
    let edge = |name: &str, kind: EdgeKind, segments: Vec<Segment>| OutlineEdge {
        name: name.into(),
        path: EdgePath(segments),
        allowance: if kind == EdgeKind::Fold {
            Length::ZERO
        } else {
            MM * allowance
        },
        corner: CornerCut::Mitre,
        kind,
    };
    PatternOutline {
        edges: vec![
            edge("fold", EdgeKind::Fold, vec![Segment::Line(place(long, 0.0))]),
            edge("hem", EdgeKind::Seam, vec![Segment::Line(place(long, wide))]),
            edge(
                "side",
                EdgeKind::Seam,
                vec![Segment::Curve(
                    place(long * 0.7, wide + bend),
                    place(long * 0.3, wide + bend),
                    place(0.0, wide * 0.8),
                )],
            ),
            edge("top", EdgeKind::Seam, vec![Segment::Line(place(0.0, 0.0))]),
        ],
        ..PatternOutline::default()
    }
}

fn reflected(p: (f64, f64), angle: f64) -> (f64, f64) {
    let (sin, cos) = (2.0 * angle).sin_cos();
    (p.0 * cos + p.1 * sin, p.0 * sin - p.1 * cos)
}

fn plan(outline: PatternOutline) -> Plan {
    Plan {
        cloths: vec![Cloth {
            id: "c".into(),
            name: "Linen".into(),
            usable_width: MM * 1400,
            ..Cloth::default()
        }],
        pieces: vec![Piece {
            id: "p".into(),
            name: "Back".into(),
            cut_count: 1,
            face: Some(Face::plain("c")),
            pattern: Some(Pattern {
                from: Source::Drawn(outline),
                finish: Vec::new(),
                changes: Vec::new(),
            }),
            ..Piece::default()
        }],
        ..Plan::new(Unit::Cm)
    }
}

/// The piece laid out on folded cloth: whether it lies on the fold, and what is said.
fn laid(plan: &Plan, all: &Figures) -> (bool, Vec<LayPiece>) {
    let wish = LayWish {
        pieces: vec!["p".into()],
        ground: LayGround::Folded,
        turns: LayTurns::BothWays,
        gap: Length::ZERO,
    };
    let job = lay_job(plan, all, &plan.cloths[0], &wish).expect("can be laid");
    (job.problem.pieces[0].on_fold, lay_pieces(plan, all, "c"))
}

/// A level fold, and nothing said of the grain: it runs up and down, across the fold.
#[test]
fn a_level_fold_is_opened_out_and_said() {
    // Downwards is right of a line that runs to the right; the piece lies below its fold.
    let plan = plan(half(0.0, 300.0, 200.0, 0.0, 10));
    let settled = settled(&plan);
    let piece = &settled.plan.pieces[0];
    assert!(!piece.on_fold);
    // Both halves: twice 200 and an allowance at either end; 300 and two allowances.
    assert!((piece.height - MM * 420).abs() <= MM, "{:?}", piece.height);
    assert!((piece.width - MM * 320).abs() <= MM * 25, "{:?}", piece.width);
    let shape = shape_of(&plan, &plan.pieces[0]).expect("sound");
    let said = shape.fold_notice("Back").expect("a notice");
    assert!(said.contains("“fold” of Back") && said.contains("opened out"), "{said}");
    let all = work_out(&plan);
    let (on_fold, pieces) = laid(&plan, &all);
    assert!(!on_fold);
    assert_eq!(pieces[0].opened_out.as_deref(), Some(said.as_str()));
    // Paper and files hold the whole.
    let drawn = DrawnPiece::of(&plan, &plan.pieces[0]).expect("drawn");
    assert!(drawn.fold.is_none() && !drawn.cut_words().contains("fold"));
    assert_eq!(drawn.cut_size().height, piece.height);
    let whole = DrawnPiece::whole(&plan, &plan.pieces[0]).expect("drawn");
    for bytes in [
        svg::write("x", std::slice::from_ref(&whole)).into_bytes(),
        dxf::write("x", &[whole]).expect("written"),
    ] {
        let read = if bytes.starts_with(b"<") {
            svg::read(&bytes, None)
        } else {
            dxf::read(&bytes, None)
        };
        let largest = read
            .expect("reads back")
            .outlines
            .into_iter()
            .map(|o| o.area())
            .fold(0.0, f64::max);
        assert!(
            (largest - area(&polygon(&shape.whole_cut_polygon()))).abs() < 5.0,
            "{largest}"
        );
    }
}

/// The same with its grainline along the fold is turned upright and cut on the fold.
#[test]
fn a_level_fold_along_the_grain_is_cut_on_the_fold() {
    let mut outline = half(0.0, 300.0, 200.0, 0.0, 10);
    outline.grain = Some([spot(50.0, 80.0), spot(250.0, 80.0)]);
    let level = plan(outline);
    let upright = plan(half(std::f64::consts::FRAC_PI_2, 300.0, 200.0, 0.0, 10));
    let (a, b) = (settled(&level), settled(&upright));
    let (a, b) = (&a.plan.pieces[0], &b.plan.pieces[0]);
    assert!(a.on_fold && b.on_fold);
    assert_eq!((a.width, a.height), (b.width, b.height));
    assert!(laid(&level, &work_out(&level)).0);
    let drawn = DrawnPiece::of(&level, &level.pieces[0]).expect("drawn");
    assert!(drawn.fold.is_some());
    assert!((drawn.grain[0].x - drawn.grain[1].x).abs() < 1e-9 && drawn.grain[0].y < drawn.grain[1].y);
}

/// A grainline that runs aslant turns the piece: what is laid has it upright.
#[test]
fn a_piece_is_turned_by_its_grainline() {
    let mut outline = half(0.3, 400.0, 150.0, 20.0, 8);
    outline.edges[0].kind = EdgeKind::Seam;
    let way = 0.3f64;
    outline.grain = Some([spot(0.0, 0.0), spot(way.cos() * 100.0, way.sin() * 100.0)]);
    let turned = Shape::of(&outline, &TOLD).expect("sound");
    let mut straight = half(std::f64::consts::FRAC_PI_2, 400.0, 150.0, 20.0, 8);
    straight.edges[0].kind = EdgeKind::Seam;
    let straight = Shape::of(&straight, &TOLD).expect("sound");
    let (a, b) = (turned.cut_bounds(), straight.cut_bounds());
    assert!(
        (a.width() - b.width()).abs() < 0.01 && (a.height() - b.height()).abs() < 0.01,
        "{a:?} {b:?}"
    );
    assert!((turned.area() - straight.area()).abs() < 1.0);
}

proptest! {
    #![proptest_config(cases(60))]

    /// Whole is what both halves are, wherever the fold runs; sizes are never short of it.
    #[test]
    fn both_halves_are_counted(
        angle in -3.1f64..3.1, long in 100.0f64..500.0, wide in 60.0f64..300.0, bend in -30.0f64..60.0, allowance in 0i64..25
    ) {
        let outline = half(angle, long, wide, bend, allowance);
        let shape = Shape::of(&outline, &TOLD).expect("sound");
        let whole = shape.unfolded();
        let half_area = shape.area();
        prop_assert!((whole.area() - half_area * 2.0).abs() < 0.01 + half_area * 1e-5);
        // The program may have set the fold upright; lengths and areas stay.
        let fold = outline.edges[0].path.end().expect("an end");
        let exact = fold.y.as_mm_f64().atan2(fold.x.as_mm_f64());
        let on_fold = shape.fold_x().is_some();
        let off_upright = (exact.rem_euclid(std::f64::consts::PI) - std::f64::consts::FRAC_PI_2).abs();
        prop_assert_eq!(on_fold, off_upright < 1f64.to_radians(), "{}", off_upright);
        prop_assert_eq!(shape.fold_notice("x").is_some(), !on_fold);
        if !on_fold {
            let cut = polygon(&shape.cut_polygon());
            let size = shape.cut_size();
            for p in chords(&outline, 60) {
                for p in [p, reflected(p, exact)] {
                    prop_assert!(inside(p, &cut) || distance(p, &cut) < 0.01, "{p:?}");
                    // The cut line is at least an allowance away, but on the fold.
                    let from_fold = (p.0 * exact.sin() - p.1 * exact.cos()).abs();
                    if from_fold > 0.01 {
                        prop_assert!(distance(p, &cut) > allowance as f64 - 0.01, "{p:?}");
                    }
                }
            }
            let all: Vec<(f64, f64)> = chords(&outline, 200).into_iter().flat_map(|p| [p, reflected(p, exact)]).collect();
            let wide = |of: fn(&(f64, f64)) -> f64| {
                let (low, high) = all.iter().map(of).fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(v), b.max(v)));
                high - low
            };
            prop_assert!(size.width.as_mm_f64() >= wide(|p| p.0) - 1e-3, "{:?}", size);
            prop_assert!(size.height.as_mm_f64() >= wide(|p| p.1) - 1e-3, "{:?}", size);
            let edges = whole.edges.len();
            prop_assert_eq!(edges, 6);
        }
    }

    /// However the fold is drawn: with the grain along it, it is cut as one drawn upright.
    #[test]
    fn with_the_grain_along_it_a_fold_may_be_drawn_anyhow(
        angle in -3.1f64..3.1, off in -0.015f64..0.015, long in 100.0f64..500.0, wide in 60.0f64..300.0, bend in -30.0f64..60.0
    ) {
        let mut outline = half(angle, long, wide, bend, 10);
        let way = angle + off;
        outline.grain = Some([spot(0.0, 0.0), spot(way.cos() * 300.0, way.sin() * 300.0)]);
        let shape = Shape::of(&outline, &TOLD).expect("sound");
        let upright = Shape::of(&half(std::f64::consts::FRAC_PI_2, long, wide, bend, 10), &TOLD).expect("sound");
        prop_assert!(shape.fold_x().is_some());
        let (a, b) = (shape.cut_size(), upright.cut_size());
        prop_assert!((a.width - b.width).abs() <= MM, "{:?} {:?}", a, b);
        prop_assert!((a.height - b.height).abs() <= MM, "{:?} {:?}", a, b);
    }
}
