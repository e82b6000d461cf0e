//! One tick, kept at once: from a form without script, or from the page's
//! script, which tells how long ago it was made, and may tell it twice.

use crate::notebook::{Notebook, Tick};
use crate::web::app::{App, Body, said_at, typed};
use crate::web::error::Answer;
use crate::web::respond;
use actix_web::web::Data;
use actix_web::{HttpRequest, HttpResponse, http::header};
use serde_json::json;

pub async fn save(app: Data<App>, request: HttpRequest, body: Body) -> Answer {
    let typed = typed(body);
    let tick = Tick {
        key: typed.get("key").into(),
        wanted: typed.get("wanted").into(),
        ticked: typed.ticked("ticked"),
        changed_at: said_at(&typed),
        bought: false,
    };
    app.ask(move |n: &Notebook| n.tick(&tick)).await?;
    let accept = request.headers().get(header::ACCEPT);
    if accept.is_some_and(|accept| accept == "application/json") {
        return Ok(HttpResponse::Ok().json(json!({ "kept": true })));
    }
    let line: u32 = typed.get("line").parse().unwrap_or(0);
    respond::see(&format!("/shop#line-{line}"))
}

/// What is ticked on any device.
pub async fn all(app: Data<App>) -> Answer {
    let ticks = app.ask(|n: &Notebook| n.ticks()).await?;
    let ticks: Vec<_> = ticks
        .iter()
        .filter(|t| t.ticked && !t.bought)
        .map(|t| json!({ "key": t.key, "wanted": t.wanted }))
        .collect();
    Ok(HttpResponse::Ok()
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .json(ticks))
}
