//! The command line: starts the notebook, or works out figures from a file.

mod figures;
mod invite;
mod logging;
mod open;

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;
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
  notchbook figures --plan plan.json       work out a plan without a notebook
  notchbook figures --plan plan.json --format json

A plan's JSON is described in DEVELOPERS.md; a project's plan can be downloaded
under Plan, Revisions. The log goes to standard error; --log debug tells more.";

#[derive(Args)]
struct Open {
    /// The notebook's folder; made if it is not there. Copy this folder to keep a copy.
    #[arg(long, value_name = "DIR")]
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
}

/// Runs the program with the words of its command line.
pub fn run() -> ExitCode {
    let cli = Cli::parse();
    logging::start(&cli.open.log, cli.open.log_json);
    let done = match cli.command {
        Some(Command::Figures(figures)) => figures.run(),
        None => open::run(&cli.open).map(|()| ExitCode::SUCCESS),
    };
    done.unwrap_or_else(|error| {
        eprintln!("notchbook: {error:#}");
        ExitCode::FAILURE
    })
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
