//! The form of a piece: size, alterations, face, layers, with its figures beside it.
//!
//! - [`form`]: the cards of the form in their order, filled and read whole
//! - [`alterations`]: what is changed of the printed pattern
//! - [`face`]: not decided, plain, or the patchwork as a whole
//! - [`unit`]: one unit of a patchwork; [`parts`]: what a composed one is made of
//! - [`painting`]: which unit stands where, as rows of letters
//! - [`setting`]: on point and sashing; [`borders`]: strips round the panel
//! - [`layers`]: margin, batting, backing, quilting lines, take-up
//! - [`told`]: fields and values in words, where two devices clash
//! - [`place`]: the field a problem of the figures belongs beside

mod alterations;
mod borders;
mod face;
mod form;
mod layers;
mod painting;
mod parts;
mod place;
mod setting;
#[cfg(test)]
mod tests;
mod told;
mod unit;

use super::part::{self, PartForm, Saved};
use crate::notebook::Project;
use crate::plan::Edit;
use crate::web::app::{App, Body, id, typed};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Shown, Typed};
use crate::web::meanwhile::stale_note;
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use form::{filled, fresh, read};
use maud::Markup;

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/pieces/{piece}")
                .route(get().to(show))
                .route(post().to(save)),
        )
        .service(resource("/projects/{id}/pieces/{piece}/try").route(post().to(try_it)))
        .service(resource("/projects/{id}/pieces/{piece}/remove").route(post().to(remove)));
}

/// `new` stands for a piece that is not there yet.
const NEW: &str = "new";

async fn show(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, piece) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let mut form = match project.plan.piece(&piece) {
        Some(piece) => Shown::from(filled(piece, &project.plan)),
        None if piece == NEW => Shown::from(fresh(&project.plan)),
        None => return Err(WebError::NoPage),
    };
    part::begin(&mut form, &project);
    respond::page(page(&app, &project, &piece, &form, None).await?)
}

async fn save(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let typed = typed(body);
    let piece = match read(&typed, &project.plan, &name) {
        Ok(piece) => piece,
        Err(errors) => {
            return Err(WebError::Form(
                page(&app, &project, &name, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    let own = format!("pieces/{}", piece.id);
    let pid = piece.id.clone();
    let saved = part::save(&app, &project, &typed, Edit::Piece(Box::new(piece)), &own).await?;
    if let Saved::Clash(now, what) = saved {
        return clash(&app, &now, &what, &name, &pid, typed).await;
    }
    part::finish(
        saved,
        Shown::from(typed.clone()),
        "#pieces",
        |p| place::of(p, &own, &typed),
        |now| now.plan.piece(&pid).map(|p| filled(p, &now.plan)).unwrap_or_default(),
        async |project, form, note| page(&app, project, &name, form, note).await,
        &project,
    )
    .await
}

/// The form again, with what was saved meanwhile in words beside what was typed.
async fn clash(app: &App, now: &Project, what: &str, name: &str, piece: &str, typed: Typed) -> Answer {
    let theirs = now.plan.piece(piece).map(|p| filled(p, &now.plan)).unwrap_or_default();
    let note = stale_note(what, &told::told(&theirs, &now.plan), &told::told(&typed, &now.plan));
    let mut form = Shown::from(typed);
    form.typed.set("seen", now.revision.to_string());
    respond::clash(page(app, now, name, &form, Some(note)).await?)
}

async fn try_it(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let read = read(&typed(body), &project.plan, &name);
    let focus = read.as_ref().ok().map(|p| p.id.clone());
    part::tried(&app, &project, read.map(|p| Edit::Piece(Box::new(p))), focus.as_deref()).await
}

async fn remove(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, piece) = path.into_inner();
    part::remove(&app, id(&project)?, typed(body), Edit::RemovePiece(piece)).await
}

async fn page(
    app: &App,
    project: &Project,
    name: &str,
    form: &Shown,
    note: Option<Markup>,
) -> Result<Markup, WebError> {
    let plan = &project.plan;
    let known = plan.piece(name);
    PartForm {
        project,
        address: format!("pieces/{name}"),
        heading: known.map_or("Add a piece".into(), |p| p.name.clone()),
        fields: maud::html! { (form::fields(form, plan, known)) (super::pattern::links(project, known)) },
        focus: known.map(|p| p.id.clone()),
        remove: known.map(|_| "Take this piece out of the plan"),
        kept_by: None,
        back: "#pieces".into(),
    }
    .page(app, form, note)
    .await
}
