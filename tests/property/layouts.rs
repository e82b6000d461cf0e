//! Every cutting layout, checked from the drawing alone.

use crate::{cases, checker, plans};
use notchbook::figures::{Purpose, work_out};
use proptest::prelude::*;

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn every_layout_can_be_cut(plan in plans::sound()) {
        let figures = work_out(&plan);
        for figures in &figures.cloths {
            let cloth = plan.cloth(&figures.cloth).unwrap();
            let fault = checker::fault(cloth, figures, plan.allowances.straightening);
            prop_assert!(fault.is_none(), "{}: {}", figures.name, fault.unwrap_or_default());
            // The same cuts on other widths are at least as long as their area.
            for other in &figures.other_widths {
                prop_assert!(other.to_buy.is_positive());
                prop_assert_eq!(other.to_buy.units() % plan.allowances.shop_step.units(), 0);
            }
        }
    }

    /// Every patch, panel and layer of the pieces stands in the cut list of its
    /// cloth: counted again from the pieces alone.
    #[test]
    fn nothing_is_left_out_of_the_cut_lists(plan in plans::sound()) {
        let figures = work_out(&plan);
        for cloth in &figures.cloths {
            let from_pieces: i64 = figures
                .pieces
                .iter()
                .filter_map(|p| p.panel.as_ref())
                .flat_map(|p| &p.patches)
                .filter(|p| p.cloth == cloth.cloth)
                .map(|p| p.patches)
                .sum();
            let on_cloth: i64 = cloth
                .cuts
                .iter()
                .filter(|l| matches!(l.purpose, Purpose::Patch { .. }))
                .map(|l| l.patches)
                .sum();
            prop_assert_eq!(from_pieces, on_cloth);
            for (n, piece) in plan.pieces.iter().enumerate() {
                let Some(worked) = figures.pieces.iter().find(|p| p.piece == piece.id) else { continue };
                let layers = piece.layers.clone().unwrap_or_default();
                for (layer, size) in [(layers.batting, worked.batting), (layers.backing, worked.backing)] {
                    if layer.as_deref() == Some(cloth.cloth.as_str()) && let Some(size) = size {
                        // Area of what is cut is at least the layer's, seams not even counted.
                        let area: i128 = cloth
                            .cuts
                            .iter()
                            .filter(|l| matches!(l.purpose, Purpose::Backing | Purpose::Batting))
                            .filter(|l| l.pieces.contains(&worked.name))
                            .map(|l| i128::from(l.cut.width.units()) * i128::from(l.cut.height.units()) * i128::from(l.count))
                            .sum();
                        let least = i128::from(size.width.units()) * i128::from(size.height.units()) * i128::from(worked.count);
                        prop_assert!(area >= least, "piece {n}: {area} < {least}");
                    }
                }
            }
        }
    }
}
