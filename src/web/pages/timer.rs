//! The timer: started with one tap, stopped with one, its minutes looked over
//! before they go into the log.

use super::log::{Ties, fields_of_work};
use crate::measure::hours;
use crate::notebook::{Id, Notebook, Project, StartOn, Step, Timer, WorkDone};
use crate::plan::Work;
use crate::web::app::{App, Body, id, said_at, typed};
use crate::web::components::{ReturnTo, card, choice, hidden, save_bar};
use crate::web::error::Answer;
use crate::web::form::{Reader, Shown, Typed, word};
use crate::web::page::{self, Place, timer_on};
use crate::web::respond;
use actix_web::HttpRequest;
use actix_web::http::{Uri, header};
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/timer").route(get().to(show)))
        .service(resource("/projects/{id}/timer/start").route(post().to(start)))
        .service(resource("/projects/{id}/timer/stop").route(post().to(stop)))
        .service(resource("/projects/{id}/timer/resume").route(post().to(resume)))
        .service(resource("/projects/{id}/timer/drop").route(post().to(drop_it)));
}

#[derive(serde::Deserialize)]
struct Asked {
    /// The entry a timer became because another was started.
    #[serde(default)]
    logged: String,
}

async fn show(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    let project = id(&path)?;
    let logged = Id::try_parse(&asked.logged).ok();
    let (project, steps, taken_out, timer, logged) = app
        .ask(move |n: &Notebook| {
            let logged = match logged {
                // It may be in the bin by now.
                Some(entry) => n.entry(entry).ok(),
                None => None,
            };
            Ok((
                n.project(project)?,
                n.steps(project)?,
                n.binned_steps(project)?,
                n.timer()?,
                logged,
            ))
        })
        .await?;
    let note = html! {
        @if let Some((owner, entry)) = &logged { @if let Some(work) = &entry.work {
            div.undo role="status" {
                p { "The timer before was stopped: " b { (hours(work.minutes.into())) } " are in the log." }
                a.button href=(format!("/projects/{owner}/log/{}", entry.id)) { "Look it over" }
            }
        } }
    };
    let here = timer.filter(|t| t.project == project.id);
    respond::page(page::project(
        project.id,
        &project.details.title,
        Place::Log,
        "Timer",
        html! { div.timer-page {
            @match here {
                Some(timer) if timer.stopped_at.is_some() => {
                    h1 { "Minutes to the log" }
                    (note)
                    (stopped(&project, &steps, &taken_out, &timer))
                }
                Some(timer) => { h1 { "Timer" } (note) (running(&project, &timer)) (start_on(&project, &steps)) }
                None => { h1 { "Timer" } (note) (start_on(&project, &steps)) }
            }
        } },
    ))
}

/// The time of day, with the day where that is another.
pub fn clock(at: DateTime<Utc>) -> String {
    let (at, now) = (at.with_timezone(&Local), Local::now());
    if at.date_naive() == now.date_naive() {
        at.format("%H:%M").to_string()
    } else {
        at.format("%-d %B %H:%M").to_string()
    }
}

fn running(project: &Project, timer: &Timer) -> Markup {
    let base = format!("/projects/{}/timer", project.id);
    card(
        "running",
        &timer_on(timer),
        html! {
            p.timer-big.num data-since=(timer.started_at.to_rfc3339()) { (hours(timer.minutes(Utc::now()))) }
            p.meta { "Since " (clock(timer.started_at)) ". It goes on while the phone sleeps." }
            form.actions method="post" action=(format!("{base}/stop")) {
                (hidden("timer", &timer.id.to_string()))
                button.button.primary type="submit" { "Stop" }
            }
        },
    )
}

/// What it may be started on: a step that is not done, or a kind of work.
fn start_on(project: &Project, steps: &[Step]) -> Markup {
    let action = format!("/projects/{}/timer/start", project.id);
    let mut kinds = vec![(String::new(), "Say it when it stops".to_string())];
    kinds.extend(Work::ALL.iter().map(|w| (word(w), w.name().to_string())));
    let form = Shown::default();
    card(
        "start",
        "Start it on",
        html! {
            @let open: Vec<&Step> = steps.iter().filter(|s| s.done_at.is_none()).collect();
            @if !open.is_empty() {
                ul.rows { @for step in open {
                    li.row {
                        span.row-text { b { (step.title) } }
                        form method="post" action=(action) {
                            (hidden("timer", &Id::now_v7().to_string()))
                            (hidden("step", &step.id.to_string()))
                            button.button type="submit" aria-label=(format!("Start the timer on {}", step.title)) { "Start" }
                        }
                    }
                } }
            }
            form method="post" action=(action) {
                (hidden("timer", &Id::now_v7().to_string()))
                (hidden("step", "none"))
                (choice(&form, "work", "A kind of work", "", &kinds))
                div.actions { button.button type="submit" { "Start" } }
            }
        },
    )
}

/// Its form is that of minutes in the log: saving makes the entry with the
/// timer's id, and until then the timer waits.
fn stopped(project: &Project, steps: &[Step], taken_out: &[Step], timer: &Timer) -> Markup {
    let base = format!("/projects/{}", project.id);
    let minutes = timer.minutes(Utc::now());
    let most = i64::from(WorkDone::MOST);
    let until = timer.stopped_at.unwrap_or_else(Utc::now);
    let mut typed = Typed::default();
    typed.set("work", timer.work.map(|w| word(&w)).unwrap_or_default());
    typed.set("minutes", hours(minutes.min(most)));
    typed.set(
        "step",
        timer.step.as_ref().map(|(id, _)| id.to_string()).unwrap_or_default(),
    );
    let form = Shown::from(typed);
    let ties = Ties {
        plan: &project.plan,
        steps,
        taken_out,
        kept: None,
    };
    html! {
        form method="post" action=(format!("{base}/log/add/work")) data-unit=(project.plan.unit.name()) data-keep=(format!("timer-{}", timer.id)) data-outbox {
            (hidden("id", &timer.id.to_string()))
            (hidden("happened_at", &until.to_rfc3339()))
            p.meta.lead-in { "From " (clock(timer.started_at)) " to " (clock(until)) ". Mend the minutes if you were called away." }
            @if minutes > most { p.hint.late { "The timer ran for " (hours(minutes)) ". An entry holds 24 hours at the most." } }
            (card("work-card", "Minutes of work", fields_of_work(&form, &ties)))
            (save_bar("Save", &ReturnTo { href: &base, label: "Later" }))
        }
        div.actions {
            form method="post" action=(format!("{base}/timer/resume")) {
                (hidden("timer", &timer.id.to_string()))
                button.button.quiet type="submit" { "Let it run on" }
            }
            form method="post" action=(format!("{base}/timer/drop")) {
                (hidden("timer", &timer.id.to_string()))
                button.button.quiet type="submit" { "Do not log it" }
            }
        }
    }
}

/// The page of this notebook it was asked from, so that the maker stays where
/// she is.
fn back(request: &HttpRequest) -> Option<String> {
    let headers = request.headers();
    let from: Uri = headers.get(header::REFERER)?.to_str().ok()?.parse().ok()?;
    let host = headers.get(header::HOST)?.to_str().ok()?;
    let path = from.path_and_query()?.as_str();
    let own = from.authority()?.as_str() == host && path.starts_with('/') && !path.starts_with("//");
    (own && !from.path().ends_with("/timer")).then(|| path.to_string())
}

/// Without a step: on the first that is not done, or, where there is none, on
/// what is said when it stops.
async fn start(app: Data<App>, path: Path<String>, request: HttpRequest, body: Body) -> Answer {
    let project = id(&path)?;
    let typed = typed(body);
    let timer = Id::try_parse(typed.get("timer")).unwrap_or_else(|_| Id::now_v7());
    let mut r = Reader::new(&typed, Default::default());
    let work = match typed.get("work") {
        "" => None,
        _ => Some(r.choice::<Work>("work")).filter(|_| r.errors.is_empty()),
    };
    let step = match typed.get("step") {
        "" | "none" => None,
        step => Some(id(step)?),
    };
    let next = typed.get("step").is_empty() && work.is_none();
    let at = said_at(&typed);
    let before = app
        .ask(move |n: &Notebook| {
            let step = match step {
                None if next => n
                    .steps(project)?
                    .into_iter()
                    .find(|s| s.done_at.is_none())
                    .map(|s| s.id),
                step => step,
            };
            n.start_timer(timer, project, StartOn { step, work }, at)
        })
        .await?;
    let own = format!("/projects/{project}/timer");
    match before {
        Some(entry) => respond::see_or_say(&request, &format!("{own}?logged={entry}")),
        None => respond::see_or_say(&request, &back(&request).unwrap_or(own)),
    }
}

async fn stop(app: Data<App>, path: Path<String>, request: HttpRequest, body: Body) -> Answer {
    let project = id(&path)?;
    let typed = typed(body);
    let (timer, at) = (id(typed.get("timer"))?, said_at(&typed));
    let logged = app.ask(move |n: &Notebook| n.stop_timer(timer, at)).await?;
    let own = format!("/projects/{project}/timer");
    match logged.and_then(|entry| entry.work) {
        Some(work) => {
            let sentence = format!(
                "The timer was stopped here at {}, and its minutes were in the log by then: {}. Look them over there.",
                clock(at),
                hours(work.minutes.into())
            );
            let entry = format!("/projects/{project}/log/{timer}");
            respond::overtaken(&request, &entry, &sentence)
        }
        None => respond::see_or_say(&request, &own),
    }
}

async fn resume(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let (project, timer) = (id(&path)?, id(typed(body).get("timer"))?);
    app.ask(move |n: &Notebook| n.resume_timer(timer)).await?;
    respond::see(&format!("/projects/{project}/timer"))
}

async fn drop_it(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    id(&path)?;
    let timer = id(typed(body).get("timer"))?;
    let project = app.ask(move |n: &Notebook| n.drop_timer(timer)).await?;
    respond::see(&format!("/projects/{project}/log?binned={timer}"))
}
