//! Minutes in the log, and the time they teach, over HTTP.

use crate::plan_forms::{PIECE, begun, plan, save};
use crate::support::Server;

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a";

fn log(server: &Server, project: &str, work: &str, minutes: &str) {
    let sent = server.post(
        &format!("{project}/log/add/work"),
        &[("work", work), ("minutes", minutes)],
    );
    assert_eq!(sent.status, 303, "{}", sent.text());
}

#[test]
fn minutes_are_logged_edited_and_refused_like_other_entries() {
    let server = Server::empty();
    let (project, _, piece) = begun(&server);
    let add = format!("{project}/log/add/work");
    for (work, minutes, said) in [
        ("", "90", "Choose which work it was."),
        ("quilt", "an hour", "hours and minutes such as 1:30"),
        ("quilt", "0", "Type 1 min to 24 h."),
        ("quilt", "25 h", "Type 1 min to 24 h."),
        ("quilt", "1:75", "after the hours type 0 to 59"),
        ("sleep", "90", "Choose one of the list."),
    ] {
        let refused = server.post(&add, &[("work", work), ("minutes", minutes), ("did", "the back")]);
        assert_eq!(refused.status, 422, "{work} {minutes}");
        assert!(refused.text().contains(said), "{said}: {}", refused.text());
        assert!(refused.body.contains("value=\"the back\"") && refused.body.contains(&format!("value=\"{minutes}\"")));
    }
    let fields = [
        ("id", ID),
        ("work", "quilt"),
        ("minutes", "1:30"),
        ("piece", piece.as_str()),
        ("did", "the back"),
    ];
    for _ in 0..2 {
        assert_eq!(server.post(&add, &fields).status, 303);
    }
    let log = server.get(&format!("{project}/log"));
    assert_eq!(
        log.body.matches("<article class=\"entry\"").count(),
        1,
        "sent twice, there once"
    );
    for said in ["quilt", "piece Front", "1 h 30 min", "the back"] {
        assert!(log.text().contains(said), "{said}");
    }
    let edit = format!("{project}/log/{ID}");
    let page = server.get(&edit);
    assert!(page.body.contains("value=\"1 h 30 min\"") && page.body.contains("value=\"quilt\" selected"));
    let (seen, day, time) = (
        server.hidden(&edit, "seen"),
        server.hidden(&edit, "day"),
        server.hidden(&edit, "time"),
    );
    let mended = [
        ("seen", seen.as_str()),
        ("day", day.as_str()),
        ("time", time.as_str()),
        ("work", "bind"),
        ("minutes", "45"),
        ("piece", ""),
        ("did", "the back"),
    ];
    assert_eq!(server.post_files(&edit, &mended, &[]).status, 303);
    let log = server.get(&format!("{project}/log")).text();
    assert!(
        log.contains("45 min") && log.contains("One earlier version") && log.contains("1 h 30 min"),
        "{log}"
    );
    let page = server.get(&format!("{project}/time")).text();
    assert!(page.contains("45 min") && page.contains("Logged so far"), "{page}");
}

#[test]
fn a_finished_project_teaches_the_next_its_pace() {
    let server = Server::empty();
    let (old, _, _) = begun(&server);
    log(&server, &old, "shape", "30 min");
    let (new, _, _) = begun(&server);
    let page = server.get(&format!("{new}/time")).text();
    assert!(
        page.contains("No pace is known yet for: cut to shape and assemble"),
        "{page}"
    );
    let seen = server.hidden(&format!("{old}/details"), "seen");
    let finished = [("seen", seen.as_str()), ("title", "Old vest"), ("state", "finished")];
    assert_eq!(server.post(&format!("{old}/details"), &finished).status, 303);
    // Two pieces each: 30 min, two thirds to one and a half of it.
    let page = server.get(&format!("{new}/time")).text();
    for said in [
        "30 min (20 min to 45 min)",
        "Old vest",
        "No pace is known yet for: assemble",
    ] {
        assert!(page.contains(said), "{said} is not in {page}");
    }
    log(&server, &new, "shape", "10");
    assert!(server.get(&format!("{new}/time")).text().contains("20 min"));
    assert!(
        server
            .get(&format!("{new}/figures"))
            .text()
            .contains("About 20 min left")
            || server.get(&new).text().contains("About 20 min")
    );
    // A piece more: what the change does to the time is told while typing.
    let typed: Vec<(&str, &str)> = PIECE
        .iter()
        .map(|(n, v)| (*n, if *n == "cut_count" { "4" } else { *v }))
        .collect();
    let piece = plan(&server, &new)["pieces"][0]["id"]
        .as_str()
        .expect("a piece")
        .to_string();
    let tried = server.post(&format!("{new}/pieces/{piece}/try"), &typed);
    assert!(tried.text().contains("about 30 min more work"), "{}", tried.text());
}

#[test]
fn hours_a_week_are_typed_kept_and_held_against_the_due_date() {
    let server = Server::empty();
    let (project, _, _) = begun(&server);
    let address = format!("{project}/time");
    for (field, typed, said) in [
        ("minutes_a_week", "200", "Type at most 168 h."),
        ("minutes_a_week", "often", "Type hours such as 5, or"),
        ("other_minutes", "9999", "Type at most 2000 h."),
    ] {
        let refused = save(&server, &address, &[(field, typed), ("made_for", "child")]);
        assert_eq!(refused.status, 422);
        assert!(refused.text().contains(said), "{said}: {}", refused.text());
        assert!(
            refused.body.contains(&format!("value=\"{typed}\"")) && refused.body.contains("value=\"child\" selected")
        );
    }
    let fields = [
        ("minutes_a_week", "2"),
        ("other_minutes", "7 1/2"),
        ("made_for", "child"),
    ];
    let saved = save(&server, &address, &fields);
    assert_eq!((saved.status, saved.location), (303, address.clone()));
    let now = plan(&server, &project);
    assert_eq!(
        (&now["time"]["minutes_a_week"], &now["time"]["other_minutes"]),
        (&120.into(), &450.into())
    );
    assert_eq!(now["made_for"], "child");
    let page = server.get(&address);
    assert!(page.body.contains("value=\"2 h\"") && page.body.contains("value=\"7 h 30 min\""));
    assert!(
        page.text()
            .contains("At 2 h a week the work whose pace is known takes 4 weeks, so it is hardly finished before"),
        "{}",
        page.text()
    );
    // Two weeks from today are 4 h of 7 h 30.
    let due = (chrono::Local::now().date_naive() + chrono::Days::new(14)).to_string();
    let seen = server.hidden(&format!("{project}/details"), "seen");
    let details = [
        ("seen", seen.as_str()),
        ("title", "Vest"),
        ("state", "making"),
        ("due", due.as_str()),
    ];
    assert_eq!(server.post(&format!("{project}/details"), &details).status, 303);
    let page = server.get(&address).text();
    assert!(page.contains("1 h 45 min a week short"), "{page}");
    assert!(
        server.get(&project).text().contains("a week short"),
        "and on the project's page"
    );
}
