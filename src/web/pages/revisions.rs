//! Earlier states of a plan: look, compare, take again.

use crate::figures;
use crate::notebook::Notebook;
use crate::plan::Edit;
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, changes, hidden};
use crate::web::error::{Answer, WebError};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::HttpResponse;
use actix_web::http::header;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use chrono::Local;
use maud::html;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/revisions").route(get().to(list)))
        .service(resource("/projects/{id}/revisions/{number}").route(get().to(show)))
        .service(resource("/projects/{id}/revisions/{number}/take").route(post().to(take)))
        .service(resource("/projects/{id}/plan.json").route(get().to(download)));
}

async fn list(app: Data<App>, path: Path<String>) -> Answer {
    let id = id(&path)?;
    let (project, revisions) = app
        .ask(move |n: &Notebook| Ok((n.project(id)?, n.revisions(id)?)))
        .await?;
    respond::page(page::project(
        id,
        &project.details.title,
        Place::Plan,
        "Revisions of the plan",
        html! {
            h1 { "Revisions of the plan" }
            p.hint { "Every saved change is kept. Open one to see what it did to the figures, or to take it again." }
            ol.revisions {
                @for (number, made_at, what) in &revisions {
                    li {
                        a href=(format!("/projects/{id}/revisions/{number}")) {
                            span.num { (number) }
                            span { b { (what) } br; span.meta { (made_at.with_timezone(&Local).format("%-d %B %Y, %H:%M")) } }
                            @if *number == project.revision { span.state { "now" } }
                        }
                    }
                }
            }
            p.actions { a.button.quiet href=(format!("/projects/{id}/plan.json")) download { "Download the plan as JSON" } " "
                a.button.quiet href=(format!("/projects/{id}")) { "Back to the plan" } }
        },
    ))
}

async fn show(app: Data<App>, path: Path<(String, i64)>) -> Answer {
    let (project, number) = path.into_inner();
    let id = id(&project)?;
    let (project, this, before) = app
        .ask(move |n: &Notebook| {
            let this = n.revision(id, number)?;
            let before = if number > 1 {
                Some(n.revision(id, number - 1)?)
            } else {
                None
            };
            Ok((n.project(id)?, this, before))
        })
        .await?;
    let these = figures::work_out(&this.plan);
    let did = before.map(|b| figures::effect(&figures::work_out(&b.plan), &these));
    let back = figures::effect(&figures::work_out(&project.plan), &these);
    respond::page(page::project(
        id,
        &project.details.title,
        Place::Plan,
        &format!("Revision {number}"),
        html! {
            h1 { "Revision " (number) ": " (this.what) }
            p.meta { (this.made_at.with_timezone(&Local).format("%-d %B %Y, %H:%M")) }
            @if let Some(did) = did {
                (card("did", "What it changed", html! {
                    @if did.is_empty() { p { "No figure." } } @else { (changes(&did)) }
                }))
            }
            @if number != project.revision {
                (card("back", "Taking it again would change", html! {
                    @if back.is_empty() { p { "No figure." } } @else { (changes(&back)) }
                    form method="post" action=(format!("/projects/{id}/revisions/{number}/take")) {
                        (hidden("seen", &project.revision.to_string()))
                        button.button type="submit" { "Take this revision again" }
                    }
                    p.hint { "It becomes a new revision; the present plan is kept." }
                }))
            }
            p { a.button.quiet href=(format!("/projects/{id}/revisions")) { "All revisions" } }
        },
    ))
}

async fn take(app: Data<App>, path: Path<(String, i64)>, body: Body) -> Answer {
    let (project, number) = path.into_inner();
    let id = id(&project)?;
    let seen = typed(body).get("seen").parse().unwrap_or(0);
    app.ask(move |n: &Notebook| {
        let plan = n.revision(id, number)?.plan;
        n.change_plan(id, seen, &Edit::Whole(Box::new(plan)))
    })
    .await?;
    respond::see(&format!("/projects/{id}"))
}

async fn download(app: Data<App>, path: Path<String>) -> Answer {
    let id = id(&path)?;
    let project = app
        .ask(move |n: &Notebook| n.project(id))
        .await
        .map_err(|_| WebError::NoPage)?;
    Ok(HttpResponse::Ok()
        .content_type("application/json")
        .insert_header((header::CONTENT_DISPOSITION, "attachment; filename=\"plan.json\""))
        .body(project.plan.to_json()))
}
