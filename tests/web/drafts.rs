//! Drafting through the pages: what is typed becomes pieces as large as their
//! outlines, bad measures are told beside their fields, nothing typed is lost.

use crate::plan_forms::{plan, save};
use crate::support::{Reply, Server};

const POCKET: [(&str, &str); 6] = [
    ("name", "Breast pocket"),
    ("width", "5 in"),
    ("height", "6 in"),
    ("corners", "1 in"),
    ("hem", "1 in"),
    ("seam", "3/8 in"),
];

const HOOD: [(&str, &str); 10] = [
    ("name", "Hood"),
    ("half_neckline", "22 cm"),
    ("drop", "3 cm"),
    ("height", "33 cm"),
    ("depth", "24 cm"),
    ("strip", "10 cm"),
    ("face_curve", ""),
    ("room", "4 cm"),
    ("face_hem", "2.5 cm"),
    ("seam", "1 cm"),
];

fn with<'a>(fields: &[(&'a str, &'a str)], name: &str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    let mut all = fields.to_vec();
    for field in &mut all {
        if field.0 == name {
            field.1 = value;
        }
    }
    all
}

fn pocket(server: &Server) -> (String, String, String) {
    let project = server.project("Shirt");
    let saved = save(server, &format!("{project}/drafts/new-patch-pocket"), &POCKET);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let plan = plan(server, &project);
    let draft = plan["drafts"][0]["id"].as_str().expect("a draft").to_string();
    let piece = plan["pieces"][0]["id"].as_str().expect("a piece").to_string();
    (project, draft, piece)
}

/// The value of a field as the page shows it.
fn shown(page: &Reply, name: &str) -> String {
    let at = page.body.find(&format!("name=\"{name}\"")).expect(name);
    let value = page.body[at..].find("value=\"").expect("a value") + at + 7;
    page.body[value..].chars().take_while(|c| *c != '"').collect()
}

#[test]
fn what_can_be_drafted_is_shown_and_each_has_its_form() {
    let server = Server::empty();
    let (project, _, _) = pocket(&server);
    let page = server.get(&format!("{project}/drafts"));
    assert_eq!(page.status, 200);
    let mut found = 0;
    for link in page.body.split("href=\"").skip(1) {
        let link = link.split('"').next().unwrap_or_default();
        if link.contains("/drafts/new-") {
            let form = server.get(link);
            assert_eq!(form.status, 200, "{link}");
            assert!(form.body.contains("<svg class=\"shape\""), "{link} is drawn");
            found += 1;
        }
    }
    assert!(found >= 10, "{found}");
    assert_eq!(server.get(&format!("{project}/drafts/new-something")).status, 404);
}

#[test]
fn a_draft_makes_its_pieces_as_large_as_their_outlines() {
    let server = Server::empty();
    let (project, draft, piece) = pocket(&server);
    let made = plan(&server, &project);
    // 5 in and two seams of 3/8; 6 in, one seam, and the hem of 1.
    assert_eq!(made["pieces"][0]["width"], "5 3/4 in");
    assert_eq!(made["pieces"][0]["height"], "7 3/8 in");
    assert_eq!(made["pieces"][0]["name"], "Pocket");
    // The draft's measures change its piece.
    let address = format!("{project}/drafts/{draft}");
    assert_eq!(shown(&server.get(&address), "width"), "5 in");
    assert_eq!(save(&server, &address, &with(&POCKET, "width", "5 1/2 in")).status, 303);
    let made = plan(&server, &project);
    assert_eq!(made["pieces"][0]["width"], "6 1/4 in");
    assert_eq!(made["pieces"].as_array().map(Vec::len), Some(1));
    // The piece's own form keeps its outline and does not ask for its size.
    let form = server.get(&format!("{project}/pieces/{piece}"));
    assert!(!form.body.contains("name=\"width\""));
    assert!(form.text().contains("as its outline says"));
    let fields = [
        ("name", "Chest pocket"),
        ("cut_count", "2"),
        ("face", "none"),
        ("margin", "0"),
    ];
    let saved = save(&server, &format!("{project}/pieces/{piece}"), &fields);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project);
    assert_eq!(made["pieces"][0]["name"], "Chest pocket");
    assert_eq!(made["pieces"][0]["width"], "6 1/4 in");
    assert_eq!(made["pieces"][0]["pattern"]["from"]["draft"]["draft"], draft.as_str());
}

#[test]
fn a_hood_makes_two_sides_and_a_strip_and_goes_with_them() {
    let server = Server::empty();
    let project = server.project("Coat");
    let address = format!("{project}/drafts/new-three-panel-hood");
    assert_eq!(save(&server, &address, &HOOD).status, 303);
    let made = plan(&server, &project);
    let names: Vec<&str> = made["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|p| p["name"].as_str())
        .collect();
    assert_eq!(names, ["Hood side", "Hood centre strip"]);
    assert_eq!(made["pieces"][0]["mirrored"], true);
    assert_eq!(made["pieces"][0]["cut_count"], 2);
    let draft = made["drafts"][0]["id"].as_str().unwrap().to_string();
    let seen = server.hidden(&format!("{project}/drafts/{draft}"), "seen");
    let gone = server.post(&format!("{project}/drafts/{draft}/remove"), &[("seen", seen.as_str())]);
    assert_eq!(gone.status, 303);
    let made = plan(&server, &project);
    assert_eq!(made["pieces"].as_array().map(Vec::len), Some(0));
    assert!(made.get("drafts").is_none());
    // Undone, all of it is there again.
    let revisions = server.get(&format!("{project}/revisions"));
    assert!(revisions.text().contains("Hood taken out"), "{}", revisions.text());
}

#[test]
fn measures_that_cannot_be_drafted_are_told_beside_their_fields_and_kept() {
    let server = Server::empty();
    let project = server.project("Coat");
    let address = format!("{project}/drafts/new-three-panel-hood");
    for (field, typed, said) in [
        ("height", "8 cm", "lies lower than its neckline allows"),
        ("drop", "15 cm", "too steep"),
        ("strip", "40 cm", "too little of the neckline"),
        ("depth", "9 cm", "shallower than its neckline"),
        ("height", "", "Type"),
        ("half_neckline", "1/0", "over nothing"),
        ("half_neckline", "90 m", "at most"),
        ("face_curve", "30 cm", "too much for this depth"),
        ("seam", "50 cm", "at most"),
        ("name", "", "Give the draft a name"),
    ] {
        let refused = save(&server, &address, &with(&HOOD, field, typed));
        assert_eq!(refused.status, 422, "{field} {typed}");
        assert!(refused.text().contains(said), "{field} {typed}: {}", refused.text());
        assert!(
            refused.body.contains(&format!("id=\"{field}-error\"")),
            "{field} {typed}"
        );
        assert_eq!(shown(&refused, field), typed);
        assert_eq!(shown(&refused, "room"), "4 cm", "the rest is kept");
    }
    assert_eq!(plan(&server, &project)["pieces"].as_array().map(Vec::len), Some(0));
}

#[test]
fn what_is_typed_is_drawn_and_nothing_saved() {
    let server = Server::empty();
    let (project, draft, piece) = pocket(&server);
    let before = plan(&server, &project);
    let tried = server.post(
        &format!("{project}/drafts/{draft}/try"),
        &with(&POCKET, "height", "9 in"),
    );
    assert!(tried.body.contains("<svg class=\"shape\""), "{}", tried.body);
    assert!(tried.text().contains("10 3/8 in (26.4 cm) high"), "{}", tried.text());
    assert!(tried.text().contains("cautions") || tried.status == 200);
    // Without script: the whole page again.
    let drawn = server.post(
        &format!("{project}/drafts/{draft}/draw"),
        &with(&POCKET, "height", "9 in"),
    );
    assert_eq!(drawn.status, 200);
    assert!(drawn.body.contains("<svg class=\"shape\"") && shown(&drawn, "height") == "9 in");
    let drawn = server.post(&format!("{project}/drafts/{draft}/draw"), &with(&POCKET, "height", "x"));
    assert!(drawn.body.contains("id=\"height-error\""));
    let outline = server.post(
        &format!("{project}/pieces/{piece}/outline/draw"),
        &[("allowance_0", "wide")],
    );
    assert!(outline.body.contains("id=\"allowance_0-error\""));
    assert_eq!(plan(&server, &project), before);
}

/// What the form of an outline holds, so that one field of it can be changed.
fn outline_fields(server: &Server, address: &str) -> Vec<(String, String)> {
    let page = server.get(address);
    assert_eq!(page.status, 200);
    let mut fields = Vec::new();
    let edges = page.body.matches("<select id=\"kind_").count();
    assert!(edges >= 3, "{edges}");
    for i in 0..edges {
        fields.push((format!("allowance_{i}"), shown(&page, &format!("allowance_{i}"))));
        for list in ["kind", "corner"] {
            let name = format!("{list}_{i}");
            let at = page.body.find(&format!("<select id=\"{name}\"")).expect("a list");
            let body = &page.body[at..];
            let body = &body[..body.find("</select>").expect("its end")];
            let chosen = body.find(" selected").expect("a choice");
            let value = body[..chosen].rsplit("value=\"").next().unwrap_or_default();
            fields.push((name, value.trim_end_matches('"').to_string()));
        }
    }
    fields
}

fn send(server: &Server, address: &str, fields: &[(String, String)], more: &[(&str, &str)]) -> Reply {
    let mut all: Vec<(&str, &str)> = fields.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
    for (name, value) in more {
        all.retain(|(known, _)| known != name);
        all.push((name, value));
    }
    save(server, address, &all)
}

#[test]
fn edges_are_finished_and_outlines_changed_with_their_reasons() {
    let server = Server::empty();
    let (project, _, piece) = pocket(&server);
    let address = format!("{project}/pieces/{piece}/outline");
    let fields = outline_fields(&server, &address);
    let change = [
        ("change_0", "height"),
        ("at_0", "2 in"),
        ("by_0", "+1 in"),
        ("reason_0", "deeper for the phone"),
        ("allowance_1", "1/2 in"),
    ];
    let saved = send(&server, &address, &fields, &change);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project);
    let pattern = &made["pieces"][0]["pattern"];
    // The side runs round its corner into the bottom: an eighth more there too.
    assert_eq!(made["pieces"][0]["height"], "8 1/2 in");
    assert_eq!(made["pieces"][0]["width"], "5 7/8 in");
    assert_eq!(pattern["changes"][0]["reason"], "deeper for the phone");
    assert_eq!(
        pattern["finish"].as_array().map(Vec::len),
        Some(1),
        "only what differs is kept"
    );
    let revisions = server.get(&format!("{project}/revisions"));
    assert!(
        revisions.text().contains("Pocket: outline changed"),
        "{}",
        revisions.text()
    );
    for (more, beside, said) in [
        (
            [("change_0", "height"), ("at_0", "9 in"), ("by_0", "1 in")],
            "at_0",
            "does not cross",
        ),
        (
            [("change_0", "round"), ("edge_0", ""), ("by_0", "1 in")],
            "edge_0",
            "Choose the edge",
        ),
        ([("change_0", "add"), ("edge_0", "bottom"), ("by_0", "far")], "by_0", ""),
        (
            [("change_0", ""), ("edge_0", ""), ("by_0", "1 in")],
            "change_0",
            "Choose what is changed",
        ),
        (
            [("kind_0", "bound"), ("edge_0", ""), ("by_0", "")],
            "allowance_0",
            "covered by a binding",
        ),
    ] {
        let refused = send(&server, &address, &fields, &more);
        assert_eq!(refused.status, 422, "{more:?}");
        assert!(
            refused.body.contains(&format!("id=\"{beside}-error\"")),
            "{more:?} {}",
            refused.text()
        );
        assert!(refused.text().contains(said), "{more:?} {}", refused.text());
    }
    // Taken off, the piece stays as the rectangle it was cut from.
    let seen = server.hidden(&address, "seen");
    assert_eq!(
        server
            .post(&format!("{address}/remove"), &[("seen", seen.as_str())])
            .status,
        303
    );
    let made = plan(&server, &project);
    assert_eq!(made["pieces"][0]["height"], "8 1/2 in");
    assert!(made["pieces"][0].get("pattern").is_none());
    assert_eq!(server.get(&address).status, 404);
}

#[test]
fn an_edge_to_bind_follows_the_outline_it_is_taken_from() {
    let server = Server::empty();
    let (project, draft, piece) = pocket(&server);
    let from = format!("{piece}/bottom");
    let edge = [
        ("name", "Pocket bottom"),
        ("from", from.as_str()),
        ("length", ""),
        ("count", "2"),
        ("corners", "0"),
    ];
    let saved = save(&server, &format!("{project}/edges/new"), &edge);
    assert_eq!(saved.status, 303, "{}", saved.text());
    assert_eq!(plan(&server, &project)["edges"][0]["length"], "3 in");
    let address = format!("{project}/drafts/{draft}");
    assert_eq!(save(&server, &address, &with(&POCKET, "width", "7 in")).status, 303);
    assert_eq!(plan(&server, &project)["edges"][0]["length"], "5 in");
}

#[test]
fn a_draft_changed_on_one_device_and_its_piece_on_another_do_not_clash() {
    let server = Server::empty();
    let (project, draft, piece) = pocket(&server);
    let seen = server.hidden(&format!("{project}/pieces/{piece}"), "seen");
    let address = format!("{project}/drafts/{draft}");
    assert_eq!(save(&server, &address, &with(&POCKET, "width", "7 in")).status, 303);
    let fields = [
        ("seen", seen.as_str()),
        ("name", "Renamed"),
        ("cut_count", "1"),
        ("face", "none"),
        ("margin", "0"),
    ];
    let saved = server.post(&format!("{project}/pieces/{piece}"), &fields);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project);
    assert_eq!(made["pieces"][0]["name"], "Renamed");
    assert_eq!(made["pieces"][0]["width"], "7 3/4 in");
    // The same draft on both is shown side by side.
    let mut other = with(&POCKET, "width", "8 in");
    other.push(("seen", seen.as_str()));
    let clash = server.post(&address, &other);
    assert_eq!(clash.status, 409);
    assert!(clash.body.contains("7 in") && clash.body.contains("8 in"));
}

#[test]
fn a_draft_sent_twice_is_there_once() {
    let server = Server::empty();
    let project = server.project("Shirt");
    let address = format!("{project}/drafts/new-patch-pocket");
    let (seen, part) = (server.hidden(&address, "seen"), server.hidden(&address, "part_id"));
    let mut fields = vec![("seen", seen.as_str()), ("part_id", part.as_str())];
    fields.extend_from_slice(&POCKET);
    assert_eq!(server.post(&address, &fields).status, 303);
    assert_eq!(server.post(&address, &fields).status, 303);
    let made = plan(&server, &project);
    assert_eq!(made["drafts"].as_array().map(Vec::len), Some(1));
    assert_eq!(made["pieces"].as_array().map(Vec::len), Some(1));
}

#[test]
fn a_new_project_takes_the_drafts_of_its_pieces_over() {
    let server = Server::empty();
    let (project, draft, _) = pocket(&server);
    let again = [("title", "Next"), ("state", "planning"), ("take", "pieces")];
    let made = server.post(&format!("{project}/again"), &again);
    assert_eq!(made.status, 303, "{}", made.body);
    let next = plan(&server, &made.location);
    assert_eq!(next["drafts"], plan(&server, &project)["drafts"]);
    assert_eq!(next["pieces"][0]["width"], "5 3/4 in");
    let changed = save(
        &server,
        &format!("{}/drafts/{draft}", made.location),
        &with(&POCKET, "width", "6 in"),
    );
    assert_eq!(changed.status, 303);
    assert_eq!(plan(&server, &made.location)["pieces"][0]["width"], "6 3/4 in");
    assert_eq!(
        plan(&server, &project)["pieces"][0]["width"],
        "5 3/4 in",
        "the first is as it was"
    );
}

#[test]
fn a_variant_has_drafts_of_its_own() {
    let server = Server::empty();
    let (project, draft, _) = pocket(&server);
    let begun = server.post(&format!("{project}/variants"), &[]);
    assert!(begun.status == 303 || begun.status == 200, "{}", begun.status);
    let address = format!("/variants/a{project}/drafts/{draft}");
    let page = server.get(&address);
    assert_eq!(page.status, 200, "{}", page.text());
    assert_eq!(save(&server, &address, &with(&POCKET, "width", "7 in")).status, 303);
    assert_eq!(shown(&server.get(&address), "width"), "7 in");
    assert_eq!(
        plan(&server, &project)["pieces"][0]["width"],
        "5 3/4 in",
        "the plan is as it was"
    );
}

#[test]
fn a_facing_follows_the_edge_of_a_piece() {
    let server = Server::empty();
    let project = server.project("Coat");
    assert_eq!(
        save(&server, &format!("{project}/drafts/new-three-panel-hood"), &HOOD).status,
        303
    );
    let made = plan(&server, &project);
    let along = format!("{}/face", made["pieces"][0]["id"].as_str().unwrap());
    let fields = [
        ("name", "Face facing"),
        ("along", along.as_str()),
        ("width", "4 cm"),
        ("count", "2"),
        ("pair", "yes"),
        ("seam", "1 cm"),
    ];
    let address = format!("{project}/drafts/new-shaped-facing");
    let saved = save(&server, &address, &fields);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let facing = plan(&server, &project)["pieces"][2].clone();
    assert_eq!(facing["name"], "Facing");
    // 37 cm of face edge, its neck end and its upper end each with a seam of 1 cm.
    assert_eq!(facing["height"], "39 cm".replace(" cm", "0 mm").as_str());
    let refused = save(&server, &address, &with(&fields, "along", ""));
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("id=\"along-error\""));
    let refused = save(&server, &address, &with(&fields, "width", "45 cm"));
    assert_eq!(refused.status, 422, "wider than the piece");
    assert!(refused.body.contains("id=\"width-error\""));
}

/// A pair of sides with a face edge of 37 cm each: a band round both is 74 cm
/// long, whatever stands in its own field, and follows them.
#[test]
fn a_band_takes_its_length_from_the_edges_it_is_sewn_to() {
    let server = Server::empty();
    let project = server.project("Coat");
    let hood = format!("{project}/drafts/new-three-panel-hood");
    assert_eq!(save(&server, &hood, &HOOD).status, 303);
    let made = plan(&server, &project);
    let (side, draft) = (
        made["pieces"][0]["id"].as_str().unwrap(),
        made["drafts"][0]["id"].as_str().unwrap(),
    );
    let face = format!("{side}/face");
    let fields = [
        ("name", "Face band"),
        ("length", ""),
        ("width", "3 cm"),
        ("overlap", ""),
        ("count", "1"),
        ("sewn_0", face.as_str()),
        ("sewn_times_0", ""),
        ("sewn_1", ""),
        ("sewn_times_1", ""),
        ("shorter_by", "1 cm"),
        ("seam", "1 cm"),
    ];
    let address = format!("{project}/drafts/new-band");
    let form = server.get(&address);
    assert!(form.body.contains("Hood side: face"), "edges to choose from");
    assert_eq!(save(&server, &address, &fields).status, 303);
    let band = |plan: &serde_json::Value| {
        (
            plan["drafts"][1]["kind"]["band"]["length"].clone(),
            plan["pieces"][2]["height"].clone(),
        )
    };
    let first = plan(&server, &project);
    assert_eq!(band(&first), ("730 mm".into(), "750 mm".into()), "{first}");
    let page = server.get(&format!(
        "{project}/drafts/{}",
        first["drafts"][1]["id"].as_str().unwrap()
    ));
    assert!(
        page.body.contains("2 × 14 9/16 in (37.0 cm)") && page.body.contains("28 3/4 in (73.0 cm)"),
        "{}",
        page.text()
    );

    assert_eq!(
        shown(&page, "length"),
        "28 3/4 in",
        "in its field as a tape would be read"
    );

    // The hood is made 2 cm higher; the band is 4 cm longer.
    let higher = save(
        &server,
        &format!("{project}/drafts/{draft}"),
        &with(&HOOD, "height", "35 cm"),
    );
    assert_eq!(higher.status, 303);
    assert_eq!(plan(&server, &project)["pieces"][2]["height"], "790 mm");

    // Counted once, or wrongly.
    let once = with(&fields, "sewn_times_0", "1");
    assert_eq!(save(&server, &address, &once).status, 303);
    assert_eq!(plan(&server, &project)["drafts"][2]["kind"]["band"]["length"], "380 mm");
    let refused = save(&server, &address, &with(&fields, "sewn_times_0", "twice"));
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("id=\"sewn_times_0-error\"") && refused.body.contains("value=\"twice\""));
    let refused = save(
        &server,
        &address,
        &with(&with(&fields, "sewn_0", ""), "sewn_times_0", "2"),
    );
    assert!(
        refused.status == 422 && refused.body.contains("id=\"sewn_0-error\""),
        "{}",
        refused.text()
    );
    let refused = save(&server, &address, &with(&fields, "shorter_by", "90 cm"));
    assert!(refused.status == 422 && refused.body.contains("id=\"shorter_by-error\""));
    // Nothing chosen and nothing typed.
    let refused = save(&server, &address, &with(&fields, "sewn_0", ""));
    assert!(
        refused.status == 422 && refused.body.contains("id=\"length-error\""),
        "{}",
        refused.text()
    );
    // The piece is gone: said beside the edges, what was chosen is kept.
    let refused = save(&server, &address, &with(&fields, "sewn_0", "p-none/face"));
    assert_eq!(refused.status, 422);
    assert!(
        refused.body.contains("id=\"sewn_to-error\"") && refused.body.contains("no longer there"),
        "{}",
        refused.text()
    );
}

/// The corners a hood proposes for the hem at its face stand in nobody's way
/// when the face is bound instead.
#[test]
fn a_hood_is_bound_at_its_face_instead_of_hemmed() {
    let server = Server::empty();
    let project = server.project("Coat");
    assert_eq!(
        save(&server, &format!("{project}/drafts/new-three-panel-hood"), &HOOD).status,
        303
    );
    let side = plan(&server, &project)["pieces"][0].clone();
    let address = format!("{project}/pieces/{}/outline", side["id"].as_str().unwrap());
    let fields = outline_fields(&server, &address);
    let bound = [("kind_2", "bound"), ("allowance_2", "0 cm")];
    let saved = send(&server, &address, &fields, &bound);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let made = plan(&server, &project)["pieces"][0].clone();
    assert_eq!(made["pattern"]["finish"].as_array().map(Vec::len), Some(1));
    // 2.5 cm of hem less.
    let width = |p: &serde_json::Value| {
        notchbook::measure::Length::parse(p["width"].as_str().unwrap(), notchbook::measure::Unit::Cm).unwrap()
    };
    assert_eq!(width(&side) - width(&made), notchbook::measure::MM * 25);
}

/// The piece is cut twice: bound once only, its binding runs short, and the
/// figures say so. Left empty, an edge is counted as often as its piece is cut.
#[test]
fn an_edge_of_an_outline_is_counted_as_often_as_its_piece_is_cut() {
    let server = Server::empty();
    let project = server.project("Hooded vest");
    assert_eq!(
        save(&server, &format!("{project}/drafts/new-three-panel-hood"), &HOOD).status,
        303
    );
    let made = plan(&server, &project);
    let side = made["pieces"]
        .as_array()
        .expect("pieces")
        .iter()
        .find(|p| p["cut_count"] == 2)
        .expect("a piece cut twice");
    let from = format!("{}/face", side["id"].as_str().expect("an id"));
    let fields = |count: &'static str| {
        [
            ("name", "Face"),
            ("from", from.as_str()),
            ("count", count),
            ("corners", "0"),
        ]
    };
    assert_eq!(save(&server, &format!("{project}/edges/new"), &fields("")).status, 303);
    let edges = plan(&server, &project)["edges"].clone();
    assert_eq!(edges[0]["count"], 2, "{edges}");
    let edge = format!("{project}/edges/{}", edges[0]["id"].as_str().expect("an id"));
    let told = || {
        server
            .get(&format!("/api{project}/figures"))
            .body
            .contains("now the binding runs short")
    };
    assert!(!told());
    assert_eq!(save(&server, &edge, &fields("1")).status, 303);
    assert!(told());
    // A length that is typed and no number: one.
    let typed = [
        ("name", "Hem"),
        ("from", ""),
        ("length", "40 in"),
        ("count", ""),
        ("corners", "0"),
    ];
    assert_eq!(save(&server, &format!("{project}/edges/new"), &typed).status, 303);
    assert_eq!(plan(&server, &project)["edges"][1]["count"], 1);
}

/// A limit of nothing is not told: no hood is "at least 0 cm" high.
#[test]
fn what_is_too_large_is_told_its_most() {
    let server = Server::empty();
    let project = server.project("Hood");
    let refused = save(
        &server,
        &format!("{project}/drafts/new-three-panel-hood"),
        &with(&HOOD, "height", "300 cm"),
    );
    assert_eq!(refused.status, 422);
    assert!(
        refused.text().contains("Type at most") && !refused.text().contains("at least 0"),
        "{}",
        refused.text()
    );
}
