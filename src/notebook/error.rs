//! Everything that can go wrong with the notebook, each as a sentence.

use super::Revision;
use crate::photos::PhotoError;
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
    /// A fault of the program, not of what was typed.
    #[error("The change was not saved because of a fault in this program. The notebook is as it was before.")]
    Failed,
    #[error("The folder {0} cannot be used: {1}.")]
    Folder(PathBuf, String),
    #[error("The notebook could not be read or written: {0}.")]
    Database(#[from] rusqlite::Error),
    #[error("A file of the notebook could not be read or written: {0}.")]
    File(#[from] std::io::Error),
    #[error("A part of the notebook cannot be read: {0}.")]
    Damaged(String),
}

/// Why a photo was not taken in.
#[derive(Debug, thiserror::Error)]
pub enum AddPhotoError {
    #[error(transparent)]
    Photo(#[from] PhotoError),
    #[error(transparent)]
    Notebook(#[from] NotebookError),
}

impl NotebookError {
    /// There is no room left where the notebook is.
    pub fn is_full_disk(&self) -> bool {
        match self {
            NotebookError::Database(e) => e.sqlite_error_code() == Some(rusqlite::ErrorCode::DiskFull),
            NotebookError::File(e) => matches!(
                e.kind(),
                std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded
            ),
            _ => false,
        }
    }

    /// A file of the notebook is no longer what was written.
    pub fn is_damage(&self) -> bool {
        match self {
            NotebookError::Database(e) => is_damage(e),
            NotebookError::Damaged(_) => true,
            _ => false,
        }
    }

    pub(super) fn refused(field: &'static str, message: impl Into<String>) -> NotebookError {
        NotebookError::Refused {
            field,
            message: message.into(),
        }
    }
}

pub(super) fn is_damage(error: &rusqlite::Error) -> bool {
    use rusqlite::ErrorCode::{DatabaseCorrupt, NotADatabase};
    matches!(error.sqlite_error_code(), Some(DatabaseCorrupt | NotADatabase))
}
