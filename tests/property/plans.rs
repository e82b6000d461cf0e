//! Plans to try: sound ones as a maker would write them, and hostile ones.

use crate::faces::{self, face};
use crate::sewn;
use notchbook::measure::{EIGHTH, INCH, Length, MM, Money, Percent, Unit};
use notchbook::plan::{
    Allowances, Along, Alteration, Binding, BindingCut, Cloth, ClothKind, Corner, CuttingRule, Edge, Fold, Layers,
    Notion, NotionKind, Outline, Outlined, Per, Piece, Plan, Price, ReadyCut, ReadyShape, Remnant, Sides,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

/// A length on the marks people type: eighths of an inch or whole millimetres.
pub fn inches(least: i64, most: i64) -> impl Strategy<Value = Length> {
    prop_oneof![
        4 => (least * 8..=most * 8).prop_map(|n| EIGHTH * n),
        1 => ((least * 254 + 9) / 10..=most * 254 / 10).prop_map(|n| MM * n),
    ]
}

fn percent(most: i64) -> impl Strategy<Value = Percent> {
    prop_oneof![
        Just(Percent::ZERO),
        (0..=most * 10).prop_map(|n| Percent::hundredths(n * 10))
    ]
}

pub fn cloth_id() -> impl Strategy<Value = String> {
    (0..4usize).prop_map(|n| format!("c{n}"))
}

pub fn piece(n: usize) -> BoxedStrategy<Piece> {
    (
        (1..4u32, any::<bool>(), any::<bool>(), inches(10, 32), inches(10, 40)),
        (
            vec((any::<bool>(), -8..=16i64), 0..3),
            option::weighted(0.9, face()),
            option::of((option::of(cloth_id()), option::of(cloth_id()))),
            inches(0, 2),
            percent(6),
        ),
    )
        .prop_map(
            move |((count, mirrored, on_fold, width, height), (alterations, face, layers, margin, take_up))| Piece {
                id: format!("p{n}"),
                name: format!("Piece {n}"),
                cut_count: if mirrored { count * 2 } else { count },
                mirrored,
                on_fold,
                width,
                height,
                alterations: alterations
                    .into_iter()
                    .map(|(wide, by)| Alteration {
                        along: if wide { Along::Width } else { Along::Height },
                        by: EIGHTH * by,
                        reason: String::new(),
                    })
                    .collect(),
                face,
                layers: layers.map(|(batting, backing)| Layers {
                    batting,
                    backing,
                    quilting: None,
                }),
                margin,
                take_up,
                ..Default::default()
            },
        )
        .boxed()
}

fn remnant() -> impl Strategy<Value = Remnant> {
    (inches(2, 40), inches(1, 40), 1..5u32).prop_map(|(width, length, count)| Remnant { width, length, count })
}

/// Outlines as leftovers have: a corner cut off, an L, three or four sides.
pub fn outline() -> impl Strategy<Value = Outline> {
    let corners = |list: Vec<(Length, Length)>| {
        Outline::Corners(
            list.into_iter()
                .map(|(across, along)| Corner { across, along })
                .collect(),
        )
    };
    let zero = Length::ZERO;
    prop_oneof![
        (inches(6, 40), inches(6, 40), 1..10i64, 1..10i64).prop_map(move |(w, h, a, b)| {
            let (cut, off) = (w.scale_down(a, 10), h.scale_down(b, 10));
            corners(vec![(zero, zero), (w, zero), (w, h - off), (w - cut, h), (zero, h)])
        }),
        (inches(6, 40), inches(6, 40), 1..10i64, 1..10i64).prop_map(move |(w, h, a, b)| {
            let (foot, stem) = (h.scale_down(b, 10), w.scale_down(a, 10));
            corners(vec![
                (zero, zero),
                (stem, zero),
                (stem, h - foot),
                (w, h - foot),
                (w, h),
                (zero, h),
            ])
        }),
        // A dart cut into a slanted piece.
        (inches(8, 40), inches(8, 40), 1..8i64, 2..8i64).prop_map(move |(w, h, a, b)| {
            let (mid, deep) = (w.scale_down(a + 1, 10), h.scale_down(b, 10));
            corners(vec![
                (zero, zero),
                (mid, deep),
                (w, zero),
                (w, h),
                (mid, h - (h - deep).scale_down(1, 2)),
                (zero, h),
            ])
        }),
        (inches(3, 40), inches(3, 40), 1..100i64).prop_map(|(a, b, at)| {
            let least = (a - b).abs();
            let third = least + (a + b - least).scale_down(at, 101).max(Length::from_units(1));
            Outline::Sides(Sides {
                sides: vec![a, b, third],
                diagonal: None,
            })
        }),
        (inches(3, 40), inches(3, 40), inches(3, 40), 1..100i64, 1..100i64).prop_map(|(a, b, c, at, on)| {
            let between = |p: Length, q: Length, n: i64| {
                let least = (p - q).abs();
                least + (p + q - least).scale_down(n, 101).max(Length::from_units(1))
            };
            let diagonal = between(a, b, at);
            Outline::Sides(Sides {
                sides: vec![a, b, c, between(diagonal, c, on)],
                diagonal: Some(diagonal),
            })
        }),
    ]
}

pub fn wild_outline() -> impl Strategy<Value = Outline> {
    prop_oneof![
        2 => outline(),
        1 => vec((wild(), wild()), 0..15).prop_map(|list| {
            Outline::Corners(list.into_iter().map(|(across, along)| Corner { across, along }).collect())
        }),
        1 => (vec(wild(), 0..6), option::of(wild())).prop_map(|(sides, diagonal)| Outline::Sides(Sides { sides, diagonal })),
    ]
}

fn outlined(of: impl Strategy<Value = Outline>, count: impl Strategy<Value = u32>) -> impl Strategy<Value = Outlined> {
    (of, count).prop_map(|(outline, count)| Outlined { outline, count })
}

pub fn cloth(n: usize) -> impl Strategy<Value = Cloth> {
    (
        prop_oneof![
            Just(36),
            Just(40),
            Just(42),
            Just(44),
            Just(54),
            Just(60),
            Just(90),
            Just(108)
        ],
        prop_oneof![2 => Just(Length::ZERO), 1 => inches(1, 90)],
        (vec(remnant(), 0..3), vec(outlined(outline().boxed(), 1..4u32), 0..2)),
        option::of((0..5000i64, any::<bool>())),
        prop::bool::weighted(0.25),
        percent(9),
    )
        .prop_map(
            move |(width, owned, (remnants, outlined), price, one_way, shrinkage)| Cloth {
                outlined,
                id: format!("c{n}"),
                name: format!("Cloth {n}"),
                kind: if width >= 90 {
                    ClothKind::Batting
                } else {
                    ClothKind::Cloth
                },
                fibre: "cotton".into(),
                usable_width: INCH * width,
                owned,
                remnants,
                price: price.map(|(amount, yard)| Price {
                    amount: Money::hundredths(amount),
                    per: if yard { Per::Yard } else { Per::Metre },
                }),
                colour: "#aabbcc".into(),
                link: String::new(),
                one_way,
                shrinkage,
                stock: None,
                ..Default::default()
            },
        )
}

fn edge(n: usize) -> impl Strategy<Value = Edge> {
    (inches(5, 120), 1..4u32, 0..5u32, any::<bool>()).prop_map(move |(length, count, corners, closed)| Edge {
        id: format!("e{n}"),
        name: format!("Edge {n}"),
        length,
        count,
        corners,
        closed,
        from: None,
    })
}

pub fn binding() -> impl Strategy<Value = Binding> {
    (cloth_id(), any::<bool>(), 0..3usize, 1..8i64, 0..4i64, any::<bool>()).prop_map(
        |(cloth, double, cut, width, thick, remnants)| Binding {
            cloth,
            fold: if double { Fold::Double } else { Fold::Single },
            cut: [BindingCut::Straight, BindingCut::BiasStrips, BindingCut::Continuous][cut],
            finished_width: EIGHTH * width,
            thickness: EIGHTH * thick,
            from_remnants: remnants,
        },
    )
}

fn notion(n: usize) -> impl Strategy<Value = Notion> {
    (any::<bool>(), 1..20u32, any::<bool>()).prop_map(move |(tool, count, bought)| Notion {
        id: format!("n{n}"),
        name: format!("Notion {n}"),
        kind: if tool { NotionKind::Tool } else { NotionKind::Notion },
        quantity: count.to_string(),
        remark: String::new(),
        link: if bought {
            "https://example.org/n".into()
        } else {
            String::new()
        },
        ..Default::default()
    })
}

fn wild_notion() -> impl Strategy<Value = Notion> {
    (wild_text(), wild_text(), wild_text(), wild_text(), wild_text()).prop_map(|(id, name, quantity, remark, link)| {
        Notion {
            id,
            name,
            kind: NotionKind::Notion,
            quantity,
            remark,
            link,
            ..Default::default()
        }
    })
}

fn allowances() -> impl Strategy<Value = Allowances> {
    (
        prop_oneof![3 => Just(2i64), 1 => 1..5i64],
        any::<bool>(),
        0..3i64,
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(seam, exact, straightening, cm, short)| Allowances {
            seam: EIGHTH * seam,
            cutting_rule: if exact { CuttingRule::Exact } else { CuttingRule::Trade },
            straightening: INCH * straightening,
            binding_shortest_strip: INCH * if short { 2 } else { 8 },
            ..Allowances::for_unit(if cm { Unit::Cm } else { Unit::Inch })
        })
}

/// The plan with an allowance that cannot be used: no cloth is laid out, and the
/// pieces, which need no layout, are worked out in next to no time.
pub fn without_layouts(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    plan.allowances.straightening = -INCH;
    plan
}

/// With closures, seams, a size table and care beside them.
pub fn sound() -> impl Strategy<Value = Plan> {
    (made_of_cloth().boxed(), sewn::sound().boxed()).prop_map(|(plan, sewn)| sewn.onto(plan))
}

/// A plan a maker could have written. A few have problems (a piece too small
/// for its unit, a panel too wide): those parts are left out of the figures.
fn made_of_cloth() -> impl Strategy<Value = Plan> {
    (
        any::<bool>(),
        allowances(),
        (cloth(0).boxed(), cloth(1).boxed(), cloth(2).boxed(), cloth(3).boxed()),
        (1..5usize).prop_flat_map(|n| (0..n).map(piece).collect::<Vec<_>>()),
        (0..4usize).prop_flat_map(|n| (0..n).map(edge).collect::<Vec<_>>()),
        option::weighted(0.7, binding()),
        (0..4usize).prop_flat_map(|n| (0..n).map(notion).collect::<Vec<_>>()),
    )
        .prop_map(|(cm, allowances, cloths, pieces, edges, binding, notions)| Plan {
            unit: if cm { Unit::Cm } else { Unit::Inch },
            allowances,
            cloths: vec![cloths.0, cloths.1, cloths.2, cloths.3],
            pieces,
            edges,
            binding,
            notions,
            ..Plan::default()
        })
}

/// Any length at all, the ends of the range and slips of the finger among them.
pub fn wild() -> impl Strategy<Value = Length> {
    prop_oneof![
        4 => inches(0, 60),
        1 => prop_oneof![
            Just(i64::MIN), Just(i64::MIN + 1), Just(-1), Just(0), Just(1), Just(i64::MAX - 1), Just(i64::MAX),
            Just(Length::MAX.units()), Just(Length::MAX.units() + 1), any::<i64>(), -200_000..200_000i64,
            0..Length::MAX.units(),
        ].prop_map(Length::from_units),
    ]
}

pub fn wild_count() -> impl Strategy<Value = u32> {
    prop_oneof![4 => 0..6u32, 1 => Just(200u32), 1 => any::<u32>()]
}

pub fn wild_percent() -> impl Strategy<Value = Percent> {
    prop_oneof![
        4 => 0..500i64,
        1 => prop_oneof![Just(4_999i64), Just(5_000), Just(10_000), Just(i64::MIN), Just(i64::MAX), any::<i64>()],
    ]
    .prop_map(Percent::hundredths)
}

pub fn wild_text() -> impl Strategy<Value = String> {
    prop_oneof![4 => "[a-c][0-2]", 1 => Just(String::new()), 1 => ".{0,12}", 1 => Just("é🧵".repeat(400))]
}

fn wild_piece() -> BoxedStrategy<Piece> {
    let wild_face = faces::wild(|| wild().boxed(), || wild_text().boxed());
    (
        (wild_text(), wild_text(), wild_count(), any::<bool>(), any::<bool>()),
        (
            wild(),
            wild(),
            vec((any::<bool>(), wild()), 0..40),
            wild(),
            wild_percent(),
        ),
        option::of(prop_oneof![2 => face(), 1 => wild_face]),
        option::of((option::of(wild_text()), option::of(wild_text()))),
    )
        .prop_map(
            |(
                (id, name, cut_count, mirrored, on_fold),
                (width, height, alterations, margin, take_up),
                face,
                layers,
            )| {
                Piece {
                    id,
                    name,
                    cut_count,
                    mirrored,
                    on_fold,
                    width,
                    height,
                    alterations: alterations
                        .into_iter()
                        .map(|(wide, by)| Alteration {
                            along: if wide { Along::Width } else { Along::Height },
                            by,
                            reason: String::new(),
                        })
                        .collect(),
                    face,
                    layers: layers.map(|(batting, backing)| Layers {
                        batting,
                        backing,
                        quilting: None,
                    }),
                    margin,
                    take_up,
                    ..Default::default()
                }
            },
        )
        .boxed()
}

fn wild_ready() -> impl Strategy<Value = ReadyCut> {
    let shape = prop_oneof![
        Just(ReadyShape::Rectangle),
        Just(ReadyShape::HalfSquareTriangle),
        Just(ReadyShape::QuarterSquareTriangle),
        Just(ReadyShape::Triangle60),
        Just(ReadyShape::Hexagon),
    ];
    (shape, wild(), wild(), wild_count()).prop_map(|(shape, width, height, count)| ReadyCut {
        shape,
        width,
        height,
        count,
    })
}

fn wild_cloth() -> impl Strategy<Value = Cloth> {
    (
        (wild_text(), wild_text(), wild(), wild(), wild_percent(), any::<bool>()),
        (
            vec((wild(), wild(), wild_count()), 0..5),
            vec(outlined(wild_outline().boxed(), wild_count()), 0..3),
        ),
        option::of((any::<i64>(), any::<bool>())),
        wild_text(),
        vec(wild_ready(), 0..4),
    )
        .prop_map(
            |((id, name, usable_width, owned, shrinkage, one_way), (remnants, outlined), price, colour, ready_cut)| {
                Cloth {
                    outlined,
                    ready_cut,
                    id,
                    name,
                    kind: ClothKind::Cloth,
                    fibre: colour.clone(),
                    usable_width,
                    owned,
                    remnants: remnants
                        .into_iter()
                        .map(|(width, length, count)| Remnant { width, length, count })
                        .collect(),
                    price: price.map(|(amount, yard)| Price {
                        amount: Money::hundredths(amount),
                        per: if yard { Per::Yard } else { Per::Metre },
                    }),
                    colour,
                    link: String::new(),
                    one_way,
                    shrinkage,
                    stock: None,
                    ..Default::default()
                }
            },
        )
}

fn wild_allowances() -> impl Strategy<Value = Allowances> {
    prop_oneof![
        2 => Just(Allowances::default()),
        1 => (vec(wild(), 10), any::<bool>()).prop_map(|(l, exact)| Allowances {
            seam: l[0],
            cutting_rule: if exact { CuttingRule::Exact } else { CuttingRule::Trade },
            straightening: l[1],
            shop_step: l[2],
            batting_overage: l[3],
            backing_overage: l[4],
            backing_seam: l[5],
            binding_closed_end: l[6],
            binding_open_ends: l[7],
            binding_corner: l[8],
            binding_shortest_strip: l[9],
        }),
    ]
}

/// As [`wild_cloth_plan`], with wild closures, seams, size tables beside it.
pub fn wild_plan() -> impl Strategy<Value = Plan> {
    (wild_cloth_plan(), sewn::wild_parts()).prop_map(|(plan, sewn)| sewn.onto(plan))
}

/// Any plan value that code can build: parts of sound ones, and parts that are
/// wrong in every way the types allow.
fn wild_cloth_plan() -> impl Strategy<Value = Plan> {
    let pieces = vec(prop_oneof![2 => piece(0), 1 => wild_piece()], 0..4);
    let cloths = vec(prop_oneof![2 => cloth(0), 1 => wild_cloth()], 0..4);
    let edges = vec(
        (
            wild_text(),
            wild_text(),
            wild(),
            wild_count(),
            wild_count(),
            any::<bool>(),
        ),
        0..3,
    );
    let bound = prop_oneof![
        1 => binding(),
        1 => (binding(), wild_text(), wild(), wild()).prop_map(|(b, cloth, finished_width, thickness)| Binding {
            cloth, finished_width, thickness, ..b
        }),
    ];
    (
        any::<bool>(),
        prop_oneof![8 => Just(1u32), 1 => any::<u32>()],
        wild_allowances(),
        cloths,
        pieces,
        edges,
        option::of(bound),
        vec(prop_oneof![2 => notion(0), 1 => wild_notion()], 0..3),
    )
        .prop_map(
            |(cm, format, allowances, cloths, pieces, edges, binding, notions)| Plan {
                notions,
                format,
                unit: if cm { Unit::Cm } else { Unit::Inch },
                allowances,
                // Ids that mostly differ, so that most of the plan is reached.
                cloths: cloths
                    .into_iter()
                    .enumerate()
                    .map(|(n, c)| {
                        if c.id == "c0" {
                            Cloth {
                                id: format!("c{n}"),
                                ..c
                            }
                        } else {
                            c
                        }
                    })
                    .collect(),
                pieces: pieces
                    .into_iter()
                    .enumerate()
                    .map(|(n, p)| {
                        if p.id == "p0" {
                            Piece {
                                id: format!("p{n}"),
                                ..p
                            }
                        } else {
                            p
                        }
                    })
                    .collect(),
                edges: edges
                    .into_iter()
                    .map(|(id, name, length, count, corners, closed)| Edge {
                        id,
                        name,
                        length,
                        count,
                        corners,
                        closed,
                        from: None,
                    })
                    .collect(),
                binding,
                ..Plan::default()
            },
        )
}
