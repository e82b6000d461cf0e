//! The binding: three ways compared, cut from remnants, any rectangle asked.

use crate::plan_forms::{plan, save};
use crate::support::Server;

/// A project with a cloth that has a remnant of 30 x 40 in, one closed edge of
/// 80 in, and a binding: 86 in of strips 2 1/2 in wide.
fn bound(server: &Server) -> String {
    let project = server.project("Test hood");
    let cloth = [
        ("name", "Oat linen"),
        ("kind", "cloth"),
        ("usable_width", "42 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
        ("rem_width_0", "30 in"),
        ("rem_length_0", "40 in"),
        ("rem_count_0", "1"),
    ];
    assert_eq!(save(server, &format!("{project}/cloths/new"), &cloth).status, 303);
    let edge = [("name", "Hem"), ("length", "80"), ("count", "1"), ("closed", "yes")];
    assert_eq!(save(server, &format!("{project}/edges/new"), &edge).status, 303);
    let reply = save(server, &format!("{project}/binding"), &fields(server, &project, &[]));
    assert_eq!(reply.status, 303, "{}", reply.body);
    project
}

fn fields<'a>(server: &Server, project: &str, more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let cloth = plan(server, project)["cloths"][0]["id"]
        .as_str()
        .expect("a cloth")
        .to_string();
    let mut fields = vec![
        ("cloth", &*cloth.leak()),
        ("fold", "double"),
        ("cut", "bias-strips"),
        ("finished_width", "3/8"),
    ];
    for (name, value) in more {
        fields.retain(|(n, _)| n != name);
        fields.push((name, value));
    }
    fields
}

#[test]
fn another_way_is_one_tap_and_a_save() {
    let server = Server::empty();
    let project = bound(&server);
    // Figures are shown once there is a piece.
    let piece = [
        ("name", "Hood"),
        ("cut_count", "2"),
        ("width", "12"),
        ("height", "14"),
        ("face", "none"),
    ];
    assert_eq!(save(&server, &format!("{project}/pieces/new"), &piece).status, 303);
    let page = server.get(&format!("{project}/figures"));
    let text = page.text();
    for words in [
        "Three ways to cut it",
        "Straight-grain strips",
        "least cloth",
        "Choose continuous bias",
    ] {
        assert!(text.contains(words), "{words} is not in {text}");
    }
    let tap = format!("{project}/binding?cut=continuous");
    assert!(page.body.contains(&tap), "the choice leads to the form");
    let form = server.get(&tap).body;
    assert!(form.contains("<option value=\"continuous\" selected>"), "{form}");
    assert_eq!(
        plan(&server, &project)["binding"]["cut"],
        "bias-strips",
        "a look saves nothing"
    );
    let saved = save(
        &server,
        &format!("{project}/binding"),
        &fields(&server, &project, &[("cut", "continuous")]),
    );
    assert_eq!(saved.status, 303);
    assert_eq!(plan(&server, &project)["binding"]["cut"], "continuous");
    // A way there is none of is no reason for an error.
    assert_eq!(server.get(&format!("{project}/binding?cut=crosswise")).status, 200);
}

#[test]
fn cut_from_remnants_is_saved_and_stays() {
    let server = Server::empty();
    let project = bound(&server);
    let address = format!("{project}/binding");
    let asked = server.get(&format!("{address}?remnants=yes")).body;
    let ticked = |page: &str| {
        let at = page.find("id=\"from_remnants\"").expect("the box");
        page[at..].split('>').next().unwrap_or("").contains("checked")
    };
    assert!(ticked(&asked) && !ticked(&server.get(&address).body));
    let saved = save(
        &server,
        &address,
        &fields(&server, &project, &[("from_remnants", "yes")]),
    );
    assert_eq!(saved.status, 303);
    assert_eq!(plan(&server, &project)["binding"]["from_remnants"], true);
    assert!(ticked(&server.get(&address).body));
    let figures = server.get(&format!("/api{project}/figures")).body;
    let figures = &serde_json::from_str::<serde_json::Value>(&figures).expect("JSON")["figures"];
    assert_eq!(figures["cloths"][0]["to_buy"], "0 in");
    assert_eq!(figures["binding"]["cut_from"][0]["remnant"], 0);
    // Others, who have no remnant, are told of the cloth.
    let materials = server.get(&format!("{project}/materials")).text();
    assert!(materials.contains("for binding"), "{materials}");
    assert!(server.get(&project).text().contains("bias strips, from remnants"));
    // What is wrong is said beside the field, and the tick is kept.
    let wrong = save(
        &server,
        &address,
        &fields(
            &server,
            &project,
            &[("from_remnants", "yes"), ("finished_width", "1/0")],
        ),
    );
    assert_eq!(wrong.status, 422, "{}", wrong.body);
    assert!(wrong.body.contains("fraction over nothing") && ticked(&wrong.body));
}

#[test]
fn any_rectangle_is_answered_and_nothing_is_saved() {
    let server = Server::empty();
    let project = bound(&server);
    let before = plan(&server, &project);
    let address = format!("{project}/binding/remnant");
    // At first the remnants of its cloth.
    let first = server.get(&address);
    assert!(
        first.body.contains("value=\"30 in\"") && first.text().contains("Enoughyes"),
        "{}",
        first.text()
    );
    let small = server.get(&format!("{address}?rem_width_0=9&rem_length_0=10+in&rem_count_0=1"));
    let text = small.text();
    assert!(text.contains("Enoughno") && text.contains("Missing"), "{text}");
    assert!(small.body.contains("class=\"cut\""), "the strips are drawn");
    // Several joined: each gives too little.
    let several = server.get(&format!("{address}?rem_width_0=12&rem_length_0=9&rem_count_0=3"));
    assert!(several.text().contains("remnants together"), "{}", several.text());
    assert_eq!(plan(&server, &project), before);
    // What cannot be read stands there again with a sentence.
    let wrong = server.get(&format!("{address}?rem_width_0=9%2F0&rem_length_0=10"));
    assert_eq!(wrong.status, 200);
    assert!(wrong.body.contains("value=\"9/0\""));
    assert!(wrong.text().contains("fraction over nothing"), "{}", wrong.text());
    for odd in [
        "?",
        "?rem_width_0=",
        "?rem_width_0=200m&rem_length_0=200m&rem_count_0=100",
        "?x=%FF%00",
    ] {
        let reply = server.get(&format!("{address}{odd}"));
        assert!(reply.status < 500, "{odd}: {}", reply.status);
    }
}

#[test]
fn without_a_binding_the_page_says_what_is_lacking() {
    let server = Server::empty();
    let project = server.project("Bare");
    let page = server.get(&format!("{project}/binding/remnant"));
    assert_eq!(page.status, 200);
    assert!(
        page.text().contains("needs edges, a cloth and a width"),
        "{}",
        page.text()
    );
}
