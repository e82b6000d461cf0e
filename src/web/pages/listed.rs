//! What the forms for one part of a list of the plan have in common: an edge,
//! a notion, a row of closures, a seam. Shown, saved, tried and taken out alike.

use super::part;
use crate::notebook::Project;
use crate::plan::{Edit, Plan};
use crate::web::app::{App, Body, id, typed};
use crate::web::error::{Answer, WebError};
use crate::web::form::{Errors, Shown, Typed};
use crate::web::respond;
use actix_web::web::{Data, Path, ServiceConfig, get, post, resource};
use maud::Markup;

/// Stands in an address for a part that is not there yet.
pub const NEW: &str = "new";

pub trait Listed: Sized + 'static {
    /// As the list is called in the plan and in addresses: `edges`.
    const LIST: &'static str;
    /// Where the page of the plan lists it: `#edges`.
    const BACK: &'static str;
    /// Fields a problem can stand beside; the first where it names none of them.
    const FIELDS: &'static [&'static str];

    fn id(&self) -> &str;
    fn of<'p>(plan: &'p Plan, id: &str) -> Option<&'p Self>;
    /// What the form of a new one begins with.
    fn fresh() -> Typed;
    fn filled(&self, plan: &Plan) -> Typed;
    fn read(typed: &Typed, plan: &Plan, name: &str) -> Result<Self, Errors>;
    async fn page(
        app: &App,
        project: &Project,
        name: &str,
        form: &Shown,
        note: Option<Markup>,
    ) -> Result<Markup, WebError>;
    fn put(self) -> Edit;
    fn removal(id: String) -> Edit;
    /// What the figures beside the form are about.
    fn focus(&self) -> Option<String> {
        None
    }
}

pub fn routes<P: Listed>(config: &mut ServiceConfig) {
    let at = format!("/projects/{{id}}/{}/{{part}}", P::LIST);
    config
        .service(resource(&at).route(get().to(show::<P>)).route(post().to(save::<P>)))
        .service(resource(format!("{at}/try")).route(post().to(try_it::<P>)))
        .service(resource(format!("{at}/remove")).route(post().to(remove::<P>)));
}

async fn show<P: Listed>(app: Data<App>, path: Path<(String, String)>) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let mut form = match P::of(&project.plan, &name) {
        Some(part) => Shown::from(part.filled(&project.plan)),
        None if name == NEW => Shown::from(P::fresh()),
        None => return Err(WebError::NoPage),
    };
    part::begin(&mut form, &project);
    respond::page(P::page(&app, &project, &name, &form, None).await?)
}

async fn save<P: Listed>(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let typed = typed(body);
    let part = match P::read(&typed, &project.plan, &name) {
        Ok(part) => part,
        Err(errors) => {
            return Err(WebError::Form(
                P::page(&app, &project, &name, &Shown { typed, errors }, None).await?,
            ));
        }
    };
    let own_id = part.id().to_string();
    let own = format!("{}/{own_id}", P::LIST);
    let saved = part::save(&app, &project, &typed, part.put(), &own).await?;
    part::finish(
        saved,
        Shown::from(typed),
        P::BACK,
        |problem| part::last_of(problem, P::FIELDS),
        |now| {
            P::of(&now.plan, &own_id)
                .map(|p| p.filled(&now.plan))
                .unwrap_or_default()
        },
        async |project, form, note| P::page(&app, project, &name, form, note).await,
        &project,
    )
    .await
}

async fn try_it<P: Listed>(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    let project = part::load(&app, id(&project)?).await?;
    let read = P::read(&typed(body), &project.plan, &name);
    let focus = read.as_ref().ok().and_then(P::focus);
    part::tried(&app, &project, read.map(P::put), focus.as_deref()).await
}

async fn remove<P: Listed>(app: Data<App>, path: Path<(String, String)>, body: Body) -> Answer {
    let (project, name) = path.into_inner();
    part::remove(&app, id(&project)?, typed(body), P::removal(name)).await
}
