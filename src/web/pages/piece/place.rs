//! The field a problem of the figures belongs beside.

use super::{borders, painting, parts, unit};
use crate::figures::Problem;
use crate::plan::{Arrangement, UnitKind};
use crate::web::form::{Typed, word};

/// `own` is the place of the piece in the plan: `pieces/p1`.
pub fn of(problem: &Problem, own: &str, typed: &Typed) -> String {
    let at = problem.field.strip_prefix(own).unwrap_or("").trim_start_matches('/');
    let words: Vec<&str> = at.split('/').collect();
    let number = |text: &str| text.parse::<usize>().unwrap_or(0);
    match words.as_slice() {
        ["face", rest @ ..] => face(rest, typed),
        ["layers", "quilting", way, ..] => format!("lines_{way}"),
        ["layers", which @ ("batting" | "backing"), ..] => (*which).into(),
        ["layers", ..] => "quilted".into(),
        ["alterations", n, ..] => format!("alt_by_{}", number(n)),
        ["alterations"] => "alt_by_0".into(),
        [
            field @ ("name" | "cut_count" | "mirrored" | "on_fold" | "width" | "height" | "margin" | "take_up"
            | "take_up_from"),
            ..,
        ] => (*field).into(),
        _ => "name".into(),
    }
}

fn face(words: &[&str], typed: &Typed) -> String {
    let number = |text: &str| text.parse::<usize>().unwrap_or(0);
    match words {
        ["cloth", ..] => "plain_cloth".into(),
        [field @ ("finished" | "finished_height" | "arrangement" | "painted"), ..] => (*field).into(),
        ["units", n, rest @ ..] => {
            let n = painting::slot(typed, arrangement(typed), number(n));
            match rest {
                ["parts", position, "cloths", p, ..] => parts::field_at(typed, n, number(position), Some(number(p))),
                ["parts", position, ..] => parts::field_at(typed, n, number(position), None),
                ["parts"] => format!("parts_{n}"),
                ["at_a_time", ..] => format!("made_{n}"),
                ["cloths", p, ..] => format!("cloth{}_{n}", number(p)),
                ["cloths"] if unit::kind_of(typed, n) != Some(UnitKind::Composed) => format!("cloth0_{n}"),
                _ if n == 0 => "face".into(),
                _ => format!("kind_{n}"),
            }
        }
        ["on_point", "side", ..] => "side_cloth".into(),
        ["on_point", "corner", ..] => "corner_cloth".into(),
        ["on_point", ..] => "on_point".into(),
        ["sashing", field @ ("width" | "cloth" | "posts" | "around"), ..] => format!("sash_{field}"),
        ["sashing", ..] => "sashed".into(),
        ["borders", n, rest @ ..] => {
            let row = borders::in_use(typed).get(number(n)).copied().unwrap_or(0);
            match rest.first() {
                Some(field @ (&"cloth" | &"corners")) => format!("border_{field}_{row}"),
                _ => format!("border_width_{row}"),
            }
        }
        ["borders"] => "border_width_0".into(),
        _ => "face".into(),
    }
}

fn arrangement(typed: &Typed) -> Arrangement {
    if unit::kind_of(typed, 0).is_some_and(UnitKind::in_rows) {
        return Arrangement::AllAlike;
    }
    [
        Arrangement::AllAlike,
        Arrangement::Alternating,
        Arrangement::Rows,
        Arrangement::Painted,
    ]
    .into_iter()
    .find(|a| word(a) == typed.get("arrangement"))
    .unwrap_or_default()
}
