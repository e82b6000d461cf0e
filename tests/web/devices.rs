//! Letting phones in from the home network, and shutting them out.
//!
//! A phone is played by this machine under its own address in a network, where
//! it has one: then the connection really comes from elsewhere. Otherwise by
//! 127.0.0.2, which leads here too but is not the name of a browser's own
//! computer, so it must be let in all the same. Where who asks is decided,
//! `src/web/guard.rs`, every case is tested by itself.

use crate::plan_forms::{PIECE, begun, save};
use crate::support::{Reply, Server, agent, encode, reply};
use std::io::{BufRead, BufReader};
use std::net::{IpAddr, Ipv4Addr};

pub fn elsewhere() -> Option<Ipv4Addr> {
    let found = if_addrs::get_if_addrs().expect("addresses");
    found.iter().find_map(|i| match i.ip() {
        IpAddr::V4(ip) if !ip.is_loopback() => Some(ip),
        _ => None,
    })
}

/// A browser on another device.
pub struct Phone {
    pub host: String,
    cookie: String,
}

impl Phone {
    pub fn of(server: &Server) -> Phone {
        let port = server.address.rsplit(':').next().expect("a port");
        let ip = elsewhere().unwrap_or(Ipv4Addr::new(127, 0, 0, 2));
        Phone {
            host: format!("{ip}:{port}"),
            cookie: String::new(),
        }
    }

    pub fn get(&self, path: &str) -> Reply {
        self.get_with(path, &[])
    }

    fn get_with(&self, path: &str, headers: &[(&str, &str)]) -> Reply {
        let mut request = agent().get(format!("http://{}{path}", self.host));
        for (name, value) in headers.iter().chain(&[("cookie", self.cookie.as_str())]) {
            if !value.is_empty() {
                request = request.header(*name, *value);
            }
        }
        reply(request.call())
    }

    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Reply {
        self.post_from(path, fields, &format!("http://{}", self.host))
    }

    fn post_from(&self, path: &str, fields: &[(&str, &str)], origin: &str) -> Reply {
        let mut request = agent()
            .post(format!("http://{}{path}", self.host))
            .header("origin", origin)
            .header("content-type", "application/x-www-form-urlencoded");
        if !self.cookie.is_empty() {
            request = request.header("cookie", &self.cookie);
        }
        let body: Vec<String> = fields.iter().map(|(n, v)| format!("{n}={}", encode(v))).collect();
        reply(request.send(body.join("&")))
    }

    /// Says a code, and keeps the cookie as a browser does.
    pub fn pair(&mut self, code: &str, name: &str) -> Reply {
        let answer = self.post("/pair", &[("code", code), ("name", name)]);
        let cookie = answer.header("set-cookie");
        if !cookie.is_empty() {
            self.cookie = cookie.split(';').next().expect("a cookie").to_string();
        }
        answer
    }
}

pub fn lan() -> Server {
    Server::start(&["--lan"])
}

/// A new code, as it stands on the computer.
pub fn code(server: &Server) -> String {
    let made = server.post("/settings/let-in", &[]);
    assert_eq!((made.status, made.location.as_str()), (303, "/settings/let-in"));
    let page = server.get("/settings/let-in").body;
    let mark = "id=\"code\">";
    let at = page.find(mark).expect("a code") + mark.len();
    page[at..].split('<').next().expect("its end").to_string()
}

/// The way to the device of this name.
pub fn device(server: &Server, name: &str) -> String {
    let page = server.get("/settings").body;
    let before = &page[..page.find(&format!("<b>{name}</b>")).expect("the device")];
    let at = before.rfind("/settings/devices/").expect("its link");
    before[at..].split('"').next().expect("its end").to_string()
}

#[test]
fn a_phone_is_let_in_by_a_code_and_works() {
    let server = lan();
    let mut phone = Phone::of(&server);
    let turned_away = phone.get("/");
    assert_eq!(turned_away.status, 403);
    assert!(turned_away.text().contains("Let a phone in"), "{}", turned_away.text());
    assert!(
        turned_away.body.contains("action=\"/pair\""),
        "the form is there at once"
    );

    let door = phone.get("/pair");
    assert_eq!(door.status, 200);
    assert!(door.header("content-security-policy").contains("default-src 'none'"));
    assert_eq!(door.header("cache-control"), "no-store");

    let let_in = phone.pair(&code(&server), "Phone at the machine");
    assert_eq!((let_in.status, let_in.location.as_str()), (303, "/"));
    let cookie = let_in.header("set-cookie");
    for part in ["HttpOnly", "SameSite=Lax", "Max-Age=31536000", "Path=/"] {
        assert!(cookie.contains(part), "{part}: {cookie}");
    }
    // 32 random bytes.
    assert_eq!(phone.cookie.split('=').nth(1).expect("a value").len(), 43);

    assert!(phone.get("/").text().contains("Start the first project"));
    let made = phone.post("/projects/new", &[("title", "Fern waistcoat"), ("state", "planning")]);
    assert_eq!(made.status, 303, "{}", made.body);
    assert!(server.get("/").text().contains("Fern waistcoat"));
    assert_eq!(phone.get("/api/projects").status, 200);
    let settings = phone.get("/settings").text();
    assert!(
        settings.contains("Phone at the machine (this device)last seen"),
        "{settings}"
    );
    assert!(
        phone
            .get("/pair")
            .text()
            .contains("let in already, as “Phone at the machine”")
    );
}

#[test]
fn nothing_is_shown_or_changed_before() {
    let server = lan();
    let project = server.project("Fern waistcoat");
    let phone = Phone::of(&server);
    let places = [
        "/".to_string(),
        "/settings".into(),
        "/settings/let-in".into(),
        "/cloth".into(),
        "/wearers".into(),
        "/length?text=1&unit=in".into(),
        "/nothing".into(),
        "/api/projects".into(),
        format!("/photos/{}/page", "0".repeat(64)),
        format!("{project}/plan.json"),
        format!("/api{project}/plan"),
        format!("{project}/log"),
        project.clone(),
    ];
    for cookie in [
        "",
        "notchbook=",
        "notchbook=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA",
    ] {
        let phone = Phone {
            host: phone.host.clone(),
            cookie: cookie.into(),
        };
        for path in &places {
            let answer = phone.get(path);
            assert_eq!(answer.status, 403, "{path}");
            assert!(!answer.body.contains("Fern"), "{path}: {}", answer.body);
        }
        assert!(phone.get("/api/projects").body.starts_with("{\"error\":"));
        let made = phone.post("/projects/new", &[("title", "Mine"), ("state", "planning")]);
        assert_eq!(made.status, 403);
        assert_eq!(phone.post(&format!("{project}/bin"), &[]).status, 403);
        assert_eq!(phone.post("/settings/let-in", &[]).status, 403);
    }
    let home = server.get("/").text();
    assert!(home.contains("Fern waistcoat") && !home.contains("Mine"), "{home}");
    assert!(server.get("/settings").text().contains("No device is let in yet"));
}

#[test]
fn headers_do_not_make_a_phone_the_computer() {
    let server = lan();
    let phone = Phone::of(&server);
    for header in [
        ("x-forwarded-for", "127.0.0.1"),
        ("x-real-ip", "127.0.0.1"),
        ("forwarded", "for=127.0.0.1;host=localhost"),
        ("x-forwarded-host", "localhost"),
    ] {
        assert_eq!(phone.get_with("/", &[header]).status, 403, "{header:?}");
    }
    for foreign in ["evil.example", "localhost.evil.example", "203.0.113.9"] {
        for path in ["/", "/pair", "/s/x"] {
            let answer = phone.get_with(path, &[("host", foreign)]);
            assert_eq!(answer.status, 403, "{foreign} {path}");
            assert!(answer.body.contains("only under its own address"), "{}", answer.body);
        }
    }
    if elsewhere().is_some() {
        // From another address it does not help to say one were here.
        for here in ["localhost", "127.0.0.1"] {
            assert_eq!(phone.get_with("/", &[("host", here)]).status, 403, "{here}");
        }
    }
    assert_eq!(server.get("/").status, 200);
}

#[test]
fn a_code_is_good_once_and_wrong_ones_are_limited() {
    let server = lan();
    let good = code(&server);
    let mut phone = Phone::of(&server);
    let cross = phone.post_from("/pair", &[("code", &good), ("name", "Phone")], "http://evil.example");
    assert_eq!(cross.status, 403);
    let nameless = phone.pair(&good, " ");
    assert_eq!(nameless.status, 422);
    assert!(
        nameless.body.contains("id=\"name-error\"") && nameless.body.contains(&good),
        "kept, not used up"
    );
    assert_eq!(phone.pair(&good, "Phone").status, 303);

    let mut second = Phone::of(&server);
    let used = second.pair(&good, "Second");
    assert_eq!(used.status, 422);
    assert!(used.text().contains("This code is wrong, was used"), "{}", used.text());
    let fresh = code(&server);
    // One good and one wrong try are spent; three are left at once.
    for wrong in ["0000-0000-0000", "x", &"9".repeat(40)] {
        assert_eq!(second.pair(wrong, "Second").status, 422, "{wrong}");
    }
    let waiting = second.pair(&fresh, "Second");
    assert_eq!(waiting.status, 429);
    assert!(waiting.text().contains("Wait a minute"), "{}", waiting.text());
    assert!(second.cookie.is_empty());
    assert_eq!(second.get("/").status, 403);
    assert_eq!(phone.get("/").status, 200, "who is in stays in");
}

#[test]
fn a_device_is_renamed_and_shut_out_at_once() {
    let server = lan();
    let mut phone = Phone::of(&server);
    let mut tablet = Phone::of(&server);
    assert_eq!(phone.pair(&code(&server), "Phone").status, 303);
    assert_eq!(tablet.pair(&code(&server), "Tablet").status, 303);

    let place = device(&server, "Tablet");
    assert_eq!(server.get(&place).status, 200);
    let refused = server.post(&place, &[("name", "")]);
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("Give the device a name"));
    assert_eq!(
        server.post(&place, &[("name", "Tablet <b>on</b> the wall")]).status,
        303
    );
    let settings = server.get("/settings").body;
    assert!(settings.contains("Tablet &lt;b&gt;on&lt;/b&gt; the wall"), "{settings}");

    assert_eq!(server.post(&format!("{place}/revoke"), &[]).status, 303);
    assert_eq!(tablet.get("/").status, 403);
    assert!(!tablet.get("/").text().contains("This was not saved"));
    let sent = tablet.post("/cloth/new", &[("name", "Wool")]).text();
    assert!(sent.contains("This was not saved. When the device is let in"), "{sent}");
    assert_eq!(
        tablet
            .post("/projects/new", &[("title", "x"), ("state", "planning")])
            .status,
        403
    );
    assert_eq!(server.get(&place).status, 404);
    assert_eq!(phone.get("/").status, 200);

    // A phone may shut itself out, and others: it is the maker's.
    let mine = device(&server, "Phone");
    assert_eq!(phone.post(&format!("{mine}/revoke"), &[]).status, 303);
    assert_eq!(phone.get("/settings").status, 403);
    assert!(server.get("/settings").text().contains("No device is let in yet"));
}

#[test]
fn devices_outlive_a_restart_and_codes_do_not() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let folder = folder.path().join("notebook");
    let mut server = Server::in_folder(&folder, &["--lan"]);
    let mut phone = Phone::of(&server);
    assert_eq!(phone.pair(&code(&server), "Phone").status, 303);
    let unused = code(&server);
    server.kill();
    let server = Server::in_folder(&folder, &["--lan"]);
    phone.host = Phone::of(&server).host;
    assert_eq!(phone.get("/").status, 200);
    assert_eq!(Phone::of(&server).pair(&unused, "Other").status, 422);
}

#[test]
fn letting_in_is_for_the_computer_itself() {
    let server = lan();
    let mut phone = Phone::of(&server);
    assert_eq!(phone.pair(&code(&server), "Phone").status, 303);
    for answer in [phone.get("/settings/let-in"), phone.post("/settings/let-in", &[])] {
        assert_eq!(answer.status, 403);
        assert!(
            answer.text().contains("on the computer the notebook is on"),
            "{}",
            answer.text()
        );
        assert!(!answer.body.contains("id=\"code\""));
    }
    assert!(!phone.get("/settings").body.contains("/settings/let-in"));
    assert!(server.get("/settings").body.contains("/settings/let-in"));
    let page = server.get("/settings/let-in");
    assert!(
        page.text().contains("Make a code"),
        "the first was used: {}",
        page.text()
    );
    let fresh = code(&server);
    let page = server.get("/settings/let-in");
    assert!(page.body.contains("<svg class=\"qr\"") && page.body.contains(&fresh));
    assert!(
        !page.body.contains(&format!("#{}", fresh.replace('-', ""))),
        "the code is in no link"
    );
}

#[test]
fn shared_pages_open_to_viewers_at_home() {
    let server = lan();
    let (project, cloth, piece) = begun(&server);
    let mut fields = PIECE.to_vec();
    fields.retain(|(name, _)| *name != "face");
    fields.extend([
        ("face", "square"),
        ("finished", "4 in"),
        ("arrangement", "all-alike"),
        ("cloth0_0", cloth.as_str()),
    ]);
    assert_eq!(save(&server, &format!("{project}/pieces/{piece}"), &fields).status, 303);
    let line = format!("cloth/{cloth}");
    let made = server.post(
        &format!("{project}/materials"),
        &[("line", &line), ("show", &line), ("then", "share")],
    );
    assert_eq!(made.status, 303, "{}", made.body);
    let page = server.get(&format!("{project}/materials")).body;
    let at = page.find(">http://").expect("the link") + 1;
    let link = page[at..].split('<').next().expect("its end");
    // As others reach it, though it was made under a name that means each computer itself.
    assert!(!link.contains("127.0.0.1") && link.contains("/s/"), "{link}");
    let phone = Phone::of(&server);
    let path = &link[link.find("/s/").expect("its path")..];
    let shared = phone.get(path);
    assert_eq!(shared.status, 200);
    assert!(shared.text().contains("Oat linen"));
    let style = shared
        .body
        .find("/static/")
        .map(|at| &shared.body[at..])
        .expect("a style sheet");
    assert_eq!(phone.get(style.split('"').next().expect("its end")).status, 200);
    assert_eq!(phone.get("/s/wrong").status, 404);
    assert_eq!(phone.post(path, &[]).status, 405, "only to look at");
}

#[test]
fn without_the_word_only_this_computer_is_answered() {
    let server = Server::empty();
    if let Some(ip) = elsewhere() {
        let port = server.address.rsplit(':').next().expect("a port");
        let tried = std::net::TcpStream::connect(format!("{ip}:{port}"));
        assert!(tried.is_err(), "nothing listens there");
    }
    let settings = server.get("/settings").text();
    assert!(settings.contains("answers on this computer only"), "{settings}");
    let page = server.get("/settings/let-in").text();
    assert!(page.contains("notchbook --lan"), "{page}");
    assert_eq!(server.post("/settings/let-in", &[]).status, 404);
    let tried = server.post("/pair", &[("code", "0000-0000-0000"), ("name", "Phone")]);
    assert_eq!(tried.status, 404);
}

#[test]
fn neither_code_nor_cookie_is_in_the_log() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let log = folder.path().join("log");
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_notchbook"))
        .args(["--lan", "--port", "0", "--log", "trace", "--folder"])
        .arg(folder.path().join("notebook"))
        .stdout(std::process::Stdio::piped())
        .stderr(std::fs::File::create(&log).expect("a log"))
        .spawn()
        .expect("the program starts");
    let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
    let mut after = |mark: &str| {
        let line = lines.find_map(|l| l.expect("a line").split_once(mark).map(|(_, rest)| rest.to_string()));
        line.unwrap_or_else(|| panic!("it says {mark}"))
    };
    let port = after("http://127.0.0.1:").trim_end_matches('/').to_string();
    let code = after("type the code ").trim_end_matches('.').to_string();
    let ip = elsewhere().unwrap_or(Ipv4Addr::new(127, 0, 0, 2));
    let mut phone = Phone {
        host: format!("{ip}:{port}"),
        cookie: String::new(),
    };
    let wrong = phone.pair("0000-0000-0000", "Phone").status;
    // What the terminal says is good.
    let right = phone.pair(&code, "Phone").status;
    let home = phone.get("/").status;
    let _ = child.kill();
    let _ = child.wait();
    assert_eq!((wrong, right, home), (422, 303, 200));
    let log = std::fs::read_to_string(log).expect("the log");
    assert!(log.contains("a device was let in") && log.contains("/pair"), "{log}");
    let token = phone.cookie.split('=').nth(1).expect("a token");
    for secret in [code.as_str(), &code.replace('-', ""), token] {
        assert!(!log.contains(secret), "{log}");
    }
}
