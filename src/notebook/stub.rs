//! TEMPORARY: replaced by the real one.
use super::*;
use crate::notebook::types::*;
use crate::plan::Edit;
use chrono::{DateTime, Utc};
use std::path::{Path, PathBuf};
#[derive(Clone)]
pub struct Notebook;
#[derive(Debug, thiserror::Error)]
pub enum AddPhotoError {
    #[error("{0}")]
    Photo(String),
    #[error(transparent)]
    Notebook(#[from] NotebookError),
}
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoSize {
    Small,
    Page,
    Print,
}
pub struct Imported;
pub trait SourceFolder {}
pub struct SampleFolder;
impl SourceFolder for SampleFolder {}
#[allow(unused_variables, clippy::all)]
impl Notebook {
    pub fn change_plan_deciding(
        &self,
        id: Id,
        seen: i64,
        edit: &Edit,
        decision: Option<&NewDecision>,
    ) -> Result<(Revision, Revision)> {
        todo!()
    }
    pub fn open(folder: &Path) -> Result<Notebook> {
        todo!()
    }
    pub fn folder(&self) -> &Path {
        todo!()
    }
    pub fn settings(&self) -> Result<Settings> {
        todo!()
    }
    pub fn save_settings(&self, settings: &Settings) -> Result<()> {
        todo!()
    }
    pub fn projects(&self) -> Result<Vec<ProjectCard>> {
        todo!()
    }
    pub fn project(&self, id: Id) -> Result<Project> {
        todo!()
    }
    pub fn start_project(&self, id: Id, details: &ProjectDetails) -> Result<Id> {
        todo!()
    }
    pub fn start_from(&self, id: Id, details: &ProjectDetails, from: Id, take: TakeOver) -> Result<Id> {
        todo!()
    }
    pub fn save_details(&self, id: Id, seen: i64, details: &ProjectDetails) -> Result<i64> {
        todo!()
    }
    pub fn set_cover(&self, id: Id, photo: &PhotoHash) -> Result<()> {
        todo!()
    }
    pub fn use_measurements(&self, id: Id, set: Option<Id>) -> Result<()> {
        todo!()
    }
    pub fn bin_project(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn restore_project(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn binned_projects(&self) -> Result<Vec<ProjectCard>> {
        todo!()
    }
    pub fn change_plan(&self, id: Id, seen: i64, edit: &Edit) -> Result<(Revision, Revision)> {
        todo!()
    }
    pub fn revisions(&self, id: Id) -> Result<Vec<(i64, DateTime<Utc>, String)>> {
        todo!()
    }
    pub fn revision(&self, id: Id, number: i64) -> Result<Revision> {
        todo!()
    }
    pub fn last_decided(&self, id: Id) -> Result<i64> {
        todo!()
    }
    pub fn log(&self, project: Id) -> Result<Vec<Entry>> {
        todo!()
    }
    pub fn entry(&self, id: Id) -> Result<(Id, Entry)> {
        todo!()
    }
    pub fn add_entry(&self, project: Id, entry: &Entry) -> Result<()> {
        todo!()
    }
    pub fn save_entry(&self, seen: i64, entry: &Entry) -> Result<i64> {
        todo!()
    }
    pub fn earlier_entries(&self, id: Id) -> Result<Vec<Entry>> {
        todo!()
    }
    pub fn bin_entry(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn restore_entry(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn add_photo(&self, file: &Path) -> std::result::Result<Photo, AddPhotoError> {
        todo!()
    }
    pub fn photo(&self, hash: &PhotoHash) -> Result<Photo> {
        todo!()
    }
    pub fn photo_file(&self, hash: &PhotoHash, size: PhotoSize) -> Result<PathBuf> {
        todo!()
    }
    pub fn cloths(&self) -> Result<Vec<StockCloth>> {
        todo!()
    }
    pub fn stock_cloth(&self, id: Id) -> Result<StockCloth> {
        todo!()
    }
    pub fn save_cloth(&self, seen: i64, cloth: &StockCloth) -> Result<i64> {
        todo!()
    }
    pub fn bin_cloth(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn restore_cloth(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn projects_with_cloth(&self, id: Id) -> Result<Vec<(Id, String)>> {
        todo!()
    }
    pub fn wearers(&self) -> Result<Vec<Wearer>> {
        todo!()
    }
    pub fn wearer(&self, id: Id) -> Result<Wearer> {
        todo!()
    }
    pub fn save_wearer(&self, seen: i64, wearer: &Wearer) -> Result<i64> {
        todo!()
    }
    pub fn bin_wearer(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn restore_wearer(&self, id: Id) -> Result<()> {
        todo!()
    }
    pub fn choices(&self, project: Id) -> Result<Vec<LineChoice>> {
        todo!()
    }
    pub fn save_choices(&self, project: Id, choices: &[LineChoice]) -> Result<()> {
        todo!()
    }
    pub fn share(&self, project: Id) -> Result<Option<Share>> {
        todo!()
    }
    pub fn make_share(&self, project: Id) -> Result<Share> {
        todo!()
    }
    pub fn revoke_share(&self, project: Id) -> Result<()> {
        todo!()
    }
    pub fn shared(&self, token: &str) -> Result<Project> {
        todo!()
    }
    pub fn import(&self, folder: &dyn SourceFolder) -> Result<Imported> {
        todo!()
    }
    pub fn is_empty(&self) -> Result<bool> {
        todo!()
    }
}
