//! Copies of a notebook: backup, restore, check, export, import.

use super::folder_of;
use crate::notebook::{self, DiskFolder, Notebook};
use crate::sheets;
use anyhow::{Context, Result};
use clap::Args;
use std::fmt::Display;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Args)]
pub struct Backup {
    /// The new file to write, such as notebook-2026-11-25.zip; never written over.
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

#[derive(Args)]
pub struct Restore {
    /// The backup to read.
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

#[derive(Args)]
pub struct Export {
    /// The new or empty folder to write.
    #[arg(value_name = "DIR")]
    to: PathBuf,
}

#[derive(Args)]
pub struct Import {
    /// The folder to take in, as export writes it.
    #[arg(value_name = "DIR")]
    from: PathBuf,
}

/// Exits with 2 where the copy is made but parts of the notebook were missing.
fn told(problems: &[String]) -> ExitCode {
    for problem in problems {
        eprintln!("notchbook: {problem}");
    }
    ExitCode::from(if problems.is_empty() { 0 } else { 2 })
}

/// "1 photo", "2 photos".
pub fn counted<N: PartialEq + From<u8> + Display>(count: N, one: &str, many: &str) -> String {
    let word = if count == N::from(1) { one } else { many };
    format!("{count} {word}")
}

fn photos(count: usize) -> String {
    counted(count, "photo", "photos")
}

impl Backup {
    pub fn run(&self, folder: Option<&Path>) -> Result<ExitCode> {
        let folder = folder_of(folder, false)?;
        let done = notebook::back_up(&folder, &self.file)?;
        println!(
            "Backup of {} with {}, {:.1} MB, read back and whole: {}",
            folder.display(),
            photos(done.photos),
            done.bytes as f64 / 1e6,
            self.file.display()
        );
        Ok(told(&done.problems))
    }
}

impl Restore {
    pub fn run(&self, folder: Option<&Path>) -> Result<ExitCode> {
        let folder = folder_of(folder, false)?;
        let done = notebook::restore(&self.file, &folder)?;
        println!("Restored with {}: {}", photos(done.photos), folder.display());
        println!("Open it with: notchbook --folder {}", folder.display());
        Ok(told(&done.problems))
    }
}

pub fn check(folder: Option<&Path>) -> Result<ExitCode> {
    let folder = folder_of(folder, false)?;
    let checked = notebook::check(&folder)?;
    if checked.problems.is_empty() {
        println!(
            "All is well in {}: {}, {}, {}.",
            folder.display(),
            counted(checked.projects, "project", "projects"),
            counted(checked.entries, "entry", "entries"),
            photos(checked.photos)
        );
    } else {
        println!(
            "{} found in {}. Take the last backup, or export what can still be read.",
            match checked.problems.len() {
                1 => "1 problem was".to_string(),
                n => format!("{n} problems were"),
            },
            folder.display()
        );
    }
    Ok(told(&checked.problems))
}

impl Export {
    pub fn run(&self, folder: Option<&Path>) -> Result<ExitCode> {
        let folder = folder_of(folder, false)?;
        let notebook = Notebook::open(&folder)?;
        let done = sheets::export(&notebook, &self.to)?;
        println!(
            "{} and {} written to {}",
            counted(done.projects, "project", "projects"),
            photos(done.photos),
            self.to.display()
        );
        Ok(told(&done.problems))
    }
}

impl Import {
    pub fn run(&self, folder: Option<&Path>) -> Result<ExitCode> {
        let folder = folder_of(folder, false)?;
        let notebook = Notebook::open(&folder)?;
        let done = notebook
            .import(&DiskFolder::new(&self.from))
            .with_context(|| format!("nothing was taken in from {}", self.from.display()))?;
        println!(
            "Taken in: {}, {}, {}, {}.",
            counted(done.projects, "project", "projects"),
            counted(done.cloths, "cloth", "cloths"),
            counted(done.wearers, "wearer", "wearers"),
            photos(done.photos)
        );
        Ok(ExitCode::SUCCESS)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_one() {
        assert_eq!(counted(1usize, "entry", "entries"), "1 entry");
        assert_eq!(counted(0i64, "entry", "entries"), "0 entries");
        assert_eq!(photos(2), "2 photos");
    }
}
