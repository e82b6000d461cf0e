//! The page a viewer sees: the ticked lines of the materials list, nothing
//! else, and no way on into the notebook.

use crate::notebook::{Notebook, PhotoSize};
use crate::web::app::App;
use crate::web::error::{Answer, WebError};
use crate::web::page;
use crate::web::respond;
use actix_web::HttpRequest;
use actix_web::http::header;
use actix_web::web::{Data, Path, ServiceConfig, get, resource};
use chrono::Utc;
use maud::html;
use std::sync::PoisonError;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/s/{token}").route(get().to(show)))
        .service(resource("/s/{token}/pictures/{number}").route(get().to(picture)));
}

async fn show(app: Data<App>, path: Path<String>, request: HttpRequest) -> Answer {
    not_too_often(&app, &request)?;
    let token = path.into_inner();
    let address = format!("/s/{token}");
    // Viewers come in numbers: what was made for one serves all, until anything is changed.
    let state = app.notebook.state();
    if let Some(page) = app.known.shared(state, &address) {
        return respond::tagged(&request, page);
    }
    let (project, choices) = app
        .ask(move |n: &Notebook| {
            let project = n.shared(&token)?;
            let choices = n.choices(project.id)?;
            Ok((project, choices))
        })
        .await?;
    let list = super::materials::list(&app, &project, &choices).await?;
    let markup = page::plain(
        &list.title,
        html! {
            article.shared {
                h1 { (list.title) }
                @for i in 0..list.pictures.len() {
                    div.project-cover { img src=(format!("{address}/pictures/{}", i + 1)) alt=(format!("{}, picture {}", list.title, i + 1)); }
                }
                @for section in list.shown() {
                    section.card {
                        h2 { (section.heading) }
                        ul.rows { @for l in &section.lines { li.row {
                            div.row-text {
                                b { (l.name) }
                                @if !l.detail.is_empty() { div.meta { (l.detail) } }
                                @if !l.remark.is_empty() { div { (l.remark) } }
                                @if !l.link.is_empty() { a href=(l.link) rel="noopener noreferrer nofollow" { (l.link) } }
                            }
                            @if !l.quantity.is_empty() { div.row-figure { b { (l.quantity) } } }
                        } } }
                    }
                }
                p.hint { "Amounts are for making the same piece, at the width named. Cutters and irons hurt: close the blade after every cut, and keep both from children." }
            }
        },
    );
    let page = respond::with_tag(markup);
    app.known.keep_shared(state, &address, &page);
    respond::tagged(&request, page)
}

/// A link may be passed on to any number of people, and to machines.
fn not_too_often(app: &App, request: &HttpRequest) -> Result<(), WebError> {
    let from = request.peer_addr().ok_or(WebError::NoPage)?.ip().to_canonical();
    let mut viewers = app.viewers.lock().unwrap_or_else(PoisonError::into_inner);
    match viewers.another(from, Utc::now()) {
        true => Ok(()),
        false => Err(WebError::TooOften),
    }
}

/// Only the pictures that were ticked, by their number in the list.
async fn picture(app: Data<App>, path: Path<(String, usize)>, request: HttpRequest) -> Answer {
    not_too_often(&app, &request)?;
    let (token, number) = path.into_inner();
    let (project, choices) = app
        .ask(move |n: &Notebook| {
            let project = n.shared(&token)?;
            let choices = n.choices(project.id)?;
            Ok((project, choices))
        })
        .await?;
    let pictures = super::materials::list(&app, &project, &choices).await?.pictures;
    let hash = number
        .checked_sub(1)
        .and_then(|i| pictures.get(i))
        .cloned()
        .ok_or(WebError::NoPage)?;
    let file = app
        .ask(move |n: &Notebook| n.photo_file(&hash, PhotoSize::Page))
        .await?;
    let file = actix_files::NamedFile::open(file).map_err(|_| WebError::NoPage)?;
    let mut answer = file.into_response(&request);
    answer
        .headers_mut()
        .insert(header::CACHE_CONTROL, header::HeaderValue::from_static("no-cache"));
    Ok(answer)
}
