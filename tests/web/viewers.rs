//! What viewers see: their own unit and width, other forms of the list, and a
//! list that stays as it was.

use crate::plan_forms::{PIECE, begun, plan, save};
use crate::shares::shared;
use crate::support::Server;

const CLOTH: [(&str, &str); 6] = [
    ("name", "Oat linen"),
    ("kind", "cloth"),
    ("usable_width", "42 in"),
    ("colour", "#d9cfb8"),
    ("price_per", "yd"),
    ("price", "87.65"),
];

/// A project with two notions, everything of which a word names is private but
/// for the first notion and the cloth. Its cloth's key and that notion's.
fn furnished(server: &Server) -> (String, String, String) {
    let (project, cloth, piece) = begun(server);
    let mut fields = PIECE.to_vec();
    fields[8] = ("face", "square");
    fields.extend([
        ("finished", "4 in"),
        ("arrangement", "all-alike"),
        ("cloth0_0", cloth.as_str()),
    ]);
    assert_eq!(save(server, &format!("{project}/pieces/{piece}"), &fields).status, 303);
    let saved = save(server, &format!("{project}/cloths/{cloth}"), &CLOTH);
    assert_eq!(saved.status, 303, "{}", saved.body);
    for (name, link) in [
        ("Snaps", "https://shop.example/snaps"),
        ("Hidden pins", "https://hidden.example/pins"),
    ] {
        let fields = [("name", name), ("kind", "notion"), ("quantity", "9"), ("link", link)];
        assert_eq!(save(server, &format!("{project}/notions/new"), &fields).status, 303);
    }
    let notion = plan(server, &project)["notions"][0]["id"]
        .as_str()
        .expect("an id")
        .to_string();
    (project, cloth, notion)
}

const PRIVATE: [&str; 6] = [
    "Hidden pins",
    "hidden.example",
    "longer in the body",
    "87.65",
    "87,65",
    "/projects/",
];

fn address(server: &Server, project: &str, cloth: &str, notion: &str) -> String {
    let key = format!("notion/{notion}");
    let remark = format!("remark {key}");
    let instead = format!("instead {key}");
    shared(
        server,
        project,
        cloth,
        &[
            ("line", &key),
            ("show", &key),
            ("paid", &key),
            (&remark, "from the tin"),
            (&instead, "buttons = fine"),
            ("line", "notion/none"),
        ],
    )
}

#[test]
fn every_form_of_the_list_holds_what_is_ticked_and_nothing_else() {
    let server = Server::empty();
    let (project, cloth, notion) = furnished(&server);
    let address = address(&server, &project, &cloth, &notion);
    for ending in ["txt", "md", "csv", "json"] {
        for file in [
            format!("{address}/list.{ending}"),
            format!("{project}/materials/list.{ending}"),
        ] {
            let reply = server.get(&file);
            assert_eq!(reply.status, 200, "{file}");
            assert!(
                reply.body.contains("Snaps") && reply.body.contains("Oat linen"),
                "{}",
                reply.body
            );
            for private in PRIVATE {
                assert!(!reply.body.contains(private), "{file} holds {private}");
            }
        }
    }
    assert_eq!(server.get(&format!("{address}/list.html")).status, 404);
    let page = server.get(&address);
    for private in PRIVATE {
        assert!(!page.body.contains(private), "the page holds {private}");
    }
    let text = server.get(&format!("{address}/list.txt")).body;
    assert!(text.starts_with("Some links here are paid links"), "{text}");
    assert!(
        text.contains("- Snaps: 9 (from the tin); instead: buttons = fine\n  https://shop.example/snaps (paid link)"),
        "{text}"
    );
    assert!(text.contains("- Oat linen: buy ") && text.contains("; used "), "{text}");
    let csv = server.get(&format!("{address}/list.csv"));
    assert_eq!(csv.header("content-type"), "text/csv; charset=utf-8; header=present");
    assert!(csv.body.contains("\"Notions\",\"Snaps\",\"9\",\"\",\"\",\"buttons = fine\",\"from the tin\",\"https://shop.example/snaps\",\"yes\"\r\n"), "{}", csv.body);
    // Machines that show a link read its head.
    assert!(page.body.contains("property=\"og:title\" content=\"Test vest\""));
    assert!(page.body.contains("application/ld+json") && page.body.contains("\"@type\":\"HowTo\""));
    assert!(page.body.contains("rel=\"sponsored"));
}

#[test]
fn a_viewer_reads_it_in_their_own_unit_and_width() {
    let server = Server::empty();
    let (project, cloth, notion) = furnished(&server);
    let address = address(&server, &project, &cloth, &notion);
    let plain = server.get(&address).text();
    let amount = |text: &str| -> String {
        let at = text.find("to buy").expect("an amount") + "to buy".len();
        let rest = &text[at..];
        rest[..rest.find("used").expect("its end")].trim().to_string()
    };
    assert!(amount(&plain).contains("yd ("), "{}", amount(&plain));
    let metric = server.get(&format!("{address}?unit=cm&width=")).text();
    assert!(amount(&metric).contains("m ("), "{}", amount(&metric));
    let wide = server.get(&format!("{address}?unit=in&width=110+in")).text();
    assert!(wide.contains("on yours, 110 in (279.4 cm) wide"), "{wide}");
    assert_ne!(amount(&wide), amount(&plain), "a wider cloth takes less");
    let too_narrow = server.get(&format!("{address}?unit=in&width=20")).text();
    assert!(too_narrow.contains("is not worked out"), "{too_narrow}");
    let odd = server.get(&format!("{address}?unit=ell&width=%3Cb%3Ewide"));
    assert_eq!(odd.status, 200);
    assert!(odd.body.contains("role=\"alert\"") && odd.body.contains("value=\"&lt;b&gt;wide\""));
    assert_eq!(amount(&odd.text()), amount(&plain));
}

#[test]
fn a_list_can_stay_as_it_was() {
    let server = Server::empty();
    let (project, cloth, notion) = furnished(&server);
    let address = address(&server, &project, &cloth, &notion);
    let state = format!("{project}/materials/state");
    assert_eq!(server.post(&state, &[("do", "hold")]).status, 303);
    let materials = format!("{project}/materials");
    assert!(!server.get(&materials).text().contains("Viewers see an earlier state"));
    let mut other = CLOTH;
    other[0].1 = "Wheat linen";
    assert_eq!(save(&server, &format!("{project}/cloths/{cloth}"), &other).status, 303);
    let seen = server.get(&address).text();
    assert!(seen.contains("Oat linen") && !seen.contains("Wheat linen"));
    let page = server.get(&materials).text();
    assert!(page.contains("Viewers see an earlier state: 1 thing differs"), "{page}");
    assert!(page.contains("would be “Wheat linen"), "{page}");
    assert_eq!(server.post(&state, &[("do", "follow")]).status, 303);
    assert!(server.get(&address).text().contains("Wheat linen"));
    assert_eq!(server.post(&state, &[("do", "again"), ("number", "1")]).status, 303);
    assert!(server.get(&address).text().contains("Oat linen"));
    assert_eq!(server.post(&state, &[("do", "again"), ("number", "7")]).status, 404);
}

#[test]
fn ticks_saved_elsewhere_meanwhile_are_not_lost() {
    let server = Server::empty();
    let (project, cloth, notion) = furnished(&server);
    let address = address(&server, &project, &cloth, &notion);
    let materials = format!("{project}/materials");
    let key = format!("cloth/{cloth}");
    let late = [("seen", "0"), ("line", key.as_str()), ("title", "A late title")];
    let clash = server.post(&materials, &late);
    assert_eq!(clash.status, 409);
    let text = clash.text();
    assert!(
        text.contains("on another device") && text.contains("from the tin"),
        "both versions: {text}"
    );
    assert!(clash.body.contains("A late title"));
    assert!(
        server.get(&address).text().contains("from the tin"),
        "nothing was changed"
    );
    let seen = clash.body.split("name=\"seen\" value=\"").nth(1).expect("its version");
    let seen = seen.split('"').next().expect("a number");
    let again = [("seen", seen), ("line", key.as_str()), ("title", "A late title")];
    assert_eq!(server.post(&materials, &again).status, 303);
    assert!(server.get(&address).text().contains("A late title"));
}

#[test]
fn a_remark_may_have_several_lines() {
    let server = Server::empty();
    let (project, cloth, _) = furnished(&server);
    let key = format!("cloth/{cloth}");
    let remark = format!("remark {key}");
    let long = "Any firm linen.\r\n\r\n  <b>Wash</b> it first.";
    let address = shared(&server, &project, &cloth, &[(&remark, long)]);
    let page = server.get(&address).body;
    assert!(
        page.contains("<div>Any firm linen.</div>") && page.contains("&lt;b&gt;Wash&lt;/b&gt; it first.</div>"),
        "{page}"
    );
    let text = server.get(&format!("{address}/list.txt")).body;
    assert!(
        text.contains("\n  Any firm linen.\n  <b>Wash</b> it first.\n"),
        "{text}"
    );
    let markdown = server.get(&format!("{address}/list.md")).body;
    assert!(markdown.contains("\n\n  Any firm linen."), "{markdown}");
    let csv = server.get(&format!("{address}/list.csv")).body;
    assert!(csv.contains("\"Any firm linen.\n\n  <b>Wash</b> it first.\""), "{csv}");
    // As it was typed it stands in the form again, and what is too long comes back with a sentence.
    let materials = format!("{project}/materials");
    assert!(
        server
            .get(&materials)
            .body
            .contains("Any firm linen.\n\n  &lt;b&gt;Wash")
    );
    let seen = server.hidden(&materials, "seen");
    let endless = "long ".repeat(500);
    let refused = server.post(
        &materials,
        &[("seen", &seen), ("line", &key), ("show", &key), (&remark, &endless)],
    );
    assert_eq!(refused.status, 422);
    assert!(
        refused.body.contains("2,000") || refused.body.contains("2000"),
        "{}",
        refused.text()
    );
    assert!(refused.body.contains("long long long"));
}

#[test]
fn what_was_decided_is_told_where_it_is_ticked() {
    let server = Server::empty();
    let (project, cloth, _) = furnished(&server);
    for (text, why) in [
        ("Patches *5 in*.", "Six looked coarse.\n\nReally."),
        ("Zeal", "nobody's business"),
    ] {
        let saved = server.post(
            &format!("{project}/log/add/decision"),
            &[("decided", text), ("why", why)],
        );
        assert_eq!(saved.status, 303, "{}", saved.text());
    }
    let page = server.get(&format!("{project}/materials")).body;
    let keys: Vec<&str> = page
        .split("name=\"line\" value=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|key| key.starts_with("decided/"))
        .collect();
    assert_eq!(keys.len(), 2, "proposed, not ticked: {keys:?}");
    assert!(!page.contains(&format!("value=\"{}\" checked", keys[0])));
    let address = shared(
        &server,
        &project,
        &cloth,
        &[("line", keys[0]), ("show", keys[0]), ("line", keys[1])],
    );
    for file in ["/list.txt", "/list.md", ""] {
        let body = server.get(&format!("{address}{file}")).body;
        assert!(
            body.contains("Patches 5 in") && body.contains("why: Six looked coarse. Really."),
            "{body}"
        );
        assert!(!body.contains("Zeal") && !body.contains("nobody"), "{body}");
        assert!(!body.contains("decided/"), "keys stay in the notebook: {body}");
    }
}

#[test]
fn whether_it_is_on_the_site_is_chosen() {
    let server = Server::empty();
    let (project, _, _) = furnished(&server);
    let site = format!("{project}/materials/site");
    assert_eq!(server.post(&site, &[("site", "always")]).status, 303);
    let page = server.get(&format!("{project}/materials")).body;
    assert!(page.contains("value=\"always\" checked"), "kept");
    assert_eq!(server.post(&site, &[("site", "everywhere")]).status, 400);
}
