//! What details, cloths and wearers were before each save, and the last save
//! undone: what was there before is saved again, as a version of its own.

use super::columns::{At, Json, Key, now};
use super::projects::{check_details, found, keep_details, live, project, write_details};
use super::wearers::{measurement_set, wearer_of_set};
use super::{
    Earlier, EarlierDetails, Id, MeasurementSet, Notebook, NotebookError, ProjectDetails, Result, StockCloth, Wearer,
};
use rusqlite::{OptionalExtension, Transaction, params};
use serde::de::DeserializeOwned;

impl Notebook {
    /// What the details were before each save, newest first.
    pub fn earlier_details(&self, id: Id) -> Result<Vec<Earlier<EarlierDetails>>> {
        self.read(|t| {
            live(t, id)?;
            let mut statement = t.prepare_cached(
                "SELECT version, kept_at, value, measurements FROM details_version WHERE project = ?1 ORDER BY version DESC",
            )?;
            let rows = statement.query_map([Key(id)], |r| {
                let details: Json<ProjectDetails> = r.get("value")?;
                let set: Option<Key> = r.get("measurements")?;
                Ok((r.get("version")?, r.get::<_, At>("kept_at")?.0, details.0, set))
            })?;
            let rows: Vec<(i64, _, ProjectDetails, Option<Key>)> = rows.collect::<rusqlite::Result<_>>()?;
            rows.into_iter()
                .map(|(version, until, details, set)| {
                    let measurements = set.map(|set| measurement_set(t, set.0)).transpose()?.flatten();
                    Ok(Earlier {
                        version,
                        until,
                        value: EarlierDetails {
                            for_whom: for_whom(t, &details)?,
                            details,
                            measurements,
                        },
                    })
                })
                .collect()
        })
    }

    /// What a cloth was before each save, newest first.
    pub fn earlier_cloths(&self, id: Id) -> Result<Vec<Earlier<StockCloth>>> {
        self.read(|t| {
            super::cloths::cloth(t, id)?;
            earlier(
                t,
                "SELECT version, kept_at, value FROM cloth_version WHERE cloth = ?1 ORDER BY version DESC",
                id,
            )
        })
    }

    /// What a wearer was before each save, newest first.
    pub fn earlier_wearers(&self, id: Id) -> Result<Vec<Earlier<Wearer>>> {
        self.read(|t| {
            super::wearers::wearer(t, id)?;
            earlier(
                t,
                "SELECT version, kept_at, value FROM wearer_version WHERE wearer = ?1 ORDER BY version DESC",
                id,
            )
        })
    }

    /// Details and measurements as they were in `version`, saved anew as begun
    /// from version `seen`. Measurements that are gone since are left as they are.
    pub fn take_details_again(&self, id: Id, seen: i64, version: i64) -> Result<i64> {
        self.write(move |t| {
            let before = project(t, id)?;
            let row = t
                .query_row(
                    "SELECT value, measurements FROM details_version WHERE project = ?1 AND version = ?2",
                    params![Key(id), version],
                    |r| Ok((r.get::<_, Json<ProjectDetails>>(0)?.0, r.get::<_, Option<Key>>(1)?)),
                )
                .optional()?;
            let (details, set) = row.ok_or(NotebookError::NotFound("earlier version"))?;
            let set = set_for(t, &details, set.map(|s| s.0))?;
            if before.details == details && before.measurements.as_ref().map(|m| m.id) == set {
                return Ok(before.details_version);
            }
            if before.details_version != seen {
                return Err(NotebookError::Stale("This project".into()));
            }
            check_details(t, &details)?;
            keep_details(t, &before)?;
            let version = seen + 1;
            write_details(t, id, version, &details)?;
            let changed = t.execute(
                "UPDATE project SET measurements = ?2 WHERE id = ?1",
                params![Key(id), set.map(Key)],
            )?;
            found(changed, "project")?;
            Ok(version)
        })
    }

    /// Whom a project is measured on: the one its measurements were taken of,
    /// else the wearer it is for. Nobody of the bin.
    pub fn measured_wearer(&self, id: Id) -> Result<Option<Wearer>> {
        self.read(|t| {
            let project = project(t, id)?;
            let of_set = match &project.measurements {
                Some(set) => wearer_of_set(t, set.id)?,
                None => None,
            };
            match of_set.or(project.details.wearer) {
                None => Ok(None),
                Some(wearer) => match super::wearers::wearer(t, wearer) {
                    Ok(wearer) => Ok(Some(wearer)),
                    Err(NotebookError::NotFound(_)) => Ok(None),
                    Err(other) => Err(other),
                },
            }
        })
    }
}

fn earlier<T: DeserializeOwned>(t: &Transaction<'_>, sql: &str, id: Id) -> Result<Vec<Earlier<T>>> {
    let mut statement = t.prepare_cached(sql)?;
    let rows = statement.query_map([Key(id)], |r| {
        Ok(Earlier {
            version: r.get("version")?,
            until: r.get::<_, At>("kept_at")?.0,
            value: r.get::<_, Json<T>>("value")?.0,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// In the words the wearer's name is now.
fn for_whom(t: &Transaction<'_>, details: &ProjectDetails) -> Result<String> {
    let Some(wearer) = details.wearer else {
        return Ok(details.for_whom.clone());
    };
    let name: Option<String> = t
        .query_row("SELECT name FROM wearer WHERE id = ?1", [Key(wearer)], |r| r.get(0))
        .optional()?;
    Ok(name.unwrap_or_else(|| details.for_whom.clone()))
}

/// Measurements of someone it is not made for would size it for the wrong person.
fn set_for(t: &Transaction<'_>, details: &ProjectDetails, set: Option<Id>) -> Result<Option<Id>> {
    let Some(set) = set else { return Ok(None) };
    let of = wearer_of_set(t, set)?;
    Ok((of.is_some() && (details.wearer.is_none() || of == details.wearer)).then_some(set))
}

/// As [`Notebook::use_measurements`], within a transaction.
pub(super) fn use_set(t: &Transaction<'_>, id: Id, set: Option<&MeasurementSet>) -> Result<()> {
    let before = project(t, id)?;
    if before.measurements.as_ref().map(|m| m.id) == set.map(|s| s.id) {
        return Ok(());
    }
    keep_details(t, &before)?;
    t.execute(
        "UPDATE project SET measurements = ?2, details_version = details_version + 1 WHERE id = ?1",
        params![Key(id), set.map(|s| Key(s.id))],
    )?;
    super::projects::touch(t, id, now())
}
