//! What the first page answers: of each project that is not finished the next
//! step, what is left to do, and whether it will be done in time. Asked of all
//! of them at once, so what they share is worked out once.

use super::columns::{Day, Key, Word};
use super::paces::{paces_known, plan_work};
use super::steps::step_of;
use super::{Id, Notebook, NotebookError, Project, ProjectState, Result, Step};
use crate::figures::steps::StepTime;
use crate::figures::time::{Days, Paces, TimeFigures, reckoned};
use crate::plan::Work;
use chrono::NaiveDate;
use rusqlite::{Transaction, params};
use std::collections::HashMap;

/// Of one project that is not finished.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Now {
    /// The first step that is not ticked.
    pub next: Option<Step>,
    pub done: usize,
    pub steps: usize,
    /// Whether the plan has any piece yet.
    pub begun: bool,
    pub time: TimeFigures,
}

impl Notebook {
    /// By project, all but the finished ones and the bin.
    pub fn what_now(&self, today: NaiveDate) -> Result<HashMap<Id, Now>> {
        self.read(|t| {
            // None of the projects asked about is finished, so all have the same past.
            let paces = Paces::of(&paces_known(t, Id::nil(), self.known_work())?);
            let mut steps = steps(t)?;
            let mut minutes = minutes(t)?;
            let mut all = HashMap::new();
            for (id, revision, due) in open(t)? {
                let steps = steps.remove(&id).unwrap_or_default();
                let logged = minutes.remove(&id).unwrap_or_default();
                let held = match plan_work(t, id, revision, self.known_work()) {
                    Ok(held) => held,
                    // Its own page says what is wrong.
                    Err(NotebookError::Damaged(_)) => continue,
                    Err(other) => return Err(other),
                };
                let times = step_times(&steps, &logged);
                let days = Some(Days { today, due });
                let time = reckoned(
                    &held.plan,
                    held.amounts.clone(),
                    &paces,
                    &by_work(&logged),
                    &times,
                    days,
                );
                let now = Now {
                    done: steps.iter().filter(|s| s.done_at.is_some()).count(),
                    steps: steps.len(),
                    next: steps.into_iter().find(|s| s.done_at.is_none()),
                    begun: held.begun,
                    time,
                };
                all.insert(id, now);
            }
            Ok(all)
        })
    }
}

impl Notebook {
    /// The time of a project's plan, as the pages of the figures tell it, but
    /// without laying anything out.
    pub fn time_of(&self, project: &Project, today: NaiveDate) -> Result<TimeFigures> {
        let id = project.id;
        let paces = Paces::of(&self.paces(id)?);
        let (logged, steps) = (self.minutes(id)?, self.step_times(id)?);
        let held = self.read(|t| plan_work(t, id, project.revision, self.known_work()))?;
        let days = Some(Days {
            today,
            due: project.details.due,
        });
        let time = reckoned(&held.plan, held.amounts.clone(), &paces, &logged, &steps, days);
        Ok(match project.details.state {
            ProjectState::Finished => time.of_finished(),
            _ => time,
        })
    }
}

/// Minutes of one kind of work, for a step or for none.
type Logged = (Work, Option<Id>, i64);

fn by_work(logged: &[Logged]) -> Vec<(Work, i64)> {
    logged.iter().map(|(work, _, minutes)| (*work, *minutes)).collect()
}

fn step_times(steps: &[Step], logged: &[Logged]) -> Vec<StepTime> {
    let minutes: HashMap<Id, i64> = logged.iter().fold(HashMap::new(), |mut sums, (_, step, minutes)| {
        if let Some(step) = step {
            *sums.entry(*step).or_default() += minutes;
        }
        sums
    });
    steps
        .iter()
        .map(|s| s.time(minutes.get(&s.id).copied().unwrap_or(0)))
        .collect()
}

impl Step {
    /// As time is reckoned with it, `logged` minutes of it in the log.
    pub fn time(&self, logged: i64) -> StepTime {
        StepTime {
            work: self.work,
            minutes: self.minutes.map(i64::from),
            done: self.done_at.is_some(),
            logged,
        }
    }
}

const OPEN: &str = "p.binned_at IS NULL AND p.state <> ?1";

fn open(t: &Transaction<'_>) -> Result<Vec<(Id, i64, Option<NaiveDate>)>> {
    let mut statement = t.prepare_cached(&format!(
        "SELECT p.id, (SELECT max(number) FROM revision WHERE project = p.id), p.due FROM project p WHERE {OPEN}"
    ))?;
    let rows = statement.query_map(params![Word(ProjectState::Finished)], |r| {
        Ok((
            r.get::<_, Key>(0)?.0,
            r.get(1)?,
            r.get::<_, Option<Day>>(2)?.map(|d| d.0),
        ))
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn steps(t: &Transaction<'_>) -> Result<HashMap<Id, Vec<Step>>> {
    let mut statement = t.prepare_cached(&format!(
        "SELECT s.* FROM step s JOIN project p ON p.id = s.project
         WHERE s.binned_at IS NULL AND {OPEN} ORDER BY s.project, s.position, s.id"
    ))?;
    let rows = statement.query_map(params![Word(ProjectState::Finished)], |r| {
        Ok((r.get::<_, Key>("project")?.0, step_of(r)?))
    })?;
    let mut all: HashMap<Id, Vec<Step>> = HashMap::new();
    for row in rows {
        let (project, step) = row?;
        all.entry(project).or_default().push(step);
    }
    Ok(all)
}

fn minutes(t: &Transaction<'_>) -> Result<HashMap<Id, Vec<Logged>>> {
    let mut statement = t.prepare_cached(&format!(
        "SELECT e.project, e.work, e.step, sum(e.minutes) FROM entry e JOIN project p ON p.id = e.project
         WHERE e.work IS NOT NULL AND e.binned_at IS NULL AND {OPEN} GROUP BY e.project, e.work, e.step"
    ))?;
    let rows = statement.query_map(params![Word(ProjectState::Finished)], |r| {
        Ok((
            r.get::<_, Key>(0)?.0,
            r.get::<_, Word<Work>>(1)?.0,
            r.get::<_, Option<Key>>(2)?.map(|k| k.0),
            r.get(3)?,
        ))
    })?;
    let mut all: HashMap<Id, Vec<Logged>> = HashMap::new();
    for row in rows {
        let (project, work, step, minutes) = row?;
        all.entry(project).or_default().push((work, step, minutes));
    }
    Ok(all)
}
