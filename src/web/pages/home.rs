//! The first page: every project, what it is waiting for, and one button to
//! start a new one.

use super::{backup, steps};
use crate::figures::time::names;
use crate::measure::{Unit, about_hours};
use crate::notebook::{EntryKind, Id, Notebook, Now, ProjectCard, ProjectState, last_backup};
use crate::web::app::App;
use crate::web::components::{Paged, entry_icon, hidden, look, pager, photo};
use crate::web::error::Answer;
use crate::web::page::{self, Shelf};
use crate::web::{fresh, respond, running};
use actix_web::web::{Data, Query, ServiceConfig, get, resource};
use chrono::{DateTime, Local, NaiveDate, Utc};
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/").route(get().to(show)))
        .service(resource("/projects/finished").route(get().to(finished)));
}

/// Finished projects on the first page.
const DONE: usize = 24;
/// And on each page of all of them.
const ON_A_PAGE: usize = 60;

#[derive(serde::Deserialize)]
struct Asked {
    #[serde(default)]
    page: String,
}

/// That it is time for a backup. The one thing on the first page that is
/// neither in the notebook nor told by the day.
pub fn reminder(notebook: &Notebook, now: DateTime<Utc>) -> Option<String> {
    backup::reminder(last_backup(notebook.folder()), now)
}

async fn show(app: Data<App>) -> Answer {
    let today = Local::now().date_naive();
    let (settings, open, (done, all_done), now, reminder) = app
        .ask(move |n: &Notebook| {
            Ok((
                n.settings()?,
                n.open_projects()?,
                n.finished_projects(0, DONE)?,
                n.what_now(today)?,
                reminder(n, Utc::now()),
            ))
        })
        .await?;
    let any = !open.is_empty() || all_done > 0;
    let reminder = reminder.filter(|_| any);
    respond::page(page::notebook(
        Shelf::Projects,
        &settings.name,
        html! {
            (backup::damage(app.notebook.damage()))
            div.page-head {
                h1 { (settings.name) }
                @if any { a.button.primary href="/projects/new" { "Start a project" } }
            }
            @if !any {
                (first_steps(settings.unit))
            }
            @if !open.is_empty() {
                h2.group { "On the table" }
                div.projects { @for p in &open { (project_card(p, now.get(&p.id), today)) } }
            }
            @if !done.is_empty() {
                h2.group { "Finished" }
                div.projects.done { @for p in &done { (project_card(p, None, today)) } }
                @if all_done > done.len() {
                    p.actions { a.button href="/projects/finished" { "All " (all_done) " finished projects" } }
                }
            }
            @if let Some(words) = reminder {
                p.backup-reminder { (words) " " a href="/settings#kept" { "Make one" } }
            }
        },
    ))
}

/// Every finished project, page by page.
async fn finished(app: Data<App>, asked: Query<Asked>) -> Answer {
    let today = Local::now().date_naive();
    let (done, all, at) = app
        .ask(move |n: &Notebook| {
            let (_, all) = n.finished_projects(0, 0)?;
            let at = Paged::of(&asked.page, all, ON_A_PAGE);
            Ok((n.finished_projects(at.before(), ON_A_PAGE)?.0, all, at))
        })
        .await?;
    respond::page(page::notebook(
        Shelf::Projects,
        "Finished projects",
        html! {
            div.page-head {
                h1 { "Finished projects" }
                span.meta { (all) " in all, the one changed last first" }
            }
            form.search-form method="get" action="/search" role="search" {
                (hidden("state", ProjectState::Finished.name()))
                div.search-line {
                    div.field {
                        label.quiet-heading for="q" { "Words to look for in finished projects" }
                        input type="search" id="q" name="q" maxlength="300" autocomplete="off" enterkeyhint="search" placeholder="Look for words in them" required;
                    }
                    button.button type="submit" { "Search" }
                }
            }
            div.projects.done { @for p in &done { (project_card(p, None, today)) } }
            (pager("/projects/finished", "finished projects", at))
        },
    ))
}

/// What an empty notebook shows: how it goes, and the button to begin.
fn first_steps(unit: Unit) -> Markup {
    html! {
        section.card.first aria-labelledby="first-h" {
            div.card-head { h2 #first-h { "Begin with the pattern on your table" } }
            ol {
                li { span { b { "The plan. " } "The pieces of the pattern, your cloths, the patchwork and the edges to bind." } }
                li { span { b { "The figures. " } "Worked out as you type: what to cut, what to buy, how large each panel must be." } }
                li { span { b { "The log. " } "Photos, measures and decisions, with what each changed." } }
            }
            a.button.primary href="/projects/new" { "Start the first project" }
            p.hint {
                @match unit {
                    Unit::Inch => "Inches stand first, centimetres beside them. ",
                    Unit::Cm => "Centimetres stand first, inches beside them. ",
                }
                a href="/settings" { "Change that, or the currency" }
            }
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
                        (hidden("timer", &fresh::id().to_string()))
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
