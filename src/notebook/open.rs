//! Opening a folder, and keeping others out of it.

use super::by_revision::ByRevision;
use super::cards::Drawn;
use super::check::look_over;
use super::connections::{Connections, open_writer};
use super::migrate::migrate;
use super::paces::PlanWork;
use super::{Checked, NotebookError, Result, search};
use crate::photos::Store;
use rusqlite::Transaction;
use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};

/// An open notebook. Copies are the same notebook; the folder is free for
/// others when the last is dropped.
#[derive(Clone)]
pub struct Notebook {
    inner: Arc<Inner>,
}

// Fields are dropped in order: the lock goes last.
struct Inner {
    connections: Connections,
    photos: Store,
    folder: PathBuf,
    /// Counts what was written, and what else became known, since the notebook was opened.
    changes: AtomicU64,
    /// What the look over it found, once that is done.
    looked_over: OnceLock<Checked>,
    /// How each project's cloths are drawn.
    colours: ByRevision<Vec<Drawn>>,
    work: Arc<ByRevision<PlanWork>>,
    _lock: File,
}

impl Notebook {
    /// Opens the notebook in `folder`, making it if there is none; migrates an
    /// older one.
    pub fn open(folder: &Path) -> Result<Notebook> {
        let unusable = |e: std::io::Error| NotebookError::Folder(folder.to_path_buf(), words(&e));
        std::fs::create_dir_all(folder).map_err(unusable)?;
        let lock = lock(folder)?;
        let file = folder.join("notebook.sqlite");
        let mut connection = open_writer(&file).map_err(|e| no_database(folder, e))?;
        migrate(&mut connection, folder, &file).map_err(|e| no_database(folder, e))?;
        drop(connection);
        let photos = Store::open(&folder.join("photos")).map_err(unusable)?;
        let connections = Connections::open(&file)?;
        connections.write(search::watch)?;
        Ok(Notebook {
            inner: Arc::new(Inner {
                connections,
                photos,
                folder: folder.to_path_buf(),
                changes: AtomicU64::new(0),
                looked_over: OnceLock::new(),
                colours: ByRevision::default(),
                work: Arc::default(),
                _lock: lock,
            }),
        })
    }

    pub fn folder(&self) -> &Path {
        &self.inner.folder
    }

    pub(super) fn known_colours(&self) -> &ByRevision<Vec<Drawn>> {
        &self.inner.colours
    }

    pub(super) fn known_work(&self) -> &Arc<ByRevision<PlanWork>> {
        &self.inner.work
    }

    pub(super) fn photos(&self) -> &Store {
        &self.inner.photos
    }

    /// All of `change` in one transaction, or nothing of it; what can be searched
    /// follows within it.
    pub(super) fn write<T, F>(&self, change: F) -> Result<T>
    where
        T: Send + 'static,
        F: FnOnce(&Transaction<'_>) -> Result<T> + Send + 'static,
    {
        let outcome = self.inner.connections.write(|t| {
            let value = change(t)?;
            search::catch_up(t)?;
            Ok(value)
        });
        // A change that failed is counted too: it costs a page that is made anew, nothing else.
        self.inner.changes.fetch_add(1, Ordering::AcqRel);
        outcome
    }

    /// A write of what no page but that of the devices shows, and nothing is
    /// found by: not counted by [`Notebook::state`].
    pub(super) fn note<F>(&self, note: F) -> Result<()>
    where
        F: FnOnce(&Transaction<'_>) -> Result<()> + Send + 'static,
    {
        self.inner.connections.write(note)
    }

    /// A number that is another one after every change. Nobody else may write
    /// while the folder is held, so what was worked out from the notebook holds
    /// as long as the number, asked for before, is the same.
    pub fn state(&self) -> u64 {
        self.inner.changes.load(Ordering::Acquire)
    }

    /// Looks the notebook over while it is in use, as [`super::check`] does but
    /// for the content of the photos: that they are there, and whole by their
    /// length, must do at every start. Takes seconds for a large one.
    pub fn look_over(&self) -> Result<&Checked> {
        let found = look_over(&self.inner.folder)?;
        let found = self.inner.looked_over.get_or_init(|| found);
        // It stands on pages, too.
        self.inner.changes.fetch_add(1, Ordering::AcqRel);
        Ok(found)
    }

    /// What [`Notebook::look_over`] found; empty before it is done.
    pub fn damage(&self) -> &[String] {
        self.inner.looked_over.get().map_or(&[], |c| &c.problems)
    }

    pub(super) fn read<T>(&self, ask: impl FnOnce(&Transaction<'_>) -> Result<T>) -> Result<T> {
        self.inner.connections.read(ask)
    }
}

/// The system gives the lock back when the program ends, however it ends.
fn lock(folder: &Path) -> Result<File> {
    let unusable = |e: std::io::Error| NotebookError::Folder(folder.to_path_buf(), words(&e));
    let path = folder.join("notebook.lock");
    let file = File::options()
        .create(true)
        .truncate(false)
        .write(true)
        .open(path)
        .map_err(unusable)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(NotebookError::Folder(
            folder.to_path_buf(),
            "another Notchbook has it open; close that one first, or choose another folder".into(),
        )),
        Err(TryLockError::Error(e)) => Err(unusable(e)),
    }
}

/// What the folder, not the program, has to answer for.
fn no_database(folder: &Path, error: NotebookError) -> NotebookError {
    use rusqlite::ErrorCode::{CannotOpen, DatabaseCorrupt, NotADatabase, ReadOnly};
    let what = match &error {
        NotebookError::Database(e) => match e.sqlite_error_code() {
            Some(NotADatabase) => "its notebook.sqlite is not a notebook; choose another folder",
            Some(DatabaseCorrupt) => "its notebook.sqlite is damaged; take the newest copy you have of the folder",
            Some(CannotOpen) => "its notebook.sqlite cannot be opened; see who may read and write it",
            Some(ReadOnly) => "it may not be written to; see who may read and write it",
            _ => return error,
        },
        _ => return error,
    };
    NotebookError::Folder(folder.to_path_buf(), what.into())
}

fn words(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::PermissionDenied => "it may not be written to; see who may read and write it".into(),
        std::io::ErrorKind::NotADirectory | std::io::ErrorKind::AlreadyExists => {
            "it is a file, not a folder; choose another".into()
        }
        _ => error.to_string(),
    }
}
