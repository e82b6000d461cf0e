//! Two devices save the same thing: what does not clash is put together, of
//! what clashes both are shown, and nothing is undone behind someone's back.

use crate::pictures::jpeg;
use crate::plan_forms::save;
use crate::support::Server;

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b7a";
const ENTRY: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b7b";

const DETAILS: [(&str, &str); 8] = [
    ("title", "Picnic blanket"),
    ("state", "planning"),
    ("wearer", ""),
    ("for_whom", ""),
    ("pattern_name", ""),
    ("pattern_size", ""),
    ("due", ""),
    ("about_text", ""),
];

/// The form of the details with some fields typed anew.
fn details<'a>(seen: &'a str, typed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut form = DETAILS.to_vec();
    for (name, value) in typed {
        form.retain(|(n, _)| n != name);
        form.push((name, value));
    }
    form.push(("seen", seen));
    form
}

#[test]
fn two_devices_that_change_different_fields_are_put_together() {
    let server = Server::empty();
    let project = server.project("Picnic blanket");
    let address = format!("{project}/details");
    let seen = server.hidden(&address, "seen");
    assert_eq!(
        server.post(&address, &details(&seen, &[("due", "2027-06-01")])).status,
        303
    );
    assert_eq!(
        server
            .post(
                &address,
                &details(&seen, &[("about_text", "for the lake\r\nand the dog")])
            )
            .status,
        303
    );
    let form = server.get(&address).body;
    assert!(
        form.contains("2027-06-01") && form.contains("for the lake\nand the dog"),
        "{form}"
    );
    // The same sent once more, its answer lost: it says what is there already.
    assert_eq!(
        server
            .post(
                &address,
                &details(&seen, &[("about_text", "for the lake\r\nand the dog")])
            )
            .status,
        303
    );
    assert!(server.get(&address).body.contains("2027-06-01"));
    // Both name it anew: both are shown, what does not clash is in the form.
    let seen = server.hidden(&address, "seen");
    let mut phone = details(&seen, &[("title", "Lake blanket"), ("due", "2027-06-01")]);
    phone.push(("about_text", ""));
    assert_eq!(server.post(&address, &phone).status, 303);
    let clash = server.post(
        &address,
        &details(&seen, &[("title", "Dog's blanket"), ("due", "2027-07-01")]),
    );
    assert_eq!(clash.status, 409);
    let text = clash.text();
    assert!(
        text.contains("Nothing is lost") && text.contains("Lake blanket") && text.contains("Dog's blanket"),
        "{text}"
    );
    assert!(clash.body.contains("value=\"2027-07-01\""), "{}", clash.body);
    assert_eq!(server.get(&project).text().matches("Dog's blanket").count(), 0);
}

#[test]
fn photos_put_to_one_entry_on_two_devices_are_all_there() {
    let server = Server::empty();
    let project = server.project("Picnic blanket");
    let note = [
        ("id", ENTRY),
        ("text", "The corners"),
        ("day", "2026-10-01"),
        ("time", "10:00"),
    ];
    let kept = server.post(&format!("{project}/log/add/note"), &note);
    assert_eq!(kept.status, 303, "{}", kept.text());
    let edit = format!("{project}/log/{ENTRY}");
    let seen = server.hidden(&edit, "seen");
    let form = [
        ("seen", seen.as_str()),
        ("text", "The corners"),
        ("day", "2026-10-01"),
        ("time", "10:00"),
    ];
    for (name, seed) in [("a.jpg", 1), ("b.jpg", 2)] {
        let photo = jpeg(64, 48, seed);
        let saved = server.post_files(&edit, &form, &[("photos", name, &photo)]);
        assert_eq!(saved.status, 303, "{}", saved.text());
    }
    let shown = server.get(&edit).body;
    assert_eq!(shown.matches("name=\"drop\"").count(), 2);
    // The other device's text stands although this one never saw it.
    let longer = [
        ("seen", seen.as_str()),
        ("text", "The corners, mitred"),
        ("day", "2026-10-01"),
        ("time", "10:00"),
    ];
    assert_eq!(server.post_files(&edit, &longer, &[]).status, 303);
    let shown = server.get(&edit).body;
    assert!(
        shown.contains("The corners, mitred") && shown.matches("name=\"drop\"").count() == 2,
        "{shown}"
    );
}

#[test]
fn an_undo_from_a_page_that_is_behind_shows_both_plans() {
    let server = Server::empty();
    let project = server.project("Picnic blanket");
    let edge = |name: &'static str| {
        [
            ("name", name),
            ("length", "40 in"),
            ("count", "4"),
            ("corners", "0"),
            ("closed", ""),
        ]
    };
    for name in ["Long side", "Short side"] {
        let saved = save(&server, &format!("{project}/edges/new"), &edge(name));
        assert_eq!(saved.status, 303, "{}", saved.text());
    }
    let undo = format!("{project}/undo");
    let plan = |server: &Server| server.get(&format!("/api{project}/plan")).body;
    let before = plan(&server);
    let refused = server.post(&undo, &[("seen", "2")]);
    assert_eq!(refused.status, 409);
    let text = refused.text();
    assert!(text.contains("nothing was undone yet"), "{text}");
    assert!(text.contains("Revision 2 and revision 3"), "{text}");
    assert!(text.contains("Binding") || text.contains("No figure differs"), "{text}");
    assert_eq!(plan(&server), before);
    let refused = server.post(&format!("{project}/revisions/1/take"), &[("seen", "2")]);
    assert_eq!(refused.status, 409);
    assert!(
        refused.text().contains("nothing was taken again yet"),
        "{}",
        refused.text()
    );
    assert_eq!(plan(&server), before);
    assert_eq!(server.post(&undo, &[("seen", "3")]).status, 303);
    assert_ne!(plan(&server), before);
}

#[test]
fn a_version_taken_again_from_a_page_that_is_behind_shows_what_is_there() {
    let server = Server::empty();
    let wearer = format!("/wearers/{ID}");
    server.post("/wearers/new", &[("id", ID), ("name", "Oda"), ("kind", "adult")]);
    for (name, seen) in [("Oda V.", "1"), ("Oda Vale", "2")] {
        let saved = server.post(
            &format!("{wearer}/details"),
            &[("seen", seen), ("name", name), ("kind", "adult"), ("note", "")],
        );
        assert_eq!(saved.status, 303, "{}", saved.text());
    }
    let behind = server.post(&format!("{wearer}/versions/1/take"), &[("seen", "2")]);
    assert_eq!(behind.status, 409);
    let text = behind.text();
    assert!(text.contains("nothing was taken again yet"), "{text}");
    assert!(text.contains("Oda V.") && text.contains("Oda Vale"), "{text}");
    assert!(
        behind.body.contains("name=\"seen\" value=\"3\""),
        "it can be chosen again"
    );
    assert!(server.get(&wearer).text().contains("Oda Vale"));
    // Details of a project likewise.
    let project = server.project("Picnic blanket");
    let address = format!("{project}/details");
    for (due, seen) in [("2027-06-01", "1"), ("2027-07-01", "2")] {
        assert_eq!(server.post(&address, &details(seen, &[("due", due)])).status, 303);
    }
    let behind = server.post(&format!("{address}/versions/1/take"), &[("seen", "2")]);
    assert_eq!(behind.status, 409, "{}", behind.text());
    assert!(
        behind.text().contains("nothing was taken again yet"),
        "{}",
        behind.text()
    );
}
