use super::columns::Word;
use super::{Notebook, NotebookError, Result, Settings};
use rusqlite::{Transaction, params};

impl Notebook {
    pub fn settings(&self) -> Result<Settings> {
        self.read(settings)
    }

    pub fn save_settings(&self, settings: &Settings) -> Result<()> {
        check_settings(settings)?;
        let settings = settings.clone();
        self.write(move |t| save_settings(t, &settings))
    }
}

pub(super) fn settings(t: &Transaction<'_>) -> Result<Settings> {
    Ok(t.query_row(
        "SELECT name, unit, currency, description_limit FROM settings",
        [],
        |row| {
            Ok(Settings {
                name: row.get("name")?,
                unit: row.get::<_, Word<_>>("unit")?.0,
                currency: row.get("currency")?,
                description_limit: row.get("description_limit")?,
            })
        },
    )?)
}

pub(super) fn check_settings(settings: &Settings) -> Result<()> {
    if settings.name.trim().is_empty() {
        return Err(NotebookError::refused("name", "Give the notebook a name."));
    }
    if settings.description_limit < 1 {
        return Err(NotebookError::refused(
            "description_limit",
            "The text for a video description needs room for at least 1 character.",
        ));
    }
    Ok(())
}

pub(super) fn save_settings(t: &Transaction<'_>, settings: &Settings) -> Result<()> {
    t.execute(
        "UPDATE settings SET name = ?1, unit = ?2, currency = ?3, description_limit = ?4",
        params![
            settings.name,
            Word(settings.unit),
            settings.currency,
            settings.description_limit
        ],
    )?;
    Ok(())
}
