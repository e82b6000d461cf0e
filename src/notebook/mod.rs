//! The notebook on disk: one folder with `notebook.sqlite` and `photos/`.
//! All SQL of the program stands in this folder.
//!
//! One thread writes, several connections read. Every save is one
//! transaction, and keeps what was there before: a plan as a numbered
//! revision, everything else as an earlier version or in the bin.

/// What is worked out of plans, kept in memory.
mod by_revision;
/// Values as they stand in columns.
mod columns;
/// One writer, several readers.
mod connections;
/// What goes wrong, each as a sentence.
mod error;
/// From an older notebook to a newer one.
mod migrate;
/// Opening a folder, and keeping others out of it.
mod open;
/// The values the notebook keeps.
mod types;

/// Two photos of a project side by side.
mod before_after;
/// Projects as lists show them.
mod cards;
/// The shelf of cloths and remnants.
mod cloths;
/// The devices that were let in.
mod devices;
/// What a change of a plan does to the figures.
mod effect;
/// The log of a project.
mod log;
/// What came to a cloth, was cut from it, went back.
mod movements;
/// What is to be done now in every open project.
mod now;
/// How long work took in finished projects.
mod paces;
/// Lines with a length on photos.
mod photo_marks;
/// The rows of photos; their files are [`crate::photos`].
mod photo_rows;
/// Plans and their revisions.
mod plans;
/// Projects: one project, its details, the bin.
mod projects;
/// Search over all of it.
mod search;
/// The maker's settings.
mod settings;
/// What of the materials is shown, and the links it is shown by.
mod shares;
/// Purchases and cuts, undone as a whole.
mod shelf_changes;
/// The shop list: what is ticked and bought.
mod shop;
/// Its values, and those of a cloth's history.
mod shop_types;
/// Out of the notebook and into it.
mod shopping;
/// Beginning a project, empty or from an earlier one.
mod start;
/// The steps of a project.
mod steps;
/// Swatches: a part of a cloth's photo, and its colours.
mod swatches;
/// The timer.
mod timer;
/// Two variants of a plan, before one is decided on.
mod variants;
/// Earlier versions, and one taken again.
mod versions;
/// What viewers see: as it is now, or as it was; its place on the published site.
mod viewers;
/// Wearers and their dated measurements.
mod wearers;

/// The whole notebook in one file, and back.
mod backup;
/// Looking it over without changing it.
mod check;

/// A notebook as a folder of plain files, and the sample.
mod exchange;
/// Reading the notebook out for one.
mod export;
/// Taking such a folder in.
mod import;
/// What is checked of it before anything is changed.
mod import_checks;

pub use crate::photos::{PhotoHash, PhotoSize, Region};
pub use backup::{BackedUp, back_up, last_backup, restore};
pub use check::{Checked, check};
pub use error::{AddPhotoError, NotebookError};
pub use exchange::{DiskFolder, SampleFolder, SourceFolder};
pub use export::Part;
pub use import::Imported;
pub use import_checks::{ProjectFile, ProjectFolder, RevisionFile, VariantFile};
pub use now::Now;
pub use open::Notebook;
pub use search::{Excerpt, Found, FoundGroup, FoundKind, SearchFilter};
pub use shop::ShopProject;
pub use shop_types::*;
pub use swatches::Pictures;
pub use timer::StartOn;
pub use types::*;
pub use viewers::{Decided, Seen, Shown, Site, Viewers};

pub type Result<T> = std::result::Result<T, NotebookError>;
