//! The steps the plan asks for, offered to be taken.

use crate::figures::steps::{StartingStep, starting_list};
use crate::measure::about_hours;
use crate::notebook::{Id, Notebook, Project, Step};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{card, hidden};
use crate::web::error::Answer;
use crate::web::form::word;
use crate::web::{fresh, respond};
use actix_web::web::{Data, Path};
use chrono::Local;
use maud::{Markup, html};

/// What the plan has and the steps do not.
pub fn missing(steps: &[Step], list: Vec<StartingStep>) -> Vec<StartingStep> {
    list.into_iter()
        .filter(|offered| !steps.iter().any(|s| s.work == Some(offered.work)))
        .collect()
}

pub fn offer(project: &Project, steps: &[Step], missing: &[StartingStep]) -> Markup {
    if missing.is_empty() {
        return html! {};
    }
    let first = steps.is_empty();
    let form = html! {
        form method="post" action=(format!("/projects/{}/steps/take", project.id)) {
            p.hint { @if first { "Leave out what you do not need; order, names and minutes are yours to change." } @else { "The plan asks for these too; no step is of their kind of work yet." } }
            ul.offered { @for step in missing {
                @let kind = word(&step.work);
                li {
                    (hidden(&format!("id-{kind}"), &fresh::id().to_string()))
                    label.pick {
                        input type="checkbox" name="take" value=(kind) checked;
                        span.offered-text { b { (step.title) } span.meta { (step.amount) } }
                        span.num { @if let Some(minutes) = step.minutes { "about " (about_hours(minutes.likely, true)) } @else { span.meta { "time not known" } } }
                    }
                }
            } }
            div.save-line { button.button.primary[first] type="submit" { "Take these steps" } }
        }
    };
    html! {
        @if first { (card("offer", "From the plan", form)) }
        @else { details.offer { summary { "The plan has more: " (missing.len()) @if missing.len() == 1 { " step" } @else { " steps" } } (form) } }
    }
}

pub async fn take(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = id(&path)?;
    let typed = typed(body);
    let today = Local::now().date_naive();
    app.ask(move |n: &Notebook| {
        let known = n.project(project)?;
        let offered = starting_list(&known.plan, &n.time_of(&known, today)?);
        let mut steps = Vec::new();
        for offer in offered {
            let kind = word(&offer.work);
            if typed.all("take").any(|taken| taken == kind) {
                let id = Id::try_parse(typed.get(&format!("id-{kind}"))).unwrap_or_else(|_| Id::now_v7());
                steps.push(Step::new(id, offer.title, Some(offer.work)));
            }
        }
        n.add_steps(project, &steps)
    })
    .await?;
    respond::see(&format!("/projects/{project}/steps"))
}
