//! Ready-cut patches, and what the cloth at hand gives.

use crate::plan_forms::{begun, plan, save};
use crate::support::Server;

const CLOTH: [(&str, &str); 9] = [
    ("name", "Oat linen"),
    ("kind", "cloth"),
    ("usable_width", "42 in"),
    ("colour", "#d9cfb8"),
    ("price_per", "yd"),
    ("rem_width_0", "18"),
    ("rem_length_0", "22"),
    ("rem_count_0", "1"),
    ("rem_note_0", ""),
];
const READY: [(&str, &str); 7] = [
    ("ready_shape_0", "rectangle"),
    ("ready_width_0", "5"),
    ("ready_height_0", "12.7 cm"),
    ("ready_count_0", "6"),
    ("ready_shape_1", "hexagon"),
    ("ready_width_1", "2 1/4"),
    ("ready_count_1", "30"),
];

/// The piece of `begun` with a face of 4 in squares.
fn patchwork(server: &Server) -> (String, String, String) {
    let (project, cloth, piece) = begun(server);
    let fields: Vec<(&str, &str)> = vec![
        ("name", "Front"),
        ("cut_count", "2"),
        ("width", "12"),
        ("height", "20"),
        ("margin", "0"),
        ("face", "square"),
        ("arrangement", "all-alike"),
        ("finished", "4 in"),
        ("cloth0_0", cloth.as_str()),
    ];
    let saved = save(server, &format!("{project}/pieces/{piece}"), &fields);
    assert_eq!(saved.status, 303, "{}", saved.text());
    (project, cloth, piece)
}

#[test]
fn ready_cut_patches_are_saved_used_and_come_back() {
    let server = Server::empty();
    let (project, cloth, _) = patchwork(&server);
    let address = format!("{project}/cloths/{cloth}");
    let mut fields = CLOTH.to_vec();
    fields.extend(READY);
    let saved = save(&server, &address, &fields);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let ready = &plan(&server, &project)["cloths"][0]["ready_cut"];
    assert_eq!(ready[0]["height"], "5 in");
    assert_eq!(
        (&ready[1]["shape"], &ready[1]["count"]),
        (&"hexagon".into(), &30.into())
    );
    let form = server.get(&address).body;
    for kept in [
        "value=\"2 1/4 in\"",
        "value=\"30\"",
        "<option value=\"hexagon\" selected",
    ] {
        assert!(form.contains(kept), "{kept}");
    }
    let figures = server.get(&format!("{project}/figures")).text();
    for said in [
        "Ready-cut patches, used first",
        "6 trimmed to 4 1/2 in",
        "hexagons 2 1/4 in",
    ] {
        assert!(figures.contains(said), "{said}: {figures}");
    }
}

#[test]
fn what_is_wrong_stands_beside_its_field_and_stays_typed() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    let mut fields = CLOTH.to_vec();
    fields.extend([
        ("ready_shape_0", "rectangle"),
        ("ready_width_0", "five"),
        ("ready_height_0", ""),
        ("ready_count_0", "6001"),
    ]);
    let refused = save(&server, &format!("{project}/cloths/{cloth}"), &fields);
    assert_eq!(refused.status, 422);
    for said in [
        "Type the second side, for a square the same again.",
        "Type a whole number from 1 to 5000.",
        "five",
    ] {
        assert!(refused.body.contains(said), "{said}");
    }
    assert!(plan(&server, &project)["cloths"][0]["ready_cut"].is_null());
}

/// Care has no field here and must not be lost by saving this form.
#[test]
fn what_the_form_does_not_show_stays() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    let address = format!("{project}/cloths/{cloth}");
    let mut fields = CLOTH.to_vec();
    fields.extend(READY);
    assert_eq!(save(&server, &address, &fields).status, 303);
    // Taken out again by clearing the rows.
    assert_eq!(save(&server, &address, &CLOTH).status, 303);
    let after = plan(&server, &project);
    assert!(after["cloths"][0]["ready_cut"].is_null());
    assert_eq!(after["cloths"][0]["remnants"][0]["width"], "18 in");
    assert!(after["cloths"][0]["stock"].is_string());
}

/// A cloth described in a plan goes on the shelf with its ready-cut patches,
/// and comes from there into another plan with them.
#[test]
fn stock_comes_with_the_cloth() {
    let server = Server::empty();
    let project = server.project("First");
    let mut fields = CLOTH.to_vec();
    fields.extend(READY);
    assert_eq!(save(&server, &format!("{project}/cloths/new"), &fields).status, 303);
    assert!(
        server.get("/cloth").text().contains("Ready-cut patches36"),
        "{}",
        server.get("/cloth").text()
    );
    let other = server.project("Second");
    let choose = server.get(&format!("{other}/cloths/choose"));
    assert!(
        choose.text().contains("1 remnant and 36 ready-cut patches"),
        "{}",
        choose.text()
    );
    let address = format!("{other}/cloths/choose");
    let (seen, stock) = (server.hidden(&address, "seen"), server.hidden(&address, "stock"));
    assert_eq!(server.post(&address, &[("seen", &seen), ("stock", &stock)]).status, 303);
    assert_eq!(plan(&server, &other)["cloths"][0]["ready_cut"][0]["count"], 6);
}

#[test]
fn the_cloth_at_hand_gives_so_much() {
    let server = Server::empty();
    let (project, cloth, piece) = patchwork(&server);
    let address = format!("{project}/leftovers");
    assert!(
        server.get(&address).text().contains("0 of 2"),
        "{}",
        server.get(&address).text()
    );
    let mut fields = CLOTH.to_vec();
    fields.extend(READY);
    assert_eq!(save(&server, &format!("{project}/cloths/{cloth}"), &fields).status, 303);
    assert!(server.get(&format!("{project}/figures")).body.contains("/leftovers"));
    assert!(server.get(&project).body.contains("/leftovers"));
    // 16 squares of the remnant, 1 in lost to straightening (21 in are four still), 6 ready cut: 22.
    let shown = server.get(&address).text();
    assert!(shown.contains("1 of 2"), "{shown}");
    let asked = server.get(&format!("{address}?piece={piece}&finished=4+in&wide=1&high=1"));
    assert_eq!(asked.status, 200);
    assert!(asked.text().contains("5 × 4 units"), "{}", asked.text());
    // What is wrong stays typed.
    let wrong = server.get(&format!("{address}?piece={piece}&finished=no&wide=0&high=1"));
    assert!(wrong.body.contains("value=\"no\"") && wrong.body.contains("Type a whole number from 1 to 100."));
    let tiny = server.get(&format!("{address}?piece={piece}&finished=1%2F8+in&wide=1&high=1"));
    assert!(
        tiny.status == 200 && tiny.body.contains("role=\"note\""),
        "{}",
        tiny.text()
    );
}
