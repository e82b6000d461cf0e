//! The web: parses what comes in, says what is wrong with it, asks the
//! notebook and the figures, and shows the answer. Computes nothing itself.

mod app;
mod assets;
mod components;
mod error;
mod form;
mod guard;
mod lan;
mod limit;
mod page;
mod pages;
mod pairing;
mod respond;
mod running;
mod server;
mod upload;
mod visitor;

pub use app::App;
pub use pairing::MINUTES as CODE_MINUTES;
pub use server::{Invitation, Opened, Options, serve};
