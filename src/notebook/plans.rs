use super::by_revision::ByRevision;
use super::cloths::shelve_new;
use super::columns::{At, Key, now};
use super::effect::effect_in;
use super::log::{entry_exists, insert_entry};
use super::paces::PlanWork;
use super::projects::{live, touch};
use super::versions::use_set;
use super::wearers::measurement_set;
use super::{Entry, EntryKind, Id, NewDecision, Notebook, NotebookError, Result, Revision, StockCloth};
use crate::drafting;
use crate::plan::{self, Edit, Plan, Sizing};
use chrono::{DateTime, Utc};
use rusqlite::{OptionalExtension, Transaction, params};
use std::collections::HashSet;

impl Notebook {
    /// Projects but this one whose plan, as it is now, has a size table: id and
    /// title, the one changed last first.
    pub fn projects_with_sizing(&self, but: Id) -> Result<Vec<(Id, String)>> {
        self.read(|t| {
            let mut statement = t.prepare_cached(
                "SELECT p.id, p.title FROM project p
                 JOIN revision r ON r.project = p.id
                    AND r.number = (SELECT max(number) FROM revision WHERE project = p.id)
                 WHERE p.binned_at IS NULL AND p.id <> ?1 AND r.plan ->> '$.sizing' IS NOT NULL
                 ORDER BY p.changed_at DESC, p.id DESC",
            )?;
            let rows = statement.query_map([Key(but)], |r| Ok((r.get::<_, Key>(0)?.0, r.get(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    /// One transaction: loads the current plan, applies the edit as begun from
    /// revision `seen`, keeps a new revision. Returns the revisions before and
    /// after, of equal number when nothing changed. A clash hands the current
    /// one back.
    pub fn change_plan(&self, id: Id, seen: i64, edit: &Edit) -> Result<(Revision, Revision)> {
        self.change_plan_deciding(id, seen, edit, None)
    }

    /// As [`Notebook::change_plan`]; with a decision, its log entry is kept in
    /// the same transaction and carries what the change does to the figures.
    pub fn change_plan_deciding(
        &self,
        id: Id,
        seen: i64,
        edit: &Edit,
        decision: Option<&NewDecision>,
    ) -> Result<(Revision, Revision)> {
        let edit = edit.clone();
        let decision = decision.cloned();
        let known = self.known_work().clone();
        self.write(move |t| change_deciding(t, id, seen, &edit, decision.as_ref(), &known))
    }

    /// A cloth described for the first time: into the plan and onto the shelf
    /// in one transaction, as in [`Notebook::change_plan_deciding`]. Sent
    /// twice, it is shelved once.
    pub fn change_plan_shelving(
        &self,
        id: Id,
        seen: i64,
        edit: &Edit,
        decision: Option<&NewDecision>,
        cloth: &StockCloth,
    ) -> Result<(Revision, Revision)> {
        let edit = edit.clone();
        let decision = decision.cloned();
        let cloth = cloth.clone();
        let known = self.known_work().clone();
        self.write(move |t| {
            let changed = change_deciding(t, id, seen, &edit, decision.as_ref(), &known)?;
            shelve_new(t, &cloth)?;
            Ok(changed)
        })
    }

    /// The plan as it was before its last change, as a new revision; begun from
    /// revision `seen`. Undone twice it is as before the first time.
    pub fn undo_plan(&self, id: Id, seen: i64) -> Result<(Revision, Revision)> {
        self.write(move |t| {
            live(t, id)?;
            let before = current(t, id)?;
            let Some(earlier) = revision(t, id, seen - 1)? else {
                return Err(NotebookError::refused(
                    "seen",
                    "There is no change of this plan to undo.",
                ));
            };
            // Sent twice: the first sending undid it.
            if before.number == seen + 1 && before.plan == earlier.plan {
                return Ok((before.clone(), before));
            }
            if before.number != seen {
                return Err(NotebookError::Stale("The plan".into()));
            }
            let what = format!("Undone: {}", before.what.trim_start_matches("Undone: "));
            let after = next(t, id, &before, what, earlier.plan)?;
            Ok((before, after))
        })
    }

    /// An earlier revision once more, as a new one; begun from revision `seen`.
    pub fn take_revision_again(&self, id: Id, seen: i64, number: i64) -> Result<(Revision, Revision)> {
        self.write(move |t| {
            live(t, id)?;
            let before = current(t, id)?;
            let earlier = revision(t, id, number)?.ok_or(NotebookError::NotFound("revision of the plan"))?;
            if before.plan == earlier.plan {
                return Ok((before.clone(), before));
            }
            if before.number != seen {
                return Err(NotebookError::Stale("The plan".into()));
            }
            let after = next(t, id, &before, format!("Revision {number} taken again"), earlier.plan)?;
            Ok((before, after))
        })
    }

    /// The project goes by these measurements from now on. With `table` they
    /// stand in the plan's size table too, begun from revision `seen`; both in
    /// one step.
    pub fn take_measurements(&self, id: Id, set: Id, seen: i64, table: Option<&Sizing>) -> Result<()> {
        let table = table.cloned();
        self.write(move |t| {
            live(t, id)?;
            let set = measurement_set(t, set)?.ok_or(NotebookError::NotFound("set of measurements"))?;
            if let Some(table) = table {
                change(t, id, seen, &Edit::Sizing(Some(table)))?;
            }
            use_set(t, id, Some(&set))
        })
    }

    /// Newest first: number, when made, what was changed.
    pub fn revisions(&self, id: Id) -> Result<Vec<(i64, DateTime<Utc>, String)>> {
        self.read(|t| {
            live(t, id)?;
            let mut statement =
                t.prepare_cached("SELECT number, made_at, what FROM revision WHERE project = ?1 ORDER BY number DESC")?;
            let rows = statement.query_map([Key(id)], |r| Ok((r.get(0)?, r.get::<_, At>(1)?.0, r.get(2)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    pub fn revision(&self, id: Id, number: i64) -> Result<Revision> {
        self.read(|t| {
            live(t, id)?;
            revision(t, id, number)?.ok_or(NotebookError::NotFound("revision of the plan"))
        })
    }

    /// The revision up to which decisions speak of the plan, else 1.
    pub fn last_decided(&self, id: Id) -> Result<i64> {
        self.read(|t| {
            live(t, id)?;
            Ok(t.query_row(
                "SELECT coalesce(max(revision_to), 1) FROM entry WHERE project = ?1 AND kind = 'decision' AND binned_at IS NULL",
                [Key(id)],
                |r| r.get(0),
            )?)
        })
    }
}

fn change_deciding(
    t: &Transaction<'_>,
    id: Id,
    seen: i64,
    edit: &Edit,
    decision: Option<&NewDecision>,
    known: &ByRevision<PlanWork>,
) -> Result<(Revision, Revision)> {
    let (before, after) = change(t, id, seen, edit)?;
    if let Some(decision) = decision
        && !entry_exists(t, decision.id)?
    {
        decide(t, id, decision, &before, &after, known)?;
    }
    Ok((before, after))
}

fn change(t: &Transaction<'_>, id: Id, seen: i64, edit: &Edit) -> Result<(Revision, Revision)> {
    live(t, id)?;
    let before = current(t, id)?;
    let applied = if seen == before.number {
        edit.apply(&before.plan, &before.plan)
    } else {
        let seen = revision(t, id, seen)?.ok_or(NotebookError::NotFound("revision of the plan"))?;
        edit.apply(&seen.plan, &before.plan)
    };
    let plan = match applied {
        Ok(plan) => settled(plan),
        Err(clash) => {
            let current = Box::new(before);
            return Err(NotebookError::Clash { clash, current });
        }
    };
    if plan == before.plan {
        return Ok((before.clone(), before));
    }
    let what = edit.title(&before.plan);
    let after = next(t, id, &before, what, plan)?;
    Ok((before, after))
}

/// A plan is kept with its pieces as large as their outlines say, so that what
/// reads a kept plan need not draft them.
pub(super) fn settled(plan: Plan) -> Plan {
    drafting::settled(&plan).plan.into_owned()
}

/// The revision after `before`.
pub(super) fn next(t: &Transaction<'_>, id: Id, before: &Revision, what: String, plan: Plan) -> Result<Revision> {
    let after = Revision {
        number: before.number + 1,
        made_at: now(),
        what,
        plan: settled(plan),
    };
    insert_revision(t, id, &after)?;
    touch(t, id, after.made_at)?;
    Ok(after)
}

pub(super) fn decide(
    t: &Transaction<'_>,
    id: Id,
    decision: &NewDecision,
    before: &Revision,
    after: &Revision,
    known: &ByRevision<PlanWork>,
) -> Result<()> {
    let changed = before.number != after.number;
    let entry = Entry {
        id: decision.id,
        kind: EntryKind::Decision,
        happened_at: now(),
        text: decision.what.clone(),
        why: decision.why.clone(),
        length: None,
        work: None,
        piece: None,
        cloth: None,
        step: None,
        photos: Vec::new(),
        revisions: changed.then_some((before.number, after.number)),
        effect: if changed {
            effect_in(t, id, &before.plan, &after.plan, known)?
        } else {
            Vec::new()
        },
        second_thought: None,
        version: 1,
    };
    insert_entry(t, id, &entry)?;
    touch(t, id, entry.happened_at)
}

/// The newest revision; every project has one.
pub(super) fn current(t: &Transaction<'_>, id: Id) -> Result<Revision> {
    let newest: Option<i64> = t
        .prepare_cached("SELECT max(number) FROM revision WHERE project = ?1")?
        .query_row([Key(id)], |r| r.get(0))?;
    let found = match newest {
        Some(number) => revision(t, id, number)?,
        None => None,
    };
    found.ok_or_else(|| NotebookError::Damaged(format!("the project {id} has no plan")))
}

pub(super) fn revision(t: &Transaction<'_>, id: Id, number: i64) -> Result<Option<Revision>> {
    let row = t
        .prepare_cached("SELECT made_at, what, plan FROM revision WHERE project = ?1 AND number = ?2")?
        .query_row(params![Key(id), number], |r| {
            Ok((r.get::<_, At>(0)?.0, r.get(1)?, r.get::<_, String>(2)?))
        })
        .optional()?;
    let Some((made_at, what, json)) = row else {
        return Ok(None);
    };
    let plan = Plan::from_json(&json)
        .map_err(|e| NotebookError::Damaged(format!("revision {number} of a plan: {}", plain(&e.to_string()))))?;
    Ok(Some(Revision {
        number,
        made_at,
        what,
        plan,
    }))
}

pub(super) fn insert_revision(t: &Transaction<'_>, id: Id, revision: &Revision) -> Result<()> {
    let json = sound_json(&revision.plan)?;
    t.prepare_cached("INSERT INTO revision (project, number, made_at, what, plan) VALUES (?1, ?2, ?3, ?4, ?5)")?
        .execute(params![
            Key(id),
            revision.number,
            At(revision.made_at),
            revision.what,
            json
        ])?;
    Ok(())
}

/// The JSON of a plan that is certain to be read back as the same plan, its
/// parts told apart by their ids. Whether figures can be worked out from it is
/// another question.
pub(super) fn sound_json(plan: &Plan) -> Result<String> {
    let refused = |message: String| Err(NotebookError::refused("plan", message));
    if plan.format != plan::FORMAT {
        return refused(format!(
            "The plan names format {}; this program keeps format {}.",
            plan.format,
            plan::FORMAT
        ));
    }
    let parts: [(&str, Vec<&String>); 7] = [
        ("cloth", plan.cloths.iter().map(|c| &c.id).collect()),
        ("piece", plan.pieces.iter().map(|p| &p.id).collect()),
        ("draft", plan.drafts.iter().map(|d| &d.id).collect()),
        ("edge", plan.edges.iter().map(|e| &e.id).collect()),
        ("notion", plan.notions.iter().map(|n| &n.id).collect()),
        ("row of closures", plan.closures.iter().map(|c| &c.id).collect()),
        ("seam", plan.seams.iter().map(|s| &s.id).collect()),
    ];
    for (kind, ids) in parts {
        let mut met = HashSet::new();
        for id in ids {
            if !is_sound_id(id) {
                return refused(format!(
                    "The id “{}” of a {kind} cannot be kept. An id has 1 to 40 letters a to z, digits, - or _.",
                    id.chars().take(60).collect::<String>()
                ));
            }
            if !met.insert(id) {
                return refused(format!(
                    "Two of the plan's parts are the {kind} “{id}”. Give one another id."
                ));
            }
        }
    }
    let json = plan.to_json();
    match Plan::from_json(&json) {
        Ok(read) if read == *plan => Ok(json),
        Ok(_) => refused("A value of the plan cannot be written down exactly.".into()),
        Err(error) => refused(error.to_string()),
    }
}

/// Ids stand in addresses and in the places that problems name.
fn is_sound_id(id: &str) -> bool {
    (1..=40).contains(&id.len())
        && id
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_'))
}

fn plain(sentence: &str) -> &str {
    sentence.trim_end_matches('.')
}
