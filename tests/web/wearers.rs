//! Measures over time, what newer ones mean for a project, earlier versions
//! and undo, photos marked and side by side, over HTTP.

use crate::log::{id_after, jpeg};
use crate::plan_forms::save;
use crate::support::{Reply, Server};

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a";
const MARK: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6b";

fn measured(server: &Server, wearer: &str, day: &str, bust: &str, waist: &str) {
    let address = format!("/wearers/{wearer}/measurements/new");
    let (seen, id) = (server.hidden(&address, "seen"), server.hidden(&address, "id"));
    let sent = server.post(
        &address,
        &[
            ("seen", &seen),
            ("id", &id),
            ("taken_on", day),
            ("named", "2"),
            ("name_0", "bust girth"),
            ("value_0", bust),
            ("name_1", "waist girth"),
            ("value_1", waist),
        ],
    );
    assert_eq!(sent.status, 303, "{}", sent.text());
}

/// A wearer measured long ago, and a project made to it with a size table.
fn made_to_measure(server: &Server) -> String {
    server.post("/wearers/new", &[("id", ID), ("name", "Runa"), ("kind", "adult")]);
    measured(server, ID, "2024-03-01", "32", "26");
    let project = server
        .post(
            "/projects/new",
            &[("title", "Moss vest"), ("state", "planning"), ("wearer", ID)],
        )
        .location;
    let saved = save(
        server,
        &format!("{project}/sizing"),
        &[
            ("sizes", "8, 10, 12"),
            ("measured_on", "2024-03-01"),
            ("row_name_0", "bust girth"),
            ("row_body_0", "32, 34, 36"),
            ("row_garment_0", "36, 38, 40"),
            ("row_wearer_0", "32"),
        ],
    );
    assert_eq!(saved.status, 303, "{}", saved.text());
    project
}

/// The button's form that sends to `action`: what it carries under `name`.
fn carried(page: &Reply, action: &str, name: &str) -> String {
    let form = page
        .body
        .split(&format!("action=\"{action}\""))
        .nth(1)
        .unwrap_or_else(|| panic!("no form sends to {action}"));
    let mark = format!("name=\"{name}\" value=\"");
    let at = form.find(&mark).expect("its field") + mark.len();
    form[at..].split('"').next().unwrap_or("").to_string()
}

#[test]
fn old_measures_say_so_wherever_they_are_gone_by() {
    let server = Server::empty();
    let project = made_to_measure(&server);
    for page in ["", "/sizing", "/figures"] {
        let said = server.get(&format!("{project}{page}")).text();
        assert!(said.contains("months ago"), "{page}: {said}");
        assert!(said.contains("Measure again before you cut"), "{page}: {said}");
    }
    // A day ago is not old, and a single date draws nothing.
    assert!(
        !server
            .get(&format!("/wearers/{ID}"))
            .body
            .contains("class=\"measure-line\"")
    );
    measured(&server, ID, "2026-01-01", "32", "26");
    for page in ["", "/sizing", "/figures"] {
        let said = server.get(&format!("{project}{page}")).text();
        assert!(said.contains("Newer measures are there."), "{page}: {said}");
    }
}

#[test]
fn newer_measures_tell_what_they_mean_and_are_taken_by_one_tap() {
    let server = Server::empty();
    let project = made_to_measure(&server);
    assert!(!server.get(&project).body.contains("id=\"measured\""));
    measured(&server, ID, "2026-01-01", "35 1/2", "26");
    let page = server.get(&project);
    let text = page.text();
    for part in [
        "measures of 1 March 2024",
        "measured again on 1 January 2026",
        "+3 1/2 in +8.9 cm",
        "12was 8",
        "Ease in size 8",
        "4 in 10.2 cm",
        "1/2 in 1.3 cm",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    // The waist is as it was: nothing to tell.
    assert!(!text.contains("waist girth"), "{text}");
    let action = format!("{project}/measurements");
    let (set, seen) = (carried(&page, &action, "set"), carried(&page, &action, "seen"));
    for _ in 0..2 {
        assert_eq!(server.post(&action, &[("set", &set), ("seen", &seen)]).status, 303);
    }
    let page = server.get(&project);
    assert!(!page.body.contains("id=\"measured\""));
    assert!(page.text().contains("Measurements of 1 January 2026"));
    assert!(
        server
            .get(&format!("{project}/sizing"))
            .body
            .contains("value=\"35 1/2 in\"")
    );
    assert_eq!(
        server
            .get(&format!("{project}/revisions"))
            .body
            .matches("Size table")
            .count(),
        2
    );
    // Someone else's set is nobody's.
    let other = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6f";
    assert_eq!(server.post(&action, &[("set", other), ("seen", &seen)]).status, 404);
    // Undone by one tap, the plan and the details each.
    let page = server.get(&project);
    let undo = format!("{project}/undo");
    let undone = server.post(&undo, &[("seen", &carried(&page, &undo, "seen"))]);
    assert_eq!(undone.location, format!("{project}?undone=plan"));
    assert!(
        server
            .get(&undone.location)
            .text()
            .contains("The earlier version is back")
    );
    let details = format!("{project}/details/versions/1/take");
    let back = server.post(&details, &[("seen", &carried(&page, &details, "seen"))]);
    assert_eq!(back.status, 303, "{}", back.text());
    assert!(server.get(&project).text().contains("Measurements of 1 March 2024"));
}

#[test]
fn changes_over_time_are_drawn_with_their_figures() {
    let server = Server::empty();
    server.post("/wearers/new", &[("id", ID), ("name", "Runa"), ("kind", "child")]);
    measured(&server, ID, "2024-03-01", "22", "20");
    measured(&server, ID, "2025-03-01", "23", "20");
    measured(&server, ID, "2026-03-01", "24 1/2", "20");
    let page = server.get(&format!("/wearers/{ID}"));
    assert_eq!(page.body.matches("class=\"measure-line\"").count(), 1);
    let text = page.text();
    for part in [
        "1 Mar 2024",
        "22 in 55.9 cm",
        "+1 1/2 in +3.8 cm",
        "As it was: waist girth.",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let names = server.get(&format!("/wearers/{ID}/measurements/new")).text();
    assert!(names.contains("Over the kneecap, leg straight."), "{names}");
}

#[test]
fn earlier_versions_are_looked_at_and_taken_again() {
    let server = Server::empty();
    server.post("/wearers/new", &[("id", ID), ("name", "Runa"), ("kind", "adult")]);
    measured(&server, ID, "2026-03-01", "34", "27");
    let wearer = format!("/wearers/{ID}");
    let seen = server.hidden(&format!("{wearer}/details"), "seen");
    let renamed = server.post(
        &format!("{wearer}/details"),
        &[
            ("seen", &seen),
            ("name", "Runa K."),
            ("kind", "adult"),
            ("note", "long arms"),
        ],
    );
    assert_eq!(renamed.status, 303);
    let versions = server.get(&format!("{wearer}/versions"));
    let text = versions.text();
    assert!(
        text.contains("Version 2, until") && text.contains("Version 1, until"),
        "{text}"
    );
    assert!(text.contains("Runa K.") && text.contains("2 measures"), "{text}");
    let page = server.get(&wearer);
    let action = format!("{wearer}/versions/2/take");
    let taken = server.post(&action, &[("seen", &carried(&page, &action, "seen"))]);
    assert_eq!(taken.location, format!("{wearer}?undone=yes"));
    let page = server.get(&wearer).text();
    assert!(!page.contains("Runa K.") && !page.contains("long arms"), "{page}");
    assert!(page.contains("3 earlier versions"), "{page}");
    // From a page that is behind.
    assert_eq!(
        server.post(&action, &[("seen", "1")]).status,
        303,
        "it says the same already"
    );
    let first = format!("{wearer}/versions/1/take");
    assert_eq!(server.post(&first, &[("seen", "1")]).status, 409);
    assert_eq!(
        server
            .post(&format!("{wearer}/versions/77/take"), &[("seen", "4")])
            .status,
        404
    );

    let cloth = [
        ("id", MARK),
        ("name", "Moss corduroy"),
        ("kind", "cloth"),
        ("usable_width", "54 in"),
        ("owned", "1 yd"),
        ("colour", "#5c6b3d"),
        ("price_per", "yd"),
    ];
    server.post_files("/cloth/new", &cloth, &[]);
    let address = format!("/cloth/{MARK}");
    let mut changed = cloth.to_vec();
    changed[4] = ("owned", "1/2 yd");
    changed.push(("seen", "1"));
    assert_eq!(server.post_files(&address, &changed, &[]).status, 303);
    let text = server.get(&format!("{address}/versions")).text();
    assert!(text.contains("Owned1 yd (0.91 m)1/2 yd (0.45 m)"), "{text}");
    let page = server.get(&address);
    let action = format!("{address}/versions/1/take");
    server.post(&action, &[("seen", &carried(&page, &action, "seen"))]);
    assert!(server.get("/cloth").text().contains("1 yd 0.91 m"));
}

/// A project with two photos in its log, and their hashes.
fn pictured(server: &Server) -> (String, [String; 2]) {
    let project = server.project("Moss vest");
    for colour in [[170, 60, 40], [40, 60, 170]] {
        let sent = server.post_files(
            &format!("{project}/log/add/photo"),
            &[],
            &[("photos", "a.jpg", &jpeg(colour))],
        );
        assert_eq!(sent.status, 303, "{}", sent.text());
    }
    let log = server.get(&format!("{project}/log")).body;
    let mark = format!("href=\"{project}/photos/");
    let hashes: Vec<String> = log.split(&mark).skip(1).map(|s| s.chars().take(64).collect()).collect();
    (project, [hashes[0].clone(), hashes[1].clone()])
}

#[test]
fn a_measure_is_marked_on_a_photo_changed_and_taken_back() {
    let server = Server::empty();
    let (project, [photo, _]) = pictured(&server);
    let address = format!("{project}/photos/{photo}");
    let new = format!("{address}/marks/new");
    let undrawn = server.post(&new, &[("id", MARK), ("length", "14 1/2"), ("what", "hem")]);
    assert_eq!(undrawn.status, 422);
    assert!(
        undrawn.text().contains("Draw the line on the photo"),
        "{}",
        undrawn.text()
    );
    assert!(undrawn.body.contains("value=\"14 1/2\""), "what was typed is kept");
    let ends = [
        ("from_x", "10"),
        ("from_y", "20.5"),
        ("to_x", "90,25"),
        ("to_y", "20.5"),
    ];
    let with = |length: &'static str, more: &[(&'static str, &'static str)]| {
        let mut fields = vec![("id", MARK), ("length", length), ("what", "hem to notch")];
        fields.extend(ends);
        fields.extend_from_slice(more);
        fields
    };
    for (length, field) in [("about 14", "length"), ("0", "length")] {
        let refused = server.post(&new, &with(length, &[]));
        assert!(refused.body.contains(&format!("id=\"{field}-error\"")), "{length}");
    }
    let far = server.post(
        &new,
        &[
            ("id", MARK),
            ("length", "3"),
            ("from_x", "1"),
            ("from_y", "1"),
            ("to_x", "101"),
            ("to_y", "1"),
        ],
    );
    assert!(far.body.contains("id=\"to_x-error\""), "{}", far.text());
    for _ in 0..2 {
        assert_eq!(server.post(&new, &with("14 1/2", &[])).location, address);
    }
    let page = server.get(&address);
    assert!(page.text().contains("hem to notch14 1/2 in 36.8 cm"), "{}", page.text());
    assert!(page.body.contains("class=\"mark-line\""));
    let log = server.get(&format!("{project}/log"));
    assert!(log.body.contains("class=\"mark-line\""), "drawn in the log too");
    assert!(log.text().contains("Marked: hem to notch 14 1/2 in (36.8 cm)"));

    let mark = format!("{address}/marks/{MARK}");
    assert_eq!(server.hidden(&mark, "to_x"), "90.25");
    assert_eq!(server.post(&mark, &with("15", &[("seen", "1")])).status, 303);
    let clash = server.post(&mark, &with("16", &[("seen", "1")]));
    assert_eq!(clash.status, 409);
    assert!(
        clash.text().contains("15 in") && clash.text().contains("16"),
        "{}",
        clash.text()
    );
    let binned = server.post(&format!("{mark}/bin"), &[]);
    let page = server.get(&binned.location);
    assert!(page.text().contains("Undo") && !page.body.contains("class=\"mark-line\""));
    assert_eq!(server.post(&format!("{mark}/restore"), &[]).location, address);
    assert!(server.get(&address).body.contains("class=\"mark-line\""));
    // Photos of other projects, and what is none.
    let other = server.project("Other");
    for path in [
        format!("{other}/photos/{photo}"),
        format!("{project}/photos/..%2f"),
        format!("{address}/marks/{ID}"),
    ] {
        assert_eq!(server.get(&path).status, 404, "{path}");
    }
}

#[test]
fn two_photos_stand_side_by_side_on_the_project_page() {
    let server = Server::empty();
    let (project, [newer, older]) = pictured(&server);
    let address = format!("{project}/before-after");
    assert!(server.get(&format!("{project}/log")).body.contains(&address));
    let page = server.get(&address);
    let ticked = |field: &str, photo: &str| format!("name=\"{field}\" value=\"{photo}\" checked");
    assert!(
        page.body.contains(&ticked("before", &older)),
        "the earliest stands ready"
    );
    assert!(page.body.contains(&ticked("after", &newer)));
    let same = server.post(&address, &[("seen", "0"), ("before", &older), ("after", &older)]);
    assert!(same.body.contains("both are the same"), "{}", same.text());
    let none = server.post(&address, &[("seen", "0"), ("before", "x")]);
    assert_eq!(none.status, 422);
    let saved = server.post(&address, &[("seen", "0"), ("before", &older), ("after", &newer)]);
    assert_eq!(saved.location, format!("{project}#before-after"));
    let page = server.get(&project);
    let (before, after) = (page.body.find("Before: "), page.body.find("After: "));
    assert!(before.is_some() && before < after);
    assert_eq!(
        server
            .post(&address, &[("seen", "0"), ("before", &newer), ("after", &older)])
            .status,
        409
    );
    let binned = server.post(&format!("{address}/bin"), &[]);
    assert!(server.get(&binned.location).text().contains("Undo"));
    assert!(!server.get(&project).body.contains("id=\"before-after\""));
    server.post(&format!("{address}/restore"), &[]);
    assert!(server.get(&project).body.contains("id=\"before-after\""));
    assert_eq!(
        id_after(&server.get(&project).body, &format!("{project}/photos/")).len(),
        36
    );
}
