//! The outlines of a project's pieces laid on one of its cloths.
//!
//! - [`form`]: what is laid, on what, how
//! - [`found`]: the layout, what it takes, and what can be done about it
//! - [`kept`]: the lay that is kept of the cloth, keeping one, taking it out
//! - [`besides`]: what is not laid here, and why
//! - [`sheet`]: a lay on paper
//! - [`drawing`]: the layout drawn

mod besides;
mod drawing;
mod form;
mod found;
mod kept;
mod sheet;

pub use found::drawings;

use crate::figures::lay::{LayJob, LayPiece, lay_job, lay_pieces};
use crate::figures::{Figures, Problem};
use crate::notebook::Project;
use crate::plan::{Cloth, Plan};
use crate::web::app::{App, Body, id};
use crate::web::components::empty;
use crate::web::error::{Answer, WebError};
use crate::web::form::{Shown, Typed};
use crate::web::laying::{Found, Key};
use crate::web::page::{self, Place};
use crate::web::respond;
use actix_web::web::{Data, Path, Query, ServiceConfig, block, get, post, resource};
use form::Wanted;
use maud::{Markup, html};
use sha2::{Digest, Sha256};

pub fn routes(config: &mut ServiceConfig) {
    config.service(resource("/projects/{id}/lay/{cloth}").route(get().to(show)));
    config.service(resource("/projects/{id}/lay/{cloth}/found").route(get().to(progress)));
    config.service(resource("/projects/{id}/lay/{cloth}/look").route(post().to(look)));
    config.service(resource("/projects/{id}/lay/{cloth}/stop").route(post().to(stop)));
    config.service(resource("/projects/{id}/lay/{cloth}/keep").route(post().to(kept::keep)));
    config.service(resource("/projects/{id}/lay/{cloth}/remove").route(post().to(kept::remove)));
    config.service(resource("/projects/{id}/lay/{cloth}/sheet").route(get().to(sheet::show)));
    config.service(resource("/projects/{id}/lay/{cloth}/sheet.pdf").route(get().to(sheet::file)));
}

type Place2 = Path<(String, String)>;
type Asked = Query<Vec<(String, String)>>;

/// A project's plan with its sizes settled, and the cloth of the address.
struct Laid {
    project: Project,
    plan: Plan,
    figures: std::sync::Arc<Figures>,
    cloth: Cloth,
}

impl Laid {
    async fn load(app: &App, place: &Place2) -> Result<Laid, WebError> {
        let project = super::part::load(app, id(&place.0)?).await?;
        let cloth = project.plan.cloths.iter().find(|c| c.id == place.1).cloned();
        let cloth = cloth.ok_or(WebError::NoPage)?;
        let figures = app.figures(&project.plan).await?;
        let plan = crate::drafting::settled(&project.plan).plan.into_owned();
        Ok(Laid {
            project,
            plan,
            figures,
            cloth,
        })
    }

    fn pieces(&self) -> Vec<LayPiece> {
        lay_pieces(&self.plan, &self.figures, &self.cloth.id)
    }

    fn job(&self, wanted: &Wanted) -> Result<LayJob<'_>, Problem> {
        lay_job(&self.plan, &self.figures, &self.cloth, &wanted.wish)
    }

    /// The same plan, cloth and wish are the same lay.
    fn key(&self, wanted: &Wanted) -> Key {
        let mut hash = Sha256::new();
        // Keeping one is no reason to look anew.
        let plan = Plan {
            lays: Vec::new(),
            ..self.plan.clone()
        };
        hash.update(plan.to_json());
        hash.update(format!("\n{}\n{:?}", self.cloth.id, wanted.wish));
        hash.finalize().into()
    }

    fn base(&self) -> String {
        format!("{}/lay/{}", super::part::base(&self.project), self.cloth.id)
    }

    /// Of the figures page: this cloth.
    fn figures(&self) -> String {
        format!("{}/figures#cloth-{}", super::part::base(&self.project), self.cloth.id)
    }
}

/// What was found, or what of the form stands in its way.
async fn ask(app: &App, laid: &Laid, wanted: &Wanted) -> Result<Result<Found, Problem>, WebError> {
    let problem = match laid.job(wanted) {
        Ok(job) => job.problem,
        Err(refused) => return Ok(Err(refused)),
    };
    let (lays, key) = (app.lays.clone(), laid.key(wanted));
    let found = block(move || lays.first(key, &problem)).await?;
    Ok(found.map_err(|error| Problem {
        field: "pieces".into(),
        message: error.to_string(),
    }))
}

async fn show(app: Data<App>, place: Place2, asked: Asked) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let (page, _) = whole(&app, &laid, Typed(asked.into_inner()), html! {}).await?;
    respond::page(page)
}

/// The page, and whether what is asked for can be laid. `note` is what came of
/// keeping a lay.
async fn whole(app: &App, laid: &Laid, typed: Typed, note: Markup) -> Result<(Markup, bool), WebError> {
    if laid.pieces().is_empty() {
        let body = html! { (note) (kept::card(laid)) (nothing(laid)) (besides::card(laid)) };
        return Ok((frame(laid, body), false));
    }
    // A lay that is kept and holds is not looked for again before anybody asks.
    let settled = !typed.has("ground") && kept::holds(laid);
    let typed = form::begun(laid, typed);
    let (wanted, mut errors) = form::read(laid, &typed);
    let mut card = html! {};
    if errors.is_empty() && !settled {
        match ask(app, laid, &wanted).await? {
            Ok(found) => card = found::card(laid, &wanted, &found),
            Err(refused) => errors.add(refused.field, refused.message),
        }
    }
    let sound = errors.is_empty();
    let shown = Shown { typed, errors };
    let body = html! {
        (note)
        (kept::card(laid))
        (form::card(laid, &shown))
        div #found { (card) }
        (besides::card(laid))
        script src=(crate::web::assets::address("lay.js")) defer {}
    };
    Ok((frame(laid, body), sound))
}

/// The card of what was found alone, for the script that keeps it fresh.
async fn progress(app: Data<App>, place: Place2, asked: Asked) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let typed = Typed(asked.into_inner());
    let (wanted, errors) = form::read(&laid, &typed);
    if !errors.is_empty() {
        return Err(WebError::NoPage);
    }
    match ask(&app, &laid, &wanted).await? {
        Ok(found) => respond::page(found::card(&laid, &wanted, &found)),
        Err(_) => Err(WebError::NoPage),
    }
}

async fn look(app: Data<App>, place: Place2, body: Body) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let typed = Typed(body.into_inner());
    let (wanted, errors) = form::read(&laid, &typed);
    if errors.is_empty()
        && let Ok(job) = laid.job(&wanted)
    {
        let (lays, key, problem) = (app.lays.clone(), laid.key(&wanted), job.problem);
        // What is wrong with it the page itself says.
        let _ = block(move || lays.look(key, problem)).await?;
    }
    back(&laid, &typed)
}

async fn stop(app: Data<App>, place: Place2, body: Body) -> Answer {
    let laid = Laid::load(&app, &place).await?;
    let lays = app.lays.clone();
    block(move || lays.stop()).await?;
    back(&laid, &Typed(body.into_inner()))
}

fn back(laid: &Laid, typed: &Typed) -> Answer {
    respond::see(&format!("{}?{}#found", laid.base(), form::query(typed)))
}

fn frame(laid: &Laid, body: Markup) -> Markup {
    let heading = format!("Outlines on {}", laid.cloth.name);
    page::project(
        laid.project.id,
        &laid.project.details.title,
        Place::Figures,
        &heading,
        html! {
            (super::part::variant_note(&laid.project))
            h1 { (heading) }
            p.lead-in { "The pieces cut from this cloth, laid on it as they are shaped. Nothing here changes the plan until you keep a lay." }
            (body)
            p.actions { a.button.quiet href=(laid.figures()) { "Back to the figures" } }
        },
    )
}

fn nothing(laid: &Laid) -> Markup {
    empty(
        "No piece of the plan is cut from this cloth in one: give a piece a face of plain cloth, and its size or an outline.",
        &format!("{}#pieces", super::part::base(&laid.project)),
        "Back to the plan",
    )
}
