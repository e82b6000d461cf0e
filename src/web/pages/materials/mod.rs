//! The materials list: tick what viewers may see, copy it as text, open it by
//! a random link.
//!
//! - [`ticks`]: the form
//! - [`text`]: the list in other forms
//! - [`viewers`]: its link, the published site, and whether it stays as it was

mod text;
mod ticks;
mod viewers;

use crate::measure::{Length, Unit};
use crate::notebook::{Id, Notebook, Project, Seen, Settings, Share, Viewers};
use crate::sheets::{self, Group, Materials, Source};
use crate::web::app::{App, id};
use crate::web::components::empty;
use crate::web::error::{Answer, WebError};
use crate::web::form::Errors;
use crate::web::lan;
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::HttpRequest;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::{Markup, html};

pub use text::{file, kind_of};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(
            resource("/projects/{id}/materials")
                .route(get().to(show))
                .route(post().to(ticks::save)),
        )
        .service(resource("/projects/{id}/materials/close").route(post().to(viewers::close)))
        .service(resource("/projects/{id}/materials/state").route(post().to(viewers::state)))
        .service(resource("/projects/{id}/materials/site").route(post().to(viewers::site)))
        .service(resource("/projects/{id}/materials/list.{kind}").route(get().to(text::download)));
}

/// What the page shows.
struct Known {
    project: Project,
    /// As the plan and the ticks are now.
    now: Seen,
    list: Materials,
    /// What viewers see in its place, where it stays as it was.
    held: Option<(Seen, Materials)>,
    version: i64,
    share: Option<Share>,
    viewers: Viewers,
    settings: Settings,
    /// This notebook, as a link for others names it.
    address: String,
}

async fn known(app: &App, id: Id, request: &HttpRequest) -> Result<Known, WebError> {
    let (project, now, seen, version, share, viewers, settings) = app
        .ask(move |n: &Notebook| {
            Ok((
                n.project(id)?,
                n.seen_now(id)?,
                n.seen(id)?,
                n.choices_version(id)?,
                n.share(id)?,
                n.viewers(id)?,
                n.settings()?,
            ))
        })
        .await?;
    let list = list(app, &now, None, None).await?;
    let held = match seen.since {
        Some(_) => {
            let list = self::list(app, &seen, None, None).await?;
            Some((seen, list))
        }
        None => None,
    };
    Ok(Known {
        project,
        now,
        list,
        held,
        version,
        share,
        viewers,
        settings,
        address: lan::base(request, app.lan.as_deref()),
    })
}

/// The list of what is seen; with the viewer's own unit and width.
pub async fn list(app: &App, seen: &Seen, unit: Option<Unit>, width: Option<Length>) -> Result<Materials, WebError> {
    let plan = match unit {
        Some(unit) => seen.plan.read_in(unit),
        None => seen.plan.clone(),
    };
    let figures = app.figures(&plan).await?;
    Ok(sheets::materials(&Source {
        title: &seen.shown.title,
        pattern: &seen.shown.pattern,
        plan: &plan,
        figures: &figures,
        steps: &seen.shown.steps,
        decisions: &seen.shown.decisions,
        choices: &seen.shown.choices,
        width,
    }))
}

async fn show(app: Data<App>, path: Path<String>, request: HttpRequest) -> Answer {
    let known = known(&app, id(&path)?, &request).await?;
    let version = known.version.to_string();
    respond::page(page(&known, &known.list, &version, None, &Errors::default()))
}

/// `list` has the ticks of the form: the saved ones, or those that were sent.
fn page(known: &Known, list: &Materials, seen: &str, notice: Option<Markup>, errors: &Errors) -> Markup {
    let id = known.project.id;
    page::project(
        id,
        &known.project.details.title,
        Place::Materials,
        "Materials",
        html! {
            h1 { "Materials" }
            @if list.sections.iter().all(|s| s.group == Group::Cautions) {
                (empty("The list follows from the plan: its pattern, cloths, binding and notions.", &format!("/projects/{id}"), "Go to the plan"))
            } @else {
                nav.jump aria-label="On this page" {
                    a href="#what" { "Ticks" }
                    a href="#text" { "Text" }
                    a href="#share" { "Page" }
                }
                (viewers::differing(known))
                @if let Some(notice) = notice { (notice) }
                (ticks::form(known, list, seen, errors))
                (text::text_card(known, list))
                (viewers::share_card(known))
            }
        },
    )
}
