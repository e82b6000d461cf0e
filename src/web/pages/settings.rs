//! The notebook's own page: its name, units and limits, the devices that are
//! let in, the bin, where it is kept and how to keep a copy.

use crate::figures::allowance_sources;
use crate::measure::Unit;
use crate::notebook::{Device, Notebook, ProjectCard, Settings, last_backup};
use crate::web::app::{App, Body, typed};
use crate::web::components::{ReturnTo, card, choice, errors_summary, number, save_bar, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, NAME, Reader, Shown, Typed, word};
use crate::web::page::{self, Shelf};
use crate::web::pages::backup::backup_part;
use crate::web::pages::devices::devices_card;
use crate::web::respond;
use crate::web::visitor::Visitor;
use actix_web::web::{Data, Query, ReqData, ServiceConfig, get, post, resource};
use chrono::{DateTime, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/settings").route(get().to(show)).route(post().to(save)));
}

#[derive(serde::Deserialize)]
struct Asked {
    saved: Option<String>,
}

/// What the page shows besides the form.
struct Around {
    settings: Settings,
    bin: Vec<ProjectCard>,
    folder: String,
    backed_up: Option<DateTime<Utc>>,
    devices: Vec<Device>,
    visitor: Visitor,
    lan: bool,
    encrypted: bool,
}

async fn load(app: &App, visitor: &Visitor) -> Result<Around, WebError> {
    let (visitor, lan, encrypted) = (visitor.clone(), app.lan.is_some(), app.tls.is_some());
    app.ask(move |n: &Notebook| {
        Ok(Around {
            settings: n.settings()?,
            bin: n.binned_projects()?,
            folder: n.folder().display().to_string(),
            backed_up: last_backup(n.folder()),
            devices: n.devices()?,
            visitor,
            lan,
            encrypted,
        })
    })
    .await
}

async fn show(app: Data<App>, asked: Query<Asked>, visitor: ReqData<Visitor>) -> Answer {
    let around = load(&app, &visitor).await?;
    let form = Shown::from(filled(&around.settings));
    respond::page(settings_page(&around, &form, asked.saved.is_some()))
}

async fn save(app: Data<App>, body: Body, visitor: ReqData<Visitor>) -> Answer {
    let typed = typed(body);
    let (settings, errors) = read(&typed);
    if !errors.is_empty() {
        let around = load(&app, &visitor).await?;
        return Err(WebError::Form(settings_page(&around, &Shown { typed, errors }, false)));
    }
    app.ask(move |n: &Notebook| n.save_settings(&settings)).await?;
    respond::see("/settings?saved=yes")
}

fn filled(settings: &Settings) -> Typed {
    let mut typed = Typed::default();
    typed.set("name", &settings.name);
    typed.set("unit", word(&settings.unit));
    typed.set("currency", &settings.currency);
    typed.set("description_limit", settings.description_limit.to_string());
    typed
}

fn read(typed: &Typed) -> (Settings, Errors) {
    let mut r = Reader::new(typed, Unit::Inch);
    let settings = Settings {
        name: r.required("name", NAME, "Give the notebook a name."),
        unit: r.choice("unit"),
        currency: r.required(
            "currency",
            8,
            "Type the sign or letters of your currency, such as € or CHF.",
        ),
        description_limit: i64::from(r.count("description_limit", 200..=100_000)),
    };
    (settings, r.errors)
}

fn settings_page(around: &Around, form: &Shown, saved: bool) -> Markup {
    page::notebook(
        Shelf::Settings,
        "Settings",
        html! {
            h1 { "Settings" }
            @if saved { div.undo role="status" { p { "Saved." } } }
            form method="post" action="/settings" data-keep="settings" {
                (errors_summary(form))
                (card("notebook", "This notebook", fields(form)))
                (save_bar("Save", &ReturnTo { href: "/", label: "To the projects" }))
            }
            (devices_card(&around.devices, &around.visitor, around.lan, around.encrypted))
            (bin_card(&around.bin))
            (allowances_card())
            (kept_card(around))
        },
    )
}

fn fields(form: &Shown) -> Markup {
    let units = [
        (word(&Unit::Inch), "inches and yards".to_string()),
        (word(&Unit::Cm), "centimetres and metres".to_string()),
    ];
    html! {
        (text(form, "name", "Name", "It heads the first page.", "text"))
        div.two {
            (choice(form, "unit", "Unit", "Shown first, and taken by a bare number, on the shelf, of wearers and in new projects. Both are always shown.", &units))
            (text(form, "currency", "Currency", "As it stands before a price.", "text"))
        }
        (number(form, "description_limit", "Longest text for a video description", "In characters. The materials list is shortened to fit."))
    }
}

fn bin_card(bin: &[ProjectCard]) -> Markup {
    card(
        "bin",
        "The bin",
        html! {
            @if bin.is_empty() {
                p { "No project is in the bin." }
            } @else {
                ul.rows {
                    @for project in bin {
                        li.row {
                            div.row-text {
                                b { (project.details.title) }
                                div.meta { "last changed " (project.changed_at.with_timezone(&chrono::Local).format("%-d %B %Y")) }
                            }
                            form method="post" action=(format!("/projects/{}/restore", project.id)) {
                                button.button type="submit" aria-label=(format!("Take {} out of the bin", project.details.title)) { "Take out" }
                            }
                        }
                    }
                }
            }
        },
    )
}

fn allowances_card() -> Markup {
    card(
        "allowances",
        "Allowances",
        html! {
            p.hint { "What a new project begins with, and where each is from. Every project can change its own." }
            details.working {
                summary { "Defaults and sources" }
                dl.allowances {
                    @for a in allowance_sources() {
                        div { dt { (a.label) } dd { b { (a.default) } " " (a.help) br; span.source { (a.source) } } }
                    }
                }
            }
        },
    )
}

fn kept_card(around: &Around) -> Markup {
    card(
        "kept",
        "Where it is kept",
        html! {
            p { "Everything is in one folder on this computer:" }
            p { code.folder { (around.folder) } }
            p { "The file notebook.sqlite holds what you wrote, the folder photos your pictures as they were taken." }
            (backup_part(around.backed_up, &around.visitor))
            p.hint { code { "notchbook export FOLDER" } " writes all of it as pages and pictures that can be read without this program." }
            p.meta { "Notchbook " (env!("CARGO_PKG_VERSION")) }
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_read_back_and_slips_are_told() {
        let settings = Settings {
            name: "Winter things".into(),
            unit: Unit::Cm,
            currency: "CHF".into(),
            description_limit: 5000,
        };
        assert_eq!(read(&filled(&settings)), (settings.clone(), Errors::default()));
        let mut typed = filled(&settings);
        typed.set("name", " ");
        typed.set("unit", "ells");
        typed.set("description_limit", "12");
        let (_, errors) = read(&typed);
        let fields: Vec<&str> = errors.0.iter().map(|(f, _)| f.as_str()).collect();
        assert_eq!(fields, ["name", "unit", "description_limit"]);
    }
}
