//! A server as a process of its own, stopped when dropped.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

pub struct Served {
    child: Child,
    /// Host and port.
    pub address: String,
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Served {
    pub fn notebook(folder: &Path) -> Served {
        let mut command = Command::new(env!("CARGO_BIN_EXE_notchbook"));
        command.args(["--port", "0", "--log", "error", "--folder"]).arg(folder);
        Served::start(command)
    }

    pub fn bare(bytes: usize) -> Served {
        let mut command = Command::new(std::env::current_exe().expect("this program"));
        command.args(["--bare", &bytes.to_string()]);
        Served::start(command)
    }

    fn start(mut command: Command) -> Served {
        let mut child = command.stdout(Stdio::piped()).spawn().expect("a server");
        let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
        let address = loop {
            let line = lines.next().expect("an address").expect("a line");
            if let Some((_, rest)) = line.split_once("http://") {
                break rest.trim_end_matches('/').to_string();
            }
        };
        std::thread::spawn(move || lines.for_each(drop));
        Served { child, address }
    }

    /// A line of the system's record of the process, in MB; 0 where there is none.
    pub fn memory(&self, line: &str) -> f64 {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).unwrap_or_default();
        let line = status.lines().find(|l| l.starts_with(line));
        let kib = line.and_then(|l| l.split_whitespace().nth(1)?.parse::<f64>().ok());
        kib.unwrap_or(0.0) * 1024.0 / 1e6
    }
}
