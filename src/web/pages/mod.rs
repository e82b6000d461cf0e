//! One file a page, or a small family of pages.

mod allowances;
mod api;
mod cloth;
mod cloth_fields;
mod devices;
mod edges;
mod figures;
mod home;
mod lengths;
mod log;
mod materials;
mod notions;
mod pair;
mod part;
mod photos;
mod piece;
mod plan;
mod plan_cloth;
mod project;
mod remnant;
mod revisions;
mod settings;
mod share;
mod time;
mod variants;
mod wearers;

use super::app::App;
use super::assets;
use actix_web::web::{ServiceConfig, get, resource};
pub use pair::turned_away;

pub fn routes(config: &mut ServiceConfig, app: &App) {
    config.service(resource("/static/{edition}/{name:.+}").route(get().to(assets::serve)));
    home::routes(config);
    project::routes(config);
    plan::routes(config);
    parts(config);
    variants::routes(config, app);
    revisions::routes(config);
    figures::routes(config);
    log::routes(config);
    materials::routes(config);
    share::routes(config);
    cloth::routes(config);
    wearers::routes(config);
    settings::routes(config);
    devices::routes(config);
    pair::routes(config);
    photos::routes(config);
    lengths::routes(config);
    api::routes(config);
}

/// The forms of the parts of a plan, for the plan and for its variants alike.
fn parts(config: &mut ServiceConfig) {
    piece::routes(config);
    plan_cloth::routes(config);
    edges::routes(config);
    remnant::routes(config);
    notions::routes(config);
    allowances::routes(config);
    time::routes(config);
}
