//! Pieces of a plan laid on its cloth: what is to be bought is never less than
//! the layout takes, both unit systems agree, and what is drawn is what is cut.

use super::checked;
use notchbook::drafting::lay::{Cloth as Ground, Search};
use notchbook::figures::lay::{LayFigures, LayGround, LayTurns, LayWish, lay_job, lay_pieces};
use notchbook::figures::{Figures, work_out};
use notchbook::measure::{CM, INCH, Length, MM, Unit};
use notchbook::plan::{
    Cloth, Corner, Draft, DraftKind, DraftPart, Face, Outline, Outlined, PatchPocket, Pattern, Piece, Plan, Remnant,
    Source,
};

/// A rectangle on the fold, a pair, and two drafted pockets, cut from one cloth.
pub fn plan(unit: Unit) -> Plan {
    let piece = |id: &str, name: &str, count: u32, width: Length, height: Length| Piece {
        id: id.into(),
        name: name.into(),
        cut_count: count,
        width,
        height,
        face: Some(Face::plain("c1")),
        ..Piece::default()
    };
    let pocket = Pattern {
        from: Source::Draft(DraftPart {
            draft: "d1".into(),
            part: "pocket".into(),
        }),
        finish: vec![],
        changes: vec![],
    };
    let mut plan = Plan::new(unit);
    plan.cloths = vec![Cloth {
        id: "c1".into(),
        name: "Oat linen".into(),
        usable_width: INCH * 42,
        ..Cloth::default()
    }];
    plan.drafts = vec![Draft {
        id: "d1".into(),
        name: "Pocket".into(),
        seam: MM * 10,
        kind: DraftKind::PatchPocket(PatchPocket {
            width: CM * 14,
            height: CM * 16,
            hem: MM * 25,
            corners: CM * 5,
            faced: false,
        }),
    }];
    plan.pieces = vec![
        Piece {
            on_fold: true,
            ..piece("p1", "Back", 1, INCH * 11, INCH * 25)
        },
        Piece {
            mirrored: true,
            ..piece("p2", "Front", 2, INCH * 12, INCH * 25)
        },
        Piece {
            pattern: Some(pocket),
            ..piece("p3", "Pocket", 2, Length::ZERO, Length::ZERO)
        },
    ];
    let part = notchbook::drafting::parts_of(&plan, &plan.drafts[0]).expect("a pocket")[0].key;
    if let Some(Pattern {
        from: Source::Draft(of),
        ..
    }) = &mut plan.pieces[2].pattern
    {
        of.part = part.into();
    }
    notchbook::drafting::settled(&plan).plan.into_owned()
}

pub fn wish(ground: LayGround, gap: Length) -> LayWish {
    LayWish {
        pieces: ["p1", "p2", "p3"].map(String::from).to_vec(),
        ground,
        turns: LayTurns::BothWays,
        gap,
    }
}

/// What a short search comes to; checked before it is handed on.
fn laid(plan: &Plan, figures: &Figures, wish: &LayWish) -> (LayFigures, f64) {
    let job = lay_job(plan, figures, &plan.cloths[0], wish).expect("a job");
    let mut search = Search::new(&job.problem, 1).expect("a problem");
    search.first();
    let layout = search.best().expect("a layout");
    checked::check(&job.problem, layout);
    (job.answer(layout), layout.length)
}

fn area(outline: &[kurbo::Point]) -> f64 {
    let n = outline.len();
    (0..n)
        .map(|at| outline[at].to_vec2().cross(outline[(at + 1) % n].to_vec2()))
        .sum::<f64>()
        .abs()
        / 2.0
}

#[test]
fn what_is_bought_is_never_less_than_the_layout_takes() {
    let plan = plan(Unit::Inch);
    let figures = work_out(&plan);
    assert!(figures.problems.is_empty(), "{:?}", figures.problems);
    let a = &plan.allowances;
    for ground in [LayGround::Single, LayGround::Folded] {
        for gap in [Length::ZERO, MM * 3, INCH] {
            let (answer, length) = laid(&plan, &figures, &wish(ground, gap));
            // But for touches of millionths of a millimetre.
            assert!(answer.length.as_mm_f64() >= length - 1e-4);
            assert_eq!(answer.needed, answer.length + a.straightening);
            assert!(answer.to_buy >= answer.needed);
            assert_eq!(answer.to_buy.units() % a.shop_step.units(), 0);
            assert!(answer.to_buy - answer.needed < a.shop_step, "no step too many");
            assert!(!answer.at_hand, "nothing is at hand");
        }
    }
}

#[test]
fn both_unit_systems_lay_alike_and_shrinkage_only_adds() {
    let (inch, mut cm) = (plan(Unit::Inch), plan(Unit::Cm));
    let of = |plan: &Plan| laid(plan, &work_out(plan), &wish(LayGround::Single, MM * 3)).0;
    let (in_inches, in_cm) = (of(&inch), of(&cm));
    assert_eq!(in_inches.length, in_cm.length);
    assert_eq!(in_inches.needed, in_cm.needed);
    cm.cloths[0].shrinkage = notchbook::measure::Percent::whole(5);
    assert!(of(&cm).to_buy >= in_cm.to_buy);
    assert_eq!(of(&cm).length, in_cm.length);
}

/// On single cloth a piece on the fold is laid whole, folded as its half; of
/// everything else as much is drawn as is cut.
#[test]
fn what_is_drawn_is_what_is_cut() {
    let plan = plan(Unit::Cm);
    let figures = work_out(&plan);
    let single = laid(&plan, &figures, &wish(LayGround::Single, Length::ZERO)).0;
    let folded = laid(&plan, &figures, &wish(LayGround::Folded, Length::ZERO)).0;
    let drawn = |answer: &LayFigures, letter: &str| -> Vec<f64> {
        let pieces = answer.sheets.iter().flat_map(|s| &s.pieces);
        pieces
            .filter(|p| p.letter == letter)
            .map(|p| area(&p.outline))
            .collect()
    };
    let square = |w: Length, h: Length| w.as_mm_f64() * h.as_mm_f64();
    let near = |found: &[f64], wanted: f64, count: usize| {
        assert_eq!(found.len(), count);
        assert!(
            found.iter().all(|f| (f / wanted - 1.0).abs() < 1e-3),
            "{found:?} for {wanted}"
        );
    };
    near(&drawn(&single, "A"), square(INCH * 22, INCH * 25), 1);
    near(&drawn(&folded, "A"), square(INCH * 11, INCH * 25), 1);
    near(&drawn(&single, "B"), square(INCH * 12, INCH * 25), 2);
    near(&drawn(&folded, "B"), square(INCH * 12, INCH * 25), 1);
    let shape = notchbook::drafting::shape_of(&plan, &plan.pieces[2]).expect("a pocket");
    near(&drawn(&single, "C"), area(&shape.cut_polygon()), 2);
    assert!(lay_pieces(&plan, &figures, "c1")[2].outlined);
    // On the fold: the left edge of the drawing is the fold.
    let back = folded.sheets[0]
        .pieces
        .iter()
        .find(|p| p.letter == "A")
        .expect("the back");
    assert!(back.on_fold && back.outline.iter().filter(|p| p.x.abs() < 1e-6).count() == 2);
    for piece in &single.sheets[0].pieces {
        assert!(
            (piece.grain[0].x - piece.grain[1].x).abs() < 1e-6,
            "the grain runs along the cloth"
        );
    }
}

#[test]
fn quilted_pieces_are_laid_as_their_panels() {
    let mut plan = plan(Unit::Inch);
    plan.pieces[2].margin = INCH;
    let figures = work_out(&plan);
    let pocket = &lay_pieces(&plan, &figures, "c1")[2];
    assert!(!pocket.outlined && pocket.quilted);
    let panel = figures.pieces[2].panel.as_ref().expect("a panel").before;
    let job = lay_job(&plan, &figures, &plan.cloths[0], &wish(LayGround::Single, Length::ZERO)).expect("a job");
    let laid = area(&job.problem.pieces[2].outline);
    assert!((laid - panel.width.as_mm_f64() * panel.height.as_mm_f64()).abs() < 1e-6);
}

#[test]
fn remnants_of_every_kind_lie_with_their_grain() {
    let mut plan = plan(Unit::Inch);
    let corner = |across: i64, along: i64| Corner {
        across: INCH * across,
        along: INCH * along,
    };
    plan.cloths[0].remnants = vec![Remnant {
        width: INCH * 5,
        length: INCH * 30,
        count: 2,
    }];
    plan.cloths[0].outlined = vec![Outlined {
        outline: Outline::Corners(vec![corner(0, 0), corner(40, 0), corner(0, 9)]),
        count: 1,
    }];
    let figures = work_out(&plan);
    let job = lay_job(
        &plan,
        &figures,
        &plan.cloths[0],
        &wish(LayGround::Remnants, Length::ZERO),
    )
    .expect("a job");
    let Ground::Remnants(outlines) = &job.problem.cloth else {
        panic!("remnants")
    };
    assert_eq!(outlines.len(), 3);
    // Along the grain is x: 30 in of the rectangles, 9 in of the triangle.
    let along = |n: usize| outlines[n].iter().map(|p| p.x).fold(0.0, f64::max);
    assert_eq!(
        [along(0), along(1), along(2)].map(|x| (x / 25.4).round()),
        [30.0, 30.0, 9.0]
    );
    // The front is wider than any of them: proven, and told with its measure.
    let mut search = Search::new(&job.problem, 1).expect("a problem");
    search.step(20_000);
    let told = job.why_not(search.proof().expect("a proof"));
    assert!(
        told.contains("has no place") || told.contains("however it lies"),
        "{told}"
    );
    // A remnant that is gone is refused in a sentence.
    let gone = lay_job(
        &plan,
        &figures,
        &plan.cloths[0],
        &wish(LayGround::Remnant(9), Length::ZERO),
    );
    assert_eq!(gone.expect_err("refused").field, "ground");
}
