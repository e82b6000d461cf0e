use super::columns::{At, Day, Json, Key, Word, has_plain_year, now};
use super::plans::{current, next};
use super::versions::use_set;
use super::wearers::measurement_set;
use super::{Id, Notebook, NotebookError, PhotoHash, Project, ProjectDetails, Result, SourcePattern};
use crate::plan::{MadeFor, Plan};
use chrono::{DateTime, Utc};
use rusqlite::{OptionalExtension, Row, Transaction, params};

impl Notebook {
    pub fn project(&self, id: Id) -> Result<Project> {
        self.read(|t| project(t, id))
    }

    /// Saves the details as begun from version `seen`; earlier ones are kept.
    pub fn save_details(&self, id: Id, seen: i64, details: &ProjectDetails) -> Result<i64> {
        let details = details.clone();
        self.write(move |t| {
            let before = project(t, id)?;
            // The same save sent twice, or nothing changed.
            if before.details == details {
                return Ok(before.details_version);
            }
            if before.details_version != seen {
                return Err(NotebookError::Stale("This project".into()));
            }
            check_details(t, &details)?;
            keep_details(t, &before)?;
            let version = seen + 1;
            write_details(t, id, version, &details)?;
            // Measurements of someone it is no longer made for would size it for the wrong person.
            if details.wearer != before.details.wearer {
                t.execute(
                    "UPDATE project SET measurements = NULL WHERE id = ?1 AND NOT EXISTS
                     (SELECT 1 FROM measurement_set m WHERE m.id = project.measurements AND m.wearer = project.wearer)",
                    [Key(id)],
                )?;
                if let Some(wearer) = details.wearer {
                    make_for(t, id, super::wearers::made_for(t, wearer)?)?;
                }
            }
            Ok(version)
        })
    }

    pub fn set_cover(&self, id: Id, photo: &PhotoHash) -> Result<()> {
        let photo = photo.clone();
        self.write(move |t| {
            live(t, id)?;
            if !super::photo_rows::is_kept(t, &photo)? {
                return Err(NotebookError::NotFound("photo"));
            }
            t.execute("UPDATE project SET cover = ?2 WHERE id = ?1", params![Key(id), photo.0])?;
            touch(t, id, now())
        })
    }

    /// Chooses the dated measurements the project is made to.
    pub fn use_measurements(&self, id: Id, set: Option<Id>) -> Result<()> {
        self.write(move |t| {
            let set = match set {
                Some(set) => Some(measurement_set(t, set)?.ok_or(NotebookError::NotFound("set of measurements"))?),
                None => None,
            };
            use_set(t, id, set.as_ref())
        })
    }

    pub fn bin_project(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute(
                "UPDATE project SET binned_at = coalesce(binned_at, ?2) WHERE id = ?1",
                params![Key(id), At(now())],
            )?;
            found(changed, "project")
        })
    }

    pub fn restore_project(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let changed = t.execute("UPDATE project SET binned_at = NULL WHERE id = ?1", [Key(id)])?;
            found(changed, "project")
        })
    }
}

pub(super) fn found(rows: usize, what: &'static str) -> Result<()> {
    if rows == 0 {
        Err(NotebookError::NotFound(what))
    } else {
        Ok(())
    }
}

/// The plan shows the cautions for whom it is made now; a change of the plan like
/// any other, to be undone and found among its revisions.
fn make_for(t: &Transaction<'_>, id: Id, made_for: MadeFor) -> Result<()> {
    let before = current(t, id)?;
    if before.plan.made_for != made_for {
        let plan = Plan {
            made_for,
            ..before.plan.clone()
        };
        next(t, id, &before, format!("Made for {}", made_for.name()), plan)?;
    }
    Ok(())
}

/// Refuses a project that is not there or in the bin.
pub(super) fn live(t: &Transaction<'_>, id: Id) -> Result<()> {
    let there: bool = t
        .prepare_cached("SELECT EXISTS (SELECT 1 FROM project WHERE id = ?1 AND binned_at IS NULL)")?
        .query_row([Key(id)], |r| r.get(0))?;
    found(usize::from(there), "project")
}

/// Marks a project as changed; never back in time.
pub(super) fn touch(t: &Transaction<'_>, id: Id, at: DateTime<Utc>) -> Result<()> {
    t.prepare_cached("UPDATE project SET changed_at = max(changed_at, ?2) WHERE id = ?1")?
        .execute(params![Key(id), At(at)])?;
    Ok(())
}

/// The details of a project, in the bin or out of it, and for whom it is in words.
pub(super) fn details_and_name(t: &Transaction<'_>, id: Id) -> Result<(ProjectDetails, String)> {
    let row = t
        .prepare_cached(
            "SELECT p.*, w.name AS wearer_name FROM project p LEFT JOIN wearer w ON w.id = p.wearer WHERE p.id = ?1",
        )?
        .query_row([Key(id)], |row| {
            let details = details_of(row)?;
            let name = for_whom(row, &details)?;
            Ok((details, name))
        })
        .optional()?;
    row.ok_or(NotebookError::NotFound("project"))
}

/// A project with everything that is shown of it besides its log.
pub(super) fn project(t: &Transaction<'_>, id: Id) -> Result<Project> {
    let row = t
        .prepare_cached(
            "SELECT p.*, w.name AS wearer_name, f.title AS from_title,
                    coalesce(p.cover, (SELECT i.photo FROM entry e JOIN entry_photo i ON i.entry = e.id
                        WHERE e.project = p.id AND e.binned_at IS NULL
                        ORDER BY e.happened_at DESC, e.id DESC, i.position LIMIT 1)) AS shown_photo
             FROM project p LEFT JOIN wearer w ON w.id = p.wearer LEFT JOIN project f ON f.id = p.from_project
             WHERE p.id = ?1 AND p.binned_at IS NULL",
        )?
        .query_row([Key(id)], |row| {
            let from = row.get::<_, Option<Key>>("from_project")?;
            let title: Option<String> = row.get("from_title")?;
            let set = row.get::<_, Option<Key>>("measurements")?;
            let details = details_of(row)?;
            let found = Project {
                id,
                for_whom: for_whom(row, &details)?,
                details,
                details_version: row.get("details_version")?,
                photo: row.get::<_, Option<String>>("shown_photo")?.map(PhotoHash),
                created_at: row.get::<_, At>("created_at")?.0,
                changed_at: row.get::<_, At>("changed_at")?.0,
                from: from.map(|k| k.0).zip(title),
                measurements: None,
                plan: Plan::default(),
                revision: 0,
                variant: None,
            };
            Ok((found, set))
        })
        .optional()?;
    let (mut project, set) = row.ok_or(NotebookError::NotFound("project"))?;
    if let Some(Key(set)) = set {
        project.measurements = measurement_set(t, set)?;
    }
    let current = current(t, id)?;
    project.revision = current.number;
    project.plan = current.plan;
    Ok(project)
}

pub(super) fn for_whom(row: &Row<'_>, details: &ProjectDetails) -> rusqlite::Result<String> {
    let wearer: Option<String> = row.get("wearer_name")?;
    Ok(wearer.unwrap_or_else(|| details.for_whom.clone()))
}

pub(super) fn details_of(row: &Row<'_>) -> rusqlite::Result<ProjectDetails> {
    Ok(ProjectDetails {
        title: row.get("title")?,
        state: row.get::<_, Word<_>>("state")?.0,
        wearer: row.get::<_, Option<Key>>("wearer")?.map(|k| k.0),
        for_whom: row.get("for_whom")?,
        pattern: SourcePattern {
            name: row.get("pattern_name")?,
            maker: row.get("pattern_maker")?,
            link: row.get("pattern_link")?,
            size: row.get("pattern_size")?,
        },
        due: row.get::<_, Option<Day>>("due")?.map(|d| d.0),
        about: row.get("about")?,
    })
}

/// As far as the details themselves can tell.
pub(super) fn check_details_alone(details: &ProjectDetails) -> Result<()> {
    if details.title.trim().is_empty() {
        return Err(NotebookError::refused("title", "Give the project a title."));
    }
    if details.due.is_some_and(|due| !has_plain_year(&due)) {
        return Err(NotebookError::refused("due", "Write the year with four digits."));
    }
    Ok(())
}

pub(super) fn check_details(t: &Transaction<'_>, details: &ProjectDetails) -> Result<()> {
    check_details_alone(details)?;
    if let Some(wearer) = details.wearer {
        let known: bool = t.query_row(
            "SELECT EXISTS (SELECT 1 FROM wearer WHERE id = ?1)",
            [Key(wearer)],
            |r| r.get(0),
        )?;
        if !known {
            return Err(NotebookError::refused(
                "wearer",
                "This wearer is no longer in the notebook. Choose another, or say in words for whom it is.",
            ));
        }
    }
    Ok(())
}

/// Keeps details as they were before a save.
pub(super) fn keep_details(t: &Transaction<'_>, before: &Project) -> Result<()> {
    t.execute(
        "INSERT INTO details_version (project, version, kept_at, value, measurements) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![
            Key(before.id),
            before.details_version,
            At(now()),
            Json(&before.details),
            before.measurements.as_ref().map(|m| Key(m.id)),
        ],
    )?;
    Ok(())
}

pub(super) fn write_details(t: &Transaction<'_>, id: Id, version: i64, details: &ProjectDetails) -> Result<()> {
    t.execute(
        "UPDATE project SET title = ?2, state = ?3, wearer = ?4, for_whom = ?5, pattern_name = ?6, pattern_maker = ?7,
                pattern_link = ?8, pattern_size = ?9, due = ?10, about = ?11, details_version = ?12
         WHERE id = ?1",
        params![
            Key(id),
            details.title,
            Word(details.state),
            details.wearer.map(Key),
            details.for_whom,
            details.pattern.name,
            details.pattern.maker,
            details.pattern.link,
            details.pattern.size,
            details.due.map(Day),
            details.about,
            version,
        ],
    )?;
    touch(t, id, now())
}

/// What a project's row holds besides its details.
pub(super) struct NewProject {
    pub id: Id,
    pub created_at: DateTime<Utc>,
    pub changed_at: DateTime<Utc>,
    pub from: Option<Id>,
    pub measurements: Option<Id>,
    pub cover: Option<PhotoHash>,
}

/// A new row; its plan follows as revision 1.
pub(super) fn insert_project(t: &Transaction<'_>, new: &NewProject, details: &ProjectDetails) -> Result<()> {
    check_details(t, details)?;
    t.execute(
        "INSERT INTO project (id, title, state, wearer, for_whom, pattern_name, pattern_maker, pattern_link,
                pattern_size, due, about, details_version, cover, from_project, measurements, created_at, changed_at)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, 1, ?12, ?13, ?14, ?15, ?16)",
        params![
            Key(new.id),
            details.title,
            Word(details.state),
            details.wearer.map(Key),
            details.for_whom,
            details.pattern.name,
            details.pattern.maker,
            details.pattern.link,
            details.pattern.size,
            details.due.map(Day),
            details.about,
            new.cover.as_ref().map(|c| &c.0),
            new.from.map(Key),
            new.measurements.map(Key),
            At(new.created_at),
            At(new.changed_at),
        ],
    )?;
    Ok(())
}
