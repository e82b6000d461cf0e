//! Two variants over HTTP: changed by the forms of the plan, compared, one
//! taken; the plan as it was until then.

use crate::plan_forms::{PIECE, begun, plan, save};
use crate::support::Server;

/// The address of a part of variant `letter`, from that of the project.
fn of(letter: &str, project: &str, part: &str) -> String {
    format!("/variants/{letter}{project}{part}")
}

fn piece_of(width: &'static str) -> Vec<(&'static str, &'static str)> {
    PIECE
        .iter()
        .map(|(n, v)| (*n, if *n == "width" { width } else { *v }))
        .collect()
}

/// A project with a pair; its address and that of its piece.
fn pair(server: &Server) -> (String, String) {
    let (project, _, piece) = begun(server);
    let page = server.get(&format!("{project}/variants"));
    assert!(page.text().contains("Set two variants beside each other"));
    assert_eq!(server.post(&format!("{project}/variants"), &[]).status, 303);
    (project, format!("/pieces/{piece}"))
}

#[test]
fn a_variant_is_changed_by_the_forms_of_the_plan_and_the_plan_stays() {
    let server = Server::empty();
    let (project, piece) = pair(&server);
    let before = plan(&server, &project);
    let list = server.get(&of("a", &project, ""));
    assert_eq!(list.status, 200);
    assert!(
        list.body.contains(&format!("href=\"{}\"", of("a", &project, &piece))),
        "links lead to the variant"
    );
    let form = server.get(&of("a", &project, &piece));
    assert!(form.text().contains("Variant A. The plan stays as it is"));
    assert!(!form.text().contains("Keep this change as a decision"));
    assert!(form.body.contains(&format!("action=\"{}\"", of("a", &project, &piece))));

    let saved = save(&server, &of("a", &project, &piece), &piece_of("15"));
    assert_eq!((saved.status, saved.location), (303, of("a", &project, "#pieces")));
    // What is wrong stands beside the field, what was typed is kept.
    let wrong = save(&server, &of("b", &project, &piece), &piece_of("1/0"));
    assert_eq!(wrong.status, 422);
    assert!(wrong.body.contains("value=\"1/0\"") && wrong.text().contains("Variant B."));
    let tried = server.post(&format!("{}/try", of("b", &project, &piece)), &piece_of("14"));
    assert_eq!(tried.status, 200);
    // New parts, and a cloth from the form: into the variant alone.
    let edge = [("name", "Hem"), ("length", "40"), ("count", "1"), ("corners", "0")];
    assert_eq!(save(&server, &of("b", &project, "/edges/new"), &edge).status, 303);
    assert!(server.get(&of("b", &project, "")).text().contains("Hem"));
    assert_eq!(plan(&server, &project), before, "the plan itself");
    let revisions = server.get(&format!("{project}/revisions"));
    assert!(!revisions.text().contains("Hem"));

    let page = server.get(&format!("{project}/variants")).text();
    for said in [
        "Front changed",
        "Edge Hem added",
        "Figure by figure",
        "3 in (7.6 cm) wider",
        "the same",
    ] {
        assert!(page.contains(said), "{said} is not in {page}");
    }
    let figures = server.get(&of("a", &project, "/figures"));
    assert!(
        figures.text().contains("Figures of variant A") && figures.text().contains("15 × 21 in"),
        "{}",
        figures.text()
    );
    let shown = server.get(&of("a", &project, &piece));
    assert!(shown.body.contains("value=\"15 in\""), "what was saved comes back");
}

#[test]
fn taking_one_is_one_revision_and_gives_a_decision() {
    let server = Server::empty();
    let (project, piece) = pair(&server);
    let address = format!("{project}/variants/a/take");
    save(&server, &of("a", &project, &piece), &piece_of("15"));
    let edge = [("name", "Hem"), ("length", "40"), ("count", "1"), ("corners", "0")];
    save(&server, &of("a", &project, "/edges/new"), &edge);
    let note = server.post(&format!("{project}/variants/a/note"), &[("note", "wider front")]);
    assert_eq!(note.status, 303);
    assert!(
        server
            .get(&format!("{project}/variants"))
            .text()
            .contains("A: wider front")
    );
    let page = server.get(&address).text();
    assert!(
        page.contains("What it changes in the plan") && page.contains("wider"),
        "{page}"
    );

    let version = server.hidden(&address, "version");
    let id = server.hidden(&address, "decision_id");
    let long = "x".repeat(300);
    let too_long = [("version", version.as_str()), ("decided", long.as_str())];
    let refused = server.post(&address, &too_long);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains(&long), "what was typed is kept");
    let fields = [
        ("version", version.as_str()),
        ("decision_id", id.as_str()),
        ("decided", "The wider front"),
        ("why", "it closes"),
    ];
    for _ in 0..2 {
        let taken = server.post(&address, &fields);
        assert_eq!((taken.status, taken.location), (303, project.clone()), "sent twice");
    }
    let now = plan(&server, &project);
    assert_eq!(
        (now["pieces"][0]["width"].as_str(), now["edges"][0]["name"].as_str()),
        (Some("15 in"), Some("Hem"))
    );
    let log = server.get(&format!("{project}/log"));
    assert_eq!(log.body.matches("<article class=\"entry\"").count(), 1);
    assert!(log.text().contains("The wider front") && log.text().contains("What it did to the figures"));
    let revisions = server.get(&format!("{project}/revisions")).text();
    assert_eq!(revisions.matches("Variant A taken").count(), 1, "{revisions}");
    assert_eq!(server.get(&of("b", &project, "")).status, 404, "the pair is in the bin");
}

#[test]
fn a_plan_changed_meanwhile_is_shown_and_not_written_over() {
    let server = Server::empty();
    let (project, piece) = pair(&server);
    let address = format!("{project}/variants/a/take");
    save(&server, &of("a", &project, &piece), &piece_of("15"));
    let version = server.hidden(&address, "version");
    // After the page was opened, another device changes the same piece in the plan.
    save(&server, &format!("{project}{piece}"), &piece_of("16"));
    let fields = [
        ("version", version.as_str()),
        ("over", ""),
        ("decided", "Wider"),
        ("why", "because"),
    ];
    let clash = server.post(&address, &fields);
    assert_eq!(clash.status, 409);
    let text = clash.text();
    assert!(
        text.contains("Front was changed in the plan as well") && text.contains("Nothing was written over"),
        "{text}"
    );
    assert!(
        clash.body.contains("value=\"Wider\"") && text.contains("because"),
        "what was typed is kept"
    );
    assert_eq!(plan(&server, &project)["pieces"][0]["width"], "16 in");
    // Knowing that, it is taken all the same.
    let over = server.hidden(&address, "over");
    assert!(!over.is_empty());
    let fields = [
        ("version", version.as_str()),
        ("over", over.as_str()),
        ("decided", "Wider"),
    ];
    assert_eq!(server.post(&address, &fields).status, 303);
    assert_eq!(plan(&server, &project)["pieces"][0]["width"], "15 in");
}

#[test]
fn a_pair_given_up_can_be_taken_out_of_the_bin() {
    let server = Server::empty();
    let (project, piece) = pair(&server);
    save(&server, &of("b", &project, &piece), &piece_of("15"));
    let dropped = server.post(&format!("{project}/variants/drop"), &[]);
    assert_eq!(dropped.status, 303);
    let page = server.get(&dropped.location);
    assert!(page.text().contains("Both variants are in the bin") && page.text().contains("Undo"));
    assert_eq!(server.post(&format!("{project}/variants/restore"), &[]).status, 303);
    assert!(server.get(&of("b", &project, &piece)).body.contains("value=\"15 in\""));
    for wrong in ["/variants/c/take", "/variants/A/take"] {
        assert_eq!(server.get(&format!("{project}{wrong}")).status, 404);
    }
}

#[test]
fn any_two_revisions_are_compared_and_each_tells_what_it_did() {
    let server = Server::empty();
    let (project, _, piece) = begun(&server);
    save(&server, &format!("{project}/pieces/{piece}"), &piece_of("15"));
    let list = server.get(&format!("{project}/revisions"));
    assert!(list.text().contains("3 in (7.6 cm) wider"), "{}", list.text());
    assert!(
        list.text().contains("no figure changed"),
        "the cloth alone changes none"
    );
    let compared = server.get(&format!("{project}/revisions?from=3&to=4"));
    let text = compared.text();
    for said in [
        "Revision 3 and revision 4",
        "Front, least before quilting",
        "3 in (7.6 cm) wider",
    ] {
        assert!(text.contains(said), "{said} is not in {text}");
    }
    for (asked, said) in [
        ("from=2&to=99", "revisions 1 to 4"),
        ("from=&to=3", "revisions 1 to 4"),
        ("from=x&to=3", "revisions 1 to 4"),
        ("from=3&to=3", "No figure differs"),
    ] {
        let page = server.get(&format!("{project}/revisions?{asked}"));
        assert_eq!(page.status, 200, "{asked}");
        assert!(page.text().contains(said), "{asked}: {}", page.text());
    }
}
