//! Beside a panel: its units large where there are several, and what each cloth is for.

use super::unit::unit_view;
use crate::plan::{Arrangement, Face, Patchwork, Plan};
use crate::web::components::{letter, swatch};
use maud::{Markup, html};

/// The letter of a unit in what is painted: a the first.
pub fn unit_letter(n: usize) -> char {
    char::from(b'a' + (n % 26) as u8)
}

/// Units alone, lettered: where the panel is drawn too small for letters, or
/// has several of them.
pub fn unit_legend(plan: &Plan, face: &Patchwork, small: bool) -> Markup {
    let several = face.units.len() > 1;
    let alone = face.units.first().is_some_and(|u| u.kind.in_rows());
    html! {
        @if (several || small) && !alone {
            ul.unit-legend {
                @for (n, unit) in face.units.iter().enumerate() {
                    li {
                        (unit_view(plan, unit))
                        span { @if several { b { (unit_letter(n)) } " " } (unit.kind.name()) }
                    }
                }
            }
        }
    }
}

/// Every cloth of a face once, and what besides patches it is for.
pub fn legend(plan: &Plan, face: &Face) -> Markup {
    let mut seen: Vec<(usize, Vec<String>)> = Vec::new();
    let mut note = |id: &str, use_of: Option<String>| {
        let Some(i) = plan.cloths.iter().position(|c| c.id == id) else {
            return;
        };
        let at = seen.iter().position(|(known, _)| *known == i).unwrap_or_else(|| {
            seen.push((i, Vec::new()));
            seen.len() - 1
        });
        if let Some(use_of) = use_of
            && !seen[at].1.contains(&use_of)
        {
            seen[at].1.push(use_of);
        }
    };
    match face {
        Face::Plain(plain) => note(&plain.cloth, None),
        Face::Patchwork(p) => {
            for id in p.units.iter().flat_map(|u| u.all_cloths()) {
                note(id, None);
            }
            if let Some(on_point) = &p.on_point {
                note(&on_point.side, Some("side triangles".into()));
                note(&on_point.corner, Some("corner triangles".into()));
            }
            if let Some(sashing) = &p.sashing {
                note(&sashing.cloth, Some("sashing".into()));
                if let Some(posts) = &sashing.posts {
                    note(posts, Some("posts".into()));
                }
            }
            for (n, border) in p.borders.iter().enumerate() {
                note(&border.cloth, Some(border_name(n, p.borders.len())));
                if let Some(corners) = &border.corners {
                    note(corners, Some("border corners".into()));
                }
            }
        }
    }
    html! {
        ul.legend {
            @for (i, uses) in seen { li {
                (swatch(&plan.cloths[i].colour, Some(&letter(i)), None))
                span { (plan.cloths[i].name) @if !uses.is_empty() { span.meta { ", " (uses.join(", ")) } } }
            } }
        }
    }
}

pub fn border_name(n: usize, of: usize) -> String {
    if of == 1 {
        "border".into()
    } else {
        format!("border {}", n + 1)
    }
}

/// The arrangement in a few words, for the name of a drawing.
pub fn arranged(face: &Patchwork) -> &'static str {
    match (face.arrangement, face.on_point.is_some()) {
        (Arrangement::AllAlike, false) => "all alike",
        (Arrangement::AllAlike, true) => "all alike, on point",
        (Arrangement::Alternating, false) => "two units in turn",
        (Arrangement::Alternating, true) => "two units in turn, on point",
        (Arrangement::Rows, false) => "rows in turn",
        (Arrangement::Rows, true) => "rows in turn, on point",
        (Arrangement::Painted, false) => "as painted",
        (Arrangement::Painted, true) => "as painted, on point",
    }
}
