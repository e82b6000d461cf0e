//! Reading the whole notebook out, in one unchanging state: what an export
//! writes. The bin, earlier texts of entries and details, devices and shared
//! links stay behind: they are in a backup.

use super::before_after;
use super::check::{original, photos};
use super::cloths;
use super::columns::Key;
use super::import_checks::{ProjectFile, ProjectFolder, RevisionFile, VariantFile};
use super::log;
use super::photo_marks;
use super::plans::revision;
use super::projects::project;
use super::settings::settings;
use super::shares::choices;
use super::steps;
use super::variants;
use super::viewers;
use super::wearers;
use super::{Id, Notebook, PhotoHash, Result, Revision, Settings, Shopping, StockCloth, Wearer, shopping};
use rusqlite::Transaction;

/// A part of the notebook, in the order they are read out.
pub enum Part {
    Settings(Settings),
    Cloths(Vec<StockCloth>),
    Wearers(Vec<Wearer>),
    Shopping(Shopping),
    /// Its log the oldest first.
    Project(Box<ProjectFolder>),
    /// The name of its file, and its content; or what is wrong with it.
    Photo(std::result::Result<(String, Vec<u8>), String>),
}

impl Notebook {
    /// Hands out every part of the notebook as it is at one moment.
    pub fn read_out<E: From<super::NotebookError>>(
        &self,
        mut take: impl FnMut(Part) -> std::result::Result<(), E>,
    ) -> std::result::Result<(), E> {
        // The state is held for as long as this takes; a writer does not wait for it.
        let mut outcome = Ok(());
        self.read(|t| {
            outcome = read_out(t, self, &mut take);
            Ok(())
        })?;
        outcome
    }
}

fn read_out<E: From<super::NotebookError>>(
    t: &Transaction<'_>,
    notebook: &Notebook,
    take: &mut impl FnMut(Part) -> std::result::Result<(), E>,
) -> std::result::Result<(), E> {
    take(Part::Settings(settings(t)?))?;
    take(Part::Cloths(cloths::shelf(t)?))?;
    let people = wearers::all(t)?;
    let sets: Vec<Id> = people.iter().flat_map(|w| w.sets.iter().map(|s| s.id)).collect();
    let known: Vec<Id> = people.iter().map(|w| w.id).collect();
    take(Part::Wearers(people))?;
    let projects = ids(t)?;
    take(Part::Shopping(shopping::read_out(t, &projects)?))?;
    for id in &projects {
        let (mut out, for_whom) = one(t, *id)?;
        // What lies in the bin is not read out: a reference to it becomes words.
        let file = &mut out.file;
        if file.from.is_some_and(|from| !projects.contains(&from)) {
            file.from = None;
        }
        if file.details.wearer.is_some_and(|w| !known.contains(&w)) {
            file.details.wearer = None;
            file.details.for_whom = for_whom;
        }
        if file.measurements.is_some_and(|m| !sets.contains(&m)) {
            file.measurements = None;
        }
        take(Part::Project(Box::new(out)))?;
    }
    for named in photos(t)? {
        let content = original(notebook.folder(), &named)?;
        take(Part::Photo(content.map(|bytes| (named.file_name(), bytes))))?;
    }
    Ok(())
}

fn ids(t: &Transaction<'_>) -> Result<Vec<Id>> {
    let mut statement = t.prepare("SELECT id FROM project WHERE binned_at IS NULL ORDER BY created_at, id")?;
    let rows = statement.query_map([], |r| Ok(r.get::<_, Key>(0)?.0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// With the name of whom it is for.
fn one(t: &Transaction<'_>, id: Id) -> Result<(ProjectFolder, String)> {
    let project = project(t, id)?;
    let cover: Option<String> = t.query_row("SELECT cover FROM project WHERE id = ?1", [Key(id)], |r| r.get(0))?;
    let mut revisions = Vec::new();
    for number in 1..=project.revision {
        let Some(Revision {
            number,
            made_at,
            what,
            plan,
        }) = revision(t, id, number)?
        else {
            continue;
        };
        revisions.push(RevisionFile {
            number,
            made_at,
            what,
            plan,
        });
    }
    let mut log = log::of_project(t, id)?;
    log.reverse();
    let steps = steps::of_project(t, id)?;
    let site = viewers::of_project(t, id)?;
    // A step in the bin is not read out.
    for entry in &mut log {
        entry.step = entry.step.filter(|of| steps.iter().any(|s| s.id == *of));
    }
    let file = ProjectFile {
        id,
        created_at: project.created_at,
        details: project.details,
        from: project.from.map(|(id, _)| id),
        measurements: project.measurements.map(|m| m.id),
        cover: cover.map(PhotoHash),
        choices: choices(t, id)?,
        site: site.site,
        address: site.address,
        steps,
        marks: photo_marks::of_project(t, id)?,
        before_after: before_after::of_project(t, id)?,
        revisions,
        variants: variants::variants(t, id)?.map(|pair| {
            pair.map(|v| VariantFile {
                from: v.from.number,
                changed_at: v.changed_at,
                note: v.note,
                plan: v.plan,
            })
        }),
    };
    Ok((ProjectFolder { file, log }, project.for_whom))
}
