//! What is worked out of a plan and asked for often: kept in memory for as long
//! as its project has no newer revision.

use super::{Id, Result};
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

pub struct ByRevision<T> {
    kept: Mutex<HashMap<Id, (i64, Arc<T>)>>,
}

impl<T> Default for ByRevision<T> {
    fn default() -> ByRevision<T> {
        ByRevision { kept: Mutex::default() }
    }
}

impl<T> ByRevision<T> {
    /// Of this revision of a project; worked out where it is not known yet. Two
    /// who ask at once may both work it out: neither waits for the other.
    pub fn of(&self, project: Id, revision: i64, work_out: impl FnOnce() -> Result<T>) -> Result<Arc<T>> {
        let known = self
            .lock()
            .get(&project)
            .filter(|(of, _)| *of == revision)
            .map(|k| k.1.clone());
        if let Some(known) = known {
            return Ok(known);
        }
        let made = Arc::new(work_out()?);
        self.lock().insert(project, (revision, made.clone()));
        Ok(made)
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, HashMap<Id, (i64, Arc<T>)>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notebook::NotebookError;

    #[test]
    fn a_revision_is_worked_out_once_and_a_newer_one_anew() {
        let known = ByRevision::default();
        let id = Id::now_v7();
        assert_eq!(*known.of(id, 1, || Ok("first")).unwrap(), "first");
        assert_eq!(*known.of(id, 1, || panic!("it is known")).unwrap(), "first");
        assert_eq!(*known.of(id, 2, || Ok("second")).unwrap(), "second");
        assert!(known.of(id, 3, || Err(NotebookError::Failed)).is_err());
        assert_eq!(*known.of(id, 3, || Ok("third")).unwrap(), "third");
    }
}
