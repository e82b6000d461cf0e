//! The shop list: what chosen open projects still want, ticked in the shop,
//! and brought home onto the shelf.
//!
//! `lines` asks the notebook and puts the ticks beside the figures, `list`
//! shows it, `tick` keeps one tick (from a form, or from a script that held it
//! while the laptop was out of reach), `home` takes what was bought to the shelf,
//! `sheet` puts it on paper.

mod home;
mod lines;
mod list;
mod sheet;
mod tick;

pub use list::money;

use actix_web::web::{ServiceConfig, get, post, resource};

pub fn routes(config: &mut ServiceConfig) {
    config
        .service(resource("/shop").route(get().to(list::show)))
        .service(resource("/shop/sheet").route(get().to(sheet::show)))
        .service(resource("/shop/sheet.pdf").route(get().to(sheet::file)))
        .service(resource("/shop/choice").route(post().to(list::choose)))
        .service(resource("/shop/tick").route(post().to(tick::save)))
        .service(resource("/shop/ticks").route(get().to(tick::all)))
        .service(
            resource("/shop/home")
                .route(get().to(home::show))
                .route(post().to(home::save)),
        )
        .service(resource("/shelf-changes/{id}/undo").route(post().to(home::undo)));
}
