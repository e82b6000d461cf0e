//! The materials list: tick what viewers may see, copy it as text, open it by
//! a random link.

use crate::notebook::{LineChoice, Notebook, Picture, Project, Settings, Share};
use crate::sheets::{Line, Materials, PICTURE, TITLE, materials};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, empty, swatch};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, LINE, NAME, Reader, Typed};
use crate::web::lan;
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::HttpRequest;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/materials")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/materials/close").route(post().to(close)));
}

async fn show(app: Data<App>, path: Path<String>, request: HttpRequest) -> Answer {
    let id = id(&path)?;
    let (project, choices, share, settings) = app
        .ask(move |n: &Notebook| Ok((n.project(id)?, n.choices(id)?, n.share(id)?, n.settings()?)))
        .await?;
    let list = list(&app, &project, &choices).await?;
    respond::page(page(
        &project,
        &list,
        share.as_ref(),
        &settings,
        &lan::base(&request, app.lan.as_deref()),
        &Errors::default(),
    ))
}

pub async fn list(app: &App, project: &Project, choices: &[LineChoice]) -> Result<Materials, WebError> {
    let figures = app.figures(&project.plan).await?;
    Ok(materials(&project.details, &project.plan, &figures, choices))
}

fn page(
    project: &Project,
    list: &Materials,
    share: Option<&Share>,
    settings: &Settings,
    address: &str,
    errors: &Errors,
) -> Markup {
    let id = project.id;
    page::project(
        id,
        &project.details.title,
        Place::Materials,
        "Materials",
        html! {
            h1 { "Materials" }
            @if list.sections.is_empty() {
                (empty("The list follows from the plan: its pattern, cloths, binding and notions.", &format!("/projects/{id}"), "Go to the plan"))
            } @else {
                nav.jump aria-label="On this page" {
                    a href="#what" { "Ticks" }
                    a href="#text" { "Text" }
                    a href="#share" { "Page" }
                }
                form method="post" data-keep=(format!("{id}/materials")) {
                    (card("what", "What viewers may see", html! {
                        p.hint { "Amounts are for making the same piece anew, at the cloth's own width. Prices, wearers and private notes are never in this list." }
                        @if !errors.is_empty() { div.error role="alert" { @for (_, message) in &errors.0 { p { (message) } } } }
                        div.field {
                            label for="viewers-title" { "Title for viewers" }
                            input type="text" id="viewers-title" name="title" value=(list.title_for_viewers) placeholder=(project.details.title) autocomplete="off";
                            p.hint { "Leave empty for the project's own title." }
                        }
                        (pictures(project, list))
                        @for section in &list.sections {
                            h3 { (section.heading) }
                            ul.rows { @for l in &section.lines { li { (choice(l)) } } }
                        }
                    }))
                    div.save-bar {
                        @if share.is_none() { button.button type="submit" name="then" value="share" { "Save and make a link" } }
                        button.button.primary type="submit" name="then" value="save" { "Save ticks" }
                    }
                }
                (text_card(list, settings))
                (share_card(project, share, address))
            }
        },
    )
}

/// The pictures ticked before, and the project's picture of now.
fn pictures(project: &Project, list: &Materials) -> Markup {
    let mut all = list.pictures.clone();
    all.extend(project.photo.iter().filter(|p| !list.pictures.contains(p)).cloned());
    html! {
        @for (i, hash) in all.iter().enumerate() {
            div.material {
                label.pick {
                    input type="checkbox" name="picture" value=(hash.0) checked[list.pictures.contains(hash)];
                    span { (swatch("", None, Some(&Picture { photo: hash.clone(), part: None }))) }
                    span { @if all.len() == 1 { "Show this picture" } @else { "Show picture " (i + 1) } }
                }
            }
        }
    }
}

fn choice(l: &Line) -> Markup {
    let remark = format!("remark {}", l.key);
    html! {
        div.material {
            label.pick {
                input type="checkbox" name="show" value=(l.key) checked[l.shown];
                span.material-words {
                    span.material-name { b { (l.name) } @if !l.quantity.is_empty() { " " span.material-quantity { (l.quantity) } } }
                    @if !l.detail.is_empty() { span.meta { (l.detail) } }
                    @if !l.link.is_empty() { span.meta { (l.link) } }
                }
            }
            input type="hidden" name="line" value=(l.key);
            input type="text" name=(remark) value=(l.remark) aria-label=(format!("Remark on {}", l.name)) placeholder="Add a remark for viewers" autocomplete="off";
        }
    }
}

fn text_card(list: &Materials, settings: &Settings) -> Markup {
    let text = list.as_text();
    let count = text.chars().count() as i64;
    let over = count > settings.description_limit;
    card(
        "text",
        "As text for a video description",
        html! {
            p.hint.late[over] { (count) " of " (settings.description_limit) " characters" @if over { ": too long, take some ticks away" } "." }
            label.quiet-heading for="as-text" { "The list as plain text" }
            textarea #as-text.plain-text readonly rows="14" { (text) }
            p.actions { button.button.primary type="button" hidden data-copy="#as-text" { "Copy the text" } span role="status" data-copied {} }
        },
    )
}

fn share_card(project: &Project, share: Option<&Share>, address: &str) -> Markup {
    card(
        "share",
        "As a page",
        html! {
            @match share {
                Some(share) => {
                    @let href = format!("{address}/s/{}", share.token);
                    p { "Whoever has this link sees the ticked lines, and nothing else." }
                    p.share-link { a href=(format!("/s/{}", share.token)) #share-link { (href) } }
                    p.actions {
                        button.button.primary type="button" hidden data-copy="#share-link" { "Copy the link" }
                        span role="status" data-copied {}
                    }
                    form method="post" action=(format!("/projects/{}/materials/close", project.id)) {
                        p.hint { "Closing the link cannot be undone; a new one will be different." }
                        button.button.quiet type="submit" { "Close this link" }
                    }
                }
                None => p.hint { "No link yet. “Save and make a link” above opens a read-only page with the ticked lines." }
            }
        },
    )
}

async fn save(app: Data<App>, path: Path<String>, body: Body, request: HttpRequest) -> Answer {
    let id = id(&path)?;
    let typed = typed(body);
    let (choices, errors) = read(&typed);
    let (project, share, settings) = app
        .ask(move |n: &Notebook| Ok((n.project(id)?, n.share(id)?, n.settings()?)))
        .await?;
    if !errors.is_empty() {
        let list = list(&app, &project, &choices).await?;
        return Err(WebError::Form(page(
            &project,
            &list,
            share.as_ref(),
            &settings,
            &lan::base(&request, app.lan.as_deref()),
            &errors,
        )));
    }
    let make = typed.get("then") == "share";
    app.ask(move |n: &Notebook| {
        n.save_choices(id, &choices)?;
        if make {
            n.make_share(id)?;
        }
        Ok(())
    })
    .await?;
    respond::see(&format!(
        "/projects/{id}/materials{}",
        if make { "#share" } else { "#text" }
    ))
}

fn read(typed: &Typed) -> (Vec<LineChoice>, Errors) {
    let mut r = Reader::new(typed, crate::measure::Unit::Inch);
    let keys: Vec<String> = typed.all("line").take(600).map(str::to_string).collect();
    let mut choices: Vec<LineChoice> = keys
        .into_iter()
        .map(|key| LineChoice {
            shown: typed.all("show").any(|s| s == key),
            remark: r.line(&format!("remark {key}"), LINE),
            key,
        })
        .collect();
    for hash in typed.all("picture").take(20).filter_map(super::photos::hash) {
        choices.push(LineChoice {
            key: format!("{PICTURE}{}", hash.0),
            shown: true,
            remark: String::new(),
        });
    }
    choices.push(LineChoice {
        key: TITLE.into(),
        shown: true,
        remark: r.line("title", NAME),
    });
    (choices, r.errors)
}

async fn close(app: Data<App>, path: Path<String>) -> Answer {
    let id = id(&path)?;
    app.ask(move |n: &Notebook| n.revoke_share(id)).await?;
    respond::see(&format!("/projects/{id}/materials#share"))
}
