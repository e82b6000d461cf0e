use super::Notebook;
use super::by_revision::ByRevision;
use super::paces::{PlanWork, paces_known};
use super::{Id, Result};
use crate::figures::time::{PastWork, expected};
use crate::figures::{self, Change, Figures};
use crate::plan::Plan;
use rusqlite::Transaction;

impl Notebook {
    /// What going from one plan of a project to another does to the figures,
    /// its time at the paces of the maker's other projects.
    pub fn effect(&self, project: Id, before: &Plan, after: &Plan) -> Result<Vec<Change>> {
        let past = self.paces(project)?;
        Ok(effect(before, after, &past))
    }
}

/// As [`Notebook::effect`], within a save of this project: the plans of the
/// others stay as they are known.
pub(super) fn effect_in(
    t: &Transaction<'_>,
    project: Id,
    before: &Plan,
    after: &Plan,
    known: &ByRevision<PlanWork>,
) -> Result<Vec<Change>> {
    Ok(effect(before, after, &paces_known(t, project, known)?))
}

pub(super) fn effect(before: &Plan, after: &Plan, past: &[PastWork]) -> Vec<Change> {
    let of = |plan: &Plan| -> Figures {
        let mut figures = figures::work_out(plan);
        figures.time = expected(&figures, plan, past, &[], None);
        figures
    };
    figures::effect(&of(before), &of(after))
}
