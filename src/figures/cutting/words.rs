//! The working of one cloth: from its cuts to what is to be bought.

use super::{Cutting, LaidFrom};
use crate::figures::panel::before_loss;
use crate::figures::{KeptLayFigures, Layout, Strip};
use crate::measure::{Length, Percent, Round, Unit};
use crate::plan::{Allowances, Cloth};

/// What the sentences need besides the cutting.
pub(in crate::figures) struct Told<'a> {
    pub unit: Unit,
    pub allowances: &'a Allowances,
    pub cloth: &'a Cloth,
    pub layout: &'a Layout,
    pub lay: Option<&'a KeptLayFigures>,
    /// Remnants are kept for the binding.
    pub for_binding: bool,
    pub to_buy: Length,
}

pub(in crate::figures) fn working(cutting: &Cutting, told: &Told) -> Vec<String> {
    let mut working = cutting.list.working.clone();
    let served = cutting.ready_cut.iter().any(|r| r.used > 0);
    let ready = cutting.ready_cut.iter().filter(|r| r.used > 0);
    working.extend(ready.map(|r| r.told(told.unit)));
    if cutting.list.lines.is_empty() {
        working.push(match (served, told.for_binding) {
            (true, _) => "The ready-cut patches are enough: nothing else is cut from this cloth.".into(),
            (false, true) => "Nothing else is cut from this cloth.".into(),
            (false, false) => "Nothing is cut from this cloth.".into(),
        });
        return working;
    }
    let both = |length: Length| length.both(told.unit, Round::Up);
    working.extend(
        told.lay
            .filter(|lay| lay.to_buy_with.is_some())
            .map(|lay| lay.told.clone()),
    );
    rectangles(cutting, told, &mut working);
    if cutting.stocked.uses_remnants() {
        working.push("Remnants are cut first.".into());
    } else if cutting.stocked.remnants_left_whole {
        working.push("The remnants are left whole: cutting from them would not shorten what is to be bought.".into());
    }
    lengths(cutting, told, &mut working);
    let (cloth, a) = (told.cloth, told.allowances);
    if cutting.from_bought.is_positive() {
        if cloth.owned.is_positive() && !cutting.from_owned.is_positive() {
            let what = if cutting.lay.is_some() {
                "for the lay and for any of these strips"
            } else {
                "for any of these strips"
            };
            working.push(format!(
                "The {} at hand is too short {what}.",
                cloth.owned.both_cloth(told.unit, Round::Down)
            ));
        }
        if cloth.shrinkage > Percent::ZERO {
            working.push(format!(
                "It shrinks {} in the first wash: {} before washing.",
                cloth.shrinkage,
                both(before_loss(cutting.from_bought, cloth.shrinkage))
            ));
        }
        working.push(format!(
            "To buy, up to the shop's step of {}: {}.",
            a.shop_step.both_cloth(told.unit, Round::Nearest),
            told.to_buy.both_cloth(told.unit, Round::Up)
        ));
    } else if cutting.from_owned.is_positive() {
        working.push("What is at hand is enough: nothing to buy.".into());
    } else {
        working.push("The remnants are enough: nothing to buy.".into());
    }
    working
}

fn rectangles(cutting: &Cutting, told: &Told, working: &mut Vec<String>) {
    let cuts = cutting.rectangles();
    if cuts == 0 {
        working.push("Nothing is cut from this cloth besides.".into());
        return;
    }
    let both = |length: Length| length.both(told.unit, Round::Up);
    working.push(format!(
        "{}{cuts} {} on a usable width of {}.",
        if cutting.lay.is_some() { "Besides it " } else { "" },
        if cuts == 1 { "rectangle" } else { "rectangles" },
        told.cloth.usable_width.both(told.unit, Round::Down)
    ));
    let nested = |strip: &Strip| !strip.cuts.is_empty();
    if told.layout.sheets.iter().flat_map(|s| &s.strips).any(nested) {
        let lay = cutting.lay_from(LaidFrom::Owned) + cutting.lay_from(LaidFrom::Bought);
        working.push(format!(
            "Strips and subcuts alone would take {}; cuts nested deeper take {}.",
            both(cutting.strips_only),
            both(cutting.length() - lay)
        ));
    }
}

/// What makes up each length.
fn lengths(cutting: &Cutting, told: &Told, working: &mut Vec<String>) {
    let both = |length: Length| length.both(told.unit, Round::Up);
    let straightening = told.allowances.straightening;
    let sum = |lay: Length, whole: Length| {
        let strips = whole - straightening - lay;
        let mut parts = vec![format!(
            "{} lost to straightening",
            straightening.both(told.unit, Round::Nearest)
        )];
        if strips.is_positive() || !lay.is_positive() {
            parts.push(format!("{} of strips", both(strips)));
        }
        if lay.is_positive() {
            parts.push(format!("{} of the lay", both(lay)));
        }
        format!("{} = {}.", parts.join(" + "), both(whole))
    };
    if cutting.from_owned.is_positive() {
        working.push(format!(
            "From the {} at hand: {}",
            told.cloth.owned.both_cloth(told.unit, Round::Down),
            sum(cutting.lay_from(LaidFrom::Owned), cutting.from_owned)
        ));
    }
    if cutting.from_bought.is_positive() {
        let from = if cutting.from_owned.is_positive() {
            "From a new length"
        } else {
            "Length"
        };
        let lay = cutting.lay_from(LaidFrom::Bought);
        working.push(format!("{from}: {}", sum(lay, cutting.from_bought)));
    }
}

/// The lay as the last of the order of cuts.
pub(in crate::figures) fn lay_step(cutting: &Cutting, lay: &KeptLayFigures, unit: Unit) -> String {
    let pieces = if lay.placed == 1 {
        "1 piece".to_string()
    } else {
        format!("{} pieces", lay.placed)
    };
    let from = cutting.lay.as_ref().map_or(LaidFrom::Remnants, |l| l.from);
    let of = match from {
        LaidFrom::Remnants => return format!("Remnants: lay {pieces} on them as the lay is drawn, and cut them."),
        LaidFrom::Owned => "Cloth at hand",
        LaidFrom::Bought if cutting.from_owned.is_positive() => "Cloth to buy",
        LaidFrom::Bought => "Cloth",
    };
    let strips = match from {
        LaidFrom::Owned => cutting.stocked.taken_from_owned(),
        _ => cutting.stocked.taken_from_bought(),
    };
    let begin = if strips.is_positive() {
        "behind the strips"
    } else {
        "straighten its end, then"
    };
    format!(
        "{of}: {begin} lay {pieces} on {} as the lay is drawn, and cut them.",
        lay.length.both(unit, Round::Up)
    )
}
