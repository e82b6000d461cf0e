use super::cloths::shelve_new;
use super::columns::{At, Key, now};
use super::log::entry_exists;
use super::plans::{current, decide, next, revision, settled, sound_json};
use super::projects::{found, live, project};
use super::{
    Id, Letter, NewDecision, Notebook, NotebookError, Project, Result, Revision, StockCloth, Variant, VariantFile,
};
use crate::plan::{Clash, Edit, Plan, bring_over};
use rusqlite::{OptionalExtension, Transaction, params};

/// Most characters of a variant's note.
const NOTE: usize = 2_000;

impl Notebook {
    /// Begins A and B as copies of the plan as it is. Where a pair is set up
    /// already it is left as it is.
    pub fn begin_variants(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            live(t, id)?;
            if variants(t, id)?.is_some() {
                return Ok(());
            }
            let from = current(t, id)?;
            for letter in Letter::ALL {
                let version = keep_plan(t, id, letter, "Copied from the plan", &from.plan)?;
                t.execute(
                    "INSERT OR REPLACE INTO variant (project, letter, revision_from, version, note, changed_at, binned_at)
                     VALUES (?1, ?2, ?3, ?4, '', ?5, NULL)",
                    params![Key(id), letter.word(), from.number, version, At(now())],
                )?;
            }
            Ok(())
        })
    }

    /// The pair, where one is set up.
    pub fn variants(&self, id: Id) -> Result<Option<[Variant; 2]>> {
        self.read(|t| {
            live(t, id)?;
            variants(t, id)
        })
    }

    /// The project with a variant in place of its plan: what the forms of its
    /// parts are shown from.
    pub fn variant_project(&self, id: Id, letter: Letter) -> Result<Project> {
        self.read(|t| {
            let mut project = project(t, id)?;
            let variant = variant(t, id, letter)?;
            project.plan = variant.plan;
            project.revision = variant.version;
            project.variant = Some(letter);
            Ok(project)
        })
    }

    /// As [`Notebook::change_plan_shelving`], of a variant: begun from its
    /// version `seen`. Returns the version after.
    pub fn change_variant(
        &self,
        id: Id,
        letter: Letter,
        seen: i64,
        edit: &Edit,
        shelf: Option<&StockCloth>,
    ) -> Result<i64> {
        let edit = edit.clone();
        let shelf = shelf.cloned();
        self.write(move |t| {
            live(t, id)?;
            let before = variant(t, id, letter)?;
            let seen = if seen == before.version {
                before.plan.clone()
            } else {
                plan(t, id, letter, seen)?.ok_or(NotebookError::NotFound("version of this variant"))?
            };
            let after = edit.apply(&seen, &before.plan).map_err(|clash| {
                let current = Box::new(Revision {
                    number: before.version,
                    made_at: before.changed_at,
                    what: String::new(),
                    plan: before.plan.clone(),
                });
                NotebookError::Clash { clash, current }
            })?;
            let after = settled(after);
            if let Some(cloth) = &shelf {
                shelve_new(t, cloth)?;
            }
            if after == before.plan {
                return Ok(before.version);
            }
            let version = keep_plan(t, id, letter, &edit.title(&before.plan), &after)?;
            t.execute(
                "UPDATE variant SET version = ?3, changed_at = ?4 WHERE project = ?1 AND letter = ?2",
                params![Key(id), letter.word(), version, At(now())],
            )?;
            Ok(version)
        })
    }

    /// What is tried in a variant, in words.
    pub fn note_variant(&self, id: Id, letter: Letter, note: &str) -> Result<()> {
        check_note(note)?;
        let note = note.to_string();
        self.write(move |t| {
            variant(t, id, letter)?;
            t.execute(
                "UPDATE variant SET note = ?3, changed_at = ?4 WHERE project = ?1 AND letter = ?2",
                params![Key(id), letter.word(), note, At(now())],
            )?;
            Ok(())
        })
    }

    /// Makes a variant's changes a revision of the plan, one for all of them,
    /// and puts the pair into the bin. `version` is the one that was looked at.
    /// Where the plan was changed in the same part meanwhile this is refused
    /// with a clash; after that `over` names the revision that may be replaced.
    pub fn take_variant(
        &self,
        id: Id,
        letter: Letter,
        version: i64,
        over: Option<i64>,
        decision: Option<&NewDecision>,
    ) -> Result<(Revision, Revision)> {
        let decision = decision.cloned();
        let known = self.known_work().clone();
        self.write(move |t| {
            live(t, id)?;
            let before = current(t, id)?;
            let taken = match variant(t, id, letter) {
                // Sent twice: it is the plan already.
                Err(NotebookError::NotFound(_)) if plan(t, id, letter, version)?.as_ref() == Some(&before.plan) => {
                    return Ok((before.clone(), before));
                }
                other => other?,
            };
            if taken.version != version {
                return Err(NotebookError::Stale(format!("Variant {}", letter.name())));
            }
            let plan = match over {
                Some(number) if number == before.number => taken.plan.clone(),
                _ => merged(&taken, &before.plan).map_err(|clash| NotebookError::Clash {
                    clash,
                    current: Box::new(before.clone()),
                })?,
            };
            let plan = settled(plan);
            let after = if plan == before.plan {
                before.clone()
            } else {
                next(t, id, &before, format!("Variant {} taken", letter.name()), plan)?
            };
            if let Some(decision) = &decision
                && !entry_exists(t, decision.id)?
            {
                decide(t, id, decision, &before, &after, &known)?;
            }
            bin(t, id)?;
            Ok((before, after))
        })
    }

    /// Gives the pair up: into the bin.
    pub fn drop_variants(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            live(t, id)?;
            bin(t, id)
        })
    }

    /// The pair given up or taken last, out of the bin again.
    pub fn restore_variants(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            live(t, id)?;
            let changed = t.execute("UPDATE variant SET binned_at = NULL WHERE project = ?1", [Key(id)])?;
            found(changed, "variant")
        })
    }

    /// Whether the bin holds a pair.
    pub fn has_binned_variants(&self, id: Id) -> Result<bool> {
        self.read(|t| {
            Ok(t.query_row(
                "SELECT EXISTS (SELECT 1 FROM variant WHERE project = ?1 AND binned_at IS NOT NULL)",
                [Key(id)],
                |r| r.get(0),
            )?)
        })
    }
}

impl Variant {
    /// The variant's changes on the plan as it is now: what taking it gives.
    pub fn brought_over(&self, now: &Plan) -> std::result::Result<Plan, Clash> {
        merged(self, now)
    }
}

fn merged(variant: &Variant, now: &Plan) -> std::result::Result<Plan, Clash> {
    bring_over(&variant.from.plan, &variant.plan, now).map(settled)
}

fn bin(t: &Transaction<'_>, id: Id) -> Result<()> {
    t.execute(
        "UPDATE variant SET binned_at = coalesce(binned_at, ?2) WHERE project = ?1",
        params![Key(id), At(now())],
    )?;
    Ok(())
}

/// A pair from an exchange folder, checked already.
pub(super) fn insert_variants(t: &Transaction<'_>, id: Id, pair: &[VariantFile; 2]) -> Result<()> {
    for (variant, letter) in pair.iter().zip(Letter::ALL) {
        let version = keep_plan(t, id, letter, "Taken in", &settled(variant.plan.clone()))?;
        t.execute(
            "INSERT INTO variant (project, letter, revision_from, version, note, changed_at) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![
                Key(id),
                letter.word(),
                variant.from,
                version,
                variant.note,
                At(variant.changed_at)
            ],
        )?;
    }
    Ok(())
}

/// What is tried in a variant is a few sentences.
pub(super) fn check_note(note: &str) -> Result<()> {
    match note.chars().count() {
        0..=NOTE => Ok(()),
        _ => Err(NotebookError::refused(
            "note",
            format!("What is tried in a variant has at most {NOTE} characters. Shorten it."),
        )),
    }
}

pub(super) fn variants(t: &Transaction<'_>, id: Id) -> Result<Option<[Variant; 2]>> {
    let find = |letter| match variant(t, id, letter) {
        Err(NotebookError::NotFound(_)) => Ok(None),
        other => other.map(Some),
    };
    Ok(find(Letter::A)?.zip(find(Letter::B)?).map(|(a, b)| [a, b]))
}

fn variant(t: &Transaction<'_>, id: Id, letter: Letter) -> Result<Variant> {
    let row = t
        .prepare_cached(
            "SELECT revision_from, version, note, changed_at FROM variant
             WHERE project = ?1 AND letter = ?2 AND binned_at IS NULL",
        )?
        .query_row(params![Key(id), letter.word()], |r| {
            Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get::<_, At>(3)?.0))
        })
        .optional()?;
    let (from, version, note, changed_at) = row.ok_or(NotebookError::NotFound("variant"))?;
    let missing = || NotebookError::Damaged(format!("variant {} has no plan", letter.name()));
    Ok(Variant {
        letter,
        from: revision(t, id, from)?.ok_or_else(missing)?,
        version,
        plan: plan(t, id, letter, version)?.ok_or_else(missing)?,
        note,
        changed_at,
    })
}

fn plan(t: &Transaction<'_>, id: Id, letter: Letter, version: i64) -> Result<Option<Plan>> {
    let json: Option<String> = t
        .prepare_cached("SELECT plan FROM variant_plan WHERE project = ?1 AND letter = ?2 AND version = ?3")?
        .query_row(params![Key(id), letter.word(), version], |r| r.get(0))
        .optional()?;
    json.map(|json| Plan::from_json(&json))
        .transpose()
        .map_err(|e| NotebookError::Damaged(format!("version {version} of variant {}: {e}", letter.name())))
}

/// Under the next version, so that a form begun from an earlier pair is told
/// apart from one of this.
fn keep_plan(t: &Transaction<'_>, id: Id, letter: Letter, what: &str, plan: &Plan) -> Result<i64> {
    let json = sound_json(plan)?;
    let version: i64 = t.query_row(
        "SELECT coalesce(max(version), 0) + 1 FROM variant_plan WHERE project = ?1 AND letter = ?2",
        params![Key(id), letter.word()],
        |r| r.get(0),
    )?;
    t.execute(
        "INSERT INTO variant_plan (project, letter, version, made_at, what, plan) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
        params![Key(id), letter.word(), version, At(now()), what, json],
    )?;
    Ok(version)
}
