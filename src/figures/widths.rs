//! The same cut list on other usable widths: a table to carry into a shop.

use super::check::Checked;
use super::cloth::to_ask_for;
use super::cutlist::cut_list;
use super::layout::Job;
use super::{OtherWidth, PieceFigures};
use crate::measure::{CM, INCH, Length, Percent, Unit};
use crate::plan::{Cloth, Plan};

/// Usable widths to carry into a shop.
const INCHES: [i64; 7] = [36, 42, 44, 54, 58, 60, 108];
const CENTIMETRES: [i64; 5] = [90, 110, 140, 150, 280];

pub(super) fn other_widths(unit: Unit) -> Vec<Length> {
    match unit {
        Unit::Inch => INCHES.iter().map(|n| INCH * *n).collect(),
        Unit::Cm => CENTIMETRES.iter().map(|n| CM * *n).collect(),
    }
}

/// The same cuts on other widths, each by a layout of its own: backings and
/// bindings are divided anew, since a wider cloth takes fewer joins.
pub(super) fn on_other_widths(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    cloth: &Cloth,
    on_this_width: Length,
) -> Vec<OtherWidth> {
    let a = &plan.allowances;
    // Rounding before washing and rounding after differ by less than this.
    let step = if cloth.shrinkage > Percent::ZERO {
        Length::from_units(1)
    } else {
        a.shop_step
    };
    other_widths(plan.unit)
        .into_iter()
        .filter_map(|width| {
            if width == cloth.usable_width {
                return Some(OtherWidth {
                    width,
                    to_buy: on_this_width,
                });
            }
            let list = cut_list(plan, checked, pieces, cloth, width).ok()?;
            let job = Job::new(&list.lines, width, a.straightening);
            let length = job.about_least(step).length(a.straightening);
            let to_buy = to_ask_for(length, cloth.shrinkage, a.shop_step);
            // What lies on this cloth lies on a wider one.
            let at_most = if width > cloth.usable_width {
                on_this_width
            } else {
                to_buy
            };
            Some(OtherWidth {
                width,
                to_buy: to_buy.min(at_most),
            })
        })
        .collect()
}
