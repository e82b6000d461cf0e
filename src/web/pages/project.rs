//! Starting a project, its title page details, and starting a new one from it.

use super::thoughts;
use crate::measure::Unit;
use crate::notebook::{
    Id, Notebook, Project, ProjectDetails, ProjectState, SecondThought, SourcePattern, TakeOver, Wearer,
};
use crate::web::app::{App, Body, form_id, id, typed};
use crate::web::components::{ReturnTo, card, choice, date, errors_summary, hidden, save_bar, switch, text, text_area};
use crate::web::error::{Answer, WebError};
use crate::web::form::{self, LINE, NAME, Reader, Shown, Typed, word};
use crate::web::meanwhile::{self, Kept, Many, Now, Put};
use crate::web::page::{self, Place, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/new").route(get().to(new)).route(post().to(start)))
        .service(
            resource("/projects/{id}/details")
                .route(get().to(edit))
                .route(post().to(save)),
        )
        .service(
            resource("/projects/{id}/again")
                .route(get().to(again))
                .route(post().to(start_again)),
        )
        .service(resource("/projects/{id}/bin").route(post().to(bin)))
        .service(resource("/projects/{id}/restore").route(post().to(restore)));
}

async fn new(app: Data<App>) -> Answer {
    let wearers = app.ask(|n: &Notebook| n.wearers()).await?;
    let mut form = Shown::default();
    form.typed.set("id", Id::now_v7().to_string());
    form.typed.set("state", word(&ProjectState::Planning));
    respond::page(start_page(&form, &wearers))
}

async fn start(app: Data<App>, body: Body) -> Answer {
    let typed = typed(body);
    let wearers = app.ask(|n: &Notebook| n.wearers()).await?;
    let (details, errors) = read_details(&typed, &wearers);
    if !errors.is_empty() {
        return Err(WebError::Form(start_page(&Shown { typed, errors }, &wearers)));
    }
    let new = form_id(&typed);
    let made = app.ask(move |n: &Notebook| n.start_project(new, &details)).await?;
    respond::see(&format!("/projects/{made}"))
}

fn start_page(form: &Shown, wearers: &[Wearer]) -> Markup {
    page::notebook(
        Shelf::Projects,
        "Start a project",
        html! {
            h1 { "Start a project" }
            form method="post" action="/projects/new" data-keep="new-project" {
                (hidden("id", form.typed.get("id")))
                (errors_summary(form))
                (detail_fields(form, wearers))
                (save_bar("Start", &ReturnTo { href: "/", label: "Cancel" }))
            }
        },
    )
}

fn detail_fields(form: &Shown, wearers: &[Wearer]) -> Markup {
    let mut people = vec![(String::new(), "not listed".to_string())];
    people.extend(wearers.iter().map(|w| (w.id.to_string(), w.name.clone())));
    let states: Vec<_> = ProjectState::ALL
        .iter()
        .map(|s| (word(s), s.name().to_string()))
        .collect();
    html! {
        (card("what", "What and for whom", html! {
            (text(form, "title", "Title", "What you call it, such as “Moss waistcoat”.", "text"))
            @if wearers.is_empty() {
                (text(form, "for_whom", "For whom", "", "text"))
            } @else {
                div.pair {
                    (choice(form, "wearer", "For", "", &people))
                    (text(form, "for_whom", "Who", "If not listed.", "text"))
                }
            }
            div.pair {
                (date(form, "due", "Due", "Empty if there is no hurry."))
                (choice(form, "state", "State", "", &states))
            }
        }))
        (card("pattern", "The pattern it starts from", html! {
            (text(form, "pattern_name", "Pattern", "Name or number; leave empty for your own draft.", "text"))
            div.wide-narrow {
                (text(form, "pattern_maker", "Maker", "", "text"))
                (text(form, "pattern_size", "Size", "", "text"))
            }
            (text(form, "pattern_link", "Link", "", "url"))
        }))
        (card("about", "About", html! {
            (text_area(form, "about_text", "Anything to remember from the start", "A line that begins with - becomes a list.", 4))
        }))
    }
}

fn read_details(typed: &Typed, wearers: &[Wearer]) -> (ProjectDetails, form::Errors) {
    let mut r = Reader::new(typed, Unit::Inch);
    let wearer = match typed.get("wearer") {
        "" => None,
        chosen => {
            let found = wearers.iter().find(|w| w.id.to_string() == chosen).map(|w| w.id);
            if found.is_none() {
                r.errors
                    .add("wearer", "This wearer is no longer in the notebook. Choose another.");
            }
            found
        }
    };
    let details = ProjectDetails {
        title: r.required("title", NAME, "Give the project a title."),
        state: r.choice("state"),
        wearer,
        for_whom: r.line("for_whom", NAME),
        pattern: SourcePattern {
            name: r.line("pattern_name", LINE),
            maker: r.line("pattern_maker", LINE),
            link: r.link("pattern_link"),
            size: r.line("pattern_size", NAME),
        },
        due: r.date("due"),
        about: r.text("about_text"),
    };
    (details, r.errors)
}

fn filled(details: &ProjectDetails, version: i64) -> Typed {
    let mut typed = Typed::default();
    typed.set("seen", version.to_string());
    typed.set("title", &details.title);
    typed.set("state", word(&details.state));
    typed.set("wearer", details.wearer.map(|w| w.to_string()).unwrap_or_default());
    typed.set("for_whom", &details.for_whom);
    typed.set("pattern_name", &details.pattern.name);
    typed.set("pattern_maker", &details.pattern.maker);
    typed.set("pattern_link", &details.pattern.link);
    typed.set("pattern_size", &details.pattern.size);
    typed.set("due", details.due.map(|d| d.to_string()).unwrap_or_default());
    typed.set("about_text", &details.about);
    typed
}

async fn edit(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    let (project, wearers) = app
        .ask(move |n: &Notebook| Ok((n.project(project)?, n.wearers()?)))
        .await?;
    let form = Shown::from(filled(&project.details, project.details_version));
    respond::page(edit_page(&project, &form, &wearers, None))
}

async fn save(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let id = id(&path)?;
    let (project, wearers) = app.ask(move |n: &Notebook| Ok((n.project(id)?, n.wearers()?))).await?;
    let save = async |typed: &Typed| {
        let seen: i64 = typed.get("seen").parse().unwrap_or(0);
        match read_details(typed, &wearers) {
            (_, errors) if !errors.is_empty() => Ok(Put::Refused(errors)),
            (details, _) => Put::ask(&app, move |n: &Notebook| n.save_details(id, seen, &details)).await,
        }
    };
    let now = async |seen: i64| {
        let (now, earlier) = app
            .ask(move |n: &Notebook| Ok((n.project(id)?, n.earlier_details(id)?)))
            .await?;
        let before = earlier.iter().find(|e| e.version == seen);
        Ok(Now {
            before: before.map(|e| filled(&e.value.details, seen)),
            theirs: filled(&now.details, now.details_version),
            known: now,
        })
    };
    match meanwhile::put(typed(body), Many::default(), save, now).await? {
        Kept::Saved => respond::see(&format!("/projects/{id}")),
        Kept::Refused(form) => Err(WebError::Form(edit_page(&project, &form, &wearers, None))),
        Kept::Clash(form, note, now) => respond::clash(edit_page(&now, &form, &wearers, Some(note))),
    }
}

fn edit_page(project: &Project, form: &Shown, wearers: &[Wearer], note: Option<Markup>) -> Markup {
    page::project(
        project.id,
        &project.details.title,
        Place::Plan,
        "Details",
        html! {
            h1 { "Details" }
            @if let Some(note) = note { (note) }
            form method="post" action=(format!("/projects/{}/details", project.id)) data-keep=(format!("details-{}", project.id)) {
                (hidden("seen", form.typed.get("seen")))
                (errors_summary(form))
                (detail_fields(form, wearers))
                (save_bar("Save", &ReturnTo { href: &format!("/projects/{}", project.id), label: "Cancel" }))
            }
            form.danger method="post" action=(format!("/projects/{}/bin", project.id)) {
                p { "The bin keeps it; it can be taken out again in Settings." }
                button.button.quiet type="submit" { "Put this project in the bin" }
            }
        },
    )
}

async fn bin(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.bin_project(project)).await?;
    respond::see("/settings#bin")
}

async fn restore(app: Data<App>, path: Path<String>) -> Answer {
    let project = id(&path)?;
    app.ask(move |n: &Notebook| n.restore_project(project)).await?;
    respond::see(&format!("/projects/{project}"))
}

async fn again(app: Data<App>, path: Path<String>) -> Answer {
    let from = id(&path)?;
    let (from, wearers, thoughts) = app
        .ask(move |n: &Notebook| Ok((n.project(from)?, n.wearers()?, thoughts::of(n, from)?)))
        .await?;
    let mut details = from.details.clone();
    details.title = String::new();
    details.state = ProjectState::Planning;
    details.due = None;
    details.about = String::new();
    let mut form = Shown::from(filled(&details, 0));
    form.typed.set("id", Id::now_v7().to_string());
    form.typed.set("take", "plan");
    form.typed.set("take_measurements", "yes");
    respond::page(again_page(&from, &form, &wearers, &thoughts))
}

async fn start_again(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let from = id(&path)?;
    let typed = typed(body);
    let (project, wearers, thoughts) = app
        .ask(move |n: &Notebook| Ok((n.project(from)?, n.wearers()?, thoughts::of(n, from)?)))
        .await?;
    let (details, mut errors) = read_details(&typed, &wearers);
    let take = TakeOver {
        measurements: typed.ticked("take_measurements"),
        pieces: typed.get("take") == "pieces",
        plan: typed.get("take") == "plan",
    };
    if !matches!(typed.get("take"), "plan" | "pieces" | "nothing") {
        errors.add("take", "Choose what to take over.");
    }
    if !errors.is_empty() {
        return Err(WebError::Form(again_page(
            &project,
            &Shown { typed, errors },
            &wearers,
            &thoughts,
        )));
    }
    let new = form_id(&typed);
    let made = app
        .ask(move |n: &Notebook| n.start_from(new, &details, from, take))
        .await?;
    respond::see(&format!("/projects/{made}"))
}

fn again_page(from: &Project, form: &Shown, wearers: &[Wearer], thoughts: &[(String, SecondThought)]) -> Markup {
    let plan = &from.plan;
    let radio = |value: &str, words: String, under: &str| {
        html! {
            label.pick {
                input type="radio" name="take" value=(value) checked[form.typed.get("take") == value];
                span { b { (words) } @if !under.is_empty() { br; span.hint { (under) } } }
            }
        }
    };
    page::project(
        from.id,
        &from.details.title,
        Place::Plan,
        "Start a new project from this one",
        html! {
            h1 { "Start a new project from this one" }
            (thoughts::show(thoughts))
            form method="post" action=(format!("/projects/{}/again", from.id)) data-keep=(format!("again-{}", from.id)) {
                (hidden("id", form.typed.get("id")))
                (errors_summary(form))
                (card("take", "Take over", html! {
                    fieldset.picks {
                        legend { "From the plan" }
                        (radio("plan", "The whole plan".into(), "Pieces, cloths, patchwork, layers, edges, binding, notions and allowances."))
                        (radio("pieces", format!("Only the pieces and edges ({})", plan.pieces.len()), "Sizes and alterations with their reasons; the cloth is chosen anew."))
                        (radio("nothing", "Nothing".into(), ""))
                    }
                    (switch(form, "take_measurements", "The measurements it was made to", match &from.measurements {
                        Some(_) => "The same dated set is used.",
                        None => "This project names no set of measurements; the wearer is taken over.",
                    }))
                }))
                (detail_fields(form, wearers))
                (save_bar("Start", &ReturnTo { href: &format!("/projects/{}", from.id), label: "Cancel" }))
            }
        },
    )
}
