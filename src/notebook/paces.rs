use super::columns::{Key, Word};
use super::plans::current;
use super::projects::live;
use super::{Id, Notebook, ProjectState, Result};
use crate::figures::time::{PastWork, work_amounts};
use crate::plan::Work;
use rusqlite::{Transaction, params};

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
        self.read(|t| paces(t, id))
    }
}

pub(super) fn paces(t: &Transaction<'_>, but: Id) -> Result<Vec<PastWork>> {
    let mut statement = t.prepare_cached(
        "SELECT p.id, p.title FROM project p WHERE p.id <> ?1 AND p.state = ?2 AND p.binned_at IS NULL
            AND EXISTS (SELECT 1 FROM entry e WHERE e.project = p.id AND e.work IS NOT NULL AND e.binned_at IS NULL)
         ORDER BY p.created_at, p.id",
    )?;
    let rows = statement.query_map(params![Key(but), Word(ProjectState::Finished)], |r| {
        Ok((r.get::<_, Key>(0)?.0, r.get::<_, String>(1)?))
    })?;
    let mut past = Vec::new();
    for row in rows {
        let (id, title) = row?;
        let amounts = work_amounts(&current(t, id)?.plan);
        for (work, minutes) in minutes(t, id)? {
            let Some(amount) = amounts.iter().find(|a| a.work == work) else {
                continue;
            };
            past.push(PastWork {
                project: title.clone(),
                work,
                amount: amount.amount,
                minutes,
            });
        }
    }
    Ok(past)
}

fn minutes(t: &Transaction<'_>, id: Id) -> Result<Vec<(Work, i64)>> {
    let mut statement = t.prepare_cached(
        "SELECT work, sum(minutes) FROM entry WHERE project = ?1 AND work IS NOT NULL AND binned_at IS NULL
         GROUP BY work ORDER BY work",
    )?;
    let rows = statement.query_map([Key(id)], |r| Ok((r.get::<_, Word<_>>(0)?.0, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}
