//! One cloth of the shelf: new or changed, into the bin and out again.

use super::form::{fields, filled, read};
use crate::measure::Unit;
use crate::notebook::{Earlier, Id, Notebook, Settings, StockCloth};
use crate::plan::Per;
use crate::web::app::{App, form_id, id};
use crate::web::components::{ReturnTo, errors_summary, hidden, save_bar};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Shown, Typed, word};
use crate::web::meanwhile::{self, Kept, Many, Now, Put};
use crate::web::page::{self, Shelf};
use crate::web::pages::cloth_fields;
use crate::web::pages::versions;
use crate::web::{respond, upload};
use actix_multipart::Multipart;
use actix_web::HttpRequest;
use actix_web::web::{Data, Path, Query};
use maud::{Markup, html};

const NEW: &str = "new";

/// A cloth as its page shows it; nothing for one that is still to be made.
struct Known {
    settings: Settings,
    cloth: Option<StockCloth>,
    projects: Vec<(Id, String)>,
    /// Its history, ready to be shown.
    history: Markup,
    earlier: Vec<Earlier<StockCloth>>,
}

async fn load(app: &App, name: &str) -> Result<Known, WebError> {
    let cloth = if name == NEW { None } else { Some(id(name)?) };
    let history = match cloth {
        Some(cloth) => super::history::card_of(app, cloth).await?,
        None => html! {},
    };
    app.ask(move |n: &Notebook| {
        Ok(Known {
            settings: n.settings()?,
            cloth: cloth.map(|c| n.stock_cloth(c)).transpose()?,
            projects: cloth.map(|c| n.projects_with_cloth(c)).transpose()?.unwrap_or_default(),
            history,
            earlier: cloth.map(|c| n.earlier_cloths(c)).transpose()?.unwrap_or_default(),
        })
    })
    .await
}

pub async fn show(app: Data<App>, path: Path<String>, asked: Query<versions::Undone>) -> Answer {
    let known = load(&app, &path).await?;
    let unit = known.settings.unit;
    let typed = match &known.cloth {
        Some(cloth) => filled(cloth, unit),
        None => {
            let mut typed = cloth_fields::fresh();
            typed.set("id", Id::now_v7().to_string());
            typed.set(
                "price_per",
                word(&if unit == Unit::Cm { Per::Metre } else { Per::Yard }),
            );
            typed
        }
    };
    let note = (!asked.undone.is_empty()).then(|| versions::undone_note(&asked.undone));
    respond::page(cloth_page(&known, &Shown::from(typed), note))
}

pub async fn save(app: Data<App>, path: Path<String>, request: HttpRequest, body: Multipart) -> Answer {
    let mut upload = upload::read(&request, body).await?;
    let known = load(&app, &path).await?;
    let (photos, refused) = upload.keep_photos(&app, "photo").await?;
    let mut typed = upload.typed;
    if let Some(new) = photos.first() {
        // Kept with the form whatever else is wrong with it.
        typed.set("kept_photo", &new.0);
        typed.set("drop_photo", "");
    }
    let new_id = known.cloth.as_ref().map_or_else(|| form_id(&typed), |c| c.id);
    let save = async |typed: &Typed| {
        // The swatch of the cloth as it is now, should it have been marked meanwhile.
        let before = match &known.cloth {
            Some(_) => Some(app.ask(move |n: &Notebook| n.stock_cloth(new_id)).await?),
            None => None,
        };
        let (cloth, mut errors) = read(typed, known.settings.unit, new_id, before.as_ref());
        for sentence in &refused {
            errors.add("photo", sentence);
        }
        if !errors.is_empty() {
            return Ok(Put::Refused(errors));
        }
        let seen = before.map_or(0, |_| typed.get("seen").parse().unwrap_or(0));
        Put::ask(&app, move |n: &Notebook| {
            if let Some(photo) = &cloth.photo {
                n.photo(photo)?;
            }
            n.save_cloth(seen, &cloth)
        })
        .await
    };
    let now = async |seen: i64| {
        let now = load(&app, &new_id.to_string()).await?;
        let unit = now.settings.unit;
        let earlier = app.ask(move |n: &Notebook| n.earlier_cloths(new_id)).await?;
        Ok(Now {
            before: earlier
                .iter()
                .find(|e| e.version == seen)
                .map(|e| filled(&e.value, unit)),
            theirs: now.cloth.as_ref().map(|c| filled(c, unit)).unwrap_or_default(),
            known: now,
        })
    };
    let many = Many {
        lists: &cloth_fields::LISTS,
        unit: known.settings.unit,
        ..Many::default()
    };
    match meanwhile::put(typed, many, save, now).await? {
        Kept::Saved => respond::see("/cloth"),
        Kept::Refused(form) => Err(WebError::Form(cloth_page(&known, &form, None))),
        Kept::Clash(form, note, now) => respond::clash(cloth_page(&now, &form, Some(note))),
    }
}

fn cloth_page(known: &Known, form: &Shown, note: Option<Markup>) -> Markup {
    let heading = known.cloth.as_ref().map_or("Add a cloth", |c| c.name.as_str());
    let address = known
        .cloth
        .as_ref()
        .map_or("/cloth/new".to_string(), |c| format!("/cloth/{}", c.id));
    page::notebook(
        Shelf::Cloth,
        heading,
        html! {
            h1 { (heading) }
            @if known.cloth.is_some() { nav.jump aria-label="On this page" { a href="#cloth" { "The cloth" } a href="#remnants" { "Remnants" } a href="#history" { "History" } } }
            @if let Some(note) = note { (note) }
            @if !known.projects.is_empty() {
                p.meta.lead-in {
                    "In the plan of "
                    @for (i, (id, title)) in known.projects.iter().enumerate() {
                        @if i > 0 { ", " }
                        a href=(format!("/projects/{id}")) { (title) }
                    }
                    ". A plan keeps its own copy: what you change here does not change a plan."
                }
            }
            form method="post" enctype="multipart/form-data" action=(address) data-unit=(known.settings.unit.name()) data-keep=(address) {
                (hidden("id", form.typed.get("id")))
                (hidden("seen", form.typed.get("seen")))
                (errors_summary(form))
                (fields(form, &known.settings, known.cloth.as_ref()))
                (save_bar("Save", &ReturnTo { href: "/cloth", label: "Cancel" }))
            }
            (known.history)
            @if let Some(cloth) = &known.cloth {
                (versions::cloth_card(cloth, known.earlier.clone(), known.settings.unit))
                form.danger method="post" action=(format!("{address}/bin")) {
                    p { "The bin keeps it; you can undo this at once." }
                    button.button.quiet type="submit" { "Put this cloth in the bin" }
                }
            }
        },
    )
}

pub async fn bin(app: Data<App>, path: Path<String>) -> Answer {
    let cloth = id(&path)?;
    app.ask(move |n: &Notebook| n.bin_cloth(cloth)).await?;
    respond::see(&format!("/cloth?binned={cloth}"))
}

pub async fn restore(app: Data<App>, path: Path<String>) -> Answer {
    let cloth = id(&path)?;
    app.ask(move |n: &Notebook| n.restore_cloth(cloth)).await?;
    respond::see(&format!("/cloth/{cloth}"))
}
