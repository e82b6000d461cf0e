//! The folder of a published site. A list of files in it says what this
//! program wrote: nothing else there is written over or taken away.

use super::sync::Syncing;
use crate::notebook::NotebookError;
use crate::photos::sync_folder;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// The list of files, beside the index.
const LIST: &str = "notchbook-site.json";
const FORMAT: u32 = 1;
/// What leads to all others.
const INDEX: &str = "index.html";
/// Where files are written before they are put into place.
const ASIDE: &str = ".notchbook-new";
const LIST_ASIDE: &str = ".notchbook-list";

#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Listed {
    format: u32,
    /// By name: the SHA-256 of what it may hold. Two while the site is being
    /// written, so that one that was broken off is known again.
    files: BTreeMap<String, BTreeSet<String>>,
    /// By place: a hash of what its pages were made of.
    made_of: BTreeMap<String, String>,
}

#[derive(Clone, Copy, Debug, Default)]
pub struct Counts {
    pub written: usize,
    pub unchanged: usize,
    pub removed: usize,
}

pub struct Folder {
    root: PathBuf,
    before: Listed,
    now: Listed,
    /// What is on the disk, with its hash.
    there: BTreeMap<String, String>,
    /// What was written aside and may not be on the disk yet.
    syncing: Syncing,
    counts: Counts,
}

pub fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|b| format!("{b:02x}")).collect()
}

fn refused(message: String) -> NotebookError {
    NotebookError::Refused {
        field: "folder",
        message,
    }
}

impl Folder {
    /// Refuses a folder with anything in it this program did not write. What
    /// begins with a dot is a tool's own and let be.
    pub fn open(root: &Path) -> Result<Folder, NotebookError> {
        std::fs::create_dir_all(root)?;
        let before = match std::fs::read(root.join(LIST)) {
            Ok(bytes) => read(&bytes, root)?,
            Err(e) if e.kind() == io::ErrorKind::NotFound => Listed::default(),
            Err(e) => return Err(e.into()),
        };
        let mut folder = Folder {
            root: root.to_path_buf(),
            before,
            now: Listed {
                format: FORMAT,
                ..Listed::default()
            },
            there: BTreeMap::new(),
            syncing: Syncing::default(),
            counts: Counts::default(),
        };
        folder.look(root, "", 0)?;
        // Of a run that was broken off: what it had made may not be shared any more.
        folder.clear_aside()?;
        Ok(folder)
    }

    fn look(&mut self, folder: &Path, within: &str, depth: usize) -> Result<(), NotebookError> {
        let root = self.root.display().to_string();
        let foreign = |name: &str, why: &str| {
            refused(format!(
                "“{name}” in the folder {root} {why}. Move it elsewhere, or name a new or an empty folder: nothing of others is written over."
            ))
        };
        for item in std::fs::read_dir(folder)? {
            let item = item?;
            let name = match item.file_name().into_string() {
                Ok(own) if own.starts_with('.') || (within.is_empty() && own == LIST) => continue,
                Ok(own) => format!("{within}{own}"),
                Err(other) => return Err(foreign(&other.to_string_lossy(), "is not from this notebook")),
            };
            let kind = item.file_type()?;
            if kind.is_dir() && depth == 0 {
                self.look(&item.path(), &format!("{name}/"), depth + 1)?;
                continue;
            }
            let Some(known) = self.before.files.get(&name).filter(|_| kind.is_file()) else {
                return Err(foreign(&name, "is not from this notebook"));
            };
            let hash = hash(&std::fs::read(item.path())?);
            if !known.contains(&hash) {
                return Err(foreign(&name, "was changed since it was published"));
            }
            self.there.insert(name, hash);
        }
        Ok(())
    }

    /// Whether the pages of a place were made of these sources and are all there;
    /// then they stay.
    pub fn keep(&mut self, place: &str, sources: &str) -> bool {
        if self.before.made_of.get(place).is_none_or(|s| s != sources) {
            return false;
        }
        let within = format!("{place}/");
        let files: Vec<_> = self.before.files.range(within.clone()..).collect();
        let files: Vec<_> = files
            .into_iter()
            .take_while(|(name, _)| name.starts_with(&within))
            .collect();
        // One that is being replaced has two hashes: it was broken off.
        if files.is_empty()
            || files
                .iter()
                .any(|(name, known)| known.len() != 1 || !self.there.contains_key(*name))
        {
            return false;
        }
        for (name, known) in files {
            self.now.files.insert(name.clone(), known.clone());
            self.counts.unchanged += 1;
        }
        self.now.made_of.insert(place.into(), sources.into());
        true
    }

    pub fn holds(&self, name: &str) -> bool {
        self.now.files.contains_key(name)
    }

    pub fn made_of(&mut self, place: &str, sources: String) {
        self.now.made_of.insert(place.into(), sources);
    }

    /// A file of the site. Where it is not there as it is, it is written aside
    /// and put into place at the end.
    pub fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), NotebookError> {
        let hash = hash(bytes);
        self.now.files.insert(name.into(), BTreeSet::from([hash.clone()]));
        if self.there.get(name) == Some(&hash) {
            self.counts.unchanged += 1;
            return Ok(());
        }
        self.counts.written += 1;
        let path = self.root.join(ASIDE).join(name);
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)?;
        }
        let mut file = File::create(path)?;
        file.write_all(bytes)?;
        Ok(self.syncing.file(file)?)
    }

    /// Puts everything into place, and takes away what is no longer shared.
    /// Killed in between, or the power gone, every page that is there is whole.
    pub fn finish(mut self) -> Result<Counts, NotebookError> {
        // First the list that knows both states, then the files, then what is gone.
        let mut both = Listed {
            format: FORMAT,
            files: self.before.files.clone(),
            made_of: BTreeMap::new(),
        };
        for (name, hashes) in &self.now.files {
            both.files
                .entry(name.clone())
                .or_default()
                .extend(hashes.iter().cloned());
        }
        let same = self.before.files == self.now.files && self.before.made_of == self.now.made_of;
        if same && self.counts.written == 0 {
            return Ok(self.counts);
        }
        self.syncing.done()?;
        self.write_list(&both)?;
        self.put_into_place()?;
        let gone: Vec<&String> = self
            .there
            .keys()
            .filter(|name| !self.now.files.contains_key(*name))
            .collect();
        let mut places = BTreeSet::new();
        for name in &gone {
            std::fs::remove_file(self.root.join(name))?;
            places.extend(name.rsplit_once('/').map(|(place, _)| self.root.join(place)));
        }
        for place in places {
            // Only when nothing is left in it.
            if std::fs::remove_dir(&place).is_err() {
                self.syncing.folder(place)?;
            }
        }
        self.counts.removed = gone.len();
        self.syncing.done()?;
        self.write_list(&self.now)?;
        self.clear_aside()?;
        Ok(self.counts)
    }

    /// What a page shows or leads to is there before the page is: pictures, then
    /// the pages of lists, then the index. A list that is new comes with its whole
    /// folder at once, and nothing leads to it before the index does.
    fn put_into_place(&mut self) -> Result<(), NotebookError> {
        let aside = self.root.join(ASIDE);
        let mut order: Vec<(&String, &BTreeSet<String>)> = self.now.files.iter().collect();
        order.sort_by_key(|(name, _)| (name.ends_with(".html"), name.ends_with("/index.html")));
        let mut places = BTreeSet::new();
        for (name, hashes) in order {
            if name == INDEX || self.there.get(name).is_some_and(|h| hashes.contains(h)) {
                continue;
            }
            let Some((place, _)) = name.split_once('/') else {
                std::fs::rename(aside.join(name), self.root.join(name))?;
                continue;
            };
            let folder = self.root.join(place);
            let met = !places.insert(folder.clone());
            // Its files came with it.
            if met && !aside.join(name).exists() {
                continue;
            }
            if met || folder.exists() {
                std::fs::rename(aside.join(name), self.root.join(name))?;
            } else {
                std::fs::rename(aside.join(place), folder)?;
            }
        }
        for place in places {
            self.syncing.folder(place)?;
        }
        self.syncing.folder(self.root.clone())?;
        self.syncing.done()?;
        let index = aside.join(INDEX);
        if index.exists() {
            std::fs::rename(index, self.root.join(INDEX))?;
            sync_folder(&self.root)?;
        }
        Ok(())
    }

    fn clear_aside(&self) -> Result<(), NotebookError> {
        let gone = |result: io::Result<()>| match result {
            Err(e) if e.kind() != io::ErrorKind::NotFound => Err(e),
            _ => Ok(()),
        };
        gone(std::fs::remove_dir_all(self.root.join(ASIDE)))?;
        gone(std::fs::remove_file(self.root.join(LIST_ASIDE)))?;
        Ok(())
    }

    fn write_list(&self, list: &Listed) -> Result<(), NotebookError> {
        let mut text = serde_json::to_string_pretty(list).map_err(|e| NotebookError::Damaged(e.to_string()))?;
        text.push('\n');
        let aside = self.root.join(LIST_ASIDE);
        let mut file = File::create(&aside)?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        std::fs::rename(aside, self.root.join(LIST))?;
        Ok(sync_folder(&self.root)?)
    }
}

fn read(bytes: &[u8], root: &Path) -> Result<Listed, NotebookError> {
    let list: Option<Listed> = serde_json::from_slice(bytes).ok();
    let plain = |name: &String| {
        let parts: Vec<&str> = name.split('/').collect();
        parts.len() <= 2
            && parts
                .iter()
                .all(|p| !p.is_empty() && !p.starts_with('.') && !p.contains(['\\', ':']))
    };
    list.filter(|l| l.format == FORMAT && l.files.keys().all(plain)).ok_or_else(|| {
        refused(format!(
            "The file {LIST} in {} cannot be read, so it is not known what of the folder is from this notebook. Name a new or an empty folder.",
            root.display()
        ))
    })
}
