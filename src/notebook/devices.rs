use super::columns::{At, Key, now};
use super::{Device, Id, Notebook, NotebookError, PhotoHash, Result};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use chrono::{DateTime, TimeDelta, Utc};
use rusqlite::{OptionalExtension, Row, Transaction, params};

/// A device that loads a page with ten photos is seen once, not eleven times.
const SEEN_AGAIN: TimeDelta = TimeDelta::minutes(1);

const COLUMNS: &str = "id, name, made_at, last_seen_at";

impl Notebook {
    /// Lets a device in. The text is the token its cookie carries; it is
    /// handed out here and kept nowhere.
    pub fn add_device(&self, name: &str) -> Result<(Device, String)> {
        let name = checked(name)?;
        let mut random = [0u8; 32];
        getrandom::fill(&mut random).map_err(std::io::Error::other)?;
        let token = URL_SAFE_NO_PAD.encode(random);
        let hash = hash(&token);
        let device = self.write(move |t| {
            let at = now();
            let device = Device {
                id: Id::now_v7(),
                name,
                made_at: at,
                last_seen_at: at,
            };
            t.execute(
                "INSERT INTO device (id, name, token_hash, made_at, last_seen_at) VALUES (?1, ?2, ?3, ?4, ?4)",
                params![Key(device.id), device.name, hash, At(at)],
            )?;
            Ok(device)
        })?;
        Ok((device, token))
    }

    /// Those that are let in, the one seen last first.
    pub fn devices(&self) -> Result<Vec<Device>> {
        self.read(|t| {
            let mut statement = t.prepare_cached(&format!(
                "SELECT {COLUMNS} FROM device WHERE revoked_at IS NULL ORDER BY last_seen_at DESC, id DESC"
            ))?;
            let rows = statement.query_map([], device)?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })
    }

    /// The device a token lets in at this moment, which is noted as the time
    /// it was last seen, at most once a minute.
    pub fn device_in(&self, token: &str, at: DateTime<Utc>) -> Result<Option<Device>> {
        let hash = hash(token);
        let found = self.read(|t| {
            Ok(t.prepare_cached(&format!(
                "SELECT {COLUMNS} FROM device WHERE token_hash = ?1 AND revoked_at IS NULL"
            ))?
            .query_row([hash], device)
            .optional()?)
        })?;
        if let Some(device) = &found {
            let since = at - device.last_seen_at;
            // A clock that was set back must not stop the noting for months.
            if since >= SEEN_AGAIN || since < TimeDelta::zero() {
                self.note_seen(device.id, at);
            }
        }
        Ok(found)
    }

    /// A full disk must not keep the maker from reading on the phone, and what
    /// is kept of pages is not made anew each minute for it.
    fn note_seen(&self, id: Id, at: DateTime<Utc>) {
        let noted = self.note(move |t| {
            t.execute(
                "UPDATE device SET last_seen_at = ?2 WHERE id = ?1",
                params![Key(id), At(at)],
            )?;
            Ok(())
        });
        if let Err(error) = noted {
            tracing::warn!(%error, "when a device was last seen could not be noted");
        }
    }

    pub fn rename_device(&self, id: Id, name: &str) -> Result<()> {
        let name = checked(name)?;
        self.write(move |t| {
            in_force(t, id)?;
            t.execute("UPDATE device SET name = ?2 WHERE id = ?1", params![Key(id), name])?;
            Ok(())
        })
    }

    /// Not let in any more, from the next request on. Twice is as once.
    pub fn revoke_device(&self, id: Id) -> Result<()> {
        self.write(move |t| {
            t.execute(
                "UPDATE device SET revoked_at = ?2 WHERE id = ?1 AND revoked_at IS NULL",
                params![Key(id), At(now())],
            )?;
            Ok(())
        })
    }
}

fn device(row: &Row<'_>) -> rusqlite::Result<Device> {
    Ok(Device {
        id: row.get::<_, Key>("id")?.0,
        name: row.get("name")?,
        made_at: row.get::<_, At>("made_at")?.0,
        last_seen_at: row.get::<_, At>("last_seen_at")?.0,
    })
}

fn in_force(t: &Transaction<'_>, id: Id) -> Result<()> {
    t.query_row(
        "SELECT 1 FROM device WHERE id = ?1 AND revoked_at IS NULL",
        [Key(id)],
        |_| Ok(()),
    )
    .optional()?
    .ok_or(NotebookError::NotFound("device"))
}

fn checked(name: &str) -> Result<String> {
    let name = name.trim();
    if name.is_empty() {
        return Err(NotebookError::refused("name", "Give the device a name."));
    }
    Ok(name.to_string())
}

/// SHA-256, as for photos. A token is looked up by it, so that how long that
/// takes says nothing about how much of a guessed token is right.
fn hash(token: &str) -> String {
    PhotoHash::of(token.as_bytes()).0
}
