//! What viewers see of a project: the plan as it is now, or as it was at a
//! moment the maker chose; and whether it stands on the published site.

use super::columns::{At, Json, Key, Word, now};
use super::plans::revision;
use super::projects::{found, live, project};
use super::shares::choices;
use super::{Id, LineChoice, Notebook, NotebookError, Result, SourcePattern, Step};
use super::{log, steps};
use crate::plan::Plan;
use chrono::{DateTime, Utc};
use rusqlite::{OptionalExtension, Transaction, params};
use serde::{Deserialize, Serialize};
use std::collections::HashMap;

/// Whether a project stands on the published site.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
#[serde(rename_all = "kebab-case")]
pub enum Site {
    /// As long as there is a link to its list.
    #[default]
    WithLink,
    Always,
    Never,
}

impl Site {
    pub const ALL: [Site; 3] = [Site::WithLink, Site::Always, Site::Never];

    pub fn is_usual(&self) -> bool {
        *self == Site::WithLink
    }
}

/// What a list is made of, at one moment.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shown {
    pub title: String,
    pub pattern: SourcePattern,
    /// Of the plan.
    pub revision: i64,
    pub choices: Vec<LineChoice>,
    pub steps: Vec<Step>,
    /// What was decided, the oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub decisions: Vec<Decided>,
}

/// A decision of the log, as it was said at that moment.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Decided {
    pub id: Id,
    /// Markdown.
    pub text: String,
    #[serde(default)]
    pub why: String,
}

/// What viewers see now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    pub project: Id,
    pub shown: Shown,
    pub plan: Plan,
    /// Since when it stays as it was; nothing while it follows the plan.
    pub since: Option<DateTime<Utc>>,
}

/// How a project is shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Viewers {
    pub site: Site,
    /// Its place on the published site, once it has been there.
    pub address: Option<String>,
    /// The number of the state that is shown.
    pub shows: Option<i64>,
    /// States it was held at, the newest first: number and moment.
    pub states: Vec<(i64, DateTime<Utc>)>,
}

/// More states of one project are not kept.
const MOST_STATES: i64 = 200;

impl Notebook {
    pub fn viewers(&self, project: Id) -> Result<Viewers> {
        self.read(|t| {
            live(t, project)?;
            of_project(t, project)
        })
    }

    /// What viewers see, whichever way it is shown to them.
    pub fn seen(&self, project: Id) -> Result<Seen> {
        self.read(|t| seen(t, project))
    }

    /// What they would see if it followed the plan.
    pub fn seen_now(&self, project: Id) -> Result<Seen> {
        self.read(|t| as_it_is(t, project))
    }

    /// From now on it stays as it is.
    pub fn hold(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            let now_seen = as_it_is(t, id)?.shown;
            let newest: Option<(i64, Json<Shown>)> = t
                .query_row(
                    "SELECT number, value FROM shown_state WHERE project = ?1 ORDER BY number DESC LIMIT 1",
                    [Key(id)],
                    |r| Ok((r.get(0)?, r.get(1)?)),
                )
                .optional()?;
            let number = match newest {
                // Held anew with nothing changed: that state again.
                Some((number, Json(known))) if known == now_seen => number,
                newest => {
                    let number = newest.map_or(1, |(number, _)| number + 1);
                    if number > MOST_STATES {
                        return Err(NotebookError::refused(
                            "hold",
                            format!("{MOST_STATES} states of this list are kept already. Show one of them, or let it follow the plan."),
                        ));
                    }
                    t.execute(
                        "INSERT INTO shown_state (project, number, made_at, value) VALUES (?1, ?2, ?3, ?4)",
                        params![Key(id), number, At(now()), Json(&now_seen)],
                    )?;
                    number
                }
            };
            show(t, id, Some(number))
        })
    }

    /// From now on it follows the plan; the states it was held at stay known.
    pub fn follow(&self, project: Id) -> Result<()> {
        self.write(move |t| {
            live(t, project)?;
            show(t, project, None)
        })
    }

    /// A state it was held at before, again.
    pub fn hold_again(&self, project: Id, number: i64) -> Result<()> {
        self.write(move |t| {
            live(t, project)?;
            let known: bool = t.query_row(
                "SELECT EXISTS (SELECT 1 FROM shown_state WHERE project = ?1 AND number = ?2)",
                params![Key(project), number],
                |r| r.get(0),
            )?;
            found(usize::from(known), "state of this list")?;
            show(t, project, Some(number))
        })
    }

    pub fn set_site(&self, project: Id, site: Site) -> Result<()> {
        self.write(move |t| {
            live(t, project)?;
            t.execute(
                "INSERT INTO viewers (project, site) VALUES (?1, ?2) ON CONFLICT (project) DO UPDATE SET site = ?2",
                params![Key(project), Word(site)],
            )?;
            Ok(())
        })
    }

    /// The projects that stand on the published site, the one begun last first.
    /// One whose ticks were never saved is not among them.
    pub fn on_site(&self) -> Result<Vec<Id>> {
        self.read(|t| {
            let mut statement = t.prepare_cached(
                "SELECT p.id FROM project p LEFT JOIN viewers v ON v.project = p.id
                 WHERE p.binned_at IS NULL AND EXISTS (SELECT 1 FROM choice c WHERE c.project = p.id)
                    AND (v.site = 'always' OR (coalesce(v.site, 'with-link') = 'with-link'
                        AND EXISTS (SELECT 1 FROM share s WHERE s.project = p.id AND s.revoked_at IS NULL)))
                 ORDER BY p.created_at DESC, p.id DESC",
            )?;
            let rows = statement.query_map([], |r| Ok(r.get::<_, Key>(0)?.0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    /// The place of each project on the published site. It is given once, after
    /// the words handed in with it, and never to another project.
    pub fn site_addresses(&self, wanted: &[(Id, String)]) -> Result<HashMap<Id, String>> {
        let wanted = wanted.to_vec();
        let known = |t: &Transaction<'_>| -> Result<HashMap<Id, String>> {
            let mut statement = t.prepare_cached("SELECT project, address FROM viewers WHERE address IS NOT NULL")?;
            let rows = statement.query_map([], |r| Ok((r.get::<_, Key>(0)?.0, r.get(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        };
        let all = self.read(known)?;
        if wanted.iter().all(|(id, _)| all.contains_key(id)) {
            return Ok(all);
        }
        self.write(move |t| {
            let mut all = known(t)?;
            let mut taken: std::collections::HashSet<String> = all.values().cloned().collect();
            for (id, words) in wanted {
                if all.contains_key(&id) {
                    continue;
                }
                let mut address = words.clone();
                let mut n = 1u64;
                while taken.contains(&address) {
                    n += 1;
                    address = format!("{words}-{n}");
                }
                check_address(&address)?;
                t.prepare_cached(
                    "INSERT INTO viewers (project, address) VALUES (?1, ?2)
                        ON CONFLICT (project) DO UPDATE SET address = ?2",
                )?
                .execute(params![Key(id), address])?;
                taken.insert(address.clone());
                all.insert(id, address);
            }
            Ok(all)
        })
    }
}

/// Small letters, figures and hyphens: it becomes the name of a folder.
pub(super) fn check_address(address: &str) -> Result<()> {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if address.is_empty() || address.len() > 100 || !address.chars().all(plain) || address.starts_with('-') {
        return Err(NotebookError::refused(
            "address",
            format!("“{address}” is no place on a site: small letters, figures and hyphens, at most 100."),
        ));
    }
    Ok(())
}

pub(super) fn insert(t: &Transaction<'_>, project: Id, site: Site, address: Option<&str>) -> Result<()> {
    if site.is_usual() && address.is_none() {
        return Ok(());
    }
    let taken: bool = t.query_row(
        "SELECT EXISTS (SELECT 1 FROM viewers WHERE address = ?1)",
        [address],
        |r| r.get(0),
    )?;
    t.execute(
        "INSERT INTO viewers (project, site, address) VALUES (?1, ?2, ?3)
            ON CONFLICT (project) DO UPDATE SET site = ?2, address = ?3",
        // Taken by a project that is there already: it gets another when it is published.
        params![Key(project), Word(site), address.filter(|_| !taken)],
    )?;
    Ok(())
}

pub(super) fn of_project(t: &Transaction<'_>, project: Id) -> Result<Viewers> {
    let row = t
        .prepare_cached("SELECT site, address, shows FROM viewers WHERE project = ?1")?
        .query_row([Key(project)], |r| {
            Ok(Viewers {
                site: r.get::<_, Word<Site>>(0)?.0,
                address: r.get(1)?,
                shows: r.get(2)?,
                states: Vec::new(),
            })
        })
        .optional()?;
    let mut viewers = row.unwrap_or_default();
    let mut statement =
        t.prepare_cached("SELECT number, made_at FROM shown_state WHERE project = ?1 ORDER BY number DESC")?;
    let rows = statement.query_map([Key(project)], |r| Ok((r.get(0)?, r.get::<_, At>(1)?.0)))?;
    viewers.states = rows.collect::<rusqlite::Result<_>>()?;
    Ok(viewers)
}

fn show(t: &Transaction<'_>, project: Id, number: Option<i64>) -> Result<()> {
    t.execute(
        "INSERT INTO viewers (project, shows) VALUES (?1, ?2) ON CONFLICT (project) DO UPDATE SET shows = ?2",
        params![Key(project), number],
    )?;
    Ok(())
}

fn as_it_is(t: &Transaction<'_>, id: Id) -> Result<Seen> {
    let project = project(t, id)?;
    Ok(Seen {
        project: id,
        shown: Shown {
            title: project.details.title,
            pattern: project.details.pattern,
            revision: project.revision,
            choices: choices(t, id)?,
            steps: steps::of_project(t, id)?,
            decisions: log::decided(t, id)?,
        },
        plan: project.plan,
        since: None,
    })
}

pub(super) fn seen(t: &Transaction<'_>, id: Id) -> Result<Seen> {
    let now_seen = as_it_is(t, id)?;
    let held: Option<(At, Json<Shown>)> = t
        .prepare_cached(
            "SELECT s.made_at, s.value FROM viewers v JOIN shown_state s ON s.project = v.project AND s.number = v.shows
             WHERE v.project = ?1",
        )?
        .query_row([Key(id)], |r| Ok((r.get(0)?, r.get(1)?)))
        .optional()?;
    let Some((At(since), Json(mut shown))) = held else {
        return Ok(now_seen);
    };
    take_back(&mut shown.choices, &now_seen.shown.choices);
    // One that is thrown away is told to nobody any more; its words stay as they were.
    let there = |d: &Decided| now_seen.shown.decisions.iter().any(|now| now.id == d.id);
    shown.decisions.retain(there);
    let plan = revision(t, id, shown.revision)?
        .ok_or(NotebookError::NotFound("revision of the plan"))?
        .plan;
    Ok(Seen {
        project: id,
        shown,
        plan,
        since: Some(since),
    })
}

/// A tick that is taken away is away at once, in what stays as it was too.
/// Pictures stand among the choices only while they are ticked.
fn take_back(held: &mut [LineChoice], now: &[LineChoice]) {
    for choice in held {
        let kept = match now.iter().find(|c| c.key == choice.key) {
            Some(now) => now.shown,
            None => !choice.key.starts_with("picture/"),
        };
        choice.shown &= kept;
    }
}
