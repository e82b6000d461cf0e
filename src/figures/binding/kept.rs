//! Remnants the binding is cut from, and what is left of them for other cuts.

use super::{RemnantUse, needed, of_cloth, remnant, work_out};
use crate::figures::check::Checked;
use crate::figures::outline::AtHand;
use crate::plan::{Cloth, Plan, Remnant};

/// The remnants kept for the binding, by position in the plan's list: where the
/// plan says it is cut from them and they give it. Nothing of it is then cut
/// from the cloth, and nothing else from these.
pub(in crate::figures) fn kept_for_it(plan: &Plan, checked: &Checked, cloth: &Cloth) -> Vec<RemnantUse> {
    let asked = plan.binding.as_ref().filter(|b| b.from_remnants && b.cloth == cloth.id);
    let Some(binding) = asked.filter(|_| checked.allowances.straightening) else {
        return Vec::new();
    };
    let Some((total, strip)) = needed(plan, checked) else {
        return Vec::new();
    };
    // Where the cloth itself could not be bound with, the plan is wrong as it is.
    if !matches!(work_out(plan, checked, cloth.usable_width), Some(Ok(_))) {
        return Vec::new();
    }
    let answer = remnant::answer(plan, total, strip, &of_cloth(cloth));
    let way = answer.way(binding.cut).filter(|way| way.enough);
    way.map(|way| way.used.clone()).unwrap_or_default()
}

/// The remnants to lay out on: those kept for the binding are left out.
pub(in crate::figures) fn remnants_left(at_hand: &AtHand, kept: &[RemnantUse]) -> Vec<(usize, Remnant)> {
    let left = |(at, r): (usize, &Remnant)| {
        let gone: i64 = kept.iter().filter(|u| u.remnant == at).map(|u| u.times).sum();
        let count = u32::try_from(i64::from(r.count) - gone).unwrap_or(0);
        (at, Remnant { count, ..r.clone() })
    };
    at_hand
        .sound()
        .into_iter()
        .map(left)
        .filter(|(_, r)| r.count > 0)
        .collect()
}
