//! The log: what happened, as it happened.
//!
//! `show` lists it, `overview` leads through a long one, `add` writes to it, `change` mends, bins and judges what
//! is there. `entries` holds what these share: reading the fields of each kind
//! and saving so that a resend is harmless. `effect` works out what a decision
//! did to the figures. `ties` are the
//! step, piece and cloth an entry belongs to.

mod add;
mod change;
mod effect;
mod entries;
mod overview;
mod show;
mod ties;

pub use add::work_fields as fields_of_work;
pub use show::address;
pub use ties::Ties;

use actix_web::web::{ServiceConfig, get, post, resource};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/projects/{id}/log").route(get().to(show::show)))
        .service(resource("/projects/{id}/log/add").route(get().to(add::show)))
        .service(resource("/projects/{id}/log/add/photo").route(post().to(add::photo)))
        .service(
            resource("/projects/{id}/log/add/{kind}")
                .route(get().to(add::again))
                .route(post().to(add::words)),
        )
        .service(
            resource("/projects/{id}/log/{entry}")
                .route(get().to(change::show))
                .route(post().to(change::save)),
        )
        .service(resource("/projects/{id}/log/{entry}/second-thought").route(post().to(change::second_thought)))
        .service(resource("/projects/{id}/log/{entry}/bin").route(post().to(change::bin)))
        .service(resource("/projects/{id}/log/{entry}/restore").route(post().to(change::restore)));
}
