//! A figure that runs short is the worst fault there is.

use crate::{cases, outlines, plans};
use notchbook::figures::{Purpose, work_out};
use notchbook::measure::{Length, Percent};
use notchbook::plan::{Along, BindingCut};
use proptest::prelude::*;

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn a_panel_covers_its_piece(plan in plans::sound()) {
        let figures = work_out(&plans::without_layouts(&plan));
        for worked in &figures.pieces {
            let piece = plan.piece(&worked.piece).unwrap();
            // Worked out again from the plan.
            let sum = |along: Along| -> Length {
                piece.alterations.iter().filter(|a| a.along == along).map(|a| a.by).sum()
            };
            let wide = (piece.width + sum(Along::Width)) * if piece.on_fold { 2 } else { 1 } + piece.margin * 2;
            let high = piece.height + sum(Along::Height) + piece.margin * 2;
            prop_assert_eq!((worked.needed.width, worked.needed.height), (wide, high));
            let loss = if piece.layers.is_some() { piece.take_up } else { Percent::ZERO };
            let left = |l: Length| l.scale_down(10_000 - loss.as_hundredths(), 10_000);
            prop_assert!(left(worked.needed_before.width) >= wide);
            prop_assert!(left(worked.needed_before.height) >= high);
            let Some(panel) = &worked.panel else { continue };
            prop_assert!(panel.after.width >= wide, "{:?} after quilting, {wide:?} needed", panel.after.width);
            prop_assert!(panel.after.height >= high, "{:?} after quilting, {high:?} needed", panel.after.height);
            prop_assert!(panel.after.width <= left(panel.before.width));
            if let Some(size) = worked.batting {
                prop_assert!(size.width >= panel.before.width + plan.allowances.batting_overage * 2);
                prop_assert!(size.height >= panel.before.height + plan.allowances.batting_overage * 2);
            }
            if let Some(size) = worked.backing {
                prop_assert!(size.width >= panel.before.width + plan.allowances.backing_overage * 2);
                prop_assert!(size.height >= panel.before.height + plan.allowances.backing_overage * 2);
            }
            prop_assert!(panel.at_most.width >= panel.before.width && panel.at_most.height >= panel.before.height);
            for patch in &panel.patches {
                prop_assert!(patch.cuts * patch.shape.yields() >= patch.patches);
            }
        }
    }

    #[test]
    fn a_binding_goes_round(plan in plans::sound()) {
        let figures = work_out(&plan);
        let Some(binding) = &figures.binding else { return Ok(()) };
        prop_assert!(binding.made >= binding.total);
        let edges: Length = plan.edges.iter().map(|e| e.length * i64::from(e.count)).sum();
        prop_assert_eq!(binding.edges, edges);
        prop_assert!(binding.total >= edges);
        // No way of cutting gives more than the area of its cloth.
        let cloth = plan.cloth(&binding.cloth).unwrap();
        let of_remnants: f64 = binding.cut_from.iter().map(|used| {
            let r = &outlines::at_hand(cloth)[used.remnant];
            assert!((1..=i64::from(r.count)).contains(&used.times));
            r.width.units() as f64 * r.length.units() as f64 * used.times as f64
        }).sum();
        let area = if binding.cut_from.is_empty() {
            binding.rectangle.width.units() as f64 * binding.rectangle.height.units() as f64
        } else {
            of_remnants
        };
        let used = binding.made.units() as f64 * binding.strip_width.units() as f64;
        prop_assert!(used <= area, "{used} of {area}");
        prop_assert!(binding.rectangle.width <= cloth.usable_width);
        if binding.cut == BindingCut::Straight && binding.cut_from.is_empty() {
            let strips: i64 = binding.strips.iter().map(|s| s.count).sum();
            prop_assert_eq!(binding.rectangle.height, binding.strip_width * strips);
        }
        // Its cloth carries it.
        if let Some(cloth) = figures.cloths.iter().find(|c| c.cloth == binding.cloth)
            && binding.cut_from.is_empty()
        {
            let line = cloth.cuts.iter().find(|l| {
                matches!(l.purpose, Purpose::StraightBinding | Purpose::BiasRectangle | Purpose::ContinuousSquare)
            });
            let line = line.expect("the binding stands in the cut list");
            prop_assert!(line.cut.height * line.count >= binding.rectangle.height);
        }
    }

    /// What is to be bought never goes down by owning nothing, and the list for
    /// others never asks for less than what the maker cuts from one length.
    #[test]
    fn owning_cloth_never_costs_more(plan in plans::sound()) {
        for cloth in work_out(&plan).cloths {
            prop_assert!(cloth.to_buy <= cloth.to_buy_if_none_owned, "{cloth:?}");
            prop_assert_eq!(cloth.to_buy.units() % plan.allowances.shop_step.units(), 0);
        }
    }
}
