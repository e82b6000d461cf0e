//! Opening a notebook and serving it.

use super::{Open, invite};
use crate::notebook::{Notebook, SampleFolder};
use crate::web::{self, Options};
use anyhow::{Context, Result, bail};
use std::io::IsTerminal;
use std::path::PathBuf;

pub fn run(open: &Open) -> Result<()> {
    let folder = folder(open)?;
    let notebook = Notebook::open(&folder)?;
    if open.sample {
        if notebook.is_empty()? {
            notebook
                .import(&SampleFolder)
                .context("the sample could not be put into the notebook")?;
        } else {
            println!(
                "The folder {} already holds a notebook; it is opened as it is.",
                folder.display()
            );
        }
    }
    let options = Options {
        port: open.port,
        lan: open.lan,
    };
    let shown = folder.clone();
    actix_web::rt::System::new()
        .block_on(web::serve(notebook, options, move |opened| {
            println!("Notebook: {}", shown.display());
            println!("Open this address in your browser: http://{}/", opened.address);
            if let Some(invitation) = &opened.invitation {
                print!("{}", invite::words(invitation, std::io::stdout().is_terminal()));
            }
            println!("Stop with Ctrl-C.");
        }))
        .map_err(|error| match error.kind() {
            std::io::ErrorKind::AddrInUse => anyhow::anyhow!(
                "port {} is taken, perhaps by a notebook that is already open. Open that one, or choose another with --port.",
                open.port
            ),
            _ => anyhow::Error::new(error).context("the notebook could not be served"),
        })
}

fn folder(open: &Open) -> Result<PathBuf> {
    if let Some(folder) = &open.folder {
        return Ok(folder.clone());
    }
    let name = if open.sample { "notchbook-sample" } else { "notchbook" };
    match std::env::home_dir() {
        Some(home) if !home.as_os_str().is_empty() => Ok(home.join(name)),
        _ => bail!("your home folder is not known here. Name the notebook's folder with --folder DIR."),
    }
}
