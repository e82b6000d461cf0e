//! The shelf: the cloths and battings at home, with their remnants.
//!
//! `list` shows it, `form` holds the fields of one cloth, `change` saves,
//! bins and takes out again, `history` tells what came to it and went from it,
//! `swatch` marks a part of its photo.

mod change;
mod form;
mod history;
mod list;
mod swatch;

use actix_web::web::{ServiceConfig, get, post, resource};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/cloth").route(get().to(list::show)))
        .service(
            resource("/cloth/{id}")
                .route(get().to(change::show))
                .route(post().to(change::save)),
        )
        .service(
            resource("/cloth/{id}/swatch")
                .route(get().to(swatch::show))
                .route(post().to(swatch::save)),
        )
        .service(resource("/cloth/{id}/bin").route(post().to(change::bin)))
        .service(resource("/cloth/{id}/restore").route(post().to(change::restore)));
}
