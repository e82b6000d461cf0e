use super::before_after;
use super::cloths::insert_cloth;
use super::columns::Key;
use super::import_checks::{Contents, read};
use super::log::insert_entry;
use super::photo_marks::insert_mark;
use super::photo_rows::insert_photo;
use super::plans::{insert_revision, settled};
use super::projects::{NewProject, insert_project};
use super::settings::save_settings;
use super::shares::write_choices;
use super::shopping;
use super::steps;
use super::variants::insert_variants;
use super::viewers;
use super::wearers::insert_wearer;
use super::{Id, Notebook, NotebookError, PhotoHash, Result, Revision, SourceFolder};
use crate::photos::PhotoError;
use rusqlite::Transaction;

/// What was taken in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Imported {
    pub projects: usize,
    pub revisions: usize,
    pub entries: usize,
    pub cloths: usize,
    pub wearers: usize,
    pub photos: usize,
}

impl Notebook {
    /// Takes in a whole folder or nothing of it. Everything is checked before
    /// anything is changed; what the notebook already has is never written over.
    pub fn import(&self, folder: &dyn SourceFolder) -> Result<Imported> {
        let contents = read(folder, self.photos())?;
        // Refused before a file is copied; asked again below, where it counts.
        self.read(|t| refuse_known(t, &contents))?;
        // Photos first: a row never names a file that is not there.
        for (name, photo) in &contents.photos {
            let bytes = folder.read(name)?;
            if PhotoHash::of(&bytes) != photo.hash {
                return Err(NotebookError::refused(
                    "folder",
                    format!("{name}: the photo changed while it was read. Try again."),
                ));
            }
            self.photos().keep(&bytes, photo).map_err(|error| match error {
                PhotoError::File(e) => NotebookError::File(e),
                other => NotebookError::refused("folder", format!("{name}: {other}")),
            })?;
        }
        self.write(move |t| {
            refuse_known(t, &contents)?;
            insert(t, &contents)
        })
    }

    /// Nothing in it yet, not even in the bin.
    pub fn is_empty(&self) -> Result<bool> {
        self.read(is_empty)
    }
}

fn is_empty(t: &Transaction<'_>) -> Result<bool> {
    Ok(t.query_row(
        "SELECT NOT EXISTS (SELECT 1 FROM project) AND NOT EXISTS (SELECT 1 FROM cloth)
            AND NOT EXISTS (SELECT 1 FROM wearer)",
        [],
        |r| r.get(0),
    )?)
}

/// Two notebooks that share an id share its history: which of the two is right
/// is not for a program to guess.
fn refuse_known(t: &Transaction<'_>, contents: &Contents) -> Result<()> {
    let known = |sql: &str, id: Id| -> Result<bool> { Ok(t.prepare_cached(sql)?.query_row([Key(id)], |r| r.get(0))?) };
    let refuse = |what: String| {
        Err(NotebookError::refused(
            "folder",
            format!("This notebook already has {what}. Take the folder into a new, empty notebook instead."),
        ))
    };
    for cloth in &contents.cloths {
        if known("SELECT EXISTS (SELECT 1 FROM cloth WHERE id = ?1)", cloth.id)? {
            return refuse(format!("the cloth “{}”", cloth.name));
        }
    }
    for wearer in &contents.wearers {
        if known("SELECT EXISTS (SELECT 1 FROM wearer WHERE id = ?1)", wearer.id)? {
            return refuse(format!("the wearer “{}”", wearer.name));
        }
        for set in &wearer.sets {
            if known("SELECT EXISTS (SELECT 1 FROM measurement_set WHERE id = ?1)", set.id)? {
                return refuse(format!("the measurements {} of {}", set.id, wearer.name));
            }
        }
    }
    for moved in &contents.shopping.movements {
        if known("SELECT EXISTS (SELECT 1 FROM movement WHERE id = ?1)", moved.id)? {
            return refuse("a part of the history of a cloth".into());
        }
    }
    for project in &contents.projects {
        if known("SELECT EXISTS (SELECT 1 FROM project WHERE id = ?1)", project.file.id)? {
            return refuse(format!("the project “{}”", project.file.details.title));
        }
        for step in &project.file.steps {
            if known("SELECT EXISTS (SELECT 1 FROM step WHERE id = ?1)", step.id)? {
                return refuse(format!("a step of “{}”", project.file.details.title));
            }
        }
        for entry in &project.log {
            if known("SELECT EXISTS (SELECT 1 FROM entry WHERE id = ?1)", entry.id)? {
                return refuse(format!("an entry of “{}”", project.file.details.title));
            }
        }
        for mark in &project.file.marks {
            if known("SELECT EXISTS (SELECT 1 FROM photo_mark WHERE id = ?1)", mark.id)? {
                return refuse(format!("a mark on a photo of “{}”", project.file.details.title));
            }
        }
    }
    Ok(())
}

fn insert(t: &Transaction<'_>, contents: &Contents) -> Result<Imported> {
    let mut imported = Imported::default();
    // A notebook in use keeps its own settings.
    if is_empty(t)? {
        save_settings(t, &contents.settings)?;
    }
    for (_, photo) in &contents.photos {
        insert_photo(t, photo)?;
        imported.photos += 1;
    }
    for wearer in &contents.wearers {
        insert_wearer(t, wearer)?;
        imported.wearers += 1;
    }
    for cloth in &contents.cloths {
        insert_cloth(t, cloth)?;
        imported.cloths += 1;
    }
    for project in &contents.projects {
        let file = &project.file;
        let moments = file.revisions.iter().map(|r| r.made_at);
        let moments = moments.chain(project.log.iter().map(|e| e.happened_at));
        let new = NewProject {
            id: file.id,
            created_at: file.created_at,
            changed_at: moments.fold(file.created_at, Ord::max),
            from: file.from,
            measurements: file.measurements,
            cover: file.cover.clone(),
        };
        insert_project(t, &new, &file.details)?;
        for revision in &file.revisions {
            let revision = Revision {
                number: revision.number,
                made_at: revision.made_at,
                what: revision.what.clone(),
                plan: settled(revision.plan.clone()),
            };
            insert_revision(t, file.id, &revision)?;
            imported.revisions += 1;
        }
        if !file.choices.is_empty() {
            write_choices(t, file.id, &file.choices)?;
        }
        viewers::insert(t, file.id, file.site, file.address.as_deref())?;
        steps::add(t, file.id, &file.steps)?;
        if let Some(pair) = &file.variants {
            insert_variants(t, file.id, pair)?;
        }
        for mark in &file.marks {
            insert_mark(t, file.id, mark)?;
        }
        if let Some(pair) = &file.before_after {
            before_after::write(t, file.id, pair)?;
        }
        for entry in &project.log {
            insert_entry(t, file.id, entry)?;
            imported.entries += 1;
        }
        imported.projects += 1;
    }
    shopping::insert(t, &contents.shopping)?;
    Ok(imported)
}
