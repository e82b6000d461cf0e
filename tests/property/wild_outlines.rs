//! Outlines and drafts that are wrong in every way their types allow: each is
//! answered by a shape or by sentences, and reads back from its JSON.

use crate::cases;
use crate::drafted::plan as drafted;
use crate::plans::{wild, wild_text};
use notchbook::drafting::{settled, shape_of};
use notchbook::figures::work_out;
use notchbook::measure::{Length, MM, Unit};
use notchbook::plan::{
    AddToEdge, Along, ChangeOf, CornerCut, DraftKind, DraftPart, Edge, EdgeKind, EdgeOf, EdgePath, Finish, InnerLine,
    Lengthen, Mark, Notch, OutlineChange, OutlineEdge, PatchPocket, Pattern, PatternOutline, Piece, Plan, RoundCorner,
    Segment, Source, Spot, ThreePanelHood,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

/// Mostly near, sometimes wild.
fn length() -> impl Strategy<Value = Length> {
    prop_oneof![20 => (-300_000i64..300_000).prop_map(Length::from_units), 1 => wild()]
}

fn spot() -> impl Strategy<Value = Spot> {
    (length(), length()).prop_map(|(x, y)| Spot::new(x, y))
}

fn path() -> impl Strategy<Value = EdgePath> {
    let segment = prop_oneof![
        2 => spot().prop_map(Segment::Line),
        1 => (spot(), spot(), spot()).prop_map(|(a, b, c)| Segment::Curve(a, b, c)),
    ];
    vec(segment, 0..4).prop_map(EdgePath)
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![6 => (0..5u8).prop_map(|n| format!("edge {n}")), 1 => wild_text()]
}

fn kind() -> impl Strategy<Value = EdgeKind> {
    (0..8usize).prop_map(|n| EdgeKind::ALL.get(n).copied().unwrap_or_default())
}

fn corner() -> impl Strategy<Value = CornerCut> {
    (0..5usize).prop_map(|n| CornerCut::ALL.get(n).copied().unwrap_or_default())
}

fn allowance() -> impl Strategy<Value = Length> {
    prop_oneof![8 => (0i64..25).prop_map(|n| MM * n), 1 => wild()]
}

fn outline() -> impl Strategy<Value = PatternOutline> {
    let edge =
        (name(), path(), allowance(), corner(), kind()).prop_map(|(name, path, allowance, corner, kind)| OutlineEdge {
            name,
            path,
            allowance,
            corner,
            kind,
        });
    let notch = (name(), length(), any::<bool>()).prop_map(|(edge, at, double)| Notch { edge, at, double });
    let mark = (wild_text(), spot()).prop_map(|(name, at)| Mark { name, at });
    let inner = (wild_text(), spot(), path()).prop_map(|(name, from, path)| InnerLine { name, from, path });
    (
        vec(edge, 0..6),
        vec(notch, 0..2),
        option::of([spot(), spot()]),
        vec(mark, 0..2),
        vec(inner, 0..2),
    )
        .prop_map(|(edges, notches, grain, marks, inner)| PatternOutline {
            edges,
            notches,
            grain,
            marks,
            inner,
        })
}

fn change() -> impl Strategy<Value = OutlineChange> {
    let edge = || prop_oneof![3 => Just("centre seam".to_string()), 3 => Just("neck".to_string()), 2 => Just("top".to_string()), 2 => Just("left side".to_string()), 1 => name()];
    let near = || prop_oneof![12 => (-120i64..300).prop_map(|n| MM * n), 1 => wild()];
    let of = prop_oneof![
        (any::<bool>(), near(), near()).prop_map(|(tall, at, by)| ChangeOf::Lengthen(Lengthen {
            along: if tall { Along::Height } else { Along::Width },
            at,
            by
        })),
        (edge(), near()).prop_map(|(edge, by)| ChangeOf::AddToEdge(AddToEdge { edge, by })),
        (edge(), near()).prop_map(|(edge, radius)| ChangeOf::RoundCorner(RoundCorner { edge, radius })),
    ];
    (of, wild_text()).prop_map(|(change, reason)| OutlineChange { change, reason })
}

fn finish() -> impl Strategy<Value = Finish> {
    (name(), allowance(), corner(), kind()).prop_map(|(edge, allowance, corner, kind)| Finish {
        edge,
        allowance,
        corner,
        kind,
    })
}

fn base() -> impl Strategy<Value = Plan> {
    let pocket =
        (length(), length(), length(), length(), any::<bool>()).prop_map(|(width, height, corners, hem, faced)| {
            DraftKind::PatchPocket(PatchPocket {
                width,
                height,
                corners: corners.scale_up(1, 5),
                hem: hem.scale_up(1, 9),
                faced,
            })
        });
    let hood =
        (100i64..300, 0i64..90, 150i64..400, 100i64..300, 20i64..150).prop_map(|(neck, drop, height, depth, strip)| {
            DraftKind::ThreePanelHood(ThreePanelHood {
                half_neckline: MM * neck,
                drop: MM * drop,
                height: MM * height,
                depth: MM * depth,
                strip: MM * strip,
                face_curve: MM * 10,
                room: MM * 20,
                face_hem: Length::ZERO,
                ..ThreePanelHood::default()
            })
        });
    prop_oneof![pocket, hood].prop_map(drafted)
}

fn plan() -> impl Strategy<Value = Plan> {
    let drawn = outline().prop_map(|outline| {
        let piece = Piece {
            id: "drawn".into(),
            name: "Drawn".into(),
            cut_count: 1,
            pattern: Some(Pattern {
                from: Source::Drawn(outline),
                finish: vec![],
                changes: vec![],
            }),
            ..Piece::default()
        };
        Plan {
            pieces: vec![piece],
            ..Plan::new(Unit::Inch)
        }
    });
    let plans = prop_oneof![1 => drawn, 2 => base()];
    (plans, vec(change(), 0..3), vec(finish(), 0..2), name(), any::<bool>()).prop_map(
        |(mut plan, changes, finish, edge, dangling)| {
            if let Some(pattern) = plan.pieces.first_mut().and_then(|p| p.pattern.as_mut()) {
                pattern.changes = changes;
                pattern.finish = finish;
                if dangling && plan.drafts.is_empty() {
                    pattern.from = Source::Draft(DraftPart {
                        draft: "gone".into(),
                        part: "side".into(),
                    });
                }
            }
            plan.edges.push(Edge {
                id: "e1".into(),
                name: "Edge".into(),
                length: Length::ZERO,
                count: 1,
                corners: 0,
                closed: false,
                from: Some(EdgeOf {
                    piece: "p-side".into(),
                    edge,
                }),
            });
            plan
        },
    )
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn every_outline_gets_a_shape_or_sentences(plan in plan()) {
        for piece in &plan.pieces {
            match shape_of(&plan, piece) {
                Ok(shape) => {
                    let size = shape.cut_size();
                    prop_assert!(size.width.is_positive() && size.height.is_positive());
                    let cut = shape.cut_polygon();
                    prop_assert!(cut.len() >= 3, "{shape:?}");
                    prop_assert!(cut.iter().all(|p| p.x.is_finite() && p.y.is_finite()));
                }
                Err(problems) => {
                    prop_assert!(!problems.is_empty());
                    for p in problems {
                        prop_assert!(p.sentence.ends_with('.') && !p.field.is_empty(), "{p:?}");
                    }
                }
            }
        }
        let once = settled(&plan);
        let unsettled = once.unsettled_pieces.len() + once.unsettled_edges.len();
        prop_assert!(unsettled == 0 || !once.problems.is_empty());
        let figures = work_out(&plan);
        for id in &once.unsettled_pieces {
            // Nothing is built on a size that is not known.
            prop_assert!(figures.pieces.iter().filter(|p| p.piece == *id).all(|p| p.panel.is_none()));
        }
        let kept = once.plan.into_owned();
        prop_assert_eq!(&*settled(&kept).plan, &kept);
    }

    /// What can be written down is read back as it was.
    #[test]
    fn outlines_read_back_from_their_json(plan in plan()) {
        let readable = plan.pieces.iter().filter_map(|p| p.pattern.as_ref()).all(|p| match &p.from {
            Source::Drawn(o) => o.edges.iter().map(|e| &e.path).chain(o.inner.iter().map(|l| &l.path)).all(|p| {
                !p.0.is_empty() && p.0.iter().all(|s| {
                    let spots = match s { Segment::Line(a) => vec![*a], Segment::Curve(a, b, c) => vec![*a, *b, *c] };
                    spots.iter().all(|s| s.x.abs() <= Length::MAX && s.y.abs() <= Length::MAX)
                })
            }),
            Source::Draft(_) => true,
        });
        let read = Plan::from_json(&plan.to_json());
        match read {
            Ok(read) => prop_assert_eq!(read, plan),
            Err(error) => prop_assert!(!readable || error.to_string().contains("200 m"), "{error}"),
        }
    }
}
