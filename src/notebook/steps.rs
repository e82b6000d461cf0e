use super::columns::{At, Json, Key, Word, has_plain_year, now};
use super::projects::{found, live, touch};
use super::{Id, Notebook, NotebookError, Result, Step, StepTick};
use crate::figures::steps::StepTime;
use crate::measure::LATEST_MOMENT;
use rusqlite::{OptionalExtension, Row, Transaction, params};

/// Most steps of a project, the bin among them.
const MOST: i64 = 500;

impl Notebook {
    /// In the order they are to be done, without the bin.
    pub fn steps(&self, project: Id) -> Result<Vec<Step>> {
        self.read(|t| {
            live(t, project)?;
            of_project(t, project)
        })
    }

    /// The bin of a project's steps, the one put there last first.
    pub fn binned_steps(&self, project: Id) -> Result<Vec<Step>> {
        self.read(|t| {
            live(t, project)?;
            list(
                t,
                project,
                "SELECT * FROM step WHERE project = ?1 AND binned_at IS NOT NULL ORDER BY binned_at DESC, id DESC",
            )
        })
    }

    /// The project and the step.
    pub fn step(&self, id: Id) -> Result<(Id, Step)> {
        self.read(|t| step(t, id))
    }

    /// What a step was before each save, newest first.
    pub fn earlier_steps(&self, id: Id) -> Result<Vec<Step>> {
        self.read(|t| {
            step(t, id)?;
            let mut statement =
                t.prepare_cached("SELECT value FROM step_version WHERE step = ?1 ORDER BY version DESC")?;
            let rows = statement.query_map([Key(id)], |r| Ok(r.get::<_, Json<Step>>(0)?.0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    /// Adds steps after the last; those whose id is known are left as they
    /// are, so that sending them twice is harmless.
    pub fn add_steps(&self, project: Id, steps: &[Step]) -> Result<()> {
        let steps = steps.to_vec();
        self.write(move |t| {
            live(t, project)?;
            add(t, project, &steps)?;
            touch(t, project, now())
        })
    }

    /// Saves a step as begun from version `seen`; the earlier one is kept.
    pub fn save_step(&self, seen: i64, step: &Step) -> Result<i64> {
        let new = step.clone();
        self.write(move |t| {
            let (project, before) = self::step(t, new.id)?;
            let mut new = new;
            new.version = before.version;
            // The same save sent twice, or nothing changed.
            if new == before {
                return Ok(before.version);
            }
            if before.version != seen {
                return Err(NotebookError::Stale(before.title));
            }
            if new.done_at != before.done_at {
                keep_tick(t, &said_now(&new))?;
            }
            save(t, project, &before, new)
        })
    }

    /// Ticks a step as done, or takes the tick away. What else was changed of
    /// it meanwhile stays; one that is done keeps its moment. The tick made
    /// last stands, whichever arrives last: where it is not this one, it is
    /// handed back. Sent twice, it is one.
    pub fn tick_step(&self, tick: &StepTick) -> Result<Option<StepTick>> {
        let tick = tick.clone();
        self.write(move |t| {
            let (project, before) = step(t, tick.step)?;
            // A clock that is ahead must not outlast every later word.
            let made_at = tick.made_at.min(now());
            keep_tick(t, &StepTick { made_at, ..tick })?;
            let last = last_tick(t, tick.step)?.unwrap_or(tick.clone());
            if before.done_at.is_some() != last.done {
                let new = Step {
                    done_at: last.done.then_some(last.made_at),
                    ..before.clone()
                };
                save(t, project, &before, new)?;
            }
            Ok((last.done != tick.done).then_some(last))
        })
    }

    /// Puts a step right after another, or first: said by its aim and not by
    /// its way, so that sending it twice moves it once.
    pub fn place_step(&self, id: Id, after: Option<Id>) -> Result<()> {
        self.write(move |t| {
            let (project, _) = step(t, id)?;
            let mut order = order(t, project)?;
            order.retain(|other| *other != id);
            let at = match after {
                None => 0,
                Some(after) => {
                    let at = order.iter().position(|other| *other == after);
                    at.ok_or(NotebookError::NotFound("step"))? + 1
                }
            };
            order.insert(at, id);
            for (position, id) in (0i64..).zip(order) {
                t.prepare_cached("UPDATE step SET position = ?2 WHERE id = ?1 AND position <> ?2")?
                    .execute(params![Key(id), position])?;
            }
            touch(t, project, now())
        })
    }

    pub fn bin_step(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE step SET binned_at = coalesce(binned_at, ?2) WHERE id = ?1",
                params![Key(id), At(now())],
            )?;
            found(changed, "step")
        })
    }

    /// Out of the bin, to the place it had.
    pub fn restore_step(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute("UPDATE step SET binned_at = NULL WHERE id = ?1", [Key(id)])?;
            found(changed, "step")
        })
    }

    /// The steps of a project as time is reckoned with them, in their order.
    pub fn step_times(&self, project: Id) -> Result<Vec<StepTime>> {
        let (steps, minutes) = (self.steps(project)?, self.step_minutes(project)?);
        let logged = |id: Id| {
            minutes
                .iter()
                .find(|(of, _)| *of == id)
                .map_or(0, |(_, minutes)| *minutes)
        };
        Ok(steps.iter().map(|s| s.time(logged(s.id))).collect())
    }

    /// Minutes logged for each step of a project that has any.
    pub fn step_minutes(&self, project: Id) -> Result<Vec<(Id, i64)>> {
        self.read(|t| {
            live(t, project)?;
            let mut statement = t.prepare_cached(
                "SELECT step, sum(minutes) FROM entry WHERE project = ?1 AND step IS NOT NULL AND minutes IS NOT NULL
                    AND binned_at IS NULL GROUP BY step",
            )?;
            let rows = statement.query_map([Key(project)], |r| Ok((r.get::<_, Key>(0)?.0, r.get(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }
}

fn save(t: &Transaction<'_>, project: Id, before: &Step, mut new: Step) -> Result<i64> {
    check_step(&new)?;
    t.execute(
        "INSERT INTO step_version (step, version, kept_at, value) VALUES (?1, ?2, ?3, ?4)",
        params![Key(before.id), before.version, At(now()), Json(before)],
    )?;
    new.version = before.version + 1;
    update(t, &new)?;
    touch(t, project, now())?;
    Ok(new.version)
}

/// Known under its id already, it is left as it is.
fn keep_tick(t: &Transaction<'_>, tick: &StepTick) -> Result<()> {
    t.prepare_cached(
        "INSERT INTO step_tick (id, step, done, made_at) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (id) DO NOTHING",
    )?
    .execute(params![Key(tick.id), Key(tick.step), tick.done, At(tick.made_at)])?;
    Ok(())
}

/// The one made last; of two of one moment, the one that came last.
fn last_tick(t: &Transaction<'_>, step: Id) -> Result<Option<StepTick>> {
    let row = t
        .prepare_cached("SELECT * FROM step_tick WHERE step = ?1 ORDER BY made_at DESC, rowid DESC LIMIT 1")?
        .query_row([Key(step)], |row| {
            Ok(StepTick {
                id: row.get::<_, Key>("id")?.0,
                step: row.get::<_, Key>("step")?.0,
                done: row.get("done")?,
                made_at: row.get::<_, At>("made_at")?.0,
            })
        })
        .optional()?;
    Ok(row)
}

/// What a step says of itself, as the word of this moment.
fn said_now(step: &Step) -> StepTick {
    StepTick {
        id: Id::now_v7(),
        step: step.id,
        done: step.done_at.is_some(),
        made_at: now(),
    }
}

/// The project of a step, in the bin or out of it.
pub(super) fn project_of(t: &Transaction<'_>, id: Id) -> Result<Option<Id>> {
    let row = t
        .prepare_cached("SELECT project FROM step WHERE id = ?1")?
        .query_row([Key(id)], |r| Ok(r.get::<_, Key>(0)?.0))
        .optional()?;
    Ok(row)
}

/// Its project and the step, where it is not in the bin.
pub(super) fn step(t: &Transaction<'_>, id: Id) -> Result<(Id, Step)> {
    let row = t
        .prepare_cached("SELECT * FROM step WHERE id = ?1 AND binned_at IS NULL")?
        .query_row([Key(id)], |row| Ok((row.get::<_, Key>("project")?.0, step_of(row)?)))
        .optional()?;
    row.ok_or(NotebookError::NotFound("step"))
}

pub(super) fn of_project(t: &Transaction<'_>, project: Id) -> Result<Vec<Step>> {
    list(
        t,
        project,
        "SELECT * FROM step WHERE project = ?1 AND binned_at IS NULL ORDER BY position, id",
    )
}

/// The ids of every step of a project, the bin among them.
pub(super) fn order(t: &Transaction<'_>, project: Id) -> Result<Vec<Id>> {
    let mut statement = t.prepare_cached("SELECT id FROM step WHERE project = ?1 ORDER BY position, id")?;
    let rows = statement.query_map([Key(project)], |r| Ok(r.get::<_, Key>(0)?.0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn list(t: &Transaction<'_>, project: Id, sql: &str) -> Result<Vec<Step>> {
    let mut statement = t.prepare_cached(sql)?;
    let rows = statement.query_map([Key(project)], step_of)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

pub(super) fn step_of(row: &Row<'_>) -> rusqlite::Result<Step> {
    Ok(Step {
        id: row.get::<_, Key>("id")?.0,
        title: row.get("title")?,
        work: row.get::<_, Option<Word<_>>>("work")?.map(|w| w.0),
        minutes: row.get("minutes")?,
        done_at: row.get::<_, Option<At>>("done_at")?.map(|at| at.0),
        video: row.get("video")?,
        version: row.get("version")?,
    })
}

pub(super) fn check_step(step: &Step) -> Result<()> {
    let (field, message) = if step.title.trim().is_empty() {
        ("title", "Say what the step is.")
    } else if step.minutes.is_some_and(|m| !(1..=Step::MOST).contains(&m)) {
        ("minutes", "A step is expected to take 1 minute to 1,000 hours.")
    } else if step.video.is_some_and(|s| s > LATEST_MOMENT) {
        ("video", "A time in the video is less than 24 hours.")
    } else if step.done_at.is_some_and(|at| !has_plain_year(&at)) {
        ("done", "Write the year with four digits.")
    } else {
        return Ok(());
    };
    Err(NotebookError::refused(field, message))
}

/// Steps behind those there are, as their versions say.
pub(super) fn add(t: &Transaction<'_>, project: Id, steps: &[Step]) -> Result<()> {
    for step in steps {
        match project_of(t, step.id)? {
            Some(owner) if owner == project => continue,
            Some(_) => return Err(NotebookError::NotFound("step")),
            None => {}
        }
        check_step(step)?;
        let (count, next): (i64, i64) = t.query_row(
            "SELECT count(*), coalesce(max(position), -1) + 1 FROM step WHERE project = ?1",
            [Key(project)],
            |r| Ok((r.get(0)?, r.get(1)?)),
        )?;
        if count >= MOST {
            return Err(NotebookError::refused(
                "title",
                format!("A project holds at most {MOST} steps."),
            ));
        }
        t.prepare_cached(
            "INSERT INTO step (id, project, position, title, version, changed_at) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
        )?
        .execute(params![
            Key(step.id),
            Key(project),
            next,
            step.title,
            step.version,
            At(now())
        ])?;
        update(t, step)?;
        if let Some(made_at) = step.done_at {
            let tick = said_now(step);
            keep_tick(t, &StepTick { made_at, ..tick })?;
        }
    }
    Ok(())
}

fn update(t: &Transaction<'_>, step: &Step) -> Result<()> {
    t.prepare_cached(
        "UPDATE step SET title = ?2, work = ?3, minutes = ?4, done_at = ?5, video = ?6, version = ?7, changed_at = ?8
         WHERE id = ?1",
    )?
    .execute(params![
        Key(step.id),
        step.title,
        step.work.map(Word),
        step.minutes,
        step.done_at.map(At),
        step.video,
        step.version,
        At(now()),
    ])?;
    Ok(())
}
