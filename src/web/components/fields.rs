//! Form fields: label, control, hint, and the sentence for what is wrong.

use crate::web::form::Shown;
use maud::{Markup, html};

/// Where a form goes back to.
pub struct ReturnTo<'a> {
    pub href: &'a str,
    pub label: &'a str,
}

/// The sentences of one field, tied to its control by id.
pub fn field_errors(form: &Shown, name: &str) -> Markup {
    html! {
        @if form.errors.has(name) {
            div.error id=(format!("{name}-error")) {
                @for message in form.errors.of(name) { p { (message) } }
            }
        }
    }
}

pub(super) fn described(form: &Shown, name: &str, hint: &str) -> Option<String> {
    let mut ids = Vec::new();
    if form.errors.has(name) {
        ids.push(format!("{name}-error"));
    }
    if !hint.is_empty() {
        ids.push(format!("{name}-hint"));
    }
    (!ids.is_empty()).then(|| ids.join(" "))
}

pub(super) fn wrap(form: &Shown, name: &str, label: &str, hint: &str, control: Markup) -> Markup {
    html! {
        div.field.has-error[form.errors.has(name)] {
            label for=(name) { (label) }
            (control)
            @if !hint.is_empty() { p.hint id=(format!("{name}-hint")) { (hint) } }
            (field_errors(form, name))
        }
    }
}

/// The control of a field of one line, and how a phone is to offer it.
struct Control<'a> {
    kind: &'a str,
    class: Option<&'a str>,
    keyboard: Option<&'a str>,
    /// A length: the script adds its keys, with a sign where it may be less.
    length: bool,
    signed: bool,
}

const PLAIN: Control = Control {
    kind: "text",
    class: None,
    keyboard: None,
    length: false,
    signed: false,
};

fn line(form: &Shown, name: &str, label: &str, hint: &str, control: &Control) -> Markup {
    wrap(
        form,
        name,
        label,
        hint,
        html! {
            input class=[control.class] type=(control.kind) id=(name) name=(name) value=(form.typed.get(name)) inputmode=[control.keyboard]
                autocomplete="off" data-length[control.length] data-signed[control.signed]
                aria-describedby=[described(form, name, hint)] aria-invalid=[form.errors.has(name).then_some("true")];
        },
    )
}

/// One line of text. `kind` is the input type: text, url, search.
pub fn text(form: &Shown, name: &str, label: &str, hint: &str, kind: &str) -> Markup {
    // A url field's own check would refuse with the browser's words; the sentence beside the field is ours.
    let control = match kind {
        "url" => Control {
            keyboard: Some("url"),
            ..PLAIN
        },
        kind => Control { kind, ..PLAIN },
    };
    line(form, name, label, hint, &control)
}

pub fn text_area(form: &Shown, name: &str, label: &str, hint: &str, rows: u32) -> Markup {
    wrap(
        form,
        name,
        label,
        hint,
        html! {
            textarea id=(name) name=(name) rows=(rows)
                aria-describedby=[described(form, name, hint)] aria-invalid=[form.errors.has(name).then_some("true")] { (form.typed.get(name)) }
        },
    )
}

/// A length, with fraction keys while it has the cursor and both units under it
/// (added by script; without script it is a plain text field).
pub fn length_input(form: &Shown, name: &str, label: &str, hint: &str) -> Markup {
    line(form, name, label, hint, &LENGTH)
}

/// A length more or less than another: its keys have the sign, which phones'
/// number pads lack.
pub fn length_change_input(form: &Shown, name: &str, label: &str, hint: &str) -> Markup {
    line(form, name, label, hint, &Control { signed: true, ..LENGTH })
}

const LENGTH: Control = Control {
    class: Some("length"),
    keyboard: Some("decimal"),
    length: true,
    ..PLAIN
};

pub fn number(form: &Shown, name: &str, label: &str, hint: &str) -> Markup {
    let control = Control {
        class: Some("number"),
        keyboard: Some("numeric"),
        ..PLAIN
    };
    line(form, name, label, hint, &control)
}

pub fn money(form: &Shown, name: &str, label: &str, hint: &str) -> Markup {
    let control = Control {
        class: Some("number"),
        keyboard: Some("decimal"),
        ..PLAIN
    };
    line(form, name, label, hint, &control)
}

pub fn date(form: &Shown, name: &str, label: &str, hint: &str) -> Markup {
    line(form, name, label, hint, &Control { kind: "date", ..PLAIN })
}

/// A list to choose one from: (value, words).
pub fn choice(form: &Shown, name: &str, label: &str, hint: &str, options: &[(String, String)]) -> Markup {
    wrap(
        form,
        name,
        label,
        hint,
        html! {
            select id=(name) name=(name)
                aria-describedby=[described(form, name, hint)] aria-invalid=[form.errors.has(name).then_some("true")] {
                (option_list(form.typed.get(name), options))
            }
        },
    )
}

pub fn option_list(chosen: &str, options: &[(String, String)]) -> Markup {
    html! {
        @for (value, words) in options {
            option value=(value) selected[value == chosen] { (words) }
        }
    }
}

/// A box to tick.
pub fn switch(form: &Shown, name: &str, label: &str, hint: &str) -> Markup {
    html! {
        div.field.switch.has-error[form.errors.has(name)] {
            label {
                input type="checkbox" name=(name) id=(name) value="yes" checked[form.typed.ticked(name)]
                    aria-describedby=[described(form, name, hint)];
                span { (label) }
            }
            @if !hint.is_empty() { p.hint id=(format!("{name}-hint")) { (hint) } }
            (field_errors(form, name))
        }
    }
}

pub fn hidden(name: &str, value: &str) -> Markup {
    html! { input type="hidden" name=(name) value=(value); }
}

/// Above a form with errors: how many, and links to the fields.
pub fn errors_summary(form: &Shown) -> Markup {
    let errors = &form.errors.0;
    html! {
        @if !errors.is_empty() {
            div.errors role="alert" tabindex="-1" {
                p { b {
                    @if errors.len() == 1 { "One thing to mend before this can be saved. Nothing you typed is lost." }
                    @else { (errors.len()) " things to mend before this can be saved. Nothing you typed is lost." }
                } }
                ul { @for (field, message) in errors { li { a href=(format!("#{field}")) { (message) } } } }
            }
        }
    }
}

/// The save button in reach of the thumb, and the way out.
pub fn save_bar(save: &str, back: &ReturnTo) -> Markup {
    html! {
        div.save-bar {
            a.button.quiet href=(back.href) { (back.label) }
            button.button.primary type="submit" { (save) }
        }
    }
}
