//! The face of a piece: not decided, plain cloth, or a patchwork as a whole.

use super::form::cloth_options;
use super::{borders, painting, setting, unit};
use crate::measure::Unit as System;
use crate::plan::{Arrangement, ClothKind, Face, Patchwork, Piece, Plan, UnitKind, limits};
use crate::web::components::{choice, field_errors, kind_shapes, length_input, safe_colour, unit_drawing};
use crate::web::form::{NAME, Reader, Shown, Typed, length_text, word};
use maud::{Markup, html};

/// Kinds of the first unit to choose from, by what they look like.
const GROUPS: [(&str, &[UnitKind]); 4] = [
    (
        "Squares and strips",
        &[
            UnitKind::Square,
            UnitKind::Rail,
            UnitKind::FourPatch,
            UnitKind::NinePatch,
        ],
    ),
    (
        "With triangles",
        &[
            UnitKind::HalfSquareTriangle,
            UnitKind::QuarterSquareTriangle,
            UnitKind::FlyingGeese,
            UnitKind::SquareInASquare,
            UnitKind::Pinwheel,
        ],
    ),
    ("Of your own", &[UnitKind::Composed]),
    (
        "Sewn in rows",
        &[UnitKind::Triangle60, UnitKind::Diamond60, UnitKind::Hexagon],
    ),
];

pub fn fields(form: &Shown, plan: &Plan, known: Option<&Piece>) -> Markup {
    let no_cloth = !plan.cloths.iter().any(|c| c.kind == ClothKind::Cloth);
    let arrangements = [
        (Arrangement::AllAlike, "all alike"),
        (Arrangement::Alternating, "two units in turn, like a checkerboard"),
        (Arrangement::Rows, "rows of units in turn"),
        (Arrangement::Painted, "painted by hand, each position its own"),
    ];
    html! {
        (kind_shapes())
        span hidden data-cloth-colours=(cloth_colours(plan)) {}
        @if no_cloth {
            p.hint { "The plan has no cloth yet. Save the piece with its face not decided, then "
                a href="../cloths/new" { "add a cloth" } " and come back." }
        }
        (made_of(form))
        div.when-plain { (choice(form, "plain_cloth", "Cloth", "", &cloth_options(plan, ClothKind::Cloth, "Choose a cloth"))) }
        div.when-patchwork {
            div.pair.sizes {
                (length_input(form, "finished", "Finished size of a unit", "Its side when it is sewn in."))
                div.may-be-high { (length_input(form, "finished_height", "Height of a unit", "Empty: as high as it is wide.")) }
            }
            @if let Some(piece) = known {
                p.hint { a href=(format!("../unit-sizes?piece={}", piece.id)) { "Compare several sizes side by side" } ", with the cloth each takes." }
            }
            div.not-in-rows {
                (choice(form, "arrangement", "Arrangement", "", &arrangements.map(|(a, words)| (word(&a), words.to_string()))))
            }
            (unit::slots(form, plan))
            (painting::fields(form))
            (setting::fields(form, plan))
            (borders::fields(form, plan))
        }
    }
}

/// For the painter: the colour of each cloth by its id.
fn cloth_colours(plan: &Plan) -> String {
    let colours: serde_json::Map<String, serde_json::Value> = plan
        .cloths
        .iter()
        .map(|c| (c.id.clone(), safe_colour(&c.colour).into()))
        .collect();
    serde_json::Value::Object(colours).to_string()
}

fn made_of(form: &Shown) -> Markup {
    let chosen = form.typed.get("face");
    let pick = |value: &str, words: &str, drawing: Markup| {
        html! {
            label.face-pick {
                input type="radio" name="face" value=(value) checked[chosen == value];
                (drawing)
                span { (words) }
            }
        }
    };
    let all_kinds = GROUPS.iter().flat_map(|(_, kinds)| kinds.iter());
    html! {
        details.face-choice open[matches!(chosen, "" | "none") || form.errors.has("face")] {
            summary {
                span.chosen-face {
                    span.face-is.is-none { "Choose what it is made of" }
                    span.face-is.is-plain { "Plain cloth" }
                    @for kind in all_kinds { span class=(format!("face-is is-{}", word(kind))) { (unit_drawing(*kind)) span { "Made of: " (kind.name()) } } }
                }
            }
            fieldset.faces {
                legend.quiet { "Made of" }
                (pick("none", "not decided", html! { span.no-unit aria-hidden="true" { "?" } }))
                (pick("plain", "plain cloth", html! { span.no-unit aria-hidden="true" { "▭" } }))
                @for (group, kinds) in GROUPS {
                    p.faces-group { (group) }
                    @for kind in kinds { (pick(&word(kind), kind.name(), unit_drawing(*kind))) }
                }
            }
        }
        (field_errors(form, "face"))
    }
}

pub fn fresh(typed: &mut Typed) {
    typed.set("face", "none");
    typed.set("arrangement", word(&Arrangement::AllAlike));
}

pub fn fill(typed: &mut Typed, piece: &Piece, system: System) {
    fresh(typed);
    match &piece.face {
        Some(Face::Plain(plain)) => {
            typed.set("face", "plain");
            typed.set("plain_cloth", &plain.cloth);
        }
        Some(Face::Patchwork(p)) => {
            typed.set("finished", length_text(p.finished, system));
            if let Some(height) = p.finished_height {
                typed.set("finished_height", length_text(height, system));
            }
            typed.set("arrangement", word(&p.arrangement));
            for (n, made) in p.units.iter().take(limits::PALETTE).enumerate() {
                unit::fill(typed, n, made);
            }
            painting::fill(typed, p);
            setting::fill(typed, p, system);
            borders::fill(typed, p, system);
        }
        None => {}
    }
}

pub fn read(r: &mut Reader) -> Option<Face> {
    match r.typed.get("face") {
        "" | "none" => None,
        "plain" => {
            let cloth = r.required("plain_cloth", NAME, "Choose the cloth of the face.");
            Some(Face::plain(cloth))
        }
        _ => Some(Face::Patchwork(patchwork(r))),
    }
}

fn patchwork(r: &mut Reader) -> Patchwork {
    let alone = unit::kind_of(r.typed, 0).is_some_and(UnitKind::in_rows);
    // What is sewn in rows of its own has neither arrangement nor setting: those fields are not shown.
    let arrangement = if alone {
        Arrangement::AllAlike
    } else {
        r.choice("arrangement")
    };
    let slots = unit::in_use(r.typed, arrangement);
    if arrangement == Arrangement::Rows && slots.len() < 2 {
        r.errors
            .add("kind_1", "Rows in turn take two units or more. Choose the second one.");
    }
    let units: Vec<_> = slots.iter().map(|n| unit::read(r, *n)).collect();
    let may_be_high = units
        .iter()
        .all(|u| matches!(u.kind, UnitKind::Square | UnitKind::Rail));
    let height = may_be_high && !r.typed.get("finished_height").trim().is_empty();
    let mut face = Patchwork {
        finished: r.length_positive("finished"),
        finished_height: height.then(|| r.length_positive("finished_height")),
        arrangement,
        units,
        borders: borders::read(r),
        ..Patchwork::default()
    };
    painting::read(r, &slots, &mut face);
    if !alone {
        setting::read(r, &mut face);
    }
    face
}
