//! The command line: starts the notebook, or works out figures from a file.

mod figures;
mod invite;
mod keep;
mod logging;
mod open;
mod publish;
mod trusted;

use anyhow::{Result, bail};
use clap::{Args, Parser, Subcommand};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// A maker's notebook that works out the cloth.
///
/// Without a command it opens the notebook and serves it to the browser of
/// this machine; the address is printed. With --lan a phone of the home network
/// can use it too. Stop it with Ctrl-C: everything that was saved is on disk.
#[derive(Parser)]
#[command(name = "notchbook", version, after_help = EXAMPLES)]
struct Cli {
    #[command(flatten)]
    open: Open,
    #[command(subcommand)]
    command: Option<Command>,
}

const EXAMPLES: &str = "\
Examples:
  notchbook                                open your notebook (in the folder notchbook of your home)
  notchbook --sample                       open a sample notebook to look round in
  notchbook --folder ~/sewing --port 8080  open another folder, always under the same address
  notchbook --lan                          open it to the phones you let in, at home
  notchbook --lan --tls                    the same, so that nobody in the network reads along
  notchbook figures --plan plan.json       work out a plan without a notebook
  notchbook figures --plan plan.json --format json
  notchbook backup ~/notebook-2026-11-25.zip
  notchbook restore ~/notebook-2026-11-25.zip --folder ~/notebook-again
  notchbook export ~/notebook-to-read
  notchbook publish ~/my-lists             the shared lists as a site of plain files

A plan's JSON is described in DEVELOPERS.md; a project's plan can be downloaded
under Plan, Revisions. The log goes to standard error; --log debug tells more.";

#[derive(Args)]
struct Open {
    /// The notebook's folder; made if it is not there.
    #[arg(long, global = true, value_name = "DIR")]
    folder: Option<PathBuf>,
    /// Put the sample into a new notebook and open that (folder notchbook-sample of your home, unless --folder is given).
    #[arg(long)]
    sample: bool,
    /// Port to listen on; 0 takes any free one.
    #[arg(long, default_value_t = 4517)]
    port: u16,
    /// Answer in the home network too: prints a code to scan, and lets in the phones that have it.
    #[arg(long)]
    lan: bool,
    /// Encrypt what goes through the network, by an authority of the notebook's own that phones are told to trust.
    #[arg(long)]
    tls: bool,
    /// With --tls: your own certificate instead, a PEM file with the chain.
    #[arg(long, value_name = "FILE", requires = "tls", requires = "key")]
    cert: Option<PathBuf>,
    /// With --tls and --cert: the certificate's private key, a PEM file.
    #[arg(long, value_name = "FILE", requires = "tls", requires = "cert")]
    key: Option<PathBuf>,
    /// How much to log: error, warn, info, debug, or a filter such as notchbook=debug.
    #[arg(long, global = true, default_value = "info", value_name = "LEVEL")]
    log: String,
    /// Log as JSON lines, for programs that read logs.
    #[arg(long, global = true)]
    log_json: bool,
}

#[derive(Subcommand)]
enum Command {
    /// Work out the figures of a plan file: panels, cut lists, layouts, cloth to buy, binding.
    Figures(figures::Figures),
    /// Copy the whole notebook into one file, checked; it may be open meanwhile.
    Backup(keep::Backup),
    /// Make a notebook of a backup, in a new or empty folder.
    Restore(keep::Restore),
    /// Look the notebook over: the database, and every photo.
    Check,
    /// Write the notebook as Markdown, JSON and pictures, to read without this program.
    Export(keep::Export),
    /// Write the shared lists as a site of plain files, for any host: again and again into the same folder.
    Publish(publish::Publish),
    /// Take in a folder that export wrote.
    Import(keep::Import),
}

/// Runs the program with the words of its command line.
pub fn run() -> ExitCode {
    let cli = Cli::parse();
    logging::start(&cli.open.log, cli.open.log_json);
    let done = match cli.command {
        Some(Command::Figures(figures)) => figures.run(),
        Some(Command::Backup(backup)) => backup.run(cli.open.folder.as_deref()),
        Some(Command::Restore(restore)) => restore.run(cli.open.folder.as_deref()),
        Some(Command::Check) => keep::check(cli.open.folder.as_deref()),
        Some(Command::Export(export)) => export.run(cli.open.folder.as_deref()),
        Some(Command::Publish(publish)) => publish.run(cli.open.folder.as_deref()),
        Some(Command::Import(import)) => import.run(cli.open.folder.as_deref()),
        None => open::run(&cli.open).map(|()| ExitCode::SUCCESS),
    };
    done.unwrap_or_else(|error| {
        eprintln!("notchbook: {error:#}");
        ExitCode::FAILURE
    })
}

/// The folder named, or the one in the home folder.
fn folder_of(named: Option<&Path>, sample: bool) -> Result<PathBuf> {
    if let Some(folder) = named {
        return Ok(folder.to_path_buf());
    }
    let name = if sample { "notchbook-sample" } else { "notchbook" };
    match std::env::home_dir() {
        Some(home) if !home.as_os_str().is_empty() => Ok(home.join(name)),
        _ => bail!("your home folder is not known here. Name the notebook's folder with --folder DIR."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_sound() {
        Cli::command().debug_assert();
    }
}
