//! What the outbox of a phone sends: photos one by one, then the entry that
//! names them, any of it again after a lost answer. And what photos give away
//! when they are shown: nothing.

use crate::log::jpeg;
use crate::pictures::{TELLTALE, telltale_jpeg, telltale_png, telltale_webp};
use crate::plan_forms::begun;
use crate::shares::shared;
use crate::support::{Reply, Server, agent, encode, reply};
use serde_json::{Value, json};

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6b";

/// As the outbox's script sends it.
fn send(server: &Server, path: &str, fields: &[(&str, &str)]) -> Reply {
    let body: Vec<String> = fields.iter().map(|(n, v)| format!("{n}={}", encode(v))).collect();
    reply(
        agent()
            .post(server.url(path))
            .header("origin", format!("http://{}", server.address))
            .header("content-type", "application/x-www-form-urlencoded")
            .header("x-notchbook-outbox", "1")
            .send(body.join("&")),
    )
}

fn said(reply: &Reply) -> Value {
    serde_json::from_str(&reply.body).unwrap_or_else(|_| panic!("no JSON: {}", reply.body))
}

fn entries(server: &Server, project: &str) -> usize {
    let log = server.get(&format!("{project}/log"));
    log.body.matches("<article class=\"entry\"").count()
}

#[test]
fn an_entry_is_said_to_be_kept_only_when_it_is() {
    let server = Server::empty();
    let project = server.project("Vest");
    let add = format!("{project}/log/add/measure");
    for _ in 0..2 {
        let kept = send(&server, &add, &[("id", ID), ("measured", "Strap"), ("length", "12")]);
        assert_eq!(kept.status, 200);
        assert_eq!(
            said(&kept),
            json!({ "kept": true, "address": format!("{project}/log#entry-{ID}") })
        );
        assert_eq!(kept.header("set-cookie"), "", "the page's own memory is left alone");
    }
    assert_eq!(entries(&server, &project), 1);
    let wrong = send(&server, &add, &[("measured", "Strap"), ("length", "a hand")]);
    assert_eq!(wrong.status, 422);
    assert!(wrong.body.contains("class=\"errors\"") && wrong.body.contains("a hand"));
    let gone = format!("{}0000", &project[..project.len() - 4]);
    assert_eq!(
        send(&server, &format!("{gone}/log/add/note"), &[("text", "x")]).status,
        404
    );
    assert_eq!(entries(&server, &project), 1);
}

#[test]
fn photos_go_ahead_and_their_entry_names_them() {
    let server = Server::empty();
    let project = server.project("Vest");
    let mut names = Vec::new();
    // One of them twice, as after a lost answer.
    for colour in [[170, 60, 40], [40, 60, 170], [40, 60, 170]] {
        let kept = server.post_files("/photos", &[], &[("photos", "a.jpg", &jpeg(colour))]);
        assert_eq!(kept.status, 200, "{}", kept.body);
        names.push(said(&kept)["photos"][0].as_str().expect("a name").to_string());
    }
    assert_eq!(names[1], names[2]);
    let add = format!("{project}/log/add/photo");
    let fields = [
        ("id", ID),
        ("text", "Laid out"),
        ("photo", &names[0]),
        ("photo", &names[1]),
    ];
    for _ in 0..2 {
        assert_eq!(server.post_files(&add, &fields, &[]).status, 303);
    }
    let log = server.get(&format!("{project}/log"));
    assert_eq!(entries(&server, &project), 1);
    assert!(log.body.contains("data-count=\"2\"") && !log.text().contains("earlier version"));

    // A photo that is not here: nothing is entered without it.
    let unknown = "0".repeat(64);
    let refused = server.post_files(&add, &[("text", "x"), ("photo", &unknown)], &[]);
    assert_eq!(refused.status, 422);
    assert!(
        refused.text().contains("A photo of this entry has not arrived"),
        "{}",
        refused.text()
    );
    for wrong in ["", "../../notebook.sqlite"] {
        assert_eq!(
            server.post_files(&add, &[("text", "x"), ("photo", wrong)], &[]).status,
            422
        );
    }
    assert_eq!(entries(&server, &project), 1);
}

#[test]
fn what_is_no_photo_is_refused_in_words() {
    let server = Server::empty();
    let heic: &[u8] = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic";
    let refused = server.post_files("/photos", &[], &[("photos", "IMG_1.heic", heic)]);
    assert_eq!(refused.status, 422);
    let answer = said(&refused);
    assert_eq!(answer["kept"], false);
    let sentence = answer["refused"][0].as_str().expect("a sentence");
    assert!(
        sentence.contains("“IMG_1.heic”") && sentence.contains("JPEG"),
        "{sentence}"
    );
    assert_eq!(server.post_files("/photos", &[("text", "x")], &[]).status, 422);
    // The same sentence is in every camera and file field of the page, for a phone out of reach.
    let project = server.project("Vest");
    let page = server.get(&format!("{project}/log/add")).body;
    assert_eq!(page.matches("data-heic=\"This is a HEIC photo").count(), 3);
}

#[test]
fn thirty_photos_fit_into_one_plain_form() {
    let server = Server::empty();
    let project = server.project("Vest");
    let photos: Vec<(String, Vec<u8>)> = (0..30)
        .map(|i| {
            let mut bytes = jpeg([i * 8, 60, 40]);
            // What follows a picture's end is kept with it: 7 MB, as from a good camera.
            bytes.resize(7 * 1024 * 1024, i);
            (format!("IMG_{i}.jpg"), bytes)
        })
        .collect();
    let files: Vec<(&str, &str, &[u8])> = photos
        .iter()
        .map(|(name, bytes)| ("photos", name.as_str(), bytes.as_slice()))
        .collect();
    let sent = server.post_files(&format!("{project}/log/add/photo"), &[("id", ID)], &files);
    assert_eq!(sent.status, 303, "{}", sent.text());
    let log = server.get(&format!("{project}/log")).body;
    assert!(log.contains("data-count=\"30\""));
}

#[test]
fn no_copy_that_is_shown_or_shared_says_where_and_with_what_it_was_taken() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    let tells = |bytes: &str| bytes.contains(std::str::from_utf8(TELLTALE).expect("text"));
    for (name, bytes) in [
        ("a.jpg", telltale_jpeg()),
        ("b.png", telltale_png()),
        ("c.webp", telltale_webp()),
    ] {
        assert!(tells(&String::from_utf8_lossy(&bytes)), "{name}: it does to begin with");
        let kept = server.post_files("/photos", &[], &[("photos", name, &bytes)]);
        let hash = said(&kept)["photos"][0].as_str().expect("a name").to_string();
        let entry = server.post_files(&format!("{project}/log/add/photo"), &[("photo", &hash)], &[]);
        assert_eq!(entry.status, 303, "{name}: {}", entry.text());
        for size in ["small", "page", "print"] {
            let shown = server.get(&format!("/photos/{hash}/{size}"));
            assert_eq!(shown.status, 200, "{name}");
            assert!(!tells(&shown.body) && !shown.body.contains("Exif"), "{name} {size}");
        }
        assert_eq!(server.get(&format!("/photos/{hash}/original")).status, 404);
        // The picture of the list that viewers see.
        let address = shared(&server, &project, &cloth, &[("picture", &hash)]);
        let picture = server.get(&format!("{address}/pictures/1"));
        assert_eq!(picture.status, 200, "{name}");
        assert!(!tells(&picture.body) && !picture.body.contains("Exif"), "{name} shared");
    }
}

#[test]
fn the_worker_is_of_this_edition_and_may_run() {
    let server = Server::empty();
    let page = server.get("/");
    assert!(page.header("content-security-policy").contains("worker-src 'self'"));
    let mark = "/static/";
    let at = page.body.find(mark).expect("a style sheet") + mark.len();
    let edition: String = page.body[at..].chars().take_while(|c| *c != '/').collect();
    let worker = server.get("/worker.js");
    assert_eq!(worker.status, 200);
    assert!(worker.header("content-type").starts_with("text/javascript"));
    assert_eq!(worker.header("cache-control"), "no-cache", "an update is looked for");
    assert!(
        worker.body.starts_with(&format!("const EDITION = \"{edition}\";")),
        "{}",
        &worker.body[..80]
    );
    // It keeps what pages need, and all of it is there.
    let files = worker.body.lines().nth(1).expect("the files");
    let files: Vec<String> =
        serde_json::from_str(files.trim_start_matches("const FILES = ").trim_end_matches(';')).expect("a list");
    for needed in ["style.css", "notebook.js", "outbox.js", "outbox/send.js"] {
        assert!(files.iter().any(|f| f == needed), "{needed}: {files:?}");
    }
    for file in files {
        assert_eq!(server.get(&format!("/static/{edition}/{file}")).status, 200, "{file}");
    }
}

#[test]
fn pages_for_viewers_have_no_outbox() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    assert!(server.get(&format!("{project}/materials")).body.contains("outbox.js"));
    let address = shared(&server, &project, &cloth, &[]);
    let page = server.get(&address);
    assert_eq!(page.status, 200);
    assert!(!page.body.contains("outbox.js"));
}
