//! What newer measures of its wearer mean for a project: which have changed,
//! what size and ease become, and the newest taken by one tap.

use super::wearers::{age_note, day};
use crate::figures::measured::{MeasureChange, Refit, measure_changes, refit};
use crate::figures::{SizeFit, SizingFigures};
use crate::measure::{Unit, capital};
use crate::notebook::{Id, MeasurementSet, Notebook, NotebookError, Project, ProjectState, Wearer, WearerKind};
use crate::plan::MadeFor;
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, cautions, figure, hidden, length, length_change};
use crate::web::error::{Answer, WebError};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, post, resource};
use chrono::NaiveDate;
use maud::{Markup, html};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/projects/{id}/measurements").route(post().to(take)));
}

/// The newest set of the wearer, where the project goes by another or its size
/// table was filled from another.
fn newer<'a>(project: &Project, wearer: &'a Wearer) -> Option<(&'a MeasurementSet, Option<Refit>)> {
    let newest = wearer.sets.first()?;
    let used = project.measurements.as_ref();
    let other_set = used.is_some_and(|set| set.id != newest.id);
    let sizing = project.plan.sizing.as_ref();
    // A table without a day was filled by hand, maybe for somebody else.
    let other_day = sizing.is_some_and(|s| !s.measured_on.is_empty() && s.measured_on != newest.taken_on.to_string());
    if !other_set && !other_day {
        return None;
    }
    let refit = refit(&project.plan, &newest.measured());
    (other_set || refit.is_some()).then_some((newest, refit))
}

/// Says where the measures taken on `taken_on` are old; with newer ones at
/// hand it leads to them. A finished piece is not cut any more.
pub fn old_note(project: &Project, wearer: Option<&Wearer>, taken_on: NaiveDate, today: NaiveDate) -> Markup {
    let kind = wearer.map_or(of_plan(project.plan.made_for), |w| w.kind);
    let newer = wearer.is_some_and(|w| newer(project, w).is_some());
    let finished = project.details.state == ProjectState::Finished;
    let Some(note) = age_note(kind, taken_on, today).filter(|_| !finished) else {
        return html! {};
    };
    let (old, advice) = note.split_once(". ").unwrap_or((&note, ""));
    html! {
        p.old {
            (old) ". "
            @if newer { a href=(format!("/projects/{}#measured", project.id)) { "Newer measures are there." } }
            @else if let Some(w) = wearer { a href=(format!("/wearers/{}/measurements/new", w.id)) { (advice) } }
            @else { (advice) }
        }
    }
}

/// As [`old_note`], of the day the size table names.
pub fn old_table_note(project: &Project, wearer: Option<&Wearer>, today: NaiveDate) -> Markup {
    let day = project.plan.sizing.as_ref().and_then(|s| s.measured_on.parse().ok());
    html! { @if let Some(day) = day { (old_note(project, wearer, day, today)) } }
}

const fn of_plan(made_for: MadeFor) -> WearerKind {
    match made_for {
        MadeFor::Adult => WearerKind::Adult,
        MadeFor::Child => WearerKind::Child,
        MadeFor::Animal => WearerKind::Animal,
        MadeFor::Household => WearerKind::Household,
    }
}

/// What differs now from the measures the project goes by; nothing where they
/// are the newest.
pub fn changed_card(project: &Project, wearer: Option<&Wearer>) -> Markup {
    let Some(wearer) = wearer else { return html! {} };
    let Some((newest, refit)) = newer(project, wearer) else {
        return html! {};
    };
    let unit = project.plan.unit;
    let changes = project
        .measurements
        .as_ref()
        .map(|set| measure_changes(&set.measured(), &newest.measured()))
        .unwrap_or_default();
    let differing: Vec<&MeasureChange> = changes.iter().filter(|c| c.differs()).collect();
    let not_again: Vec<&str> = changes
        .iter()
        .filter(|c| c.now.is_none())
        .map(|c| c.name.as_str())
        .collect();
    card(
        "measured",
        "Measured again since",
        html! {
            p {
                @match &project.measurements {
                    Some(set) => { "This project goes by the measures of " (day(set.taken_on)) "; " }
                    None => { "The size table goes by earlier measures; " }
                }
                a href=(format!("/wearers/{}", wearer.id)) { (wearer.name) } " was measured again on " b { (day(newest.taken_on)) } "."
            }
            @if !changes.is_empty() {
                @if differing.is_empty() { p { "No measure has changed." } }
                @else { (changes_table(&differing, unit)) }
            }
            @if !not_again.is_empty() { p.hint { "Not taken again: " (not_again.join(", ")) "." } }
            @if let Some(refit) = &refit { (meaning(refit, unit)) }
            form.take-newest method="post" action=(format!("/projects/{}/measurements", project.id)) {
                (hidden("set", &newest.id.to_string()))
                (hidden("seen", &project.revision.to_string()))
                button.button type="submit" { "Take the newest measures" }
            }
            p.hint {
                @if refit.is_some() { "They go into the size table as a new revision; the earlier one is kept. Sizes of pieces stay as you typed them." }
                @else { "The project names the newest set; the plan stays as it is." }
            }
        },
    )
}

fn changes_table(changes: &[&MeasureChange], unit: Unit) -> Markup {
    html! {
        table.measures.measured-anew {
            thead { tr { th scope="col" { "Measure" } th.num scope="col" { "Then" } th.num scope="col" { "Now" } th.num scope="col" { "Change" } } }
            tbody { @for c in changes { tr {
                th scope="row" { (c.name) }
                td.num { @if let Some(then) = c.then { (length(then, unit)) } }
                td.num { @if let Some(now) = c.now { (length(now, unit)) } }
                td.num { @if let Some(by) = c.by() { (length_change(by, unit)) } }
            } } }
        }
    }
}

/// What the newest measures mean for size and ease.
fn meaning(refit: &Refit, unit: Unit) -> Markup {
    let (Some(then), Some(now)) = (&refit.then, &refit.now) else {
        return html! {};
    };
    let named = |s: &SizingFigures, n: Option<usize>| n.and_then(|n| s.sizes.get(n).cloned()).unwrap_or("–".into());
    let size = |label: &str, which: fn(&SizingFigures) -> Option<usize>| {
        let (was, is) = (named(then, which(then)), named(now, which(now)));
        figure(
            label,
            html! { (is) },
            html! { @if was == is { "as before" } @else { "was " (was) } },
        )
    };
    let fits: Vec<(&SizeFit, &SizeFit)> = then
        .rows
        .iter()
        .zip(&now.rows)
        .filter(|(was, is)| was.wearer != is.wearer)
        .collect();
    html! {
        h3 { "What that means for the size" }
        div.figures {
            (size("By the measures", |s| s.recommended))
            @if now.taken != now.recommended || then.taken != then.recommended { (size("Decided on", |s| s.taken)) }
        }
        @if let Some(n) = then.taken && fits.iter().any(|(was, is)| was.ease.get(n).is_some() && is.ease.get(n).is_some()) {
            table.measures.measured-anew {
                thead { tr { th scope="col" { "Ease in size " (named(then, Some(n))) } th.num scope="col" { "Then" } th.num scope="col" { "Now" } } }
                tbody { @for (was, is) in &fits { @if let (Some(was_ease), Some(is_ease)) = (was.ease.get(n), is.ease.get(n)) { tr {
                    th scope="row" { (capital(&is.name)) }
                    td.num { (length(*was_ease, unit)) }
                    td.num { (length(*is_ease, unit)) }
                } } } }
            }
        }
        (cautions(&now.shown.cautions))
        @if !refit.not_measured.is_empty() {
            p.hint { "Not among the newest, so the earlier value stays in the table: " (refit.not_measured.join(", ")) "." }
        }
    }
}

async fn take(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = id(&path)?;
    let sent = typed(body);
    let set = id(sent.get("set"))?;
    let seen = sent.get("seen").parse().unwrap_or(0);
    app.ask(move |n: &Notebook| take_set(n, project, Some(set), Some(seen)))
        .await?;
    respond::see(&format!("/projects/{project}"))
}

/// The project goes by this set, or by the newest of its wearer, and so does
/// the size table of its plan, as begun from revision `seen`.
pub fn take_set(n: &Notebook, project: Id, set: Option<Id>, seen: Option<i64>) -> Result<(), NotebookError> {
    let wearer = n.measured_wearer(project)?.ok_or(NotebookError::NotFound("wearer"))?;
    let found = match set {
        Some(id) => wearer.sets.iter().find(|s| s.id == id),
        None => wearer.sets.first(),
    };
    let set = found.ok_or(NotebookError::NotFound("set of measurements"))?;
    let now = n.project(project)?;
    let seen = seen.unwrap_or(now.revision);
    // From the table the page showed: one that was changed meanwhile is not overwritten.
    let shown = if seen == now.revision {
        now.plan
    } else {
        n.revision(project, seen)?.plan
    };
    let table = refit(&shown, &set.measured()).map(|r| r.table);
    n.take_measurements(project, set.id, seen, table.as_ref())
}

/// The wearer whose measures a project goes by.
pub async fn wearer_of(app: &App, project: Id) -> Result<Option<Wearer>, WebError> {
    app.ask(move |n: &Notebook| n.measured_wearer(project)).await
}
