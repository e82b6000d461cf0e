//! Drafts over random measures: seams that are sewn together are as long as each
//! other, allowances lie outside, nothing is cut too small. Lengths are sums of
//! fine chords made here.

use crate::cases;
use crate::drafted::{draft, piece, plan};
use crate::shapes::{area, chords, distance, inside, polygon};
use notchbook::drafting::{Part, parts_of, settled, shape_of};
use notchbook::measure::{Length, MM, Percent, Unit};
use notchbook::plan::{
    BagBody, Band, BiasStrip, BoxCover, CirclePart, CirclePiece, CushionBack, CushionCover, Draft, DraftKind, Edge,
    EdgeKind, EdgeOf, GatheredRectangle, PatchPocket, PatternOutline, Plan, ShapedFacing, ThreePanelHood, Tie,
    TwoPieceHood,
};
use proptest::prelude::*;

/// One edge's length by fine chords.
pub fn edge_length(outline: &PatternOutline, name: &str) -> f64 {
    let at = outline.edges.iter().position(|e| e.name == name).expect(name);
    let mut one = outline.clone();
    // From where the edge before it ends: a closed line of this edge and back.
    let before = outline.edges[(at + outline.edges.len() - 1) % outline.edges.len()]
        .path
        .end()
        .unwrap();
    one.edges = vec![outline.edges[at].clone()];
    one.edges[0].path.0.push(notchbook::plan::Segment::Line(before));
    let points = chords(&one, 4_000);
    points
        .windows(2)
        .take(points.len() - 2)
        .map(|p| (p[0].0 - p[1].0).hypot(p[0].1 - p[1].1))
        .sum::<f64>()
        + (points[0].0 - before.x.as_mm_f64()).hypot(points[0].1 - before.y.as_mm_f64())
}

fn mm(range: std::ops::Range<i64>) -> impl Strategy<Value = Length> {
    (range.start * 640..range.end * 640).prop_map(Length::from_units)
}

pub fn hood() -> impl Strategy<Value = ThreePanelHood> {
    (
        mm(60..320),
        0i64..60,
        mm(120..450),
        mm(100..380),
        10i64..90,
        0i64..40,
        mm(0..60),
        mm(0..40),
    )
        .prop_map(
            |(half_neckline, drop, height, depth, strip, curve, room, face_hem)| ThreePanelHood {
                half_neckline,
                drop: half_neckline.scale_up(drop, 100),
                height,
                depth,
                strip: half_neckline.scale_up(strip, 100),
                face_curve: depth.scale_up(curve, 100),
                room,
                face_hem,
                ..ThreePanelHood::default()
            },
        )
}

fn any_draft() -> impl Strategy<Value = DraftKind> {
    let pocket = (mm(20..300), mm(20..300), mm(0..80), mm(0..50), any::<bool>()).prop_map(
        |(width, height, corners, hem, faced)| {
            DraftKind::PatchPocket(PatchPocket {
                width,
                height,
                corners,
                hem,
                faced,
            })
        },
    );
    let two = (
        mm(60..320),
        mm(0..80),
        mm(120..450),
        mm(0..40),
        mm(0..60),
        mm(0..60),
        mm(0..40),
    )
        .prop_map(|(half_neckline, drop, height, dart, upper, room, face_hem)| {
            DraftKind::TwoPieceHood(TwoPieceHood {
                half_neckline,
                drop,
                height,
                dart,
                upper,
                room,
                face_hem,
                ..TwoPieceHood::default()
            })
        });
    let circle =
        (mm(50..2_000), 0..4usize, mm(20..1_200), 1u32..5, mm(0..40)).prop_map(|(edge, part, length, panels, hem)| {
            let part = [
                CirclePart::Whole,
                CirclePart::Half,
                CirclePart::Third,
                CirclePart::Quarter,
            ][part];
            DraftKind::CirclePiece(CirclePiece {
                edge,
                part,
                length,
                panels,
                hem,
                ..CirclePiece::default()
            })
        });
    let gathered = (mm(50..3_000), 90i64..320, mm(0..60), mm(30..900), 1u32..6, mm(0..60)).prop_map(
        |(edge, fullness, spare, depth, panels, hem)| {
            DraftKind::GatheredRectangle(GatheredRectangle {
                edge,
                fullness: Percent::whole(fullness),
                spare,
                depth,
                panels,
                hem,
                ..GatheredRectangle::default()
            })
        },
    );
    let straight =
        (mm(30..900), mm(10..300), mm(0..200), any::<bool>(), 0..5usize).prop_map(|(long, wide, other, flag, kind)| {
            match kind {
                0 => DraftKind::Band(Band {
                    length: long,
                    width: wide,
                    folded: flag,
                    overlap: other,
                    count: 2,
                    ..Band::default()
                }),
                1 => DraftKind::Tie(Tie {
                    length: long,
                    width: wide,
                    point: other,
                    count: 2,
                }),
                2 => DraftKind::CushionCover(CushionCover {
                    width: long,
                    height: wide,
                    smaller: MM * 10,
                    back: if flag { CushionBack::Zip } else { CushionBack::Overlap },
                    opening: other,
                    hem: MM * 25,
                }),
                3 => DraftKind::BoxCover(BoxCover {
                    width: long,
                    depth: wide,
                    height: other,
                    zip_seam: MM * 15,
                    zip_gap: MM * 5,
                }),
                _ => DraftKind::BagBody(BagBody {
                    width: long,
                    height: wide,
                    gusset: other,
                    hem: MM * 30,
                }),
            }
        });
    prop_oneof![
        hood().prop_map(DraftKind::ThreePanelHood),
        two,
        pocket,
        circle,
        gathered,
        straight
    ]
}

fn parts(kind: DraftKind) -> Option<Vec<Part>> {
    let plan = plan(kind);
    parts_of(&plan, &plan.drafts[0]).ok()
}

fn of<'a>(parts: &'a [Part], key: &str) -> &'a PatternOutline {
    &parts.iter().find(|p| p.key == key).expect(key).outline
}

proptest! {
    #![proptest_config(cases(80))]

    /// Half the strip and a side's neck edge make half the neckline; the strip's
    /// long edges are as long as the seam they are sewn to.
    #[test]
    fn a_hood_fits_its_neckline_and_itself(hood in hood()) {
        if let Some(parts) = parts(DraftKind::ThreePanelHood(hood.clone())) {
            let (side, strip) = (of(&parts, "side"), of(&parts, "strip"));
            let neck = edge_length(side, "neck") + edge_length(strip, "neck") / 2.0;
            prop_assert!((neck - hood.half_neckline.as_mm_f64()).abs() < 0.1, "{neck}");
            let seam = edge_length(side, "centre seam");
            for long in ["left seam", "right seam"] {
                prop_assert!((edge_length(strip, long) - seam).abs() < 0.05);
            }
        }
    }

    #[test]
    fn two_halves_fit_their_neckline_with_the_dart(neckline in mm(60..320), drop in mm(0..80), dart in mm(0..40)) {
        let hood = TwoPieceHood {
            half_neckline: neckline,
            drop,
            height: MM * 400,
            dart,
            upper: MM * 20,
            room: MM * 20,
            face_hem: MM * 20, ..TwoPieceHood::default() };
        if let Some(parts) = parts(DraftKind::TwoPieceHood(hood)) {
            let half = of(&parts, "half");
            let neck = edge_length(half, "neck") - dart.as_mm_f64();
            prop_assert!((neck - neckline.as_mm_f64()).abs() < 0.1, "{neck}");
            if dart.is_positive() {
                let apart = half.notches[2].at - half.notches[1].at;
                prop_assert!((apart - dart).abs() <= MM.scale_up(1, 100));
            }
        }
    }

    #[test]
    fn panels_of_a_circle_have_the_edge_they_are_drafted_for(edge in mm(50..2_000), part in 0..4usize, panels in 2u32..5) {
        let part = [CirclePart::Whole, CirclePart::Half, CirclePart::Third, CirclePart::Quarter][part];
        let made = parts(DraftKind::CirclePiece(CirclePiece { edge, part, length: MM * 300, panels, hem: MM * 10, ..CirclePiece::default() })).expect("sound");
        let all = edge_length(of(&made, "panel"), "inner edge") * f64::from(panels);
        prop_assert!((all - edge.as_mm_f64()).abs() < 0.1, "{all} {edge:?}");
        prop_assert!(all <= edge.as_mm_f64() + 0.02, "never larger");
    }

    /// Whatever is drafted can be cut, or it is said which measure stands in the way.
    #[test]
    fn every_draft_is_cut_with_its_allowances_or_refused_by_a_sentence(kind in any_draft()) {
        let plan = plan(kind.clone());
        match parts_of(&plan, &plan.drafts[0]) {
            Err(problems) => {
                prop_assert!(!problems.is_empty());
                for p in problems {
                    prop_assert!(p.field.starts_with("drafts/d1/") && p.sentence.ends_with('.'), "{p:?}");
                }
            }
            Ok(made) => {
                prop_assert!(!made.is_empty());
                for piece in &plan.pieces {
                    let shape = shape_of(&plan, piece);
                    prop_assert!(shape.is_ok(), "{kind:?} {:?}", shape.err());
                    let shape = shape.unwrap();
                    let cut = polygon(&shape.cut_polygon());
                    prop_assert!(area(&cut) >= shape.area() - 0.01);
                    for edge in &shape.edges {
                        for n in 0..=20 {
                            let place = shape.place(edge, edge.length() * f64::from(n) / 20.0);
                            let out = (edge.allowance - 1e-3).max(0.0);
                            let q = place.point + place.outward * out;
                            // A turned hem follows its sides: it may be narrower than its line at the very ends.
                            let end = edge.kind == EdgeKind::Hem && (n == 0 || n == 20);
                            prop_assert!(end || inside((q.x, q.y), &cut) || distance((q.x, q.y), &cut) < 2e-3, "{} {}", piece.id, edge.name);
                        }
                    }
                }
            }
        }
    }

    /// The unit of the plan is for reading alone.
    #[test]
    fn inches_and_centimetres_draft_the_same(kind in any_draft()) {
        let metric = plan(kind);
        let mut inches = metric.clone();
        inches.unit = Unit::Inch;
        let made = |p: &Plan| parts_of(p, &p.drafts[0]).ok();
        prop_assert_eq!(made(&metric), made(&inches));
        let sizes = |p: &Plan| settled(p).plan.pieces.iter().map(|p| (p.width, p.height)).collect::<Vec<_>>();
        prop_assert_eq!(sizes(&metric), sizes(&inches));
    }

    /// A larger measure never makes a smaller piece.
    #[test]
    fn larger_measures_never_make_smaller_pieces(mut hood in hood(), more in mm(1..40), which in 0..4usize) {
        // A hollow leans less in a taller face, and its mitre stands out by less.
        hood.face_curve = Length::ZERO;
        let mut larger = hood.clone();
        match which {
            0 => larger.height += more,
            1 => larger.depth += more,
            2 => larger.room += more,
            _ => larger.face_hem += more,
        }
        let size = |h: &ThreePanelHood| {
            let plan = plan(DraftKind::ThreePanelHood(h.clone()));
            let settled = settled(&plan);
            settled.plan.pieces.iter().map(|p| (p.width, p.height)).collect::<Vec<_>>()
        };
        let (one, other) = (size(&hood), size(&larger));
        prop_assume!(other.iter().all(|(w, _)| w.is_positive()));
        for ((w, h), (wider, higher)) in one.into_iter().zip(other) {
            prop_assert!(wider >= w && higher >= h, "{w} {h} {wider} {higher}");
        }
    }

    /// A facing has the edge it faces, and lies on the piece.
    #[test]
    fn a_facing_is_its_edge_and_lies_on_the_piece(kind in any_draft(), width in mm(5..60), which in 0..8usize) {
        let mut plan = plan(kind);
        prop_assume!(!plan.pieces.is_empty());
        let piece = shape_of(&plan, &plan.pieces[0]).expect("sound");
        let edge = piece.edges[which % piece.edges.len()].clone();
        let along = EdgeOf { piece: plan.pieces[0].id.clone(), edge: edge.name.clone() };
        plan.drafts.push(Draft {
            id: "d2".into(),
            ..draft(DraftKind::ShapedFacing(ShapedFacing { along: along.clone(), width, count: 2, pair: true }))
        });
        plan.drafts.push(Draft {
            id: "d3".into(),
            ..draft(DraftKind::BiasStrip(BiasStrip { along, width, extra: MM * 20, count: 1 }))
        });
        match parts_of(&plan, &plan.drafts[1]) {
            Ok(made) => {
                let outline = &made[0].outline;
                let faced = edge_length(outline, "faced edge");
                prop_assert!((faced - edge.length()).abs() < 0.02);
                let whole = chords(&piece.to_outline(), 400);
                for p in chords(outline, 40) {
                    prop_assert!(inside(p, &whole) || distance(p, &whole) < 0.1, "{} {p:?}", edge.name);
                }
                let told = crate::shapes::TOLD;
                let shape = notchbook::drafting::Shape::of(outline, &told);
                prop_assert!(shape.is_ok(), "{} {:?}", edge.name, shape.err());
            }
            Err(problems) => prop_assert!(problems.iter().all(|p| p.sentence.ends_with('.'))),
        }
        // The strip lies at 45 degrees: its ends are as far apart as it is long and wide.
        let strip = parts_of(&plan, &plan.drafts[2]).expect("sound");
        let long = edge_length(&strip[0].outline, "long edge");
        prop_assert!((long - edge.length() - 20.0).abs() < 0.02);
    }
}

#[test]
fn an_edge_taken_from_a_draft_follows_it() {
    let hood = ThreePanelHood {
        half_neckline: MM * 220,
        drop: MM * 30,
        height: MM * 330,
        depth: MM * 240,
        strip: MM * 110,
        face_curve: Length::ZERO,
        room: MM * 30,
        face_hem: Length::ZERO,
        ..ThreePanelHood::default()
    };
    let mut plan = plan(DraftKind::ThreePanelHood(hood));
    plan.edges.push(Edge {
        id: "e1".into(),
        name: "Face".into(),
        length: Length::ZERO,
        count: 2,
        corners: 0,
        closed: false,
        from: Some(EdgeOf {
            piece: "p-side".into(),
            edge: "face".into(),
        }),
    });
    let first = settled(&plan);
    assert!(first.problems.is_empty(), "{:?}", first.problems);
    assert_eq!(first.plan.edges[0].length, MM * 360);
    assert_eq!(
        first.plan.pieces[0].height,
        MM * 380,
        "a seam allowance above and one below"
    );
    let DraftKind::ThreePanelHood(hood) = &mut plan.drafts[0].kind else {
        unreachable!()
    };
    hood.height += MM * 20;
    let second = settled(&plan);
    assert_eq!(second.plan.edges[0].length, MM * 380);
    // What is settled once stays as it is.
    let again = second.plan.into_owned();
    assert_eq!(*settled(&again).plan, again);
    // Taken out, the edge is told and not guessed.
    plan.pieces.remove(0);
    let gone = settled(&plan);
    assert_eq!(gone.unsettled_edges, ["e1"]);
    assert!(gone.problems[0].sentence.contains("no longer in the plan"));
}

#[test]
fn a_draft_that_follows_itself_is_told() {
    let along = EdgeOf {
        piece: "p1".into(),
        edge: "outer edge".into(),
    };
    let mut plan = Plan::new(Unit::Cm);
    plan.drafts.push(draft(DraftKind::ShapedFacing(ShapedFacing {
        along: along.clone(),
        width: MM * 40,
        count: 1,
        pair: false,
    })));
    plan.pieces.push(piece("p1", "facing", 1));
    let settled = settled(&plan);
    assert_eq!(settled.unsettled_pieces, ["p1"]);
    assert!(
        settled.problems.iter().any(|p| p.sentence.contains("follows it")),
        "{:?}",
        settled.problems
    );
    plan.drafts[0].kind = DraftKind::BiasStrip(BiasStrip {
        along,
        width: MM * 40,
        extra: MM * 20,
        count: 1,
    });
    assert!(!notchbook::figures::problems(&plan).is_empty());
}
