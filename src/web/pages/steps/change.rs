//! One step: its words, kind of work, minutes and place in the video.

use super::list::{address, step_of};
use crate::figures::steps::expectations;
use crate::measure::{about_hours, hours, parse_video_time, video_time};
use crate::notebook::{Id, Notebook, Project, Step};
use crate::plan::Work;
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{ReturnTo, card, choice, errors_summary, hidden, save_bar, text};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, LINE, Reader, Shown, Typed, word};
use crate::web::meanwhile::{self, Kept, Many, Now, Put};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path};
use chrono::Local;
use maud::{Markup, html};

type StepPath = Path<(String, String)>;

struct Known {
    project: Project,
    step: Step,
    earlier: Vec<Step>,
    logged: i64,
    /// What the figures reckon for it while no minutes are typed.
    reckoned: Option<i64>,
}

async fn load(app: &App, path: &StepPath) -> Result<Known, WebError> {
    let (project, step) = (id(&path.0)?, id(&path.1)?);
    let today = Local::now().date_naive();
    app.ask(move |n: &Notebook| {
        let project = n.project(project)?;
        let step = step_of(n, project.id, step)?;
        let steps = n.steps(project.id)?;
        let mut times = n.step_times(project.id)?;
        let at = steps.iter().position(|s| s.id == step.id);
        let mut known = Known {
            earlier: n.earlier_steps(step.id)?,
            logged: 0,
            reckoned: None,
            step,
            project,
        };
        if let Some(time) = at.and_then(|at| times.get_mut(at)) {
            known.logged = time.logged;
            time.minutes = None;
            let all = expectations(&times, &n.time_of(&known.project, today)?);
            known.reckoned = at.and_then(|at| all.get(at).copied().flatten());
        }
        Ok(known)
    })
    .await
}

fn filled(step: &Step) -> Typed {
    let mut typed = Typed::default();
    typed.set("seen", step.version.to_string());
    typed.set("title", &step.title);
    typed.set("work", step.work.map(|w| word(&w)).unwrap_or_default());
    typed.set("minutes", step.minutes.map(|m| hours(m.into())).unwrap_or_default());
    typed.set("video", step.video.map(video_time).unwrap_or_default());
    typed
}

fn read(typed: &Typed, known: &Known) -> (Step, Errors) {
    let mut r = Reader::new(typed, known.project.plan.unit);
    let mut step = known.step.clone();
    step.title = r.required("title", LINE, "Say in a few words what is to be done.");
    step.work = match typed.get("work") {
        "" => None,
        _ => Some(r.choice::<Work>("work")),
    };
    step.minutes = match typed.get("minutes").trim() {
        "" => None,
        _ => Some(r.minutes("minutes", 1..=Step::MOST)),
    };
    step.video = match typed.get("video").trim() {
        "" => None,
        moment => Some(r.taken("video", parse_video_time(moment))),
    };
    (step, r.errors)
}

pub async fn show(app: Data<App>, path: StepPath) -> Answer {
    let known = load(&app, &path).await?;
    respond::page(step_page(&known, &Shown::from(filled(&known.step)), None))
}

pub async fn save(app: Data<App>, path: StepPath, body: Body) -> Answer {
    let known = load(&app, &path).await?;
    let save = async |typed: &Typed| {
        let now = load(&app, &path).await?;
        let (step, errors) = read(typed, &now);
        if !errors.is_empty() {
            return Ok(Put::Refused(errors));
        }
        let seen = typed.get("seen").parse().unwrap_or(0);
        Put::ask(&app, move |n: &Notebook| n.save_step(seen, &step)).await
    };
    let now = async |seen: i64| {
        let now = load(&app, &path).await?;
        Ok(Now {
            before: now.earlier.iter().find(|s| s.version == seen).map(filled),
            theirs: filled(&now.step),
            known: now,
        })
    };
    match meanwhile::put(typed(body), Many::default(), save, now).await? {
        Kept::Saved => respond::see(&address(known.project.id, known.step.id)),
        Kept::Refused(form) => Err(WebError::Form(step_page(&known, &form, None))),
        Kept::Clash(form, note, now) => respond::clash(step_page(&now, &form, Some(note))),
    }
}

fn step_page(known: &Known, form: &Shown, note: Option<Markup>) -> Markup {
    let Known { project, step, .. } = known;
    let base = format!("/projects/{}/steps/{}", project.id, step.id);
    let mut kinds = vec![(String::new(), "None of these".to_string())];
    kinds.extend(Work::ALL.iter().map(|w| (word(w), w.name().to_string())));
    let expected = match known.reckoned {
        Some(minutes) => format!("Empty: about {}, by the figures.", about_hours(minutes, true)),
        None => "Minutes, or 1:30. Empty: by the figures, once a pace is known.".into(),
    };
    page::project(
        project.id,
        &project.details.title,
        Place::Steps,
        &step.title,
        html! {
            h1 { (step.title) }
            @if let Some(note) = note { (note) }
            form method="post" action=(base) data-keep=(base) {
                (hidden("seen", form.typed.get("seen")))
                (errors_summary(form))
                (card("step", "The step", html! {
                    (text(form, "title", "What is to be done", "", "text"))
                    (choice(form, "work", "Kind of work", "Its minutes teach the next project how long it takes.", &kinds))
                    div.pair {
                        (text(form, "minutes", "Expected", &expected, "text"))
                        (text(form, "video", "In the video at", "Such as 4:05 or 1:04:05.", "text"))
                    }
                    @if known.logged > 0 { p.step-logged { "Logged so far: " b { (hours(known.logged)) } } }
                }))
                (save_bar("Save", &ReturnTo { href: &address(project.id, step.id), label: "Cancel" }))
            }
            (versions(&known.earlier))
            form.danger method="post" action=(format!("{base}/bin")) {
                p { "The bin keeps it; you can undo this at once. Minutes logged for it stay in the log." }
                button.button.quiet type="submit" { "Put this step in the bin" }
            }
        },
    )
}

/// What it was before, in one line each.
fn versions(earlier: &[Step]) -> Markup {
    html! {
        @if !earlier.is_empty() {
            details.earlier {
                summary { @if earlier.len() == 1 { "One earlier version" } @else { (earlier.len()) " earlier versions" } }
                ol { @for step in earlier { li value=(step.version) {
                    (step.title)
                    span.meta {
                        @if let Some(work) = step.work { ", " (work.name()) }
                        @if let Some(minutes) = step.minutes { ", " (hours(minutes.into())) }
                        @if let Some(video) = step.video { ", " (video_time(video)) " in the video" }
                        @if step.done_at.is_some() { ", done" }
                    }
                } } }
            }
        }
    }
}

pub async fn bin(app: Data<App>, path: StepPath) -> Answer {
    let (project, step): (Id, Id) = (id(&path.0)?, id(&path.1)?);
    app.ask(move |n: &Notebook| {
        step_of(n, project, step)?;
        n.bin_step(step)
    })
    .await?;
    respond::see(&format!("/projects/{project}/steps?binned={step}"))
}

pub async fn restore(app: Data<App>, path: StepPath) -> Answer {
    let (project, step): (Id, Id) = (id(&path.0)?, id(&path.1)?);
    app.ask(move |n: &Notebook| {
        n.restore_step(step)?;
        step_of(n, project, step)
    })
    .await?;
    respond::see(&address(project, step))
}
