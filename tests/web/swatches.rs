//! Swatches, contrast and remnants with an outline over HTTP.

use crate::log::jpeg;
use crate::plan_forms::{begun, plan, save};
use crate::support::Server;

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a";

const CLOTH: [(&str, &str); 8] = [
    ("id", ID),
    ("name", "Moss corduroy"),
    ("kind", "cloth"),
    ("usable_width", "54 in"),
    ("colour", "#ffffff"),
    ("price_per", "yd"),
    ("seen", ""),
    ("note", ""),
];

fn shelved(server: &Server) -> String {
    let photo = jpeg([92, 107, 61]);
    let sent = server.post_files("/cloth/new", &CLOTH, &[("photo", "c.jpg", &photo)]);
    assert_eq!(sent.status, 303, "{}", sent.body);
    format!("/cloth/{ID}/swatch")
}

const PART: [(&str, &str); 5] = [
    ("seen", "1"),
    ("left", "10"),
    ("top", "12,5 %"),
    ("width", "50"),
    ("height", "40.25"),
];

#[test]
fn a_part_of_the_photo_becomes_the_swatch() {
    let server = Server::empty();
    let address = shelved(&server);
    let page = server.get(&address);
    assert_eq!(page.status, 200);
    assert!(page.body.contains("name=\"left\"") && page.body.contains("swatch.js"));
    let saved = server.post(&address, &PART);
    assert_eq!(
        (saved.status, saved.location.as_str()),
        (303, format!("/cloth/{ID}#look").as_str())
    );
    let cloth = server.get(&format!("/cloth/{ID}")).text();
    for said in ["medium", "on average", "100 %", "Mark another part"] {
        assert!(cloth.contains(said), "{said}: {cloth}");
    }
    // The colour of the photo, as far as JPEG keeps it.
    let form = server.get(&format!("/cloth/{ID}")).body;
    assert!(!form.contains("value=\"#ffffff\""));
    // Drawn from the part, and from that alone.
    let shelf = server.get("/cloth").body;
    let at = shelf.find("/swatches/").expect("a swatch on the shelf");
    let picture = shelf[at..].split('"').next().expect("an address").to_string();
    assert!(picture.ends_with("/1000-1250-5000-4025"), "{picture}");
    assert_eq!(server.get(&picture).status, 200);
    for other in [
        "1000-1250-5000-4026",
        "0-0-1-1",
        "1-2-3",
        "a-b-c-d",
        "1000-1250-5000-4025-1",
    ] {
        let wrong = picture.replace("1000-1250-5000-4025", other);
        assert_eq!(server.get(&wrong).status, 404, "{other}");
    }
    // Saved again as a whole, the cloth keeps it; with the photo it goes.
    let hash = picture.split('/').nth(2).expect("a hash");
    let mut fields = CLOTH.to_vec();
    fields.retain(|(name, _)| *name != "seen");
    fields.extend([("seen", "2"), ("kept_photo", hash)]);
    assert_eq!(server.post_files(&format!("/cloth/{ID}"), &fields, &[]).status, 303);
    assert!(server.get("/cloth").body.contains("/swatches/"));
    fields.retain(|(name, _)| *name != "seen");
    fields.extend([("seen", "3"), ("drop_photo", hash)]);
    assert_eq!(server.post_files(&format!("/cloth/{ID}"), &fields, &[]).status, 303);
    assert!(!server.get("/cloth").body.contains("/swatches/"));
    assert_eq!(server.get(&picture).status, 404);
}

#[test]
fn a_part_that_cannot_be_stays_typed_with_a_sentence() {
    let server = Server::empty();
    let address = shelved(&server);
    let with = |field: &'static str, value: &'static str| -> Vec<(&str, &str)> {
        PART.iter()
            .map(|(n, v)| if *n == field { (*n, value) } else { (*n, *v) })
            .collect()
    };
    for (field, value, said) in [
        ("left", "ten", "Type a number from 0 to 100"),
        ("width", "91", "goes over the right edge"),
        ("height", "1", "At least 2 %"),
    ] {
        let refused = server.post(&address, &with(field, value));
        assert_eq!(refused.status, 422, "{field}");
        assert!(
            refused.body.contains(said) && refused.body.contains(&format!("value=\"{value}\"")),
            "{field}"
        );
    }
    // From another device: what was typed is kept beside what was saved.
    assert_eq!(server.post(&address, &PART).status, 303);
    let clash = server.post(&address, &with("left", "33"));
    assert_eq!(clash.status, 409);
    assert!(clash.body.contains("value=\"33\"") && clash.text().contains("Nothing is lost"));
    let whole = server.post(&address, &[("seen", "2"), ("whole", "yes")]);
    assert_eq!(whole.status, 303);
    assert!(server.get("/cloth").body.contains("/photos/"));
    assert_eq!(
        server.get("/cloth/01939c3e-0000-7b60-8d6f-1f2e3d4c5b6a/swatch").status,
        404
    );
}

const OUTLINED: [(&str, &str); 16] = [
    ("name", "Oat linen"),
    ("kind", "cloth"),
    ("usable_width", "42 in"),
    ("colour", "#d9cfb8"),
    ("price_per", "yd"),
    ("out_by_0", "sides"),
    ("out_side1_0", "30"),
    ("out_side2_0", "40"),
    ("out_side3_0", "50"),
    ("out_count_0", "2"),
    ("out_by_1", "corners"),
    ("out_across1_1", "0"),
    ("out_along1_1", "0"),
    ("out_across2_1", "25 cm"),
    ("out_along2_1", "0"),
    ("out_across3_1", "0"),
];

#[test]
fn remnants_with_an_outline_are_saved_drawn_and_cut_from() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let address = format!("{project}/cloths/{cloth}");
    // The third corner is told by half.
    let refused = save(&server, &address, &OUTLINED);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("Type this distance too"));
    let mut fields = OUTLINED.to_vec();
    fields.push(("out_along3_1", "10"));
    let saved = save(&server, &address, &fields);
    assert_eq!(saved.status, 303, "{}", saved.text());
    let outlined = &plan(&server, &project)["cloths"][0]["outlined"];
    assert_eq!(outlined[0]["outline"]["sides"]["sides"][2], "50 in");
    assert_eq!((&outlined[0]["count"], &outlined[1]["count"]), (&2.into(), &1.into()));
    assert_eq!(outlined[1]["outline"]["corners"][1]["across"], "250 mm");
    let form = server.get(&address);
    assert_eq!(form.body.matches("outline-drawing").count(), 2);
    assert!(form.text().contains("Counted on,"), "{}", form.text());
    assert!(form.body.contains("value=\"50 in\"") && form.body.contains("value=\"25 cm\""));
    let face: Vec<(&str, &str)> = vec![
        ("name", "Front"),
        ("cut_count", "1"),
        ("width", "10"),
        ("height", "10"),
        ("margin", "0"),
        ("face", "square"),
        ("arrangement", "all-alike"),
        ("finished", "4 in"),
        ("cloth0_0", cloth.as_str()),
    ];
    assert_eq!(save(&server, &format!("{project}/pieces/{piece}"), &face).status, 303);
    let figures = server.get(&format!("{project}/figures")).text();
    for said in [
        "Outlined remnant 1, rectangle 1 of it",
        "mark it, its nearest corner",
        "Remnants are cut first",
    ] {
        assert!(figures.contains(said), "{said}: {figures}");
    }
    // What does not close is told beside it.
    fields.retain(|(name, _)| *name != "out_side3_0");
    fields.push(("out_side3_0", "71"));
    let refused = save(&server, &address, &fields);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("do not close"));
}

#[test]
fn neighbours_that_hardly_differ_are_told_and_panels_can_be_squinted_at() {
    let server = Server::sample();
    let home = server.get("/").body;
    let projects: Vec<&str> = home
        .split("href=\"/projects/")
        .skip(1)
        .filter_map(|part| part.split('"').next())
        .filter(|id| id.len() == 36)
        .collect();
    let mut told = 0;
    for id in projects {
        let page = server.get(&format!("/projects/{id}"));
        if page.body.contains("id=\"contrast\"") {
            told += 1;
            let text = page.text();
            assert!(text.contains("of 100"), "{text}");
        }
        let figures = server.get(&format!("/projects/{id}/figures")).body;
        assert_eq!(
            figures.matches("seen-in-colour").count(),
            figures.matches("seen-squinting").count()
        );
    }
    assert!(told > 0, "a project of the sample has two cloths in a face");
}
