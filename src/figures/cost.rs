//! What is still to be spent, and what all that is in it is worth.

use super::check::{called, price_is_sound};
use super::outline::{AtHand, outline};
use super::{BindingFigures, ClosureFigures, ClothFigures, RemnantUse, Shown, ThreadFigures};
use crate::measure::{Area, Length, Money, Round, Unit};
use crate::plan::{Cloth, NotionKind, Plan};
use serde::Serialize;

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct CostFigures {
    pub lines: Vec<CostLine>,
    /// As far as prices are known.
    pub to_spend: Money,
    pub worth: Money,
    /// What has no price: the sums are without it.
    pub unpriced: Vec<String>,
    pub shown: Shown,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CostLine {
    pub what: String,
    pub kind: CostKind,
    /// For what is to be bought.
    pub to_spend: Option<Money>,
    /// Of what goes into the piece, owned or bought.
    pub worth: Option<Money>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CostKind {
    Cloth,
    Notion,
    Closures,
    Thread,
}

pub(super) fn cost(
    plan: &Plan,
    cloths: &[ClothFigures],
    binding: Option<&BindingFigures>,
    closures: &[ClosureFigures],
    thread: Option<&ThreadFigures>,
) -> CostFigures {
    let mut out = CostFigures::default();
    for f in cloths {
        let bound: &[RemnantUse] = match binding.filter(|b| b.cloth == f.cloth) {
            Some(b) => &b.cut_from,
            None => &[],
        };
        let cloth = plan.cloth(&f.cloth).filter(|_| f.is_used() || !bound.is_empty());
        if let Some(cloth) = cloth {
            of_cloth(&mut out, cloth, f, bound, plan.unit);
        }
    }
    for notion in plan.notions.iter().filter(|n| n.kind == NotionKind::Notion) {
        let price = notion.price.filter(|p| price_is_sound(*p));
        out.add(called(&notion.name, &notion.id), CostKind::Notion, price, price);
    }
    for row in closures {
        out.add(
            format!("{}: {} {}", row.name, row.count, row.kind.counted(row.count)),
            CostKind::Closures,
            row.cost,
            row.cost,
        );
    }
    if let Some(t) = thread.filter(|t| t.total.is_positive()) {
        // Of the last spool only what is sewn with it goes into the piece.
        let used = t.cost.map(|cost| cost.for_length(t.total, t.spool * t.spools.max(1)));
        out.add(
            format!(
                "Thread, {} {}",
                t.spools,
                if t.spools == 1 { "spool" } else { "spools" }
            ),
            CostKind::Thread,
            t.cost,
            used,
        );
    }
    if out.lines.iter().any(|line| line.kind == CostKind::Notion) {
        out.shown
            .working
            .push("Notions count as to be bought; tools are not used up and count in neither sum.".into());
    }
    if !out.unpriced.is_empty() {
        out.shown.cautions.push(format!(
            "No price is known for {}: both sums are without it.",
            out.unpriced.join(", ")
        ));
    }
    out
}

/// The full width at its price by length, remnants by their area at the cloth's
/// price for the same area, those the binding is cut from among them. Whole
/// remnants, and rounded up: never too little.
fn of_cloth(out: &mut CostFigures, cloth: &Cloth, f: &ClothFigures, bound: &[RemnantUse], unit: Unit) {
    let both = |length: Length| length.both_cloth(unit, Round::Up);
    let price = cloth.price.as_ref().filter(|p| price_is_sound(p.amount));
    let cut_into = f
        .layout
        .sheets
        .iter()
        .filter(|s| s.remnant.is_some() && !s.strips.is_empty());
    let at_hand = AtHand::of(cloth);
    let for_binding = bound.iter().filter_map(|used| {
        let remnant = at_hand.all().get(used.remnant)?;
        Some(Area::of(remnant.width, remnant.length) * used.times)
    });
    // Those a kept lay lies on, outlines by their own area.
    let laid_on = f
        .used_lay()
        .map_or(&[][..], |lay| &lay.remnants)
        .iter()
        .filter_map(|laid| {
            let own = cloth.remnants.get(laid.kind).map(|r| Area::of(r.width, r.length));
            let outlined = || {
                let shape = cloth.outlined.get(laid.kind.checked_sub(cloth.remnants.len())?)?;
                Some(outline(&shape.outline).ok()?.area)
            };
            Some(own.or_else(outlined)? * i64::from(laid.count))
        });
    let area = cut_into
        .map(|s| Area::of(s.width, s.length))
        .chain(for_binding)
        .chain(laid_on)
        .fold(Area::ZERO, |a, b| a + b);
    let of_remnants = area.length_at(f.usable_width);
    let length = f.length_unwashed + of_remnants;
    if of_remnants.is_positive() && price.is_some() {
        out.shown.working.push(format!(
            "{}: remnants of as much cloth as {} of the full width.",
            f.name,
            both(of_remnants)
        ));
    }
    let worth = price.map(|p| p.amount.for_length(length, p.per.length()));
    let to_spend = if f.to_buy.is_positive() {
        f.cost
    } else {
        Some(Money::ZERO)
    };
    if let (Some(price), Some(worth)) = (price, worth) {
        out.shown.working.push(format!(
            "{}: {} used at {} a {} = {worth}; to buy {} = {}.",
            f.name,
            both(length),
            price.amount,
            price.per.name(),
            both(f.to_buy),
            to_spend.unwrap_or_default()
        ));
    }
    if f.ready_cut.iter().any(|ready| ready.used > 0) {
        out.shown
            .working
            .push(format!("{}: patches in stock are counted as nothing.", f.name));
    }
    out.add(
        f.name.clone(),
        CostKind::Cloth,
        to_spend.filter(|_| price.is_some()),
        worth,
    );
}

impl CostFigures {
    fn add(&mut self, what: String, kind: CostKind, to_spend: Option<Money>, worth: Option<Money>) {
        if worth.is_none() && to_spend.is_none() {
            self.unpriced.push(what.clone());
        }
        self.to_spend = self.to_spend + to_spend.unwrap_or_default();
        self.worth = self.worth + worth.unwrap_or_default();
        self.lines.push(CostLine {
            what,
            kind,
            to_spend,
            worth,
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::figures::work_out;
    use crate::measure::Money;
    use crate::plan::Plan;

    #[test]
    fn cloth_closures_and_thread_add_up() {
        // Two plain panels of 20 by 36 in on 42 in cloth at 12.00 a yard, a remnant of 42 by 36 in for one pair.
        let plan = |remnant: &str| {
            Plan::from_json(&format!(
                r#"{{"format":1,"allowances":{{"straightening":"0 in"}},
                "cloths":[{{"id":"c1","name":"Oat","usable_width":"42 in","price":{{"amount":"12.00","per":"yd"}}{remnant}}}],
                "pieces":[{{"id":"p1","name":"Front","cut_count":2,"width":"20 in","height":"36 in","face":{{"kind":"plain","cloth":"c1"}}}}],
                "closures":[{{"id":"b1","name":"Front","kind":"button","line":"24 in","first":"1 in","last":"2 in","count":8,"price":"0.75"}}],
                "seams":[{{"id":"s1","name":"Sides","length":"1 m","count":2}}],
                "thread":{{"spool":"100 m","price":"4.00"}},
                "notions":[{{"id":"n1","name":"Tape","price":"2.10"}},{{"id":"n2","name":"Needle","kind":"tool","price":"9.00"}}]}}"#
            ))
            .unwrap()
        };
        let bought = work_out(&plan(""));
        assert_eq!(bought.problems, []);
        let money = |text: &str| text.parse::<Money>().unwrap();
        // 12.00 + 8 × 0.75 + 4.00 + 2.10; of the spool 6.36 m are sewn: 0.26.
        assert_eq!(bought.cost.to_spend, money("24.10"));
        assert_eq!(bought.cost.worth, money("20.36"));
        assert!(bought.cost.unpriced.is_empty());
        let remnant = work_out(&plan(r#","remnants":[{"width":"42 in","length":"36 in","count":1}]"#));
        assert_eq!(remnant.cost.to_spend, money("12.10"));
        assert_eq!(remnant.cost.worth, bought.cost.worth);
    }

    #[test]
    fn a_remnant_the_binding_is_cut_from_is_worth_its_area() {
        let plan = Plan::from_json(
            r#"{"format":1,"cloths":[{"id":"c1","name":"Oat","usable_width":"40 in","price":{"amount":"10.00","per":"yd"},
            "remnants":[{"width":"20 in","length":"36 in","count":1}]}],
            "edges":[{"id":"e1","name":"Hem","length":"40 in","count":1}],
            "binding":{"cloth":"c1","fold":"double","cut":"bias-strips","finished_width":"3/8 in","from_remnants":true}}"#,
        )
        .unwrap();
        let figures = work_out(&plan);
        assert!(!figures.binding.as_ref().unwrap().cut_from.is_empty());
        assert_eq!(figures.cost.worth, "5.00".parse::<Money>().unwrap());
        assert_eq!(figures.cost.to_spend, Money::ZERO);
    }

    #[test]
    fn what_has_no_price_is_named() {
        let plan = Plan::from_json(
            r#"{"format":1,"cloths":[{"id":"c1","name":"Oat","usable_width":"42 in"}],
            "pieces":[{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"36 in","face":{"kind":"plain","cloth":"c1"}}]}"#,
        )
        .unwrap();
        let cost = work_out(&plan).cost;
        assert_eq!(cost.unpriced, ["Oat"]);
        assert!(cost.shown.cautions[0].contains("Oat"));
    }
}
