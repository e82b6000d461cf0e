//! What stands in the fields of the form, in words: shown where two devices
//! saved different things. The form's own names and the ids of cloths would
//! tell nobody anything.

use crate::plan::{Plan, UnitKind};
use crate::web::components::unit_letter;
use crate::web::form::{Typed, word};

pub fn told(typed: &Typed, plan: &Plan) -> Typed {
    Typed(
        typed
            .0
            .iter()
            .filter_map(|(name, value)| Some((field(name)?, words(value, plan))))
            .collect(),
    )
}

/// A cloth by its name, a kind of unit by its own; anything else as typed.
fn words(value: &str, plan: &Plan) -> String {
    if let Some(cloth) = plan.cloth(value) {
        return cloth.name.clone();
    }
    match UnitKind::ALL.into_iter().find(|k| word(k) == value) {
        Some(kind) => kind.name().into(),
        None => value.into(),
    }
}

/// `cloth1_0` is the second cloth of unit a. Nothing for fields nobody fills in.
fn field(name: &str) -> Option<String> {
    if matches!(name, "seen" | "decision_id" | "part_id" | "decided" | "why") {
        return None;
    }
    let plain = match name {
        "face" => "made of",
        "plain_cloth" => "cloth of the face",
        "finished" => "finished size of a unit",
        "finished_height" => "height of a unit",
        "painted" => "which unit stands where",
        "sashed" => "sashing",
        "sash_posts" => "posts of the sashing",
        "sash_around" => "sashing round the outside",
        _ => "",
    };
    if !plain.is_empty() {
        return Some(plain.into());
    }
    let Some((what, number)) = name
        .rsplit_once('_')
        .and_then(|(what, n)| Some((what, n.parse::<usize>().ok()?)))
    else {
        return Some(name.replace('_', " "));
    };
    let unit = unit_letter(number);
    Some(match what {
        "alt_by" | "alt_along" | "alt_reason" => format!("alteration {}, {}", number + 1, &what[4..]),
        "border_width" | "border_cloth" | "border_corners" => format!("border {}, {}", number + 1, &what[7..]),
        "kind" => format!("unit {unit}"),
        "made" => format!("unit {unit}, made at a time"),
        "across" => format!("unit {unit}, parts across"),
        "parts" => format!("unit {unit}, which part stands where"),
        other => match numbers(other).as_slice() {
            [("cloth", p)] => format!("unit {unit}, cloth {}", p + 1),
            [("part", k), ("kind", _)] => format!("unit {unit}, part {}", unit_letter(*k)),
            [("part", k), ("cloth", p)] => format!("unit {unit}, part {}, cloth {}", unit_letter(*k), p + 1),
            _ => name.replace('_', " "),
        },
    })
}

/// `part2cloth0` as part 2, cloth 0; a word without a number has 0.
fn numbers(text: &str) -> Vec<(&str, usize)> {
    let mut list = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let letters = rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len());
        let (word, after) = rest.split_at(letters);
        let digits = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
        let (number, after) = after.split_at(digits);
        list.push((word, number.parse().unwrap_or(0)));
        rest = after;
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_are_told_in_words() {
        for (name, words) in [
            ("width", "width"),
            ("cut_count", "cut count"),
            ("cloth1_0", "unit a, cloth 2"),
            ("kind_2", "unit c"),
            ("part0kind_1", "unit b, part a"),
            ("part2cloth3_0", "unit a, part c, cloth 4"),
            ("alt_by_1", "alteration 2, by"),
            ("border_corners_0", "border 1, corners"),
            ("made_0", "unit a, made at a time"),
            ("sash_width", "sash width"),
            ("lines_rising", "lines rising"),
            ("x_99999999999999999999", "x 99999999999999999999"),
        ] {
            assert_eq!(field(name).as_deref(), Some(words));
        }
        assert_eq!(field("seen"), None);
    }
}
