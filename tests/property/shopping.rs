//! Several plans shopped for together: never short, and never more than each
//! by itself.

use crate::{cases, checker, plans};
use notchbook::figures::{ClothToBuy, Wanting, cloth_use, shop_list, work_out};
use notchbook::measure::{Length, Unit};
use notchbook::plan::{Cloth, Plan};
use proptest::prelude::*;

/// Both plans take their first cloth from one cloth of the shelf.
fn sharing(mut plans: Vec<Plan>) -> Vec<Plan> {
    let shelf = Cloth {
        stock: Some("s".into()),
        ready_cut: Vec::new(),
        ..plans[0].cloths[0].clone()
    };
    for plan in &mut plans {
        let own = plan.cloths[0].clone();
        plan.cloths[0] = Cloth {
            id: own.id,
            ..shelf.clone()
        };
        if let Some(bound) = &mut plan.binding {
            bound.from_remnants = false;
        }
    }
    plans
}

/// On the heap: two such plans are much for the stack of a test.
fn two(plan: BoxedStrategy<Plan>) -> impl Strategy<Value = Vec<Plan>> {
    proptest::collection::vec(plan, 2)
}

proptest! {
    #![proptest_config(cases(25))]

    #[test]
    fn together_is_never_short_and_never_more_than_each(both in two(plans::sound().boxed())) {
        let plans = sharing(both);
        let figures = [work_out(&plans[0]), work_out(&plans[1])];
        let wanting = [0, 1].map(|n| Wanting { title: "", plan: &plans[n], figures: &figures[n], cut: &[] });
        let shelf = [plans[0].cloths[0].clone()];
        let list = shop_list(&wanting, &shelf, Unit::Inch);
        let shared: Option<&ClothToBuy> = list.cloths.iter().find(|c| c.key == "shelf/s");
        let Some(merged) = shared else { return Ok(()) };
        let each: Vec<_> = merged
            .of
            .iter()
            .map(|(at, bare)| (&plans[*at], figures[*at].cloths.iter().find(|f| f.cloth == plans[*at].cloths[0].id).unwrap(), *bare))
            .collect();
        // At most what each buys alone; what is at hand may go to any of them.
        let sum: Length = each.iter().map(|(_, _, bare)| *bare).sum();
        prop_assert!(merged.to_buy <= sum);
        for (n, (_, with, _)) in each.iter().enumerate() {
            let others: Length = each.iter().enumerate().filter(|(m, _)| *m != n).map(|(_, (_, _, bare))| *bare).sum();
            prop_assert!(merged.to_buy <= with.to_buy + others);
        }
        // All of it is there: what can be cut from nothing needs something.
        if each.iter().any(|(_, with, _)| with.to_buy.is_positive()) && each.len() == 1 {
            prop_assert!(merged.to_buy.is_positive());
        }
        let Some(together) = &merged.together else { return Ok(()) };
        // Every cut of both plans is in it.
        for (_, f, _) in &each {
            for line in &f.cuts {
                let both: i64 = each
                    .iter()
                    .flat_map(|(_, f, _)| &f.cuts)
                    .filter(|l| (l.cut, l.may_turn) == (line.cut, line.may_turn))
                    .map(|l| l.count)
                    .sum();
                let laid: i64 = together
                    .cuts
                    .iter()
                    .filter(|l| (l.cut, l.may_turn) == (line.cut, line.may_turn))
                    .map(|l| l.count)
                    .sum();
                prop_assert_eq!(both, laid);
            }
        }
        // And it can be cut: placed again from the layout alone.
        let mut f = each[0].1.clone();
        f.cuts = together.cuts.clone();
        f.layout = together.layout.clone();
        f.length = f.layout.sheets.iter().filter(|s| s.remnant.is_none()).map(|s| s.length).sum();
        f.to_buy = merged.to_buy;
        let fault = checker::fault(&together.cloth, &f, together.straightening);
        prop_assert!(fault.is_none(), "{}", fault.unwrap_or_default());
    }

    #[test]
    fn what_a_plan_takes_is_there_and_what_it_leaves_is_no_more(plan in plans::sound()) {
        let figures = work_out(&plan);
        for cloth in &plan.cloths {
            let Some(used) = cloth_use(&plan, &figures, &cloth.id) else { continue };
            let f = figures.cloths.iter().find(|f| f.cloth == cloth.id).unwrap();
            prop_assert_eq!(used.length, f.length);
            for r in &used.remnants {
                let there: u32 = cloth.remnants.iter().filter(|k| (k.width, k.length) == (r.width, r.length)).map(|k| k.count).sum();
                let taken: u32 = used.remnants.iter().filter(|k| (k.width, k.length) == (r.width, r.length)).map(|k| k.count).sum();
                prop_assert!(taken <= there);
            }
            let area = |w: Length, l: Length, n: u32| i128::from(w.units()) * i128::from(l.units()) * i128::from(n);
            let left: i128 = used.left_over.iter().map(|l| area(l.size.width, l.size.height, l.count)).sum();
            let cut: i128 = used.remnants.iter().map(|r| area(r.width, r.length, r.count)).sum::<i128>()
                + area(cloth.usable_width, used.length, 1);
            prop_assert!(left <= cut);
        }
    }

    #[test]
    fn any_plans_give_an_answer(both in two(plans::wild_plan().boxed()), shelf in plans::cloth(0)) {
        let [first, second] = &both[..] else { unreachable!() };
        let figures = [work_out(first), work_out(second)];
        let cut = [("c0".to_string(), Length::from_units(1))];
        let wanting = [
            Wanting { title: "a", plan: first, figures: &figures[0], cut: &[] },
            Wanting { title: "b", plan: second, figures: &figures[1], cut: &[] },
            Wanting { title: "c", plan: first, figures: &figures[0], cut: &cut },
        ];
        let list = shop_list(&wanting, &[shelf], Unit::Cm);
        for c in &list.cloths {
            prop_assert!(!c.to_buy.is_negative());
        }
    }
}
