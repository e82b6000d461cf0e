//! Pages that are kept in memory are those a new rendering would be.

use crate::devices::{Phone, code, device, lan};
use crate::support::Server;
use std::collections::BTreeSet;
use std::process::Command;

/// A project of the sample that is being made, with steps.
fn project(server: &Server) -> String {
    let home = server.get("/").body;
    let at = home
        .find("/steps/")
        .or_else(|| home.find("/projects/01"))
        .expect("a project");
    let from = home[..at + 12].rfind("/projects/").expect("its address");
    home[from..from + "/projects/".len() + 36].to_string()
}

fn kept(server: &Server) -> Vec<String> {
    let project = project(server);
    let of_project = ["", "/figures", "/log", "/steps", "/steps?order=yes", "/log?page=1"];
    let pages = ["/", "/cloth", "/wearers"].map(String::from).into_iter();
    pages.chain(of_project.map(|page| format!("{project}{page}"))).collect()
}

/// Everything in a page that looks like an id.
fn ids(page: &str) -> BTreeSet<String> {
    let ids = page.as_bytes().windows(36).filter(|text| {
        text.iter().enumerate().all(|(i, b)| match i {
            8 | 13 | 18 | 23 => *b == b'-',
            _ => b.is_ascii_hexdigit(),
        })
    });
    ids.map(|text| String::from_utf8_lossy(text).into_owned()).collect()
}

/// A page with these ids told by their turn alone.
fn without(page: &str, gone: &BTreeSet<String>) -> String {
    gone.iter().fold(page.to_string(), |page, id| page.replace(id, "an id"))
}

/// A write that changes nothing: whatever was kept is made anew after it.
fn something_is_written(server: &Server) {
    let nobody = "/wearers/00000000-0000-7000-8000-000000000000/restore";
    assert_eq!(server.post(nobody, &[]).status, 404);
}

#[test]
fn every_answer_has_form_ids_of_its_own_and_is_the_same_otherwise() {
    let server = Server::sample();
    for path in kept(&server) {
        let first = server.get(&path);
        assert_eq!(first.status, 200, "{path}");
        something_is_written(&server);
        let made = server.get(&path);
        let fresh: BTreeSet<String> = &ids(&made.body) - &ids(&first.body);
        let forms = !matches!(path.as_str(), "/cloth" | "/wearers");
        assert_eq!(forms, !fresh.is_empty(), "{path}: {fresh:?}");
        let mut met = ids(&made.body);
        for _ in 0..3 {
            let again = server.get(&path);
            assert_eq!(again.headers.len(), made.headers.len());
            assert_eq!(again.header("cache-control"), "no-store");
            let new: BTreeSet<String> = &ids(&again.body) - &met;
            assert_eq!(new.len(), fresh.len(), "{path}: whatever a new rendering makes anew");
            assert_eq!(without(&again.body, &new), without(&made.body, &fresh), "{path}");
            met.extend(new);
        }
    }
}

#[test]
fn two_forms_of_one_kept_page_make_two_things() {
    let server = Server::sample();
    let project = project(&server);
    let steps = format!("{project}/steps");
    // Two tabs, none knowing of the other; the page was asked for before.
    server.get(&steps);
    let tabs = [server.hidden(&steps, "id"), server.hidden(&steps, "id")];
    assert_ne!(tabs[0], tabs[1]);
    for (id, title) in tabs.iter().zip(["Sew the left tie", "Sew the right tie"]) {
        let saved = server.post(&format!("{steps}/add"), &[("id", id), ("title", title)]);
        assert_eq!(saved.status, 303, "{}", saved.body);
    }
    let text = server.get(&steps).text();
    assert!(
        text.contains("Sew the left tie") && text.contains("Sew the right tie"),
        "{text}"
    );
}

#[test]
fn what_another_device_changes_is_seen_at_once() {
    let server = lan();
    let mut phone = Phone::of(&server);
    phone.pair(&code(&server), "Phone");
    let project = server.project("Fern waistcoat");
    for n in 0..5 {
        for from_phone in [true, false] {
            // Both have every page, and the notebook keeps them.
            for path in [
                "/",
                &project,
                &format!("{project}/log"),
                &format!("{project}/steps"),
                "/wearers",
            ] {
                assert_eq!((server.get(path).status, phone.get(path).status), (200, 200), "{path}");
            }
            let title = format!("Pin hem {n} {from_phone}");
            let fields = [("title", title.as_str())];
            let steps = format!("{project}/steps");
            let add = format!("{steps}/add");
            let saved = match from_phone {
                true => phone.post(&add, &fields),
                false => server.post(&add, &fields),
            };
            assert_eq!(saved.status, 303, "{}", saved.body);
            assert!(server.get(&steps).text().contains(&title) && phone.get(&steps).text().contains(&title));
        }
    }
    let steps = server.get(&format!("{project}/steps")).text();
    assert!(steps.contains("0 of 10 done"), "{steps}");
    assert!(phone.get("/").text().contains("0 of 10 done"));
}

#[test]
fn a_timer_started_elsewhere_shows_on_every_page() {
    let server = lan();
    let mut phone = Phone::of(&server);
    phone.pair(&code(&server), "Phone");
    let project = server.project("Fern waistcoat");
    let other = server.project("Moss apron");
    let pages = [
        "/".to_string(),
        "/cloth".to_string(),
        format!("{other}/figures"),
        project.clone(),
    ];
    let running = |page: &str| page.contains("class=\"timer\"");
    for _ in 0..2 {
        for path in &pages {
            assert!(
                !running(&server.get(path).body) && !running(&server.get(path).body),
                "{path}"
            );
        }
        let started = phone.post(&format!("{project}/timer/start"), &[]);
        assert_eq!(started.status, 303, "{}", started.body);
        for path in &pages {
            assert!(
                running(&server.get(path).body) && running(&phone.get(path).body),
                "{path}"
            );
        }
        let timer = server.hidden("/", "timer");
        assert_eq!(
            server
                .post(&format!("{project}/timer/stop"), &[("timer", &timer)])
                .status,
            303
        );
        for path in &pages {
            assert!(!phone.get(path).body.contains("Stop the timer"), "{path}");
        }
        let dropped = server.post(&format!("{project}/timer/drop"), &[("timer", &timer)]);
        assert_eq!(dropped.status, 303, "{}", dropped.body);
    }
}

#[test]
fn what_is_kept_is_not_for_those_who_are_not_let_in() {
    let server = lan();
    let mut phone = Phone::of(&server);
    let project = server.project("Fern waistcoat");
    let pages = ["/".to_string(), project.clone(), format!("{project}/log")];
    let all = |phone: &Phone, status| {
        for path in &pages {
            server.get(path);
            let answer = phone.get(path);
            assert_eq!(answer.status, status, "{path}");
            assert_eq!(answer.body.contains("Fern waistcoat"), status == 200, "{path}");
        }
    };
    all(&phone, 403);
    phone.pair(&code(&server), "Phone");
    all(&phone, 200);
    let shut_out = server.post(&format!("{}/revoke", device(&server, "Phone")), &[]);
    assert_eq!(shut_out.status, 303, "{}", shut_out.body);
    all(&phone, 403);
}

#[test]
fn a_backup_by_another_program_ends_the_reminder() {
    let folder = tempfile::tempdir().expect("a folder");
    let notebook = folder.path().join("notebook");
    let server = Server::in_folder(&notebook, &["--sample"]);
    for _ in 0..3 {
        assert!(server.get("/").text().contains("This notebook has no backup yet."));
    }
    let made = Command::new(env!("CARGO_BIN_EXE_notchbook"))
        .arg("backup")
        .arg(folder.path().join("copy.zip"))
        .arg("--folder")
        .arg(&notebook)
        .output()
        .expect("it runs");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    assert!(!server.get("/").text().contains("backup"));
}

#[test]
fn a_browser_that_takes_it_gets_a_kept_page_compressed() {
    let server = Server::sample();
    let project = project(&server);
    // Long rows of figures fold into less than outlines, whose numbers differ.
    for (page, least) in [(project.clone(), 2), (format!("{project}/figures"), 3)] {
        let plain = server.get(&page);
        for _ in 0..2 {
            let answer = crate::support::agent()
                .get(server.url(&page))
                .header("accept-encoding", "gzip")
                .call()
                .expect("an answer");
            assert_eq!(answer.headers()["content-encoding"], "gzip");
            let mut bytes = Vec::new();
            std::io::Read::read_to_end(&mut answer.into_body().as_reader(), &mut bytes).expect("all of it");
            assert!(
                bytes.len() < plain.body.len() / least,
                "{} of {}",
                bytes.len(),
                plain.body.len()
            );
        }
    }
}
