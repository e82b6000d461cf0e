//! What changed in the care of the whole.

use super::{differs, pairs};
use crate::figures::{CareLine, Change, Figures};

pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let lines = |f: &Figures| -> Vec<CareLine> { f.care.as_ref().map_or(Vec::new(), |c| c.lines.clone()) };
    let (was, is) = (lines(before), lines(after));
    pairs(&was, &is, |line| line.treatment)
        .into_iter()
        .filter_map(|(old, new)| {
            let words = |line: Option<&CareLine>| line.map_or("not known".to_string(), |l| l.words.clone());
            let treatment = new.or(old)?.treatment;
            differs(
                format!("Care, {}", treatment.to_lowercase()),
                words(old),
                words(new),
                words(new),
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::figures::{effect, work_out};
    use crate::plan::Plan;

    #[test]
    fn a_milder_cloth_makes_all_of_it_milder() {
        let plan = |washing: &str| {
            let json = format!(
                r#"{{"format":1,"cloths":[{{"id":"c1","name":"Oat","usable_width":"42 in","care":{{"washing":"60"}}}},
                {{"id":"c2","name":"Rust","usable_width":"42 in","care":{{"washing":"{washing}"}}}}]}}"#
            );
            work_out(&Plan::from_json(&json).unwrap())
        };
        let changes = effect(&plan("60"), &plan("hand-wash"));
        assert_eq!(changes.len(), 1);
        assert_eq!(changes[0].what, "Care, washing");
        assert_eq!(
            (changes[0].before.as_str(), changes[0].after.as_str()),
            ("wash at 60 °C", "wash by hand, lukewarm (30 °C)")
        );
    }
}
