//! Borders round the panel, from the inside out, a row each.

use super::form::cloth_options;
use crate::measure::Unit as System;
use crate::plan::{Border, ClothKind, Patchwork, Plan, limits};
use crate::web::components::{choice, length_input};
use crate::web::form::{NAME, Reader, Shown, Typed, length_text};
use maud::{Markup, html};

pub fn fields(form: &Shown, plan: &Plan) -> Markup {
    let cloths = cloth_options(plan, ClothKind::Cloth, "Choose a cloth");
    let corners = cloth_options(plan, ClothKind::Cloth, "none");
    let rows = rows(&form.typed);
    html! {
        details.more-of-face open[rows > 1 || form.errors.0.iter().any(|(f, _)| f.starts_with("border_"))] {
            summary { "Borders" }
            p.hint { "From the inside out; they count towards the size of the panel. Without corner squares, top and bottom run through. Clear the width to take one out." }
            @for i in 0..rows {
                fieldset.border-row data-row {
                    legend { "Border " span { (i + 1) } }
                    (length_input(form, &format!("border_width_{i}"), "Finished width", ""))
                    div.positions {
                        (choice(form, &format!("border_cloth_{i}"), "Cloth", "", &cloths))
                        (choice(form, &format!("border_corners_{i}"), "Corner squares", "", &corners))
                    }
                }
            }
            button.button.quiet type="button" hidden data-add-row data-most=(limits::BORDERS) { "Another border" }
        }
    }
}

/// Rows in the form: those with something in them, and one to fill.
fn rows(typed: &Typed) -> usize {
    let filled = (0..limits::BORDERS).rev().find(|i| given(typed, *i));
    (filled.map_or(0, |i| i + 1) + 1).min(limits::BORDERS)
}

fn given(typed: &Typed, i: usize) -> bool {
    !typed.get(&format!("border_width_{i}")).trim().is_empty()
}

/// The rows with a border in them: where each border of the plan stands in the form.
pub fn in_use(typed: &Typed) -> Vec<usize> {
    (0..limits::BORDERS).filter(|i| given(typed, *i)).collect()
}

pub fn fill(typed: &mut Typed, face: &Patchwork, system: System) {
    for (i, border) in face.borders.iter().enumerate() {
        typed.set(&format!("border_width_{i}"), length_text(border.width, system));
        typed.set(&format!("border_cloth_{i}"), &border.cloth);
        typed.set(
            &format!("border_corners_{i}"),
            border.corners.clone().unwrap_or_default(),
        );
    }
}

pub fn read(r: &mut Reader) -> Vec<Border> {
    let rows = in_use(r.typed);
    rows.into_iter()
        .map(|i| Border {
            width: r.length_positive(&format!("border_width_{i}")),
            cloth: r.required(&format!("border_cloth_{i}"), NAME, "Choose the cloth of this border."),
            corners: Some(r.line(&format!("border_corners_{i}"), NAME)).filter(|c| !c.is_empty()),
        })
        .collect()
}
