//! What can be drafted: small drawings to choose from, and the drafts there are.

use super::kinds::edges_of;
use super::table::{KINDS, Kind};
use crate::drafting::{Shape, Told, parts_of};
use crate::measure::CM;
use crate::plan::{Draft, Plan};
use crate::web::app::{App, id};
use crate::web::components::{card, shape_icon};
use crate::web::error::Answer;
use crate::web::form::Reader;
use crate::web::page::{self, Place};
use crate::web::pages::part;
use crate::web::respond;
use actix_web::web::{Data, Path};
use maud::{Markup, html};

pub async fn show(app: Data<App>, path: Path<String>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let plan = &project.plan;
    let base = format!("{}/drafts", part::base(&project));
    let follows = !edges_of(plan).is_empty();
    respond::page(page::project(
        project.id,
        &project.details.title,
        Place::Plan,
        "Draft a piece",
        html! {
            (part::variant_note(&project))
            h1 { "Draft a piece" }
            p.lead-in { "From measures to an outline with its allowances, notches and grainline. Its pieces go into the plan and follow the measures." }
            @if !plan.drafts.is_empty() {
                (card("drafts", "In this plan", html! {
                    ul.rows { @for draft in &plan.drafts {
                        li { a.row href=(format!("{base}/{}", draft.id)) {
                            div.row-text {
                                b { (draft.name) }
                                div.meta { (made_of(plan, draft)) }
                            }
                        } }
                    } }
                }))
            }
            (card("kinds", "What to draft", html! {
                ul.draft-kinds { @for kind in KINDS.iter().filter(|k| follows || !k.needs_edge()) {
                    li { a href=(format!("{base}/new-{}", kind.word)) {
                        div.draft-icon { (icon(plan, kind)) }
                        div { b { (kind.name) } p.meta { (kind.about) } }
                    } }
                } }
                @if !follows {
                    p.hint { "Facings and bias strips follow an edge: they can be drafted as soon as a piece has an outline." }
                }
            }))
            p.actions { a.button.quiet href=(format!("{}#pieces", part::base(&project))) { "Back to the plan" } }
        },
    ))
}

fn made_of(plan: &Plan, draft: &Draft) -> String {
    let names: Vec<&str> = plan.drafted_from(&draft.id).map(|p| p.name.as_str()).collect();
    if names.is_empty() {
        "No piece is made from it.".into()
    } else {
        names.join(", ")
    }
}

/// Its first part with the usual measures.
fn icon(plan: &Plan, kind: &Kind) -> Markup {
    let typed = kind.fresh(plan);
    let mut r = Reader::new(&typed, plan.unit);
    let shape = kind.read(&mut r).and_then(|read| {
        let mut with = plan.clone();
        let draft = Draft {
            id: "icon".into(),
            name: kind.name.into(),
            seam: CM,
            kind: read,
        };
        with.drafts = vec![draft.clone()];
        let part = parts_of(&with, &draft).ok()?.into_iter().next()?;
        let place = Told {
            field: String::new(),
            name: kind.name,
            unit: plan.unit,
        };
        Shape::of(&part.outline, &place).ok()
    });
    html! { @if let Some(shape) = shape { (shape_icon(&shape)) } }
}
