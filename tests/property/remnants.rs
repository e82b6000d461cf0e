//! A binding from remnants: never promised longer than it is, never less from more.

use crate::{cases, outlines, plans};
use notchbook::figures::binding::{Given, from_rectangles};
use notchbook::figures::{FromRemnants, Size, work_out};
use notchbook::measure::{INCH, Length};
use notchbook::plan::{BindingCut, Plan};
use proptest::collection::vec;
use proptest::prelude::*;

fn given() -> impl Strategy<Value = Given> {
    (plans::inches(1, 50), plans::inches(1, 50), 1..5i64).prop_map(|(width, height, count)| Given {
        size: Size { width, height },
        count,
    })
}

fn area(given: &Given) -> f64 {
    given.size.width.units() as f64 * given.size.height.units() as f64
}

/// Every strip again from its corners: as long and as wide as it is counted.
fn strips_are_there(answer: &FromRemnants) -> Result<(), TestCaseError> {
    let strip = answer.strip_width.as_inches_f64();
    for one in answer.ways.iter().flat_map(|w| &w.each) {
        for piece in &one.drawn {
            let at = |n: usize| (piece.corners[n].x.as_inches_f64(), piece.corners[n].y.as_inches_f64());
            let ((ax, ay), (bx, by)) = (at(0), at(1));
            let edge = ((bx - ax).powi(2) + (by - ay).powi(2)).sqrt();
            prop_assert!(
                edge >= piece.length.as_inches_f64() - 0.001,
                "{edge} of {:?}",
                piece.length
            );
            // The widest spread of x - y is the strip's width, square to it.
            let across = piece.corners.iter().map(|p| (p.x - p.y).as_inches_f64());
            let (least, most) = across.fold((f64::MAX, f64::MIN), |(a, b), t| (a.min(t), b.max(t)));
            prop_assert!((most - least) / 2f64.sqrt() >= strip - 0.001);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn what_is_promised_is_there(plan in plans::sound(), list in vec(given(), 0..4)) {
        let Some(answer) = from_rectangles(&plan, &list) else { return Ok(()) };
        strips_are_there(&answer)?;
        for way in &answer.ways {
            prop_assert_eq!(way.enough, way.made >= answer.total);
            prop_assert!(way.missing.is_positive() != way.enough || answer.total == way.made);
            let of_used: f64 = way.used.iter().map(|u| area(&list[u.remnant]) * u.times as f64).sum();
            let taken = way.made.units() as f64 * answer.strip_width.units() as f64;
            prop_assert!(taken <= of_used, "{taken} of {of_used}");
            for (used, n) in way.used.iter().map(|u| (u, list[u.remnant].count)) {
                prop_assert!((1..=n).contains(&used.times));
            }
            // All of them sewn together, joins between them too.
            let alone: Length = way.used.iter().map(|u| way.each[u.remnant].made * u.times).sum();
            let count: i64 = way.used.iter().map(|u| u.times).sum();
            prop_assert!(way.made <= alone);
            prop_assert!(count <= 1 || way.made < alone, "a join takes nothing");
        }
    }

    #[test]
    fn one_more_remnant_never_gives_less(plan in plans::sound(), list in vec(given(), 0..4), more in given()) {
        let Some(few) = from_rectangles(&plan, &list) else { return Ok(()) };
        let mut longer = list.clone();
        longer.push(more);
        let many = from_rectangles(&plan, &longer).unwrap();
        for (few, many) in few.ways.iter().zip(&many.ways) {
            prop_assert!(many.enough || !few.enough);
            prop_assert!(many.enough || many.made >= few.made);
        }
    }

}

proptest! {
    #![proptest_config(cases(60))]

    /// What is cut from remnants is not cut from them twice: with the binding
    /// kept apart the cloth still has every other cut, and others are told all.
    #[test]
    fn remnants_kept_for_the_binding_stay_whole(plan in plans::sound()) {
        let mut plan = plan;
        let Some(binding) = &mut plan.binding else { return Ok(()) };
        binding.from_remnants = false;
        let without = work_out(&plan);
        plan.binding.as_mut().unwrap().from_remnants = true;
        let with = work_out(&plan);
        let Some(bound) = &with.binding else { return Ok(()) };
        let cloth = plan.cloth(&bound.cloth).unwrap();
        let Some(worked) = with.cloths.iter().find(|c| c.cloth == bound.cloth) else { return Ok(()) };
        for (n, remnant) in outlines::at_hand(cloth).iter().enumerate() {
            let kept: i64 = bound.cut_from.iter().filter(|u| u.remnant == n).map(|u| u.times).sum();
            let cut = worked.layout.sheets.iter().filter(|s| s.remnant == Some(n)).count() as i64;
            prop_assert!(kept + cut <= i64::from(remnant.count), "{kept} kept and {cut} cut of {}", remnant.count);
        }
        let of = |figures: &notchbook::figures::Figures| {
            let cloth = figures.cloths.iter().find(|c| c.cloth == bound.cloth).unwrap();
            (cloth.to_buy_if_none_owned, cloth.other_widths.clone())
        };
        if !bound.cut_from.is_empty() {
            let lines = |f: &notchbook::figures::Figures| {
                f.cloths.iter().find(|c| c.cloth == bound.cloth).map_or(0, |c| c.cuts.len())
            };
            prop_assert_eq!(lines(&with) + 1, lines(&without));
            prop_assert!(of(&with).0 >= worked.to_buy);
            prop_assert_eq!(of(&with).1.len(), of(&without).1.len());
            prop_assert!(bound.made >= bound.total);
        } else {
            prop_assert_eq!(of(&with), of(&without));
        }
    }

    #[test]
    fn any_rectangle_gives_an_answer(
        plan in plans::wild_plan(), sides in vec((any::<i64>(), any::<i64>(), any::<i64>()), 0..5), near in any::<bool>(),
    ) {
        let side = |n: i64| Length::from_units(if near { n % Length::MAX.units() } else { n });
        let list: Vec<Given> = sides
            .into_iter()
            .map(|(w, h, count)| Given { size: Size { width: side(w), height: side(h) }, count })
            .collect();
        if let Some(answer) = from_rectangles(&plan, &list) {
            for way in &answer.ways {
                prop_assert!(!way.made.is_negative() && way.enough == (way.made >= answer.total));
            }
        }
    }
}

#[test]
fn a_way_that_loses_everything_to_joins_gives_nothing() {
    let plan = Plan::from_json(
        r#"{"format":1,"allowances":{"straightening":"0 in"},"cloths":[{"id":"c","name":"Cream","usable_width":"42 in"}],
        "edges":[{"id":"e","name":"Hem","length":"80 in","count":1}],
        "binding":{"cloth":"c","fold":"double","cut":"straight","finished_width":"3/8 in"}}"#,
    )
    .unwrap();
    let small = Given {
        size: Size {
            width: INCH * 4,
            height: INCH * 4,
        },
        count: 90,
    };
    let answer = from_rectangles(&plan, &[small]).unwrap();
    let straight = answer.way(BindingCut::Straight).unwrap();
    assert_eq!((straight.made, straight.used.len()), (Length::ZERO, 0));
}
