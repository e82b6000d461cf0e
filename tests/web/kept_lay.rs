//! A lay that is kept: in the plan, in what is bought, until the plan says
//! otherwise; and what is not laid, told.

use crate::lay::{Table, query};
use crate::plan_forms::{plan, save};
use crate::support::{Reply, Server};

/// A skirt and two bibs on 42 in: 25 in long.
fn table() -> Table {
    let table = Table::new();
    table.add("Skirt", "1", "30 in", "25 in", &[]);
    table.add("Bib", "2", "10 in", "12 in", &[("mirrored", "yes")]);
    table
}

/// What the page at `address` would send to keep what it shows.
fn fields(server: &Server, address: &str) -> Vec<(String, String)> {
    ["seen", "decision_id", "lay"]
        .map(|name| {
            let value = server
                .hidden(address, name)
                .replace("&quot;", "\"")
                .replace("&amp;", "&");
            (name.to_string(), value)
        })
        .to_vec()
}

fn send(server: &Server, address: &str, fields: &[(String, String)]) -> Reply {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    server.post(address, &fields)
}

fn keep(table: &Table, more: &[(&str, &str)]) -> Reply {
    let mut sent = fields(&table.server, &table.address());
    sent.extend(more.iter().map(|(n, v)| (n.to_string(), v.to_string())));
    send(&table.server, &format!("{}/keep", table.address()), &sent)
}

#[test]
fn a_kept_lay_is_part_of_the_plan_and_of_what_is_bought() {
    let table = table();
    let decided = [("decided", "Lay the skirt beside the bibs"), ("why", "One cut less")];
    let kept = keep(&table, &decided);
    assert_eq!((kept.status, kept.location), (303, format!("{}#kept", table.address())));
    let lay = &plan(&table.server, &table.project)["lays"][0];
    assert_eq!(lay["cloth"], table.cloth.as_str());
    assert_eq!(lay["copies"].as_array().map(Vec::len), Some(3));
    let page = table.server.get(&table.address()).text();
    assert!(page.contains("The kept lay holds and is used"), "{page}");
    assert!(page.contains("with it nothing is to buy"), "{page}");
    let figures = table.server.get(&format!("{}/figures", table.project)).text();
    assert!(figures.contains("The kept lay holds and is used"), "{figures}");
    assert!(figures.contains("see the kept lay"), "{figures}");
    assert!(figures.contains("25 in (63.5 cm) of the lay = 26 in"), "{figures}");
    // A revision like any other, with its decision.
    let revisions = table.server.get(&format!("{}/revisions", table.project)).text();
    assert!(revisions.contains("The lay on Oat linen kept"), "{revisions}");
    let log = table.server.get(&format!("{}/log", table.project)).text();
    assert!(
        log.contains("Lay the skirt beside the bibs") && log.contains("One cut less"),
        "{log}"
    );
    // Laid again it is the same, and says so.
    let again = table.asked(&table.wish("single", "0")).text();
    assert!(again.contains("This is the lay that is kept."), "{again}");
    // On paper.
    for address in ["/sheet", "/sheet.pdf?paper=letter", "/sheet.pdf"] {
        assert_eq!(
            table.server.get(&format!("{}{address}", table.address())).status,
            200,
            "{address}"
        );
    }
    let sheet = table.server.get(&format!("{}/sheet", table.address())).text();
    assert!(sheet.contains("Where each lies") && sheet.contains("Skirt"), "{sheet}");
    let found = format!("{}/sheet?{}", table.address(), query(&table.wish("single", "1/2")));
    assert!(table.server.get(&found).text().contains("is not kept"));
    // Out again.
    let seen = table.server.hidden(&table.address(), "seen");
    let out = table
        .server
        .post(&format!("{}/remove", table.address()), &[("seen", &seen)]);
    assert_eq!((out.status, out.location), (303, table.address()));
    assert!(plan(&table.server, &table.project)["lays"].is_null());
    assert!(!table.server.get(&table.address()).text().contains("The kept lay"));
    let gone = table.server.get(&format!("{}/sheet", table.address()));
    assert_eq!(gone.status, 400);
    assert!(gone.text().contains("Lay the pieces again"), "{}", gone.text());
}

#[test]
fn where_the_plan_went_on_it_is_said_everywhere_and_not_counted_on() {
    let table = table();
    assert_eq!(keep(&table, &[]).status, 303);
    let bib = format!("{}/pieces/{}", table.project, table.ids()[1]);
    let wider = [
        ("name", "Bib"),
        ("cut_count", "2"),
        ("mirrored", "yes"),
        ("width", "13 in"),
        ("height", "12 in"),
        ("face", "plain"),
        ("plain_cloth", table.cloth.as_str()),
    ];
    assert_eq!(save(&table.server, &bib, &wider).status, 303);
    let sentence = "The kept lay is not counted on any more. Bib does not lie within the cloth where it was laid. Lay the pieces again, or take it out.";
    for address in [
        table.address(),
        format!("{}/figures", table.project),
        table.project.clone(),
    ] {
        let text = table.server.get(&address).text();
        let meets = sentence.replace(
            "Bib does not lie within the cloth where it was laid.",
            "Skirt and Bib meet where they were laid.",
        );
        assert!(text.contains(sentence) || text.contains(&meets), "{address}: {text}");
    }
    let figures = table.server.get(&format!("{}/figures", table.project)).text();
    assert!(!figures.contains("see the kept lay"), "{figures}");
    // A new one is there to be kept instead.
    assert!(
        table
            .server
            .get(&table.address())
            .text()
            .contains("Keep this lay instead")
    );
    assert_eq!(keep(&table, &[]).status, 303);
    assert!(table.server.get(&table.address()).text().contains("The kept lay holds"));
    assert_eq!(
        plan(&table.server, &table.project)["lays"].as_array().map(Vec::len),
        Some(1)
    );
}

#[test]
fn a_lay_that_does_not_hold_is_not_kept() {
    let table = table();
    let good = fields(&table.server, &table.address());
    let spoilt = |change: &dyn Fn(&mut serde_json::Value)| {
        let mut lay: serde_json::Value = serde_json::from_str(&good[2].1).expect("JSON");
        change(&mut lay);
        let mut sent = good.clone();
        sent[2].1 = lay.to_string();
        let reply = send(&table.server, &format!("{}/keep", table.address()), &sent);
        assert_eq!(reply.status, 422, "{}", reply.text());
        assert!(plan(&table.server, &table.project)["lays"].is_null());
        reply.text()
    };
    let all_on_one = |lay: &mut serde_json::Value| {
        for copy in lay["copies"].as_array_mut().expect("copies") {
            copy["at"] = "0 0".into();
        }
    };
    assert!(spoilt(&all_on_one).contains("meet where they were laid. Lay the pieces again."));
    let beyond = |lay: &mut serde_json::Value| lay["copies"][0]["at"] = "900 0".into();
    assert!(spoilt(&beyond).contains("does not lie within the cloth"));
    let missing = |lay: &mut serde_json::Value| {
        lay["copies"].as_array_mut().expect("copies").pop();
    };
    assert!(spoilt(&missing).contains("another number of times"));
    assert!(spoilt(&|lay| lay["cloth"] = "c9".into()).contains("It lies on another cloth."));
    assert!(spoilt(&|lay| lay["copies"] = "x".into()).contains("What was sent is no lay"));
    // Two devices keep another lay each: the second is told, and may keep its own.
    let phone = fields(&table.server, &table.address());
    assert_eq!(
        send(&table.server, &format!("{}/keep", table.address()), &phone).status,
        303
    );
    let folded = format!("{}?{}", table.address(), query(&table.wish("single", "1/4")));
    let mut laptop = fields(&table.server, &folded);
    laptop[0].1 = phone[0].1.clone();
    laptop.extend(table.wish("single", "1/4"));
    let clash = send(&table.server, &format!("{}/keep", table.address()), &laptop);
    assert_eq!(clash.status, 409, "{}", clash.text());
    assert!(clash.text().contains("was changed on another device") && clash.text().contains("Keep this lay instead"));
}

#[test]
fn a_variant_has_its_own_lay() {
    let table = table();
    assert_eq!(
        table.server.post(&format!("{}/variants", table.project), &[]).status,
        303
    );
    let of_a = format!("/variants/a{}", table.address());
    let figures = table.server.get(&format!("/variants/a{}/figures", table.project));
    assert!(
        figures.body.contains(&format!("href=\"{of_a}\"")),
        "the link leads to the variant's"
    );
    let page = table.server.get(&of_a);
    assert_eq!(page.status, 200);
    assert!(
        page.text().contains("Variant A. The plan stays as it is"),
        "{}",
        page.text()
    );
    let kept = send(&table.server, &format!("{of_a}/keep"), &fields(&table.server, &of_a));
    assert_eq!((kept.status, kept.location), (303, format!("{of_a}#kept")));
    assert!(
        table
            .server
            .get(&of_a)
            .text()
            .contains("The kept lay holds and is used")
    );
    assert!(plan(&table.server, &table.project)["lays"].is_null(), "the plan itself");
    assert!(!table.server.get(&table.address()).text().contains("The kept lay"));
    let sheet = table.server.get(&format!("{of_a}/sheet")).text();
    assert!(sheet.contains("Variant A, version"), "{sheet}");
}

#[test]
fn what_is_not_laid_is_named_with_the_reason() {
    let table = table();
    let lining = [
        ("name", "Lining"),
        ("kind", "cloth"),
        ("usable_width", "60 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
    ];
    assert_eq!(
        save(&table.server, &format!("{}/cloths/new", table.project), &lining).status,
        303
    );
    let lining = plan(&table.server, &table.project)["cloths"][1]["id"]
        .as_str()
        .expect("an id")
        .to_string();
    let undecided = [
        ("name", "Cuff"),
        ("cut_count", "2"),
        ("width", "9 in"),
        ("height", "3 in"),
        ("face", "none"),
    ];
    assert_eq!(
        save(&table.server, &format!("{}/pieces/new", table.project), &undecided).status,
        303
    );
    let bag = [
        ("name", "Pocket bag"),
        ("cut_count", "2"),
        ("width", "9 in"),
        ("height", "8 in"),
        ("face", "plain"),
        ("plain_cloth", lining.as_str()),
    ];
    assert_eq!(
        save(&table.server, &format!("{}/pieces/new", table.project), &bag).status,
        303
    );
    table.add(
        "Collar",
        "1",
        "12 in",
        "4 in",
        &[("quilted", "yes"), ("backing", &lining)],
    );
    let page = table.server.get(&table.address());
    let text = page.text();
    assert!(text.contains("Cuff: no cloth is chosen for it yet"), "{text}");
    assert!(
        text.contains("Collar is quilted; what lies under it is cut by itself: backing, Lining"),
        "{text}"
    );
    assert!(page.body.contains(&format!("{}/figures#cloth-{lining}", table.project)));
    let other = table.server.get(&format!("{}/lay/{lining}", table.project)).text();
    assert!(other.contains("Skirt: cut from Oat linen"), "{other}");
}
