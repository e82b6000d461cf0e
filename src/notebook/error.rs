//! Everything that can go wrong with the notebook, each as a sentence.

use super::Revision;
use crate::plan::Clash;
use std::path::PathBuf;

#[derive(Debug, thiserror::Error)]
pub enum NotebookError {
    #[error("There is no {0} with this address. It may have been taken out.")]
    NotFound(&'static str),
    /// Saved elsewhere meanwhile: the newer revision is handed back, nothing was changed.
    #[error("{clash} Nothing is lost: choose below which version to keep.")]
    Clash { clash: Clash, current: Box<Revision> },
    /// Details or an entry were saved elsewhere meanwhile.
    #[error("{0} was changed on another device or in another tab since you opened it.")]
    Stale(String),
    #[error("{message}")]
    Refused { field: &'static str, message: String },
    #[error("The notebook in {0} was written by a newer Notchbook. Update this program to open it.")]
    Newer(PathBuf),
    #[error("The folder {0} cannot be used: {1}.")]
    Folder(PathBuf, String),
    #[error("The notebook could not be read or written: {0}.")]
    Database(#[from] rusqlite::Error),
    #[error("A file of the notebook could not be read or written: {0}.")]
    File(#[from] std::io::Error),
    #[error("A part of the notebook cannot be read: {0}.")]
    Damaged(String),
}
