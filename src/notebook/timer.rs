//! One timer for the notebook: it is the maker's, and she does one thing at a
//! time. Kept here and not on the phone, so that sleep, a reload and a restart
//! do not end it.

use super::columns::{At, Key, Word, now};
use super::log::{check_entry, entry_exists, insert_entry};
use super::projects::{live, touch};
use super::{Entry, EntryKind, Id, Notebook, NotebookError, Result, Timer, WorkDone};
use crate::plan::Work;
use chrono::{DateTime, Utc};
use rusqlite::{OptionalExtension, Transaction, params};

/// What a timer was started on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StartOn {
    pub step: Option<Id>,
    /// Where it is not said, the step's.
    pub work: Option<Work>,
}

impl Notebook {
    /// The timer that runs, or that was stopped and is not in the log yet.
    /// One of a project in the bin waits there with it.
    pub fn timer(&self) -> Result<Option<Timer>> {
        self.read(|t| Ok(open(t)?.filter(|(_, binned)| !binned).map(|(timer, _)| timer)))
    }

    /// Starts the timer `id` at `at`, or at now where that is later. One that
    /// still runs, or waits for the log, is put into the log first with its
    /// minutes: the entry's id is handed back. Started twice under one id
    /// changes nothing.
    pub fn start_timer(&self, id: Id, project: Id, on: StartOn, at: DateTime<Utc>) -> Result<Option<Id>> {
        self.write(move |t| {
            live(t, project)?;
            if is_known(t, id)? || entry_exists(t, id)? {
                return Ok(None);
            }
            let mut work = on.work;
            if let Some(step) = on.step {
                let (owner, step) = super::steps::step(t, step)?;
                if owner != project {
                    return Err(NotebookError::NotFound("step"));
                }
                work = work.or(step.work);
            }
            let before = match open(t)? {
                Some((timer, _)) => Some(log_it(t, &timer)?.id),
                None => None,
            };
            t.execute(
                "INSERT INTO timer (id, project, step, work, started_at) VALUES (?1, ?2, ?3, ?4, ?5)",
                params![
                    Key(id),
                    Key(project),
                    on.step.map(Key),
                    work.map(Word),
                    At(at.min(now()))
                ],
            )?;
            Ok(before)
        })
    }

    /// Stops the timer `id`; one that does not run stays as it is.
    pub fn stop_timer(&self, id: Id) -> Result<()> {
        self.write(move |t| stop(t, id))
    }

    /// Takes the stopping back: the minutes in between count.
    pub fn resume_timer(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let waiting = open(t)?.is_some_and(|(timer, _)| timer.id == id);
            if !waiting {
                return Err(NotebookError::NotFound("timer"));
            }
            t.execute("UPDATE timer SET stopped_at = NULL WHERE id = ?1", [Key(id)])?;
            Ok(())
        })
    }

    /// Puts the minutes into the log's bin, where they can be taken out again.
    /// The project is handed back.
    pub fn drop_timer(&self, id: Id) -> Result<Id> {
        self.write(move |t| {
            if let Some((timer, _)) = open(t)?.filter(|(timer, _)| timer.id == id) {
                log_it(t, &timer)?;
                t.execute(
                    "UPDATE entry SET binned_at = ?2 WHERE id = ?1",
                    params![Key(id), At(now())],
                )?;
            }
            let owner = t
                .query_row("SELECT project FROM timer WHERE id = ?1", [Key(id)], |r| {
                    Ok(r.get::<_, Key>(0)?.0)
                })
                .optional()?;
            owner.ok_or(NotebookError::NotFound("timer"))
        })
    }
}

fn is_known(t: &Transaction<'_>, id: Id) -> Result<bool> {
    Ok(
        t.query_row("SELECT EXISTS (SELECT 1 FROM timer WHERE id = ?1)", [Key(id)], |r| {
            r.get(0)
        })?,
    )
}

/// Stops the timer that has this id, so that no second one runs beside an
/// entry that is already written.
pub(super) fn stop(t: &Transaction<'_>, id: Id) -> Result<()> {
    t.execute(
        "UPDATE timer SET stopped_at = max(started_at, ?2) WHERE id = ?1 AND stopped_at IS NULL",
        params![Key(id), At(now())],
    )?;
    Ok(())
}

/// The one that runs or waits for the log, and whether its project is in the bin.
fn open(t: &Transaction<'_>) -> Result<Option<(Timer, bool)>> {
    let row = t
        .prepare_cached(
            "SELECT t.*, p.title AS project_title, p.binned_at IS NOT NULL AS binned, s.title AS step_title
             FROM timer t JOIN project p ON p.id = t.project LEFT JOIN step s ON s.id = t.step
             WHERE NOT EXISTS (SELECT 1 FROM entry e WHERE e.id = t.id)
             ORDER BY t.stopped_at IS NOT NULL, t.started_at DESC LIMIT 1",
        )?
        .query_row([], |row| {
            let step = row.get::<_, Option<Key>>("step")?.map(|k| k.0);
            let title: Option<String> = row.get("step_title")?;
            let timer = Timer {
                id: row.get::<_, Key>("id")?.0,
                project: row.get::<_, Key>("project")?.0,
                title: row.get("project_title")?,
                step: step.zip(title),
                work: row.get::<_, Option<Word<_>>>("work")?.map(|w| w.0),
                started_at: row.get::<_, At>("started_at")?.0,
                stopped_at: row.get::<_, Option<At>>("stopped_at")?.map(|at| at.0),
            };
            Ok((timer, row.get("binned")?))
        })
        .optional()?;
    Ok(row)
}

/// The minutes as an entry of the log. More than an entry holds is said in words.
fn log_it(t: &Transaction<'_>, timer: &Timer) -> Result<Entry> {
    stop(t, timer.id)?;
    let now = now();
    let minutes = timer.minutes(now);
    let most = i64::from(WorkDone::MOST);
    let entry = Entry {
        id: timer.id,
        kind: EntryKind::Work,
        happened_at: timer.stopped_at.unwrap_or(now),
        text: if minutes > most {
            format!(
                "The timer ran for {}; mend the minutes.",
                crate::measure::hours(minutes)
            )
        } else {
            String::new()
        },
        why: String::new(),
        length: None,
        work: Some(WorkDone {
            kind: timer.work.unwrap_or(Work::Other),
            minutes: u32::try_from(minutes.min(most)).unwrap_or(WorkDone::MOST),
        }),
        piece: None,
        cloth: None,
        step: timer.step.as_ref().map(|(id, _)| *id),
        photos: Vec::new(),
        revisions: None,
        effect: Vec::new(),
        second_thought: None,
        version: 1,
    };
    check_entry(t, timer.project, &entry)?;
    insert_entry(t, timer.project, &entry)?;
    touch(t, timer.project, now)?;
    Ok(entry)
}
