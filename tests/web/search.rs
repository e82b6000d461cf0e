//! The search of the sample, over HTTP.

use crate::support::{Server, encode};

fn asked(server: &Server, text: &str) -> crate::support::Reply {
    let page = server.get(&format!("/search?q={}", encode(text)));
    assert_eq!(page.status, 200, "{text}: {}", page.text());
    page
}

/// The words of the first answer as they are copied.
fn copied(body: &str, id: &str) -> String {
    let mark = format!("id=\"{id}\">");
    let at = body.find(&mark).unwrap_or_else(|| panic!("no {id}")) + mark.len();
    let inside = &body[at..at + body[at..].find("</p>").expect("its end")];
    let mut text = String::new();
    let mut tag = false;
    for c in inside.chars() {
        match c {
            '<' => tag = true,
            '>' => tag = false,
            c if !tag => text.push(c),
            _ => {}
        }
    }
    text
}

#[test]
fn the_answer_stands_in_the_result() {
    let server = Server::sample();
    // Snaps of two projects: how many, the maker's remark, a place to copy from.
    let page = asked(&server, "snaps");
    let text = page.text();
    for said in [
        "Patchwork waistcoat for Ilse",
        "Front opening: 5 snaps; 7/16 in (1.1 cm) across (Sew-on, not pressed in: the layers are too thick for prongs.",
        "Winter coat for Barley",
        "Belly strap, two rows: 3 snaps; 1.5 cm (9/16 in) across",
        "Five snaps, 3 7/8 in apart",
    ] {
        assert!(text.contains(said), "{said} is not in {text}");
    }
    assert!(page.body.contains("<mark>snaps</mark>"));
    assert!(page.body.contains("data-copy=\"#materials-0-text\""));
    let answer = copied(&page.body, "materials-0-text");
    assert!(answer.contains("3 snaps"), "{answer}");

    // The backing: which cloth, how much in both units, where it came from.
    let text = copied(
        &asked(&server, "what was the backing of the waistcoat?").body,
        "materials-0-text",
    );
    let mut lines = text.lines();
    let first = lines.next().unwrap_or_default();
    assert!(
        first.starts_with("Reeds print: ") && first.contains(" yd (") && first.contains(" m); "),
        "{first}"
    );
    assert!(first.contains("for backing"), "{first}");
    assert_eq!(lines.next(), Some("https://example.com/pellimore/reeds"));
    let every = asked(&server, "backing").text();
    for cloth in ["Reeds print", "Wide muslin", "Rust check flannel"] {
        assert!(every.contains(&format!("{cloth}: ")), "{cloth}: {every}");
    }

    // A name: the wearer with the measures, and what is made for her.
    let ilse = asked(&server, "Ilse").text();
    assert!(
        ilse.contains("Patchwork waistcoat for Ilse") && ilse.contains("Wearers (1)"),
        "{ilse}"
    );
    // What quilting took up: of the pieces, and where the log speaks of it.
    let text = asked(&server, "take-up").text();
    assert!(
        text.contains("quilted, 4 % take-up") && text.contains("Reckon 4 % take-up instead of 3 %."),
        "{text}"
    );
    assert!(
        text.contains("altered +1 1/2 in (3.8 cm) in height (long back"),
        "{text}"
    );
}

#[test]
fn nothing_found_says_so_and_no_text_is_an_error() {
    let server = Server::sample();
    let page = server.get("/search");
    assert!(page.text().contains("Everything written is searched") && !page.body.contains("answer-text"));
    for text in [
        "zeppelin",
        "\"; DROP TABLE project;--",
        "title:* NOT",
        "\"\"\"",
        "<script>alert(1)</script>",
        "%",
        "( * ^",
    ] {
        let page = asked(&server, text);
        assert!(page.text().contains("Nothing was found"), "{text}: {}", page.text());
        assert!(!page.body.contains("<script>alert"), "{text}");
    }
    for address in [
        "/search?q=snaps&year=99999999999&wearer=x&cloth=%00&state=lost",
        "/search?q=snaps&q=zeppelin",
    ] {
        let page = server.get(address);
        assert_eq!(page.status, 200, "{address}");
        assert!(page.text().contains("5 snaps"), "{address}");
    }
}

#[test]
fn results_are_narrowed_down_and_follow_the_notebook() {
    let server = Server::sample();
    let text = server.get("/search?q=snaps&state=finished").text();
    assert!(text.contains("5 snaps") && !text.contains("3 snaps"), "{text}");
    let page = server.get("/search?q=snaps&year=1999");
    assert!(page.text().contains("Nothing was found") && page.body.contains("href=\"/search?q=snaps\""));
    assert!(page.body.contains("value=\"2026\""), "years to choose from");
    // Into the bin and out of it.
    let found = asked(&server, "snaps").body;
    let at = found.find("/materials\">Winter coat").expect("the coat");
    let project = &found[at - 36..at];
    assert_eq!(server.post(&format!("/projects/{project}/bin"), &[]).status, 303);
    let text = asked(&server, "snaps").text();
    assert!(text.contains("5 snaps") && !text.contains("Winter coat"), "{text}");
    assert_eq!(server.post(&format!("/projects/{project}/restore"), &[]).status, 303);
    assert!(asked(&server, "snaps").text().contains("Winter coat"));
    // Every page leads there.
    for path in [
        "/",
        "/cloth",
        "/settings",
        &format!("/projects/{project}"),
        &format!("/projects/{project}/log"),
    ] {
        assert!(server.get(path).body.contains("href=\"/search\""), "{path}");
    }
}
