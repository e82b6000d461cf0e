//! A bigger piece never needs less.
//!
//! Panels, patches, layers and binding: strictly so. The length of a cloth is
//! found by a search, and no quick search is monotone in itself; what holds is
//! that it is never longer than the lines cut one after the other, a bound
//! which bigger or more pieces never make shorter, and never shorter than the
//! area.

use crate::polygons::{cut_by_itself, twice_the_area};
use crate::{cases, plans};
use notchbook::figures::{ClothFigures, PanelFigures, PatchCut, work_out};
use notchbook::measure::{EIGHTH, Length};
use notchbook::plan::{Along, Alteration, Plan};
use proptest::prelude::*;

fn grown(plan: &Plan, which: usize, wide: bool, by: i64) -> Plan {
    let mut bigger = plan.clone();
    let at = which % bigger.pieces.len();
    bigger.pieces[at].alterations.push(Alteration {
        along: if wide { Along::Width } else { Along::Height },
        by: EIGHTH * by,
        reason: String::new(),
    });
    bigger
}

/// The lines of a cut list cut one after the other, each the better way round.
fn one_after_the_other(cloth: &ClothFigures) -> Length {
    cloth
        .cuts
        .iter()
        .map(|line| cut_by_itself(line, cloth.usable_width))
        .sum()
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn a_bigger_piece_never_needs_fewer(
        plan in plans::sound(), which in 0..8usize, wide in any::<bool>(), by in 1..40i64,
    ) {
        let plan = plans::without_layouts(&plan);
        let (small, big) = (work_out(&plan), work_out(&grown(&plan, which, wide, by)));
        for old in &small.pieces {
            let Some(new) = big.pieces.iter().find(|p| p.piece == old.piece) else { continue };
            prop_assert!(new.needed_before.width >= old.needed_before.width);
            prop_assert!(new.needed_before.height >= old.needed_before.height);
            let (Some(was), Some(is)) = (&old.panel, &new.panel) else { continue };
            prop_assert!(is.columns >= was.columns && is.rows >= was.rows);
            prop_assert!(is.before.width >= was.before.width && is.before.height >= was.before.height);
            prop_assert!(is.after.width >= was.after.width && is.after.height >= was.after.height);
            // Patches of one cloth and size, whatever units they go into.
            let of = |panel: &PanelFigures, patch: &PatchCut| -> i64 {
                let same = |p: &&PatchCut| (&p.cloth, p.shape, p.cut) == (&patch.cloth, patch.shape, patch.cut);
                panel.patches.iter().filter(same).map(|p| p.patches).sum()
            };
            for patch in &was.patches {
                let (now, then) = (of(is, patch), of(was, patch));
                prop_assert!(now >= then, "{now} < {then}");
            }
            for strip in &was.strips {
                let now = is.strips.iter().find(|s| s.what == strip.what).expect("the same strips");
                prop_assert!(now.count >= strip.count);
                prop_assert!(now.cut.width >= strip.cut.width && now.cut.height >= strip.cut.height);
            }
            for (was, is) in [(old.batting, new.batting), (old.backing, new.backing)] {
                if let (Some(was), Some(is)) = (was, is) {
                    prop_assert!(is.width >= was.width && is.height >= was.height);
                }
            }
        }
    }

    #[test]
    fn cloth_stays_between_its_bounds(plan in plans::sound()) {
        for cloth in work_out(&plan).cloths {
            let most = one_after_the_other(&cloth);
            let twice_the_area: i128 = cloth.cuts.iter().map(twice_the_area).sum();
            let owned = plan.cloth(&cloth.cloth).unwrap();
            if !cloth.cuts.is_empty() && owned.remnants.is_empty() && owned.outlined.is_empty() && !owned.owned.is_positive() {
                let strips = cloth.length - plan.allowances.straightening;
                prop_assert!(strips <= most, "{strips:?} of {most:?}");
                prop_assert!(i128::from(strips.units()) * i128::from(cloth.usable_width.units()) * 2 >= twice_the_area);
            }
        }
    }

    /// One line of patches at a time is cut exactly, so there it is strict.
    #[test]
    fn more_of_one_patch_never_takes_less_cloth(
        side in 1..12i64, seam in 1..4i64, width in 30..62i64, columns in 1..9i64, rows in 1..9i64, more in 0..3i64,
    ) {
        let cloth = |columns: i64, rows: i64, side: i64| {
            let json = format!(
                r#"{{"format":1,"allowances":{{"seam":"{seam}/8 in"}},
                "cloths":[{{"id":"c","name":"Cream","usable_width":"{width} in"}}],
                "pieces":[{{"id":"p","name":"Front","cut_count":1,"width":"{} in","height":"{} in",
                "face":{{"kind":"patchwork","finished":"{side} in","arrangement":"all-alike",
                "units":[{{"kind":"half-square-triangle","cloths":["c","c"]}}]}}}}]}}"#,
                columns * side, rows * side
            );
            work_out(&Plan::from_json(&json).unwrap()).cloths.into_iter().next()
        };
        if let (Some(few), Some(many)) = (cloth(columns, rows, side), cloth(columns + more, rows + 1, side)) {
            prop_assert!(many.length >= few.length);
        }
        // And as many of a bigger one.
        if let (Some(small), Some(big)) = (cloth(columns, rows, side), cloth(columns, rows, side + more)) {
            prop_assert!(big.length >= small.length);
        }
    }

    #[test]
    fn a_longer_edge_never_takes_less_binding(
        plan in plans::sound(), by in 1..200i64, which in 0..4usize,
    ) {
        let mut longer = plan.clone();
        if plan.edges.is_empty() {
            return Ok(());
        }
        let at = which % plan.edges.len();
        longer.edges[at].length += EIGHTH * by;
        if let (Some(was), Some(is)) = (work_out(&plan).binding, work_out(&longer).binding) {
            prop_assert!(is.total > was.total);
            prop_assert!(is.rectangle.height >= was.rectangle.height, "{:?} after {:?}", is.rectangle, was.rectangle);
            prop_assert_eq!(is.strip_width, was.strip_width);
        }
    }
}
