//! The face of a piece through its form: every unit, arrangement and setting
//! is saved, comes back, and is lost by no later save of the same form.

use crate::face_bench::Bench;
use serde_json::{Value, json};

#[test]
fn every_kind_is_saved_and_saved_again_unchanged() {
    let bench = Bench::new();
    let two = [("cloth0_0", "A"), ("cloth1_0", "B")];
    let kinds: [(&str, &[(&str, &str)]); 12] = [
        ("square", &two[..1]),
        ("half-square-triangle", &two),
        (
            "quarter-square-triangle",
            &[
                ("cloth0_0", "A"),
                ("cloth1_0", "B"),
                ("cloth2_0", "A"),
                ("cloth3_0", "C"),
            ],
        ),
        ("rail", &[("cloth0_0", "A"), ("cloth1_0", "B"), ("cloth2_0", "C")]),
        ("flying-geese", &two),
        ("square-in-a-square", &two),
        ("four-patch", &two),
        ("nine-patch", &two),
        ("pinwheel", &two),
        ("triangle-60", &two),
        ("diamond-60", &two),
        ("hexagon", &two[..1]),
    ];
    for (kind, cloths) in kinds {
        let mut face = vec![("face", kind), ("finished", "4"), ("arrangement", "all-alike")];
        face.extend_from_slice(cloths);
        let piece = bench.saved(&face);
        let unit = &piece["face"]["units"][0];
        assert_eq!(unit["kind"], kind);
        assert_eq!(unit["cloths"].as_array().map(Vec::len), Some(cloths.len()), "{kind}");
        assert_eq!(bench.save_page().status, 303, "{kind}");
        assert_eq!(bench.now(), piece, "{kind}");
        let figures = bench.server.get(&format!("{}/figures", bench.project));
        assert!(figures.body.contains("class=\"face-view\""), "{kind} is drawn");
    }
}

#[test]
fn a_composed_unit_keeps_its_parts_and_their_turns() {
    let bench = Bench::new();
    let face = [
        ("face", "composed"),
        ("finished", "6"),
        ("arrangement", "all-alike"),
        ("across_0", "3"),
        ("part0kind_0", "square"),
        ("part0cloth0_0", "A"),
        ("part1kind_0", "half-square-triangle"),
        ("part1cloth0_0", "B"),
        ("part1cloth1_0", "C"),
        ("parts_0", "b a b1\r\na a a\r\nb3 a b2"),
    ];
    let piece = bench.saved(&face);
    let parts = piece["face"]["units"][0]["parts"].as_array().expect("parts").clone();
    assert_eq!(parts.len(), 9);
    assert_eq!(parts[2]["turn"], 1);
    assert_eq!(parts[8]["kind"], "half-square-triangle");
    assert_eq!(bench.save_page().status, 303);
    assert_eq!(bench.now(), piece);
}

#[test]
fn settings_borders_lines_and_paint_are_saved_again_unchanged() {
    let bench = Bench::new();
    let piece = bench.saved(&[
        ("face", "half-square-triangle"),
        ("finished", "3"),
        ("cloth0_0", "A"),
        ("cloth1_0", "B"),
        ("made_0", "8"),
        ("arrangement", "painted"),
        ("kind_1", "nine-patch"),
        ("cloth0_1", "C"),
        ("cloth1_1", "A"),
        ("painted", "\r\na1  b\r\n\r\nA2 a B"),
        ("sashed", "yes"),
        ("sash_width", "3/4"),
        ("sash_cloth", "C"),
        ("sash_posts", "B"),
        ("sash_around", "yes"),
        ("border_width_0", "1 1/2"),
        ("border_cloth_0", "B"),
        ("border_width_1", "2"),
        ("border_cloth_1", "A"),
        ("border_corners_1", "C"),
        ("quilted", "yes"),
        ("lines_upright", "1"),
        ("lines_rising", "2 1/2"),
        ("take_up_from", "spacing"),
    ]);
    let face = &piece["face"];
    assert_eq!(face["painted"], json!(["", "a1 b", "", "a2 a b"]));
    assert_eq!(face["units"][0]["at_a_time"], 8);
    assert_eq!(face["sashing"]["around"], true);
    assert_eq!(face["borders"][1]["corners"], bench.cloths[2].as_str());
    assert_eq!(piece["layers"]["quilting"]["rising"], "2 1/2 in");
    assert_eq!(piece["take_up_from"], "spacing");
    assert_eq!(bench.save_page().status, 303);
    assert_eq!(bench.now(), piece);

    let piece = bench.saved(&[
        ("face", "rail"),
        ("finished", "2"),
        ("finished_height", "5"),
        ("cloth0_0", "A"),
        ("cloth1_0", "B"),
        ("arrangement", "rows"),
        ("kind_1", "square"),
        ("cloth0_1", "C"),
    ]);
    assert_eq!(piece["face"]["finished_height"], "5 in");
    assert_eq!(bench.save_page().status, 303);
    assert_eq!(bench.now(), piece);

    let piece = bench.saved(&[
        ("face", "square"),
        ("finished", "4"),
        ("cloth0_0", "A"),
        ("arrangement", "alternating"),
        ("kind_1", "pinwheel"),
        ("cloth0_1", "B"),
        ("cloth1_1", "C"),
        ("on_point", "yes"),
        ("side_cloth", "C"),
        ("corner_cloth", "B"),
    ]);
    assert_eq!(piece["face"]["on_point"]["corner"], bench.cloths[1].as_str());
    assert_eq!(bench.save_page().status, 303);
    assert_eq!(bench.now(), piece);
}

#[test]
fn what_is_wrong_stands_beside_its_field() {
    let bench = Bench::new();
    let face = |more: &[(&'static str, &'static str)]| {
        let mut all = vec![
            ("face", "half-square-triangle"),
            ("finished", "4"),
            ("cloth0_0", "A"),
            ("cloth1_0", "B"),
            ("arrangement", "all-alike"),
        ];
        for (name, value) in more {
            all.retain(|(n, _)| n != name);
            all.push((name, value));
        }
        all
    };
    for (more, field, words) in [
        (&[("cloth1_0", "")][..], "cloth1_0", "Choose a cloth for this place"),
        (&[("made_0", "6")], "made_0", "2, 4 or 8"),
        (&[("finished", "90")], "finished", "bigger than Front"),
        (&[("arrangement", "alternating")], "kind_1", "Choose one of the units"),
        (&[("arrangement", "rows")], "kind_1", "two units or more"),
        (
            &[("arrangement", "painted"), ("painted", "a a\r\na z9")],
            "painted",
            "In row 2, “z9”",
        ),
        (&[("sashed", "yes"), ("sash_cloth", "A")], "sash_width", "Type a length"),
        (
            &[("sashed", "yes"), ("sash_width", "1")],
            "sash_cloth",
            "cloth of the sashing",
        ),
        (
            &[("on_point", "yes"), ("side_cloth", "A")],
            "corner_cloth",
            "corner triangles",
        ),
        (&[("border_width_0", "2")], "border_cloth_0", "cloth of this border"),
        (
            &[("border_width_0", "-2"), ("border_cloth_0", "A")],
            "border_width_0",
            "negative",
        ),
        (
            &[("border_width_0", "1"), ("border_cloth_0", "gone")],
            "border_cloth_0",
            "no cloth",
        ),
        (&[("face", "composed")], "part0kind_0", "Choose the parts"),
        (
            &[("quilted", "yes"), ("lines_level", "0")],
            "lines_level",
            "more than nothing",
        ),
        (
            &[("quilted", "yes"), ("take_up_from", "spacing")],
            "take_up_from",
            "how far apart",
        ),
    ] {
        bench.refused(&face(more), field, words);
    }
}

#[test]
fn a_panel_that_grows_keeps_what_was_painted() {
    let bench = Bench::new();
    let face = [
        ("face", "square"),
        ("finished", "4"),
        ("cloth0_0", "A"),
        ("arrangement", "painted"),
        ("kind_1", "half-square-triangle"),
        ("cloth0_1", "B"),
        ("cloth1_1", "C"),
        ("painted", "b b1\nb2"),
    ];
    bench.saved(&face);
    let patches = |bench: &Bench| {
        let figures = bench.server.get(&format!("/api{}/figures", bench.project)).body;
        let figures: Value = serde_json::from_str(&figures).expect("JSON");
        let figures = &figures["figures"];
        assert_eq!(figures["problems"], json!([]));
        let panel = figures["pieces"][0]["panel"].clone();
        let sum = |shape: &str| -> i64 {
            let list = panel["patches"].as_array().expect("patches").iter();
            list.filter(|p| p["shape"] == shape)
                .filter_map(|p| p["patches"].as_i64())
                .sum()
        };
        (panel["units"].as_i64(), sum("square"), sum("half-square-triangle"))
    };
    // 22 x 26 in at 4 in: 6 x 7 units, three of them painted.
    assert_eq!(patches(&bench), (Some(42), 39, 6));
    let mut larger = face.to_vec();
    larger.extend([
        ("alt_along_0", "height"),
        ("alt_by_0", "+8"),
        ("alt_reason_0", "longer"),
    ]);
    bench.saved(&larger);
    assert_eq!(patches(&bench), (Some(54), 51, 6));
    assert_eq!(bench.now()["face"]["painted"], json!(["b b1", "b2"]));
    // The grid the script paints on is as large as the panel.
    let page = bench.server.get(&bench.address()).body;
    assert!(page.contains("data-panel=\"6 9 240 0\""), "the grid's size");
    let drawn = bench.server.get(&format!("{}/figures", bench.project)).body;
    assert_eq!(
        drawn.matches("<use ").count(),
        2 * 3,
        "each painted unit is drawn by reference, in colour and in lightness"
    );
}

#[test]
fn a_face_changed_on_two_devices_is_told_in_words() {
    let bench = Bench::new();
    let face = |cloth: &'static str| {
        [
            ("face", "square"),
            ("finished", "4"),
            ("cloth0_0", cloth),
            ("arrangement", "all-alike"),
        ]
    };
    bench.saved(&face("A"));
    let seen = bench.server.hidden(&bench.address(), "seen");
    let piece = bench.saved(&face("B"));
    let mut fields: Vec<(&str, &str)> = vec![("seen", &seen)];
    fields.extend(crate::face_bench::SIZE);
    fields.extend(face("A"));
    for (name, value) in &mut fields {
        if *name == "cloth0_0" {
            *value = &bench.cloths[2];
        }
    }
    let clash = bench.server.post(&bench.address(), &fields);
    assert_eq!(clash.status, 409);
    for part in ["unit a, cloth 1", "Rust check", "Sage lawn", "Nothing is lost"] {
        assert!(clash.text().contains(part), "{part}: {}", clash.text());
    }
    assert_eq!(bench.now(), piece, "nothing was overwritten");
}
