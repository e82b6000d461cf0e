//! Who may come in, and what every answer carries.

use crate::support::{Server, agent, reply};

#[test]
fn foreign_hosts_and_origins_are_kept_out() {
    let server = Server::empty();
    let foreign = reply(agent().get(server.url("/")).header("host", "evil.example").call());
    assert_eq!(foreign.status, 403);
    let no_origin = reply(
        agent()
            .post(server.url("/projects/new"))
            .header("content-type", "application/x-www-form-urlencoded")
            .send("title=x"),
    );
    assert_eq!(no_origin.status, 403);
    let cross = reply(
        agent()
            .post(server.url("/projects/new"))
            .header("origin", "http://evil.example")
            .header("content-type", "application/x-www-form-urlencoded")
            .send("title=x&state=planning"),
    );
    assert_eq!(cross.status, 403);
    assert!(
        server.get("/").text().contains("Start the first project"),
        "nothing was made"
    );
}

#[test]
fn every_page_is_fenced_in() {
    let server = Server::empty();
    for path in ["/", "/projects/new", "/nothing"] {
        let page = server.get(path);
        let policy = page.header("content-security-policy");
        assert!(
            policy.contains("default-src 'none'") && policy.contains("script-src 'self'"),
            "{path}: {policy}"
        );
        assert!(!policy.contains("unsafe-inline"));
        assert_eq!(page.header("x-content-type-options"), "nosniff");
        assert!(
            !page.body.contains(" style=\"") && !page.body.contains(" onclick="),
            "{path} has nothing inline"
        );
    }
}

#[test]
fn static_files_may_be_kept_for_good() {
    let server = Server::empty();
    let page = server.get("/").body;
    let at = page.find("/static/").expect("a style sheet");
    let address: String = page[at..].chars().take_while(|c| *c != '"').collect();
    let file = server.get(&address);
    assert_eq!(file.status, 200);
    assert!(file.header("cache-control").contains("immutable"));
}

#[test]
fn no_folder_is_listed() {
    let server = Server::sample();
    let page = server.get("/").body;
    let at = page.find("/static/").expect("a style sheet");
    let edition: String = page[at..].split('/').take(3).collect::<Vec<_>>().join("/");
    assert_eq!(server.get(&format!("{edition}/style.css")).status, 200);
    for path in ["/static", "/static/", &edition, &format!("{edition}/"), "/photos/"] {
        assert_eq!(server.get(path).status, 404, "{path}");
    }
    // Photos are sent to this address; it answers no one who asks.
    let photos = server.get("/photos");
    assert_eq!(photos.status, 405);
    assert!(!photos.body.contains("/photos/"), "{}", photos.body);
    for path in ["..%2fCargo.toml", "fonts/", "fonts", "%2e%2e/notebook.sqlite"] {
        assert_eq!(server.get(&format!("{edition}/{path}")).status, 404, "{path}");
    }
    for path in [
        "/notebook.sqlite",
        "/photos/..%2fnotebook.sqlite/page",
        "/tls/",
        "/tls/authority-private.pem",
    ] {
        assert_eq!(server.get(path).status, 404, "{path}");
    }
}

#[test]
fn a_backup_is_for_the_computer_itself_and_is_one() {
    use notchbook::notebook::{check, restore};
    let server = Server::sample();
    assert!(server.get("/").text().contains("has no backup yet"));
    let before = server.get("/settings").text();
    assert!(before.contains("No backup was made yet"), "{before}");
    let made = server.post_bytes("/settings/backup");
    assert_eq!(made.0.status, 200);
    assert!(
        made.0
            .header("content-disposition")
            .starts_with("attachment; filename=\"notchbook-20")
    );
    assert_eq!(made.0.header("cache-control"), "no-store");
    let aside = tempfile::tempdir().expect("a folder");
    let file = aside.path().join("b.zip");
    std::fs::write(&file, made.1).expect("written");
    let folder = aside.path().join("again");
    let back = restore(&file, &folder).expect("a whole backup");
    assert!(back.photos > 5 && back.problems.is_empty());
    assert!(check(&folder).expect("a notebook").projects >= 5);
    assert!(server.get("/settings").text().contains("The last backup was made on"));
    assert!(!server.get("/").text().contains("backup yet"));
}
