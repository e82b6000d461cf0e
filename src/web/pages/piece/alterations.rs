//! What is changed of the printed pattern, a row each.

use crate::measure::{Length, Unit};
use crate::plan::{Along, Alteration, Piece, limits};
use crate::web::components::{length_change_input, option_list, text};
use crate::web::form::{LINE, Reader, Shown, Typed, length_text, word};
use maud::{Markup, html};

pub fn fields(form: &Shown) -> Markup {
    let along: Vec<_> = [Along::Height, Along::Width]
        .iter()
        .map(|a| (word(a), a.name().to_string()))
        .collect();
    html! {
        p.hint { "What you change of the printed pattern: +1 in lengthens, -2 cm shortens. Clear a row to take it out." }
        @for i in 0..rows(&form.typed) {
            fieldset.alteration data-row {
                legend.quiet { "Alteration " (i + 1) }
                div.alteration-row {
                    div.field { label for=(format!("alt_along_{i}")) { "Along the" }
                        select id=(format!("alt_along_{i}")) name=(format!("alt_along_{i}")) { (option_list(form.typed.get(&format!("alt_along_{i}")), &along)) } }
                    (length_change_input(form, &format!("alt_by_{i}"), "By", ""))
                    (text(form, &format!("alt_reason_{i}"), "Why", "", "text"))
                }
            }
        }
        button.button.quiet type="button" hidden data-add-row data-most=(limits::ALTERATIONS) { "Another alteration" }
    }
}

/// Rows in the form: those with something in them, and one to fill.
fn rows(typed: &Typed) -> usize {
    let filled = (0..limits::ALTERATIONS)
        .rev()
        .find(|i| !typed.get(&format!("alt_by_{i}")).is_empty() || !typed.get(&format!("alt_reason_{i}")).is_empty());
    (filled.map_or(0, |i| i + 1) + 1).min(limits::ALTERATIONS)
}

pub fn fill(typed: &mut Typed, piece: &Piece, unit: Unit) {
    for (i, a) in piece.alterations.iter().enumerate() {
        let sign = if a.by.is_negative() { "" } else { "+" };
        typed.set(&format!("alt_along_{i}"), word(&a.along));
        typed.set(&format!("alt_by_{i}"), format!("{sign}{}", length_text(a.by, unit)));
        typed.set(&format!("alt_reason_{i}"), &a.reason);
    }
}

pub fn read(r: &mut Reader) -> Vec<Alteration> {
    let mut list = Vec::new();
    for i in 0..limits::ALTERATIONS {
        let (by, reason) = (format!("alt_by_{i}"), format!("alt_reason_{i}"));
        if r.typed.get(&by).trim().is_empty() && r.typed.get(&reason).trim().is_empty() {
            continue;
        }
        let read = Length::parse_signed(r.typed.get(&by), r.unit);
        let by_length = r.taken(&by, read);
        if by_length == Length::ZERO && !r.errors.has(&by) {
            r.errors
                .add(&by, "Type by how much, such as +1 or -2 cm, or clear the row.");
        }
        list.push(Alteration {
            along: r.choice(&format!("alt_along_{i}")),
            by: by_length,
            reason: r.line(&reason, LINE),
        });
    }
    list
}
