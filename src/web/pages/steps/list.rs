//! The list: what is done, what comes next, how long it takes.

use super::start;
use crate::figures::steps::{expectations, starting_list};
use crate::figures::time::{TimeFigures, names};
use crate::measure::{about_hours, hours, video_time};
use crate::notebook::{Id, Notebook, NotebookError, Project, Step, StepTick};
use crate::web::app::{App, Body, form_id, id, said_at, typed};
use crate::web::components::{card, empty, entry_icon, errors_summary, field_errors, hidden};
use crate::web::error::{Answer, WebError};
use crate::web::form::{LINE, Reader, Shown, Typed};
use crate::web::page::{self, Place};
use crate::web::pages::timer::clock;
use crate::web::{fresh, respond, running};
use actix_web::http::header;
use actix_web::web::{Data, Path, Query};
use actix_web::{HttpRequest, HttpResponse};
use chrono::{DateTime, Local, Utc};
use maud::{Markup, html};

#[derive(serde::Deserialize)]
pub struct Asked {
    /// The step that was just put in the bin.
    #[serde(default)]
    binned: String,
    /// Buttons to move steps stand in place of those to tick them.
    #[serde(default)]
    order: String,
}

struct Listed {
    project: Project,
    steps: Vec<Step>,
    /// Logged for each.
    minutes: Vec<(Id, i64)>,
    time: TimeFigures,
}

impl Listed {
    fn logged(&self, step: Id) -> i64 {
        self.minutes.iter().find(|(of, _)| *of == step).map_or(0, |(_, m)| *m)
    }
}

async fn load(app: &App, project: Id) -> Result<Listed, WebError> {
    let today = Local::now().date_naive();
    app.ask(move |n: &Notebook| {
        let project = n.project(project)?;
        Ok(Listed {
            steps: n.steps(project.id)?,
            minutes: n.step_minutes(project.id)?,
            time: n.time_of(&project, today)?,
            project,
        })
    })
    .await
}

/// Where a step stands in the list.
pub fn address(project: Id, step: Id) -> String {
    format!("/projects/{project}/steps#step-{step}")
}

pub async fn show(app: Data<App>, path: Path<String>, asked: Query<Asked>) -> Answer {
    let listed = load(&app, id(&path)?).await?;
    let ordering = asked.order == "yes";
    respond::page(list_page(
        &listed,
        ordering,
        Id::try_parse(&asked.binned).ok(),
        &begun(),
    ))
}

/// The address a refused form stands at, loaded again.
pub async fn again(path: Path<String>) -> Answer {
    Ok(HttpResponse::Found()
        .insert_header((header::LOCATION, format!("/projects/{}/steps", id(&path)?)))
        .finish())
}

fn begun() -> Shown {
    let mut typed = Typed::default();
    typed.set("id", fresh::id().to_string());
    Shown::from(typed)
}

fn list_page(listed: &Listed, ordering: bool, binned: Option<Id>, form: &Shown) -> Markup {
    let Listed {
        project, steps, time, ..
    } = listed;
    let base = format!("/projects/{}/steps", project.id);
    let missing = start::missing(steps, starting_list(&project.plan, time));
    page::project(
        project.id,
        &project.details.title,
        Place::Steps,
        "Steps",
        html! { div.steps-page {
            div.page-head {
                h1 { "Steps" }
                @if steps.len() > 1 {
                    @if ordering { a.button.primary href=(base) { "Ready" } }
                    @else { a.button.quiet href=(format!("{base}?order=yes")) { "Change the order" } }
                }
            }
            @if let Some(step) = binned { (undo(&base, step)) }
            (errors_summary(form))
            @if steps.is_empty() && missing.is_empty() && time.work.is_empty() {
                (empty("The plan holds no work yet: with its pieces and cloths come the steps. Or write your own below.", &format!("/projects/{}", project.id), "To the plan"))
            }
            @if !steps.is_empty() {
                (in_short(listed))
                @if ordering { (ordered(&base, steps)) } @else { (rows(listed, &base)) }
            }
            @if !ordering {
                (start::offer(project, steps, &missing))
                (add_form(&base, form))
            }
        } },
    )
}

fn undo(base: &str, step: Id) -> Markup {
    html! {
        div.undo role="status" {
            p { "The step is in the bin." }
            form method="post" action=(format!("{base}/{step}/restore")) { button.button type="submit" { "Undo" } }
        }
    }
}

fn in_short(listed: &Listed) -> Markup {
    let done = listed.steps.iter().filter(|s| s.done_at.is_some()).count();
    let time = &listed.time;
    html! {
        p.steps-short {
            b { (done) " of " (listed.steps.len()) " done" }
            @if time.left.high > 0 {
                ", about " (about_hours(time.left.likely, true)) " left"
                @if !time.not_known.is_empty() { " without " (names(&time.not_known)) }
            }
            @if let Some(verdict) = time.verdict() { br; span.due.soon[verdict.short] { (verdict.words) } }
        }
    }
}

fn rows(listed: &Listed, base: &str) -> Markup {
    let Listed { steps, time, .. } = listed;
    let times: Vec<_> = steps.iter().map(|s| s.time(listed.logged(s.id))).collect();
    let expected = expectations(&times, time);
    let on = running::timer().filter(|t| t.stopped_at.is_none());
    let next = steps.iter().find(|s| s.done_at.is_none()).map(|s| s.id);
    html! {
        ol.steps { @for (step, minutes) in steps.iter().zip(expected) {
            @let done = step.done_at.is_some();
            @let runs = on.as_ref().is_some_and(|t| t.step.as_ref().is_some_and(|(of, _)| *of == step.id));
            li.step id=(format!("step-{}", step.id)) data-done[done] data-next[next == Some(step.id)] {
                form.tick-form method="post" action=(format!("{base}/{}/tick", step.id)) {
                    (hidden("done", if done { "no" } else { "yes" }))
                    button.tick type="submit" aria-pressed=(done.to_string()) aria-label=(format!("Done: {}", step.title)) { (tick_sign()) }
                }
                a.step-text href=(format!("{base}/{}", step.id)) {
                    b { (step.title) }
                    span.meta { (about(step, listed)) }
                    (spent(listed.logged(step.id), minutes))
                }
                @if runs {
                    a.button.runs href=(format!("/projects/{}/timer", listed.project.id)) { "Running" }
                } @else if !done {
                    form method="post" action=(format!("/projects/{}/timer/start", listed.project.id)) {
                        (hidden("timer", &fresh::id().to_string()))
                        (hidden("step", &step.id.to_string()))
                        button.button.start type="submit" aria-label=(format!("Start the timer on {}", step.title)) { (entry_icon(crate::notebook::EntryKind::Work)) span { "Start" } }
                    }
                }
            }
        } }
    }
}

/// "264 patches, 4:05 in the video".
fn about(step: &Step, listed: &Listed) -> Markup {
    let line = step.work.and_then(|w| listed.time.work.iter().find(|l| l.work == w));
    let alike = listed.steps.iter().filter(|s| s.work == step.work).count();
    let mut parts: Vec<String> = Vec::new();
    match line.and_then(|l| l.amount.map(|a| (l, a))) {
        Some((line, amount)) => parts.push(format!(
            "{}{} {}",
            if alike > 1 { "part of " } else { "" },
            amount.words(listed.project.plan.unit),
            line.of
        )),
        None => parts.extend(step.work.map(|w| w.name().to_string())),
    }
    parts.extend(step.video.map(|v| format!("{} in the video", video_time(v))));
    parts.extend(
        step.done_at
            .map(|at| format!("done {}", at.with_timezone(&Local).format("%-d %B"))),
    );
    html! { (parts.join(", ")) }
}

/// Logged minutes beside the expected.
fn spent(logged: i64, expected: Option<i64>) -> Markup {
    html! {
        @match (logged, expected) {
            (0, None) => {}
            (0, Some(expected)) => span.spent { "about " (about_hours(expected, true)) }
            (logged, None) => span.spent { (hours(logged)) " logged" }
            (logged, Some(expected)) => span.spent { (hours(logged)) " of about " (about_hours(expected, true)) }
        }
    }
}

fn tick_sign() -> Markup {
    html! {
        svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="2.4" stroke-linecap="round" stroke-linejoin="round" {
            path d="M5 12.5l4.5 4.5L19 7" {}
        }
    }
}

/// Every move names the step it is put behind: sent twice it moves once.
fn ordered(base: &str, steps: &[Step]) -> Markup {
    let arrow = |up: bool| {
        html! {
            svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" {
                path d=(if up { "M12 19V5 M6 11l6-6 6 6" } else { "M12 5v14 M6 13l6 6 6-6" }) {}
            }
        }
    };
    let id_at = |i: Option<usize>| i.and_then(|i| steps.get(i)).map(|s| s.id.to_string());
    let button = |i: usize, up: bool| {
        let step = &steps[i];
        // Behind the one two above, or behind the next one.
        let after = if up {
            id_at(i.checked_sub(2))
        } else {
            id_at(Some(i + 1))
        };
        let there = if up { i > 0 } else { i + 1 < steps.len() };
        let label = format!("Move {} {}", step.title, if up { "up" } else { "down" });
        html! {
            form method="post" action=(format!("{base}/{}/place", step.id)) {
                (hidden("after", &after.unwrap_or_default()))
                button.button.move type="submit" aria-label=(label) disabled[!there] { (arrow(up)) }
            }
        }
    };
    html! {
        ol.steps.ordering { @for (i, step) in steps.iter().enumerate() {
            li.step id=(format!("step-{}", step.id)) data-done[step.done_at.is_some()] {
                span.step-text { b { (step.title) } }
                (button(i, true)) (button(i, false))
            }
        } }
    }
}

fn add_form(base: &str, form: &Shown) -> Markup {
    card(
        "add-step",
        "Add a step",
        html! {
            form method="post" action=(format!("{base}/add")) data-keep=(format!("{base}/add")) {
                (hidden("id", form.typed.get("id")))
                div.one-line.has-error[form.errors.has("title")] {
                    label.quiet-heading for="title" { "What is to be done" }
                    input type="text" id="title" name="title" value=(form.typed.get("title")) autocomplete="off" placeholder="What is to be done"
                        aria-invalid=[form.errors.has("title").then_some("true")] aria-describedby=[form.errors.has("title").then_some("title-error")];
                    button.button type="submit" { "Add" }
                }
                (field_errors(form, "title"))
            }
        },
    )
}

pub async fn add(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = id(&path)?;
    let typed = typed(body);
    let listed = load(&app, project).await?;
    let mut r = Reader::new(&typed, listed.project.plan.unit);
    let title = r.required("title", LINE, "Say in a few words what is to be done.");
    let errors = r.errors;
    if !errors.is_empty() {
        return Err(WebError::Form(list_page(
            &listed,
            false,
            None,
            &Shown { typed, errors },
        )));
    }
    let step = Step::new(form_id(&typed), title, None);
    let to = address(project, step.id);
    app.ask(move |n: &Notebook| n.add_steps(project, std::slice::from_ref(&step)))
        .await?;
    respond::see(&to)
}

/// A step of this project and no other.
pub fn step_of(n: &Notebook, project: Id, step: Id) -> Result<Step, NotebookError> {
    let (owner, step) = n.step(step)?;
    if owner == project {
        Ok(step)
    } else {
        Err(NotebookError::NotFound("step"))
    }
}

/// A tick, at once or after it waited on the device it was made on.
pub async fn tick(app: Data<App>, path: Path<(String, String)>, request: HttpRequest, body: Body) -> Answer {
    let (project, step) = (id(&path.0)?, id(&path.1)?);
    let typed = typed(body);
    let tick = StepTick {
        id: form_id(&typed),
        step,
        done: typed.get("done") == "yes",
        made_at: said_at(&typed),
    };
    let made_at = tick.made_at;
    let (title, later) = app
        .ask(move |n: &Notebook| Ok((step_of(n, project, step)?.title, n.tick_step(&tick)?)))
        .await?;
    let address = address(project, step);
    match later {
        Some(later) => respond::overtaken(&request, &address, &overtaken(&title, made_at, &later)),
        None => respond::see_or_say(&request, &address),
    }
}

fn overtaken(title: &str, made_at: DateTime<Utc>, later: &StepTick) -> String {
    let (was, is) = if later.done {
        ("taken away", "set again")
    } else {
        ("set", "taken away")
    };
    let (then, now) = (clock(made_at), clock(later.made_at));
    format!("The tick of “{title}” was {was} here at {then}, and {is} elsewhere at {now}. The later one stands.")
}

pub async fn place(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, step) = (id(&path.0)?, id(&path.1)?);
    let typed = typed(body);
    let after = match typed.get("after") {
        "" => None,
        after => Some(id(after)?),
    };
    app.ask(move |n: &Notebook| {
        step_of(n, project, step)?;
        n.place_step(step, after)
    })
    .await?;
    respond::see(&format!("/projects/{project}/steps?order=yes#step-{step}"))
}
