//! The forms of closures, seams, thread, sizes and care.

use crate::plan_forms::{begun, plan, save};
use crate::support::Server;

const ROW: [(&str, &str); 8] = [
    ("name", "Front opening"),
    ("kind", "button"),
    ("line", "24"),
    ("first", "1"),
    ("last", "2"),
    ("spacing", "3 1/2"),
    ("bust_level", "9"),
    ("size", "24 L"),
];

fn with<'a>(fields: &[(&'a str, &'a str)], name: &str, value: &'a str) -> Vec<(&'a str, &'a str)> {
    let mut fields = fields.to_vec();
    let field = fields
        .iter_mut()
        .find(|(n, _)| *n == name)
        .expect("a field of the form");
    field.1 = value;
    fields
}

#[test]
fn a_row_of_closures_is_saved_and_comes_back() {
    let server = Server::empty();
    let project = server.project("Buttoned vest");
    let saved = save(&server, &format!("{project}/closures/new"), &ROW);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let row = plan(&server, &project)["closures"][0].clone();
    assert_eq!((&row["line"], &row["spacing"]), (&"24 in".into(), &"3 1/2 in".into()));
    let address = format!("{project}/closures/{}", row["id"].as_str().unwrap());
    let form = server.get(&address);
    assert!(form.body.contains(r#"value="9 in""#), "bust level is in its field");
    // 24 ligne are 15.24 mm: exactly a length of the plan or not, the form reads back what it shows.
    let figures = server.get(&format!("{project}/figures"));
    assert!(figures.text().contains("24 ligne"), "{}", figures.text());
    assert!(figures.body.contains("closure-line"), "the row is drawn");
    let size = row["size"].as_str().unwrap();
    let again = save(&server, &address, &with(&ROW, "size", size));
    assert_eq!(again.status, 303, "{}", again.body);
    assert_eq!(plan(&server, &project)["closures"][0]["size"], row["size"]);
}

#[test]
fn what_is_wrong_with_a_row_stands_beside_its_field() {
    let server = Server::empty();
    let project = server.project("Buttoned vest");
    let address = format!("{project}/closures/new");
    for (field, value, sentence) in [
        ("line", "much", "cannot be read as a length"),
        ("spacing", "", "neither a number nor a spacing"),
        ("bust_level", "23", "Bust level is"),
        ("first", "22 1/2", "leave nothing between them"),
        ("spacing", "1/640 mm", "are the most"),
    ] {
        let reply = save(&server, &address, &with(&ROW, field, value));
        assert_eq!(reply.status, 422, "{field}: {}", reply.text());
        assert!(reply.text().contains(sentence), "{field}: {}", reply.text());
        assert!(reply.body.contains(&format!(r#"id="{field}-error""#)), "{field}");
        assert!(reply.body.contains("Front opening"), "what was typed is kept");
    }
    assert!(plan(&server, &project)["closures"].is_null());
}

#[test]
fn seams_and_thread_are_counted() {
    let server = Server::empty();
    let project = server.project("Sewn vest");
    let seam = [
        ("name", "Side seams"),
        ("length", "20"),
        ("count", "2"),
        ("stitch", "504"),
    ];
    let saved = save(&server, &format!("{project}/seams/new"), &seam);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let thread = [
        ("piecing", "301"),
        ("quilting", "301"),
        ("binding", "hand"),
        ("stitch_length", "2.5 mm"),
        ("layers", "3 mm"),
        ("seam_end", "2 cm"),
        ("waste", "15"),
        ("spool", "1000 m"),
        ("price", "6.50"),
    ];
    let saved = save(&server, &format!("{project}/thread"), &thread);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let kept = plan(&server, &project);
    assert_eq!(kept["thread"]["spool"], "1000 m");
    assert_eq!(
        (&kept["thread"]["waste"], &kept["seams"][0]["stitch"]),
        (&"15 %".into(), &"504".into())
    );
    let form = server.get(&format!("{project}/thread"));
    for value in ["1000 m", "2.5 mm", "3 mm", "15"] {
        assert!(form.body.contains(&format!(r#"value="{value}""#)), "{value}");
    }
    assert!(
        server
            .get(&format!("{project}/figures"))
            .text()
            .contains("three-thread overedge (504)")
    );
    for (field, value, sentence) in [
        ("spool", "some", "cannot be read as a length"),
        ("spool", "0", "more than nothing"),
        ("stitch_length", "0.1 mm", "under 0.5 mm"),
        ("waste", "900", "0 to 200 %"),
        ("piecing", "999", "Choose one of the list"),
    ] {
        let reply = save(&server, &format!("{project}/thread"), &with(&thread, field, value));
        assert_eq!(reply.status, 422, "{field}: {}", reply.text());
        assert!(reply.text().contains(sentence), "{field}: {}", reply.text());
    }
    let seam = kept["seams"][0]["id"].as_str().unwrap();
    let seen = server.hidden(&format!("{project}/seams/{seam}"), "seen");
    let gone = server.post(&format!("{project}/seams/{seam}/remove"), &[("seen", &seen)]);
    assert_eq!(gone.status, 303);
    assert!(plan(&server, &project)["seams"].is_null());
}

const TABLE: [(&str, &str); 9] = [
    ("sizes", "8, 10, 12, 14"),
    ("measured_on", "2027-03-14"),
    ("row_name_0", "bust girth"),
    ("row_body_0", "31 1/2, 32 1/2, 34, 36"),
    ("row_garment_0", "37 3/4, 38 3/4, 40 1/4, 42 1/4"),
    ("row_wearer_0", "33"),
    ("row_name_2", "hip girth"),
    ("row_body_2", "33 1/2, 34 1/2, 36, 38"),
    ("row_wearer_2", "37"),
];

#[test]
fn a_size_table_is_typed_in_and_copied() {
    let server = Server::empty();
    let first = server.project("Loose smock");
    let saved = save(&server, &format!("{first}/sizing"), &TABLE);
    assert_eq!(saved.status, 303, "{}", saved.body);
    let table = plan(&server, &first)["sizing"].clone();
    assert_eq!(table["sizes"].as_array().map(Vec::len), Some(4));
    assert_eq!(table["rows"][1]["body"][3], "38 in");
    let figures = server.get(&format!("{first}/figures")).text();
    assert!(figures.contains("Size 12 by the bust girth"), "{figures}");
    assert!(figures.contains("size 14"), "the hip is graded: {figures}");

    let second = server.project("Second smock");
    let form = server.get(&format!("{second}/sizing"));
    let id = first.rsplit('/').next().unwrap();
    assert!(
        form.body.contains(&format!("?from={id}")),
        "the first one's table is offered"
    );
    let copied = server.get(&format!("{second}/sizing?from={id}"));
    assert!(copied.body.contains("31 1/2, 32 1/2, 34, 36"), "{}", copied.body);
    assert!(
        !copied.body.contains(r#"value="33 in""#),
        "the other wearer stays behind"
    );
    assert!(
        plan(&server, &second)["sizing"].is_null(),
        "nothing is saved by looking"
    );
}

#[test]
fn what_is_wrong_with_a_size_table_names_the_value() {
    let server = Server::empty();
    let project = server.project("Loose smock");
    for (field, value, sentence) in [
        (
            "row_body_0",
            "31 1/2, 32 1/2, wide, 36",
            "Size 12: “wide” cannot be read",
        ),
        ("row_body_0", "31 1/2, 32 1/2", "2 values for 4 sizes"),
        ("row_body_2", "33 1/2, 44 1/2, 36, 38", "at size 12 is 36 in"),
        ("sizes", "8, 10, 10, 14", "stands twice"),
        ("row_wearer_0", "-3", "negative"),
    ] {
        let reply = save(&server, &format!("{project}/sizing"), &with(&TABLE, field, value));
        assert_eq!(reply.status, 422, "{field}: {}", reply.text());
        assert!(reply.text().contains(sentence), "{field}: {}", reply.text());
        assert!(reply.body.contains(&format!(r#"id="{field}-error""#)), "{field}");
        assert!(reply.body.contains("bust girth"), "what was typed is kept");
    }
}

#[test]
fn care_of_a_cloth_is_kept_by_every_form() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    let address = format!("{project}/cloths/{cloth}");
    let fields = [
        ("name", "Oat linen"),
        ("kind", "cloth"),
        ("usable_width", "42 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
    ];
    let mut said = fields.to_vec();
    said.extend([
        ("care_said", "yes"),
        ("care_washing", "30-mild"),
        ("care_bleaching", "oxygen-only"),
        ("care_tumble", "do-not-tumble-dry"),
        ("care_natural", "flat"),
        ("care_shade", "yes"),
        ("care_ironing", "low"),
        ("care_dry", "mild"),
    ]);
    assert_eq!(save(&server, &address, &said).status, 303);
    let care = plan(&server, &project)["cloths"][0]["care"].clone();
    assert_eq!(
        (&care["washing"], &care["in_the_shade"]),
        (&"30-mild".into(), &true.into())
    );
    let figures = server.get(&format!("{project}/figures")).text();
    assert!(figures.contains("wash at 30 °C, mild"), "{figures}");
    // A form that does not know the fields takes nothing away.
    assert_eq!(save(&server, &address, &fields).status, 303);
    assert_eq!(plan(&server, &project)["cloths"][0]["care"], care);
    let mut unsaid = fields.to_vec();
    unsaid.push(("care_said", "no"));
    assert_eq!(save(&server, &address, &unsaid).status, 303);
    assert!(plan(&server, &project)["cloths"][0]["care"].is_null());
    let reply = save(
        &server,
        &address,
        &[fields.as_slice(), &[("care_said", "yes"), ("care_washing", "boil")]].concat(),
    );
    assert_eq!(reply.status, 422);

    let notion = [
        ("name", "Lace"),
        ("kind", "notion"),
        ("quantity", "2 m"),
        ("price", "3.20"),
        ("care_said", "no"),
    ];
    assert_eq!(save(&server, &format!("{project}/notions/new"), &notion).status, 303);
    assert_eq!(plan(&server, &project)["notions"][0]["price"], "3.20");
}
