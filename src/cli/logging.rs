//! Structured logs on standard error.

use tracing_subscriber::EnvFilter;
use tracing_subscriber::fmt::format::FmtSpan;

/// `level` is a word such as `info` or a whole filter; an unreadable one falls
/// back to `info` with a line that says so.
pub fn start(level: &str, json: bool) {
    let word = matches!(level, "error" | "warn" | "info" | "debug" | "trace" | "off");
    // A bare level is meant for this program; its libraries stay at warnings,
    // and a line for each request is for those who look for something.
    let requests = if matches!(level, "debug" | "trace") {
        "info"
    } else {
        "warn"
    };
    let filter = if word {
        format!("warn,notchbook={level},tracing_actix_web={requests}")
    } else {
        level.to_string()
    };
    let (filter, bad) = match EnvFilter::try_new(&filter) {
        Ok(filter) => (filter, None),
        Err(error) => (EnvFilter::new("warn,notchbook=info"), Some(error)),
    };
    let logs = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        // One line when a request is answered.
        .with_span_events(FmtSpan::CLOSE);
    // A second start in one process (tests) keeps the first.
    let _ = if json {
        logs.json().try_init()
    } else {
        logs.with_ansi(std::io::IsTerminal::is_terminal(&std::io::stderr()))
            .try_init()
    };
    if let Some(error) = bad {
        tracing::warn!(%error, "the log level could not be read; info is used");
    }
}
