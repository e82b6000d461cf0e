//! The face of a piece through its form: every unit, arrangement and setting
//! is saved, comes back, and is lost by no later save of the same form.

use crate::plan_forms::{begun, plan, save};
use crate::support::{Reply, Server};
use serde_json::{Value, json};

const SIZE: [(&str, &str); 5] = [
    ("name", "Front"),
    ("cut_count", "1"),
    ("width", "20"),
    ("height", "24"),
    ("margin", "1"),
];

/// A project with three cloths and one piece.
struct Bench {
    server: Server,
    project: String,
    piece: String,
    cloths: Vec<String>,
}

impl Bench {
    fn new() -> Bench {
        let server = Server::empty();
        let (project, _, piece) = begun(&server);
        for name in ["Rust check", "Sage lawn"] {
            let cloth = [
                ("name", name),
                ("kind", "cloth"),
                ("usable_width", "54 in"),
                ("colour", "#807050"),
                ("price_per", "yd"),
                ("price", "10"),
            ];
            assert_eq!(save(&server, &format!("{project}/cloths/new"), &cloth).status, 303);
        }
        let all = plan(&server, &project);
        let cloths = all["cloths"].as_array().expect("cloths").iter();
        let cloths = cloths.map(|c| c["id"].as_str().expect("an id").to_string()).collect();
        Bench {
            server,
            project,
            piece,
            cloths,
        }
    }

    fn address(&self) -> String {
        format!("{}/pieces/{}", self.project, self.piece)
    }

    /// Saves the piece with a face; `A`, `B`, `C` stand for the cloths.
    fn save(&self, face: &[(&str, &str)]) -> Reply {
        let cloth = |value: &str| match value {
            "A" => self.cloths[0].clone(),
            "B" => self.cloths[1].clone(),
            "C" => self.cloths[2].clone(),
            other => other.to_string(),
        };
        let own: Vec<(&str, String)> = SIZE.iter().chain(face).map(|(n, v)| (*n, cloth(v))).collect();
        let fields: Vec<(&str, &str)> = own.iter().map(|(n, v)| (*n, v.as_str())).collect();
        save(&self.server, &self.address(), &fields)
    }

    fn saved(&self, face: &[(&str, &str)]) -> Value {
        let reply = self.save(face);
        assert_eq!(reply.status, 303, "{face:?}: {}", reply.text());
        self.now()
    }

    fn now(&self) -> Value {
        plan(&self.server, &self.project)["pieces"][0].clone()
    }

    /// Saves the form as its page holds it.
    fn save_page(&self) -> Reply {
        let page = self.server.get(&self.address()).body;
        let fields = fields_of(&page);
        let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
        self.server.post(&self.address(), &fields)
    }

    fn refused(&self, face: &[(&str, &str)], field: &str, words: &str) {
        let before = self.now();
        let reply = self.save(face);
        assert_eq!(reply.status, 422, "{face:?}");
        assert!(
            reply.body.contains(&format!("id=\"{field}-error\"")),
            "{field}: {}",
            reply.text()
        );
        assert!(reply.text().contains(words), "{words}: {}", reply.text());
        // What was typed is still there.
        let kept = fields_of(&reply.body);
        // A list cannot hold what is none of its choices.
        let of_list = |name: &str| name == "made_0" || name == "border_cloth_0";
        for (name, value) in face
            .iter()
            .filter(|(n, v)| !of_list(n) && !["A", "B", "C", ""].contains(v))
        {
            let value = value.replace("\r\n", "\n");
            assert!(
                kept.iter().any(|(n, v)| n == name && v.replace("\r\n", "\n") == value),
                "{name} = {value} is not in the form any more"
            );
        }
        assert_eq!(self.now(), before, "nothing is saved");
    }
}

fn unescape(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&amp;", "&")
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let mark = format!(" {name}=\"");
    let at = tag.find(&mark)? + mark.len();
    Some(unescape(tag[at..].split('"').next().unwrap_or("")))
}

/// What the first form of a page would send, without its templates.
fn fields_of(page: &str) -> Vec<(String, String)> {
    let form = page.split("<form").nth(1).expect("a form");
    let mut form = form.split("</form>").next().unwrap_or("").to_string();
    while let (Some(from), Some(to)) = (form.find("<template"), form.find("</template>")) {
        form.replace_range(from..to + "</template>".len(), "");
    }
    let mut fields = Vec::new();
    for part in form.split('<').skip(1) {
        let (tag, rest) = part.split_once('>').unwrap_or((part, ""));
        let name = attribute(tag, "name");
        if tag.starts_with("input ") {
            let choice = matches!(attribute(tag, "type").as_deref(), Some("radio" | "checkbox"));
            if let Some(name) = name.filter(|_| !choice || tag.contains(" checked")) {
                fields.push((name, attribute(tag, "value").unwrap_or_default()));
            }
        } else if tag.starts_with("textarea ") {
            // As a browser reads it: a first line end is not part of the text.
            let text = rest.strip_prefix('\n').unwrap_or(rest);
            fields.push((name.expect("a name"), unescape(text)));
        } else if tag.starts_with("select ") {
            fields.push((name.expect("a name"), String::new()));
        } else if tag.starts_with("option ") && tag.contains(" selected") {
            fields.last_mut().expect("a select").1 = attribute(tag, "value").unwrap_or_default();
        }
    }
    // A select without a choice sends its first option: all of ours are then chosen or empty.
    fields
}

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
        3,
        "each painted unit is drawn by reference"
    );
}

#[test]
fn sizes_are_compared_side_by_side_and_one_is_taken() {
    let bench = Bench::new();
    bench.saved(&[
        ("face", "square"),
        ("finished", "4"),
        ("cloth0_0", "A"),
        ("arrangement", "all-alike"),
    ]);
    let address = format!("{}/unit-sizes", bench.project);
    for page in [bench.project.clone(), bench.address()] {
        assert!(
            bench.server.get(&page).body.contains("unit-sizes"),
            "{page} leads there"
        );
    }
    let asked = format!("{address}?piece={}&size_1=3&size_2=2+1%2F2&size_3=90", bench.piece);
    let page = bench.server.get(&asked);
    assert_eq!(page.status, 200);
    let text = page.text();
    // 22 x 26 in: 6 x 7, 8 x 9, 9 x 11.
    for part in [
        "6 × 7",
        "8 × 9",
        "9 × 11",
        "24 1/2 × 28 1/2 in",
        "+30",
        "bigger than Front",
        "Take 2 1/2 in",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert_eq!(bench.now()["face"]["finished"], "4 in", "looking saves nothing");

    let field = |n: usize| format!("take_{n}_{}", bench.piece);
    let seen = bench.server.hidden(&asked, "seen");
    let (three, half, huge) = (field(1), field(2), field(3));
    let sizes = [
        ("seen", seen.as_str()),
        (three.as_str(), "3 in"),
        (half.as_str(), "2 1/2 in"),
        (huge.as_str(), "90 in"),
        ("piece", bench.piece.as_str()),
        ("size_1", "3"),
    ];
    let take = |n: &str, more: &[(&str, &str)]| {
        let mut fields = sizes.to_vec();
        fields.push(("take", n));
        fields.extend_from_slice(more);
        bench.server.post(&address, &fields)
    };
    let refused = take("3", &[]);
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("bigger than Front"), "{}", refused.text());
    let taken = take("2", &[("decided", "Smaller squares"), ("why", "The print is small.")]);
    assert_eq!(taken.status, 303, "{}", taken.text());
    assert_eq!(bench.now()["face"]["finished"], "2 1/2 in");
    let log = bench.server.get(&format!("{}/log", bench.project)).text();
    assert!(
        log.contains("Smaller squares") && log.contains("57 more patches"),
        "{log}"
    );
    // From the same old revision again, to another size: the piece was changed meanwhile.
    let clash = take("1", &[]);
    assert_eq!(clash.status, 409);
    assert!(clash.text().contains("Front was changed"), "{}", clash.text());
    assert_eq!(bench.now()["face"]["finished"], "2 1/2 in");
}

#[test]
fn each_piece_can_have_its_own_size_in_one_step() {
    let bench = Bench::new();
    let face = [
        ("face", "square"),
        ("finished", "4"),
        ("cloth0_0", "A"),
        ("arrangement", "all-alike"),
    ];
    bench.saved(&face);
    let mut second: Vec<(&str, &str)> = SIZE.to_vec();
    second[0] = ("name", "Back");
    let cloth = bench.cloths[1].clone();
    second.extend(
        face.iter()
            .map(|(n, v)| (*n, if *v == "A" { cloth.as_str() } else { *v })),
    );
    assert_eq!(
        save(&bench.server, &format!("{}/pieces/new", bench.project), &second).status,
        303
    );
    let pieces = plan(&bench.server, &bench.project)["pieces"].clone();
    let back = pieces[1]["id"].as_str().expect("an id");
    let address = format!("{}/unit-sizes", bench.project);
    let asked = format!("{address}?piece={}&piece={back}&size_1=3&own_1_{back}=5", bench.piece);
    let text = bench.server.get(&asked).text();
    assert!(text.contains("Front 3 in, Back 5 in"), "{text}");
    let (seen, front) = (bench.server.hidden(&asked, "seen"), bench.piece.clone());
    let before = bench.server.get(&format!("{}/revisions", bench.project)).text();
    let taken = bench.server.post(
        &address,
        &[
            ("seen", seen.as_str()),
            ("take", "1"),
            (&format!("take_1_{front}"), "3 in"),
            (&format!("take_1_{back}"), "5 in"),
        ],
    );
    assert_eq!(taken.status, 303, "{}", taken.text());
    let pieces = plan(&bench.server, &bench.project)["pieces"].clone();
    assert_eq!(pieces[0]["face"]["finished"], "3 in");
    assert_eq!(pieces[1]["face"]["finished"], "5 in");
    let after = bench.server.get(&format!("{}/revisions", bench.project)).text();
    assert!(
        !before.contains("1 more changed") && after.contains("and 1 more changed"),
        "{after}"
    );
    // A size that cannot be read stands beside its field, the others are compared.
    let page = bench
        .server
        .get(&format!("{address}?piece={front}&size_1=1%2F0&size_2=6"));
    assert!(page.body.contains("id=\"size_1-error\""), "{}", page.text());
    assert!(page.text().contains("Take 6 in"), "{}", page.text());
}
