//! A real notebook server for tests: the built program in a folder of its own,
//! on a free loopback port, stopped when the test ends.
#![allow(dead_code)]

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use tempfile::TempDir;

pub struct Server {
    child: Child,
    pub address: String,
    folder: Option<TempDir>,
}

impl Server {
    /// An empty notebook.
    pub fn empty() -> Server {
        Server::start(&[])
    }

    /// A notebook with the sample in it.
    pub fn sample() -> Server {
        Server::start(&["--sample"])
    }

    pub fn start(words: &[&str]) -> Server {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let mut server = Server::in_folder(&folder.path().join("notebook"), words);
        server.folder = Some(folder);
        server
    }

    pub fn in_folder(folder: &Path, words: &[&str]) -> Server {
        Server::at(folder, "0", words)
    }

    /// The same notebook under the same address, after the first was stopped.
    pub fn again(folder: &Path, port: &str) -> Server {
        Server::at(folder, port, &[])
    }

    /// The port it listens to.
    pub fn port(&self) -> &str {
        self.address.rsplit(':').next().expect("a port")
    }

    pub fn at(folder: &Path, port: &str, words: &[&str]) -> Server {
        let mut child = Command::new(env!("CARGO_BIN_EXE_notchbook"))
            .args(["--port", port, "--log", "warn", "--folder"])
            .arg(folder)
            .args(words)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
        let address = loop {
            let Some(line) = lines.next() else {
                let mut said = String::new();
                let _ = child.stderr.take().map(|mut e| e.read_to_string(&mut said));
                panic!("the server stopped before it printed its address: {said}");
            };
            if let Some((_, rest)) = line.expect("a line").split_once("http://") {
                break rest.trim_end_matches('/').to_string();
            }
        };
        // Keeps both pipes from filling up; what is logged shows in a failing test.
        std::thread::spawn(move || lines.for_each(drop));
        let mut errors = BufReader::new(child.stderr.take().expect("its errors")).lines();
        std::thread::spawn(move || {
            errors
                .by_ref()
                .map_while(Result::ok)
                .for_each(|line| eprintln!("server: {line}"))
        });
        Server {
            child,
            address,
            folder: None,
        }
    }

    pub fn url(&self, path: &str) -> String {
        format!("http://{}{path}", self.address)
    }

    /// Its number in the system.
    pub fn process(&self) -> u32 {
        self.child.id()
    }

    pub fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }

    pub fn get(&self, path: &str) -> Reply {
        reply(agent().get(self.url(path)).call())
    }

    /// Posts a form as a page of the notebook would.
    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Reply {
        let body: String = fields
            .iter()
            .map(|(n, v)| format!("{}={}", encode(n), encode(v)))
            .collect::<Vec<_>>()
            .join("&");
        self.post_raw(path, "application/x-www-form-urlencoded", body.as_bytes())
    }

    pub fn post_raw(&self, path: &str, kind: &str, body: &[u8]) -> Reply {
        let request = agent()
            .post(self.url(path))
            .header("origin", format!("http://{}", self.address))
            .header("content-type", kind);
        reply(request.send(body))
    }

    /// Posts an empty form and hands back the very bytes of the answer.
    pub fn post_bytes(&self, path: &str) -> (Reply, Vec<u8>) {
        let request = agent()
            .post(self.url(path))
            .header("origin", format!("http://{}", self.address))
            .header("content-type", "application/x-www-form-urlencoded");
        reply_and_bytes(request.send(""))
    }

    /// Posts files and fields as a browser does.
    pub fn post_files(&self, path: &str, fields: &[(&str, &str)], files: &[(&str, &str, &[u8])]) -> Reply {
        let mark = "----notchbook-test-boundary";
        let mut body = Vec::new();
        for (name, value) in fields {
            body.extend(
                format!("--{mark}\r\ncontent-disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n").into_bytes(),
            );
        }
        for (name, file, bytes) in files {
            body.extend(
                format!("--{mark}\r\ncontent-disposition: form-data; name=\"{name}\"; filename=\"{file}\"\r\ncontent-type: image/jpeg\r\n\r\n")
                    .into_bytes(),
            );
            body.extend_from_slice(bytes);
            body.extend_from_slice(b"\r\n");
        }
        body.extend(format!("--{mark}--\r\n").into_bytes());
        self.post_raw(path, &format!("multipart/form-data; boundary={mark}"), &body)
    }

    /// Starts a project and says its address, such as `/projects/0192...`.
    pub fn project(&self, title: &str) -> String {
        let made = self.post("/projects/new", &[("title", title), ("state", "planning")]);
        assert_eq!(made.status, 303, "{}", made.body);
        made.location
    }

    /// The text of a project's whole log, page by page.
    pub fn log(&self, project: &str) -> String {
        let mut log = String::new();
        for page in 1.. {
            let answer = self.get(&format!("{project}/log?page={page}"));
            log.push_str(&answer.text());
            if !answer.body.contains("rel=\"next\"") {
                break;
            }
        }
        log
    }

    /// What a form page has in its hidden and other fields now.
    pub fn hidden(&self, path: &str, name: &str) -> String {
        let page = self.get(path).body;
        let mark = format!("name=\"{name}\" value=\"");
        let at = page.find(&mark).unwrap_or_else(|| panic!("{path} has no field {name}")) + mark.len();
        page[at..].split('"').next().unwrap_or("").to_string()
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.kill();
    }
}

pub struct Reply {
    pub status: u16,
    pub location: String,
    pub body: String,
    pub headers: Vec<(String, String)>,
}

impl Reply {
    pub fn header(&self, name: &str) -> &str {
        self.headers.iter().find(|(n, _)| n == name).map_or("", |(_, v)| v)
    }

    /// The text of the page without its tags.
    pub fn text(&self) -> String {
        let mut out = String::new();
        let mut tag = false;
        for c in self.body.chars() {
            match c {
                '<' => tag = true,
                '>' => tag = false,
                c if !tag => out.push(c),
                _ => {}
            }
        }
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

pub fn agent() -> ureq::Agent {
    ureq::Agent::config_builder()
        .http_status_as_error(false)
        .max_redirects(0)
        .timeout_global(Some(Duration::from_secs(300)))
        .build()
        .into()
}

pub fn reply(answer: Result<ureq::http::Response<ureq::Body>, ureq::Error>) -> Reply {
    reply_and_bytes(answer).0
}

fn reply_and_bytes(answer: Result<ureq::http::Response<ureq::Body>, ureq::Error>) -> (Reply, Vec<u8>) {
    let mut answer = answer.expect("the server answers");
    let headers: Vec<(String, String)> = answer
        .headers()
        .iter()
        .map(|(n, v)| (n.to_string(), v.to_str().unwrap_or("").to_string()))
        .collect();
    let mut bytes = Vec::new();
    answer
        .body_mut()
        .as_reader()
        .read_to_end(&mut bytes)
        .expect("the whole answer");
    let reply = Reply {
        status: answer.status().as_u16(),
        location: headers
            .iter()
            .find(|(n, _)| n == "location")
            .map_or(String::new(), |(_, v)| v.clone()),
        body: String::from_utf8_lossy(&bytes).into_owned(),
        headers,
    };
    (reply, bytes)
}

pub fn encode(text: &str) -> String {
    text.bytes()
        .map(|b| match b {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'_' | b'.' => char::from(b).to_string(),
            other => format!("%{other:02X}"),
        })
        .collect()
}
