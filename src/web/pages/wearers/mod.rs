//! The people, animals and household objects things are made for, and their
//! dated measurements.
//!
//! `list` shows all, `show` one with its sets, `details` changes name and
//! kind, `measure` takes or mends a set, `names` holds the standard names and
//! how each is measured, `plausible` asks back what no body has.

mod details;
mod list;
mod measure;
mod names;
mod plausible;
mod show;

pub use show::{age_note, day};

use actix_web::web::{ServiceConfig, get, post, resource};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/wearers").route(get().to(list::show)))
        .service(
            resource("/wearers/new")
                .route(get().to(details::new))
                .route(post().to(details::make)),
        )
        .service(resource("/wearers/{id}").route(get().to(show::show)))
        .service(
            resource("/wearers/{id}/details")
                .route(get().to(details::edit))
                .route(post().to(details::save)),
        )
        .service(resource("/wearers/{id}/use").route(post().to(show::use_newest)))
        .service(resource("/wearers/{id}/bin").route(post().to(details::bin)))
        .service(resource("/wearers/{id}/restore").route(post().to(details::restore)))
        .service(
            resource("/wearers/{id}/measurements/{set}")
                .route(get().to(measure::show))
                .route(post().to(measure::save)),
        )
        .service(resource("/wearers/{id}/measurements/{set}/remove").route(post().to(measure::remove)));
}
