//! The notebook on disk, through its public interface.

/// A notebook in a temporary folder, and values to put into it.
mod common;
/// Photographs made here: turned, torn, hostile.
mod pictures;
#[path = "../support/plain.rs"]
mod plain;

mod backups;
mod bin;
mod devices;
mod exports;
mod import;
mod log;
mod marks;
mod migrations;
mod opening;
mod paces;
mod photos;
mod plans;
mod projects;
mod publish;
mod search;
mod shares;
mod shelf;
mod shop;
mod steps;
mod swatches;
mod timer;
mod variants;
mod versions;
mod viewers;
