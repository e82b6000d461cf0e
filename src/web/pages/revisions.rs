//! Earlier states of a plan: what each did to the figures, any two compared,
//! one taken again.

use crate::figures::{self, Figures, beside};
use crate::notebook::{Id, Notebook, Project, Revision};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, changes, comparison, hidden};
use crate::web::error::{Answer, WebError};
use crate::web::meanwhile::{self, Put};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::HttpResponse;
use actix_web::http::header;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use chrono::Local;
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/revisions").route(get().to(list)))
        .service(resource("/projects/{id}/revisions/{number}").route(get().to(show)))
        .service(resource("/projects/{id}/revisions/{number}/take").route(post().to(take)))
        .service(resource("/projects/{id}/plan.json").route(get().to(download)));
}

/// As many at once: the figures of each are worked out for its line.
const AT_ONCE: usize = 12;

#[derive(serde::Deserialize)]
struct Asked {
    /// Two revisions to compare, as typed.
    #[serde(default)]
    from: String,
    #[serde(default)]
    to: String,
    /// The list goes on below this one.
    below: Option<i64>,
}

impl Asked {
    /// Both, where either was asked for; 0 where it is no number.
    fn two(&self) -> Option<(i64, i64)> {
        let number = |text: &str| text.trim().parse().unwrap_or(0);
        let asked = !self.from.is_empty() || !self.to.is_empty();
        asked.then(|| (number(&self.from), number(&self.to)))
    }
}

async fn list(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    respond::page(list_page(&app, id(&path)?, &asked, None).await?)
}

/// What a page that shows revision `seen` asked for was not done, because the
/// plan is another by now: both beside each other.
pub async fn overtaken(app: &App, id: Id, seen: i64, what: &str, done: &str) -> Result<Markup, WebError> {
    let newest = app.ask(move |n: &Notebook| Ok(n.project(id)?.revision)).await?;
    let asked = Asked {
        from: seen.to_string(),
        to: newest.to_string(),
        below: None,
    };
    list_page(app, id, &asked, Some(meanwhile::not_done(what, done))).await
}

async fn list_page(app: &App, id: Id, asked: &Asked, note: Option<Markup>) -> Result<Markup, WebError> {
    let below = asked.below.unwrap_or(i64::MAX);
    // One more than is shown: what the oldest shown changed, and whether there are others.
    let (project, revisions) = app
        .ask(move |n: &Notebook| {
            let heads = n.revisions(id)?;
            let numbers = heads.iter().map(|(number, ..)| *number).filter(|n| *n < below);
            let list: Result<Vec<Revision>, _> =
                numbers.take(AT_ONCE + 1).map(|number| n.revision(id, number)).collect();
            Ok((n.project(id)?, list?))
        })
        .await?;
    let plans = revisions.iter().map(|r| r.plan.clone()).collect();
    let figures = app.figures_of(id, plans).await?;
    let compared = match asked.two() {
        Some((from, to)) => Some(compare(app, &project, from, to).await?),
        None => None,
    };
    let older = revisions.get(AT_ONCE).map(|_| revisions[AT_ONCE - 1].number);
    Ok(page::project(
        id,
        &project.details.title,
        Place::Plan,
        "Revisions of the plan",
        html! {
            @if let Some(note) = note { (note) }
            h1 { "Revisions of the plan" }
            p.hint { "Every saved change is kept. Open one to see all it did to the figures, or to take it again." }
            (choose_two(&project, asked))
            @if let Some(compared) = compared { (compared) }
            ol.revisions {
                @for (at, r) in revisions.iter().take(AT_ONCE).enumerate() {
                    li {
                        a href=(format!("/projects/{id}/revisions/{}", r.number)) {
                            span.num { (r.number) }
                            span {
                                b { (r.what) } br; span.meta { (moment(r)) }
                                @if let (Some(before), Some(after)) = (figures.get(at + 1), figures.get(at)) {
                                    @let told = figures::summary(&figures::effect(before, after), 3);
                                    br; span.did { @if told.is_empty() { "no figure changed" } @else { (told) } }
                                }
                            }
                            @if r.number == project.revision { span.state { "now" } }
                        }
                    }
                }
            }
            @if let Some(older) = older { p { a.button href=(format!("/projects/{id}/revisions?below={older}")) { "Older revisions" } } }
            p.actions { a.button.quiet href=(format!("/projects/{id}/plan.json")) download { "Download the plan as JSON" } " "
                a.button.quiet href=(format!("/projects/{id}")) { "Back to the plan" } }
        },
    ))
}

fn moment(revision: &Revision) -> String {
    let at = revision.made_at.with_timezone(&Local);
    at.format("%-d %B %Y, %H:%M").to_string()
}

/// Two numbers to compare; the newest and the one before it to begin with.
fn choose_two(project: &Project, asked: &Asked) -> Markup {
    let newest = project.revision;
    if newest < 2 {
        return html! {};
    }
    let number = |name: &str, label: &str, typed: &str, usual: i64| {
        let value = if typed.is_empty() {
            usual.to_string()
        } else {
            typed.to_string()
        };
        html! {
            div.field {
                label for=(name) { (label) }
                input.number type="number" id=(name) name=(name) value=(value) min="1" max=(newest) inputmode="numeric" autocomplete="off";
            }
        }
    };
    html! {
        form.two-revisions method="get" {
            (number("from", "Compare revision", &asked.from, newest - 1))
            (number("to", "with revision", &asked.to, newest))
            button.button type="submit" { "Compare" }
        }
    }
}

async fn compare(app: &App, project: &Project, from: i64, to: i64) -> Result<Markup, WebError> {
    let id = project.id;
    let newest = project.revision;
    if !(1..=newest).contains(&from) || !(1..=newest).contains(&to) {
        return Ok(html! {
            div.errors role="alert" tabindex="-1" { p { b { "The plan has the revisions 1 to " (newest) ". Choose two of them." } } }
        });
    }
    let (one, other) = app
        .ask(move |n: &Notebook| Ok((n.revision(id, from)?, n.revision(id, to)?)))
        .await?;
    let figures = app.figures_of(id, vec![one.plan, other.plan]).await?;
    Ok(card(
        "compared",
        &format!("Revision {from} and revision {to}"),
        table(&figures, &format!("Revision {from}"), &format!("Revision {to}")),
    ))
}

/// Two plans beside each other.
fn table(plans: &[Figures], before: &str, after: &str) -> Markup {
    let rows = beside(&plans.iter().collect::<Vec<_>>());
    let solved = match plans {
        [before, after] => figures::effect(before, after),
        _ => Vec::new(),
    };
    let problems: Vec<_> = solved
        .into_iter()
        .filter(|c| !rows.iter().any(|r| r.what == c.what))
        .collect();
    html! {
        @if rows.is_empty() && problems.is_empty() { p { "No figure differs." } }
        @if !rows.is_empty() { (comparison(&format!("{before} and {after}"), &[before, after], None, &rows)) }
        @if !problems.is_empty() { (changes(&problems)) }
    }
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
    let now = number == project.revision;
    let did = match before {
        Some(before) => app.figures_of(id, vec![before.plan, this.plan.clone()]).await?,
        None => Vec::new(),
    };
    let back = if now {
        Vec::new()
    } else {
        app.figures_of(id, vec![project.plan.clone(), this.plan.clone()])
            .await?
    };
    respond::page(page::project(
        id,
        &project.details.title,
        Place::Plan,
        &format!("Revision {number}"),
        html! {
            h1 { "Revision " (number) ": " (this.what) }
            p.meta { (moment(&this)) }
            @if !did.is_empty() {
                (card("did", "What it changed", table(&did, &format!("Revision {}", number - 1), &format!("Revision {number}"))))
            }
            @if !now {
                (card("back", "Taking it again would change", html! {
                    (table(&back, "The plan now", &format!("Revision {number}")))
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
    match Put::ask(&app, move |n: &Notebook| n.take_revision_again(id, seen, number)).await? {
        Put::Stale(what) => respond::clash(overtaken(&app, id, seen, &what, "taken again").await?),
        _ => respond::see(&format!("/projects/{id}")),
    }
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
