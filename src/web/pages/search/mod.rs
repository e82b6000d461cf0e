//! Search over the whole notebook, the answer in what is found.

/// What was found, kind by kind.
mod results;

use crate::notebook::{FoundGroup, FoundKind, Id, Notebook, NotebookError, Project, ProjectState, SearchFilter};
use crate::sheets::Line;
use crate::web::app::App;
use crate::web::components::choice;
use crate::web::error::{Answer, WebError};
use crate::web::form::{Shown, Typed, clean_line};
use crate::web::known::Known;
use crate::web::page::{self, Shelf};
use crate::web::respond;
use actix_web::web::{Data, Query, ServiceConfig, get, resource};
use chrono::{DateTime, Datelike, Local, TimeZone, Utc};
use maud::html;
use std::sync::Arc;

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/search").route(get().to(show)));
}

/// Most projects whose plans are worked out for one page.
const MOST_PLANS: usize = 8;
/// The oldest years are found by words.
const MOST_YEARS: i32 = 30;

/// The lines of one project that answer, under its title.
struct Answered {
    project: Id,
    title: String,
    state: ProjectState,
    lines: Vec<Line>,
}

/// What was found of one kind.
struct Results {
    group: FoundGroup,
    /// Of materials and pieces, project by project.
    answered: Vec<Answered>,
}

async fn show(app: Data<App>, asked: Query<Vec<(String, String)>>) -> Answer {
    let typed = Typed(asked.into_inner());
    let text = clean_line(typed.get("q"));
    let (wearers, cloths, span) = app
        .ask(|n: &Notebook| Ok((n.wearers()?, n.cloths()?, n.begun_and_changed()?)))
        .await?;
    let filter = filter(&typed);
    let results = find(&app, text.clone(), filter.clone()).await?;
    let any = |words: &str| (String::new(), words.to_string());
    let states = ProjectState::ALL.map(|s| (s.name().to_string(), s.name().to_string()));
    let choices = [
        ("state", "State", [vec![any("Any")], states.to_vec()].concat()),
        (
            "wearer",
            "Made for",
            [
                vec![any("Anyone")],
                wearers.into_iter().map(|w| (w.id.to_string(), w.name)).collect(),
            ]
            .concat(),
        ),
        (
            "cloth",
            "Cloth",
            [
                vec![any("Any")],
                cloths.into_iter().map(|c| (c.id.to_string(), c.name)).collect(),
            ]
            .concat(),
        ),
        ("year", "Year", [vec![any("Any")], years(span)].concat()),
    ];
    let asked_for_anything = !text.is_empty();
    let form = Shown::from(typed);
    respond::page(page::notebook(
        Shelf::Search,
        "Search",
        html! {
            h1 { "Search" }
            form.search-form method="get" action="/search" role="search" {
                div.search-line {
                    div.field {
                        label.quiet-heading for="q" { "Words to look for" }
                        input type="search" id="q" name="q" value=(text) maxlength="300" autocomplete="off" enterkeyhint="search" autofocus[!asked_for_anything];
                    }
                    button.button.primary type="submit" { "Search" }
                }
                details.filters open[!filter.is_empty()] {
                    summary { "Narrow down" }
                    div.grid { @for (name, label, options) in &choices { (choice(&form, name, label, "", options)) } }
                }
            }
            @if !asked_for_anything {
                p.hint { "Everything written is searched: what projects are made of, their pieces, the log, the shelf, the wearers. Ask for “snaps”, “backing”, “take-up” or a name. Words between quotes are looked for side by side." }
            } @else if results.is_empty() {
                div.empty role="status" {
                    p { "Nothing was found for “" (text) "”. Try fewer words, or the beginning of one." }
                    @if !filter.is_empty() { a.button href=(address(&text)) { "Search without narrowing down" } }
                }
            } @else {
                (results::show(&results))
            }
        },
    ))
}

fn address(text: &str) -> String {
    let words: String = text
        .bytes()
        .map(|b| match b {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' => char::from(b).to_string(),
            other => format!("%{other:02X}"),
        })
        .collect();
    format!("/search?q={words}")
}

/// What no list offers narrows nothing down.
fn filter(typed: &Typed) -> SearchFilter {
    let id = |name: &str| Id::try_parse(typed.get(name)).ok();
    SearchFilter {
        state: ProjectState::ALL.into_iter().find(|s| s.name() == typed.get("state")),
        wearer: id("wearer"),
        cloth: id("cloth"),
        within: typed.get("year").parse().ok().and_then(year),
    }
}

/// The year as the maker's clock counts it.
fn year(year: i32) -> Option<(DateTime<Utc>, DateTime<Utc>)> {
    let begin = |year: i32| Some(Local.with_ymd_and_hms(year, 1, 1, 0, 0, 0).earliest()?.to_utc());
    (1900..=2200).contains(&year).then_some(())?;
    Some((begin(year)?, begin(year + 1)?))
}

/// The newest first.
fn years(span: Option<(DateTime<Utc>, DateTime<Utc>)>) -> Vec<(String, String)> {
    let Some((first, last)) = span else { return Vec::new() };
    let (first, last) = (first.with_timezone(&Local).year(), last.with_timezone(&Local).year());
    let years = (first..=last).rev().take(MOST_YEARS as usize);
    years.map(|y| (y.to_string(), y.to_string())).collect()
}

async fn find(app: &App, text: String, filter: SearchFilter) -> Result<Vec<Results>, WebError> {
    let known = app.known.clone();
    app.ask(move |n: &Notebook| {
        let mut plans = Plans {
            known: &known,
            worked_out: Vec::new(),
        };
        let mut results = Vec::new();
        for mut group in n.search(&text, &filter)? {
            let mut answered = Vec::new();
            if matches!(group.kind, FoundKind::Material | FoundKind::Piece) {
                let all = by_project(&group);
                group.more |= all.len() > MOST_PLANS;
                for (project, keys) in all.into_iter().take(MOST_PLANS) {
                    answered.extend(plans.answer(n, project, &keys)?);
                }
            }
            results.push(Results { group, answered });
        }
        Ok(results)
    })
    .await
}

fn by_project(group: &FoundGroup) -> Vec<(Id, Vec<String>)> {
    let mut all: Vec<(Id, Vec<String>)> = Vec::new();
    for found in &group.found {
        let Some((project, _)) = found.project else { continue };
        match all.iter_mut().find(|(id, _)| *id == project) {
            Some((_, keys)) => keys.push(found.item.clone()),
            None => all.push((project, vec![found.item.clone()])),
        }
    }
    all
}

/// Plans worked out for this page, each once.
struct Plans<'a> {
    known: &'a Known,
    worked_out: Vec<(Project, Arc<Vec<Line>>)>,
}

impl Plans<'_> {
    fn answer(&mut self, n: &Notebook, id: Id, keys: &[String]) -> Result<Option<Answered>, NotebookError> {
        let at = match self.worked_out.iter().position(|(p, _)| p.id == id) {
            Some(at) => at,
            None => {
                let project = match n.project(id) {
                    Ok(project) => project,
                    // Put into the bin a moment ago.
                    Err(NotebookError::NotFound(_)) => return Ok(None),
                    Err(other) => return Err(other),
                };
                let lines = self.known.answers(&project.details, &project.plan, &n.choices(id)?);
                self.worked_out.push((project, lines));
                self.worked_out.len() - 1
            }
        };
        let (project, all) = &self.worked_out[at];
        let lines: Vec<Line> = keys
            .iter()
            .filter_map(|key| all.iter().find(|line| line.key == *key).cloned())
            .collect();
        Ok((!lines.is_empty()).then(|| Answered {
            project: id,
            title: project.details.title.clone(),
            state: project.details.state,
            lines,
        }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_carries_any_text() {
        assert_eq!(address("take-up & Ö"), "/search?q=take%2Dup%20%26%20%C3%96");
    }

    #[test]
    fn years_that_are_none_narrow_nothing_down() {
        for odd in [0, -1, i32::MAX, i32::MIN, 1899, 2201] {
            assert!(year(odd).is_none(), "{odd}");
        }
        let (from, to) = year(2026).unwrap();
        assert_eq!((to - from).num_days(), 365);
    }
}
