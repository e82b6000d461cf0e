//! Sums over the whole project.

use super::{ClothFigures, PieceFigures, Size, Totals};
use crate::measure::{INCH, Unit};
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
    if !plan.edges.is_empty() && plan.binding.is_none() {
        totals
            .cautions
            .push("The edges to bind are not counted: no binding is chosen for them yet.".into());
    }
    totals.cautions.extend(super::binding::left_out(plan));
    if pieces.iter().any(|p| under_a_small_panel(plan, p)) {
        totals.cautions.push(
            "Batting and backing reach 3 in (7.6 cm) or more beyond every panel, as under a whole quilt. For small panels 1 to 2 in is common practice; change it under Allowances."
                .into(),
        );
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

/// The quilters' overage takes half as much again as the panel itself.
fn under_a_small_panel(plan: &Plan, piece: &PieceFigures) -> bool {
    let Some(panel) = &piece.panel else { return false };
    let area = |size: Size| i128::from(size.width.units()) * i128::from(size.height.units());
    let a = &plan.allowances;
    [(piece.batting, a.batting_overage), (piece.backing, a.backing_overage)]
        .into_iter()
        .any(|(size, overage)| size.is_some_and(|s| overage >= INCH * 3 && area(s) * 2 > area(panel.before) * 3))
}

#[cfg(test)]
mod tests {
    use crate::figures::work_out;
    use crate::plan::Plan;

    fn said(json: &str) -> Vec<String> {
        work_out(&Plan::from_json(json).unwrap()).totals.cautions
    }

    #[test]
    fn edges_without_a_binding_are_not_passed_over() {
        let edge = r#""edges":[{"id":"e1","name":"Hem","length":"40 in","count":1}]"#;
        let cloth = r#""cloths":[{"id":"c1","name":"Cream","usable_width":"42 in"}]"#;
        let without = said(&format!(r#"{{"format":1,{cloth},{edge}}}"#));
        assert!(
            without.iter().any(|c| c.contains("no binding is chosen")),
            "{without:?}"
        );
        let with = said(&format!(
            r#"{{"format":1,{cloth},{edge},"binding":{{"cloth":"c1","fold":"double","cut":"straight","finished_width":"3/8 in"}}}}"#
        ));
        assert!(!with.iter().any(|c| c.contains("no binding is chosen")), "{with:?}");
    }

    #[test]
    fn a_quilts_overage_under_a_pocket_is_pointed_out() {
        let plan = |side: &str, overage: &str| {
            said(&format!(
                r#"{{"format":1,"allowances":{{"batting_overage":"{overage}"}},
                "cloths":[{{"id":"c1","name":"Cream","usable_width":"108 in"}},{{"id":"c2","name":"Wool","kind":"batting","usable_width":"108 in"}}],
                "pieces":[{{"id":"p1","name":"Pocket","cut_count":1,"width":"{side}","height":"{side}","take_up":"3 %",
                "face":{{"kind":"plain","cloth":"c1"}},"layers":{{"batting":"c2"}}}}]}}"#
            ))
        };
        let hint = |list: Vec<String>| list.iter().any(|c| c.contains("For small panels"));
        assert!(hint(plan("9 in", "3 in")));
        assert!(!hint(plan("9 in", "1 in")));
        assert!(!hint(plan("60 in", "3 in")));
    }
}
