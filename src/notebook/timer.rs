//! One timer for the notebook: it is the maker's, and she does one thing at a
//! time. Kept here and not on the phone, so that sleep, a reload and a restart
//! do not end it.

use super::columns::{At, Key, Word, now};
use super::log::{check_entry, entry_exists, insert_entry};
use super::projects::{live, touch};
use super::{Entry, EntryKind, Id, Notebook, NotebookError, Result, Timer, WorkDone};
use crate::plan::Work;
use chrono::{DateTime, TimeDelta, Utc};
use rusqlite::{OptionalExtension, Row, Transaction, params};

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
    /// ran then, or waits for the log, is put into the log first with its
    /// minutes: the entry's id is handed back. Where another was started later
    /// than `at`, though it was told of earlier, this one ran until then.
    /// Started twice under one id changes nothing.
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
            let at = at.min(now());
            let mut before = None;
            while let Some(timer) = open_at(t, at)? {
                before = Some(log_it(t, &timer, at)?.id);
            }
            t.execute(
                "INSERT INTO timer (id, project, step, work, started_at, stopped_at)
                 VALUES (?1, ?2, ?3, ?4, ?5, (SELECT min(max(started_at, coalesce(resumed_at, started_at))) FROM timer
                     WHERE started_at > ?5 OR resumed_at > ?5))",
                params![Key(id), Key(project), on.step.map(Key), work.map(Word), At(at)],
            )?;
            Ok(before)
        })
    }

    /// Stops the timer `id` at `at`, or at now where that is later. One that
    /// did not run then stays as it is. Where its minutes are in the log
    /// already, and are more than until `at`, the entry is handed back.
    pub fn stop_timer(&self, id: Id, at: DateTime<Utc>) -> Result<Option<Entry>> {
        self.write(move |t| {
            if !is_known(t, id)? {
                return Err(NotebookError::NotFound("timer"));
            }
            let at = at.min(now());
            if !entry_exists(t, id)? {
                stop(t, id, at)?;
                return Ok(None);
            }
            let (stopped, resumed) = t.query_row(
                "SELECT stopped_at, resumed_at FROM timer WHERE id = ?1",
                [Key(id)],
                |r| Ok((r.get::<_, Option<At>>(0)?, r.get::<_, Option<At>>(1)?)),
            )?;
            let late = stopped.is_some_and(|s| s.0 - at >= TimeDelta::minutes(1)) && resumed.is_none_or(|r| r.0 < at);
            match super::log::entry(t, id) {
                Ok((_, entry)) if late => Ok(Some(entry)),
                // In the bin it counts for nothing.
                Ok(_) | Err(NotebookError::NotFound(_)) => Ok(None),
                Err(error) => Err(error),
            }
        })
    }

    /// Takes the stopping back: the minutes in between count.
    pub fn resume_timer(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let waiting = open(t)?.is_some_and(|(timer, _)| timer.id == id);
            if !waiting {
                return Err(NotebookError::NotFound("timer"));
            }
            t.execute(
                "UPDATE timer SET stopped_at = NULL, resumed_at = ?2 WHERE id = ?1",
                params![Key(id), At(now())],
            )?;
            Ok(())
        })
    }

    /// Puts the minutes into the log's bin, where they can be taken out again.
    /// The project is handed back.
    pub fn drop_timer(&self, id: Id) -> Result<Id> {
        self.write(move |t| {
            if let Some((timer, _)) = open(t)?.filter(|(timer, _)| timer.id == id) {
                log_it(t, &timer, now())?;
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

/// Stops the timer that has this id at `at`: one that runs, or that was stopped
/// later, though that was told of earlier. A stop before the timer was let run
/// on is none.
pub(super) fn stop(t: &Transaction<'_>, id: Id, at: DateTime<Utc>) -> Result<()> {
    t.execute(
        "UPDATE timer SET stopped_at = max(started_at, ?2) WHERE id = ?1 AND (stopped_at IS NULL OR stopped_at > ?2)
            AND (resumed_at IS NULL OR resumed_at <= ?2)",
        params![Key(id), At(at)],
    )?;
    Ok(())
}

/// The one that runs or waits for the log, and whether its project is in the bin.
fn open(t: &Transaction<'_>) -> Result<Option<(Timer, bool)>> {
    let row = t
        .prepare_cached(&format!(
            "{OPEN} ORDER BY t.stopped_at IS NOT NULL, t.started_at DESC LIMIT 1"
        ))?
        .query_row([], |row| Ok((timer_of(row)?, row.get("binned")?)))
        .optional()?;
    Ok(row)
}

/// One that runs or waits, and was begun, and let run on, by then.
fn open_at(t: &Transaction<'_>, at: DateTime<Utc>) -> Result<Option<Timer>> {
    let row = t
        .prepare_cached(&format!(
            "{OPEN} AND t.started_at <= ?1 AND coalesce(t.resumed_at <= ?1, 1) ORDER BY t.started_at LIMIT 1"
        ))?
        .query_row([At(at)], timer_of)
        .optional()?;
    Ok(row)
}

const OPEN: &str = "SELECT t.*, p.title AS project_title, p.binned_at IS NOT NULL AS binned, s.title AS step_title
     FROM timer t JOIN project p ON p.id = t.project LEFT JOIN step s ON s.id = t.step
     WHERE NOT EXISTS (SELECT 1 FROM entry e WHERE e.id = t.id)";

fn timer_of(row: &Row<'_>) -> rusqlite::Result<Timer> {
    let step = row.get::<_, Option<Key>>("step")?.map(|k| k.0);
    let title: Option<String> = row.get("step_title")?;
    Ok(Timer {
        id: row.get::<_, Key>("id")?.0,
        project: row.get::<_, Key>("project")?.0,
        title: row.get("project_title")?,
        step: step.zip(title),
        work: row.get::<_, Option<Word<_>>>("work")?.map(|w| w.0),
        started_at: row.get::<_, At>("started_at")?.0,
        stopped_at: row.get::<_, Option<At>>("stopped_at")?.map(|at| at.0),
    })
}

/// The minutes as an entry of the log, until `at` where it ran longer. More
/// than an entry holds is said in words.
fn log_it(t: &Transaction<'_>, timer: &Timer, at: DateTime<Utc>) -> Result<Entry> {
    stop(t, timer.id, at)?;
    let stopped: At = t.query_row("SELECT stopped_at FROM timer WHERE id = ?1", [Key(timer.id)], |r| {
        r.get(0)
    })?;
    let stopped = stopped.0;
    let timer = &Timer {
        stopped_at: Some(stopped),
        ..timer.clone()
    };
    let minutes = timer.minutes(stopped);
    let most = i64::from(WorkDone::MOST);
    let entry = Entry {
        id: timer.id,
        kind: EntryKind::Work,
        happened_at: stopped,
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
    touch(t, timer.project, now())?;
    Ok(entry)
}
