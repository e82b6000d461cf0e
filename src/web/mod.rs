//! The web: parses what comes in, says what is wrong with it, asks the
//! notebook and the figures, and shows the answer. Computes nothing itself.

mod app;
mod assets;
mod components;
mod error;
mod form;
mod guard;
mod page;
mod pages;
mod respond;
mod server;
mod upload;

pub use app::App;
pub use guard::Hosts;
pub use server::{Options, serve};
