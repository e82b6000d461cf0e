//! The whole main job by clicking, in real Chromium, on a phone's screen and
//! on a laptop's: from an empty notebook to a shared list and a second project.

#[path = "../support/plain.rs"]
mod plain;
#[path = "../support/mod.rs"]
mod support;

mod away;
mod drafting;
mod driver;
mod garment;
mod job;
mod kept;
mod outbox;
mod pairing;
mod proxy;
mod sample;
mod search;
mod sheets;
mod shop;
mod steps;
mod swatch;
mod trace;
mod viewers;
mod wearers;
