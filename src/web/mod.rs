//! The web: parses what comes in, says what is wrong with it, asks the
//! notebook and the figures, and shows the answer. Computes nothing itself.

mod app;
mod assets;
mod components;
mod connection;
mod error;
#[cfg(test)]
mod every_route;
mod form;
mod fresh;
mod guard;
mod kept;
mod known;
mod lan;
mod laying;
mod limit;
mod meanwhile;
mod page;
mod pages;
mod pairing;
mod patience;
mod respond;
mod running;
mod server;
mod tls;
mod upload;
mod visitor;

pub use app::App;
pub use pairing::MINUTES as CODE_MINUTES;
pub use server::{Invitation, Opened, Options, serve};
pub use tls::{Tls, TlsError, Trust};
