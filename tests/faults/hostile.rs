//! Whatever comes in, from a form, a file or an address: an answer, never a
//! fault of the program. `NOTCHBOOK_CASES=100000` looks longer.

use crate::cases::cases;
use crate::support::{Server, agent, encode};
use notchbook::figures::work_out;
use notchbook::measure::{Length, Unit};
use notchbook::notebook::{Notebook, SampleFolder, SourceFolder, check};
use notchbook::plan::Plan;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;
use proptest::test_runner::TestRunner;
use serde_json::Value;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Texts people and machines send: odd characters, long runs, near misses.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "\\PC{0,30}",
        ".{0,60}",
        r#"[-+0-9 ½⅓/.,'"a-z]{0,20}"#,
        Just("\u{202e}\u{0}\u{feff}\u{2028}'; DROP TABLE project;--".to_string()),
        Just("%00%2e%2e/%2e%2e/etc/passwd".to_string()),
        Just("NEAR(\"a\" AND * OR -) \"".to_string()),
        (0..4000usize).prop_map(|n| "9".repeat(n)),
        (0..2000usize).prop_map(|n| "[".repeat(n)),
        Just("9223372036854775808 in".to_string()),
        Just("-9223372036854775808/640 mm".to_string()),
        Just("1e308 m".to_string()),
        Just("1/0 in".to_string()),
    ]
}

fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<u64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        text().prop_map(Value::from),
        prop::sample::select(vec![
            "1 in", "0 in", "-3 in", "200 m", "199 m", "1/640 mm", "c1", "p1", "100 %", "-1 %"
        ])
        .prop_map(Value::from),
    ];
    leaf.prop_recursive(3, 20, 5, |inner| {
        prop_oneof![
            vec(inner.clone(), 0..5).prop_map(Value::from),
            vec((text(), inner), 0..4).prop_map(|list| Value::Object(list.into_iter().collect())),
        ]
    })
}

/// Every place of a value, as a path of steps.
fn places(value: &Value, here: &mut Vec<String>, found: &mut Vec<Vec<String>>) {
    found.push(here.clone());
    let mut below = |step: String, inner: &Value| {
        here.push(step);
        places(inner, here, found);
        here.pop();
    };
    match value {
        Value::Object(map) => map.iter().for_each(|(k, v)| below(k.clone(), v)),
        Value::Array(list) => list.iter().enumerate().for_each(|(i, v)| below(i.to_string(), v)),
        _ => {}
    }
}

fn at<'a>(value: &'a mut Value, path: &[String]) -> &'a mut Value {
    path.iter().fold(value, |value, step| match value {
        Value::Object(map) => map.get_mut(step).expect("a place that is there"),
        Value::Array(list) => &mut list[step.parse::<usize>().expect("an index")],
        _ => unreachable!("a place below a leaf"),
    })
}

fn change(value: &mut Value, which: &Index, into: Value) {
    let mut all = Vec::new();
    places(value, &mut Vec::new(), &mut all);
    let path = which.get(&all).clone();
    *at(value, &path) = into;
}

/// The files of the sample, without most of its pictures.
static SAMPLE: LazyLock<BTreeMap<String, Vec<u8>>> = LazyLock::new(|| {
    let names = SampleFolder.list("").expect("the sample");
    names
        .into_iter()
        .map(|name| {
            let bytes = SampleFolder.read(&name).expect("a file");
            (name, bytes)
        })
        .collect()
});

fn plans() -> Vec<Value> {
    let projects = SAMPLE.iter().filter(|(name, _)| name.ends_with("project.json"));
    projects
        .map(|(_, bytes)| {
            let project: Value = serde_json::from_slice(bytes).expect("JSON");
            project["revisions"].as_array().expect("revisions").last().expect("one")["plan"].clone()
        })
        .collect()
}

proptest! {
    #![proptest_config(cases(1000))]

    #[test]
    fn a_length_is_read_or_refused_with_a_sentence(text in text()) {
        for unit in [Unit::Inch, Unit::Cm] {
            match Length::parse_signed(&text, unit) {
                Ok(length) => prop_assert!(length.abs() <= Length::MAX),
                Err(error) => prop_assert!(error.to_string().ends_with('.'), "{error}"),
            }
        }
    }
}

proptest! {
    #![proptest_config(cases(150))]

    /// A sound plan with a few places changed into anything: refused with a
    /// sentence, or worked out; what is printed is read again.
    #[test]
    fn a_changed_plan_is_refused_or_worked_out(
        which in any::<Index>(),
        changes in vec((any::<Index>(), any_json()), 1..4),
    ) {
        let mut plan = which.get(&plans()).clone();
        for (place, into) in &changes {
            change(&mut plan, place, into.clone());
        }
        match Plan::from_json(&plan.to_string()) {
            Err(error) => prop_assert!(error.to_string().ends_with('.'), "{error}"),
            Ok(plan) => {
                let figures = work_out(&plan);
                prop_assert!(figures.problems.iter().all(|p| p.message.ends_with('.')));
                prop_assert_eq!(&Plan::from_json(&plan.to_json()).expect("its own JSON"), &plan);
            }
        }
    }

    #[test]
    fn any_bytes_as_a_plan_are_refused_with_a_sentence(bytes in vec(any::<u8>(), 0..300), flips in vec((any::<Index>(), any::<u8>()), 0..4)) {
        let mut json = plans()[0].to_string().into_bytes();
        for (place, byte) in flips {
            let at = place.index(json.len());
            json[at] = byte;
        }
        for bytes in [bytes, json] {
            if let Err(error) = Plan::from_json(&String::from_utf8_lossy(&bytes)) {
                prop_assert!(error.to_string().ends_with('.'), "{error}");
            }
        }
    }
}

struct Memory(BTreeMap<String, Vec<u8>>);

impl SourceFolder for Memory {
    fn list(&self, prefix: &str) -> std::io::Result<Vec<String>> {
        Ok(self.0.keys().filter(|name| name.starts_with(prefix)).cloned().collect())
    }
    fn read(&self, name: &str) -> std::io::Result<Vec<u8>> {
        self.0
            .get(name)
            .cloned()
            .ok_or_else(|| std::io::ErrorKind::NotFound.into())
    }
}

/// The sample with something wrong in it: taken in whole, or not at all.
#[test]
fn a_changed_folder_is_taken_in_whole_or_not_at_all() {
    let place = tempfile::tempdir().expect("a folder");
    // Pictures take most of the time of an import; one is enough to be wrong.
    let mut small = SAMPLE.clone();
    let photos: Vec<String> = small.keys().filter(|n| n.starts_with("photos/")).cloned().collect();
    for name in &photos[1..] {
        small.remove(name);
    }
    let here: Vec<String> = photos[..1]
        .iter()
        .map(|n| n["photos/".len()..].split('.').next().expect("a hash").to_string())
        .collect();
    // What names the others goes with them.
    for (name, bytes) in small.iter_mut().filter(|(name, _)| name.ends_with(".json")) {
        let mut value: Value = serde_json::from_slice(bytes).unwrap_or_else(|e| panic!("{name}: {e}"));
        forget(&mut value, &here);
        *bytes = value.to_string().into_bytes();
    }
    let sound = Notebook::open(&place.path().join("sound")).expect("a notebook");
    sound
        .import(&Memory(small.clone()))
        .expect("the sample without most pictures is sound");
    let mut files: Vec<String> = small.keys().cloned().collect();
    files.retain(|n| n.ends_with(".json") || n.starts_with("photos/"));
    let runner = &mut TestRunner::new(cases(60));
    let strategy = (
        any::<Index>(),
        vec((any::<Index>(), any_json()), 1..3),
        vec((any::<Index>(), any::<u8>()), 1..3),
        0..5u8,
    );
    // What is taken in fills it: the next folder needs another.
    let fresh = || {
        let folder = tempfile::tempdir_in(place.path()).expect("a folder");
        let notebook = Notebook::open(folder.path()).expect("a notebook");
        (notebook, folder)
    };
    let now = RefCell::new(fresh());
    runner
        .run(&strategy, |(file, changes, flips, way)| {
            let mut all = small.clone();
            let name = file.get(&files).clone();
            let bytes = all.get_mut(&name).expect("a file");
            match way {
                0 => drop(all.remove(&name)),
                1 => drop(all.insert(format!("photos/../{name}"), Vec::new())),
                2 | 3 if name.ends_with(".json") => {
                    let mut value: Value = serde_json::from_slice(bytes).expect("JSON");
                    for (place, into) in &changes {
                        change(&mut value, place, into.clone());
                    }
                    *bytes = value.to_string().into_bytes();
                }
                _ => {
                    for (place, byte) in &flips {
                        let at = place.index(bytes.len());
                        bytes[at] ^= byte | 1;
                    }
                }
            }
            let outcome = now.borrow().0.import(&Memory(all));
            match outcome {
                Err(error) => {
                    prop_assert!(error.to_string().ends_with('.'), "{error}");
                    prop_assert!(now.borrow().0.is_empty().expect("an answer"), "something was taken in");
                }
                // A text, a length or a colour that may be anything.
                Ok(_) => {
                    let found = check(now.borrow().1.path()).expect("a check").problems;
                    prop_assert_eq!(found, Vec::<String>::new());
                    now.replace(fresh());
                }
            }
            Ok(())
        })
        .expect("whole or not at all");
}

/// Takes out what refers to pictures that are not there.
fn forget(value: &mut Value, here: &[String]) {
    let gone = |v: &Value| {
        v.as_str()
            .is_some_and(|t| t.len() == 64 && !here.iter().any(|h| h == t))
    };
    match value {
        Value::Object(map) => {
            // Two photos side by side, and the part of a cloth's photo.
            map.retain(|_, v| !gone(v) && !gone(&v["before"]) && !gone(&v["after"]));
            if map.get("photo").is_none() {
                map.remove("swatch");
            }
            map.values_mut().for_each(|v| forget(v, here));
            // An entry of pictures alone is a note without them.
            if map.get("kind").is_some_and(|k| k == "photo") && map.get("photos").is_none_or(|p| p[0].is_null()) {
                map.insert("kind".into(), Value::from("note"));
            }
        }
        Value::Array(list) => {
            // A choice of a picture names it in its key;
            // a line drawn on one goes with it.
            let hangs = |v: &Value| v.get("from").is_some() && gone(&v["photo"]);
            let named = |v: &Value| v["key"].as_str().is_some_and(|k| k.starts_with("picture/"));
            list.retain(|v| !(gone(v) || hangs(v) || named(v)));
            list.iter_mut().for_each(|v| forget(v, here));
        }
        _ => {}
    }
}

/// Addresses, forms and files of any content, against the running server.
#[test]
fn no_request_is_answered_with_a_fault() {
    let server = Server::sample();
    let home = server.get("/").body;
    let at = home.find("/projects/0").expect("a project");
    let project: String = home[at..].chars().take_while(|c| *c != '"').collect();
    let targets: Vec<String> = [
        "/projects/new",
        "/settings",
        "/cloth/new",
        "/wearers/new",
        "/pair",
        "/lengths",
        "PROJECT/pieces/new",
        "PROJECT/pieces/p1",
        "PROJECT/pieces/p1/try",
        "PROJECT/cloths/new",
        "PROJECT/edges/new",
        "PROJECT/binding",
        "PROJECT/notions/new",
        "PROJECT/allowances",
        "PROJECT/details",
        "PROJECT/materials",
        "PROJECT/log/add/note",
        "PROJECT/log/add/decision",
        "PROJECT/log/add/measure",
        "PROJECT/revisions",
    ]
    .iter()
    .map(|t| t.replace("PROJECT", &project))
    .collect();
    let names = [
        "name",
        "title",
        "width",
        "height",
        "cut_count",
        "face",
        "finished",
        "arrangement",
        "a-square-0",
        "seen",
        "part_id",
        "alt_by_0",
        "alt_along_0",
        "margin",
        "take_up",
        "usable_width",
        "owned",
        "rem_width_0",
        "rem_count_0",
        "price",
        "colour",
        "link",
        "length",
        "count",
        "corners",
        "kind",
        "text",
        "why",
        "id",
        "code",
        "seam",
        "shop_step",
        "due",
        "wearer",
        "state",
        "line",
        "show",
        "picture",
        "decided",
        "unit",
    ];
    let runner = &mut TestRunner::new(cases(120));
    let strategy = (
        any::<Index>(),
        vec((prop::sample::select(names.to_vec()), text()), 0..12),
        text(),
        vec(any::<u8>(), 0..200),
    );
    runner
        .run(&strategy, |(target, fields, odd, bytes)| {
            let target = target.get(&targets).as_str();
            let sent = server.post(
                target,
                &fields.iter().map(|(n, v)| (*n, v.as_str())).collect::<Vec<_>>(),
            );
            prop_assert!(sent.status < 500, "{target}: {} {}", sent.status, sent.text());
            if sent.status == 422 {
                prop_assert!(!sent.body.contains("panicked"));
            }
            // Ids, tokens and queries.
            for path in [
                format!("/projects/{}", encode(&odd)),
                format!("{project}/pieces/{}", encode(&odd)),
                format!("{project}/log/{}", encode(&odd)),
                format!("{project}/revisions?from={}&to={}", encode(&odd), encode(&odd)),
                format!("/s/{}", encode(&odd)),
                format!("/photos/{}/page", encode(&odd)),
                format!("/static/{}/x", encode(&odd)),
                format!("/lengths?text={}&unit={}", encode(&odd), encode(&odd)),
            ] {
                let got = server.get(&path);
                prop_assert!(got.status < 500, "{path}: {}", got.status);
            }
            // Files and bodies that are none.
            for kind in [
                "application/x-www-form-urlencoded",
                "multipart/form-data; boundary=x",
                "multipart/form-data",
                "application/json",
            ] {
                let sent = server.post_raw(target, kind, &bytes);
                prop_assert!(sent.status < 500, "{target} {kind}: {}", sent.status);
            }
            let sent = server.post_files(
                &format!("{project}/log/add/photo"),
                &[("text", &odd)],
                &[("photos", "x.jpg", &bytes)],
            );
            prop_assert!(sent.status < 500, "{}", sent.status);
            Ok(())
        })
        .expect("no fault");
    // And it is still there.
    assert_eq!(server.get("/").status, 200);
}

/// Markdown of any content is shown without anything that runs.
#[test]
fn nothing_written_runs_as_a_script() {
    let server = Server::empty();
    let project = server.project("Winter skirt");
    let runner = &mut TestRunner::new(cases(60));
    let pieces = prop::sample::select(vec![
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "[x](javascript:alert(1))",
        "[x](JaVaScRiPt&#58;alert(1))",
        "<svg/onload=alert(1)>",
        "![x](data:text/html,<script>alert(1)</script>)",
        "<a href=\"data:text/html;base64,PHNjcmlwdD4=\">x</a>",
        "<iframe srcdoc='<script>alert(1)</script>'>",
        "`",
        "```",
        "\n",
        "\n\n",
        "> ",
        "- ",
        "# ",
        "|",
        "<",
        ">",
        "\"",
        "'",
        "&lt;",
        "<style>*{display:none}</style>",
        "[a]: javascript:alert(1)\n[a]",
        "<math><mi xlink:href=\"javascript:alert(1)\">",
        "\u{0}",
        "<!--",
        "-->",
        "]]>",
    ]);
    runner
        .run(
            &vec(prop_oneof![3 => pieces.prop_map(String::from), 1 => text()], 1..8),
            |parts| {
                let id = uuid::Uuid::now_v7().to_string();
                let text = parts.concat();
                let sent = server.post(&format!("{project}/log/add/note"), &[("id", &id), ("text", &text)]);
                if sent.status != 303 {
                    prop_assert_eq!(sent.status, 422);
                    return Ok(());
                }
                let page = agent()
                    .get(server.url(&format!("{project}/log/{id}")))
                    .call()
                    .expect("an answer");
                prop_assert_eq!(page.status().as_u16(), 200);
                let page = server.get(&format!("{project}/log")).body;
                let at = page.find("<main").expect("the page's own part");
                let main = page[at..].to_lowercase();
                for tag in tags(&main) {
                    let name: String = tag.chars().take_while(|c| c.is_ascii_alphanumeric()).collect();
                    prop_assert!(
                        !["script", "iframe", "style", "math", "object", "embed"].contains(&name.as_str()),
                        "{tag}"
                    );
                    prop_assert!(!tag.contains("javascript:") && !tag.contains("data:text"), "{tag}");
                    prop_assert!(!tag.contains(" onerror") && !tag.contains(" onload"), "{tag}");
                }
                server.post(&format!("{project}/log/{id}/bin"), &[]);
                Ok(())
            },
        )
        .expect("nothing runs");
}

/// What stands between `<` and `>` of a page, quoted values without their text.
fn tags(page: &str) -> Vec<String> {
    let mut tags = Vec::new();
    let mut rest = page;
    while let Some(at) = rest.find('<') {
        let (mut tag, mut quote, mut end) = (String::new(), None, rest.len());
        for (i, c) in rest[at + 1..].char_indices() {
            match quote {
                Some(q) if c == q => quote = None,
                None if c == '"' || c == '\'' => quote = Some(c),
                None if c == '>' => {
                    end = at + 1 + i;
                    break;
                }
                _ => {}
            }
            tag.push(c);
        }
        // Texts typed by the maker stand in values of fields: only addresses in them could run.
        let value = tag.find(" value=\"").map_or(tag.len(), |i| i);
        tags.push(tag[..value].to_string());
        rest = &rest[(end + 1).min(rest.len())..];
    }
    tags
}
