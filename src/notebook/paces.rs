use super::by_revision::ByRevision;
use super::columns::{Key, Word};
use super::plans::current;
use super::projects::live;
use super::{Id, Notebook, ProjectState, Result};
use crate::figures::time::{PastWork, WorkAmount, work_amounts};
use crate::plan::{Plan, Work};
use rusqlite::{Transaction, params};
use std::sync::Arc;

impl Notebook {
    /// Minutes logged for a project, by kind of work.
    pub fn minutes(&self, id: Id) -> Result<Vec<(Work, i64)>> {
        self.read(|t| {
            live(t, id)?;
            minutes(t, id)
        })
    }

    /// How long work took in finished projects other than `id`: of an
    /// unfinished one nobody knows how much of a kind of work is done. The
    /// amounts are those of each project's plan as it is now.
    pub fn paces(&self, id: Id) -> Result<Vec<PastWork>> {
        self.read(|t| paces_known(t, id, self.known_work()))
    }
}

/// With what is known already of plans that did not change.
pub(super) fn paces_known(t: &Transaction<'_>, but: Id, known: &ByRevision<PlanWork>) -> Result<Vec<PastWork>> {
    let mut statement = t.prepare_cached(
        "SELECT p.id, p.title, e.work, sum(e.minutes) AS minutes,
                (SELECT max(number) FROM revision WHERE project = p.id) AS revision
         FROM project p JOIN entry e ON e.project = p.id AND e.work IS NOT NULL AND e.binned_at IS NULL
         WHERE p.id <> ?1 AND p.state = ?2 AND p.binned_at IS NULL
         GROUP BY p.id, e.work ORDER BY p.created_at, p.id, e.work",
    )?;
    let rows = statement.query_map(params![Key(but), Word(ProjectState::Finished)], |r| {
        Ok((
            r.get::<_, Key>("id")?.0,
            r.get("revision")?,
            r.get::<_, String>("title")?,
            r.get::<_, Word<Work>>("work")?.0,
            r.get("minutes")?,
        ))
    })?;
    let mut past = Vec::new();
    for row in rows {
        let (id, revision, project, work, minutes) = row?;
        let held = plan_work(t, id, revision, known)?;
        let Some(amount) = held.amounts.iter().find(|a| a.work == work) else {
            continue;
        };
        past.push(PastWork {
            project,
            work,
            amount: amount.amount,
            minutes,
        });
    }
    Ok(past)
}

/// What of a plan the reckoning of time needs.
pub(super) struct PlanWork {
    /// Its unit and what it says of time, and nothing else.
    pub plan: Plan,
    pub amounts: Vec<WorkAmount>,
    /// Whether there is anything in it.
    pub begun: bool,
}

/// Worked out once for each revision: a revision never changes.
pub(super) fn plan_work(
    t: &Transaction<'_>,
    id: Id,
    revision: i64,
    known: &ByRevision<PlanWork>,
) -> Result<Arc<PlanWork>> {
    known.of(id, revision, || {
        let plan = current(t, id)?.plan;
        Ok(PlanWork {
            amounts: work_amounts(&plan),
            begun: !plan.pieces.is_empty(),
            plan: Plan {
                time: plan.time.clone(),
                ..Plan::new(plan.unit)
            },
        })
    })
}

fn minutes(t: &Transaction<'_>, id: Id) -> Result<Vec<(Work, i64)>> {
    let mut statement = t.prepare_cached(
        "SELECT work, sum(minutes) FROM entry WHERE project = ?1 AND work IS NOT NULL AND binned_at IS NULL
         GROUP BY work ORDER BY work",
    )?;
    let rows = statement.query_map([Key(id)], |r| Ok((r.get::<_, Word<_>>(0)?.0, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}
