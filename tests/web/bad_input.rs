//! Whatever is typed: a clear sentence beside the field, what was typed kept,
//! nothing saved, no panic.

use crate::plan_forms::{PIECE, begun, plan, save};
use crate::support::Server;

/// Changes one field of the piece and says what the page answers.
fn piece_with(changes: &[(&'static str, &'static str)]) -> (u16, String, String) {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let before = plan(&server, &project);
    let mut fields: Vec<(&str, &str)> = PIECE.to_vec();
    for (name, value) in changes {
        let value = if *value == "CLOTH" { cloth.as_str() } else { value };
        fields.retain(|(n, _)| n != name);
        fields.push((name, value));
    }
    let reply = save(&server, &format!("{project}/pieces/{piece}"), &fields);
    if reply.status != 303 {
        assert_eq!(plan(&server, &project), before, "nothing is saved");
        for (name, value) in changes.iter().filter(|(_, v)| *v != "CLOTH") {
            let kept = reply
                .body
                .contains(&format!("name=\"{name}\" value=\"{}\"", escaped(value)))
                || reply.body.contains(&format!("value=\"{}\" checked", escaped(value)))
                || reply
                    .body
                    .contains(&format!("<option value=\"{}\" selected", escaped(value)));
            assert!(kept, "{name}={value} is kept in the form");
        }
    }
    let text = reply.text();
    (reply.status, reply.body, text)
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

fn refused(changes: &[(&'static str, &'static str)], sentence: &str, beside: &str) {
    let (status, body, text) = piece_with(changes);
    assert_eq!(status, 422, "{changes:?}: {text}");
    assert!(text.contains(sentence), "{changes:?} says: {text}");
    assert!(
        body.contains(&format!("id=\"{beside}-error\"")),
        "{changes:?}: the sentence stands beside {beside}"
    );
    assert!(text.contains("Nothing you typed is lost"), "{text}");
}

#[test]
fn lengths_that_cannot_be() {
    refused(&[("width", "0")], "must be more than nothing", "width");
    refused(&[("width", "-4")], "cannot be negative", "width");
    refused(&[("width", "9999999")], "longer than 200 m", "width");
    refused(&[("width", "99999999999999999999")], "longer than 200 m", "width");
    refused(
        &[("width", "wide <b>\"enough\"</b>")],
        "cannot be read as a length",
        "width",
    );
    refused(&[("height", "")], "Type a length", "height");
    refused(&[("height", "1/0")], "fraction over nothing", "height");
    refused(&[("alt_by_0", "-40")], "", "alt_by_0");
}

#[test]
fn counts_and_names_that_cannot_be() {
    refused(&[("name", "")], "Give the piece a name", "name");
    refused(&[("cut_count", "0")], "whole number from 1", "cut_count");
    refused(&[("cut_count", "two")], "whole number from 1", "cut_count");
    refused(&[("cut_count", "99999999999")], "whole number from 1", "cut_count");
    refused(&[("cut_count", "3")], "even", "cut_count");
}

#[test]
fn a_finished_size_bigger_than_the_piece() {
    let face = [
        ("face", "square"),
        ("arrangement", "all-alike"),
        ("cloth0_0", "CLOTH"),
        ("finished", "60 in"),
    ];
    refused(&face, "", "finished");
}

#[test]
fn take_up_of_all_of_it() {
    refused(&[("quilted", "yes"), ("take_up", "100")], "", "take_up");
    refused(
        &[("quilted", "yes"), ("take_up", "a lot")],
        "is not a percentage",
        "take_up",
    );
}

#[test]
fn a_place_without_a_cloth() {
    let face = [
        ("face", "half-square-triangle"),
        ("arrangement", "all-alike"),
        ("finished", "4 in"),
        ("cloth0_0", "CLOTH"),
    ];
    refused(&face, "Choose a cloth for this place", "cloth1_0");
}

#[test]
fn a_cloth_narrower_than_one_patch_is_named() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let mut fields = PIECE.to_vec();
    fields[8] = ("face", "square");
    fields.extend([
        ("finished", "4 in"),
        ("arrangement", "all-alike"),
        ("cloth0_0", cloth.as_str()),
    ]);
    assert_eq!(save(&server, &format!("{project}/pieces/{piece}"), &fields).status, 303);
    let narrow = [
        ("name", "Oat linen"),
        ("kind", "cloth"),
        ("usable_width", "3 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
    ];
    let reply = save(&server, &format!("{project}/cloths/{cloth}"), &narrow);
    // Whether the form refuses it or the plan says so: the sentence names the cloth.
    let text = if reply.status == 303 {
        server.get(&project).text()
    } else {
        reply.text()
    };
    assert!(
        text.contains("Oat linen") && (text.contains("narrow") || text.contains("wide")),
        "{text}"
    );
    assert!(server.get(&format!("{project}/figures")).status == 200);
}

#[test]
fn links_that_are_no_links() {
    let server = Server::empty();
    let project = server.project("Links");
    let cloth = [
        ("name", "Linen"),
        ("kind", "cloth"),
        ("usable_width", "42 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
        ("link", "javascript:alert(1)"),
    ];
    let reply = save(&server, &format!("{project}/cloths/new"), &cloth);
    assert_eq!(reply.status, 422);
    assert!(reply.text().contains("A link starts with https://"), "{}", reply.text());
}

#[test]
fn addresses_that_are_not_there() {
    let server = Server::empty();
    let project = server.project("There");
    for path in [
        "/nothing".to_string(),
        "/projects/not-an-id".into(),
        "/projects/01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a".into(),
        format!("{project}/pieces/p99"),
        format!("{project}/revisions/99"),
        format!("{project}/revisions/abc"),
        "/photos/0000/page".into(),
        "/photos/../../etc/passwd".into(),
        "/static/x/../../Cargo.toml".into(),
        "/s/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA".into(),
    ] {
        let reply = server.get(&path);
        assert_eq!(reply.status, 404, "{path}");
    }
    assert_eq!(server.get("/api/projects/not-an-id/figures").status, 404);
}

#[test]
fn a_form_too_large_to_be_one() {
    let server = Server::empty();
    let big = "x".repeat(3 * 1024 * 1024);
    let reply = server.post("/projects/new", &[("title", &big)]);
    assert_eq!(reply.status, 400);
    assert!(reply.text().contains("larger than 2 MiB"), "{}", reply.text());
    let long = "x".repeat(5000);
    let reply = server.post("/projects/new", &[("title", &long), ("state", "planning")]);
    assert_eq!(reply.status, 422);
    assert!(reply.text().contains("5000 characters long"), "{}", reply.text());
}
