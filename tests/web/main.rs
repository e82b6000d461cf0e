//! Real HTTP against the built program.

#[path = "../support/mod.rs"]
mod support;

mod api;
mod bad_input;
mod devices;
mod doors;
mod log;
mod plan_forms;
mod ready_cut;
mod sewing;
mod shares;
mod shelf;
