//! The colour a cloth is drawn in.

use super::fields::{described, wrap};
use super::swatch::safe_colour;
use crate::web::form::Shown;
use maud::{Markup, html};

pub fn colour_input(form: &Shown, name: &str, label: &str, hint: &str) -> Markup {
    wrap(
        form,
        name,
        label,
        hint,
        html! {
            input.colour type="color" id=(name) name=(name) value=(safe_colour(form.typed.get(name)))
                aria-describedby=[described(form, name, hint)] aria-invalid=[form.errors.has(name).then_some("true")];
        },
    )
}
