use super::panel_drawing;
use crate::figures::{PanelFigures, work_out};
use crate::measure::{INCH, Length, Unit as System};
use crate::plan::{
    Arrangement, Border, Cloth, Face, OnPoint, Part, Patchwork, Piece, Plan, Sashing, Unit, UnitKind, limits,
};

fn plan() -> Plan {
    let mut plan = Plan::new(System::Inch);
    for (id, colour) in [("c1", "#102030"), ("c2", "#e0d8c8"), ("c3", "#a04030")] {
        plan.cloths.push(Cloth {
            id: id.into(),
            name: format!("cloth {id}"),
            usable_width: INCH * 54,
            colour: colour.into(),
            ..Cloth::default()
        });
    }
    plan
}

fn unit(kind: UnitKind) -> Unit {
    let cloths = (0..kind.positions().0).map(|i| ["c1", "c2", "c3"][i % 3].to_string());
    let mut unit = Unit::new(kind, cloths.collect());
    if kind == UnitKind::Composed {
        unit.parts = (0..9)
            .map(|i| Part {
                kind: UnitKind::HalfSquareTriangle,
                cloths: vec!["c1".into(), "c2".into()],
                turn: i % 4,
            })
            .collect();
    }
    unit
}

/// The plan with a piece of that face, and its panel.
fn made(face: Patchwork, side: i64) -> (Plan, Face, PanelFigures) {
    let mut plan = plan();
    let face = Face::Patchwork(face);
    plan.pieces.push(Piece {
        id: "p1".into(),
        name: "Front".into(),
        cut_count: 1,
        width: INCH * side,
        height: INCH * side,
        face: Some(face.clone()),
        ..Piece::default()
    });
    let figures = work_out(&plan);
    assert_eq!(figures.problems, []);
    let panel = figures.pieces[0].panel.clone().expect("a panel");
    (plan, face, panel)
}

fn drawn(face: Patchwork, side: i64) -> String {
    let (plan, face, panel) = made(face, side);
    panel_drawing(&plan, &face, &panel, "t").into_string()
}

#[test]
fn a_panel_of_one_kind_costs_one_repeat_however_large() {
    for kind in UnitKind::ALL {
        let face = || Patchwork {
            finished: INCH * 2,
            units: vec![unit(kind)],
            ..Patchwork::default()
        };
        let (small, large) = (drawn(face(), 8), drawn(face(), 200));
        assert!(large.len() < 40_000, "{kind:?}: {}", large.len());
        // In letters where there is room; else, or besides, in its legend.
        for text in [&small, &large] {
            assert!(text.contains("cloth c1") && text.contains(">A<"), "{kind:?}");
            assert_eq!(text.matches("<pattern").count(), 1, "{kind:?}");
        }
    }
}

#[test]
fn every_cloth_of_a_setting_is_in_the_drawing_and_told() {
    let face = Patchwork {
        finished: INCH * 4,
        arrangement: Arrangement::Alternating,
        units: vec![unit(UnitKind::Square), unit(UnitKind::Square)],
        on_point: Some(OnPoint {
            side: "c2".into(),
            corner: "c2".into(),
        }),
        borders: vec![Border {
            width: INCH,
            cloth: "c3".into(),
            corners: None,
        }],
        ..Patchwork::default()
    };
    let text = drawn(face, 30);
    for part in [
        "#e0d8c8",
        "#a04030",
        "side triangles",
        "corner triangles",
        "border",
        "rotate(45)",
    ] {
        assert!(text.contains(part), "{part}");
    }
    let sashed = |on_point: Option<OnPoint>| Patchwork {
        finished: INCH * 4,
        units: vec![unit(UnitKind::Square)],
        sashing: Some(Sashing {
            width: INCH,
            cloth: "c2".into(),
            posts: Some("c3".into()),
            around: true,
        }),
        on_point,
        ..Patchwork::default()
    };
    let on_point = OnPoint {
        side: "c1".into(),
        corner: "c1".into(),
    };
    for face in [sashed(None), sashed(Some(on_point))] {
        let text = drawn(face, 30);
        for part in ["#e0d8c8", "#a04030", "sashing", "posts"] {
            assert!(text.contains(part), "{part}");
        }
    }
}

#[test]
fn what_is_painted_is_drawn_where_it_stands_up_to_a_limit() {
    let painted = |rows: usize, row: &str| Patchwork {
        finished: INCH * 2,
        arrangement: Arrangement::Painted,
        units: vec![unit(UnitKind::Square), unit(UnitKind::HalfSquareTriangle)],
        painted: vec![row.to_string(); rows],
        ..Patchwork::default()
    };
    // Four by four: one position beyond the panel is not drawn.
    let text = drawn(painted(1, "a b1 a b3 b"), 8);
    assert_eq!(text.matches("<use").count(), 2);
    assert!(text.contains("<use href=\"#u11-t\" x=\"240\" y=\"0\">"), "{text}");
    assert!(text.contains("<use href=\"#u13-t\" x=\"720\" y=\"0\">"), "{text}");
    assert!(!text.contains("are drawn; all are counted"));
    let text = drawn(painted(100, &"b ".repeat(100)), 200);
    assert_eq!(text.matches("<use").count(), super::DRAWN);
    assert!(text.contains("are drawn; all are counted"));
}

#[test]
fn absurd_values_are_drawn_without_harm() {
    let (plan, _, panel) = made(
        Patchwork {
            finished: INCH,
            units: vec![unit(UnitKind::Square)],
            ..Patchwork::default()
        },
        8,
    );
    let huge = Length::from_units(i64::MAX);
    for kind in UnitKind::ALL {
        for finished in [huge, Length::from_units(1), Length::ZERO, Length::from_units(-5)] {
            let face = Patchwork {
                finished,
                finished_height: Some(huge),
                arrangement: Arrangement::Painted,
                units: vec![Unit::new(kind, vec!["gone".into(); 30]); 30],
                painted: vec!["z9 b b3 a".into()],
                on_point: None,
                sashing: Some(Sashing {
                    width: huge,
                    cloth: String::new(),
                    posts: None,
                    around: true,
                }),
                borders: vec![Border::default(); limits::BORDERS + 3],
            };
            for (columns, rows) in [(i64::MAX, i64::MAX), (0, 0), (-3, 7)] {
                let panel = PanelFigures {
                    columns,
                    rows,
                    ..panel.clone()
                };
                let on_point = Patchwork {
                    on_point: Some(OnPoint::default()),
                    ..face.clone()
                };
                for face in [face.clone(), on_point] {
                    let text = panel_drawing(&plan, &Face::Patchwork(face), &panel, "t").into_string();
                    assert!(text.len() < 400_000, "{}", text.len());
                }
            }
        }
    }
}
