//! The first page: every project, what it is waiting for, and one button to
//! start a new one.

use super::{backup, steps};
use crate::figures::time::names;
use crate::measure::about_hours;
use crate::notebook::{EntryKind, Id, Notebook, Now, ProjectCard, ProjectState, last_backup};
use crate::web::app::App;
use crate::web::components::{entry_icon, hidden, look, photo};
use crate::web::error::Answer;
use crate::web::page::{self, Shelf};
use crate::web::{respond, running};
use actix_web::web::{Data, ServiceConfig, get, resource};
use chrono::{Local, NaiveDate, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/").route(get().to(show)));
}

async fn show(app: Data<App>) -> Answer {
    let today = Local::now().date_naive();
    let (settings, projects, now, backed_up) = app
        .ask(move |n: &Notebook| {
            Ok((
                n.settings()?,
                n.projects()?,
                n.what_now(today)?,
                last_backup(n.folder()),
            ))
        })
        .await?;
    let reminder = backup::reminder(backed_up, Utc::now()).filter(|_| !projects.is_empty());
    let (open, done): (Vec<&ProjectCard>, Vec<&ProjectCard>) =
        projects.iter().partition(|p| p.details.state != ProjectState::Finished);
    respond::page(page::notebook(
        Shelf::Projects,
        &settings.name,
        html! {
            (backup::damage(app.notebook.damage()))
            div.page-head {
                h1 { (settings.name) }
                @if !projects.is_empty() { a.button.primary href="/projects/new" { "Start a project" } }
            }
            @if projects.is_empty() {
                (first_steps())
            }
            @if !open.is_empty() {
                h2.group { "On the table" }
                div.projects { @for p in open { (project_card(p, now.get(&p.id), today)) } }
            }
            @if !done.is_empty() {
                h2.group { "Finished" }
                div.projects.done { @for p in done { (project_card(p, None, today)) } }
            }
            @if let Some(words) = reminder {
                p.backup-reminder { (words) " " a href="/settings#kept" { "Make one" } }
            }
        },
    ))
}

/// What an empty notebook shows: how it goes, and the button to begin.
fn first_steps() -> Markup {
    html! {
        section.card.first aria-labelledby="first-h" {
            div.card-head { h2 #first-h { "Begin with the pattern on your table" } }
            ol {
                li { span { b { "The plan. " } "The pieces of the pattern, your cloths, the patchwork and the edges to bind." } }
                li { span { b { "The figures. " } "Worked out as you type: what to cut, what to buy, how large each panel must be." } }
                li { span { b { "The log. " } "Photos, measures and decisions, with what each changed." } }
            }
            a.button.primary href="/projects/new" { "Start the first project" }
        }
    }
}

/// The whole card leads to the project; the button of the next step lies above.
fn project_card(p: &ProjectCard, now: Option<&Now>, today: NaiveDate) -> Markup {
    let open = p.details.state != ProjectState::Finished;
    html! {
        article.project {
            div.project-photo {
                @if let Some(hash) = &p.photo { (photo(hash, "")) }
                @else { div.project-colours { @for cloth in p.swatches.iter().take(6) { (look(cloth)) } } }
            }
            div.project-text {
                h3 { a href=(format!("/projects/{}", p.id)) { (p.details.title) } }
                p.meta {
                    span.state data-state=(p.details.state.name()) { (p.details.state.name()) }
                    @if !p.for_whom.is_empty() { " for " (p.for_whom) }
                }
                @if open {
                    @if let Some(due) = p.details.due { p.due.late[due < today].soon[(due - today).num_days() < 8] { (due_words(due, today)) } }
                    @if let Some(now) = now { (left(now)) (next(p.id, now)) }
                }
                @if let Some(line) = &p.last_entry { p.last { (line) } }
            }
        }
    }
}

/// "About 12 h left. In time, with 3 h to spare".
pub fn left(now: &Now) -> Markup {
    let time = &now.time;
    html! {
        @if time.left.high > 0 {
            p.left {
                "About " b { (about_hours(time.left.likely, true)) } " left"
                @if !time.not_known.is_empty() { ", without " (names(&time.not_known)) }
            }
        }
        @if let Some(verdict) = time.verdict() { p.due.soon[verdict.short] { (verdict.words) } }
    }
}

/// The next step, and one tap to start on it.
pub fn next(project: Id, now: &Now) -> Markup {
    let base = format!("/projects/{project}");
    let runs = running::timer().filter(|t| t.project == project && t.stopped_at.is_none());
    html! {
        @if let Some(step) = &now.next {
            div.next-step {
                p { span.meta { "Next, " (now.done) " of " (now.steps) " done" } a href=(steps::address(project, step.id)) { (step.title) } }
                @if runs.as_ref().is_some_and(|t| t.step.as_ref().is_some_and(|(of, _)| *of == step.id)) {
                    a.button.runs href=(format!("{base}/timer")) { "Running" }
                } @else {
                    form method="post" action=(format!("{base}/timer/start")) {
                        (hidden("timer", &Id::now_v7().to_string()))
                        (hidden("step", &step.id.to_string()))
                        button.button.start type="submit" aria-label=(format!("Start the timer on {}", step.title)) { (entry_icon(EntryKind::Work)) span { "Start" } }
                    }
                }
            }
        } @else if now.steps > 0 {
            p.next-step { span { "Every step is done." } a.button.quiet href=(format!("{base}/steps")) { "Steps" } }
        } @else if now.begun {
            p.next-step { span { "Next: list the steps" } a.button.quiet href=(format!("{base}/steps")) { "Steps" } }
        } @else {
            p.next-step { span { "Next: the pieces" } a.button.quiet href=(format!("{base}/pieces/new")) { "Add" } }
        }
    }
}

/// "Due in 3 weeks, 14 December 2026".
pub fn due_words(due: NaiveDate, today: NaiveDate) -> String {
    let days = (due - today).num_days();
    let when = match days {
        0 => "today".to_string(),
        1 => "tomorrow".to_string(),
        -1 => "yesterday".to_string(),
        2..=13 => format!("in {days} days"),
        14..=70 => format!("in {} weeks", days / 7),
        71.. => format!("in {} months", days / 30),
        -13..=-2 => format!("{} days ago", -days),
        _ => format!("{} weeks ago", -days / 7),
    };
    format!("Due {when}, {}", due.format("%-d %B %Y"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn due_dates_in_words() {
        let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
        let at = |d: i64| due_words(today + chrono::Duration::days(d), today);
        assert_eq!(at(0), "Due today, 25 November 2026");
        assert_eq!(at(21), "Due in 3 weeks, 16 December 2026");
        assert_eq!(at(-2), "Due 2 days ago, 23 November 2026");
    }
}
