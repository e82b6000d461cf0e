//! The parts of a composed unit: what they are, and which stands where and how
//! it is turned, as rows of letters like a painted panel.

use super::unit;
use super::{form::cloth_options, painting};
use crate::plan::{ClothKind, Part, Plan, Unit, UnitKind};
use crate::web::components::{choice, field_errors, option_list, unit_drawing, unit_letter};
use crate::web::form::{Reader, Shown, Typed, word};
use maud::{Markup, html};

/// A unit of four by four parts can have as many kinds of them.
const PARTS: usize = 16;

fn kinds() -> impl Iterator<Item = UnitKind> + Clone {
    UnitKind::ALL.into_iter().filter(|k| k.may_be_part())
}

pub fn fields(form: &Shown, plan: &Plan, n: usize) -> Markup {
    let last = (0..PARTS)
        .rev()
        .find(|k| !form.typed.get(&format!("part{k}kind_{n}")).is_empty())
        .unwrap_or(0);
    let across = [2, 3, 4].map(|a| (a.to_string(), format!("{a} across, {a} down")));
    let text = format!("parts_{n}");
    html! {
        (choice(form, &format!("across_{n}"), "Parts", "Each is sewn as a unit of its own, then all are sewn together.", &across))
        div.parts {
            @for k in 0..(last + 2).clamp(2, PARTS) { (part(form, plan, n, k)) }
            button.button.quiet type="button" hidden data-add-part { "Another part" }
        }
        div.field.has-error[form.errors.has(&text)] {
            label for=(text) { "Which part stands where" }
            textarea.painted-rows id=(text) name=(text) rows="4" spellcheck="false" autocapitalize="off" autocomplete="off"
                data-paint=(format!("parts {n}")) aria-describedby=(format!("{text}-hint")) aria-invalid=[form.errors.has(&text).then_some("true")] { "\n" (form.typed.get(&text)) }
            p.hint id=(format!("{text}-hint")) { "A row of letters for each row of parts; 1, 2 or 3 after a letter turns the part by quarters, clockwise: a b1 a." }
            (field_errors(form, &text))
        }
    }
}

fn part(form: &Shown, plan: &Plan, n: usize, k: usize) -> Markup {
    let field = format!("part{k}kind_{n}");
    let none = if k == 0 { "Choose a part" } else { "none" };
    let options: Vec<_> = std::iter::once((String::new(), none.to_string()))
        .chain(kinds().map(|kind| (word(&kind), kind.name().to_string())))
        .collect();
    html! {
        fieldset.part data-part {
            legend { "Part " span.slot-letter data-letter { (unit_letter(k)) } }
            div.kind-row {
                span.kind-views aria-hidden="true" {
                    @for kind in kinds() { span class=(format!("for q-{}", word(&kind))) { (unit_drawing(kind)) } }
                }
                div.field.has-error[form.errors.has(&field)] {
                    label for=(field) { "Kind" }
                    select.part-kind id=(field) name=(field) aria-invalid=[form.errors.has(&field).then_some("true")] {
                        (option_list(form.typed.get(&field), &options))
                    }
                    (field_errors(form, &field))
                }
            }
            div.positions {
                @for p in 0..8 { (unit::position(form, plan, &format!("part{k}cloth{p}_{n}"), p, "q", kinds())) }
            }
        }
    }
}

/// For the script: the fields of a unit that becomes a composed one.
pub fn template(plan: &Plan) -> Markup {
    // No cloths, nothing to compose.
    let any = cloth_options(plan, ClothKind::Cloth, "").len() > 1;
    html! { @if any { template data-parts-template { (fields(&Shown::default(), plan, 0)) } } }
}

pub fn fill(typed: &mut Typed, n: usize, unit: &Unit) {
    let across = across(unit.parts.len());
    let mut different: Vec<(UnitKind, &[String])> = Vec::new();
    let mut marks = Vec::new();
    for part in unit.parts.iter().take(PARTS) {
        let own = (part.kind, part.cloths.as_slice());
        let k = different.iter().position(|d| *d == own).unwrap_or_else(|| {
            different.push(own);
            different.len() - 1
        });
        marks.push(painting::mark(k, part.turn));
    }
    for (k, (kind, cloths)) in different.iter().enumerate() {
        typed.set(&format!("part{k}kind_{n}"), word(kind));
        for (p, cloth) in cloths.iter().enumerate() {
            typed.set(&format!("part{k}cloth{p}_{n}"), cloth);
        }
    }
    typed.set(&format!("across_{n}"), across.to_string());
    let rows: Vec<String> = marks.chunks(across).map(|row| row.join(" ")).collect();
    typed.set(&format!("parts_{n}"), rows.join("\n"));
}

pub fn across(parts: usize) -> usize {
    (2..4).find(|n| n * n >= parts).unwrap_or(4)
}

/// The kinds of parts that are filled in, by their place.
fn chosen(typed: &Typed, n: usize) -> Vec<usize> {
    (0..PARTS)
        .filter(|k| !typed.get(&format!("part{k}kind_{n}")).is_empty())
        .collect()
}

/// The field of the part that stands at a position, its kind or one of its cloths.
pub fn field_at(typed: &Typed, n: usize, position: usize, cloth: Option<usize>) -> String {
    let across = typed.get(&format!("across_{n}")).parse::<usize>().unwrap_or(2).max(1);
    let text = typed.get(&format!("parts_{n}"));
    let row = text.lines().nth(position / across).unwrap_or("");
    let letter = row
        .split_whitespace()
        .nth(position % across)
        .and_then(|m| m.chars().next());
    let k = letter
        .filter(char::is_ascii_lowercase)
        .map_or(0, |c| (c as usize) - ('a' as usize))
        .min(PARTS - 1);
    match cloth {
        Some(p) => format!("part{k}cloth{p}_{n}"),
        None => format!("part{k}kind_{n}"),
    }
}

pub fn read(r: &mut Reader, n: usize) -> Vec<Part> {
    let across_field = format!("across_{n}");
    let across = match r.typed.get(&across_field).trim() {
        "" => 2,
        other => match other.parse::<usize>() {
            Ok(a @ 2..=4) => a,
            _ => {
                r.errors.add(across_field, "Choose 2, 3 or 4 across.");
                2
            }
        },
    };
    let chosen = chosen(r.typed, n);
    if chosen.is_empty() {
        r.errors.add(
            format!("part0kind_{n}"),
            "Choose the parts this unit is made of, and their cloths.",
        );
        return Vec::new();
    }
    let mut made = Vec::new();
    for k in &chosen {
        let field = format!("part{k}kind_{n}");
        let Some(kind) = kinds().find(|kind| word(kind) == r.typed.get(&field)) else {
            r.errors.add(field, "Choose one of the parts.");
            return Vec::new();
        };
        made.push((kind, unit::cloths(r, kind, |p| format!("part{k}cloth{p}_{n}"))));
    }
    let text = format!("parts_{n}");
    let rows = painting::rows(r.typed.get(&text));
    let mut parts = Vec::new();
    for row in 0..across {
        for column in 0..across {
            let mark = rows.get(row).and_then(|marks| marks.get(column));
            let (k, turn) = match mark.map(|m| painting::read_mark(m)) {
                None => (chosen[0], 0),
                Some(Some(mark)) if chosen.contains(&mark.0) => mark,
                Some(_) => {
                    let last = unit_letter(chosen[chosen.len() - 1]);
                    r.errors.add(
                        &text,
                        format!(
                            "In row {}, “{}” is none of the parts. Type a letter from a to {last}, and 1, 2 or 3 to turn it.",
                            row + 1,
                            painting::short(mark.map_or("", String::as_str))
                        ),
                    );
                    return Vec::new();
                }
            };
            let at = chosen.iter().position(|c| *c == k).unwrap_or(0);
            let (kind, cloths) = made[at].clone();
            parts.push(Part { kind, cloths, turn });
        }
    }
    parts
}
