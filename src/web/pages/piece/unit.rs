//! One unit of a patchwork: its kind, its cloths by position, how many are made at a time.

use super::form::cloth_options;
use super::parts;
use crate::plan::{Arrangement, ClothKind, Plan, Unit, UnitKind, limits};
use crate::web::components::{choice, field_errors, option_list, unit_drawing, unit_letter};
use crate::web::form::{Reader, Shown, Typed, word};
use maud::{Markup, html};

/// Most positions a unit has.
const POSITIONS: usize = 8;

/// What a position is called, by kind.
fn position_name(kind: UnitKind, position: usize) -> String {
    let names: &[&str] = match kind {
        UnitKind::HalfSquareTriangle => &["Top left", "Bottom right"],
        UnitKind::QuarterSquareTriangle => &["Top", "Right", "Bottom", "Left"],
        UnitKind::FlyingGeese => &["Geese", "Sky"],
        UnitKind::SquareInASquare => &["Centre", "Corners"],
        UnitKind::FourPatch => &["Top left and bottom right", "The other two"],
        UnitKind::NinePatch => &["Corners and centre", "The other four"],
        UnitKind::Pinwheel => &["Blades", "Ground"],
        UnitKind::Triangle60 => &["Pointing up", "Pointing down"],
        UnitKind::Square | UnitKind::Composed => &["Cloth"],
        UnitKind::Rail => return format!("Strip {}", position + 1),
        UnitKind::Diamond60 | UnitKind::Hexagon if position == 0 => &["Cloth"],
        UnitKind::Diamond60 | UnitKind::Hexagon => return format!("In turn, cloth {}", position + 1),
    };
    names.get(position).copied().unwrap_or("Cloth").to_string()
}

/// The kind chosen for a place among the units; the first is chosen with the face.
pub fn kind_of(typed: &Typed, n: usize) -> Option<UnitKind> {
    let value = match n {
        0 => typed.get("face"),
        n => typed.get(&format!("kind_{n}")),
    };
    UnitKind::ALL.into_iter().find(|k| word(k) == value)
}

/// The places whose units belong to the patchwork.
pub fn in_use(typed: &Typed, arrangement: Arrangement) -> Vec<usize> {
    match arrangement {
        Arrangement::AllAlike => vec![0],
        Arrangement::Alternating => vec![0, 1],
        Arrangement::Rows | Arrangement::Painted => (0..limits::PALETTE)
            .filter(|n| *n == 0 || !typed.get(&format!("kind_{n}")).is_empty())
            .collect(),
    }
}

/// All places to be shown: those with a unit, and one to fill.
pub fn slots(form: &Shown, plan: &Plan) -> Markup {
    let last = (1..limits::PALETTE)
        .rev()
        .find(|n| !form.typed.get(&format!("kind_{n}")).is_empty())
        .unwrap_or(0);
    html! {
        div.unit-slots {
            @for n in 0..(last + 2).min(limits::PALETTE) { (slot(form, plan, n)) }
            button.button.quiet.when-many type="button" hidden data-add-row data-most=(limits::PALETTE) { "Another unit" }
        }
        (parts::template(plan))
    }
}

fn slot(form: &Shown, plan: &Plan, n: usize) -> Markup {
    let kind_field = format!("kind_{n}");
    let kinds = UnitKind::ALL.into_iter().filter(|k| n == 0 || !k.in_rows());
    let made = [
        ("2", "2 at a time, from a pair of squares"),
        ("4", "4 at a time, sewn all round"),
        ("8", "8 at a time, along both diagonals"),
    ];
    let class = match n {
        0 => "unit-slot slot-first",
        1 => "unit-slot slot-second",
        _ => "unit-slot slot-more",
    };
    html! {
        fieldset class=(class) data-row data-slot {
            legend { "Unit " span.slot-letter data-letter { (unit_letter(n)) } }
            @if n > 0 {
                div.kind-row {
                    span.kind-views aria-hidden="true" {
                        @for kind in kinds.clone() { span class=(format!("for k-{}", word(&kind))) { (unit_drawing(kind)) } }
                    }
                    div.field.has-error[form.errors.has(&kind_field)] {
                        label for=(kind_field) { "Kind" }
                        @let options: Vec<_> = std::iter::once((String::new(), "none".to_string()))
                            .chain(kinds.clone().map(|k| (word(&k), k.name().to_string()))).collect();
                        select.unit-kind id=(kind_field) name=(kind_field) aria-invalid=[form.errors.has(&kind_field).then_some("true")] {
                            (option_list(form.typed.get(&kind_field), &options))
                        }
                        (field_errors(form, &kind_field))
                    }
                }
            }
            div.positions {
                @for p in 0..POSITIONS {
                    (position(form, plan, &format!("cloth{p}_{n}"), p, "k", kinds.clone()))
                }
            }
            div.for.k-half-square-triangle {
                (choice(form, &format!("made_{n}"), "Made", "", &made.map(|(v, w)| (v.to_string(), w.to_string()))))
            }
            div.for.k-composed data-parts-of=(n) {
                @if kind_of(&form.typed, n) == Some(UnitKind::Composed) { (parts::fields(form, plan, n)) }
            }
        }
    }
}

/// The cloth of one position, shown for the kinds that have it and named as each calls it.
pub fn position(
    form: &Shown,
    plan: &Plan,
    field: &str,
    p: usize,
    prefix: &str,
    kinds: impl Iterator<Item = UnitKind>,
) -> Markup {
    let kinds: Vec<UnitKind> = kinds.filter(|k| p < k.positions().1).collect();
    let class = |list: &[UnitKind]| {
        let marks: Vec<String> = list.iter().map(|k| format!(" {prefix}-{}", word(k))).collect();
        // Fifth and later strips wait for the one before them.
        let run = if p >= 4 { " run" } else { "" };
        format!("for{run}{}", marks.concat())
    };
    // One name for all kinds that call it the same.
    let mut names: Vec<(String, Vec<UnitKind>)> = Vec::new();
    for kind in &kinds {
        let name = position_name(*kind, p);
        match names.iter_mut().find(|(known, _)| *known == name) {
            Some((_, list)) => list.push(*kind),
            None => names.push((name, vec![*kind])),
        }
    }
    let none = match kinds.iter().filter(|k| p >= k.positions().0).count() {
        0 => "Choose a cloth",
        n if n == kinds.len() => "none",
        _ => "not chosen",
    };
    html! {
        @if !kinds.is_empty() {
            div class=(class(&kinds)) {
                div.field.has-error[form.errors.has(field)] {
                    label for=(field) { @for (name, list) in &names { span class=(class(list)) { (name) } } }
                    select id=(field) name=(field) data-position aria-describedby=[form.errors.has(field).then(|| format!("{field}-error"))]
                        aria-invalid=[form.errors.has(field).then_some("true")] {
                        (option_list(form.typed.get(field), &cloth_options(plan, ClothKind::Cloth, none)))
                    }
                    (field_errors(form, field))
                }
            }
        }
    }
}

pub fn fill(typed: &mut Typed, n: usize, unit: &Unit) {
    let kind_field = if n == 0 {
        "face".to_string()
    } else {
        format!("kind_{n}")
    };
    typed.set(&kind_field, word(&unit.kind));
    for (p, cloth) in unit.cloths.iter().enumerate() {
        typed.set(&format!("cloth{p}_{n}"), cloth);
    }
    if unit.kind == UnitKind::HalfSquareTriangle {
        typed.set(&format!("made_{n}"), unit.at_a_time.to_string());
    }
    if unit.kind == UnitKind::Composed {
        parts::fill(typed, n, unit);
    }
}

pub fn read(r: &mut Reader, n: usize) -> Unit {
    let Some(kind) = kind_of(r.typed, n).filter(|k| n == 0 || !k.in_rows()) else {
        let field = if n == 0 {
            "face".to_string()
        } else {
            format!("kind_{n}")
        };
        r.errors.add(field, "Choose one of the units.");
        return Unit::default();
    };
    let mut unit = Unit::new(kind, cloths(r, kind, |p| format!("cloth{p}_{n}")));
    match kind {
        UnitKind::HalfSquareTriangle => {
            let field = format!("made_{n}");
            unit.at_a_time = match r.typed.get(&field) {
                "" | "2" => 2,
                "4" => 4,
                "8" => 8,
                _ => {
                    r.errors.add(field, "Choose 2, 4 or 8 at a time.");
                    2
                }
            };
        }
        UnitKind::Composed => unit.parts = parts::read(r, n),
        _ => {}
    }
    unit
}

/// The cloths chosen for the positions of a kind.
pub fn cloths(r: &mut Reader, kind: UnitKind, field: impl Fn(usize) -> String) -> Vec<String> {
    let (least, most) = kind.positions();
    let mut list = Vec::new();
    for p in 0..most {
        let field = field(p);
        match r.typed.get(&field) {
            "" if p < least => r.errors.add(&field, "Choose a cloth for this place."),
            "" => {}
            cloth => list.push(cloth.to_string()),
        }
    }
    list
}
