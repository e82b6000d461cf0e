//! Long lists stand on several pages, and nothing on them is out of reach.

use crate::support::Server;
use std::collections::BTreeSet;

/// Every page from this one on, by its own links.
fn pages(server: &Server, from: &str) -> Vec<String> {
    let mut pages = vec![server.get(from).body];
    while let Some(next) = next(&pages[pages.len() - 1]) {
        let page = server.get(&next);
        assert_eq!(page.status, 200, "{next}");
        pages.push(page.body);
        assert!(pages.len() < 50, "they end");
    }
    pages
}

fn next(page: &str) -> Option<String> {
    let before = &page[..page.find("rel=\"next\"")?];
    let from = before.rfind("href=\"")? + 6;
    Some(before[from..].split('"').next()?.to_string())
}

fn after<'a>(page: &'a str, mark: &str) -> Vec<&'a str> {
    let parts = page.split(mark).skip(1);
    parts.map(|part| part.split(['"', '<']).next().unwrap_or("")).collect()
}

/// Notes of so many days, one a day, the last the newest.
fn noted(server: &Server, project: &str, notes: usize) {
    for n in 1..=notes {
        let at = format!("2026-{:02}-{:02}T10:00:00Z", 1 + n / 28, 1 + n % 28);
        let fields = [("text", format!("note number {n}.")), ("happened_at", at)];
        let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
        assert_eq!(server.post(&format!("{project}/log/add/note"), &fields).status, 303);
    }
}

#[test]
fn a_long_log_is_read_page_by_page_newest_first() {
    let server = Server::empty();
    let project = server.project("Fern waistcoat");
    let log = format!("{project}/log");
    noted(&server, &project, 40);
    assert_eq!(pages(&server, &log).len(), 1);
    noted(&server, &project, 95);
    let pages = pages(&server, &log);
    let ids: Vec<&str> = pages.iter().flat_map(|p| after(p, "id=\"entry-")).collect();
    assert_eq!((pages.len(), ids.len()), (4, 135));
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), 135, "each once");
    let moments: Vec<&str> = pages
        .iter()
        .flat_map(|p| after(p, "entry-time\" datetime=\""))
        .collect();
    assert!(moments.windows(2).all(|w| w[0] >= w[1]), "{moments:?}");
    // The page of an entry, whichever it is.
    for id in ids.iter().step_by(13) {
        let page = server.get(&format!("{log}?entry={id}"));
        assert!(page.body.contains(&format!("id=\"entry-{id}\"")), "{id}");
    }
    for odd in [
        "?page=0",
        "?page=99",
        "?page=x",
        "?entry=x",
        "?entry=00000000-0000-7000-8000-000000000000",
    ] {
        assert!(
            server.get(&format!("{log}{odd}")).text().contains("note number"),
            "{odd}"
        );
    }
}

#[test]
fn a_saved_entry_is_shown_on_the_page_it_stands_on() {
    let server = Server::empty();
    let project = server.project("Fern waistcoat");
    noted(&server, &project, 41);
    let save = |text: &str, at: &str| {
        let fields = [("text", text), ("happened_at", at)];
        let saved = server.post(&format!("{project}/log/add/note"), &fields);
        assert_eq!(saved.status, 303, "{}", saved.body);
        saved.location
    };
    let newest = save("the newest", "2026-10-01T10:00:00Z");
    assert!(newest.starts_with(&format!("{project}/log#entry-")), "{newest}");
    assert!(server.get(&newest).text().contains("the newest"));
    let oldest = save("found on a slip of paper", "2020-10-01T10:00:00Z");
    let (page, entry) = oldest.split_once('#').expect("its place");
    let page = server.get(page);
    assert!(page.text().contains("found on a slip of paper") && page.body.contains(&format!("id=\"{entry}\"")));
    // What is found leads there too.
    let found = server.get("/search?q=slip+of+paper").body;
    let link = after(&found, "href=\"")
        .into_iter()
        .find(|link| link.contains("/log"))
        .expect("a way to it");
    assert!(
        server
            .get(link.split('#').next().unwrap_or(""))
            .text()
            .contains("slip of paper")
    );
}

#[test]
fn every_finished_project_is_reached_from_the_first_page() {
    let server = Server::empty();
    let start = |title: &str, state: &str| {
        let made = server.post("/projects/new", &[("title", title), ("state", state)]);
        assert_eq!(made.status, 303, "{}", made.body);
    };
    start("On the table now", "making");
    for n in 0..24 {
        start(&format!("Waistcoat number {n}."), "finished");
    }
    assert!(!server.get("/").body.contains("/projects/finished"), "all stand there");
    for n in 24..65 {
        start(&format!("Waistcoat number {n}."), "finished");
    }
    let home = server.get("/");
    assert!(home.text().contains("On the table now") && home.text().contains("All 65 finished projects"));
    assert!(home.text().contains("Waistcoat number 64.") && !home.text().contains("Waistcoat number 40."));
    let pages = pages(&server, "/projects/finished");
    assert_eq!(pages.len(), 2);
    for n in 0..65 {
        let title = format!("Waistcoat number {n}.<");
        assert_eq!(pages.iter().filter(|p| p.contains(&title)).count(), 1, "{title}");
    }
    assert!(!pages.iter().any(|p| p.contains("On the table now")));
    assert!(
        server
            .get("/search?state=finished&q=number+3")
            .text()
            .contains("Waistcoat number 3.")
    );
}
