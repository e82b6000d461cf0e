//! Lays that were kept: used only where they hold on the plan as it is, and
//! then what is bought is enough and no more than without them.

use super::plans::{plan as pockets, wish as all_three};
use crate::{cases, checker, plans};
use geo::{Area, BooleanOps, Coord, LineString, Polygon};
use notchbook::drafting::lay::Search;
use notchbook::figures::lay::{HeldLay, LayGround, LayTurns, LayWish, kept_lay, lay_grounds, lay_job, lay_pieces};
use notchbook::figures::{ClothFigures, Figures, LayState, Wanting, shop_list, work_out};
use notchbook::measure::{INCH, Length, MM, Percent, Unit};
use notchbook::plan::{
    Cloth, Edit, Face, LayPoint, OutlineEdge, Pattern, PatternOutline, Piece, Plan, Remnant, Source,
};
use proptest::prelude::*;

/// The lay a short search finds, where there is one, kept in the plan.
fn keep(plan: &Plan, at: usize, wish: &LayWish, steps: u64) -> Option<Plan> {
    let figures = work_out(plan);
    let job = lay_job(plan, &figures, &plan.cloths[at], wish).ok()?;
    let mut search = Search::new(&job.problem, 7).ok()?;
    search.step(steps);
    let layout = search.first()?.clone();
    let lay = job.to_keep(&layout, wish).expect("quarter turns on cloth");
    let kept = Edit::Lay(Box::new(lay))
        .apply(plan, plan)
        .expect("nobody else changes it");
    Some(notchbook::drafting::settled(&kept).plan.into_owned())
}

fn without(plan: &Plan) -> Plan {
    Plan {
        lays: Vec::new(),
        ..plan.clone()
    }
}

/// The cloth with what the lay takes of it gone.
fn left_of(cloth: &Cloth, f: &ClothFigures) -> Cloth {
    let mut left = cloth.clone();
    let Some(lay) = f.used_lay() else { return left };
    for laid in &lay.remnants {
        match laid.kind.checked_sub(cloth.remnants.len()) {
            None => left.remnants[laid.kind].count -= laid.count,
            Some(outlined) => left.outlined[outlined].count -= laid.count,
        }
    }
    left
}

/// Every cut has one place, in the lay or in the layout, and the lengths of both
/// are what is cut from and bought.
fn every_cut_has_its_place(plan: &Plan, figures: &Figures, cloth: &Cloth) -> Result<(), TestCaseError> {
    let f = figures
        .cloths
        .iter()
        .find(|f| f.cloth == cloth.id)
        .expect("its figures");
    let a = &plan.allowances;
    let mut lines = f.cuts.clone();
    for (at, line) in lines.iter_mut().enumerate() {
        prop_assert!((0..=line.count).contains(&f.laid(at)));
        line.count -= f.laid(at);
        line.patches -= f.laid(at);
    }
    let left = left_of(cloth, f);
    let fault = checker::layout_fault(&left, &lines, &f.layout, a.straightening);
    prop_assert!(fault.is_none(), "{fault:?}");
    let Some(lay) = f.used_lay() else { return Ok(()) };
    let held = kept_lay(plan, figures, cloth)
        .expect("kept")
        .expect("it is used, so it holds");
    // Of every piece as many copies lie in it as are cut; on doubled cloth two at once.
    let mut in_it = 0;
    for piece in lay_pieces(plan, figures, &cloth.id) {
        if !plan.lays[0].pieces.contains(&piece.piece) {
            continue;
        }
        let cut = figures
            .pieces
            .iter()
            .find(|p| p.piece == piece.piece)
            .expect("a piece")
            .count;
        in_it += cut;
    }
    prop_assert_eq!(in_it, (0..lines.len()).map(|n| f.laid(n)).sum::<i64>());
    super::checked::check(&held.job.problem, &held.layout);
    // Lengths: the strips' sheets and the lay behind them.
    let full: Vec<Length> = f
        .layout
        .sheets
        .iter()
        .filter(|s| s.remnant.is_none())
        .map(|s| s.length)
        .collect();
    let sheets: Length = full.iter().copied().sum();
    let beyond = f.length - sheets;
    prop_assert!(
        beyond == lay.length || beyond == lay.length + a.straightening,
        "{beyond:?} for {lay:?}"
    );
    if sheets == Length::ZERO && lay.length.is_positive() {
        prop_assert_eq!(beyond, lay.length + a.straightening);
    }
    // Never shorter than what lies on it, after the wash too.
    let there = f.to_buy.scale_down(10_000 - cloth.shrinkage.as_hundredths(), 10_000) + cloth.owned;
    prop_assert!(there >= f.length, "{there:?} is there, {:?} are cut from", f.length);
    Ok(())
}

fn grounds() -> impl Strategy<Value = (usize, LayTurns, Length, u64)> {
    let turns = prop_oneof![Just(LayTurns::BothWays), Just(LayTurns::OneWay), Just(LayTurns::Across)];
    (
        0..6usize,
        turns,
        prop_oneof![Just(Length::ZERO), Just(MM * 3)],
        1..1_500u64,
    )
}

proptest! {
    #![proptest_config(cases(40))]

    /// With a kept lay never more is bought than without, and every cut has its place.
    #[test]
    fn a_kept_lay_only_ever_saves((plan, (ground, turns, gap, steps), every) in (plans::sound(), grounds(), any::<bool>())) {
        let figures = work_out(&plan);
        for (at, cloth) in plan.cloths.iter().enumerate() {
            let all = lay_grounds(cloth);
            let mut pieces: Vec<String> = lay_pieces(&plan, &figures, &cloth.id).into_iter().map(|p| p.piece).collect();
            if !every {
                pieces.truncate(1);
            }
            let wish = LayWish { pieces, ground: all[ground % all.len()], turns, gap };
            let Some(kept) = keep(&plan, at, &wish, steps) else { continue };
            let with = work_out(&kept);
            let before = work_out(&without(&kept));
            for (now, before) in with.cloths.iter().zip(&before.cloths) {
                prop_assert!(now.to_buy <= before.to_buy, "{} with, {} without", now.to_buy, before.to_buy);
                prop_assert!(now.to_buy < before.to_buy || now.length <= before.length);
                // Who reads a list has no lay: nothing of it changes.
                prop_assert_eq!(now.to_buy_if_none_owned, before.to_buy_if_none_owned);
                prop_assert_eq!(&now.other_widths, &before.other_widths);
                prop_assert!(now.to_buy <= now.to_buy_bare());
            }
            let lay = with.cloths.iter().find(|f| f.cloth == cloth.id).and_then(|f| f.lay.as_ref());
            if let Some(lay) = lay {
                let one_way = cloth.one_way && turns != LayTurns::OneWay;
                let bound = plan.binding.as_ref().is_some_and(|b| b.from_remnants && b.cloth == cloth.id);
                prop_assert!(one_way || bound || lay.state != LayState::NoLongerHolds, "{}", lay.told);
            }
            every_cut_has_its_place(&kept, &with, cloth)?;
            // As JSON it is the same plan with the same figures.
            let read = Plan::from_json(&kept.to_json()).expect("it reads back");
            prop_assert_eq!(&read, &kept);
        }
    }
}

fn polygon(points: impl Iterator<Item = kurbo::Point>) -> Polygon<f64> {
    Polygon::new(
        LineString::new(points.map(|p| Coord { x: p.x, y: p.y }).collect()),
        Vec::new(),
    )
}

/// Square millimetres that are cut twice or lie beyond the selvages.
fn spoilt(held: &HeldLay, moved: usize, by: (f64, f64), width: f64) -> f64 {
    let lying: Vec<Polygon<f64>> = held
        .layout
        .placements
        .iter()
        .enumerate()
        .map(|(at, p)| {
            let outline = p.place(&held.job.problem.pieces[p.piece].outline);
            let (dx, dy) = if at == moved { by } else { (0.0, 0.0) };
            polygon(outline.into_iter().map(|p| kurbo::Point::new(p.x + dx, p.y + dy)))
        })
        .collect();
    let cloth = polygon(
        [(0.0, 0.0), (1e6, 0.0), (1e6, width), (0.0, width)]
            .into_iter()
            .map(kurbo::Point::from),
    );
    let twice: f64 = (0..lying.len())
        .filter(|at| *at != moved)
        .map(|at| lying[at].intersection(&lying[moved]).unsigned_area())
        .sum();
    twice + lying[moved].difference(&cloth).unsigned_area()
}

/// A piece moved by a millimetre, each way: the lay is used where an independent
/// library finds nothing cut twice, and never where it finds something.
#[test]
fn a_lay_with_a_piece_out_of_its_place_is_never_used() {
    let plan = pockets(Unit::Cm);
    let (mut refused, mut held_still) = (0, 0);
    for ground in [LayGround::Single, LayGround::Folded] {
        let kept = keep(&plan, 0, &all_three(ground, Length::ZERO), 3_000).expect("a lay");
        let figures = work_out(&kept);
        let held = kept_lay(&kept, &figures, &kept.cloths[0])
            .expect("kept")
            .expect("it holds");
        let width = kept.cloths[0].usable_width.as_mm_f64() / if ground == LayGround::Folded { 2.0 } else { 1.0 };
        for copy in 0..kept.lays[0].copies.len() {
            for (across, along) in [(1, 0), (-1, 0), (0, 1), (0, -1)] {
                let mut moved = kept.clone();
                let of = &mut moved.lays[0].copies[copy];
                of.at = LayPoint {
                    across: of.at.across + across * 10_000_000,
                    along: of.at.along + along * 10_000_000,
                };
                // The two are in one order: by piece and copy.
                let on_fold = held.job.problem.pieces[held.layout.placements[copy].piece].on_fold;
                let wrong = spoilt(&held, copy, (along as f64, across as f64), width) > 1.0 || (on_fold && across != 0);
                let after = work_out(&moved);
                let lay = after.cloths[0].lay.as_ref().expect("still kept");
                prop_wrong(lay.state == LayState::NoLongerHolds, wrong, &lay.told);
                if wrong {
                    refused += 1;
                    assert!(after.cloths[0].used_lay().is_none());
                    assert_eq!(after.cloths[0].to_buy, work_out(&without(&moved)).cloths[0].to_buy);
                    assert!(after.cloths[0].shown.cautions[0].contains("Lay the pieces again"));
                } else {
                    held_still += 1;
                }
            }
        }
    }
    assert!(refused > 8 && held_still > 0, "{refused} refused, {held_still} not");
}

fn prop_wrong(told: bool, wrong: bool, sentence: &str) {
    assert_eq!(told, wrong, "{sentence}");
}

/// What becomes of a kept lay when the plan goes on.
#[test]
fn a_changed_plan_is_asked_anew() {
    let plan = pockets(Unit::Inch);
    let kept = keep(&plan, 0, &all_three(LayGround::Folded, MM * 2), 3_000).expect("a lay");
    let state = |plan: &Plan| {
        let lay = work_out(plan).cloths.remove(0).lay.expect("kept");
        (lay.state, lay.told)
    };
    assert_ne!(state(&kept).0, LayState::NoLongerHolds);
    let told = |change: &dyn Fn(&mut Plan)| {
        let mut changed = kept.clone();
        change(&mut changed);
        let (state, told) = state(&changed);
        assert_eq!(state, LayState::NoLongerHolds, "{told}");
        told
    };
    assert!(told(&|p| p.pieces[0].height += INCH).contains("meet where they were laid"));
    assert!(told(&|p| p.pieces[1].cut_count = 6).contains("another number of times"));
    assert!(told(&|p| p.pieces[1].face = None).contains("no longer cut in one from this cloth"));
    assert!(
        told(&|p| {
            p.pieces.remove(0);
        })
        .contains("no longer in the plan")
    );
    assert!(told(&|p| p.cloths[0].usable_width = INCH * 23).contains("within the cloth"));
    assert!(told(&|p| p.lays[0].gap = INCH).contains("meet where they were laid"));
    // A pocket has a top and a bottom.
    let upside_down = |p: &mut Plan| {
        let pocket = p.lays[0].copies.iter_mut().find(|c| c.piece == "p3").expect("a pocket");
        pocket.quarters = 2;
    };
    assert!(told(&|p| (upside_down(p), p.lays[0].turns = LayTurns::OneWay).1).contains("lie the way it was laid"));
    assert!(told(&|p| (upside_down(p), p.cloths[0].one_way = true).1).contains("runs one way"));
    assert!(
        told(&|p| {
            p.lays[0].copies.pop();
        })
        .contains("another number of times")
    );
    assert!(
        told(&|p| {
            let twice = p.lays[0].copies[0].clone();
            p.lays[0].copies.push(twice);
        })
        .contains("another number of times")
    );
    assert!(told(&|p| p.lays[0].copies[1].piece = "p9".into()).contains("not to be laid"));
    // A piece that became smaller, other allowances, more of the cloth: it holds.
    let mut smaller = kept.clone();
    smaller.pieces[1].height -= INCH;
    smaller.cloths[0].owned = INCH * 200;
    smaller.cloths[0].shrinkage = Percent::whole(4);
    assert_ne!(state(&smaller).0, LayState::NoLongerHolds);
}

/// A pair on remnants: bought is nothing of it, and what is left of the remnants
/// is not used twice.
#[test]
fn a_lay_on_remnants_takes_them_whole() {
    let mut plan = pockets(Unit::Inch);
    let sized = |count| Remnant {
        width: INCH * 25,
        length: INCH * 26,
        count,
    };
    plan.cloths[0].remnants = vec![sized(2)];
    plan.cloths[0].price = Some(notchbook::plan::Price {
        amount: "36.00".parse().expect("money"),
        per: Default::default(),
    });
    let mut wish = all_three(LayGround::Remnants, Length::ZERO);
    wish.pieces = vec!["p2".into()];
    let kept = keep(&plan, 0, &wish, 3_000).expect("two fronts side by side");
    let figures = work_out(&kept);
    let f = &figures.cloths[0];
    let lay = f.used_lay().expect("used");
    assert_eq!(
        (lay.length, lay.remnants.len(), lay.remnants[0].count),
        (Length::ZERO, 1, 1)
    );
    every_cut_has_its_place(&kept, &figures, &kept.cloths[0]).expect("each cut once");
    let used = notchbook::figures::cloth_use(&kept, &figures, "c1").expect("used");
    assert_eq!(
        used.remnants.iter().map(|r| r.count).sum::<u32>(),
        2,
        "one for the lay, one for the back: {used:?}"
    );
    // One of them only: the rest is bought.
    let mut one = kept.clone();
    one.cloths[0].remnants = vec![sized(1)];
    let one = work_out(&one);
    assert!(one.cloths[0].used_lay().is_some());
    assert!(one.cloths[0].layout.sheets.iter().all(|s| s.remnant.is_none()));
    // Gone: it holds no longer.
    let mut none = kept.clone();
    none.cloths[0].remnants.clear();
    let lay = work_out(&none).cloths.remove(0).lay.expect("kept");
    assert_eq!(lay.state, LayState::NoLongerHolds);
    assert!(lay.told.contains("has no remnants"), "{}", lay.told);
}

/// Six right triangles of 40 by 30 in.
fn triangle() -> Piece {
    let edge = |name: &str, path: &str| OutlineEdge {
        name: name.into(),
        path: path.parse().expect("a path"),
        allowance: Length::ZERO,
        corner: Default::default(),
        kind: Default::default(),
    };
    Piece {
        id: "p1".into(),
        name: "Sail".into(),
        cut_count: 6,
        face: Some(Face::plain("c1")),
        pattern: Some(Pattern {
            from: Source::Drawn(PatternOutline {
                edges: vec![edge("top", "L 1016 0"), edge("slant", "L 0 762"), edge("side", "L 0 0")],
                ..PatternOutline::default()
            }),
            finish: vec![],
            changes: vec![],
        }),
        ..Piece::default()
    }
}

/// Slanted panels, which nest as outlines and not as rectangles: the lay is
/// shorter, is used, and one of another cloth leaves all as it is.
#[test]
fn where_outlines_nest_less_is_bought() {
    let mut plan = pockets(Unit::Inch);
    plan.pieces.truncate(1);
    plan.pieces[0] = triangle();
    let plan = notchbook::drafting::settled(&plan).plan.into_owned();
    let wish = LayWish {
        pieces: vec!["p1".into()],
        ground: LayGround::Single,
        turns: LayTurns::BothWays,
        gap: Length::ZERO,
    };
    let kept = keep(&plan, 0, &wish, 20_000).expect("a lay");
    let (with, before) = (work_out(&kept), work_out(&plan));
    let (f, b) = (&with.cloths[0], &before.cloths[0]);
    assert_eq!(f.lay.as_ref().map(|l| l.state), Some(LayState::Used), "{:?}", f.lay);
    // Two triangles of 40 by 30 in make 40 by 30: half of the rectangles.
    assert!(
        f.to_buy.units() * 3 < b.to_buy.units() * 2,
        "{} after {}",
        f.to_buy,
        b.to_buy
    );
    let told = f.shown.working.join("\n");
    assert!(told.contains("kept lay holds and is used"), "{told}");
    assert!(told.contains("of the lay = "), "{told}");
    assert!(f.layout.order.last().is_some_and(|o| o.contains("as the lay is drawn")));
    // The lay's own area is a floor under it.
    let area: f64 = kept.lays[0].copies.len() as f64 * 40.0 * 30.0 / 2.0;
    assert!(f.length.as_inches_f64() >= area / 42.0);
    // The shop list follows, for one plan and for two.
    let wanting = |title| Wanting {
        title,
        plan: &kept,
        figures: &with,
        cut: &[],
    };
    let one = shop_list(&[wanting("One")], &[], Unit::Inch);
    assert_eq!(one.cloths[0].to_buy, f.to_buy);
    let two = shop_list(&[wanting("One"), wanting("Two")], &[], Unit::Inch);
    assert!(two.cloths[0].to_buy <= f.to_buy * 2 && two.cloths[0].to_buy > f.to_buy);
    // So does the decision that kept it, and the one by which it is spoilt.
    let told = |before: &Figures, after: &Figures| {
        let changes = notchbook::figures::effect(before, after);
        changes
            .into_iter()
            .map(|c| format!("{}: {}", c.what, c.after))
            .collect::<Vec<_>>()
    };
    let kept_words = told(&before, &with);
    assert!(
        kept_words.contains(&"Lay on Oat linen: kept and used".to_string()),
        "{kept_words:?}"
    );
    assert!(kept_words[0].starts_with("Oat linen to buy: "), "{kept_words:?}");
    let mut spoilt = kept.clone();
    spoilt.pieces[0].cut_count += 1;
    let spoilt_words = told(&with, &work_out(&spoilt));
    assert!(
        spoilt_words.contains(&"Lay on Oat linen: kept, holds no longer".to_string()),
        "{spoilt_words:?}"
    );
    // In the other system the same length is bought, but for the shop's step.
    let mut cm = kept.clone();
    cm.unit = Unit::Cm;
    assert_eq!(work_out(&cm).cloths[0].length, f.length);
}
