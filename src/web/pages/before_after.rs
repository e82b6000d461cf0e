//! Two photos of a project side by side: chosen by a tick, kept with the
//! project, shown on its page.

use super::project_photo::{address as photo_address, shows, taken};
use crate::measure::Unit;
use crate::notebook::{BeforeAfter, Entry, Id, Notebook, NotebookError, Photo, PhotoHash, PhotoMark, Project};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{ReturnTo, card_with, empty, errors_summary, hidden, marked_photo, photo, save_bar};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Shown, Typed};
use crate::web::page::{self, Place};
use crate::web::pages::photos::hash;
use crate::web::respond;
use actix_web::http::StatusCode;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/before-after")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/before-after/bin").route(post().to(bin)))
        .service(resource("/projects/{id}/before-after/restore").route(post().to(restore)));
}

/// A photo with the entry it came with.
struct Taken {
    photo: Photo,
    entry: Option<Entry>,
}

struct Known {
    project: Project,
    /// Those of the log, the earliest taken first.
    photos: Vec<Taken>,
    pair: Option<BeforeAfter>,
    /// Of the last pair, in the bin or out of it.
    version: i64,
}

async fn load(app: &App, project: Id) -> Result<Known, WebError> {
    app.ask(move |n: &Notebook| {
        let project = n.project(project)?;
        let mut photos: Vec<Taken> = Vec::new();
        for entry in n.log(project.id)?.into_iter().rev() {
            for hash in &entry.photos {
                if !photos.iter().any(|t| t.photo.hash == *hash) {
                    photos.push(Taken {
                        photo: n.photo(hash)?,
                        entry: Some(entry.clone()),
                    });
                }
            }
        }
        photos.sort_by_key(|t| taken(&t.photo, t.entry.as_ref()));
        Ok(Known {
            photos,
            pair: n.before_after(project.id)?,
            version: n.before_after_version(project.id)?,
            project,
        })
    })
    .await
}

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The pair was just put in the bin.
    #[serde(default)]
    binned: bool,
    /// A photo that was already chosen for after.
    #[serde(default)]
    after: String,
}

async fn show(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    let known = load(&app, id(&path)?).await?;
    let mut typed = filled(&known);
    if !asked.after.is_empty() && known.photos.iter().any(|t| t.photo.hash.0 == asked.after) {
        typed.set("after", &asked.after);
        if typed.get("before") == asked.after {
            typed.set("before", "");
        }
    }
    let note = asked.binned.then(|| {
        html! { div.undo role="status" {
            p { "The pair is in the bin; the photos stay in the log." }
            form method="post" action=(format!("{}/restore", address(known.project.id))) { button.button type="submit" { "Undo" } }
        } }
    });
    respond::page(choose_page(&known, &Shown::from(typed), note))
}

fn address(project: Id) -> String {
    format!("/projects/{project}/before-after")
}

/// The pair, else the first and the last photo.
fn filled(known: &Known) -> Typed {
    let mut typed = Typed::default();
    typed.set("seen", known.version.to_string());
    let ends = known.photos.first().zip(known.photos.last());
    let pair = known.pair.as_ref().map(|p| (&p.before, &p.after));
    if let Some((before, after)) = pair.or(ends.map(|(a, b)| (&a.photo.hash, &b.photo.hash))) {
        typed.set("before", &before.0);
        typed.set("after", &after.0);
    }
    typed
}

async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let known = load(&app, id(&path)?).await?;
    let project = known.project.id;
    let mut typed = typed(body);
    let mut errors = Errors::default();
    let mut chosen = |field: &str| -> Option<PhotoHash> {
        let found = hash(typed.get(field)).filter(|h| known.photos.iter().any(|t| t.photo.hash == *h));
        if found.is_none() {
            errors.add(field, format!("Choose a photo for {field}."));
        }
        found
    };
    let (before, after) = (chosen("before"), chosen("after"));
    if before.is_some() && before == after {
        errors.add("after", "Choose another photo for after: both are the same.");
    }
    let (Some(before), Some(after), true) = (before, after, errors.is_empty()) else {
        return Err(WebError::Form(choose_page(&known, &Shown { typed, errors }, None)));
    };
    let seen = typed.get("seen").parse().unwrap_or(0);
    let pair = BeforeAfter {
        before,
        after,
        version: 1,
    };
    match app
        .ask(move |n: &Notebook| n.save_before_after(project, seen, &pair))
        .await
    {
        Ok(_) => respond::see(&format!("/projects/{project}#before-after")),
        Err(WebError::Notebook(NotebookError::Stale(what))) => {
            let now = load(&app, project).await?;
            typed.set("seen", now.version.to_string());
            let note = html! {
                div.errors role="alert" tabindex="-1" {
                    p { b { (what) " was changed on another device or in another tab since you opened it. Nothing is lost." } }
                    p { "Ticked below is what you chose here. To keep it, save again." }
                    @if let Some(pair) = &now.pair { div.side-by-side { (small(&now, &pair.before, "Before, saved meanwhile")) (small(&now, &pair.after, "After, saved meanwhile")) } }
                }
            };
            let page = choose_page(&now, &Shown::from(typed), Some(note));
            Ok(respond::page_with(StatusCode::CONFLICT, page))
        }
        Err(other) => Err(other),
    }
}

fn small(known: &Known, hash: &PhotoHash, caption: &str) -> Markup {
    let of = known.photos.iter().find(|t| t.photo.hash == *hash);
    html! {
        figure {
            (photo(hash, &of.map_or("Photo".into(), |t| shows(t.entry.as_ref()))))
            figcaption { (caption) }
        }
    }
}

async fn bin(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.bin_before_after(project)).await?;
    respond::see(&format!("{}?binned=true", address(project)))
}

async fn restore(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.restore_before_after(project)).await?;
    respond::see(&format!("/projects/{project}#before-after"))
}

fn choose_page(known: &Known, form: &Shown, note: Option<Markup>) -> Markup {
    let project = &known.project;
    let back = format!("/projects/{}", project.id);
    page::project(
        project.id,
        &project.details.title,
        Place::Log,
        "Before and after",
        html! {
            h1 { "Before and after" }
            @if let Some(note) = note { (note) }
            @if known.photos.len() < 2 {
                (empty("Two photos in the log are needed: one from before, one from after.", &format!("{back}/log/add?kind=photo"), "Add a photo"))
            } @else {
                p.hint.lead-in { "Tick one photo for before and one for after; they stand side by side on the project's page. The earliest comes first." }
                form method="post" action=(address(project.id)) {
                    (hidden("seen", form.typed.get("seen")))
                    (errors_summary(form))
                    ul.choose-photos { @for t in &known.photos { li { (choice(form, t)) } } }
                    (save_bar("Set side by side", &ReturnTo { href: &back, label: "Cancel" }))
                }
                @if known.pair.is_some() {
                    form.danger method="post" action=(format!("{}/bin", address(project.id))) {
                        p { "The photos stay in the log." }
                        button.button.quiet type="submit" { "Take the pair off the project's page" }
                    }
                }
            }
        },
    )
}

fn choice(form: &Shown, t: &Taken) -> Markup {
    let hash = &t.photo.hash.0;
    let shows = shows(t.entry.as_ref());
    let at = taken(&t.photo, t.entry.as_ref()).format("%-d %B %Y").to_string();
    html! {
        (photo(&t.photo.hash, &shows))
        p.meta { (at) }
        div.choose-ends { @for (field, words) in [("before", "Before"), ("after", "After")] {
            label.pick {
                input type="radio" name=(field) value=(hash) checked[form.typed.get(field) == hash] aria-label=(format!("{words}: {shows}, {at}"));
                span { (words) }
            }
        } }
    }
}

/// The pair as the project's page shows it.
pub struct Pair {
    before: Taken,
    after: Taken,
    marks: Vec<PhotoMark>,
}

pub fn load_pair(n: &Notebook, project: Id) -> Result<Option<Pair>, NotebookError> {
    let Some(pair) = n.before_after(project)? else {
        return Ok(None);
    };
    let log = n.log(project)?;
    let of = |hash: &PhotoHash| -> Result<Taken, NotebookError> {
        Ok(Taken {
            photo: n.photo(hash)?,
            entry: log.iter().find(|e| e.photos.contains(hash)).cloned(),
        })
    };
    Ok(Some(Pair {
        before: of(&pair.before)?,
        after: of(&pair.after)?,
        marks: n.photo_marks(project)?,
    }))
}

pub fn pair_card(project: Id, pair: &Pair, unit: Unit) -> Markup {
    let one = |t: &Taken, words: &str| {
        let marks: Vec<&PhotoMark> = pair.marks.iter().filter(|m| m.photo == t.photo.hash).collect();
        html! {
            figure {
                a href=(photo_address(project, &t.photo.hash)) {
                    (marked_photo(&t.photo, &marks, &format!("{words}: {}", shows(t.entry.as_ref())), unit, None))
                }
                figcaption { b { (words) } " " span.meta { (taken(&t.photo, t.entry.as_ref()).format("%-d %B %Y")) } }
            }
        }
    };
    card_with(
        "before-after",
        "Before and after",
        html! { a.button.quiet href=(address(project)) { "Change" } },
        html! { div.side-by-side { (one(&pair.before, "Before")) (one(&pair.after, "After")) } },
    )
}
