//! Real HTTP against the built program.

#[path = "../support/mod.rs"]
mod support;

mod api;
mod bad_input;
mod binding;
mod devices;
mod doors;
mod log;
mod plan_forms;
mod shares;
mod shelf;
mod time;
mod variants;
