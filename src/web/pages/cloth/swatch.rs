//! Marking the part of its photo a cloth is known by.

use crate::measure::Rgb;
use crate::notebook::{Notebook, NotebookError, Region, StockCloth, Swatch};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{ReturnTo, card, errors_summary, hidden, save_bar, swatch, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Shown, Typed};
use crate::web::meanwhile::stale_note;
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Path};
use maud::{Markup, html};

/// A third of the photo, in its middle.
const MIDDLE: Region = Region {
    left: 3_300,
    top: 3_300,
    width: 3_400,
    height: 3_400,
};

pub async fn show(app: Data<App>, path: Path<String>) -> Answer {
    let cloth = id(&path)?;
    let cloth = app.ask(move |n: &Notebook| n.stock_cloth(cloth)).await?;
    let part = cloth.swatch.as_ref().map_or(MIDDLE, |s| s.part);
    let mut typed = filled(part);
    typed.set("seen", cloth.version.to_string());
    respond::page(page_of(&cloth, &Shown::from(typed), None))
}

pub async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let cloth = id(&path)?;
    let mut typed = typed(body);
    let seen = typed.get("seen").parse().unwrap_or(0);
    let whole = typed.has("whole");
    let saved = if whole {
        app.ask(move |n: &Notebook| n.unmark_swatch(cloth, seen)).await
    } else {
        match read(&typed) {
            Ok(part) => app.ask(move |n: &Notebook| n.mark_swatch(cloth, seen, part)).await,
            Err(errors) => {
                let cloth = app.ask(move |n: &Notebook| n.stock_cloth(cloth)).await?;
                return Err(WebError::Form(page_of(&cloth, &Shown { typed, errors }, None)));
            }
        }
    };
    match saved {
        Ok(_) => respond::see(&format!("/cloth/{cloth}#look")),
        Err(WebError::Notebook(NotebookError::Stale(what))) => {
            let now = app.ask(move |n: &Notebook| n.stock_cloth(cloth)).await?;
            let theirs = now.swatch.as_ref().map(|s| filled(s.part)).unwrap_or_default();
            let note = stale_note(&what, &theirs, &typed);
            typed.set("seen", now.version.to_string());
            let page = page_of(&now, &Shown::from(typed), Some(note));
            Ok(respond::page_with(actix_web::http::StatusCode::CONFLICT, page))
        }
        Err(other) => Err(other),
    }
}

const FIELDS: [(&str, &str); 4] = [
    ("left", "From the left, %"),
    ("top", "From the top, %"),
    ("width", "Wide, %"),
    ("height", "High, %"),
];

fn filled(part: Region) -> Typed {
    let mut typed = Typed::default();
    for ((name, _), n) in FIELDS.iter().zip([part.left, part.top, part.width, part.height]) {
        let text = match n % 100 {
            0 => (n / 100).to_string(),
            cents => format!("{}.{cents:02}", n / 100).trim_end_matches('0').to_string(),
        };
        typed.set(name, text);
    }
    typed
}

/// A rectangle that goes over the edge by less than what is typed of it is
/// told so; a finger that slips is the page's own affair.
fn read(typed: &Typed) -> Result<Region, Errors> {
    let mut errors = Errors::default();
    let [left, top, width, height] = FIELDS.map(|(name, _)| {
        let text = typed.get(name).trim().trim_end_matches('%').trim().replace(',', ".");
        let number = text.parse::<f64>().ok().filter(|n| (0.0..=100.0).contains(n));
        if number.is_none() {
            errors.add(name, "Type a number from 0 to 100: so many hundredths of the photo.");
        }
        // 0 to 10,000 by the line above.
        number.map_or(0, |n| (n * 100.0).round() as u32)
    });
    if errors.is_empty() {
        for (name, from, long, edge) in [("width", left, width, "right"), ("height", top, height, "lower")] {
            if long < Region::LEAST {
                errors.add(name, "At least 2 %: less is too little to know a cloth by.");
            } else if from + long > Region::WHOLE {
                errors.add(
                    name,
                    format!("This goes over the {edge} edge of the photo. Type less, or begin earlier."),
                );
            }
        }
    }
    let part = Region {
        left,
        top,
        width,
        height,
    };
    if errors.is_empty() { Ok(part) } else { Err(errors) }
}

fn page_of(cloth: &StockCloth, form: &Shown, note: Option<Markup>) -> Markup {
    let address = format!("/cloth/{}", cloth.id);
    let part = read(&form.typed).unwrap_or(MIDDLE);
    page::notebook(
        Shelf::Cloth,
        &format!("Swatch of {}", cloth.name),
        html! {
            script src=(crate::web::assets::address("swatch.js")) defer {}
            h1 { "Swatch of " (cloth.name) }
            @if let Some(note) = note { (note) }
            @if let Some(photo) = &cloth.photo {
                p.lead-in { "Mark a part that shows the cloth alone, evenly lit. It is cut out as the swatch, and its colours are measured." }
                form method="post" action=(format!("{address}/swatch")) data-swatch {
                    (hidden("seen", form.typed.get("seen")))
                    (errors_summary(form))
                    div.marking data-marking {
                        img src=(format!("/photos/{}/page", photo.0)) alt=(format!("Photo of {}", cloth.name));
                        svg viewBox="0 0 10000 10000" preserveAspectRatio="none" aria-hidden="true" {
                            path fill-rule="evenodd" d=(format!("M0 0H10000V10000H0Z M{} {}h{}v{}h-{}Z", part.left, part.top, part.width, part.height, part.width)) {}
                        }
                    }
                    (card("part", "The part", html! {
                        p.hint data-with-script hidden { "Tap the photo where the cloth is seen best; drag the frame, or its corner to size it." }
                        div.part-sizes data-with-script hidden {
                            button.button type="button" data-resize="0.8" { "Smaller" }
                            button.button type="button" data-resize="1.25" { "Larger" }
                        }
                        details open[!form.errors.is_empty()] data-part-numbers {
                            summary { "In numbers" }
                            div.pair { @for (name, label) in &FIELDS[..2] { (text(form, name, label, "", "text")) } }
                            div.pair { @for (name, label) in &FIELDS[2..] { (text(form, name, label, "", "text")) } }
                        }
                    }))
                    (save_bar("Save the swatch", &ReturnTo { href: &address, label: "Cancel" }))
                }
                @if cloth.swatch.is_some() {
                    form.danger method="post" action=(format!("{address}/swatch")) {
                        (hidden("seen", form.typed.get("seen")))
                        (hidden("whole", "yes"))
                        p { "Without a part the whole photo is the swatch. Earlier versions keep the part." }
                        button.button.quiet type="submit" { "Use the whole photo" }
                    }
                }
            } @else {
                p { "This cloth has no photo yet. Add one on its page; then a part of it can be marked." }
                p.actions { a.button.primary href=(format!("{address}#look")) { "Add a photo" } }
            }
        },
    )
}

/// What was seen in the marked part.
pub fn seen(of: &Swatch) -> Markup {
    html! {
        div.seen-colours {
            @if let Some((l, step)) = of.lightness() {
                p { b { (step.name()) } span.meta { ", lightness " span.tabular { (format!("{l:.0}")) } " of 100" } }
            }
            ul.chips {
                li { (swatch(&of.average, None, None)) span { "on average" span.meta.tabular { (of.average) } } }
                @for c in &of.colours {
                    @if Rgb::parse(&c.colour).is_some() {
                        li { (swatch(&c.colour, None, None)) span { span.tabular { (c.percent) " %" } span.meta.tabular { (c.colour) } } }
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_reads_back_as_it_was() {
        for part in [
            MIDDLE,
            Region {
                left: 1_234,
                top: 5,
                width: 200,
                height: 9_990,
            },
        ] {
            assert_eq!(read(&filled(part)), Ok(part));
        }
    }

    #[test]
    fn what_cannot_be_marked_is_told_beside_its_field() {
        for (field, value) in [
            ("left", ""),
            ("left", "NaN"),
            ("top", "-1"),
            ("width", "1.9"),
            ("width", "67"),
            ("height", "inf"),
            ("height", "1e9"),
        ] {
            let mut typed = filled(MIDDLE);
            typed.set("left", "33.5");
            typed.set(field, value);
            let errors = read(&typed).expect_err(value);
            assert!(errors.has(field), "{field} {value}: {errors:?}");
        }
        let mut typed = filled(MIDDLE);
        typed.set("left", "12,5 %");
        assert_eq!(read(&typed).map(|p| p.left), Ok(1_250));
    }
}
