//! The shop list over HTTP.

use crate::support::{Server, agent, reply};
use notchbook::notebook::{Id, Notebook, ProjectDetails};
use notchbook::plan::{Edit, Plan};
use tempfile::TempDir;

/// A notebook with these projects, each of which wants a yard of oat linen and
/// nine snaps; their addresses.
fn wanting(titles: &[&str]) -> (TempDir, Server, Vec<String>) {
    let folder = tempfile::tempdir().unwrap();
    let notebook = Notebook::open(folder.path()).unwrap();
    let plan = Plan::from_json(
        r#"{"format":1,"cloths":[{"id":"c1","name":"Oat linen","usable_width":"42 in","price":{"amount":"10.00","per":"yd"}}],
        "pieces":[{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"34 in","face":{"kind":"plain","cloth":"c1"}}],
        "notions":[{"id":"n1","name":"Snaps","quantity":"9","price":"4.00"}]}"#,
    )
    .unwrap();
    let mut addresses = Vec::new();
    for title in titles {
        let details = ProjectDetails {
            title: (*title).into(),
            ..ProjectDetails::default()
        };
        let id = notebook.start_project(Id::now_v7(), &details).unwrap();
        notebook
            .change_plan(id, 1, &Edit::Whole(Box::new(plan.clone())))
            .unwrap();
        addresses.push(format!("/projects/{id}"));
    }
    drop(notebook);
    // A process that another test starts at this very moment holds the lock of
    // the folder too, until it has become the program it is to be.
    std::thread::sleep(std::time::Duration::from_millis(300));
    let server = Server::in_folder(folder.path(), &[]);
    (folder, server, addresses)
}

/// What the form of a line sends.
fn line(page: &str, name: &str) -> Vec<(String, String)> {
    let at = page
        .find(&format!("shop-name\">{name}"))
        .unwrap_or_else(|| panic!("no line {name}: {page}"));
    let start = page[..at].rfind("<form").expect("its form");
    let form = &page[start..at];
    let fields = form.split("<input ").skip(1);
    let value = |field: &str, of: &str| {
        let mark = format!("{of}=\"");
        let from = field.find(&mark).expect(of) + mark.len();
        field[from..].split('"').next().unwrap_or("").to_string()
    };
    fields.map(|f| (value(f, "name"), value(f, "value"))).collect()
}

fn tick(server: &Server, name: &str) {
    let fields = line(&server.get("/shop").body, name);
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    let sent = server.post("/shop/tick", &fields);
    assert!(
        sent.status == 303 && sent.location.starts_with("/shop#line-"),
        "{}",
        sent.body
    );
}

fn ticked(server: &Server) -> usize {
    server.get("/shop").body.matches("aria-checked=\"true\"").count()
}

#[test]
fn two_projects_are_shopped_for_together_and_ticked_without_script() {
    assert!(Server::empty().get("/shop").text().contains("There is none yet"));
    let (_folder, server, projects) = wanting(&["Apron", "Bag"]);
    let [apron, bag] = &projects[..] else { panic!() };
    let page = server.get("/shop");
    let text = page.text();
    // Both panels lie side by side on one yard; the snaps add up.
    for part in [
        "For Bag, Apron",
        "Oat linen",
        "1 yd 0.92 m",
        "$10.00",
        "Snaps",
        "18",
        "Together $18.00",
        "44 in",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    tick(&server, "Oat linen");
    assert_eq!(ticked(&server), 1);
    tick(&server, "Oat linen");
    assert_eq!(ticked(&server), 0);
    // One project alone, and its choice is kept.
    let id = |project: &str| project.rsplit('/').next().unwrap_or("").to_string();
    let chosen = server.post("/shop/choice", &[("project", &id(apron))]);
    assert_eq!(chosen.status, 303);
    let text = server.get("/shop").text();
    assert!(text.contains("For Apron") && text.contains("Snaps9"), "{text}");
    server.post("/shop/choice", &[]);
    assert!(server.get("/shop").text().contains("For no project: choose one"));
    assert_eq!(server.post(&format!("{bag}/bin"), &[]).status, 303);
    assert!(!server.get("/shop").text().contains("Bag"));
}

/// Nothing to buy is no dead end: what covers it is said, and leads to it.
#[test]
fn where_nothing_is_to_be_bought_it_is_said_what_covers_it() {
    let folder = tempfile::tempdir().unwrap();
    let notebook = Notebook::open(folder.path()).unwrap();
    let start = |title: &str, plan: &str| {
        let details = ProjectDetails {
            title: title.into(),
            ..ProjectDetails::default()
        };
        let id = notebook.start_project(Id::now_v7(), &details).unwrap();
        let plan = Edit::Whole(Box::new(Plan::from_json(plan).unwrap()));
        notebook.change_plan(id, 1, &plan).unwrap();
        id
    };
    let bag = start(
        "Bag",
        r#"{"format":1,"cloths":[{"id":"c1","name":"Oat linen","usable_width":"42 in","owned":"2 yd","remnants":[{"width":"9 in","length":"9 in","count":1}]}],
        "pieces":[{"id":"p1","name":"Front","cut_count":1,"width":"20 in","height":"34 in","face":{"kind":"plain","cloth":"c1"}}]}"#,
    );
    let empty = start("Cape", r#"{"format":1}"#);
    drop(notebook);
    std::thread::sleep(std::time::Duration::from_millis(300));
    let server = Server::in_folder(folder.path(), &[]);
    let page = server.get("/shop");
    let text = page.text();
    for part in [
        "Nothing is to be bought",
        "Enough at hand: 1 cloth",
        "at hand: 2 yd",
        "1 remnant",
        "off a new cloth",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    for link in [
        format!("/projects/{bag}/figures"),
        format!("/projects/{bag}"),
        format!("/projects/{empty}"),
    ] {
        assert!(page.body.contains(&format!("href=\"{link}\"")), "{link}");
    }
    // Open at once, not to be searched for.
    assert!(page.body.contains("class=\"shop-home\" open"));
    let chosen = server.post("/shop/choice", &[("project", &empty.to_string())]);
    assert_eq!(chosen.status, 303);
    let text = server.get("/shop").text();
    assert!(
        text.contains("Nothing is to be bought") && text.contains("name no cloth"),
        "{text}"
    );
}

#[test]
fn a_tick_by_script_may_come_twice_and_late() {
    let (_folder, server, _) = wanting(&["Apron"]);
    let fields = line(&server.get("/shop").body, "Snaps");
    let body = |ticked: &str, age: &str| {
        let mut all: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
        all.retain(|(n, _)| *n != "ticked");
        all.extend([("ticked", ticked), ("age", age)]);
        let text: Vec<String> = all
            .iter()
            .map(|(n, v)| format!("{n}={}", crate::support::encode(v)))
            .collect();
        text.join("&")
    };
    let send = |body: String| {
        let request = agent()
            .post(server.url("/shop/tick"))
            .header("origin", format!("http://{}", server.address))
            .header("accept", "application/json")
            .header("content-type", "application/x-www-form-urlencoded");
        reply(request.send(body))
    };
    let sent = send(body("yes", "0"));
    assert_eq!((sent.status, sent.body.as_str()), (200, "{\"kept\":true}"));
    // Made a minute before that and held by a phone: older than what is known.
    assert_eq!(send(body("", "60000")).status, 200);
    assert_eq!(ticked(&server), 1);
    assert!(server.get("/shop/ticks").body.contains("notion/snaps"));
    assert_eq!(send(body("", "nonsense")).status, 200);
    assert_eq!(ticked(&server), 0);
    assert_eq!(send("key=&ticked=yes".into()).status, 422);
    // From a foreign page nothing is ticked.
    let foreign = agent()
        .post(server.url("/shop/tick"))
        .header("origin", "http://example.org");
    assert_eq!(reply(foreign.send(body("yes", "0"))).status, 403);
}

#[test]
fn what_is_ticked_comes_home_and_can_be_undone() {
    let (_folder, server, projects) = wanting(&["Apron"]);
    let apron = &projects[0];
    assert!(server.get("/shop/home").text().contains("Nothing is ticked"));
    tick(&server, "Oat linen");
    tick(&server, "Snaps");
    let page = server.get("/shop/home");
    assert!(
        page.body.contains("value=\"36 in\"")
            && page.body.contains("value=\"42 in\"")
            && page.body.contains("value=\"10.00\""),
        "{}",
        page.body
    );
    let hidden = |name: &str| {
        let mark = format!("name=\"{name}\" value=\"");
        let at = page.body.find(&mark).unwrap_or_else(|| panic!("no {name}")) + mark.len();
        page.body[at..].split('"').next().unwrap_or("").to_string()
    };
    let names = [
        "id",
        "key_0",
        "name_0",
        "new_0",
        "thing_0",
        "thing_name_0",
        "thing_wanted_0",
    ];
    let values: Vec<(&str, String)> = names.iter().map(|n| (*n, hidden(n))).collect();
    let send = |length: &str, day: &str| {
        let mut all: Vec<(&str, &str)> = values.iter().map(|(n, v)| (*n, v.as_str())).collect();
        all.extend([
            ("length_0", length),
            ("width_0", "42 in"),
            ("price_0", "11.50"),
            ("per_0", "yd"),
            ("day", day),
        ]);
        server.post("/shop/home", &all)
    };
    let wrong = send("much", "tomorrow");
    assert_eq!(wrong.status, 422);
    assert!(
        wrong.body.contains("id=\"length_0-error\"")
            && wrong.body.contains("id=\"day-error\"")
            && wrong.body.contains("value=\"much\"")
    );
    for _ in 0..2 {
        let sent = send("1 1/4 yd", "2026-11-25");
        assert!(
            sent.status == 303 && sent.location.starts_with("/shop?bought="),
            "{}",
            sent.body
        );
    }
    let change = values[0].1.clone();
    let text = server.get(&format!("/shop?bought={change}")).text();
    assert!(
        text.contains("Undo") && text.contains("Enough at hand: 1 cloth") && text.contains("Bought: 1"),
        "{text}"
    );
    assert!(server.get("/cloth").text().contains("1 1/4 yd 1.14 m"));
    let cloth = format!("/cloth/{}", values[3].1);
    let text = server.get(&cloth).text();
    for part in [
        "History",
        "bought",
        "25 November 2026",
        "1 1/4 yd (1.14 m)",
        "at $11.50 a yd",
        "Apron",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let text = server.get(&format!("{apron}/revisions")).text();
    assert!(text.contains("Oat linen bought"), "{text}");
    // Cut from it, and what is left comes back.
    let form = format!("{apron}/cloth");
    let page = server.get(&form);
    assert!(page.body.contains("value=\"35 in\""), "{}", page.body);
    let (id, seen) = (server.hidden(&form, "id"), server.hidden(&form, "seen_0"));
    let (plan, on) = (server.hidden(&form, "plan"), server.hidden(&form, "cloth_0"));
    let cut_by = |plan: &str| {
        let fields = [
            ("id", id.as_str()),
            ("plan", plan),
            ("cloth_0", &on),
            ("seen_0", &seen),
            ("cut_0", "34 in"),
            ("remnant_0_0", "yes"),
            ("day", "2026-11-26"),
        ];
        server.post(&form, &fields)
    };
    // Made for another plan, its numbers mean another cloth or another remnant.
    let earlier = cut_by("1");
    assert_eq!(earlier.status, 409, "{}", earlier.body);
    let text = earlier.text();
    assert!(text.contains("Nothing has left the shelf yet"), "{text}");
    assert!(
        earlier.body.contains("value=\"34 in\"") && earlier.body.contains(&format!("name=\"plan\" value=\"{plan}\"")),
        "{}",
        earlier.body
    );
    assert!(server.get("/cloth").text().contains("1 1/4 yd 1.14 m"));
    let cut = |length: &str, more: (&str, &str)| {
        server.post(
            &form,
            &[
                ("id", &id),
                ("plan", &plan),
                ("seen_0", &seen),
                ("cut_0", length),
                ("complete_0", "yes"),
                ("day", "2026-11-26"),
                more,
            ],
        )
    };
    let wrong = cut("2 yd", ("wide_0", "3"));
    assert_eq!(wrong.status, 422);
    assert!(
        wrong.body.contains("id=\"cut_0-error\"") && wrong.body.contains("id=\"long_0-error\""),
        "{}",
        wrong.body
    );
    for _ in 0..2 {
        assert_eq!(cut("35 in", ("back_0_0", "yes")).status, 303);
    }
    let text = server.get(&cloth).text();
    for part in [
        "cut from it",
        "For Apron: 35 in (88.9 cm)",
        "given back",
        "22 × 34 in",
        "Cut so far: 35 in",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    // It is cut: the list asks for none of it, and says so.
    let list = server.get("/shop");
    assert!(!list.body.contains("shop-name\">Oat linen"));
    assert!(list.text().contains("Cut already: Oat linen of"), "{}", list.text());
    // The purchase can no longer be undone in one step, the cut can.
    let said = server.post(&format!("/shelf-changes/{change}/undo"), &[]);
    assert!(
        said.status == 422 && said.text().contains("Oat linen was changed since"),
        "{}",
        said.text()
    );
    let cloth_id = values[3].1.clone();
    for (what, back) in [(&id, format!("{cloth}#history")), (&change, format!("{cloth}#history"))] {
        let undone = server.post(&format!("/shelf-changes/{what}/undo"), &[("cloth", &cloth_id)]);
        assert_eq!((undone.status, undone.location), (303, back));
    }
}

#[test]
fn a_finished_project_is_asked_once_what_is_left() {
    let (_folder, server, projects) = wanting(&["Apron"]);
    let apron = &projects[0];
    let ask = "Is cloth left that goes back to the shelf?";
    let finish = |seen: &str| {
        server.post(
            &format!("{apron}/details"),
            &[("title", "Apron"), ("state", "finished"), ("seen", seen)],
        )
    };
    // Its cloth is on no shelf: nothing to ask.
    assert_eq!(finish("1").status, 303);
    assert!(!server.get(apron).text().contains(ask));
    let made = server.project("Bag");
    let shelf = [
        ("id", "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a"),
        ("name", "Moss"),
        ("kind", "cloth"),
        ("usable_width", "54 in"),
        ("colour", "#5c6b3d"),
        ("price_per", "yd"),
    ];
    assert_eq!(server.post_files("/cloth/new", &shelf, &[]).status, 303);
    let taken = server.post(
        &format!("{made}/cloths/choose"),
        &[("seen", "1"), ("stock", shelf[0].1)],
    );
    assert_eq!(taken.status, 303, "{}", taken.body);
    server.post(
        &format!("{made}/details"),
        &[("title", "Bag"), ("state", "finished"), ("seen", "1")],
    );
    assert!(server.get(&made).text().contains(ask));
    assert_eq!(server.post(&format!("{made}/nothing-left"), &[]).status, 303);
    assert!(!server.get(&made).text().contains(ask));
}
