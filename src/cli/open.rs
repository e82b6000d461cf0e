//! Opening a notebook and serving it.

use super::{Open, folder_of, invite, trusted};
use crate::notebook::{Notebook, SampleFolder};
use crate::web::{self, Options, Tls};
use anyhow::{Context, Result};
use std::io::IsTerminal;
use std::path::Path;

pub fn run(open: &Open) -> Result<()> {
    let folder = folder_of(open.folder.as_deref(), open.sample)?;
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
    look_over(&notebook);
    let options = Options {
        port: open.port,
        lan: open.lan,
        tls: tls(open, &folder)?,
    };
    let shown = folder.clone();
    actix_web::rt::System::new()
        .block_on(web::serve(notebook, options, move |opened| {
            println!("Notebook: {}", shown.display());
            println!("Open this address in your browser: http://{}/", opened.address);
            let terminal = std::io::stdout().is_terminal();
            if let Some(trust) = &opened.trust {
                print!("{}", trusted::words(opened.address.port(), trust));
            }
            if let Some(invitation) = &opened.invitation {
                print!("{}", invite::words(invitation, opened.trust.as_ref(), terminal));
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

/// At every start, beside the work: the first page need not wait for it.
fn look_over(notebook: &Notebook) {
    let notebook = notebook.clone();
    let begun = std::thread::Builder::new()
        .name("notebook-look-over".into())
        .spawn(move || match notebook.look_over() {
            Ok(checked) if checked.problems.is_empty() => tracing::debug!("the notebook is sound"),
            Ok(checked) => {
                eprintln!("The notebook is damaged; its pages say what to do:");
                checked.problems.iter().for_each(|problem| eprintln!("  {problem}"));
            }
            Err(error) => tracing::error!(%error, "the notebook could not be looked over"),
        });
    if let Err(error) = begun {
        tracing::error!(%error, "the notebook is not looked over");
    }
}

fn tls(open: &Open, folder: &Path) -> Result<Option<Tls>> {
    let tls = match (open.tls, &open.cert, &open.key) {
        (false, ..) => return Ok(None),
        (true, Some(certificate), Some(key)) => Tls::by_files(certificate, key),
        (true, ..) => Tls::by_authority(folder, open.lan),
    };
    tls.map(Some).context("the notebook cannot be encrypted")
}
