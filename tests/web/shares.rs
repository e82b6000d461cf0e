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
        ("cloth0_0", cloth.as_str()),
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

/// The pages of a project with one shown line and what is chosen besides.
pub fn shared(server: &Server, project: &str, cloth: &str, more: &[(&str, &str)]) -> String {
    let key = format!("cloth/{cloth}");
    let seen = server.hidden(&format!("{project}/materials"), "seen");
    let mut fields = vec![
        ("line", key.as_str()),
        ("show", key.as_str()),
        ("then", "share"),
        ("seen", &seen),
    ];
    fields.extend_from_slice(more);
    assert_eq!(server.post(&format!("{project}/materials"), &fields).status, 303);
    let page = server.get(&format!("{project}/materials")).body;
    let at = page.find("/s/").expect("a link");
    page[at..].chars().take_while(|c| *c != '"').collect()
}

fn jpeg(shade: u8) -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    let picture = image::RgbImage::from_pixel(320, 240, image::Rgb([shade, 90, 60]));
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).expect("a JPEG");
    bytes.into_inner()
}

fn add_photo(server: &Server, project: &str, name: &str, bytes: &[u8]) {
    let sent = server.post_files(&format!("{project}/log/add/photo"), &[], &[("photos", name, bytes)]);
    assert_eq!(sent.status, 303, "{}", sent.body);
}

#[test]
fn a_ticked_picture_stays_that_picture() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    add_photo(&server, &project, "first.jpg", &jpeg(200));
    let page = server.get(&format!("{project}/materials")).body;
    let mark = "name=\"picture\" value=\"";
    let at = page.find(mark).expect("the picture can be ticked") + mark.len();
    let hash: String = page[at..].chars().take_while(|c| *c != '"').collect();
    assert!(
        !page[at..at + 90].contains("checked"),
        "no picture is shown until it is ticked"
    );
    let address = shared(
        &server,
        &project,
        &cloth,
        &[("picture", &hash), ("title", "A vest in squares")],
    );

    let before = server.get(&address);
    assert!(before.text().contains("A vest in squares") && !before.text().contains("Test vest"));
    assert!(before.body.contains("noindex"));
    assert_eq!(
        server.get(&format!("{address}/pictures/1")).header("content-type"),
        "image/jpeg"
    );
    // A later photo of the log is the project's picture now, but nobody ticked it.
    add_photo(&server, &project, "second.jpg", &jpeg(20));
    let after = server.get(&address);
    assert_eq!(after.body.matches("<img").count(), 1);
    assert!(!after.body.contains("/pictures/2"));
    assert_eq!(server.get(&format!("{address}/pictures/2")).status, 404);
    assert_eq!(server.get(&format!("{address}/pictures/0")).status, 404);
    let page = server.get(&format!("{project}/materials")).body;
    assert_eq!(
        page.matches(mark).count(),
        2,
        "the new one stands beside the ticked one"
    );
}

#[test]
fn a_shared_page_is_kept_by_browsers_only_while_it_holds() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    let address = shared(&server, &project, &cloth, &[("title", "A vest in squares")]);
    let first = server.get(&address);
    let tag = first.header("etag").to_string();
    assert!(
        tag.len() > 20 && first.header("cache-control").contains("no-cache"),
        "{tag}"
    );
    let again = |tag: &str| {
        let asked = crate::support::agent()
            .get(server.url(&address))
            .header("if-none-match", tag);
        crate::support::reply(asked.call())
    };
    let known = again(&tag);
    assert_eq!((known.status, known.body.len()), (304, 0));
    assert_eq!(again("\"other\"").status, 200);
    // Another title is another page.
    assert_eq!(shared(&server, &project, &cloth, &[("title", "A vest")]), address);
    let changed = again(&tag);
    assert_eq!(changed.status, 200);
    assert!(changed.text().contains("A vest") && changed.header("etag") != tag);
    // Closed, it is gone for those who know it too.
    assert_eq!(server.post(&format!("{project}/materials/close"), &[]).status, 303);
    assert_eq!(again(changed.header("etag")).status, 404);
}

#[test]
fn a_machine_that_asks_and_asks_is_told_to_wait() {
    let server = Server::empty();
    let (project, cloth, _) = begun(&server);
    let address = shared(&server, &project, &cloth, &[]);
    let answers: Vec<u16> = (0..320).map(|_| server.get(&address).status).collect();
    assert!(answers[..290].iter().all(|s| *s == 200));
    assert_eq!(answers.last(), Some(&429));
    // The maker's own pages are not part of it.
    assert_eq!(server.get(&project).status, 200);
}
