//! Encryption: a phone that trusts the notebook's authority and nothing else.

use crate::devices::{code, elsewhere};
use crate::support::{Server, encode};
use rcgen::{CertificateParams, KeyPair};
use rustls::pki_types::{CertificateDer, ServerName};
use rustls::{ClientConfig, ClientConnection, RootCertStore, StreamOwned};
use std::io::{ErrorKind, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::time::Duration;

/// A browser on another device.
struct Phone {
    port: String,
    /// As it stands in the address: by where it connects and what it expects.
    host: String,
    trusted: Arc<ClientConfig>,
    cookie: String,
}

struct Answer {
    status: u16,
    head: String,
    body: Vec<u8>,
}

impl Answer {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|line| {
            let (n, value) = line.split_once(": ")?;
            n.eq_ignore_ascii_case(name).then_some(value)
        })
    }
}

fn trusting(authority: &[u8]) -> Arc<ClientConfig> {
    let mut roots = RootCertStore::empty();
    roots
        .add(CertificateDer::from(authority.to_vec()))
        .expect("a certificate");
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let config = ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .expect("versions")
        .with_root_certificates(roots)
        .with_no_client_auth();
    Arc::new(config)
}

fn port(server: &Server) -> String {
    server.address.rsplit(':').next().expect("a port").to_string()
}

impl Phone {
    /// Gets the authority's certificate as a phone does: before anything is encrypted.
    fn of(server: &Server) -> Phone {
        let port = port(server);
        let host = elsewhere().map_or("127.0.0.1".to_string(), |ip| ip.to_string());
        let page = plain(&host, &port, "GET", "/trust");
        assert_eq!(page.status, 200, "{}", page.text());
        assert!(page.text().contains("/trust/notchbook.crt"));
        let authority = plain(&host, &port, "GET", "/trust/notchbook.crt");
        assert_eq!(authority.status, 200);
        assert_eq!(authority.header("content-type"), Some("application/x-x509-ca-cert"));
        Phone {
            port,
            host,
            trusted: trusting(&authority.body),
            cookie: String::new(),
        }
    }

    fn connect(&self, name: &str) -> std::io::Result<StreamOwned<ClientConnection, TcpStream>> {
        let tcp = TcpStream::connect(format!("{}:{}", self.host, self.port))?;
        tcp.set_read_timeout(Some(Duration::from_secs(60)))?;
        let name = ServerName::try_from(name.to_string()).expect("a name");
        let tls = ClientConnection::new(self.trusted.clone(), name).map_err(std::io::Error::other)?;
        Ok(StreamOwned::new(tls, tcp))
    }

    fn ask(&self, method: &str, path: &str, origin: &str, body: &str) -> Answer {
        let mut stream = self.connect(&self.host).expect("connected");
        let request = request(
            method,
            path,
            &format!("{}:{}", self.host, self.port),
            origin,
            &self.cookie,
            body,
        );
        stream.write_all(request.as_bytes()).expect("sent");
        answer(&mut stream)
    }

    fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, "", "")
    }

    fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let origin = format!("https://{}:{}", self.host, self.port);
        let body: Vec<String> = fields.iter().map(|(n, v)| format!("{n}={}", encode(v))).collect();
        self.ask("POST", path, &origin, &body.join("&"))
    }
}

fn request(method: &str, path: &str, host: &str, origin: &str, cookie: &str, body: &str) -> String {
    let mut head = format!("{method} {path} HTTP/1.1\r\nhost: {host}\r\nconnection: close\r\n");
    for (name, value) in [("origin", origin), ("cookie", cookie)] {
        if !value.is_empty() {
            head += &format!("{name}: {value}\r\n");
        }
    }
    if method == "POST" {
        head += &format!(
            "content-type: application/x-www-form-urlencoded\r\ncontent-length: {}\r\n",
            body.len()
        );
    }
    format!("{head}\r\n{body}")
}

fn answer(stream: &mut impl Read) -> Answer {
    let mut bytes = Vec::new();
    stream.read_to_end(&mut bytes).expect("a whole answer");
    let end = bytes.windows(4).position(|w| w == b"\r\n\r\n").expect("a head") + 4;
    let head = String::from_utf8_lossy(&bytes[..end]).into_owned();
    let status = head.split(' ').nth(1).and_then(|s| s.parse().ok()).expect("a status");
    Answer {
        status,
        head,
        body: bytes[end..].to_vec(),
    }
}

/// Without encryption.
fn plain(host: &str, port: &str, method: &str, path: &str) -> Answer {
    let mut tcp = TcpStream::connect(format!("{host}:{port}")).expect("connected");
    let at = format!("{host}:{port}");
    let request = request(method, path, &at, &format!("http://{at}"), "", "");
    tcp.write_all(request.as_bytes()).expect("sent");
    answer(&mut tcp)
}

fn lan() -> Server {
    Server::start(&["--lan", "--tls"])
}

#[test]
fn a_phone_that_trusts_the_authority_comes_in_encrypted() {
    let server = lan();
    let mut phone = Phone::of(&server);
    let home = phone.get("/");
    if elsewhere().is_none() {
        // Then this machine itself is all there is, and needs no code.
        assert_eq!(home.status, 200);
        return;
    }
    assert_eq!(home.status, 403);
    assert_eq!(home.header("strict-transport-security"), None);
    assert_eq!(home.header("cross-origin-opener-policy"), Some("same-origin"));

    let let_in = phone.post("/pair", &[("code", &code(&server)), ("name", "Phone")]);
    assert_eq!(let_in.status, 303, "{}", let_in.text());
    let cookie = let_in.header("set-cookie").expect("a cookie").to_string();
    assert!(cookie.starts_with("__Host-notchbook="), "{cookie}");
    for part in ["Secure", "HttpOnly", "SameSite=Lax", "Path=/"] {
        assert!(cookie.contains(part), "{part}: {cookie}");
    }
    phone.cookie = cookie.split(';').next().expect("a cookie").to_string();
    assert_eq!(phone.get("/").status, 200);
    let made = phone.post("/projects/new", &[("title", "Fern waistcoat"), ("state", "planning")]);
    assert_eq!(made.status, 303, "{}", made.text());
    assert!(made.header("set-cookie").is_some_and(|c| c.ends_with("Secure")));
    assert!(server.get("/").text().contains("Fern waistcoat"));
    // The same page without encryption is another origin.
    let from_plain = phone.ask(
        "POST",
        "/projects/new",
        &format!("http://{}:{}", phone.host, phone.port),
        "title=x",
    );
    assert_eq!(from_plain.status, 403);
    // The token does not count under its other name, nor without encryption.
    let token = phone.cookie.split_once('=').expect("a value").1.to_string();
    phone.cookie = format!("notchbook={token}");
    assert_eq!(phone.get("/").status, 403);
}

#[test]
fn plain_http_from_elsewhere_gets_a_sentence() {
    let server = lan();
    let Some(ip) = elsewhere() else { return };
    let (ip, port) = (ip.to_string(), port(&server));
    for path in ["/", "/pair", "/settings", "/s/token", "/nothing"] {
        let answer = plain(&ip, &port, "GET", path);
        assert_eq!(answer.status, 403, "{path}");
        assert!(
            answer.text().contains(&format!("https://{ip}:{port}")),
            "{}",
            answer.text()
        );
        assert!(answer.text().contains("/trust") && answer.header("set-cookie").is_none());
    }
    let sent = plain(&ip, &port, "POST", "/projects/new");
    assert_eq!(sent.status, 403);
    assert!(sent.text().contains("was not saved"), "{}", sent.text());
    let api = plain(&ip, &port, "GET", "/api/projects");
    assert!(
        api.status == 403 && api.text().starts_with("{\"error\":"),
        "{}",
        api.text()
    );
    // The authority's key is at no address.
    for path in ["/trust/authority-private.pem", "/tls/authority-private.pem"] {
        assert_eq!(plain("127.0.0.1", &port, "GET", path).status, 404, "{path}");
    }
    // What is no http either is dropped.
    let mut tcp = TcpStream::connect(format!("{ip}:{port}")).expect("connected");
    tcp.write_all(&[0x80, 0, 1, 3, b'\r', b'\n', b'\r', b'\n'])
        .expect("sent");
    let mut bytes = Vec::new();
    let _ = tcp.read_to_end(&mut bytes);
    assert!(!bytes.starts_with(b"HTTP/1.1 2"));
    assert_eq!(server.get("/").status, 200);
}

#[test]
fn another_name_is_not_believed_and_another_authority_neither() {
    let server = lan();
    let mut phone = Phone::of(&server);
    let refused = |phone: &Phone, name: &str| {
        let mut stream = phone.connect(name).expect("connected");
        stream
            .write_all(b"GET / HTTP/1.1\r\n\r\n")
            .and_then(|()| stream.flush())
            .err()
    };
    assert!(refused(&phone, &phone.host.clone()).is_none());
    assert!(refused(&phone, "localhost").is_none());
    for name in ["evil.example", "192.0.2.1", "notebook.local.evil.example"] {
        let error = refused(&phone, name).unwrap_or_else(|| panic!("{name} is believed"));
        assert_eq!(error.kind(), ErrorKind::InvalidData, "{name}: {error}");
    }
    let other = lan();
    phone.trusted = Phone::of(&other).trusted;
    let host = phone.host.clone();
    assert!(refused(&phone, &host).is_some());
}

/// A ClientHello as phones sent it before TLS 1.3, of version 1.`minor`.
fn hello(minor: u8) -> Vec<u8> {
    let mut hello = vec![3, minor + 1];
    hello.extend([7; 32]);
    hello.push(0);
    // One suite (ECDSA, AES-128), no compression; curve P-256, ECDSA with SHA-256.
    hello.extend([0, 2, 0xc0, 0x2b, 1, 0]);
    hello.extend([
        0, 22, 0, 10, 0, 4, 0, 2, 0, 23, 0, 13, 0, 4, 0, 2, 4, 3, 0, 11, 0, 2, 1, 0,
    ]);
    let length = hello.len() as u8;
    let mut record = vec![22, 3, 1, 0, length + 4, 1, 0, 0, length];
    record.extend(hello);
    record
}

#[test]
fn old_versions_of_tls_are_refused() {
    let server = lan();
    let first = |minor| {
        let mut tcp = TcpStream::connect(&server.address).expect("connected");
        tcp.write_all(&hello(minor)).expect("sent");
        let mut answer = [0; 7];
        tcp.read_exact(&mut answer).expect("an answer");
        answer
    };
    // A fatal alert (RFC 8446, 6): not this version.
    for old in [0, 1] {
        let answer = first(old);
        assert_eq!((answer[0], answer[5], answer[6]), (21, 2, 70), "1.{old}: {answer:?}");
    }
    // And the same words in 1.2: a handshake.
    assert_eq!(first(2)[0], 22);
    assert_eq!(server.get("/").status, 200);
}

#[test]
fn on_this_computer_both_ways_lead_in() {
    let server = Server::start(&["--tls"]);
    assert_eq!(server.get("/").status, 200);
    let page = server.get("/trust").text();
    assert!(page.contains("Trust this notebook"), "{page}");
    let authority = plain("127.0.0.1", &port(&server), "GET", "/trust/notchbook.crt");
    let phone = Phone {
        port: port(&server),
        host: "127.0.0.1".into(),
        trusted: trusting(&authority.body),
        cookie: String::new(),
    };
    assert_eq!(phone.get("/").status, 200);
    let made = phone.post("/projects/new", &[("title", "Fern waistcoat"), ("state", "planning")]);
    assert_eq!(made.status, 303);
    assert_eq!(
        phone.ask("POST", "/projects/new", "http://127.0.0.1", "title=x").status,
        403
    );
}

#[test]
fn the_authority_outlives_a_restart_and_pages_say_https() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let folder = folder.path().join("notebook");
    let mut server = Server::in_folder(&folder, &["--lan", "--tls"]);
    let first = plain("127.0.0.1", &port(&server), "GET", "/trust/notchbook.crt").body;
    server.kill();
    let server = Server::in_folder(&folder, &["--lan", "--tls"]);
    assert_eq!(
        first,
        plain("127.0.0.1", &port(&server), "GET", "/trust/notchbook.crt").body
    );
    if elsewhere().is_none() {
        return;
    }
    let _ = code(&server);
    let page = server.get("/settings/let-in");
    let text = page.text();
    assert!(
        text.contains("https://") && text.contains("/trust") && text.contains("SHA-256"),
        "{text}"
    );
    assert!(!text.contains("read along"), "{text}");
    let settings = server.get("/settings").text();
    assert!(
        settings.contains("encrypted") && !settings.contains("read along"),
        "{settings}"
    );
}

fn own_files(folder: &Path, name: &str) -> (String, String, Vec<u8>) {
    let mut params = CertificateParams::new(vec![name.to_string()]).expect("a name");
    params.not_after = rcgen::date_time_ymd(2200, 1, 1);
    let key = KeyPair::generate().expect("a key");
    let certificate = params.self_signed(&key).expect("a certificate");
    let [c, k] = ["own.pem", "own-key.pem"].map(|n| folder.join(n).display().to_string());
    std::fs::write(&c, certificate.pem()).expect("written");
    std::fs::write(&k, key.serialize_pem()).expect("written");
    (c, k, certificate.der().to_vec())
}

#[test]
fn own_certificate_files_are_used() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (c, k, certificate) = own_files(folder.path(), "sewing.home.example");
    let server = Server::in_folder(&folder.path().join("n"), &["--lan", "--tls", "--cert", &c, "--key", &k]);
    assert!(!folder.path().join("n/tls").exists(), "no authority is made");
    assert_eq!(server.get("/trust/notchbook.crt").status, 404);
    assert!(server.get("/trust").text().contains("Nothing to install"));
    let phone = Phone {
        port: port(&server),
        host: elsewhere().map_or("127.0.0.1".to_string(), |ip| ip.to_string()),
        trusted: trusting(&certificate),
        cookie: String::new(),
    };
    // By the name in the certificate, which the notebook then answers to.
    let mut stream = phone.connect("sewing.home.example").expect("connected");
    let at = format!("sewing.home.example:{}", phone.port);
    stream
        .write_all(request("GET", "/pair", &at, "", "", "").as_bytes())
        .expect("sent");
    assert_eq!(answer(&mut stream).status, 200);
    let _ = code(&server);
    let page = server.get("/settings/let-in").text();
    assert!(page.contains(&format!("https://{at}/pair")), "{page}");
    assert!(
        page.contains("ends on 1 January 2200") && !page.contains("/trust"),
        "{page}"
    );
}

#[test]
fn broken_files_are_told_and_nothing_is_served() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (c, k, _) = own_files(folder.path(), "sewing.home.example");
    let (notebook, torn) = (folder.path().join("n"), folder.path().join("torn.pem"));
    std::fs::write(&torn, "-----BEGIN CERTIFICATE-----\nMIIB").expect("written");
    let torn = torn.display().to_string();
    let missing = folder.path().join("missing.pem").display().to_string();
    for (words, said) in [
        (vec!["--tls", "--cert", &torn, "--key", &k], "torn.pem: is not whole"),
        (
            vec!["--tls", "--cert", &missing, "--key", &k],
            "missing.pem: could not be read",
        ),
        (
            vec!["--tls", "--cert", &c, "--key", &c],
            "own.pem: holds no private key",
        ),
        (vec!["--tls", "--cert", &c], "--key"),
        (vec!["--cert", &c, "--key", &k], "--tls"),
    ] {
        let done = Command::new(env!("CARGO_BIN_EXE_notchbook"))
            .args(["--port", "0", "--folder"])
            .arg(&notebook)
            .args(&words)
            .output()
            .expect("it ends");
        let error = String::from_utf8_lossy(&done.stderr);
        assert!(!done.status.success() && error.contains(said), "{words:?}: {error}");
        assert!(!error.contains("panicked"), "{error}");
    }
}
