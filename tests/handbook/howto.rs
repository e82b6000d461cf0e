//! The structured data of a list against the vocabulary's own definitions:
//! schema.org, data/schema.ttl of github.com/schemaorg/schemaorg (August 2026),
//! what of it a `HowTo` takes here. `totalTime` is a duration by ISO 8601.

use notchbook::figures::work_out;
use notchbook::notebook::{Id, LineChoice, SourcePattern, Step};
use notchbook::plan::Plan;
use notchbook::sheets::{Materials, Source, TITLE, materials};
use serde_json::Value;

/// `rdfs:subClassOf`.
const CLASSES: [(&str, &[&str]); 9] = [
    ("HowTo", &["CreativeWork"]),
    ("HowToStep", &["CreativeWork", "ItemList", "ListItem"]),
    ("HowToSupply", &["HowToItem"]),
    ("HowToTool", &["HowToItem"]),
    ("HowToItem", &["ListItem"]),
    ("ListItem", &["Intangible"]),
    ("ItemList", &["Intangible"]),
    ("Intangible", &["Thing"]),
    ("CreativeWork", &["Thing"]),
];

/// `domainIncludes` and `rangeIncludes`.
const PROPERTIES: [(&str, &[&str], &[&str]); 10] = [
    ("supply", &["HowTo", "HowToDirection"], &["HowToSupply", "Text"]),
    ("tool", &["HowTo", "HowToDirection"], &["HowToTool", "Text"]),
    (
        "step",
        &["HowTo"],
        &["CreativeWork", "HowToSection", "HowToStep", "Text"],
    ),
    ("totalTime", &["HowTo", "HowToDirection"], &["Duration"]),
    (
        "requiredQuantity",
        &["HowToItem"],
        &["Number", "QuantitativeValue", "Text"],
    ),
    ("position", &["CreativeWork", "ListItem"], &["Integer", "Text"]),
    ("text", &["CreativeWork"], &["Text"]),
    ("name", &["Thing"], &["Text"]),
    ("description", &["Thing"], &["Text", "TextObject"]),
    ("url", &["Thing"], &["URL"]),
];
const IMAGE: (&str, &[&str], &[&str]) = ("image", &["Thing"], &["ImageObject", "URL"]);

fn is_a(class: &str, of: &str) -> bool {
    class == of
        || CLASSES
            .iter()
            .any(|(name, above)| *name == class && above.iter().any(|a| is_a(a, of)))
}

/// `PT`, hours, minutes, each at most once and one of them there.
fn is_duration(text: &str) -> bool {
    let Some(rest) = text.strip_prefix("PT") else {
        return false;
    };
    let number = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    match rest.split_once('H') {
        Some((h, "")) => number(h),
        Some((h, m)) => number(h) && m.strip_suffix('M').is_some_and(number),
        None => rest.strip_suffix('M').is_some_and(number),
    }
}

fn fits(value: &Value, range: &str) -> bool {
    match (value, range) {
        (Value::String(_), "Text") => true,
        (Value::String(text), "URL") => url::Url::parse(text).is_ok(),
        (Value::String(text), "Duration") => is_duration(text),
        (Value::Number(n), "Integer") => n.is_i64(),
        (Value::Object(o), class) => o.get("@type").and_then(Value::as_str).is_some_and(|t| is_a(t, class)),
        _ => false,
    }
}

/// Everything that is against the vocabulary.
fn faults(value: &Value, found: &mut Vec<String>) {
    let Value::Object(fields) = value else { return };
    let class = fields.get("@type").and_then(Value::as_str).unwrap_or_default();
    if !CLASSES.iter().any(|(name, _)| *name == class) {
        found.push(format!("no class {class}"));
    }
    for (key, value) in fields.iter().filter(|(key, _)| !key.starts_with('@')) {
        let all = || PROPERTIES.iter().chain([&IMAGE]);
        let Some((_, domain, range)) = all().find(|(name, ..)| name == key) else {
            found.push(format!("no property {key}"));
            continue;
        };
        if !domain.iter().any(|d| is_a(class, d)) {
            found.push(format!("{class} has no {key}"));
        }
        let values = match value {
            Value::Array(values) => values.iter().collect(),
            one => vec![one],
        };
        for value in values {
            if !range.iter().any(|r| fits(value, r)) {
                found.push(format!("{key} cannot be {value}"));
            }
            faults(value, found);
        }
    }
}

fn list(choices: &[LineChoice]) -> Materials {
    let plan = Plan::from_json(
        r##"{"format":1,"cloths":[{"id":"c1","name":"Cream linen","usable_width":"42 in","link":"https://shop.example/linen"}],
        "pieces":[{"id":"p1","name":"Front","cut_count":2,"width":"20 in","height":"24 in",
            "face":{"kind":"patchwork","finished":"4 in","arrangement":"all-alike","units":[{"kind":"square","cloths":["c1"]}]}}],
        "seams":[{"id":"s1","name":"Sides","length":"1 m","count":2}],
        "notions":[{"id":"n1","name":"Snaps","kind":"notion","quantity":"9"},{"id":"n2","name":"Rotary cutter","kind":"tool"}]}"##,
    )
    .expect("a plan");
    let mut steps = ["Cut </script>", "Piece"].map(|title| Step::new(Id::now_v7(), title, None));
    steps[0].video = Some(0);
    let mut choices = choices.to_vec();
    for step in &steps {
        choices.push(LineChoice {
            key: format!("step/{}", step.id),
            shown: true,
            ..LineChoice::default()
        });
    }
    materials(&Source {
        title: "Smock",
        pattern: &SourcePattern::default(),
        plan: &plan,
        figures: &work_out(&plan),
        steps: &steps,
        decisions: &[],
        choices: &choices,
        width: None,
    })
}

#[test]
fn a_list_is_valid_structured_data() {
    let ticked = ["cloth/c1", "notion/n1", "notion/n2", "thread", "time", TITLE].map(|key| LineChoice {
        key: key.into(),
        shown: true,
        ..LineChoice::default()
    });
    let howto = list(&ticked).as_howto(Some("https://example.org/smock.jpg"));
    let mut found = Vec::new();
    faults(&howto, &mut found);
    assert_eq!(found, [""; 0], "{howto:#}");
    assert_eq!(
        (howto["@context"].as_str(), howto["@type"].as_str()),
        (Some("https://schema.org"), Some("HowTo"))
    );
    assert_eq!(howto["supply"].as_array().map(Vec::len), Some(3), "{howto:#}");
    assert_eq!(howto["tool"][0]["name"], "Rotary cutter");
    assert_eq!(
        (&howto["step"][1]["position"], &howto["step"][1]["name"]),
        (&2.into(), &"Piece".into())
    );
    assert!(
        howto["supply"][0]["requiredQuantity"]
            .as_str()
            .is_some_and(|q| q.contains("yd ("))
    );
    // What is not ticked is not in it.
    let few = list(&ticked[1..2]).as_howto(None);
    assert!(few.get("totalTime").is_none() && few.get("tool").is_none() && few.get("image").is_none());
    assert_eq!(few["supply"].as_array().map(Vec::len), Some(1));
}

#[test]
fn the_check_finds_what_is_wrong() {
    for (wrong, part) in [
        (r#"{"@type":"HowTo","cost":"1"}"#, "no property cost"),
        (r#"{"@type":"HowTo","requiredQuantity":"1"}"#, "has no requiredQuantity"),
        (r#"{"@type":"HowTo","totalTime":"90 min"}"#, "totalTime cannot be"),
        (
            r#"{"@type":"HowTo","supply":[{"@type":"HowToTool","name":"a"}]}"#,
            "supply cannot be",
        ),
        (r#"{"@type":"Recipe"}"#, "no class Recipe"),
    ] {
        let mut found = Vec::new();
        faults(&serde_json::from_str(wrong).expect("JSON"), &mut found);
        assert!(found.iter().any(|f| f.contains(part)), "{found:?}");
    }
}
