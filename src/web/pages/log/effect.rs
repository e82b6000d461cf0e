//! What changed in the figures between two revisions of a plan.

use crate::figures::Change;
use crate::notebook::{Id, Notebook, NotebookError, Project};

pub fn effect_between(notebook: &Notebook, project: Id, from: i64, to: i64) -> Result<Vec<Change>, NotebookError> {
    let before = notebook.revision(project, from)?;
    let after = notebook.revision(project, to)?;
    notebook.effect(project, &before.plan, &after.plan)
}

/// The plan's changes that no decision has told of yet, and what they did.
pub struct Undecided {
    pub from: i64,
    pub to: i64,
    pub effect: Vec<Change>,
}

/// Nothing where the plan stands as the last decision left it.
pub fn undecided(notebook: &Notebook, project: &Project) -> Result<Option<Undecided>, NotebookError> {
    let (from, to) = (notebook.last_decided(project.id)?, project.revision);
    if from >= to {
        return Ok(None);
    }
    let effect = effect_between(notebook, project.id, from, to)?;
    Ok(Some(Undecided { from, to, effect }))
}
