//! Small plans for the tables, in inches.

use notchbook::figures::{ClothFigures, Figures, work_out};
use notchbook::measure::{EIGHTH, INCH, Length, Percent};
use notchbook::plan::{
    self, Allowances, Arrangement, Binding, BindingCut, Cloth, ClothKind, Edge, Face, Fold, Layers, Piece, Plan,
    UnitKind,
};

/// Eighths of an inch: `eighths(37)` is 4 5/8 in.
pub fn eighths(n: i64) -> Length {
    EIGHTH * n
}

/// Inches that are whole eighths: `inches(4.625)`.
pub fn inches(n: f64) -> Length {
    let eighths = n * 8.0;
    assert_eq!(eighths.fract(), 0.0, "{n} is not in eighths");
    EIGHTH * eighths as i64
}

pub fn cloth(id: &str, width: Length) -> Cloth {
    Cloth {
        id: id.into(),
        name: format!("Cloth {id}"),
        kind: ClothKind::Cloth,
        fibre: String::new(),
        usable_width: width,
        owned: Length::ZERO,
        remnants: Vec::new(),
        price: None,
        colour: "#c8b89a".into(),
        link: String::new(),
        one_way: false,
        shrinkage: Percent::ZERO,
        stock: None,
        ..Default::default()
    }
}

pub fn piece(width: Length, height: Length, face: Face) -> Piece {
    Piece {
        id: "p1".into(),
        name: "Panel".into(),
        cut_count: 1,
        mirrored: false,
        on_fold: false,
        width,
        height,
        alterations: Vec::new(),
        face: Some(face),
        layers: None,
        margin: Length::ZERO,
        take_up: Percent::ZERO,
        ..Default::default()
    }
}

/// A plan without any straightening, in inches.
pub fn bare() -> Plan {
    Plan {
        allowances: Allowances {
            straightening: Length::ZERO,
            ..Allowances::default()
        },
        ..Plan::default()
    }
}

/// `count` squares cut at `side` from cloth `width` wide, seams of 1/8 in.
pub fn squares(count: i64, side: Length, cloth: Cloth) -> Plan {
    let mut plan = bare();
    plan.allowances.seam = EIGHTH;
    let finished = side - EIGHTH * 2;
    let face = Face::Patchwork(plan::Patchwork {
        finished,
        arrangement: Arrangement::AllAlike,
        units: vec![plan::Unit::new(UnitKind::Square, vec![cloth.id.clone()])],
        ..Default::default()
    });
    plan.pieces = vec![piece(finished, finished * count, face)];
    plan.cloths = vec![cloth];
    plan
}

pub fn figures(plan: &Plan) -> Figures {
    let figures = work_out(plan);
    assert!(figures.problems.is_empty(), "{:?}", figures.problems);
    figures
}

pub fn only_cloth(plan: &Plan) -> ClothFigures {
    figures(plan).cloths.remove(0)
}

/// The length `count` squares of `side` take.
pub fn length_of_squares(count: i64, side: Length, width: Length) -> Length {
    only_cloth(&squares(count, side, cloth("c1", width))).length
}

/// A top of this size with a backing from cloth `width` wide.
pub fn backed(top: (Length, Length), width: Length, one_way: bool) -> Plan {
    let mut plan = bare();
    let face = Face::plain("top");
    plan.pieces = vec![Piece {
        layers: Some(Layers {
            batting: None,
            backing: Some("back".into()),
            ..Default::default()
        }),
        ..piece(top.0, top.1, face)
    }];
    let back = Cloth {
        one_way,
        ..cloth("back", width)
    };
    plan.cloths = vec![back, cloth("top", INCH * 200)];
    plan
}

/// One closed run with mitred corners, bound.
pub fn bound(edge: Length, corners: u32, width: Length, finished: Length, fold: Fold, cut: BindingCut) -> Plan {
    let mut plan = bare();
    plan.edges = vec![Edge {
        id: "e1".into(),
        name: "Outside".into(),
        length: edge,
        count: 1,
        corners,
        closed: true,
        from: None,
    }];
    plan.cloths = vec![cloth("c1", width)];
    plan.binding = Some(Binding {
        cloth: "c1".into(),
        fold,
        cut,
        finished_width: finished,
        thickness: Length::ZERO,
        from_remnants: false,
    });
    plan
}
