//! What the plan's page says first: the next step, the time left, and the ways
//! to what is needed with scissors in hand.

use super::home;
use crate::figures::Figures;
use crate::figures::time::TimeFigures;
use crate::notebook::{Now, Project, ProjectState, Step};
use maud::{Markup, html};

/// Nothing for a plan without pieces, and for what is finished. `waiting` says
/// that the plan itself asks for something first: steps are not listed before.
pub fn card(project: &Project, figures: &Figures, steps: Vec<Step>, time: &TimeFigures, waiting: bool) -> Markup {
    if project.details.state == ProjectState::Finished || project.plan.pieces.is_empty() {
        return html! {};
    }
    let base = format!("/projects/{}", project.id);
    let now = Now {
        done: steps.iter().filter(|s| s.done_at.is_some()).count(),
        steps: steps.len(),
        next: steps.into_iter().find(|s| s.done_at.is_none()),
        begun: true,
        time: time.clone(),
    };
    let first_cut = figures.cloths.iter().find(|c| !c.cuts.is_empty());
    html! {
        section.card.at-table aria-label="At the table" {
            @if now.steps > 0 || !waiting { (home::next(project.id, &now)) }
            nav.table-ways aria-label="To cut and to buy" {
                @if let Some(cloth) = first_cut { a.button href=(format!("{base}/figures#cloth-{}", cloth.cloth)) { "Cut list" } }
                a.button href="/shop" { "Shop list" }
                @if first_cut.is_some() { a.button href=(format!("{base}/sheets")) { "Sheets" } }
            }
            (home::left(&now))
        }
    }
}
