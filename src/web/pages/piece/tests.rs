use super::form::{filled, read};
use super::{parts, place};
use crate::figures::Problem;
use crate::measure::{INCH, Length, Percent, Unit as System};
use crate::plan::{
    Along, Alteration, Arrangement, Border, Cloth, Face, Layers, OnPoint, Part, Patchwork, Piece, Plan, Quilting,
    Sashing, TakeUpFrom, Unit, UnitKind, limits,
};
use crate::web::form::{Typed, word};

fn plan() -> Plan {
    let mut plan = Plan::new(System::Inch);
    for id in ["c1", "c2", "c3"] {
        plan.cloths.push(Cloth {
            id: id.into(),
            name: id.into(),
            usable_width: INCH * 42,
            ..Cloth::default()
        });
    }
    plan
}

fn piece(face: Option<Face>) -> Piece {
    Piece {
        id: "p1".into(),
        name: "Front".into(),
        cut_count: 2,
        mirrored: true,
        width: INCH * 12,
        height: Length::inches_frac(45, 2),
        alterations: vec![Alteration {
            along: Along::Height,
            by: -INCH,
            reason: "shorter".into(),
        }],
        face,
        layers: Some(Layers {
            batting: None,
            backing: Some("c2".into()),
            quilting: None,
        }),
        margin: INCH,
        take_up: Percent::hundredths(250),
        ..Piece::default()
    }
}

fn in_turn(n: usize) -> Vec<String> {
    (0..n).map(|i| ["c1", "c2", "c3"][i % 3].to_string()).collect()
}

/// A unit of every kind, of as few and of as many cloths as it takes.
fn units() -> Vec<Unit> {
    let mut list = Vec::new();
    for kind in UnitKind::ALL {
        let (least, most) = kind.positions();
        for n in [least, most] {
            let mut unit = Unit::new(kind, in_turn(n));
            match kind {
                UnitKind::HalfSquareTriangle => unit.at_a_time = if list.len() % 2 == 0 { 4 } else { 8 },
                UnitKind::Composed => unit.parts = if n == most { star(3) } else { star(2) },
                _ => {}
            }
            list.push(unit);
        }
    }
    list.push(Unit {
        parts: star(4),
        ..Unit::new(UnitKind::Composed, Vec::new())
    });
    list
}

fn star(across: usize) -> Vec<Part> {
    let kinds = [
        (UnitKind::Square, 1),
        (UnitKind::HalfSquareTriangle, 2),
        (UnitKind::QuarterSquareTriangle, 4),
        (UnitKind::Rail, 5),
    ];
    (0..across * across)
        .map(|i| {
            let (kind, n) = kinds[i % 4];
            Part {
                kind,
                cloths: in_turn(n + i / 8).into_iter().take(kind.positions().1).collect(),
                turn: (i as u32 / 2) % 4,
            }
        })
        .collect()
}

fn unchanged(piece: &Piece) {
    let mut plan = plan();
    for unit in [System::Inch, System::Cm] {
        plan.unit = unit;
        plan.pieces = vec![piece.clone()];
        assert_eq!(&read(&filled(piece, &plan), &plan, "p1").unwrap(), piece);
    }
}

#[test]
fn a_piece_of_every_kind_goes_through_its_form_unchanged() {
    unchanged(&piece(None));
    unchanged(&piece(Some(Face::plain("c3"))));
    for unit in units() {
        unchanged(&piece(Some(Face::Patchwork(Patchwork {
            finished: Length::inches_frac(7, 2),
            units: vec![unit],
            ..Patchwork::default()
        }))));
    }
}

#[test]
fn every_arrangement_and_setting_goes_through_unchanged() {
    let square: Vec<Unit> = units().into_iter().filter(|u| !u.kind.in_rows()).collect();
    for (arrangement, count) in [
        (Arrangement::Alternating, 2),
        (Arrangement::Rows, 2),
        (Arrangement::Rows, limits::PALETTE),
        (Arrangement::Painted, 1),
        (Arrangement::Painted, limits::PALETTE),
    ] {
        let painted = match arrangement {
            Arrangement::Painted if count > 1 => vec!["a b1 c".into(), String::new(), "h3 g2".into()],
            Arrangement::Painted => vec!["a2 a".into()],
            _ => Vec::new(),
        };
        let bare = Patchwork {
            finished: INCH * 4,
            arrangement,
            units: (0..count).map(|i| square[(i * 5 + 3) % square.len()].clone()).collect(),
            painted,
            ..Patchwork::default()
        };
        unchanged(&piece(Some(Face::Patchwork(bare.clone()))));
        for posts in [None, Some("c2".to_string())] {
            let set = Patchwork {
                on_point: Some(OnPoint {
                    side: "c1".into(),
                    corner: "c3".into(),
                }),
                sashing: Some(Sashing {
                    width: Length::inches_frac(3, 4),
                    cloth: "c2".into(),
                    around: posts.is_some(),
                    posts: posts.clone(),
                }),
                borders: vec![
                    Border {
                        width: INCH,
                        cloth: "c3".into(),
                        corners: None,
                    },
                    Border {
                        width: INCH * 2,
                        cloth: "c1".into(),
                        corners: Some("c2".into()),
                    },
                ],
                ..bare.clone()
            };
            unchanged(&piece(Some(Face::Patchwork(set))));
        }
    }
}

#[test]
fn heights_lines_and_take_up_go_through_unchanged() {
    let mut high = piece(Some(Face::Patchwork(Patchwork {
        finished: INCH * 2,
        finished_height: Some(INCH * 5),
        units: vec![Unit::new(UnitKind::Rail, in_turn(3))],
        ..Patchwork::default()
    })));
    unchanged(&high);
    high.layers = Some(Layers {
        batting: None,
        backing: None,
        quilting: Some(Quilting {
            upright: Some(INCH),
            level: None,
            rising: Some(Length::inches_frac(3, 2)),
            falling: Some(INCH * 3),
        }),
    });
    high.take_up_from = TakeUpFrom::Spacing;
    unchanged(&high);
    // A take-up that counts for nothing yet is still the maker's.
    high.layers = None;
    unchanged(&high);
}

#[test]
fn what_is_painted_of_units_that_go_is_pointed_out() {
    let plan = plan();
    let mut typed = filled(
        &piece(Some(Face::Patchwork(Patchwork {
            finished: INCH * 3,
            arrangement: Arrangement::Painted,
            units: vec![
                Unit::new(UnitKind::Square, in_turn(1)),
                Unit::new(UnitKind::HalfSquareTriangle, in_turn(2)),
                Unit::new(UnitKind::Pinwheel, in_turn(2)),
            ],
            painted: vec!["a b c1".into()],
            ..Patchwork::default()
        }))),
        &plan,
    );
    typed.set("kind_1", "");
    let errors = read(&typed, &plan, "p1").unwrap_err();
    assert!(errors.of("painted").any(|m| m.contains("In row 1, “b”")), "{errors:?}");
    // Painted over, the later units move up.
    typed.set("painted", "A  a\n c1");
    let read_back = read(&typed, &plan, "p1").unwrap();
    let Some(Face::Patchwork(face)) = read_back.face else {
        panic!("a patchwork");
    };
    assert_eq!(face.painted, ["a a", "b1"]);
    assert_eq!(face.units.len(), 2);
    assert_eq!(face.units[1].kind, UnitKind::Pinwheel);
}

#[test]
fn problems_stand_beside_their_field() {
    let mut typed = Typed::default();
    for (field, value) in [
        ("face", "square"),
        ("arrangement", "painted"),
        ("kind_2", "composed"),
        ("across_2", "3"),
        ("parts_2", "a a b\nc a a"),
        ("border_width_1", "2 in"),
    ] {
        typed.set(field, value);
    }
    for (at, field) in [
        ("face/finished", "finished"),
        ("face/finished_height", "finished_height"),
        ("face/painted/2", "painted"),
        ("face/units/0/cloths/0", "cloth0_0"),
        ("face/units/1", "kind_2"),
        ("face/units/1/parts", "parts_2"),
        ("face/units/1/parts/3/cloths/1", "part2cloth1_2"),
        ("face/units/1/parts/2", "part1kind_2"),
        ("face/sashing/width", "sash_width"),
        ("face/on_point/side", "side_cloth"),
        ("face/borders/0/cloth", "border_cloth_1"),
        ("layers/quilting/rising", "lines_rising"),
        ("layers/batting", "batting"),
        ("alterations/3/by", "alt_by_3"),
        ("take_up", "take_up"),
    ] {
        let problem = Problem {
            field: format!("pieces/p1/{at}"),
            message: String::new(),
        };
        assert_eq!(place::of(&problem, "pieces/p1", &typed), field, "{at}");
    }
}

#[test]
fn a_unit_that_is_to_be_composed_is_asked_for_its_parts() {
    let plan = plan();
    let mut typed = filled(&piece(None), &plan);
    typed.set("face", word(&UnitKind::Composed));
    typed.set("finished", "6");
    let errors = read(&typed, &plan, "p1").unwrap_err();
    assert!(errors.has("part0kind_0"), "{errors:?}");
    typed.set("part0kind_0", "square");
    typed.set("part0cloth0_0", "c1");
    typed.set("part1kind_0", "half-square-triangle");
    let errors = read(&typed, &plan, "p1").unwrap_err();
    assert!(errors.has("part1cloth0_0") && errors.has("part1cloth1_0"), "{errors:?}");
    typed.set("part1cloth0_0", "c1");
    typed.set("part1cloth1_0", "c2");
    typed.set("parts_0", "a b1\nz a");
    let errors = read(&typed, &plan, "p1").unwrap_err();
    assert!(
        errors.of("parts_0").any(|m| m.contains("row 2") && m.contains("“z”")),
        "{errors:?}"
    );
    typed.set("parts_0", "a b1\nb3");
    let made = read(&typed, &plan, "p1").unwrap();
    let Some(Face::Patchwork(face)) = made.face else {
        panic!("a patchwork");
    };
    let turns: Vec<_> = face.units[0].parts.iter().map(|p| (p.kind, p.turn)).collect();
    let (square, half) = (UnitKind::Square, UnitKind::HalfSquareTriangle);
    assert_eq!(turns, [(square, 0), (half, 1), (half, 3), (square, 0)]);
    assert_eq!(parts::across(4), 2);
    assert_eq!(parts::across(9), 3);
    assert_eq!(parts::across(16), 4);
}
