//! One file a page, or a small family of pages.

mod allowances;
mod api;
mod at_table;
mod backup;
mod before_after;
mod care_fields;
mod closures;
mod cloth;
mod cloth_fields;
mod contrast;
mod devices;
mod edges;
mod figures;
mod home;
mod lay;
mod leftovers;
mod lengths;
mod listed;
mod log;
mod materials;
mod measured;
mod not_yet;
mod notions;
mod outline_fields;
mod pair;
mod part;
mod photos;
mod piece;
mod plan;
mod plan_cloth;
mod plan_sewing;
mod project;
mod project_cloth;
mod project_photo;
mod ready_cut_fields;
mod remnant;
mod revisions;
mod seams;
mod search;
mod settings;
mod share;
mod sheets;
mod shop;
mod sizing;
mod steps;
mod thoughts;
mod time;
mod timer;
mod trace;
mod trust;
mod unit_sizes;
mod variants;
mod versions;
mod wearers;

use super::app::App;
use super::assets;
use actix_web::web::{ServiceConfig, get, resource};
pub use backup::damage;
pub use home::reminder as reminder_on_first_page;
pub use pair::turned_away;
pub use trust::not_encrypted;

pub fn routes(config: &mut ServiceConfig, app: &App) {
    config.service(resource("/static/{edition}/{name:.+}").route(get().to(assets::serve)));
    config.service(resource("/worker.js").route(get().to(assets::worker)));
    // Routes are looked through in this order, and these are asked for most.
    share::routes(config);
    home::routes(config);
    project::routes(config);
    plan::routes(config);
    parts(config);
    variants::routes(config, app);
    revisions::routes(config);
    versions::routes(config);
    measured::routes(config);
    figures::routes(config);
    leftovers::routes(config);
    lay::routes(config);
    steps::routes(config);
    timer::routes(config);
    log::routes(config);
    materials::routes(config);
    sheets::routes(config);
    cloth::routes(config);
    shop::routes(config);
    project_cloth::routes(config);
    wearers::routes(config);
    search::routes(config);
    settings::routes(config);
    backup::routes(config);
    devices::routes(config);
    pair::routes(config);
    trust::routes(config);
    photos::routes(config);
    project_photo::routes(config);
    trace::routes(config);
    before_after::routes(config);
    lengths::routes(config);
    api::routes(config);
}

/// The forms of the parts of a plan, for the plan and for its variants alike.
fn parts(config: &mut ServiceConfig) {
    piece::routes(config);
    unit_sizes::routes(config);
    plan_cloth::routes(config);
    contrast::routes(config);
    edges::routes(config);
    remnant::routes(config);
    notions::routes(config);
    closures::routes(config);
    seams::routes(config);
    sizing::routes(config);
    allowances::routes(config);
    time::routes(config);
}
