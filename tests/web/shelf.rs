//! The shelf, the wearers and the settings over HTTP.

use crate::log::jpeg;
use crate::support::Server;

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a";

const CLOTH: [(&str, &str); 9] = [
    ("id", ID),
    ("name", "Moss corduroy"),
    ("kind", "cloth"),
    ("usable_width", "54 in"),
    ("owned", "1 3/8 yd"),
    ("colour", "#5c6b3d"),
    ("price", "14.50"),
    ("price_per", "yd"),
    ("shrinkage", "3"),
];

fn with<'a>(changes: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut fields: Vec<(&str, &str)> = CLOTH
        .iter()
        .filter(|(n, _)| !changes.iter().any(|(c, _)| c == n))
        .copied()
        .collect();
    fields.extend_from_slice(changes);
    fields
}

#[test]
fn a_cloth_sent_twice_is_one_and_stands_in_both_units() {
    let server = Server::empty();
    let fields = with(&[
        ("rem_width_0", "10"),
        ("rem_length_0", "12 1/2"),
        ("rem_count_0", "2"),
        ("rem_note_0", "from the pocket"),
    ]);
    let photo = jpeg([92, 107, 61]);
    for _ in 0..2 {
        let sent = server.post_files("/cloth/new", &fields, &[("photo", "c.jpg", &photo)]);
        assert_eq!((sent.status, sent.location.as_str()), (303, "/cloth"), "{}", sent.body);
    }
    let shelf = server.get("/cloth");
    assert_eq!(shelf.body.matches(&format!("href=\"/cloth/{ID}\"")).count(), 1);
    let text = shelf.text();
    // 1 3/8 yd are 1.2573 m, and no more than that is promised.
    for part in [
        "54 in 137.1 cm",
        "1 3/8 yd 1.25 m",
        "$14.50 a yd",
        "2 remnants",
        "10 × 12 1/2 in 25.4 × 31.7 cm",
        "from the pocket",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert!(shelf.body.contains("/photos/"), "the swatch is the photo");
}

#[test]
fn what_is_wrong_with_a_cloth_is_said_and_its_photo_is_kept() {
    let server = Server::empty();
    let fields = with(&[
        ("usable_width", "wide"),
        ("shrinkage", "60"),
        ("rem_width_0", "10"),
        ("rem_length_0", ""),
        ("link", "shop"),
    ]);
    let sent = server.post_files("/cloth/new", &fields, &[("photo", "c.jpg", &jpeg([1, 2, 3]))]);
    assert_eq!(sent.status, 422);
    for field in ["usable_width", "shrinkage", "rem_length_0", "link"] {
        assert!(sent.body.contains(&format!("id=\"{field}-error\"")), "{field}");
    }
    assert!(sent.body.contains("value=\"wide\"") && sent.body.contains("value=\"Moss corduroy\""));
    let kept = sent
        .body
        .split("name=\"kept_photo\" value=\"")
        .nth(1)
        .expect("the photo is kept with the form");
    let hash = &kept[..64];
    let fields = with(&[("kept_photo", hash)]);
    assert_eq!(server.post_files("/cloth/new", &fields, &[]).status, 303);
    assert!(server.get("/cloth").body.contains(hash));
    let words = server.post_files("/cloth/new", &with(&[]), &[("photo", "c.jpg", b"words")]);
    assert!(
        words.body.contains("id=\"photo-error\"") && words.text().contains("not a picture"),
        "{}",
        words.text()
    );
}

#[test]
fn a_cloth_changed_on_two_devices_keeps_both() {
    let server = Server::empty();
    server.post_files("/cloth/new", &with(&[]), &[]);
    let address = format!("/cloth/{ID}");
    let seen = server.hidden(&address, "seen");
    assert_eq!(
        server
            .post_files(&address, &with(&[("seen", &seen), ("owned", "1 yd")]), &[])
            .status,
        303
    );
    let clash = server.post_files(&address, &with(&[("seen", &seen), ("owned", "2 yd")]), &[]);
    assert_eq!(clash.status, 409);
    assert!(
        clash.text().contains("36 in") && clash.text().contains("2 yd"),
        "{}",
        clash.text()
    );
    let again = clash
        .body
        .split("name=\"seen\" value=\"")
        .nth(1)
        .and_then(|s| s.split('"').next())
        .expect("seen");
    assert_eq!(
        server
            .post_files(&address, &with(&[("seen", again), ("owned", "2 yd")]), &[])
            .status,
        303
    );
    assert!(server.get("/cloth").text().contains("2 yd"));
}

/// Rows have no names of their own: each device added one, one of them changed
/// another and the other took out a third.
#[test]
fn remnants_put_there_on_two_devices_are_all_there() {
    let server = Server::empty();
    let row = |n: usize, across: &str, along: &str| -> Vec<(String, String)> {
        let field = |f: &str, v: &str| (format!("rem_{f}_{n}"), v.to_string());
        vec![field("width", across), field("length", along), field("count", "1")]
    };
    let sent = |seen: &str, rows: &[Vec<(String, String)>]| {
        let rows: Vec<(String, String)> = rows.concat();
        let mut fields = with(&[("seen", seen)]);
        fields.extend(rows.iter().map(|(n, v)| (n.as_str(), v.as_str())));
        let address = if seen.is_empty() {
            "/cloth/new".to_string()
        } else {
            format!("/cloth/{ID}")
        };
        server.post_files(&address, &fields, &[])
    };
    let three = [row(0, "10", "20"), row(1, "11", "21"), row(2, "12", "22")];
    assert_eq!(sent("", &three).status, 303);
    let address = format!("/cloth/{ID}");
    let seen = server.hidden(&address, "seen");
    let phone = [
        row(0, "10", "20"),
        row(1, "11", "18"),
        row(2, "12", "22"),
        row(3, "5", "6"),
    ];
    assert_eq!(sent(&seen, &phone).status, 303);
    let laptop = [row(0, "10", "20"), row(1, "11", "21"), row(2, "", ""), row(3, "7", "8")];
    for _ in 0..2 {
        // Its answer lost, it is sent again.
        let saved = sent(&seen, &laptop);
        assert_eq!(saved.status, 303, "{}", saved.text());
    }
    let form = server.get(&address).body;
    let value = |field: &str| {
        let at = form.find(&format!("name=\"{field}\""));
        let rest = at.map_or("", |at| {
            &form[at..form[at..].find('>').map_or(form.len(), |end| at + end)]
        });
        rest.split("value=\"")
            .nth(1)
            .and_then(|v| v.split('"').next())
            .unwrap_or("")
            .to_string()
    };
    let rows: Vec<String> = (0..6)
        .map(|n| {
            format!(
                "{} x {}",
                value(&format!("rem_width_{n}")),
                value(&format!("rem_length_{n}"))
            )
        })
        .collect();
    assert_eq!(
        rows,
        [
            "10 in x 20 in",
            "11 in x 18 in",
            "5 in x 6 in",
            "7 in x 8 in",
            " x ",
            " x "
        ]
    );

    // The same row changed on both: both are shown, the rest is put together.
    let seen = server.hidden(&address, "seen");
    let rows = |second: &str| {
        [
            row(0, "10", "20"),
            row(1, "11", second),
            row(2, "5", "6"),
            row(3, "7", "8"),
        ]
    };
    assert_eq!(sent(&seen, &rows("17")).status, 303);
    let clash = sent(&seen, &rows("16"));
    assert_eq!(clash.status, 409);
    let said = clash.text();
    assert!(
        said.contains("Remnant 2") && said.contains("length 17 in") && said.contains("length 16"),
        "{said}"
    );
    assert!(!said.contains("length 20"), "{said}");
}

/// The photo that was seen is what is taken out, not one put there meanwhile.
#[test]
fn a_photo_put_there_meanwhile_is_not_taken_out() {
    let server = Server::empty();
    let address = format!("/cloth/{ID}");
    let first = server.post_files("/cloth/new", &with(&[]), &[("photo", "a.jpg", &jpeg([1, 2, 3]))]);
    assert_eq!(first.status, 303);
    let (seen, old) = (server.hidden(&address, "seen"), server.hidden(&address, "kept_photo"));
    let other = with(&[("seen", &seen), ("kept_photo", &old)]);
    assert_eq!(
        server
            .post_files(&address, &other, &[("photo", "b.jpg", &jpeg([200, 2, 3]))])
            .status,
        303
    );
    let new = server.hidden(&address, "kept_photo");
    assert_ne!(new, old);
    let out = with(&[("seen", &seen), ("kept_photo", &old), ("drop_photo", &old)]);
    let answer = server.post_files(&address, &out, &[]);
    assert_eq!(answer.status, 303, "{}", answer.text());
    assert_eq!(server.hidden(&address, "kept_photo"), new);
    // The one that is there is taken out.
    let seen = server.hidden(&address, "seen");
    let out = with(&[("seen", &seen), ("kept_photo", &new), ("drop_photo", &new)]);
    assert_eq!(server.post_files(&address, &out, &[]).status, 303);
    assert!(!server.get(&address).body.contains("name=\"kept_photo\""));
}

#[test]
fn the_bin_gives_a_cloth_back() {
    let server = Server::empty();
    server.post_files("/cloth/new", &with(&[]), &[]);
    let binned = server.post(&format!("/cloth/{ID}/bin"), &[]);
    let shelf = server.get(&binned.location);
    assert!(shelf.text().contains("Undo") && !shelf.text().contains("Moss corduroy"));
    assert_eq!(
        server.post(&format!("/cloth/{ID}/restore"), &[]).location,
        format!("/cloth/{ID}")
    );
    assert!(server.get("/cloth").text().contains("Moss corduroy"));
}

fn measured(server: &Server, wearer: &str, day: &str, waist: &str) -> crate::support::Reply {
    let address = format!("/wearers/{wearer}/measurements/new");
    let (seen, id) = (server.hidden(&address, "seen"), server.hidden(&address, "id"));
    server.post(
        &address,
        &[
            ("seen", &seen),
            ("id", &id),
            ("taken_on", day),
            ("named", "2"),
            ("name_0", "bust girth"),
            ("value_0", ""),
            ("name_1", "waist girth"),
            ("value_1", waist),
        ],
    )
}

#[test]
fn measurements_are_kept_by_date_with_what_has_changed() {
    let server = Server::empty();
    let made = server.post(
        "/wearers/new",
        &[("id", ID), ("name", "Tove"), ("kind", "child"), ("note", "")],
    );
    assert_eq!(
        made.location,
        format!("/wearers/{ID}/measurements/new"),
        "measuring comes next"
    );
    assert_eq!(
        server
            .post("/wearers/new", &[("id", ID), ("name", "Tove"), ("kind", "child")])
            .status,
        303,
        "a resend"
    );
    assert!(server.get("/wearers").text().contains("Not measured yet"));
    let first = server.get(&made.location).text();
    assert!(
        first.contains("Bust girth") && first.contains("Back neck point to waist"),
        "the usual names stand ready"
    );

    assert_eq!(measured(&server, ID, "2024-03-01", "22").status, 303);
    assert_eq!(measured(&server, ID, "2024-09-01", "22 1/2").status, 303);
    let page = server.get(&format!("/wearers/{ID}")).text();
    for part in [
        "Taken on 1 September 2024",
        "22 1/2 in 57.2 cm",
        "1 March 2024",
        "+1/2 in +1.3 cm",
        "Measure again before you cut",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    // The next set: the names of the last, what it was, and no value.
    let next = server.get(&made.location);
    assert!(
        next.text().contains("On 1 September 2024: 22 1/2 in (57.2 cm)"),
        "{}",
        next.text()
    );
    assert!(next.body.contains("name=\"value_0\" value=\"\""));
}

/// Typed in centimetres where a bare number is inches: a child's waist of 57 in.
#[test]
fn a_measure_no_child_has_is_asked_back_and_taken_when_it_is_so() {
    let server = Server::empty();
    server.post("/wearers/new", &[("id", ID), ("name", "Tove"), ("kind", "child")]);
    let asked = measured(&server, ID, "2024-03-01", "57");
    assert_eq!(asked.status, 422);
    let said = asked.text();
    assert!(
        said.contains("Waist girth of 57 in") && said.contains("more than anybody has"),
        "{said}"
    );
    assert!(asked.body.contains("id=\"value_1-error\"") && asked.body.contains("value=\"57\""));
    assert!(
        asked.body.contains("name=\"as_measured\""),
        "it can be said that it is so"
    );
    assert!(server.get("/wearers").text().contains("Not measured yet"));
    assert_eq!(measured(&server, ID, "2024-03-01", "57 cm").status, 303);
    // By what it was: more than twice.
    let twice = measured(&server, ID, "2024-09-01", "46");
    assert!(
        twice.status == 422 && twice.text().contains("it was 22"),
        "{}",
        twice.text()
    );
    let address = format!("/wearers/{ID}/measurements/new");
    let (seen, id) = (server.hidden(&address, "seen"), server.hidden(&address, "id"));
    let so = [
        ("seen", seen.as_str()),
        ("id", &id),
        ("taken_on", "2024-09-01"),
        ("named", "1"),
        ("name_0", "waist girth"),
        ("value_0", "46"),
        ("as_measured", "yes"),
    ];
    assert_eq!(server.post(&address, &so).status, 303);
}

#[test]
fn measures_that_cannot_be_are_said_beside_their_field() {
    let server = Server::empty();
    server.post("/wearers/new", &[("id", ID), ("name", "Tove"), ("kind", "child")]);
    for (day, waist, field) in [
        ("2024-03-01", "about 57", "value_1"),
        ("2024-03-01", "0", "value_1"),
        ("2024-03-01", "", "value_0"),
        ("1.3.2024", "22", "taken_on"),
        ("2199-01-01", "22", "taken_on"),
    ] {
        let sent = measured(&server, ID, day, waist);
        assert_eq!(sent.status, 422, "{day} {waist}");
        assert!(
            sent.body.contains(&format!("id=\"{field}-error\"")),
            "{day} {waist}: beside {field}"
        );
    }
    assert!(
        server
            .get(&format!("/wearers/{ID}"))
            .text()
            .contains("Not measured yet")
    );
}

#[test]
fn measures_a_project_is_made_to_stay() {
    let server = Server::empty();
    server.post("/wearers/new", &[("id", ID), ("name", "Tove"), ("kind", "child")]);
    measured(&server, ID, "2024-03-01", "22");
    let project = server
        .post(
            "/projects/new",
            &[("title", "Vest for Tove"), ("state", "planning"), ("wearer", ID)],
        )
        .location;
    let project_id = project.trim_start_matches("/projects/");
    let wearer = format!("/wearers/{ID}");
    assert_eq!(
        server.post(&format!("{wearer}/use"), &[("project", project_id)]).status,
        303
    );
    let page = server.get(&wearer);
    assert!(
        page.text().contains("made to the measures of 1 March 2024"),
        "{}",
        page.text()
    );
    let set = page
        .body
        .split(&format!("href=\"{wearer}/measurements/"))
        .filter_map(|s| s.get(..36))
        .find(|s| s.starts_with('0'))
        .expect("the set")
        .to_string();
    let address = format!("{wearer}/measurements/{set}");
    let refused = server.post(
        &format!("{address}/remove"),
        &[("seen", &server.hidden(&address, "seen"))],
    );
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("Vest for Tove"), "{}", refused.text());
    assert!(server.get(&wearer).text().contains("1 March 2024"));
}

#[test]
fn settings_are_saved_and_the_bin_gives_projects_back() {
    let server = Server::empty();
    let project = server.project("Vest");
    let saved = server.post(
        "/settings",
        &[
            ("name", "Winter things"),
            ("unit", "cm"),
            ("currency", "CHF"),
            ("description_limit", "4000"),
        ],
    );
    assert_eq!(saved.status, 303);
    let page = server.get(&saved.location).text();
    assert!(page.contains("Saved.") && page.contains("notebook.sqlite"), "{page}");
    assert!(
        page.contains("Seam allowance of patchwork") && page.contains("karencombs.com"),
        "defaults with their sources"
    );
    assert!(server.get("/").text().contains("Winter things"));
    server.post_files("/cloth/new", &with(&[("usable_width", "137")]), &[]);
    assert!(
        server.get("/cloth").text().contains("137.0 cm 53 7/8 in"),
        "a bare number is centimetres now"
    );
    assert!(server.get("/cloth").text().contains("CHF 14.50 a yd"));
    let refused = server.post(
        "/settings",
        &[
            ("name", ""),
            ("unit", "ells"),
            ("currency", "€"),
            ("description_limit", "9"),
        ],
    );
    for field in ["name", "unit", "description_limit"] {
        assert!(refused.body.contains(&format!("id=\"{field}-error\"")), "{field}");
    }
    server.post(&format!("{project}/bin"), &[]);
    let bin = server.get("/settings");
    assert!(bin.body.contains(&format!("{project}/restore")));
    assert_eq!(server.post(&format!("{project}/restore"), &[]).location, project);
    assert!(server.get("/settings").text().contains("No project is in the bin"));
}

/// What a save changed is told, whatever part of the cloth it was.
#[test]
fn an_outline_that_was_changed_is_among_what_changed() {
    let server = Server::empty();
    let sides = |second: &'static str| {
        [
            ("out_by_0", "sides"),
            ("out_side1_0", "30"),
            ("out_side2_0", second),
            ("out_side3_0", "40"),
            ("out_count_0", "1"),
        ]
    };
    let sent = server.post_files("/cloth/new", &with(&sides("30")), &[]);
    assert_eq!(sent.status, 303, "{}", sent.text());
    let cloth = format!("/cloth/{ID}");
    let mut fields = with(&sides("29"));
    fields.push(("seen", "1"));
    let sent = server.post_files(&cloth, &fields, &[]);
    assert_eq!(sent.status, 303, "{}", sent.text());
    let text = server.get(&cloth).text();
    assert!(text.contains("Remnants of other outlines"), "{text}");
    let text = server.get(&format!("{cloth}/versions")).text();
    for part in ["sides 30 in (76.2 cm), 30 in", "sides 30 in (76.2 cm), 29 in"] {
        assert!(text.contains(part), "{part}: {text}");
    }
}
