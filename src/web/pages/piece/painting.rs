//! Which unit stands where, as rows of letters: typed as they are, or painted
//! on a grid by the script, which keeps the rows in step.

use super::unit;
use crate::plan::{Arrangement, Patchwork};
use crate::web::components::{field_errors, unit_letter};
use crate::web::form::{Reader, Shown, Typed};
use maud::{Markup, html};

/// Longest text read: the most units a piece can have, each with its turn.
const MOST: usize = 130_000;

pub fn fields(form: &Shown) -> Markup {
    html! {
        div.when-painted {
            div.field.has-error[form.errors.has("painted")] {
                label for="painted" { "Which unit stands where" }
                // A browser drops a first line end; the first row may be empty.
                textarea.painted-rows id="painted" name="painted" rows="6" spellcheck="false" autocapitalize="off" autocomplete="off" data-paint="panel"
                    aria-describedby="painted-hint" aria-invalid=[form.errors.has("painted").then_some("true")] { "\n" (form.typed.get("painted")) }
                p.hint #painted-hint { "A row of letters for each row of units; 1, 2 or 3 after a letter turns the unit by quarters, clockwise: a b1 a. What is left out is unit a. On point, every second row is the shorter one between." }
                (field_errors(form, "painted"))
            }
        }
    }
}

/// `a`, `b2`.
pub fn mark(unit: usize, turn: u32) -> String {
    match turn {
        0 => unit_letter(unit).to_string(),
        turn => format!("{}{turn}", unit_letter(unit)),
    }
}

/// The place of the unit and its quarter turns, whatever units there are.
pub fn read_mark(mark: &str) -> Option<(usize, u32)> {
    let mut chars = mark.chars();
    let letter = chars.next().filter(char::is_ascii_lowercase)?;
    let turn = match chars.next() {
        None => 0,
        Some(c) => c.to_digit(4)?,
    };
    chars
        .next()
        .is_none()
        .then_some(((letter as usize) - ('a' as usize), turn))
}

/// Marks row by row; empty rows at the end are none.
pub fn rows(text: &str) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = text
        .lines()
        .map(|line| line.split_whitespace().map(str::to_ascii_lowercase).collect())
        .collect();
    while rows.last().is_some_and(Vec::is_empty) {
        rows.pop();
    }
    rows
}

/// A mark short enough for a sentence.
pub fn short(mark: &str) -> String {
    mark.chars().take(12).collect()
}

pub fn fill(typed: &mut Typed, face: &Patchwork) {
    if !face.painted.is_empty() {
        typed.set("painted", face.painted.join("\n"));
    }
}

/// Reads what is painted into a face whose units stand at `slots` of the form.
pub fn read(r: &mut Reader, slots: &[usize], face: &mut Patchwork) {
    let wanted = face.arrangement == Arrangement::Painted;
    let text = r.typed.get("painted");
    if text.len() > MOST {
        if wanted {
            r.errors.add(
                "painted",
                "These are more positions than a piece can have units. Take rows out.",
            );
        }
        return;
    }
    let mut painted = Vec::new();
    for (n, row) in rows(text).iter().enumerate() {
        let mut marks = Vec::new();
        for typed in row {
            let found = read_mark(typed).and_then(|(slot, turn)| {
                let at = slots.iter().position(|s| *s == slot)?;
                Some(mark(at, turn))
            });
            match found {
                Some(mark) => marks.push(mark),
                // Not shown and not of these units: what no arrangement asks for is let go.
                None if !wanted => return,
                None => {
                    let letters: Vec<String> = slots.iter().map(|s| unit_letter(*s).to_string()).collect();
                    r.errors.add(
                        "painted",
                        format!(
                            "In row {}, “{}” is none of the units ({}). Choose its kind above, or paint over it.",
                            n + 1,
                            short(typed),
                            letters.join(", ")
                        ),
                    );
                    return;
                }
            }
        }
        painted.push(marks.join(" "));
    }
    face.painted = painted;
}

/// The place of a unit in the form from its place in the plan.
pub fn slot(typed: &Typed, arrangement: Arrangement, unit: usize) -> usize {
    unit::in_use(typed, arrangement).get(unit).copied().unwrap_or(0)
}
