use super::columns::{At, Key, now};
use super::projects::{live, project};
use super::{Id, LineChoice, Notebook, NotebookError, PhotoHash, Project, Result, Share};
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

    /// All choices of the project anew.
    pub fn save_choices(&self, project: Id, choices: &[LineChoice]) -> Result<()> {
        let choices = choices.to_vec();
        self.write(move |t| {
            live(t, project)?;
            check_choices(&choices)?;
            write_choices(t, project, &choices)
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

    /// The project a link shows.
    pub fn shared(&self, token: &str) -> Result<Project> {
        self.read(|t| {
            let id: Option<Key> = t
                .prepare_cached("SELECT project FROM share WHERE token_hash = ?1 AND revoked_at IS NULL")?
                .query_row([hash(token)], |r| r.get(0))
                .optional()?;
            match id {
                Some(Key(id)) => project(t, id),
                None => Err(NotebookError::NotFound("page")),
            }
        })
    }
}

pub(super) fn choices(t: &Transaction<'_>, project: Id) -> Result<Vec<LineChoice>> {
    let mut statement =
        t.prepare_cached("SELECT key, shown, remark FROM choice WHERE project = ?1 ORDER BY position")?;
    let rows = statement.query_map([Key(project)], |r| {
        Ok(LineChoice {
            key: r.get(0)?,
            shown: r.get(1)?,
            remark: r.get(2)?,
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

pub(super) fn write_choices(t: &Transaction<'_>, project: Id, choices: &[LineChoice]) -> Result<()> {
    t.execute("DELETE FROM choice WHERE project = ?1", [Key(project)])?;
    for (position, choice) in (0i64..).zip(choices) {
        t.execute(
            "INSERT INTO choice (project, key, position, shown, remark) VALUES (?1, ?2, ?3, ?4, ?5)",
            params![Key(project), choice.key, position, choice.shown, choice.remark],
        )?;
    }
    Ok(())
}
