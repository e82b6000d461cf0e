//! One wearer: the newest measurements as a table, the older ones with what
//! has changed since, and the projects made to them.

use crate::figures::measured::{MeasureHistory, differs, histories, months_too_old};
use crate::measure::{Length, Unit, capital};
use crate::notebook::{MeasurementSet, Notebook, NotebookError, Project, Settings, Wearer, WearerKind};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, card_with, empty, hidden, length, length_change, markdown, measure_line};
use crate::web::error::{Answer, WebError};
use crate::web::page::{self, Shelf};
use crate::web::pages::measured::take_set;
use crate::web::pages::versions;
use crate::web::respond;
use actix_web::web::{Data, Path, Query};
use chrono::{Local, NaiveDate};
use maud::{Markup, html};

pub async fn show(app: Data<App>, path: Path<String>, asked: Query<versions::Undone>) -> Answer {
    let wearer = id(&path)?;
    let (settings, wearer, projects, earlier) = app
        .ask(move |n: &Notebook| {
            let mut projects = Vec::new();
            for card in n.projects()?.iter().filter(|p| p.details.wearer == Some(wearer)) {
                projects.push(n.project(card.id)?);
            }
            Ok((n.settings()?, n.wearer(wearer)?, projects, n.earlier_wearers(wearer)?))
        })
        .await?;
    let address = format!("/wearers/{}", wearer.id);
    let measure = format!("{address}/measurements/new");
    let today = Local::now().date_naive();
    respond::page(page::notebook(
        Shelf::Wearers,
        &wearer.name,
        html! {
            (versions::undone_note(&asked.undone))
            div.page-head {
                div { h1 { (wearer.name) } p.meta { (wearer.kind.name()) } }
                a.button.quiet href=(format!("{address}/details")) { "Name and note" }
            }
            @if !wearer.note.is_empty() { div.prose.lead-in { (markdown(&wearer.note)) } }
            @match wearer.sets.split_first() {
                None => (empty("Not measured yet. The names of the usual measures stand ready, with how each is taken.", &measure, "Measure")),
                Some((newest, older)) => {
                    (newest_card(&wearer, newest, &settings, today))
                    (projects_card(&wearer, &projects))
                    (history_card(&wearer, &settings))
                    @if !older.is_empty() { (older_card(&wearer, newest, older, &settings)) }
                }
            }
            @if wearer.sets.is_empty() { (projects_card(&wearer, &projects)) }
            (versions::wearer_card(&wearer, earlier, settings.unit))
        },
    ))
}

fn newest_card(wearer: &Wearer, newest: &MeasurementSet, settings: &Settings, today: NaiveDate) -> Markup {
    let address = format!("/wearers/{}/measurements", wearer.id);
    let action = html! { a.button.primary href=(format!("{address}/new")) { "Measure anew" } };
    card_with(
        "newest",
        "Measures",
        action,
        html! {
            p.meta { "Taken on " (day(newest.taken_on)) }
            @if let Some(note) = age_note(wearer.kind, newest.taken_on, today) { p.old { (note) } }
            table.measures {
                thead { tr { th scope="col" { "Measure" } th.num scope="col" { "Length" } } }
                tbody { @for m in &newest.values {
                    tr { th scope="row" { (m.name) } td.num { (length(m.value, settings.unit)) } }
                } }
            }
            p.actions { a.button.quiet href=(format!("{address}/{}", newest.id)) { "Mend a slip in these" } }
        },
    )
}

fn older_card(wearer: &Wearer, newest: &MeasurementSet, older: &[MeasurementSet], settings: &Settings) -> Markup {
    card(
        "older",
        "Measured before",
        html! {
            @for set in older {
                details.older-set {
                    summary { (day(set.taken_on)) span.meta { " " (set.values.len()) @if set.values.len() == 1 { " measure" } @else { " measures" } } }
                    table.measures {
                        thead { tr { th scope="col" { "Measure" } th.num scope="col" { "Then" } th.num scope="col" { "Since" } } }
                        tbody { @for m in &set.values {
                            tr {
                                th scope="row" { (m.name) }
                                td.num { (length(m.value, settings.unit)) }
                                td.num { (since(m.value, value_of(newest, &m.name), settings.unit)) }
                            }
                        } }
                    }
                    p { a.button.quiet href=(format!("/wearers/{}/measurements/{}", wearer.id, set.id)) { "Mend a slip in these" } }
                }
            }
        },
    )
}

/// Every measure that was taken on two days or more: drawn, and in figures beside it.
fn history_card(wearer: &Wearer, settings: &Settings) -> Markup {
    let sets: Vec<_> = wearer.sets.iter().map(MeasurementSet::measured).collect();
    let histories = histories(&sets);
    if histories.is_empty() {
        return html! {};
    }
    let (changed, still): (Vec<_>, Vec<_>) = histories.iter().partition(|h| h.changed());
    let still: Vec<&str> = still.iter().map(|h| h.name.as_str()).collect();
    card(
        "history",
        "Over time",
        html! {
            @if !changed.is_empty() { div.histories { @for h in &changed { (history(h, settings.unit)) } } }
            @if !still.is_empty() { p.hint { "As it was: " (still.join(", ")) "." } }
        },
    )
}

fn history(h: &MeasureHistory, unit: Unit) -> Markup {
    html! {
        article.history {
            h3 { (capital(&h.name)) }
            div.history-parts {
                (measure_line(h))
                table {
                    thead.quiet-heading { tr { th scope="col" { "Day" } th scope="col" { "Length" } th scope="col" { "Change" } } }
                    tbody { @for (i, (on, value)) in h.taken.iter().enumerate() {
                        @let before = i.checked_sub(1).and_then(|i| h.taken.get(i)).map(|(_, value)| *value);
                        tr {
                            th scope="row" { (on.format("%-d %b %Y")) }
                            td.num { (length(*value, unit)) }
                            td.num { @if let Some(before) = before { (since(before, Some(*value), unit)) } }
                        }
                    } }
                }
            }
        }
    }
}

pub fn value_of(set: &MeasurementSet, name: &str) -> Option<Length> {
    set.values
        .iter()
        .find(|m| m.name.eq_ignore_ascii_case(name))
        .map(|m| m.value)
}

/// How much a measure has changed since, with its sign.
fn since(then: Length, now: Option<Length>, unit: Unit) -> Markup {
    match now {
        None => html! { span.meta { "not taken again" } },
        Some(now) if differs(then, now) => length_change(now - then, unit),
        Some(_) => html! { span.meta { "the same" } },
    }
}

fn projects_card(wearer: &Wearer, projects: &[Project]) -> Markup {
    if projects.is_empty() {
        return html! {};
    }
    let newest = wearer.sets.first();
    card(
        "projects",
        "Projects",
        html! {
            ul.rows {
                @for project in projects {
                    li.row {
                        div.row-text {
                            a href=(format!("/projects/{}", project.id)) { b { (project.details.title) } }
                            div.meta { @match &project.measurements {
                                Some(set) => { "made to the measures of " (day(set.taken_on)) }
                                None => "names no measures",
                            } }
                        }
                        @if let Some(newest) = newest && project.measurements.as_ref().map(|s| s.id) != Some(newest.id) {
                            form method="post" action=(format!("/wearers/{}/use", wearer.id)) {
                                (hidden("project", &project.id.to_string()))
                                button.button type="submit" aria-label=(format!("Use the newest measures for {}", project.details.title)) { "Use the newest" }
                            }
                        }
                    }
                }
            }
        },
    )
}

/// Makes a project of this wearer go by the newest measurements.
pub async fn use_newest(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let wearer = id(&path)?;
    let project = id(typed(body).get("project"))?;
    let newest = app
        .ask(move |n: &Notebook| {
            let newest = n.wearer(wearer)?.sets.first().map(|s| s.id);
            if n.project(project)?.details.wearer != Some(wearer) {
                return Err(NotebookError::NotFound("project of this wearer"));
            }
            if newest.is_some() {
                take_set(n, project, newest, None)?;
            }
            Ok(newest)
        })
        .await?;
    match newest {
        Some(_) => respond::see(&format!("/wearers/{wearer}#projects")),
        None => Err(WebError::Refused(
            "This wearer has not been measured yet. Measure first.".into(),
        )),
    }
}

pub fn day(date: NaiveDate) -> String {
    date.format("%-d %B %Y").to_string()
}

/// A set older than a year, of a child than six months, says so.
pub fn age_note(kind: WearerKind, taken_on: NaiveDate, today: NaiveDate) -> Option<String> {
    let months = months_too_old(kind.made_for(), taken_on, today)?;
    Some(format!("Measured {months} months ago. Measure again before you cut."))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    #[test]
    fn old_measurements_say_so() {
        let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap();
        let today = day(2026, 11, 25);
        let note = |kind, taken| age_note(kind, taken, today);
        assert_eq!(note(WearerKind::Adult, day(2025, 11, 25)), None);
        assert!(
            note(WearerKind::Adult, day(2025, 11, 24))
                .unwrap()
                .contains("12 months")
        );
        assert_eq!(note(WearerKind::Child, day(2026, 5, 26)), None);
        assert!(note(WearerKind::Child, day(2026, 5, 24)).unwrap().contains("6 months"));
        assert_eq!(note(WearerKind::Household, day(2010, 1, 1)), None);
    }

    #[test]
    fn differences_carry_their_sign() {
        let text = |then, now| since(then, now, Unit::Inch).into_string();
        assert!(text(INCH * 20, Some(INCH * 21)).contains("+1 in"));
        assert!(text(INCH * 21, Some(INCH * 20)).contains("\u{2212}1 in"));
        assert!(text(INCH, Some(INCH + Length::from_units(9))).contains("the same"));
        assert!(text(INCH, None).contains("not taken again"));
    }
}
