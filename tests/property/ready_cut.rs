//! Ready-cut patches: what serves instead of cloth is there, and large enough.

use crate::{cases, checker, plans};
use notchbook::figures::{Purpose, Shape, work_out};
use notchbook::plan::{Plan, ReadyCut, ReadyShape};
use proptest::collection::vec;
use proptest::prelude::*;

fn ready() -> impl Strategy<Value = ReadyCut> {
    let shape = prop_oneof![
        4 => Just(ReadyShape::Rectangle),
        2 => Just(ReadyShape::HalfSquareTriangle),
        2 => Just(ReadyShape::QuarterSquareTriangle),
        1 => Just(ReadyShape::Triangle60),
        1 => Just(ReadyShape::Hexagon),
    ];
    (shape, plans::inches(2, 14), plans::inches(2, 14), 1..80u32).prop_map(|(shape, width, height, count)| ReadyCut {
        shape,
        width,
        height,
        count,
    })
}

fn with_stock(mut plan: Plan, stock: Vec<Vec<ReadyCut>>) -> Plan {
    for (cloth, ready) in plan.cloths.iter_mut().zip(stock) {
        cloth.ready_cut = ready;
    }
    plan
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn every_patch_is_in_stock_or_cut(plan in plans::sound(), stock in vec(vec(ready(), 0..4), 4)) {
        let without = work_out(&plan);
        let plan = with_stock(plan, stock);
        let figures = work_out(&plan);
        for (cloth, before) in figures.cloths.iter().zip(&without.cloths) {
            let of_plan = plan.cloth(&cloth.cloth).unwrap();
            let fault = checker::fault(of_plan, cloth, plan.allowances.straightening);
            prop_assert!(fault.is_none(), "{}: {}", cloth.name, fault.unwrap_or_default());
            let needed: i64 = figures.pieces.iter().filter_map(|p| p.panel.as_ref()).flat_map(|p| &p.patches)
                .filter(|p| p.cloth == cloth.cloth).map(|p| p.patches).sum();
            let cut: i64 = cloth.cuts.iter().filter(|l| matches!(l.purpose, Purpose::Patch { .. })).map(|l| l.patches).sum();
            let from_stock: i64 = cloth.ready_cut.iter().flat_map(|r| &r.uses).map(|u| u.patches).sum();
            prop_assert_eq!(needed, cut + from_stock);
            for (line, ready) in cloth.ready_cut.iter().map(|r| (r, &of_plan.ready_cut[r.at])) {
                prop_assert_eq!(line.used + line.left, i64::from(ready.count));
                prop_assert!(line.left >= 0);
                prop_assert_eq!(line.used, line.uses.iter().map(|u| u.used).sum::<i64>());
                for used in &line.uses {
                    let (w, h) = (used.cut.width, used.cut.height);
                    let fits = match ready.shape {
                        ReadyShape::Rectangle => {
                            let grid = |w, h| ready.width.times_fits(w) * ready.height.times_fits(h);
                            prop_assert!(used.patches <= used.used * used.each * used.shape.yields());
                            used.each <= grid(w, h) || (!of_plan.one_way && used.each <= grid(h, w))
                        }
                        ReadyShape::Hexagon => used.shape == Shape::Hexagon && ready.width >= h && used.patches <= used.used,
                        ReadyShape::HalfSquareTriangle => used.shape == Shape::HalfSquareTriangle && ready.width >= w && used.patches <= used.used,
                        ReadyShape::QuarterSquareTriangle => used.shape == Shape::QuarterSquareTriangle && ready.width >= w && used.patches <= used.used,
                        ReadyShape::Triangle60 => used.shape == Shape::Triangle60 && ready.width >= w && used.patches <= used.used,
                    };
                    prop_assert!(fits, "{used:?} from {ready:?}");
                }
            }
            // What a viewer has to buy does not depend on the maker's stock.
            if of_plan.owned == notchbook::measure::Length::ZERO {
                prop_assert_eq!(cloth.to_buy_if_none_owned, before.to_buy_if_none_owned);
                prop_assert_eq!(&cloth.other_widths, &before.other_widths);
            }
        }
    }
}
