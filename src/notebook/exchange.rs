//! A notebook as a folder of plain files: what an export writes and an import
//! takes in. DEVELOPERS.md describes the files.
//!
//! ```text
//! notebook.json                {"format": 1, "settings": ...}
//! cloths.json, wearers.json    lists
//! projects/SLUG/project.json   details, choices and every revision of the plan
//! projects/SLUG/log.json       the entries of the log
//! photos/HASH.jpg|png|webp     originals, named by their SHA-256
//! ```

use rust_embed::RustEmbed;
use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};

/// Where such a folder is read from. Names are relative, parted by `/`.
pub trait SourceFolder {
    /// Every file whose name starts with `prefix` (`""`, or a folder with its
    /// final `/`), sorted.
    fn list(&self, prefix: &str) -> io::Result<Vec<String>>;
    /// The content; an error of kind `NotFound` where there is no such file.
    fn read(&self, name: &str) -> io::Result<Vec<u8>>;
}

/// A folder on the disk.
pub struct DiskFolder {
    root: PathBuf,
}

/// More than any file of such a folder holds.
const MAX_FILE: u64 = 64 * 1024 * 1024;
/// `projects/SLUG/log.json` is three deep; a little more is let pass unread.
const MAX_DEPTH: usize = 6;

impl DiskFolder {
    pub fn new(root: &Path) -> DiskFolder {
        DiskFolder {
            root: root.to_path_buf(),
        }
    }

    fn walk(&self, folder: &Path, name: &str, depth: usize, found: &mut Vec<String>) -> io::Result<()> {
        if depth > MAX_DEPTH {
            return Err(odd(name, "its folders are nested too deeply"));
        }
        for item in std::fs::read_dir(folder)? {
            let item = item?;
            // A name that is not text cannot be one of ours.
            let Ok(own) = item.file_name().into_string() else {
                continue;
            };
            let name = if name.is_empty() { own } else { format!("{name}/{own}") };
            let kind = item.file_type()?;
            if kind.is_symlink() {
                return Err(odd(&name, "it is a link to another place; put the file itself there"));
            }
            if kind.is_dir() {
                self.walk(&item.path(), &name, depth + 1, found)?;
            } else if kind.is_file() {
                found.push(name);
            }
        }
        Ok(())
    }
}

impl SourceFolder for DiskFolder {
    fn list(&self, prefix: &str) -> io::Result<Vec<String>> {
        let mut found = Vec::new();
        let below = prefix.trim_end_matches('/');
        let folder = if below.is_empty() {
            self.root.clone()
        } else {
            self.root.join(plain_name(below)?)
        };
        match self.walk(&folder, below, 0, &mut found) {
            Err(e) if e.kind() == io::ErrorKind::NotFound && folder != self.root => {}
            other => other?,
        }
        found.sort();
        Ok(found)
    }

    fn read(&self, name: &str) -> io::Result<Vec<u8>> {
        let path = self.root.join(plain_name(name)?);
        if std::fs::symlink_metadata(&path)?.is_symlink() {
            return Err(odd(name, "it is a link to another place; put the file itself there"));
        }
        let mut bytes = Vec::new();
        let file = std::fs::File::open(&path)?;
        file.take(MAX_FILE + 1).read_to_end(&mut bytes)?;
        if bytes.len() as u64 > MAX_FILE {
            return Err(odd(name, "it is larger than 64 MB"));
        }
        Ok(bytes)
    }
}

/// Nothing that leads out of the folder: no `..`, no root, no drive.
fn plain_name(name: &str) -> io::Result<&Path> {
    let path = Path::new(name);
    let plain = !name.is_empty()
        && !name.contains(['\\', '\0', ':'])
        && path.components().all(|c| matches!(c, Component::Normal(_)));
    if plain {
        Ok(path)
    } else {
        Err(odd(name, "its name leads elsewhere"))
    }
}

fn odd(name: &str, what: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidInput, format!("“{name}” is not read: {what}"))
}

/// The sample that comes with the program.
pub struct SampleFolder;

#[derive(RustEmbed)]
#[folder = "sample-notebook/"]
#[exclude = "*.py"]
#[allow_missing = true]
struct SampleFiles;

impl SourceFolder for SampleFolder {
    fn list(&self, prefix: &str) -> io::Result<Vec<String>> {
        let mut found: Vec<String> = SampleFiles::iter()
            .filter(|name| name.starts_with(prefix))
            .map(|name| name.into_owned())
            .collect();
        found.sort();
        Ok(found)
    }

    fn read(&self, name: &str) -> io::Result<Vec<u8>> {
        SampleFiles::get(name)
            .map(|file| file.data.into_owned())
            .ok_or_else(|| io::ErrorKind::NotFound.into())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_lead_elsewhere_are_refused() {
        let outside = tempfile::tempdir().unwrap();
        std::fs::write(outside.path().join("secret.json"), "1").unwrap();
        let root = outside.path().join("notebook");
        std::fs::create_dir_all(root.join("projects/a")).unwrap();
        std::fs::write(root.join("projects/a/log.json"), "[]").unwrap();
        let folder = DiskFolder::new(&root);
        assert_eq!(folder.list("projects/").unwrap(), ["projects/a/log.json"]);
        assert_eq!(folder.read("projects/a/log.json").unwrap(), b"[]");
        assert_eq!(folder.list("photos/").unwrap(), [""; 0]);
        for bad in [
            "../secret.json",
            "projects/../../secret.json",
            "/etc/hostname",
            "projects\\a\\log.json",
            "",
            "C:log.json",
        ] {
            let error = folder.read(bad).expect_err(bad);
            assert_eq!(error.kind(), io::ErrorKind::InvalidInput, "{bad}");
        }
        assert!(folder.list("../").is_err());
        assert_eq!(
            folder.read("projects/a/none.json").unwrap_err().kind(),
            io::ErrorKind::NotFound
        );
    }

    #[cfg(unix)]
    #[test]
    fn links_are_refused() {
        let outside = tempfile::tempdir().unwrap();
        std::fs::write(outside.path().join("secret.json"), "1").unwrap();
        let root = outside.path().join("notebook");
        std::fs::create_dir(&root).unwrap();
        std::os::unix::fs::symlink(outside.path().join("secret.json"), root.join("cloths.json")).unwrap();
        let folder = DiskFolder::new(&root);
        assert!(
            folder
                .read("cloths.json")
                .unwrap_err()
                .to_string()
                .contains("is a link")
        );
        assert!(folder.list("").unwrap_err().to_string().contains("is a link"));
    }
}
