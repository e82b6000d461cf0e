use super::columns::{At, Json, Key, now};
use super::projects::live;
use super::viewers::seen;
use super::{Id, LineChoice, Notebook, NotebookError, PhotoHash, Result, Seen, Share};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use rusqlite::{OptionalExtension, Transaction, params};
use std::collections::HashSet;

impl Notebook {
    pub fn choices(&self, project: Id) -> Result<Vec<LineChoice>> {
        self.read(|t| {
            live(t, project)?;
            choices(t, project)
        })
    }

    /// Counts the saves of the choices; 0 before the first.
    pub fn choices_version(&self, project: Id) -> Result<i64> {
        self.read(|t| {
            live(t, project)?;
            choices_version(t, project)
        })
    }

    /// All choices of the project anew, as begun from version `seen`; the
    /// earlier ones are kept.
    pub fn save_choices(&self, project: Id, seen: i64, choices: &[LineChoice]) -> Result<i64> {
        let new = choices.to_vec();
        self.write(move |t| {
            live(t, project)?;
            check_choices(&new)?;
            let (version, before) = (choices_version(t, project)?, self::choices(t, project)?);
            // The same save sent twice, or nothing changed.
            if before == new {
                return Ok(version);
            }
            if version != seen {
                return Err(NotebookError::Stale("What viewers may see".into()));
            }
            t.execute(
                "INSERT INTO choices_version (project, version, kept_at, value) VALUES (?1, ?2, ?3, ?4)",
                params![Key(project), version, At(now()), Json(&before)],
            )?;
            write_choices(t, project, &new)
        })
    }

    /// The choices before each save, newest first.
    pub fn earlier_choices(&self, project: Id) -> Result<Vec<Vec<LineChoice>>> {
        self.read(|t| {
            live(t, project)?;
            let mut statement =
                t.prepare_cached("SELECT value FROM choices_version WHERE project = ?1 ORDER BY version DESC")?;
            let rows = statement.query_map([Key(project)], |r| Ok(r.get::<_, Json<_>>(0)?.0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    /// The link in force.
    pub fn share(&self, project: Id) -> Result<Option<Share>> {
        self.read(|t| {
            live(t, project)?;
            in_force(t, project)
        })
    }

    /// Makes a link, or hands back the one in force.
    pub fn make_share(&self, project: Id) -> Result<Share> {
        self.write(move |t| {
            live(t, project)?;
            if let Some(share) = in_force(t, project)? {
                return Ok(share);
            }
            let mut random = [0u8; 32];
            getrandom::fill(&mut random).map_err(std::io::Error::other)?;
            let share = Share {
                token: URL_SAFE_NO_PAD.encode(random),
                project,
                made_at: now(),
            };
            t.execute(
                "INSERT INTO share (token_hash, token, project, made_at) VALUES (?1, ?2, ?3, ?4)",
                params![hash(&share.token), share.token, Key(project), At(share.made_at)],
            )?;
            Ok(share)
        })
    }

    /// The link leads nowhere from now on; a new one is another.
    pub fn revoke_share(&self, project: Id) -> Result<()> {
        self.write(move |t| {
            live(t, project)?;
            t.execute(
                "UPDATE share SET revoked_at = ?2 WHERE project = ?1 AND revoked_at IS NULL",
                params![Key(project), At(now())],
            )?;
            Ok(())
        })
    }

    /// What a link shows.
    pub fn shared(&self, token: &str) -> Result<Seen> {
        self.read(|t| {
            let id: Option<Key> = t
                .prepare_cached("SELECT project FROM share WHERE token_hash = ?1 AND revoked_at IS NULL")?
                .query_row([hash(token)], |r| r.get(0))
                .optional()?;
            match id {
                Some(Key(id)) => seen(t, id),
                None => Err(NotebookError::NotFound("page")),
            }
        })
    }
}

fn choices_version(t: &Transaction<'_>, project: Id) -> Result<i64> {
    let version = t
        .prepare_cached("SELECT choices_version FROM viewers WHERE project = ?1")?
        .query_row([Key(project)], |r| r.get(0))
        .optional()?;
    Ok(version.unwrap_or(0))
}

pub(super) fn choices(t: &Transaction<'_>, project: Id) -> Result<Vec<LineChoice>> {
    let mut statement = t.prepare_cached(
        "SELECT key, shown, remark, substitute, paid FROM choice WHERE project = ?1 ORDER BY position",
    )?;
    let rows = statement.query_map([Key(project)], |r| {
        Ok(LineChoice {
            key: r.get(0)?,
            shown: r.get(1)?,
            remark: r.get(2)?,
            substitute: r.get(3)?,
            paid: r.get(4)?,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// SHA-256, as for photos.
fn hash(token: &str) -> String {
    PhotoHash::of(token.as_bytes()).0
}

fn in_force(t: &Transaction<'_>, project: Id) -> Result<Option<Share>> {
    Ok(t.query_row(
        "SELECT token, made_at FROM share WHERE project = ?1 AND revoked_at IS NULL",
        [Key(project)],
        |r| {
            Ok(Share {
                token: r.get(0)?,
                project,
                made_at: r.get::<_, At>(1)?.0,
            })
        },
    )
    .optional()?)
}

pub(super) fn check_choices(choices: &[LineChoice]) -> Result<()> {
    let mut met = HashSet::new();
    for choice in choices {
        if choice.key.is_empty() || !met.insert(&choice.key) {
            return Err(NotebookError::refused(
                "choices",
                format!(
                    "The line “{}” of the materials list is named twice or not at all.",
                    choice.key
                ),
            ));
        }
    }
    Ok(())
}

/// Counted as a save; returns its version.
pub(super) fn write_choices(t: &Transaction<'_>, project: Id, choices: &[LineChoice]) -> Result<i64> {
    t.execute(
        "INSERT INTO viewers (project, choices_version) VALUES (?1, 1)
            ON CONFLICT (project) DO UPDATE SET choices_version = choices_version + 1",
        [Key(project)],
    )?;
    t.execute("DELETE FROM choice WHERE project = ?1", [Key(project)])?;
    for (position, choice) in (0i64..).zip(choices) {
        t.execute(
            "INSERT INTO choice (project, key, position, shown, remark, substitute, paid) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            params![
                Key(project),
                choice.key,
                position,
                choice.shown,
                choice.remark,
                choice.substitute,
                choice.paid
            ],
        )?;
    }
    choices_version(t, project)
}
