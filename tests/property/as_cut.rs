//! What is really there once cloth is cut by the printed figures: worked out
//! again from the cut sizes and the way the work is sewn, not from the rules
//! the figures go by.

use crate::{cases, plans};
use notchbook::figures::{Shape, work_out};
use notchbook::measure::{INCH, Length};
use notchbook::plan::{BindingCut, Face, Fold, UnitKind};
use proptest::prelude::*;

/// The tube of a continuous binding, line by line. A triangle is cut off one end
/// of the rectangle at 45 degrees and sewn to the other end (1/4 in on both):
/// what is left to draw lines on is a parallelogram whose straight sides are
/// 1/2 in shorter than the rectangle. Each line runs from one straight side to
/// the other and loses 1/4 in square to each in the seam of the tube.
fn tube(a: f64, b: f64, strip: f64) -> f64 {
    let (short, long) = (a.min(b), a.max(b));
    let straight = long - 0.5;
    let diagonal = ((short - 0.5).powi(2) * 2.0).sqrt();
    let mut made = 0.0;
    // Where the far line of each strip meets the straight side.
    let mut at = (strip * strip * 2.0).sqrt();
    while at <= straight {
        made += diagonal;
        at += (strip * strip * 2.0).sqrt();
    }
    made
}

fn in_inches(length: Length) -> f64 {
    length.units() as f64 / INCH.units() as f64
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn a_continuous_binding_is_in_its_tube(plan in plans::sound()) {
        let mut plan = plan;
        if let Some(binding) = &mut plan.binding {
            binding.cut = BindingCut::Continuous;
            // Of one tube; from remnants there may be several.
            binding.from_remnants = false;
        }
        let Some(binding) = work_out(&plan).binding else { return Ok(()) };
        let (a, b) = (in_inches(binding.rectangle.width), in_inches(binding.rectangle.height));
        let there = tube(a, b, in_inches(binding.strip_width));
        let (total, made) = (in_inches(binding.total), in_inches(binding.made));
        prop_assert!(there + 0.01 >= total, "{a} x {b} gives {there}, {total} needed");
        prop_assert!(there + 0.01 >= made, "{a} x {b} gives {there}, {made} promised");
    }

    /// A closed run can be joined to itself, and a wide double fold reaches over
    /// its seam on the other side.
    #[test]
    fn a_binding_closes_and_covers(plan in plans::sound()) {
        let Some(binding) = work_out(&plan).binding else { return Ok(()) };
        let least: Length = plan
            .edges
            .iter()
            .map(|e| (e.length + if e.closed { binding.strip_width } else { Length::ZERO }) * i64::from(e.count))
            .sum();
        prop_assert!(binding.total >= least, "{:?} of {least:?}", binding.total);
        if binding.fold == Fold::Double {
            prop_assert!(binding.strip_width >= binding.finished_width * 6);
            prop_assert!(binding.strip_width > binding.finished_width * 6 || binding.finished_width == Length::inches_frac(1, 2));
        }
    }

    /// Batting and backing reach their overage beyond the panel as it comes out
    /// where its plain squares are sewn as they were cut.
    #[test]
    fn layers_reach_beyond_the_panel_as_cut(plan in plans::sound()) {
        let a = &plan.allowances;
        for worked in &work_out(&plans::without_layouts(&plan)).pieces {
            let Some(panel) = &worked.panel else { continue };
            let Some(square) = panel.patches.iter().find(|p| p.shape == Shape::Square && p.unit.starts_with("plain")) else {
                continue;
            };
            let sewn = |count: i64| (square.cut.width - a.seam * 2) * count + a.seam * 2;
            for (size, overage) in [(worked.batting, a.batting_overage), (worked.backing, a.backing_overage)] {
                let Some(size) = size else { continue };
                prop_assert!(size.width >= sewn(panel.columns) + overage * 2, "{size:?} under {:?}", sewn(panel.columns));
                prop_assert!(size.height >= sewn(panel.rows) + overage * 2, "{size:?} under {:?}", sewn(panel.rows));
            }
        }
    }

    /// A unit sewn from triangles can be trimmed to what the plain squares beside
    /// it are cut: a diagonal seam takes s * sqrt 2 from the side of the square.
    #[test]
    fn triangle_units_match_their_neighbours(plan in plans::sound()) {
        let seam = plan.allowances.seam.units() as f64;
        for worked in &work_out(&plans::without_layouts(&plan)).pieces {
            let Some(Face::Patchwork(face)) = &plan.piece(&worked.piece).unwrap().face else { continue };
            let units = &face.units;
            let Some(panel) = &worked.panel else { continue };
            if !units.iter().any(|u| u.kind == UnitKind::Square) {
                continue;
            }
            let Some(square) = panel.patches.iter().find(|p| p.unit.starts_with("plain")) else { continue };
            for patch in &panel.patches {
                // Parts of other units and setting triangles have their own sizes.
                let seams = match patch.shape {
                    Shape::HalfSquareTriangle if patch.unit.starts_with("half-square") => 1.0,
                    Shape::QuarterSquareTriangle if patch.unit.starts_with("quarter-square") => 2.0,
                    _ => continue,
                };
                let sewn = patch.cut.width.units() as f64 - seams * seam * 2f64.sqrt();
                let wanted = square.cut.width.units() as f64;
                prop_assert!(sewn >= wanted - 0.01, "{sewn} sewn, beside {wanted}");
            }
        }
    }
}
