//! Real HTTP against the built program.

#[path = "../support/mod.rs"]
mod support;

mod api;
mod bad_input;
mod binding;
mod devices;
mod doors;
mod face_bench;
mod faces;
mod log;
mod plan_forms;
mod ready_cut;
mod search;
mod sewing;
mod shares;
mod shelf;
mod steps;
mod time;
mod unit_sizes;
mod variants;
