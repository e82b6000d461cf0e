//! Choosing photos in a form.

use super::fields::{described, wrap};
use crate::photos::PhotoError;
use crate::web::form::Shown;
use maud::{Markup, html};

/// The formats named one by one: asked for "any image", some phones send one
/// that browsers cannot show.
pub const PHOTO_FORMATS: &str = "image/jpeg,image/png,image/webp";

/// Photos from the device; `several` at once or one.
pub fn photo_input(form: &Shown, name: &str, label: &str, hint: &str, several: bool) -> Markup {
    wrap(
        form,
        name,
        label,
        hint,
        html! {
            input type="file" id=(name) name=(name) accept=(PHOTO_FORMATS) multiple[several] data-heic=(PhotoError::Heic)
                aria-describedby=[described(form, name, hint)] aria-invalid=[form.errors.has(name).then_some("true")];
        },
    )
}
