//! The same cut list on other usable widths: a table to carry into a shop.

use super::check::Checked;
use super::cloth::to_ask_for;
use super::cutlist::cut_list;
use super::layout::Job;
use super::{ClothFigures, OtherWidth, PieceFigures};
use crate::measure::{CM, INCH, Length, Percent, Unit};
use crate::plan::{Cloth, Plan};

/// Usable widths to carry into a shop.
const INCHES: [i64; 7] = [36, 42, 44, 54, 58, 60, 108];
const CENTIMETRES: [i64; 5] = [90, 110, 140, 150, 280];

/// What is to be bought, with nothing at hand, by someone whose cloth is
/// `width` wide: by the widest width that is worked out and not wider, since what
/// lies on that lies on a wider cloth too. `None` where even the narrowest is wider.
pub fn to_buy_on(cloth: &ClothFigures, width: Length) -> Option<OtherWidth> {
    let own = OtherWidth {
        width: cloth.usable_width,
        to_buy: cloth.to_buy_if_none_owned,
    };
    let known = cloth.other_widths.iter().copied().chain([own]);
    known
        .filter(|known| known.width <= width)
        // Of equal ones the widest is named.
        .min_by_key(|known| (known.to_buy, std::cmp::Reverse(known.width)))
}

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;

    #[test]
    fn a_viewers_width_goes_by_the_next_narrower_one() {
        let plan = Plan::from_json(
            r#"{"format":1,"cloths":[{"id":"c1","name":"Oat","usable_width":"50 in"}],
            "pieces":[{"id":"p1","name":"Front","cut_count":4,"width":"24 in","height":"30 in","face":{"kind":"plain","cloth":"c1"}}]}"#,
        )
        .unwrap();
        let figures = work_out(&plan);
        let cloth = &figures.cloths[0];
        assert_eq!(to_buy_on(cloth, INCH * 20), None);
        let mut before = None;
        for inches in 36..=120 {
            let found = to_buy_on(cloth, INCH * inches).unwrap();
            assert!(found.width <= INCH * inches);
            assert!(before.is_none_or(|b| found.to_buy <= b), "{inches} in");
            before = Some(found.to_buy);
        }
        assert_eq!(to_buy_on(cloth, INCH * 50).unwrap().to_buy, cloth.to_buy_if_none_owned);
        assert_eq!(to_buy_on(cloth, INCH * 37).unwrap().width, INCH * 36);
        assert!(to_buy_on(cloth, INCH * 37).unwrap().to_buy > cloth.to_buy_if_none_owned);
    }
}
