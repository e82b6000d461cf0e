//! `notchbook figures`: a plan from a file, its figures to standard output.

use crate::figures;
use crate::plan::{Plan, limits};
use anyhow::{Context, Result, bail};
use clap::{Args, ValueEnum};
use std::io::{Read, Write};
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Args)]
pub struct Figures {
    /// The plan as JSON; - reads standard input.
    #[arg(long, value_name = "FILE")]
    plan: PathBuf,
    /// Text to read, or JSON for other programs.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Instead: how many of each piece the cloth at hand gives.
    #[arg(long)]
    leftovers: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum Format {
    Text,
    Json,
}

impl Figures {
    /// Exits with 0 where every figure could be worked out, 2 where parts of
    /// the plan are in the way (the rest is printed), 1 where the plan cannot be read.
    pub fn run(&self) -> Result<ExitCode> {
        let json = self.read()?;
        let plan = Plan::from_json(&json).map_err(|e| anyhow::anyhow!("{}: {e}", self.plan.display()))?;
        if self.leftovers {
            let pieces = figures::pieces_from_leftovers(&plan);
            let out = match self.format {
                Format::Text => figures::leftovers_as_text(&plan, &pieces),
                Format::Json => serde_json::to_string_pretty(&pieces)? + "\n",
            };
            std::io::stdout().write_all(out.as_bytes())?;
            return Ok(ExitCode::SUCCESS);
        }
        let figures = figures::work_out(&plan);
        let out = match self.format {
            Format::Text => figures::as_text(&plan, &figures),
            Format::Json => serde_json::to_string_pretty(&figures)? + "\n",
        };
        std::io::stdout().write_all(out.as_bytes())?;
        if figures.problems.is_empty() {
            return Ok(ExitCode::SUCCESS);
        }
        for problem in &figures.problems {
            eprintln!("notchbook: {}: {}", problem.field, problem.message);
        }
        Ok(ExitCode::from(2))
    }

    fn read(&self) -> Result<String> {
        let mut bytes = Vec::new();
        // One byte more than fits tells a file that is too large from one that just fits.
        let most = limits::JSON as u64 + 1;
        if self.plan.as_os_str() == "-" {
            std::io::stdin()
                .take(most)
                .read_to_end(&mut bytes)
                .context("standard input could not be read")?;
        } else {
            std::fs::File::open(&self.plan)
                .and_then(|f| f.take(most).read_to_end(&mut bytes))
                .with_context(|| format!("the plan {} could not be read", self.plan.display()))?;
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(text),
            Err(_) => bail!("{} is not text. A plan is a JSON file in UTF-8.", self.plan.display()),
        }
    }
}
