//! Ease as it is printed for the girths of a garment: a hint, never a rule.

use crate::measure::Length;
use serde::Serialize;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct EaseHint {
    /// What it is printed for: "bodice".
    pub what: &'static str,
    pub least: Length,
    pub most: Length,
    pub source: &'static str,
}

const CWU: &str =
    "Central Washington University, costume text ch. 16, cwu.edu/~robinsos/ppages/resources/costxt/costxt_16.htm";
const ALTO: &str = "Alto & Palmer, Fit for Real People ch. 3, scribd.com/document/377205004";
const REPOST: &str = "an anonymous repost, 9, 12, 16 and 20 cm";

const fn hint(what: &'static str, least: (i64, i64), most: (i64, i64), source: &'static str) -> EaseHint {
    EaseHint {
        what,
        least: Length::inches_frac(least.0, least.1),
        most: Length::inches_frac(most.0, most.1),
        source,
    }
}

const BUST: [EaseHint; 2] = [
    hint("bodice", (3, 2), (2, 1), CWU),
    hint("least of a basic pattern, about", (5, 2), (5, 2), ALTO),
];
const WAIST: [EaseHint; 3] = [
    hint("waist of a dress", (3, 4), (1, 1), CWU),
    hint("waist of a skirt or trousers", (1, 2), (3, 4), CWU),
    hint("least of a basic pattern, about", (1, 1), (1, 1), ALTO),
];
const HIP: [EaseHint; 2] = [
    hint("hips of any garment", (2, 1), (11, 4), CWU),
    hint("least of a basic pattern, about", (2, 1), (2, 1), ALTO),
];
const CHEST: [EaseHint; 6] = [
    hint("fitted shirt", (3, 2), (5, 2), CWU),
    hint("classic shirt, up to", (5, 2), (3, 1), CWU),
    hint("shirt, extremely slim", (7, 2), (7, 2), REPOST),
    hint("shirt, slim", (19, 4), (19, 4), REPOST),
    hint("shirt, normal", (25, 4), (25, 4), REPOST),
    hint("shirt, loose", (31, 4), (31, 4), REPOST),
];
const SEAT: [EaseHint; 1] = [hint("seat of trousers", (3, 2), (2, 1), CWU)];
const THIGH: [EaseHint; 1] = [hint("thigh of trousers, at least", (1, 1), (1, 1), CWU)];

/// What is printed for the girth of this name.
pub fn hints(name: &str) -> &'static [EaseHint] {
    let name = name.to_lowercase();
    let lists: [(&str, &'static [EaseHint]); 6] = [
        ("bust", &BUST),
        ("chest", &CHEST),
        ("waist", &WAIST),
        ("hip", &HIP),
        ("seat", &SEAT),
        ("thigh", &THIGH),
    ];
    // "back neck point to waist" is a length, and "underbust" has no printed ease.
    let is_girth = !name.contains("length") && !name.contains(" to ") && !name.contains("under");
    lists
        .iter()
        .find(|(word, _)| is_girth && name.contains(word))
        .map_or(&[], |(_, list)| list)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hints_are_of_girths_alone() {
        assert_eq!(hints("Bust girth").len(), 2);
        assert!(hints("back neck point to waist").is_empty());
        assert!(hints("underbust girth").is_empty());
        assert!(hints("arm length").is_empty());
    }
}
