//! Real HTTP against the built program.

#[path = "../notebook/pictures.rs"]
#[allow(dead_code)]
mod pictures;
#[path = "../support/mod.rs"]
mod support;

mod api;
mod bad_input;
mod binding;
mod devices;
mod doors;
mod drafts;
mod encrypted;
mod face_bench;
mod faces;
mod kept;
mod kept_lay;
mod lay;
mod listed_in_parts;
mod log;
mod long_pages;
mod meanwhile;
mod outbox;
mod outline;
mod pattern;
mod plan_forms;
mod ready_cut;
mod search;
mod sewing;
mod shares;
mod shelf;
mod shop;
mod slow;
mod steps;
mod swatches;
mod time;
mod trace;
mod unit_sizes;
mod variants;
mod viewers;
mod wearers;
