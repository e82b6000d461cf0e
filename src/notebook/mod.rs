//! The notebook on disk: one folder with `notebook.sqlite` and `photos/`.
//! All SQL of the program stands in this folder.

mod error;
mod types;

pub use error::NotebookError;
pub use types::*;

pub type Result<T> = std::result::Result<T, NotebookError>;
mod stub;
pub use stub::*;
