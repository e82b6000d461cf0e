//! Sums over the whole project.

use super::{ClothFigures, PieceFigures, Totals};
use crate::measure::Unit;
use crate::plan::Plan;

pub(super) fn totals(plan: &Plan, pieces: &[PieceFigures], cloths: &[ClothFigures]) -> Totals {
    let mut totals = Totals::default();
    for piece in pieces {
        let Some(panel) = &piece.panel else { continue };
        totals.panels += piece.count;
        totals.units += panel.units * piece.count;
        totals.patches += panel.patches.iter().map(|p| p.patches).sum::<i64>();
    }
    for cloth in cloths.iter().filter(|c| c.to_buy.is_positive()) {
        match cloth.cost {
            Some(cost) => totals.to_buy_known = totals.to_buy_known + cost,
            None => totals.unpriced.push(cloth.name.clone()),
        }
    }
    // A sum that leaves a cloth out would be too small.
    let complete = cloths.len() == plan.cloths.len() && cloths.iter().all(|c| c.not_counted.is_empty());
    if complete && totals.unpriced.is_empty() {
        totals.to_buy = Some(totals.to_buy_known);
    }
    let cuts = cloths.iter().any(|c| !c.cuts.is_empty());
    if cuts {
        totals.cautions.push(
            "Rotary cutter: cut away from yourself along a ruler held flat, and close the blade whenever you put it down."
                .into(),
        );
    }
    if cuts {
        totals.cautions.push(
            match plan.unit {
                Unit::Inch => {
                    "Cut by the inches: the centimetres beside them are rounded up, and a layout cut by them may run short."
                }
                Unit::Cm => {
                    "Cut by the centimetres: the inches beside them are rounded up, and a layout cut by them may run short."
                }
            }
            .into(),
        );
    }
    totals
}
