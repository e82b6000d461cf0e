//! What changed in the worth of all that is in it. What is to be spent on cloth
//! stands with the cloth.

use crate::figures::{Change, Figures};
use crate::measure::Money;

pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let besides_cloth = |f: &Figures| {
        let hundredths = f.cost.to_spend.as_hundredths() - f.totals.to_buy_known.as_hundredths();
        Money::hundredths(hundredths.max(0))
    };
    // More of what is owned costs nothing and is worth something.
    let spending = before.cost.to_spend != after.cost.to_spend;
    [
        ("To spend besides cloth", besides_cloth(before), besides_cloth(after)),
        ("Worth of all that is in it", before.cost.worth, after.cost.worth),
    ]
    .into_iter()
    .take(if spending { 1 } else { 2 })
    .filter(|(_, was, is)| was != is)
    .map(|(what, was, is)| {
        let by = (is.as_hundredths() - was.as_hundredths()).saturating_abs();
        let sign = if is < was { "−" } else { "+" };
        Change {
            what: what.into(),
            before: was.to_string(),
            after: is.to_string(),
            difference: format!("{sign}{}", Money::hundredths(by)),
        }
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use crate::figures::{effect, work_out};
    use crate::plan::Plan;

    #[test]
    fn a_dearer_notion_costs_more() {
        let plan = |price: &str| {
            let json = format!(r#"{{"format":1,"notions":[{{"id":"n1","name":"Tape","price":"{price}"}}]}}"#);
            work_out(&Plan::from_json(&json).unwrap())
        };
        let changes = effect(&plan("2.00"), &plan("3.50"));
        assert_eq!(changes.len(), 1, "{changes:?}");
        assert_eq!(
            (changes[0].what.as_str(), changes[0].difference.as_str()),
            ("To spend besides cloth", "+1.50")
        );
    }
}
