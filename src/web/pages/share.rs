//! The page a viewer sees: the ticked lines of the materials list, nothing
//! else, and no way on into the notebook.

use super::materials::{file, kind_of, list};
use crate::measure::{Length, Unit};
use crate::notebook::{Notebook, PhotoSize};
use crate::sheets::{OwnUnit, Viewer, article, head, pictures};
use crate::web::app::App;
use crate::web::error::{Answer, WebError};
use crate::web::form::clean_line;
use crate::web::lan;
use crate::web::page;
use crate::web::respond;
use actix_web::HttpRequest;
use actix_web::http::header;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, resource};
use chrono::Utc;
use std::sync::PoisonError;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/s/{token}").route(get().to(show)))
        .service(resource("/s/{token}/list.{kind}").route(get().to(download)))
        .service(resource("/s/{token}/pictures/{number}").route(get().to(picture)));
}

/// The viewer's own unit, and the width of their cloth.
struct Asked {
    unit: Option<Unit>,
    width: Option<Length>,
    viewer: Viewer,
}

type Fields = Query<Vec<(String, String)>>;

fn asked(fields: &Fields) -> Asked {
    let get = |name: &str| fields.iter().find(|(n, _)| n == name).map_or("", |(_, v)| v.as_str());
    let unit = match get("unit") {
        "in" => Some(Unit::Inch),
        "cm" => Some(Unit::Cm),
        _ => None,
    };
    let typed: String = clean_line(get("width")).chars().take(40).collect();
    let (width, error) = match typed.as_str() {
        "" => (None, None),
        text => match Length::parse(text, unit.unwrap_or_default()) {
            Ok(width) if width.is_positive() => (Some(width), None),
            Ok(_) => (None, Some("Type a width such as 44 in or 110 cm.".to_string())),
            Err(error) => (None, Some(error.to_string())),
        },
    };
    Asked {
        unit,
        width,
        viewer: Viewer { width: typed, error },
    }
}

async fn show(app: Data<App>, path: Path<String>, fields: Fields, request: HttpRequest) -> Answer {
    not_too_often(&app, &request)?;
    let token = path.into_inner();
    let address = format!("/s/{token}");
    let asked = asked(&fields);
    // A picture's address for machines is a whole one.
    let base = lan::base(&request, app.lan.as_deref());
    let known = format!("{base}{address}?{:?}&{}", asked.unit, asked.viewer.width);
    // Viewers come in numbers: what was made for one serves all, until anything is changed.
    let state = app.notebook.state();
    if let Some(page) = app.known.shared.get(state, &known) {
        return respond::tagged(&request, page);
    }
    let seen = app.ask(move |n: &Notebook| n.shared(&token)).await?;
    let list = list(&app, &seen, asked.unit, asked.width).await?;
    let pictures: Vec<String> = (1..=list.pictures.len())
        .map(|n| format!("{address}/pictures/{n}"))
        .collect();
    let image = pictures.first().map(|path| format!("{base}{path}"));
    let downloads = [("txt", "Plain text"), ("md", "Markdown"), ("csv", "Table (CSV)")]
        .map(|(ending, name)| (format!("{address}/list.{ending}"), name));
    let markup = page::viewers(
        &list.title,
        head(&list, image.as_deref()),
        article(&list, &pictures, &OwnUnit::Asked(&asked.viewer), &downloads),
    );
    let page = respond::with_tag(markup);
    app.known.shared.keep(state, &known, page.clone());
    respond::tagged(&request, page)
}

async fn download(app: Data<App>, path: Path<(String, String)>, request: HttpRequest) -> Answer {
    not_too_often(&app, &request)?;
    let (token, ending) = path.into_inner();
    let kind = kind_of(&ending)?;
    let seen = app.ask(move |n: &Notebook| n.shared(&token)).await?;
    Ok(file(&list(&app, &seen, None, None).await?, kind))
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
    let seen = app.ask(move |n: &Notebook| n.shared(&token)).await?;
    let hash = number
        .checked_sub(1)
        .and_then(|i| pictures(&seen.shown.choices).into_iter().nth(i))
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
