//! The shared lists as a site of plain files.

use super::folder_of;
use super::keep::counted;
use crate::notebook::Notebook;
use crate::sheets;
use anyhow::Result;
use clap::Args;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Args)]
pub struct Publish {
    /// The folder of the site: new, empty, or written by publish before.
    #[arg(value_name = "DIR")]
    to: PathBuf,
    /// Where the site will stand, such as https://example.org/lists: then other sites show a link to it with its picture.
    #[arg(long, value_name = "URL")]
    address: Option<String>,
}

impl Publish {
    /// Exits with 2 where the site is written but pictures were missing.
    pub fn run(&self, folder: Option<&Path>) -> Result<ExitCode> {
        let folder = folder_of(folder, false)?;
        let notebook = Notebook::open(&folder)?;
        let done = sheets::publish(&notebook, &self.to, self.address.as_deref())?;
        println!(
            "{} in {}: {} written, {} as they were, {} taken away.",
            counted(done.lists, "list", "lists"),
            self.to.display(),
            counted(done.written, "file", "files"),
            done.unchanged,
            done.removed
        );
        if done.lists == 0 {
            println!("A list is on the site while it has a link, or always: see a project's Materials, As a page.");
        }
        for problem in &done.problems {
            eprintln!("notchbook: {problem}");
        }
        Ok(ExitCode::from(if done.problems.is_empty() { 0 } else { 2 }))
    }
}
