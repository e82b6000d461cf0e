//! Outlines laid on a cloth: the page, what it says, the search behind it.

use crate::plan_forms::{plan, save};
use crate::support::{Reply, Server};
use std::time::{Duration, Instant};

pub struct Table {
    pub server: Server,
    pub project: String,
    pub cloth: String,
}

impl Table {
    /// A cloth 42 in wide, 1 yd at hand, with a remnant of 10 x 12 in.
    pub fn new() -> Table {
        let server = Server::empty();
        let project = server.project("Apron");
        let cloth = [
            ("name", "Oat linen"),
            ("kind", "cloth"),
            ("usable_width", "42 in"),
            ("owned", "1 yd"),
            ("colour", "#d9cfb8"),
            ("price_per", "yd"),
            ("rem_width_0", "10 in"),
            ("rem_length_0", "12 in"),
            ("rem_count_0", "1"),
        ];
        let saved = save(&server, &format!("{project}/cloths/new"), &cloth);
        assert_eq!(saved.status, 303, "{}", saved.text());
        let plan = plan(&server, &project);
        assert_eq!(
            plan["cloths"][0]["remnants"].as_array().map(Vec::len),
            Some(1),
            "{plan}"
        );
        let cloth = plan["cloths"][0]["id"].as_str().expect("a cloth").to_string();
        Table { server, project, cloth }
    }

    pub fn add(&self, name: &str, count: &str, width: &str, height: &str, more: &[(&str, &str)]) {
        let mut fields = vec![
            ("name", name),
            ("cut_count", count),
            ("width", width),
            ("height", height),
            ("face", "plain"),
            ("plain_cloth", self.cloth.as_str()),
        ];
        fields.extend_from_slice(more);
        let saved = save(&self.server, &format!("{}/pieces/new", self.project), &fields);
        assert_eq!(saved.status, 303, "{}", saved.text());
    }

    pub fn address(&self) -> String {
        format!("{}/lay/{}", self.project, self.cloth)
    }

    pub fn ids(&self) -> Vec<String> {
        let plan = plan(&self.server, &self.project);
        let pieces = plan["pieces"].as_array().expect("pieces").iter();
        pieces.map(|p| p["id"].as_str().expect("an id").to_string()).collect()
    }

    /// The fields of the form with all pieces.
    pub fn wish(&self, ground: &str, gap: &str) -> Vec<(String, String)> {
        let mut fields: Vec<(String, String)> = self.ids().into_iter().map(|id| ("pieces".into(), id)).collect();
        for (name, value) in [("ground", ground), ("turns", "both-ways"), ("gap", gap)] {
            fields.push((name.into(), value.into()));
        }
        fields
    }

    pub fn asked(&self, wish: &[(String, String)]) -> Reply {
        self.server.get(&format!("{}?{}", self.address(), query(wish)))
    }

    pub fn post(&self, what: &str, wish: &[(String, String)]) -> Reply {
        let fields: Vec<(&str, &str)> = wish.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
        self.server.post(&format!("{}/{what}", self.address()), &fields)
    }
}

pub fn query(wish: &[(String, String)]) -> String {
    let pairs: Vec<String> = wish
        .iter()
        .map(|(n, v)| format!("{n}={}", crate::support::encode(v)))
        .collect();
    pairs.join("&")
}

#[test]
fn the_first_answer_is_drawn_at_once_with_what_it_takes() {
    let table = Table::new();
    table.add("Skirt", "1", "30 in", "25 in", &[]);
    table.add("Bib", "2", "10 in", "12 in", &[("mirrored", "yes")]);
    let page = table.server.get(&table.address());
    assert_eq!(page.status, 200, "{}", page.text());
    // 30 and 10 in side by side on 42 in: 25 in long, and 1 in lost to straightening.
    assert!(page.body.contains("3 pieces laid"), "{}", page.text());
    let text = page.text();
    assert!(text.contains("They fit the length at hand"), "{text}");
    assert!(text.contains("Length of the lay25 in 63.5 cm"), "{text}");
    assert!(text.contains("26 in"), "{text}");
    assert!(text.contains("No layout can be shorter"), "{text}");
    // Nothing to look for any more, so no button for it.
    assert!(!page.body.contains("/look\""));
    // The figures lead there.
    let figures = table.server.get(&format!("{}/figures", table.project));
    assert!(figures.body.contains(&format!("href=\"{}\"", table.address())));
}

#[test]
fn remnants_fit_or_provably_do_not() {
    let table = Table::new();
    table.add("Pocket", "1", "9 in", "11 in", &[]);
    let fits = table.asked(&table.wish("remnants", "0"));
    assert!(
        fits.text().contains("They fit. This is one way to lay them."),
        "{}",
        fits.text()
    );
    assert!(fits.body.contains("1 piece laid"));
    table.add("Flap", "1", "9 in", "4 in", &[]);
    let not = table.asked(&table.wish("remnants", "0"));
    assert!(not.text().contains("They do not fit."), "{}", not.text());
    assert!(
        not.text().contains("% of the cloth the remnants have"),
        "{}",
        not.text()
    );
    assert!(!not.body.contains("pieces laid"));
    table.add("Strap", "1", "3 in", "20 in", &[]);
    let not = table.asked(&table.wish("remnants", "0"));
    assert!(
        not.text().contains("Strap measures 20 in (50.8 cm) however it lies"),
        "{}",
        not.text()
    );
}

#[test]
fn too_wide_for_the_fold_is_said_with_what_to_do() {
    let table = Table::new();
    table.add("Skirt", "2", "30 in", "25 in", &[("mirrored", "yes")]);
    let page = table.asked(&table.wish("folded", "1/4"));
    let text = page.text();
    assert!(
        text.contains("Skirt is 30 in (76.2 cm) across in every way it may lie"),
        "{text}"
    );
    assert!(
        text.contains("the folded cloth is 21 in (53.3 cm) wide. Lay it on a single layer."),
        "{text}"
    );
    assert_eq!(page.status, 200);
}

#[test]
fn wrong_fields_are_told_beside_them_and_kept() {
    let table = Table::new();
    table.add("Bib", "2", "10 in", "12 in", &[]);
    let page = table.asked(&table.wish("single", "a thumb"));
    assert!(page.body.contains("id=\"gap-error\""), "{}", page.text());
    assert!(page.body.contains("value=\"a thumb\""));
    let page = table.asked(&table.wish("single", "20 in"));
    assert!(page.text().contains("from nothing to 4 in (10 cm)"), "{}", page.text());
    let none: Vec<(String, String)> = table
        .wish("single", "0")
        .into_iter()
        .filter(|(n, _)| n != "pieces")
        .collect();
    assert!(table.asked(&none).text().contains("Choose at least one piece to lay."));
    let gone = table.asked(&table.wish("remnant-7", "0"));
    assert!(gone.body.contains("id=\"ground-error\""), "{}", gone.text());
    let nowhere = table.server.get(&format!("{}/lay/nothing", table.project));
    assert_eq!(nowhere.status, 404);
}

#[test]
fn without_a_plain_piece_the_page_says_what_is_missing() {
    let table = Table::new();
    let page = table.server.get(&table.address());
    assert!(
        page.text().contains("No piece of the plan is cut from this cloth"),
        "{}",
        page.text()
    );
}

#[test]
fn a_better_one_is_looked_for_in_the_background_and_stopped() {
    let table = Table::new();
    // Six sizes that leave no easy best.
    for (n, (w, h)) in [
        ("17", "23"),
        ("13", "19"),
        ("11", "29"),
        ("19", "13"),
        ("7", "31"),
        ("9", "17"),
    ]
    .iter()
    .enumerate()
    {
        table.add(&format!("Panel {n}"), "2", &format!("{w} in"), &format!("{h} in"), &[]);
    }
    let wish = table.wish("single", "1/8");
    let first = table.asked(&wish);
    assert!(first.body.contains("Look for a better one"), "{}", first.text());
    let sent = table.post("look", &wish);
    assert_eq!(sent.status, 303);
    assert!(
        sent.location.contains("ground=single") && sent.location.ends_with("#found"),
        "{}",
        sent.location
    );
    let found = || table.server.get(&format!("{}/found?{}", table.address(), query(&wish)));
    let looking = found();
    assert!(
        looking.body.contains("data-looking") && looking.body.contains("/stop\""),
        "{}",
        looking.text()
    );
    assert!(!looking.body.contains("<html"), "the card alone");
    // Other pages are answered meanwhile.
    assert_eq!(table.server.get(&table.project).status, 200);
    assert_eq!(table.post("stop", &wish).status, 303);
    let stopped = found();
    assert!(!stopped.body.contains("data-looking"), "{}", stopped.text());
    assert!(stopped.body.contains("pieces laid"), "what was found is kept");
    // Another plan is another lay: its first answer is its own.
    table.add("Pocket", "1", "9 in", "11 in", &[]);
    assert!(
        table
            .asked(&table.wish("single", "1/8"))
            .body
            .contains("13 pieces laid")
    );
}

#[test]
fn the_program_ends_while_a_search_goes_on() {
    let table = Table::new();
    for (n, (w, h)) in [("17", "23"), ("13", "19"), ("11", "29")].iter().enumerate() {
        table.add(&format!("Panel {n}"), "3", &format!("{w} in"), &format!("{h} in"), &[]);
    }
    assert_eq!(table.post("look", &table.wish("single", "1/8")).status, 303);
    let process = table.server.process().to_string();
    let told = std::process::Command::new("kill")
        .args(["-TERM", &process])
        .status()
        .expect("kill");
    assert!(told.success());
    let begun = Instant::now();
    let status = format!("/proc/{process}/status");
    // A zombie has ended: this test has not asked for its end yet.
    let runs = || std::fs::read_to_string(&status).is_ok_and(|s| !s.contains("State:\tZ"));
    while runs() {
        assert!(begun.elapsed() < Duration::from_secs(40), "it still runs");
        std::thread::sleep(Duration::from_millis(50));
    }
}
