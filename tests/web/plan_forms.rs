//! The forms of a plan: what is sent is saved, what clashes is shown, what is
//! sent twice is there once.

use crate::support::{Reply, Server};

pub const PIECE: [(&str, &str); 10] = [
    ("name", "Front"),
    ("cut_count", "2"),
    ("mirrored", "yes"),
    ("width", "12"),
    ("height", "20"),
    ("alt_along_0", "height"),
    ("alt_by_0", "+1"),
    ("alt_reason_0", "longer in the body"),
    ("face", "none"),
    ("margin", "1"),
];

/// A project with one cloth and one piece; the addresses of the project and the piece.
pub fn begun(server: &Server) -> (String, String, String) {
    let project = server.project("Test vest");
    let cloth = [
        ("name", "Oat linen"),
        ("kind", "cloth"),
        ("usable_width", "42 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
    ];
    let saved = save(server, &format!("{project}/cloths/new"), &cloth);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let saved = save(server, &format!("{project}/pieces/new"), &PIECE);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let plan = plan(server, &project);
    let cloth = plan["cloths"][0]["id"].as_str().expect("a cloth").to_string();
    let piece = plan["pieces"][0]["id"].as_str().expect("a piece").to_string();
    (project, cloth, piece)
}

/// Sends a part's form as its page would, with the hidden fields of the page.
pub fn save(server: &Server, address: &str, fields: &[(&str, &str)]) -> Reply {
    let seen = server.hidden(address, "seen");
    let part = server.hidden(address, "part_id");
    let mut all = vec![("seen", seen.as_str()), ("part_id", part.as_str())];
    all.extend_from_slice(fields);
    server.post(address, &all)
}

pub fn plan(server: &Server, project: &str) -> serde_json::Value {
    let reply = server.get(&format!("/api{project}/plan"));
    assert_eq!(reply.status, 200);
    serde_json::from_str(&reply.body).expect("JSON")
}

#[test]
fn a_piece_is_saved_as_typed() {
    let server = Server::empty();
    let (project, _, _) = begun(&server);
    let piece = &plan(&server, &project)["pieces"][0];
    assert_eq!(piece["width"], "12 in");
    assert_eq!(piece["alterations"][0]["by"], "1 in");
    assert_eq!(piece["alterations"][0]["reason"], "longer in the body");
    assert_eq!(piece["mirrored"], true);
}

#[test]
fn a_form_sent_twice_adds_one_part() {
    let server = Server::empty();
    let project = server.project("Twice");
    let address = format!("{project}/pieces/new");
    let (seen, part) = (server.hidden(&address, "seen"), server.hidden(&address, "part_id"));
    let mut fields = vec![("seen", seen.as_str()), ("part_id", part.as_str())];
    fields.extend_from_slice(&PIECE);
    assert_eq!(server.post(&address, &fields).status, 303);
    assert_eq!(server.post(&address, &fields).status, 303);
    assert_eq!(plan(&server, &project)["pieces"].as_array().map(Vec::len), Some(1));

    let started = [
        ("title", "Once"),
        ("state", "planning"),
        ("id", "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a"),
    ];
    let first = server.post("/projects/new", &started).location;
    let second = server.post("/projects/new", &started).location;
    assert_eq!(first, second);
}

#[test]
fn two_devices_changing_one_piece_lose_nothing() {
    let server = Server::empty();
    let (project, _, piece) = begun(&server);
    let address = format!("{project}/pieces/{piece}");
    let seen = server.hidden(&address, "seen");
    let mut phone = PIECE.to_vec();
    phone[3] = ("width", "13 in");
    phone.push(("seen", &seen));
    let mut laptop = PIECE.to_vec();
    laptop[3] = ("width", "14 in");
    laptop.push(("seen", &seen));
    assert_eq!(server.post(&address, &phone).status, 303);
    let clash = server.post(&address, &laptop);
    assert_eq!(clash.status, 409);
    assert!(clash.text().contains("Nothing is lost"), "{}", clash.text());
    assert!(
        clash.body.contains("13 in") && clash.body.contains("14 in"),
        "both versions are shown"
    );
    assert_eq!(
        plan(&server, &project)["pieces"][0]["width"],
        "13 in",
        "nothing was overwritten"
    );
    // Saving again from the page shown takes the laptop's, the phone's stays as a revision.
    let at = clash.body.find("name=\"seen\" value=\"").expect("seen") + 19;
    let now: String = clash.body[at..].chars().take_while(char::is_ascii_digit).collect();
    laptop.pop();
    laptop.push(("seen", &now));
    assert_eq!(server.post(&address, &laptop).status, 303);
    assert_eq!(plan(&server, &project)["pieces"][0]["width"], "14 in");
}

#[test]
fn changes_of_different_parts_both_stay() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let seen = server.hidden(&format!("{project}/pieces/{piece}"), "seen");
    let mut fields = PIECE.to_vec();
    fields[4] = ("height", "22");
    fields.push(("seen", &seen));
    let cloth_fields = [
        ("seen", seen.as_str()),
        ("name", "Oat linen, washed"),
        ("kind", "cloth"),
        ("usable_width", "41 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
    ];
    assert_eq!(server.post(&format!("{project}/pieces/{piece}"), &fields).status, 303);
    assert_eq!(
        server.post(&format!("{project}/cloths/{cloth}"), &cloth_fields).status,
        303
    );
    let plan = plan(&server, &project);
    assert_eq!(plan["pieces"][0]["height"], "22 in");
    assert_eq!(plan["cloths"][0]["usable_width"], "41 in");
}

#[test]
fn a_change_with_a_reason_is_a_decision_with_its_effect() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let address = format!("{project}/pieces/{piece}");
    let mut fields = PIECE.to_vec();
    fields[8] = ("face", "square");
    fields.push(("finished", "4"));
    fields.push(("arrangement", "all-alike"));
    fields.push(("cloth0_0", &cloth));
    assert_eq!(save(&server, &address, &fields).status, 303);
    fields[10] = ("finished", "3 in");
    fields.push(("decided", "Patches 4 in to 3 in"));
    fields.push(("why", "The big ones swallow the print."));
    assert_eq!(save(&server, &address, &fields).status, 303);
    let log = server.get(&format!("{project}/log")).text();
    assert!(
        log.contains("Patches 4 in to 3 in") && log.contains("swallow the print"),
        "{log}"
    );
    // 14 x 23 in needed; 4 in: 4 x 6 units on 2 panels = 48; 3 in: 5 x 8 = 80.
    assert!(
        log.contains("48") && log.contains("80"),
        "the effect on the patches is in the log: {log}"
    );
}

#[test]
fn typing_shows_figures_and_saves_nothing() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let address = format!("{project}/pieces/{piece}");
    let mut fields = PIECE.to_vec();
    fields[8] = ("face", "square");
    fields.extend([
        ("finished", "4"),
        ("arrangement", "all-alike"),
        ("cloth0_0", cloth.as_str()),
    ]);
    let tried = server.post(&format!("{address}/try"), &fields);
    assert_eq!(tried.status, 200);
    assert!(tried.text().contains("4 × 6"), "{}", tried.text());
    assert!(plan(&server, &project)["pieces"][0].get("face").is_none());
    fields[10] = ("finished", "4//2");
    let tried = server.post(&format!("{address}/try"), &fields);
    assert_eq!(tried.status, 200);
    assert!(tried.text().contains("cannot be read as a length"), "{}", tried.text());
}

#[test]
fn a_new_project_takes_over_what_is_chosen() {
    let server = Server::empty();
    let (project, _, _) = begun(&server);
    let again = |take: &str| {
        let made = server.post(
            &format!("{project}/again"),
            &[("title", "Next"), ("state", "planning"), ("take", take)],
        );
        assert_eq!(made.status, 303, "{}", made.body);
        plan(&server, &made.location)
    };
    let whole = again("plan");
    assert_eq!(whole, plan(&server, &project));
    let pieces = again("pieces");
    assert_eq!(pieces["pieces"][0]["name"], "Front");
    assert_eq!(pieces["cloths"].as_array().map(Vec::len), Some(0));
    let nothing = again("nothing");
    assert_eq!(nothing["pieces"].as_array().map(Vec::len), Some(0));
}

#[test]
fn an_earlier_revision_can_be_taken_again() {
    let server = Server::empty();
    let (project, _, piece) = begun(&server);
    let before = plan(&server, &project);
    let mut fields = PIECE.to_vec();
    fields[3] = ("width", "30 in");
    assert_eq!(save(&server, &format!("{project}/pieces/{piece}"), &fields).status, 303);
    // 1 is the empty plan, 2 has the cloth, 3 the piece.
    let page = server.get(&format!("{project}/revisions/3"));
    assert_eq!(page.status, 200);
    let seen = server.hidden(&format!("{project}/revisions/3"), "seen");
    assert_eq!(
        server
            .post(&format!("{project}/revisions/3/take"), &[("seen", &seen)])
            .status,
        303
    );
    assert_eq!(plan(&server, &project), before);
}

/// A cloth's form leads to the same cloth on the shelf, which is there; a new
/// one's leads nowhere yet. With nothing on the shelf there is nothing to choose.
#[test]
fn a_cloth_of_a_plan_leads_to_itself_on_the_shelf() {
    let server = Server::empty();
    let bare = server.project("Nothing yet");
    let choose = server.get(&format!("{bare}/cloths/choose"));
    assert_eq!((choose.status, choose.location), (303, format!("{bare}/cloths/new")));
    let new = server.get(&format!("{bare}/cloths/new"));
    assert!(new.text().contains("on your shelf as well"));
    assert!(!new.body.contains("href=\"/cloth/0"), "it is not there yet");
    let (project, cloth, _) = begun(&server);
    let form = server.get(&format!("{project}/cloths/{cloth}"));
    let links: Vec<&str> = form
        .body
        .split("href=\"/cloth/")
        .skip(1)
        .map(|l| l.split('"').next().unwrap())
        .collect();
    assert_eq!(links.len(), 2, "{links:?}");
    for link in links {
        let page = server.get(&format!("/cloth/{link}"));
        assert_eq!(page.status, 200, "{link}");
        assert!(page.body.contains("Oat linen"), "{link}");
    }
}

/// Shops that sell by the metre cut by 10 cm; what was typed otherwise stays.
#[test]
fn with_another_unit_comes_what_its_shops_cut_by() {
    let server = Server::empty();
    let (project, ..) = begun(&server);
    let address = format!("{project}/allowances");
    let change = |unit: &str, step: Option<&str>| {
        let page = server.get(&address).body;
        let shown = |name: &str| {
            let at = page.find(&format!("id=\"{name}\"")).unwrap_or_else(|| panic!("{name}"));
            let value = page[at..].split("value=\"").nth(1).expect("a value");
            value.split('"').next().unwrap_or_default().to_string()
        };
        let names = [
            "seam",
            "straightening",
            "shop_step",
            "batting_overage",
            "backing_overage",
            "backing_seam",
            "binding_closed_end",
            "binding_open_ends",
            "binding_corner",
            "binding_shortest_strip",
        ];
        let values: Vec<(&str, String)> = names
            .iter()
            .map(|n| {
                (
                    *n,
                    step.filter(|_| *n == "shop_step")
                        .map_or_else(|| shown(n), str::to_string),
                )
            })
            .collect();
        let mut fields: Vec<(&str, &str)> = values.iter().map(|(n, v)| (*n, v.as_str())).collect();
        fields.extend([("unit", unit), ("cutting_rule", "trade")]);
        let saved = save(&server, &address, &fields);
        assert_eq!(saved.status, 303, "{}", saved.text());
        plan(&server, &project)["allowances"]["shop_step"]
            .as_str()
            .map(str::to_string)
    };
    let inch = plan(&server, &project)["allowances"]["shop_step"]
        .as_str()
        .map(str::to_string);
    assert_eq!(change("cm", None).as_deref(), Some("100 mm"));
    assert_eq!(change("in", None), inch);
    assert_eq!(change("in", Some("1/4 yd")).as_deref(), Some("9 in"));
    assert_eq!(change("cm", None).as_deref(), Some("9 in"));
}
