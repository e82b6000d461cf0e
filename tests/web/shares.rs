//! A shared page shows the ticked lines and nothing else.

use crate::plan_forms::{PIECE, begun, save};
use crate::support::Server;

#[test]
fn only_ticked_lines_are_shown() {
    let server = Server::empty();
    let (project, cloth, piece) = begun(&server);
    let mut fields = PIECE.to_vec();
    fields[8] = ("face", "square");
    fields.extend([
        ("finished", "4 in"),
        ("arrangement", "all-alike"),
        ("a-square-0", cloth.as_str()),
    ]);
    assert_eq!(save(&server, &format!("{project}/pieces/{piece}"), &fields).status, 303);
    for name in ["Snaps", "Secret pins"] {
        let saved = save(
            &server,
            &format!("{project}/notions/new"),
            &[("name", name), ("kind", "notion"), ("quantity", "9")],
        );
        assert_eq!(saved.status, 303, "{}", saved.body);
    }
    let page = server.get(&format!("{project}/materials"));
    assert!(page.text().contains("Secret pins"));
    let snaps = key_of(&page.body, "Snaps");
    let pins = key_of(&page.body, "Secret pins");
    let cloth_key = format!("cloth/{cloth}");
    let remark = format!("remark {snaps}");
    let made = server.post(
        &format!("{project}/materials"),
        &[
            ("line", &cloth_key),
            ("line", &snaps),
            ("line", &pins),
            ("show", &cloth_key),
            ("show", &snaps),
            (remark.as_str(), "from the tin"),
            ("then", "share"),
        ],
    );
    assert_eq!(made.status, 303, "{}", made.body);
    let page = server.get(&format!("{project}/materials")).body;
    let at = page.find("/s/").expect("a link");
    let address: String = page[at..].chars().take_while(|c| *c != '"').collect();
    assert!(address.len() >= "/s/".len() + 43, "256 random bits: {address}");

    let shared = server.get(&address);
    let text = shared.text();
    assert_eq!(shared.status, 200);
    assert!(
        text.contains("Oat linen") && text.contains("Snaps") && text.contains("from the tin"),
        "{text}"
    );
    for private in ["Secret pins", "longer in the body", "/projects/"] {
        assert!(!shared.body.contains(private), "{private} is not shown");
    }
    let plain = page_text(&server, &project);
    assert!(
        plain.contains("- Oat linen:") && !plain.contains("Secret pins"),
        "{plain}"
    );

    assert_eq!(server.post(&format!("{project}/materials/close"), &[]).status, 303);
    assert_eq!(server.get(&address).status, 404, "closed at once");
}

/// The key of the line whose remark field names it.
fn key_of(page: &str, name: &str) -> String {
    let at = page
        .find(&format!("aria-label=\"Remark on {name}\""))
        .expect("the line");
    let before = &page[..at];
    let start = before.rfind("name=\"remark ").expect("its key") + "name=\"remark ".len();
    before[start..].split('"').next().expect("a key").to_string()
}

fn page_text(server: &Server, project: &str) -> String {
    let page = server.get(&format!("{project}/materials")).body;
    let start = page.find("id=\"as-text\"").expect("the text");
    let rest = &page[start..];
    rest[..rest.find("</textarea>").expect("its end")].to_string()
}
