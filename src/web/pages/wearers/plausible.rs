//! Measures that are asked back: one in the wrong unit, or with a digit too
//! many, would spoil every figure that follows from it.
//!
//! The limits are wide, from memory: no body is meant to be beyond them. What
//! was measured before is a closer one: a wearer does not become twice as wide.

use super::names::how_to;
use super::show::value_of;
use crate::measure::{Length, Round, Unit, capital};
use crate::notebook::{Measurement, MeasurementSet, WearerKind};

/// Round the trunk.
const TRUNK: [&str; 6] = [
    "bust girth",
    "chest girth",
    "waist girth",
    "hip girth",
    "underbust girth",
    "belly girth",
];

/// Centimetres.
const LEAST: i64 = 3;

/// The most of a measure with a known name, in centimetres.
fn most(kind: WearerKind, name: &str) -> Option<i64> {
    let is = |known: &str| known.eq_ignore_ascii_case(name.trim());
    if how_to(kind, name).is_empty() {
        return None;
    }
    let trunk = TRUNK.into_iter().any(is);
    let girth = name.trim().to_ascii_lowercase().ends_with("girth");
    match kind {
        WearerKind::Adult if trunk => Some(250),
        WearerKind::Adult if girth => Some(130),
        WearerKind::Adult => Some(260),
        WearerKind::Child if trunk => Some(140),
        WearerKind::Child if girth => Some(80),
        WearerKind::Child => Some(200),
        WearerKind::Animal => Some(300),
        WearerKind::Household => None,
    }
}

/// The sentence that asks, where there is something to ask.
pub fn asked_back(
    kind: WearerKind,
    measure: &Measurement,
    last: Option<&MeasurementSet>,
    unit: Unit,
) -> Option<String> {
    let cm = |n: i64| Length::whole_mm(n * 10);
    let is = measure.value;
    let both = |length: Length| length.both(unit, Round::Nearest);
    let before = last.and_then(|set| value_of(set, &measure.name));
    let why = match before {
        Some(was) if was.is_positive() && (is > was * 2 || is * 2 < was) => format!("it was {}", both(was)),
        _ => match most(kind, &measure.name) {
            Some(most) if is > cm(most) => "that is more than anybody has".to_string(),
            Some(_) if is < cm(LEAST) => "that is less than anybody has".to_string(),
            _ => return None,
        },
    };
    Some(format!(
        "{} of {}? Here {why}. Type the length with its unit, such as {}, or tick under the measures that it is so.",
        capital(&measure.name),
        both(is),
        match unit {
            Unit::Inch => "22 1/2 in",
            Unit::Cm => "57 cm",
        }
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asks(kind: WearerKind, name: &str, value: &str, before: Option<&str>) -> Option<String> {
        let parsed = |text: &str| Length::parse(text, Unit::Cm).expect("a length");
        let measure = |text: &str| Measurement {
            name: name.into(),
            value: parsed(text),
        };
        let last = before.map(|text| MeasurementSet {
            id: crate::notebook::Id::now_v7(),
            taken_on: chrono::NaiveDate::default(),
            values: vec![measure(text)],
        });
        asked_back(kind, &measure(value), last.as_ref(), Unit::Cm)
    }

    #[test]
    fn a_digit_too_many_or_another_unit_is_asked_back() {
        let child = asks(WearerKind::Child, "waist girth", "570", None).expect("asked");
        assert!(
            child.contains("Waist girth of 570") && child.contains("57 cm"),
            "{child}"
        );
        assert!(asks(WearerKind::Child, "Waist girth", "57 in", None).is_some());
        assert!(asks(WearerKind::Adult, "wrist girth", "165", None).is_some());
        assert!(asks(WearerKind::Adult, "height", "16.5 in", Some("165")).is_some());
        assert!(asks(WearerKind::Adult, "waist girth", "70 mm", Some("70")).is_some());
        assert!(asks(WearerKind::Animal, "neck girth", "4 mm", None).is_some());
    }

    #[test]
    fn what_bodies_have_is_not() {
        // From a newborn child to the largest sizes of the trade.
        for (kind, name, value) in [
            (WearerKind::Child, "wrist girth", "8"),
            (WearerKind::Child, "waist girth", "40"),
            (WearerKind::Child, "height", "190"),
            (WearerKind::Adult, "hip girth", "180"),
            (WearerKind::Adult, "height", "210"),
            (WearerKind::Adult, "foot length", "31"),
            (WearerKind::Animal, "chest girth", "110"),
            (WearerKind::Household, "width", "1200"),
            (WearerKind::Adult, "strap length", "700"),
        ] {
            assert_eq!(asks(kind, name, value, None), None, "{name} {value}");
        }
        // A child grows, but not that much.
        assert_eq!(asks(WearerKind::Child, "waist girth", "62", Some("51")), None);
    }
}
