//! Drafts that are sewn to edges of outlines: a hood is as long as the neck of
//! front and back, a strip as the sides it lies between. Lengths are sums of
//! fine chords made here.

use crate::cases;
use crate::drafted::{draft, piece};
use crate::drafts::{edge_length, hood};
use crate::shapes::{edge, outline, seam};
use notchbook::drafting::{as_sewn, parts_of, settled, sewn_to, shape_of, unequal_seams};
use notchbook::measure::{Length, MM, Percent, Unit};
use notchbook::plan::{
    AddToEdge, Along, Band, ChangeOf, CirclePiece, CornerCut, Draft, DraftKind, EdgeKind, GatheredRectangle, Lengthen,
    OutlineChange, PatternOutline, Piece, Plan, SewnEdge, ThreePanelHood, TwoPieceHood,
};
use proptest::prelude::*;

/// Front and back of a bodice to the middle: a neck edge `wide` and `deep`, with
/// the shoulder, the side, the hem and the middle.
fn bodice(wide: i64, deep: i64, middle: EdgeKind) -> PatternOutline {
    let (handle, at) = (wide * 6 / 10, deep * 4 / 10);
    let allowance = if middle == EdgeKind::Fold { 0 } else { 10 };
    outline(vec![
        seam("neck", &format!("C {handle},{deep} {wide},{at} {wide},0"), 10),
        seam("shoulder", &format!("L {},40", wide + 120), 10),
        seam("side", &format!("L {},600", wide + 150), 10),
        seam("hem", "L 0,600", 30),
        edge("middle", &format!("L 0,{deep}"), allowance, CornerCut::Mitre, middle),
    ])
}

fn drawn(id: &str, cut_count: u32, outline: PatternOutline) -> Piece {
    let mut new = piece(id, "", cut_count);
    new.mirrored = cut_count == 2;
    new.pattern.as_mut().unwrap().from = notchbook::plan::Source::Drawn(outline);
    new
}

fn neck(id: &str) -> SewnEdge {
    SewnEdge {
        piece: id.into(),
        edge: "neck".into(),
        times: None,
    }
}

/// A pair of fronts and a back on the fold, and a draft sewn to both necks.
fn garment(front: (i64, i64), back: (i64, i64), kind: DraftKind) -> Plan {
    let mut kind = kind;
    *kind.sewn().expect("is sewn to edges").edges = vec![neck("front"), neck("back")];
    let mut plan = Plan {
        drafts: vec![draft(kind)],
        pieces: vec![
            drawn("front", 2, bodice(front.0, front.1, EdgeKind::Seam)),
            drawn("back", 1, bodice(back.0, back.1, EdgeKind::Fold)),
        ],
        ..Plan::new(Unit::Cm)
    };
    let parts = parts_of(&plan, &plan.drafts[0]).unwrap_or_default();
    plan.pieces
        .extend(parts.iter().map(|p| piece(&format!("p-{}", p.key), p.key, p.cut_count)));
    plan
}

fn length_of(plan: &Plan, id: &str, name: &str) -> f64 {
    let shape = shape_of(plan, plan.piece(id).expect(id)).expect("sound");
    edge_length(&shape.to_outline(), name)
}

/// Of the garment, both fronts and both halves of the back.
fn whole_neck(plan: &Plan) -> f64 {
    2.0 * (length_of(plan, "front", "neck") + length_of(plan, "back", "neck"))
}

fn necks() -> impl Strategy<Value = ((i64, i64), (i64, i64))> {
    ((60i64..120, 50i64..140), (60i64..120, 10i64..60))
}

proptest! {
    #![proptest_config(cases(60))]

    /// Both sides and the strip together are the neckline within 0.1 mm a side,
    /// whatever the drop; after a change of the front too.
    #[test]
    fn a_hood_is_as_long_as_the_necks_it_is_sewn_to(
        necks in necks(), hood in hood(), shorter in 0i64..30, by in -10i64..25,
    ) {
        let shorter = MM * shorter;
        let hood = ThreePanelHood { strip: MM * 40, drop: MM * 20, face_curve: Length::ZERO, shorter_by: shorter, ..hood };
        let mut plan = garment(necks.0, necks.1, DraftKind::ThreePanelHood(hood));
        for _ in 0..2 {
            if let Err(problems) = parts_of(&plan, &plan.drafts[0]) {
                // A hood too low or shallow for this neckline: said, not guessed.
                prop_assert!(problems.iter().all(|p| p.sentence.ends_with('.')));
                break;
            }
            let mut with = plan.clone();
            with.pieces.truncate(2);
            with.pieces.push(piece("p-side", "side", 2));
            with.pieces.push(piece("p-strip", "strip", 1));
            let sewn = 2.0 * length_of(&with, "p-side", "neck") + length_of(&with, "p-strip", "neck");
            let wanted = whole_neck(&with) - 2.0 * shorter.as_mm_f64();
            prop_assert!((sewn - wanted).abs() < 0.2, "{sewn} {wanted}");
            let told = sewn_to(&with, &with.drafts[0]).unwrap().expect("edges are chosen");
            prop_assert!((told.length.as_mm_f64() * 2.0 - wanted).abs() < 0.02);
            prop_assert_eq!(told.edges.iter().map(|e| e.times).collect::<Vec<_>>(), vec![2, 2]);
            // The front's neck is cut wider.
            let pattern = plan.pieces[0].pattern.as_mut().unwrap();
            pattern.changes.push(OutlineChange {
                change: ChangeOf::AddToEdge(AddToEdge { edge: "neck".into(), by: MM * by }),
                reason: "lower in front".into(),
            });
            if shape_of(&plan, &plan.pieces[0]).is_err() {
                break;
            }
        }
    }

    /// Bands, circles and ruffles go round all of it, and hoods of two halves
    /// take one half each.
    #[test]
    fn what_is_sewn_on_takes_the_whole_edge_or_half(necks in necks(), times in prop::option::of(1u32..4)) {
        let kinds = [
            DraftKind::Band(Band { length: MM, width: MM * 30, count: 1, ..Band::default() }),
            DraftKind::CirclePiece(CirclePiece { edge: MM, length: MM * 80, panels: 2, ..CirclePiece::default() }),
            DraftKind::GatheredRectangle(GatheredRectangle {
                edge: MM, fullness: Percent::whole(200), depth: MM * 80, panels: 1, ..GatheredRectangle::default()
            }),
            DraftKind::TwoPieceHood(TwoPieceHood {
                half_neckline: MM, height: MM * 360, drop: MM * 10, ..TwoPieceHood::default()
            }),
        ];
        let seams = [("band", "long edge", 1.0), ("panel", "inner edge", 0.5), ("panel", "gathered edge", 2.0), ("half", "neck", 0.5)];
        for (kind, (part, seam, share)) in kinds.into_iter().zip(seams) {
            let mut plan = garment(necks.0, necks.1, kind);
            plan.drafts[0].kind.sewn().unwrap().edges[0].times = times;
            let front = f64::from(times.unwrap_or(2)) * length_of(&plan, "front", "neck");
            let wanted = front + 2.0 * length_of(&plan, "back", "neck");
            let made = edge_length(&parts_of(&plan, &plan.drafts[0]).expect("sound").iter().find(|p| p.key == part).unwrap().outline, seam);
            // A gathered edge is rounded up once, doubled.
            prop_assert!((made - wanted * share).abs() < 0.1, "{part} {made} {wanted}");
            // The number that stands in the file is that of the edges.
            let kept = as_sewn(&plan, &plan.drafts[0]).unwrap();
            let again = Plan { drafts: vec![kept.clone()], ..plan.clone() };
            prop_assert_eq!(as_sewn(&again, &kept).unwrap(), kept);
        }
    }

    /// The strip follows its sides through all changes of their outline.
    #[test]
    fn a_strip_is_as_long_as_the_changed_sides(hood in hood(), by in -15i64..40) {
        let hood = ThreePanelHood { face_curve: Length::ZERO, ..hood };
        let mut plan = crate::drafted::plan(DraftKind::ThreePanelHood(hood));
        prop_assume!(plan.pieces.len() == 2);
        let before = length_of(&plan, "p-strip", "right seam");
        plan.pieces[0].pattern.as_mut().unwrap().changes.push(OutlineChange {
            change: ChangeOf::Lengthen(Lengthen { along: Along::Width, at: MM * 20, by: MM * by }),
            reason: "deeper".into(),
        });
        prop_assume!(shape_of(&plan, &plan.pieces[0]).is_ok());
        let seam = length_of(&plan, "p-side", "centre seam");
        for name in ["right seam", "left seam"] {
            prop_assert!((length_of(&plan, "p-strip", name) - seam).abs() < 0.02);
        }
        prop_assert!(by <= 0 || seam > before, "{seam} {before}");
        // Its own lengthening is hers, and said.
        plan.pieces[1].pattern.as_mut().unwrap().changes.push(OutlineChange {
            change: ChangeOf::Lengthen(Lengthen { along: Along::Height, at: MM * 20, by: MM * 12 }),
            reason: String::new(),
        });
        let said = unequal_seams(&plan, &plan.drafts[0]);
        prop_assert_eq!(said.iter().filter(|s| s.starts_with("The strip's") && s.contains("1.2 cm (1/2 in) too long")).count(), 2, "{:?}", said);
    }
}

fn hooded() -> Plan {
    garment(
        (80, 90),
        (80, 25),
        DraftKind::TwoPieceHood(TwoPieceHood {
            height: MM * 360,
            drop: MM * 20,
            ..TwoPieceHood::default()
        }),
    )
}

#[test]
fn an_edge_that_is_gone_is_told_and_never_guessed() {
    let plan = hooded();
    assert!(settled(&plan).problems.is_empty());
    let mut gone = plan.clone();
    gone.pieces.remove(0);
    let told = settled(&gone);
    assert_eq!(told.unsettled_pieces, ["p-half"]);
    assert!(
        told.problems
            .iter()
            .any(|p| p.field == "drafts/d1/sewn_to" && p.sentence.contains("not in the plan"))
    );

    let mut renamed = plan.clone();
    renamed.drafts[0].kind.sewn().unwrap().edges[0].edge = "collar".into();
    assert!(settled(&renamed).problems[0].sentence.contains("no edge “collar”"));

    let mut none = plan.clone();
    none.drafts[0].kind.sewn().unwrap().edges[0].times = Some(0);
    assert!(settled(&none).problems[0].sentence.contains("counts 0 times"));

    let mut shorter = plan.clone();
    *shorter.drafts[0].kind.sewn().unwrap().shorter_by = MM * 900;
    assert!(settled(&shorter).problems[0].sentence.contains("leaves nothing"));
}

#[test]
fn a_hood_sewn_to_itself_is_told() {
    let mut plan = hooded();
    plan.drafts[0].kind.sewn().unwrap().edges.push(neck("p-half"));
    let told = settled(&plan);
    assert!(
        told.problems.iter().any(|p| p.sentence.contains("follows it")),
        "{:?}",
        told.problems
    );
    assert_eq!(told.unsettled_pieces, ["p-half"]);
}

/// A hood that was changed at its own neck no longer fits the garment's.
#[test]
fn a_neck_edge_changed_by_hand_is_compared_with_the_neckline() {
    let mut plan = hooded();
    assert_eq!(unequal_seams(&plan, &plan.drafts[0]), Vec::<String>::new());
    let hood = plan.pieces.iter_mut().find(|p| p.id == "p-half").unwrap();
    hood.pattern.as_mut().unwrap().changes.push(OutlineChange {
        change: ChangeOf::Lengthen(Lengthen {
            along: Along::Width,
            at: MM * 30,
            by: MM * 10,
        }),
        reason: "wider".into(),
    });
    let said = unequal_seams(&plan, &plan.drafts[0]);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("too long"), "{said:?}");
}

/// Plans of earlier versions have none of this.
#[test]
fn a_draft_without_edges_is_read_and_written_as_before() {
    let text = r#"{"id":"d1","name":"Hood","seam":"1 cm","kind":{"two-piece-hood":{"half_neckline":"21 cm","drop":"3 cm","height":"33 cm","face_hem":"0 cm"}}}"#;
    let draft: Draft = serde_json::from_str(text).expect("as before");
    let written = serde_json::to_string(&draft).unwrap();
    assert!(
        !written.contains("sewn_to") && !written.contains("shorter_by"),
        "{written}"
    );
}
