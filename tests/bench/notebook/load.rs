//! Asking over and over, on connections that are kept open.

use socket2::{Domain, SockAddr, Socket, Type};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, SocketAddr, SocketAddrV4, TcpStream};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

/// Connections that ask at the same time, as a phone's and a laptop's.
const AT_ONCE: usize = 4;
const TURN: Duration = Duration::from_millis(1_200);
/// Shared pages may be asked for so often from one address; every so many
/// requests come from another one of this computer.
const EACH_ADDRESS: usize = 200;

/// What is asked.
pub struct Asked {
    method: &'static str,
    path: String,
    headers: String,
    /// Made anew for every request.
    body: Box<dyn Fn() -> String + Sync>,
    /// Connections that ask at the same time.
    at_once: usize,
    /// Requests of each of them in one turn.
    most: usize,
    /// Each under an address of its own.
    each: bool,
}

impl Asked {
    pub fn get(path: &str) -> Asked {
        Asked {
            method: "GET",
            path: path.into(),
            headers: String::new(),
            body: Box::new(String::new),
            at_once: AT_ONCE,
            most: usize::MAX,
            each: false,
        }
    }

    /// As browsers ask for it.
    pub fn compressed(path: &str) -> Asked {
        Asked {
            headers: "Accept-Encoding: gzip\r\n".into(),
            ..Asked::get(path)
        }
    }

    /// Each time under another address, as if it were asked for the first time
    /// since something was changed.
    pub fn anew(path: &str) -> Asked {
        Asked {
            each: true,
            ..Asked::get(path)
        }
    }

    /// A page viewers share. So many addresses are remembered there, each with so
    /// many requests at once: all turns together stay below.
    pub fn shared(path: &str) -> Asked {
        Asked {
            most: 1_200,
            ..Asked::get(path)
        }
    }

    /// By a viewer whose browser has the page.
    pub fn known(address: &str, path: &str) -> Asked {
        let answer = Connection::new(address).ask("GET", path, "", "");
        let tag = answer.header("etag").expect("a tag");
        Asked {
            headers: format!("If-None-Match: {tag}\r\n"),
            ..Asked::shared(path)
        }
    }

    /// An edge of a project's plan, each time of another length.
    pub fn save(address: &str, project: &str) -> Asked {
        let form = format!("{project}/allowances");
        let page = Connection::new(address).ask("GET", &form, "", "");
        let page = String::from_utf8_lossy(&page.body).into_owned();
        let seen = page
            .split_once("name=\"seen\" value=\"")
            .and_then(|(_, rest)| rest.split_once('"'))
            .map_or("1", |(seen, _)| seen)
            .parse::<u32>()
            .expect("a number");
        // One after the other, each from the revision the one before made.
        let counter = AtomicU32::new(0);
        Asked {
            method: "POST",
            path: format!("{project}/edges/new"),
            headers: format!("Origin: http://{address}\r\nContent-Type: application/x-www-form-urlencoded\r\n"),
            body: Box::new(move || {
                let n = counter.fetch_add(1, Ordering::Relaxed);
                let (length, seen) = (10 + n % 80, seen + n);
                format!("name=Hem&length={length}+in&count=1&corners=0&seen={seen}&part_id=bench")
            }),
            at_once: 1,
            ..Asked::get("")
        }
    }

    /// The bare program's page, asked by as many; a save is compared with a save.
    pub fn bare(&self) -> Asked {
        let asked = match self.method {
            "POST" => Asked {
                method: "POST",
                headers: "Content-Type: text/plain\r\n".into(),
                body: Box::new(|| "x".repeat(2_000)),
                ..Asked::get("/save")
            },
            _ => Asked::get("/"),
        };
        Asked {
            at_once: self.at_once,
            most: self.most,
            ..asked
        }
    }

    fn address(&self) -> String {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        match self.each {
            true => format!("{}?n={}", self.path, NEXT.fetch_add(1, Ordering::Relaxed)),
            false => self.path.clone(),
        }
    }

    /// Asks once; says how many bytes came.
    pub fn once(&self, address: &str) -> usize {
        let body = (self.body)();
        let answer = Connection::new(address).ask(self.method, &self.path, &self.headers, &body);
        assert!(answer.status < 400, "{}: {}", self.path, answer.status);
        answer.body.len()
    }
}

/// Answers a second.
pub fn rate(address: &str, asked: &Asked) -> f64 {
    let begun = Instant::now();
    let answers: usize = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..asked.at_once)
            .map(|_| {
                scope.spawn(|| {
                    let (mut done, mut connection) = (0, Connection::new(address));
                    while begun.elapsed() < TURN && done < asked.most {
                        let body = (asked.body)();
                        let answer = connection.ask(asked.method, &asked.address(), &asked.headers, &body);
                        assert!(answer.status < 400, "{}: {}", asked.path, answer.status);
                        done += 1;
                        if done % EACH_ADDRESS == 0 {
                            connection = Connection::new(address);
                        }
                    }
                    done
                })
            })
            .collect();
        workers.into_iter().map(|w| w.join().expect("a worker")).sum()
    });
    answers as f64 / begun.elapsed().as_secs_f64()
}

/// Seconds each address took, one after the other.
pub fn latencies(address: &str, paths: &[String]) -> Vec<f64> {
    let mut connection = Connection::new(address);
    let mut ask = |path: &String| {
        let begun = Instant::now();
        let answer = connection.ask("GET", path, "", "");
        assert_eq!(answer.status, 200, "{path}");
        begun.elapsed().as_secs_f64()
    };
    paths.iter().map(&mut ask).collect()
}

pub fn get(address: &str, path: &str) {
    let answer = Connection::new(address).ask("GET", path, "", "");
    assert_eq!(answer.status, 200, "{path}");
}

/// A form sent as a page of the notebook would; says where it leads.
pub fn post(address: &str, path: &str, body: &str) -> String {
    let headers = format!("Origin: http://{address}\r\nContent-Type: application/x-www-form-urlencoded\r\n");
    let answer = Connection::new(address).ask("POST", path, &headers, body);
    assert_eq!(answer.status, 303, "{path}: {}", String::from_utf8_lossy(&answer.body));
    answer.header("location").unwrap_or_default()
}

pub fn page(address: &str, path: &str) -> String {
    let answer = Connection::new(address).ask("GET", path, "", "");
    String::from_utf8_lossy(&answer.body).into_owned()
}

pub struct Answer {
    pub status: u16,
    headers: Vec<(String, String)>,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn header(&self, name: &str) -> Option<String> {
        let found = self.headers.iter().find(|(n, _)| n.eq_ignore_ascii_case(name));
        found.map(|(_, value)| value.clone())
    }
}

pub struct Connection {
    address: String,
    stream: BufReader<TcpStream>,
}

impl Connection {
    pub fn new(address: &str) -> Connection {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let to: SocketAddr = address.parse().expect("an address");
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let from = Ipv4Addr::new(127, 1, (n / 200 % 200) as u8, (1 + n % 200) as u8);
        let socket = Socket::new(Domain::IPV4, Type::STREAM, None).expect("a socket");
        // Only Linux has all of 127.0.0.0/8; elsewhere the usual address serves.
        let _ = socket.bind(&SockAddr::from(SocketAddrV4::new(from, 0)));
        socket.connect(&to.into()).expect("a connection");
        let stream = TcpStream::from(socket);
        stream.set_nodelay(true).expect("a setting");
        Connection {
            address: address.into(),
            stream: BufReader::with_capacity(64 * 1024, stream),
        }
    }

    pub fn ask(&mut self, method: &str, path: &str, headers: &str, body: &str) -> Answer {
        let length = match method {
            "GET" => String::new(),
            _ => format!("Content-Length: {}\r\n", body.len()),
        };
        let request = format!(
            "{method} {path} HTTP/1.1\r\nHost: {}\r\n{headers}{length}\r\n{body}",
            self.address
        );
        self.stream.get_mut().write_all(request.as_bytes()).expect("sent");
        let status = self.line();
        let status = status.split(' ').nth(1).and_then(|s| s.parse().ok()).expect("a status");
        let mut headers = Vec::new();
        loop {
            let line = self.line();
            match line.split_once(':') {
                Some((name, value)) => headers.push((name.to_string(), value.trim().to_string())),
                None => break,
            }
        }
        let mut answer = Answer {
            status,
            headers,
            body: Vec::new(),
        };
        match answer.header("content-length").and_then(|l| l.parse::<usize>().ok()) {
            Some(length) if status != 304 => {
                answer.body.resize(length, 0);
                self.stream.read_exact(&mut answer.body).expect("the body");
            }
            None if answer.header("transfer-encoding").is_some() => loop {
                let size = usize::from_str_radix(self.line().trim(), 16).expect("a size");
                let from = answer.body.len();
                answer.body.resize(from + size, 0);
                self.stream.read_exact(&mut answer.body[from..]).expect("a part");
                self.line();
                if size == 0 {
                    break;
                }
            },
            _ => {}
        }
        answer
    }

    fn line(&mut self) -> String {
        let mut line = String::new();
        self.stream.read_line(&mut line).expect("a line");
        line.trim_end().to_string()
    }
}
