//! Reads an exchange folder and checks all of it: nothing of the notebook is
//! changed here.

use super::before_after::check_pair;
use super::cloths::check_cloth_alone;
use super::columns::has_plain_year;
use super::effect::effect;
use super::log::check_entry_alone;
use super::photo_marks::check_mark;
use super::plans::sound_json;
use super::projects::check_details_alone;
use super::settings::check_settings;
use super::shares::check_choices;
use super::shopping::check_shopping_alone;
use super::steps::check_step;
use super::variants::check_note;
use super::viewers::{Site, check_address};
use super::wearers::{check_wearer, newest_first};
use super::{
    BeforeAfter, Entry, EntryKind, Id, Letter, LineChoice, NotebookError, PhotoHash, PhotoMark, ProjectDetails, Result,
    Settings, Shopping, SourceFolder, Step, StockCloth, Wearer,
};
use crate::photos::{Examined, PhotoFormat, Store};
use crate::plan::Plan;
use chrono::{DateTime, Utc};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, HashMap, HashSet};

/// The format of the folder this program reads.
const FORMAT: i64 = 1;

pub struct Contents {
    pub settings: Settings,
    pub cloths: Vec<StockCloth>,
    pub wearers: Vec<Wearer>,
    pub projects: Vec<ProjectFolder>,
    pub shopping: Shopping,
    /// With the names of their files.
    pub photos: Vec<(String, Examined)>,
}

/// One folder of `projects/`.
pub struct ProjectFolder {
    pub file: ProjectFile,
    pub log: Vec<Entry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct NotebookFile {
    // Checked before this is read.
    #[serde(rename = "format")]
    _format: i64,
    settings: Settings,
}

/// `project.json`, as an export writes it and an import reads it.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProjectFile {
    pub id: Id,
    pub created_at: DateTime<Utc>,
    pub details: ProjectDetails,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Id>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measurements: Option<Id>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cover: Option<PhotoHash>,
    #[serde(default)]
    pub choices: Vec<LineChoice>,
    /// Whether it stands on the published site, and at which place.
    #[serde(default, skip_serializing_if = "Site::is_usual")]
    pub site: Site,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub address: Option<String>,
    /// In the order they are to be done.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<Step>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<PhotoMark>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before_after: Option<BeforeAfter>,
    pub revisions: Vec<RevisionFile>,
    /// The pair set beside each other, where one is set up: A, then B.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variants: Option<[VariantFile; 2]>,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct VariantFile {
    /// The revision it began as a copy of.
    pub from: i64,
    pub changed_at: DateTime<Utc>,
    #[serde(default)]
    pub note: String,
    pub plan: Plan,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RevisionFile {
    pub number: i64,
    pub made_at: DateTime<Utc>,
    pub what: String,
    pub plan: Plan,
}

pub fn read(folder: &dyn SourceFolder, store: &Store) -> Result<Contents> {
    let settings = settings(folder)?;
    let photos = photos(folder, store)?;
    let mut contents = Contents {
        settings,
        cloths: json(folder, "cloths.json")?,
        wearers: json(folder, "wearers.json")?,
        projects: Vec::new(),
        shopping: json_or_none(folder, "shop.json")?,
        photos,
    };
    let mut projects = Vec::new();
    for slug in slugs(folder)? {
        let name = format!("projects/{slug}/project.json");
        let log_name = format!("projects/{slug}/log.json");
        let project = ProjectFolder {
            file: json(folder, &name)?,
            log: json(folder, &log_name)?,
        };
        projects.push((slug, project));
    }
    let known = check_shelves(&mut contents)?;
    check_projects(&mut projects, &known)?;
    contents.projects = projects.into_iter().map(|(_, p)| p).collect();
    check_shopping(&contents)?;
    Ok(contents)
}

/// What projects may name.
struct Known {
    photos: HashSet<PhotoHash>,
    wearers: HashSet<Id>,
    sets: HashSet<Id>,
}

fn refused(file: &str, what: impl std::fmt::Display) -> NotebookError {
    NotebookError::refused("folder", format!("{file}: {what}"))
}

/// The sentence of a check, with the file it is about.
fn within(file: &str) -> impl Fn(NotebookError) -> NotebookError + '_ {
    move |error| match error {
        NotebookError::Refused { message, .. } => refused(file, message),
        other => other,
    }
}

fn file(folder: &dyn SourceFolder, name: &str) -> Result<Vec<u8>> {
    folder.read(name).map_err(|e| match e.kind() {
        std::io::ErrorKind::NotFound => refused(name, "there is no such file in the folder."),
        std::io::ErrorKind::InvalidInput => refused(name, format!("{e}.")),
        _ => NotebookError::File(e),
    })
}

fn list(folder: &dyn SourceFolder, prefix: &str) -> Result<Vec<String>> {
    let names = folder.list(prefix).map_err(|e| match e.kind() {
        std::io::ErrorKind::InvalidInput => refused(prefix, format!("{e}.")),
        _ => NotebookError::File(e),
    })?;
    for name in &names {
        let odd = name.contains(['\\', '\0', ':']) || name.split('/').any(|part| matches!(part, "" | "." | ".."));
        if odd || !name.starts_with(prefix) {
            return Err(refused(prefix, format!("the name “{name}” leads elsewhere.")));
        }
    }
    Ok(names)
}

fn json<T: DeserializeOwned>(folder: &dyn SourceFolder, name: &str) -> Result<T> {
    let bytes = file(folder, name)?;
    let mut reader = serde_json::Deserializer::from_slice(&bytes);
    let value = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
        let path = error.path().to_string();
        let what = error.into_inner().to_string();
        match path.as_str() {
            "." => refused(name, format!("{what}.")),
            _ => refused(name, format!("at {path}: {what}.")),
        }
    })?;
    reader.end().map_err(|e| refused(name, format!("{e}.")))?;
    Ok(value)
}

/// Of a folder written before there was such a file, nothing.
fn json_or_none<T: DeserializeOwned + Default>(folder: &dyn SourceFolder, name: &str) -> Result<T> {
    match folder.read(name) {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(T::default()),
        _ => json(folder, name),
    }
}

fn settings(folder: &dyn SourceFolder) -> Result<Settings> {
    const NAME: &str = "notebook.json";
    // The format first: a newer folder may hold what this program cannot know.
    #[derive(Deserialize)]
    struct Head {
        format: i64,
    }
    let head: Head = json(folder, NAME)?;
    if head.format != FORMAT {
        return Err(refused(
            NAME,
            format!(
                "the folder is of format {}; this program reads format {FORMAT}. Update Notchbook to read it.",
                head.format
            ),
        ));
    }
    let settings = json::<NotebookFile>(folder, NAME)?.settings;
    check_settings(&settings).map_err(within(NAME))?;
    Ok(settings)
}

fn photos(folder: &dyn SourceFolder, store: &Store) -> Result<Vec<(String, Examined)>> {
    let mut photos: BTreeMap<PhotoHash, (String, Examined)> = BTreeMap::new();
    for name in list(folder, "photos/")? {
        let Some((hash, format)) = photo_name(&name) else {
            continue;
        };
        let examined = store.examine(&file(folder, &name)?).map_err(|e| refused(&name, e))?;
        if examined.hash != hash {
            return Err(refused(
                &name,
                "the photo is not the one its name says; it was changed or is damaged.",
            ));
        }
        if examined.format != format {
            return Err(refused(
                &name,
                format!("the photo is in truth a .{}; name it so.", examined.format.name()),
            ));
        }
        photos.insert(hash, (name, examined));
    }
    Ok(photos.into_values().collect())
}

/// Other files are let be.
fn photo_name(name: &str) -> Option<(PhotoHash, PhotoFormat)> {
    let (hash, ending) = name.strip_prefix("photos/")?.split_once('.')?;
    let hash = PhotoHash(hash.to_string());
    let format = PhotoFormat::from_name(ending)?;
    hash.is_sound().then_some((hash, format))
}

fn slugs(folder: &dyn SourceFolder) -> Result<Vec<String>> {
    let mut slugs = Vec::new();
    for name in list(folder, "projects/")? {
        let Some((slug, "project.json" | "log.json")) = name["projects/".len()..].split_once('/') else {
            continue;
        };
        let plain = slug.len() <= 100
            && slug
                .bytes()
                .all(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_'));
        if !plain {
            return Err(refused(
                &name,
                "the folder of a project is named with letters a to z, digits, - and _.",
            ));
        }
        if slugs.last().is_none_or(|last| last != slug) {
            slugs.push(slug.to_string());
        }
    }
    Ok(slugs)
}

fn check_version(file: &str, version: i64) -> Result<()> {
    if version < 1 {
        return Err(refused(file, format!("versions count from 1, not {version}.")));
    }
    Ok(())
}

fn check_shelves(contents: &mut Contents) -> Result<Known> {
    let mut known = Known {
        photos: contents.photos.iter().map(|(_, p)| p.hash.clone()).collect(),
        wearers: HashSet::new(),
        sets: HashSet::new(),
    };
    let mut cloths = HashSet::new();
    for cloth in &contents.cloths {
        const NAME: &str = "cloths.json";
        check_version(NAME, cloth.version)?;
        check_cloth_alone(cloth).map_err(within(NAME))?;
        if !cloths.insert(cloth.id) {
            return Err(refused(NAME, format!("two cloths have the id {}.", cloth.id)));
        }
        if let Some(photo) = &cloth.photo {
            check_photo(NAME, photo, &known)?;
        }
    }
    for wearer in &mut contents.wearers {
        const NAME: &str = "wearers.json";
        check_version(NAME, wearer.version)?;
        check_wearer(wearer).map_err(within(NAME))?;
        if !known.wearers.insert(wearer.id) {
            return Err(refused(NAME, format!("two wearers have the id {}.", wearer.id)));
        }
        for set in &wearer.sets {
            if !known.sets.insert(set.id) {
                return Err(refused(
                    NAME,
                    format!("two sets of measurements have the id {}.", set.id),
                ));
            }
        }
        *wearer = newest_first(wearer);
    }
    Ok(known)
}

fn check_photo(file: &str, photo: &PhotoHash, known: &Known) -> Result<()> {
    if known.photos.contains(photo) {
        return Ok(());
    }
    Err(refused(file, format!("the photo {} is not in photos/.", photo.0)))
}

fn check_projects(projects: &mut [(String, ProjectFolder)], known: &Known) -> Result<()> {
    let mut ids = HashSet::new();
    for (slug, project) in projects.iter() {
        if !ids.insert(project.file.id) {
            let file = format!("projects/{slug}/project.json");
            return Err(refused(&file, format!("two projects have the id {}.", project.file.id)));
        }
    }
    let mut entries = HashSet::new();
    let mut steps = HashSet::new();
    let mut marks = HashSet::new();
    for (slug, project) in projects {
        let name = format!("projects/{slug}/project.json");
        check_project(&name, &project.file, &ids, known)?;
        check_steps(&name, &project.file.steps, &mut steps)?;
        if let Some(twice) = project.file.marks.iter().find(|m| !marks.insert(m.id)) {
            return Err(refused(&name, format!("two marks on photos have the id {}.", twice.id)));
        }
        let name = format!("projects/{slug}/log.json");
        let plans: HashMap<i64, &Plan> = project.file.revisions.iter().map(|r| (r.number, &r.plan)).collect();
        for entry in &mut project.log {
            if !entries.insert(entry.id) {
                return Err(refused(&name, format!("two entries have the id {}.", entry.id)));
            }
            check_version(&name, entry.version)?;
            check_entry_alone(entry).map_err(within(&name))?;
            for photo in &entry.photos {
                check_photo(&name, photo, known)?;
            }
            if let Some(step) = entry.step
                && !project.file.steps.iter().any(|s| s.id == step)
            {
                return Err(refused(
                    &name,
                    format!("an entry belongs to the step {step}, which the project does not have."),
                ));
            }
            let Some((from, to)) = entry.revisions else { continue };
            let (Some(before), Some(after)) = (plans.get(&from), plans.get(&to)) else {
                return Err(refused(
                    &name,
                    format!("a decision goes from revision {from} to {to}, which the plan does not have."),
                ));
            };
            if entry.kind == EntryKind::Decision && entry.effect.is_empty() {
                entry.effect = effect(before, after, &[]);
            }
        }
    }
    Ok(())
}

/// `met` are the ids of all projects before.
fn check_steps(name: &str, steps: &[Step], met: &mut HashSet<Id>) -> Result<()> {
    for step in steps {
        check_version(name, step.version)?;
        check_step(step).map_err(within(name))?;
        if !met.insert(step.id) {
            return Err(refused(name, format!("two steps have the id {}.", step.id)));
        }
    }
    Ok(())
}

fn check_project(name: &str, file: &ProjectFile, projects: &HashSet<Id>, known: &Known) -> Result<()> {
    check_details_alone(&file.details).map_err(within(name))?;
    let mut moments = file.revisions.iter().map(|r| r.made_at).chain([file.created_at]);
    if !moments.all(|m| has_plain_year(&m)) {
        return Err(refused(name, "a year has more than four digits."));
    }
    if let Some(wearer) = file.details.wearer
        && !known.wearers.contains(&wearer)
    {
        return Err(refused(name, format!("the wearer {wearer} is not in wearers.json.")));
    }
    if let Some(from) = file.from
        && (from == file.id || !projects.contains(&from))
    {
        return Err(refused(
            name,
            format!("the project {from} it was started from is not in the folder."),
        ));
    }
    if let Some(set) = file.measurements
        && !known.sets.contains(&set)
    {
        return Err(refused(
            name,
            format!("the measurements {set} are not in wearers.json."),
        ));
    }
    if let Some(cover) = &file.cover {
        check_photo(name, cover, known)?;
    }
    check_choices(&file.choices).map_err(within(name))?;
    if let Some(address) = &file.address {
        check_address(address).map_err(within(name))?;
    }
    for mark in &file.marks {
        check_version(name, mark.version)?;
        check_mark(mark).map_err(within(name))?;
        check_photo(name, &mark.photo, known)?;
    }
    if let Some(pair) = &file.before_after {
        check_version(name, pair.version)?;
        check_pair(pair).map_err(within(name))?;
        check_photo(name, &pair.before, known)?;
        check_photo(name, &pair.after, known)?;
    }
    for (revision, number) in file.revisions.iter().zip(1i64..) {
        if revision.number != number {
            return Err(refused(
                name,
                format!("revision {number} is missing; revisions are numbered from 1 without gaps."),
            ));
        }
        sound_json(&revision.plan).map_err(within(name))?;
    }
    // A plan may name a cloth that has long been used up and is on no shelf.
    if file.revisions.is_empty() {
        return Err(refused(name, "the project has no revision of a plan."));
    }
    for (variant, letter) in file.variants.iter().flatten().zip(Letter::ALL) {
        let letter = letter.name();
        if !file.revisions.iter().any(|r| r.number == variant.from) {
            return Err(refused(
                name,
                format!(
                    "variant {letter} began from revision {}, which the plan does not have.",
                    variant.from
                ),
            ));
        }
        if !has_plain_year(&variant.changed_at) {
            return Err(refused(
                name,
                format!("the year of variant {letter} has more than four digits."),
            ));
        }
        check_note(&variant.note).map_err(within(name))?;
        sound_json(&variant.plan).map_err(within(name))?;
    }
    Ok(())
}

fn check_shopping(contents: &Contents) -> Result<()> {
    const NAME: &str = "shop.json";
    let projects: HashSet<Id> = contents.projects.iter().map(|p| p.file.id).collect();
    let cloths: HashSet<Id> = contents.cloths.iter().map(|c| c.id).collect();
    let shopping = &contents.shopping;
    check_shopping_alone(shopping).map_err(within(NAME))?;
    let of_movements = shopping.movements.iter().filter_map(|m| m.project.as_ref());
    for project in shopping.left_out.iter().chain(&shopping.given_back).chain(of_movements) {
        if !projects.contains(project) {
            return Err(refused(NAME, format!("the project {project} is not in the folder.")));
        }
    }
    for moved in &shopping.movements {
        if !cloths.contains(&moved.cloth) {
            return Err(refused(
                NAME,
                format!("the cloth {} is not in cloths.json.", moved.cloth),
            ));
        }
    }
    Ok(())
}
