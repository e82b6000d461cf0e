//! Long pages lead to their parts: every way on a page ends at a place of it,
//! and the log shows one kind of entry alone.

use crate::support::Server;

fn projects(server: &Server) -> Vec<String> {
    let list: serde_json::Value = serde_json::from_str(&server.get("/api/projects").body).expect("JSON");
    let ids = list.as_array().expect("projects").iter();
    ids.map(|p| format!("/projects/{}", p["id"].as_str().expect("an id")))
        .collect()
}

/// What stands between quotes after each `mark`.
fn quoted<'a>(page: &'a str, mark: &'a str) -> Vec<&'a str> {
    page.match_indices(mark)
        .filter_map(|(at, _)| page[at + mark.len()..].split('"').next())
        .collect()
}

#[test]
fn every_way_on_a_long_page_ends_at_a_place_of_it() {
    let server = Server::sample();
    let mut ways = 0;
    for project in projects(&server) {
        for part in ["/figures", "/log"] {
            let page = server.get(&format!("{project}{part}")).body;
            for place in quoted(&page, "href=\"#") {
                ways += 1;
                let found = page.matches(&format!(" id=\"{place}\"")).count();
                assert_eq!(found, 1, "{project}{part}: #{place}");
            }
        }
        // Folded away or not, every section of the figures can be gone to.
        let page = server.get(&format!("{project}/figures")).body;
        for section in quoted(&page, "<section class=\"card foldable\" id=\"") {
            assert!(
                page.contains(&format!("href=\"#{section}\"")),
                "{project}: no way to {section}"
            );
        }
    }
    assert!(ways > 60, "{ways}");
}

#[test]
fn the_log_shows_one_kind_alone_and_says_how_many_there_are() {
    let server = Server::sample();
    let kinds = ["photo", "note", "decision", "measure", "work"];
    let of = |page: &str, kind: &str| page.matches(&format!("data-kind=\"{kind}\"")).count();
    let mut shown = 0;
    for project in projects(&server) {
        let log = format!("{project}/log");
        let all = server.get(&log).body;
        if !all.contains("class=\"log-kinds\"") {
            continue;
        }
        for kind in kinds {
            let alone = server.get(&format!("{log}?kind={kind}")).body;
            let n = of(&alone, kind);
            assert_eq!(n, of(&all, kind), "{log} {kind}");
            assert_eq!(
                alone.matches("<article class=\"entry\"").count(),
                n,
                "{log}: {kind} alone"
            );
            assert_eq!(all.contains(&format!("{log}?kind={kind}\"")), n > 0, "{log} {kind}");
            shown += n;
        }
        // What is no kind is the whole log; one of another day is on the page all the same.
        let entry = "<article class=\"entry\"";
        assert_eq!(
            server.get(&format!("{log}?kind=quilts")).body.matches(entry).count(),
            all.matches(entry).count()
        );
    }
    assert!(shown > 20, "{shown}");
}
