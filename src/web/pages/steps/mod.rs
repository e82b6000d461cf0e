//! The steps of a project, in the order they are done.
//!
//! `list` shows, ticks and orders them, `start` offers those the plan asks
//! for, `change` mends one of them, bins it and takes it out again.

mod change;
mod list;
mod start;

pub use list::address;

use actix_web::web::{ServiceConfig, get, post, resource};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/steps").route(get().to(list::show)))
        .service(
            resource("/projects/{id}/steps/add")
                .route(get().to(list::again))
                .route(post().to(list::add)),
        )
        .service(
            resource("/projects/{id}/steps/take")
                .route(get().to(list::again))
                .route(post().to(start::take)),
        )
        .service(
            resource("/projects/{id}/steps/{step}")
                .route(get().to(change::show))
                .route(post().to(change::save)),
        )
        .service(resource("/projects/{id}/steps/{step}/tick").route(post().to(list::tick)))
        .service(resource("/projects/{id}/steps/{step}/place").route(post().to(list::place)))
        .service(resource("/projects/{id}/steps/{step}/bin").route(post().to(change::bin)))
        .service(resource("/projects/{id}/steps/{step}/restore").route(post().to(change::restore)));
}
