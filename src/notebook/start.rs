use super::columns::{Key, now};
use super::plans::{insert_revision, settled};
use super::projects::{NewProject, insert_project, project};
use super::settings::settings;
use super::wearers::wearer_of_set;
use super::{Id, Notebook, NotebookError, Project, ProjectDetails, Result, Revision, TakeOver};
use crate::measure::Length;
use crate::plan::Plan;
use rusqlite::Transaction;

impl Notebook {
    /// Begins a project with an empty plan. The id is made by the form, so
    /// sending it twice makes one project.
    pub fn start_project(&self, id: Id, details: &ProjectDetails) -> Result<Id> {
        let details = details.clone();
        self.write(move |t| {
            if !is_new(t, id)? {
                return Ok(id);
            }
            let plan = Plan::new(settings(t)?.unit);
            let newest = match details.wearer {
                Some(wearer) => super::wearers::newest_set(t, wearer)?,
                None => None,
            };
            begin(t, id, &details, None, newest, plan, "Plan begun".into())
        })
    }

    /// Begins a project with what `take` says of the project `from`. Copies
    /// start their own history.
    pub fn start_from(&self, id: Id, details: &ProjectDetails, from: Id, take: TakeOver) -> Result<Id> {
        let mut details = details.clone();
        self.write(move |t| {
            if !is_new(t, id)? {
                return Ok(id);
            }
            let from = project(t, from)?;
            let measurements = take_measurements(t, &from, &mut details, take)?;
            let mut plan = take_plan(&from.plan, take).unwrap_or(Plan::new(settings(t)?.unit));
            look_at_the_shelf(t, &mut plan)?;
            let what = if take.plan || take.pieces {
                format!("Plan taken over from {}", from.details.title)
            } else {
                "Plan begun".into()
            };
            begin(t, id, &details, Some(from.id), measurements, plan, what)
        })
    }
}

fn is_new(t: &Transaction<'_>, id: Id) -> Result<bool> {
    let there: bool = t.query_row("SELECT EXISTS (SELECT 1 FROM project WHERE id = ?1)", [Key(id)], |r| {
        r.get(0)
    })?;
    Ok(!there)
}

fn begin(
    t: &Transaction<'_>,
    id: Id,
    details: &ProjectDetails,
    from: Option<Id>,
    measurements: Option<Id>,
    mut plan: Plan,
    what: String,
) -> Result<Id> {
    let now = now();
    let new = NewProject {
        id,
        created_at: now,
        changed_at: now,
        from,
        measurements,
        cover: None,
    };
    insert_project(t, &new, details)?;
    if let Some(wearer) = details.wearer {
        plan.made_for = super::wearers::made_for(t, wearer)?;
    }
    let first = Revision {
        number: 1,
        made_at: now,
        what,
        plan: settled(plan),
    };
    insert_revision(t, id, &first)?;
    Ok(id)
}

/// Fills in for whom it is, where the form names nobody. Measurements come
/// along only if it is made for the one they were taken of: on anyone else
/// every figure from them would be wrong.
fn take_measurements(
    t: &Transaction<'_>,
    from: &Project,
    details: &mut ProjectDetails,
    take: TakeOver,
) -> Result<Option<Id>> {
    if !take.measurements {
        return Ok(None);
    }
    if details.wearer.is_none() && details.for_whom.trim().is_empty() {
        details.wearer = from.details.wearer;
        details.for_whom = from.details.for_whom.clone();
    }
    let Some(set) = &from.measurements else { return Ok(None) };
    let same_words = details.wearer.is_none() && details.for_whom == from.details.for_whom;
    let made_for_the_same = details.wearer == from.details.wearer && (details.wearer.is_some() || same_words);
    let measured = wearer_of_set(t, set.id)?;
    Ok((made_for_the_same || details.wearer == measured).then_some(set.id))
}

/// What an earlier project owned it may have used up: a copy begins with what
/// is on the shelf now. A cloth taken off the shelf is owned no more.
fn look_at_the_shelf(t: &Transaction<'_>, plan: &mut Plan) -> Result<()> {
    for cloth in &mut plan.cloths {
        let Some(stock) = cloth.stock.as_deref().and_then(|s| Id::try_parse(s).ok()) else {
            continue;
        };
        match super::cloths::cloth(t, stock) {
            Ok(now) => {
                let now = now.for_plan(cloth.id.clone());
                cloth.owned = now.owned;
                cloth.remnants = now.remnants;
                cloth.outlined = now.outlined;
                cloth.ready_cut = now.ready_cut;
            }
            Err(NotebookError::NotFound(_)) => {
                cloth.owned = Length::ZERO;
                cloth.remnants.clear();
                cloth.outlined.clear();
                cloth.ready_cut.clear();
            }
            Err(other) => return Err(other),
        }
    }
    Ok(())
}

fn take_plan(from: &Plan, take: TakeOver) -> Option<Plan> {
    if take.plan {
        return Some(from.clone());
    }
    if take.pieces {
        let mut plan = Plan::new(from.unit);
        plan.pieces = from.pieces.clone();
        for piece in &mut plan.pieces {
            piece.face = None;
            piece.layers = None;
        }
        // What they are drafted from comes along.
        plan.drafts = from.drafts.clone();
        plan.edges = from.edges.clone();
        return Some(plan);
    }
    None
}
