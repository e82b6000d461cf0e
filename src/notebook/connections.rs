//! One thread owns the only connection that writes; a few read-only ones
//! serve everyone who asks. In WAL mode readers never wait for the writer, and
//! with one writer nobody is ever told that the database is locked.

use super::{NotebookError, Result};
use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::mpsc::{Receiver, Sender, channel, sync_channel};
use std::sync::{Condvar, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

const READERS: usize = 4;

type Job = Box<dyn FnOnce(&mut Connection) + Send>;

pub struct Connections {
    /// Taken when closing: the writer ends when nobody can send any more.
    to_writer: Option<Sender<Job>>,
    writer: Option<JoinHandle<()>>,
    readers: Mutex<Vec<Connection>>,
    returned: Condvar,
}

impl Connections {
    /// Over a database that is already of the newest version.
    pub fn open(file: &Path) -> Result<Connections> {
        let connection = open_writer(file)?;
        let readers = (0..READERS).map(|_| open_reader(file)).collect::<Result<Vec<_>>>()?;
        let (to_writer, jobs) = channel();
        let writer = std::thread::Builder::new()
            .name("notebook-writer".into())
            .spawn(move || write_until_closed(connection, &jobs))?;
        Ok(Connections {
            to_writer: Some(to_writer),
            writer: Some(writer),
            readers: Mutex::new(readers),
            returned: Condvar::new(),
        })
    }

    /// Runs `change` in a transaction of its own: all of it is kept, on the
    /// disk, or none. Returns when that is so.
    pub fn write<T, F>(&self, change: F) -> Result<T>
    where
        T: Send + 'static,
        F: FnOnce(&Transaction<'_>) -> Result<T> + Send + 'static,
    {
        let (answer, answered) = sync_channel(1);
        let job: Job = Box::new(move |connection| {
            // A fault in one change must not end all writing. The transaction
            // is rolled back as it is dropped; nothing else is shared.
            let outcome = catch_unwind(AssertUnwindSafe(|| {
                let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
                let value = change(&transaction)?;
                transaction.commit()?;
                Ok(value)
            }));
            // Whoever asked may have gone away; the change is made all the same.
            let _ = answer.send(outcome.unwrap_or(Err(NotebookError::Failed)));
        });
        let to_writer = self.to_writer.as_ref().ok_or(NotebookError::Failed)?;
        to_writer.send(job).map_err(|_| NotebookError::Failed)?;
        answered.recv().map_err(|_| NotebookError::Failed)?
    }

    /// Runs `ask` on one unchanging state of the notebook.
    pub fn read<T>(&self, ask: impl FnOnce(&Transaction<'_>) -> Result<T>) -> Result<T> {
        let mut borrowed = self.borrow();
        let connection = borrowed.connection.as_mut().ok_or(NotebookError::Failed)?;
        let transaction = connection.transaction()?;
        ask(&transaction)
    }

    fn borrow(&self) -> Borrowed<'_> {
        let mut free = self.readers.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if let Some(connection) = free.pop() {
                return Borrowed {
                    from: self,
                    connection: Some(connection),
                };
            }
            free = self.returned.wait(free).unwrap_or_else(PoisonError::into_inner);
        }
    }
}

impl Drop for Connections {
    fn drop(&mut self) {
        // Readers first: the last to close must be able to tidy the journal.
        self.readers.lock().unwrap_or_else(PoisonError::into_inner).clear();
        self.to_writer = None;
        if let Some(writer) = self.writer.take() {
            // It catches every panic, so there is nothing to learn from joining but that it is done.
            let _ = writer.join();
        }
    }
}

/// A reader that goes back even when `ask` panics.
struct Borrowed<'a> {
    from: &'a Connections,
    connection: Option<Connection>,
}

impl Drop for Borrowed<'_> {
    fn drop(&mut self) {
        if let Some(connection) = self.connection.take() {
            let mut free = self.from.readers.lock().unwrap_or_else(PoisonError::into_inner);
            free.push(connection);
            self.from.returned.notify_one();
        }
    }
}

fn write_until_closed(mut connection: Connection, jobs: &Receiver<Job>) {
    while let Ok(job) = jobs.recv() {
        job(&mut connection);
    }
}

/// The settings every writing connection has, before and after migrations.
pub fn open_writer(file: &Path) -> Result<Connection> {
    let connection = Connection::open(file)?;
    connection.busy_timeout(Duration::from_secs(10))?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    // What the search index still has to follow is noted there: no file beside the notebook.
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    Ok(connection)
}

/// A reader of a notebook that may be open in another program: for copies and
/// checks. Refused where there is no notebook, or one of a newer program.
pub fn open_beside(folder: &Path) -> Result<Connection> {
    let file = folder.join("notebook.sqlite");
    if !file.is_file() {
        return Err(NotebookError::Folder(
            folder.to_path_buf(),
            "there is no notebook.sqlite in it; name the folder of a notebook".into(),
        ));
    }
    let connection = Connection::open(&file)?;
    connection.busy_timeout(Duration::from_secs(10))?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "query_only", true)?;
    super::migrate::refuse_foreign(&connection, folder)?;
    Ok(connection)
}

fn open_reader(file: &Path) -> Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(file, flags)?;
    connection.busy_timeout(Duration::from_secs(10))?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "query_only", true)?;
    Ok(connection)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn opened() -> (tempfile::TempDir, Connections) {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("t.sqlite");
        let first = open_writer(&file).unwrap();
        first
            .execute_batch("PRAGMA journal_mode = WAL; CREATE TABLE t (n INTEGER NOT NULL) STRICT;")
            .unwrap();
        drop(first);
        let connections = Connections::open(&file).unwrap();
        (folder, connections)
    }

    fn count(c: &Connections) -> i64 {
        c.read(|t| Ok(t.query_row("SELECT count(*) FROM t", [], |r| r.get(0))?))
            .unwrap()
    }

    #[test]
    fn a_panic_inside_a_write_undoes_it_and_nothing_else() {
        let (_folder, c) = opened();
        c.write(|t| Ok(t.execute("INSERT INTO t VALUES (1)", [])?)).unwrap();
        let failed = c.write(|t| -> Result<()> {
            t.execute("INSERT INTO t VALUES (2)", [])?;
            panic!("on purpose");
        });
        assert!(matches!(failed, Err(NotebookError::Failed)));
        let refused = c.write(|t| -> Result<()> {
            t.execute("INSERT INTO t VALUES (3)", [])?;
            Err(NotebookError::NotFound("button"))
        });
        assert!(matches!(refused, Err(NotebookError::NotFound(_))));
        assert_eq!(count(&c), 1);
        c.write(|t| Ok(t.execute("INSERT INTO t VALUES (4)", [])?)).unwrap();
        assert_eq!(count(&c), 2);
    }

    #[test]
    fn readers_come_back_after_a_panic_and_cannot_write() {
        let (_folder, c) = opened();
        for _ in 0..READERS * 2 {
            let panicked = catch_unwind(AssertUnwindSafe(|| c.read(|_| -> Result<()> { panic!("on purpose") })));
            assert!(panicked.is_err());
        }
        assert_eq!(count(&c), 0);
        assert!(c.read(|t| Ok(t.execute("INSERT INTO t VALUES (1)", [])?)).is_err());
    }

    #[test]
    fn a_reader_sees_one_state_while_the_writer_goes_on() {
        let (_folder, c) = opened();
        c.read(|t| {
            let count = |t: &Transaction<'_>| t.query_row("SELECT count(*) FROM t", [], |r| r.get::<_, i64>(0));
            assert_eq!(count(t)?, 0);
            c.write(|w| Ok(w.execute("INSERT INTO t VALUES (1)", [])?))?;
            assert_eq!(count(t)?, 0);
            Ok(())
        })
        .unwrap();
        assert_eq!(count(&c), 1);
    }
}
