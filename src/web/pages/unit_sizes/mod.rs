//! Unit sizes side by side: each worked out as a whole plan, none saved until
//! one is taken.
//!
//! - [`choose`]: which pieces, which sizes
//! - [`table`]: the plans compared

mod choose;
mod table;

use super::part::{self, Saved};
use crate::figures::Figures;
use crate::measure::Length;
use crate::notebook::{Notebook, Project};
use crate::plan::{Edit, Face, Piece, Plan};
use crate::web::app::{App, Body, id, typed};
use crate::web::components::{empty, hidden, text_area};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Reader, Shown, Typed, length_text};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, get, post, resource};
use maud::{Markup, html};
use std::sync::Arc;

/// Sizes beside the one there is now: six columns in all.
const OTHERS: usize = 5;

pub fn routes(config: &mut ServiceConfig) {
    config.service(
        resource("/projects/{id}/unit-sizes")
            .route(get().to(show))
            .route(post().to(take)),
    );
}

/// One way to size the units: the pieces it changes, and the plan with them.
struct Column {
    /// What stands over it: "3 in", or "3 1/2 in and others".
    sizes: Vec<(String, Length)>,
    plan: Plan,
    figures: Arc<Figures>,
}

/// The patchwork of a piece that units of another size could make up.
fn patchwork(piece: &Piece) -> Option<&crate::plan::Patchwork> {
    match &piece.face {
        Some(Face::Patchwork(patchwork)) => Some(patchwork),
        _ => None,
    }
}

fn resized(piece: &Piece, finished: Length) -> Piece {
    let mut piece = piece.clone();
    if let Some(Face::Patchwork(patchwork)) = &mut piece.face {
        patchwork.finished = finished;
    }
    piece
}

/// The plan with pieces of other unit sizes.
fn with_sizes(plan: &Plan, sizes: &[(String, Length)]) -> Plan {
    let mut plan = plan.clone();
    for piece in &mut plan.pieces {
        if let Some((_, finished)) = sizes.iter().find(|(id, _)| *id == piece.id) {
            *piece = resized(piece, *finished);
        }
    }
    plan
}

async fn show(app: Data<App>, path: Path<String>, query: Query<Vec<(String, String)>>) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let mut form = Shown::from(choose::filled(Typed(query.into_inner()), &project.plan));
    part::begin(&mut form, &project);
    respond::page(page(&app, &project, form, None).await?)
}

async fn page(app: &App, project: &Project, mut form: Shown, note: Option<Markup>) -> Result<Markup, WebError> {
    let plan = &project.plan;
    let columns = choose::read(&mut form, plan);
    let currency = app.ask(|n: &Notebook| n.settings()).await?.currency;
    let chosen = choose::chosen(&form.typed, plan);
    let now: Vec<(String, Length)> = chosen
        .iter()
        .filter_map(|p| Some((p.id.clone(), patchwork(p)?.finished)))
        .collect();
    let mut worked_out = Vec::new();
    for sizes in std::iter::once(now).chain(columns) {
        let plan = with_sizes(plan, &sizes);
        let figures = app.figures(&plan).await?;
        worked_out.push(Column { sizes, plan, figures });
    }
    let action = format!("{}/unit-sizes", part::base(project));
    let any = plan.pieces.iter().any(|p| patchwork(p).is_some());
    Ok(page::project(
        project.id,
        &project.details.title,
        Place::Plan,
        "Unit sizes",
        html! {
            h1 { "Unit sizes side by side" }
            @if let Some(note) = note { (note) }
            @if any {
                (choose::form(&form, plan, &action))
                @if !chosen.is_empty() && worked_out.len() > 1 {
                    form.taking method="post" action=(action) {
                        (hidden("seen", form.typed.get("seen")))
                        (hidden("decision_id", form.typed.get("decision_id")))
                        @for (name, value) in choose::carried(&form.typed) { (hidden(name, value)) }
                        @for (n, column) in worked_out.iter().enumerate().skip(1) {
                            @for (piece, size) in &column.sizes { (hidden(&format!("take_{n}_{piece}"), &length_text(*size, plan.unit))) }
                        }
                        (table::table(&chosen, &worked_out, &currency))
                        details.decide open[!form.typed.get("decided").is_empty() || !form.typed.get("why").is_empty()] {
                            summary { "Keep what you take as a decision" }
                            p.hint { "It goes into the log with what it does to the figures. Write it before you take a size." }
                            (text_area(&form, "decided", "What you decided", "", 2))
                            (text_area(&form, "why", "Why", "", 3))
                        }
                    }
                }
            } @else {
                (empty("Sizes can be compared as soon as a piece is a patchwork.", &format!("{}#pieces", part::base(project)), "To the pieces"))
            }
        },
    ))
}

/// Saves the sizes of one column.
async fn take(app: Data<App>, path: Path<String>, body: Body) -> Answer {
    let project = part::load(&app, id(&path)?).await?;
    let typed = typed(body);
    let mut r = Reader::new(&typed, project.plan.unit);
    let n = r.count("take", 1..=OTHERS as u32);
    let mut pieces = Vec::new();
    for piece in &project.plan.pieces {
        let field = format!("take_{n}_{}", piece.id);
        if typed.has(&field) && patchwork(piece).is_some() {
            pieces.push(resized(piece, r.length_positive(&field)));
        }
    }
    if pieces.is_empty() {
        r.errors.add(
            "take",
            "These pieces are no longer in the plan. Choose the pieces again.",
        );
    }
    part::read_decision(&mut r);
    let mut form = Shown {
        errors: r.errors,
        typed: typed.clone(),
    };
    if !form.errors.is_empty() {
        return Err(WebError::Form(page(&app, &project, form, None).await?));
    }
    let ids: Vec<String> = pieces.iter().map(|p| format!("pieces/{}", p.id)).collect();
    let edit = Edit::Pieces(pieces);
    if let Ok(after) = edit.apply(&project.plan, &project.plan) {
        for problem in app.problems(after).await? {
            if ids.iter().any(|id| problem.field.starts_with(&format!("{id}/"))) {
                form.errors.add("sizes", problem.message);
            }
        }
    }
    if !form.errors.is_empty() {
        return Err(WebError::Form(page(&app, &project, form, None).await?));
    }
    // Problems of the pieces were looked for above; of others they keep nothing from being saved.
    match part::save(&app, &project, &typed, edit, "-").await? {
        Saved::Clash(now, what) => {
            form.typed.set("seen", now.revision.to_string());
            let note = html! {
                div.errors role="alert" tabindex="-1" {
                    p { b { (what) " was changed on another device or in another tab since you opened this page." } }
                    p { "The table is worked out anew from the plan as it is now. Take a size again to keep it." }
                }
            };
            let markup = page(&app, &now, form, Some(note)).await?;
            Ok(respond::page_with(actix_web::http::StatusCode::CONFLICT, markup))
        }
        Saved::Done | Saved::Problems(_) => respond::see(&format!("{}#pieces", part::base(&project))),
    }
}
