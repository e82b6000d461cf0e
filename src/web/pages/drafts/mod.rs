//! Drafting: choosing what, the measures with the drawing beside them, and the
//! outline of a piece with its edges and changes.
//!
//! - [`choose`]: what can be drafted
//! - [`table`]: the measures each draft asks for
//! - [`kinds`]: those measures as a form
//! - [`form`]: the form of a draft, filled, read, saved
//! - [`sewn`]: rows of the edges a draft is sewn to
//! - [`outline`]: the outline of a piece: edges, changes
//! - [`grain`]: which way the grain runs in it; [`fold`]: which edge lies on the fold
//! - [`drawn`]: the drawings beside both

mod choose;
mod drawn;
mod fold;
mod form;
mod grain;
mod kinds;
mod outline;
mod sewn;
mod table;

pub use drawn::{glimpse, line, piece_drawing};
pub use kinds::{edge_of, edge_value, edges_of};

use actix_web::web::{ServiceConfig, get, post, resource};

pub fn routes(config: &mut ServiceConfig) {
    let draft = "/projects/{id}/drafts/{part}";
    let outline = "/projects/{id}/pieces/{part}/outline";
    config
        .service(resource("/projects/{id}/drafts").route(get().to(choose::show)))
        .service(resource(draft).route(get().to(form::show)).route(post().to(form::save)))
        .service(resource(format!("{draft}/try")).route(post().to(form::try_it)))
        .service(resource(format!("{draft}/draw")).route(post().to(form::draw)))
        .service(resource(format!("{draft}/remove")).route(post().to(form::remove)))
        .service(
            resource(outline)
                .route(get().to(outline::show))
                .route(post().to(outline::save)),
        )
        .service(resource(format!("{outline}/try")).route(post().to(outline::try_it)))
        .service(resource(format!("{outline}/draw")).route(post().to(outline::draw)))
        .service(resource(format!("{outline}/remove")).route(post().to(outline::remove)));
}
