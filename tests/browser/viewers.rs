//! The list viewers see: amounts that follow their unit and width at once, an
//! answer copied with one tap, and a list that stays as it was.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE};
use crate::support::Server;

/// A project with a piece of linen and snaps with a link.
fn furnished(server: &Server) -> String {
    let project = server.project("Smock in squares");
    let save = |part: &str, fields: &[(&str, &str)]| {
        let form = format!("{project}/{part}/new");
        let (seen, id) = (server.hidden(&form, "seen"), server.hidden(&form, "part_id"));
        let mut all = vec![("seen", seen.as_str()), ("part_id", id.as_str())];
        all.extend_from_slice(fields);
        let saved = server.post(&form, &all);
        assert_eq!(saved.status, 303, "{}", saved.text());
    };
    let cloth = [
        ("name", "Oat linen"),
        ("kind", "cloth"),
        ("usable_width", "42 in"),
        ("colour", "#d9cfb8"),
        ("price_per", "yd"),
    ];
    save("cloths", &cloth);
    save(
        "notions",
        &[
            ("name", "Snaps"),
            ("kind", "notion"),
            ("quantity", "9"),
            ("link", "https://shop.example/snaps"),
        ],
    );
    let plan: serde_json::Value =
        serde_json::from_str(&server.get(&format!("/api{project}/plan")).body).expect("a plan");
    let cloth = plan["cloths"][0]["id"].as_str().expect("a cloth").to_string();
    let piece = [
        ("name", "Front"),
        ("cut_count", "2"),
        ("width", "24"),
        ("height", "30"),
        ("face", "square"),
        ("finished", "4 in"),
        ("arrangement", "all-alike"),
        ("cloth0_0", cloth.as_str()),
    ];
    save("pieces", &piece);
    project
}

#[tokio::test(flavor = "multi_thread")]
async fn viewers_read_it_their_own_way() {
    let server = Server::empty();
    let project = furnished(&server);
    let b = Browser::open(PHONE, &server.address).await;
    b.go(&format!("{project}/materials")).await;
    b.check("ticks").await;
    b.press("Copy as an answer: Oat linen").await;
    b.until("#what", "Copied").await;
    b.click("label:has([name=\"paid\"])").await;
    b.press("Save and make a link").await;
    b.until("#share", "/s/").await;
    b.check("list with a link").await;
    b.press("Let it stay as it is now").await;
    b.until("#share", "It stays as it was on").await;
    b.check("list that stays").await;

    let link = b.text("#share-link").await;
    b.client.goto(&link).await.expect("the link opens");
    b.until(".paid-notice", "paid links").await;
    b.check("seen by viewers").await;
    let amount = || b.text(".material-section .row-figure b");
    let before = amount().await;
    assert!(before.contains("yd ("), "{before}");
    // Another width and unit, without a new page.
    b.script("window.stayed = true", vec![]).await;
    b.type_in("width", "108 in").await;
    b.until(".material-section", "on yours, 108 in").await;
    assert_ne!(amount().await, before);
    b.click("label:has([value=\"cm\"])").await;
    b.until(".material-section", "(108 in) wide").await;
    assert!(amount().await.contains("m ("));
    assert_eq!(b.script("return window.stayed", vec![]).await, true);
    b.type_in("width", "wide").await;
    b.until(".viewer", "such as").await;
    b.find("#viewer-error").await;
    b.check("a width that cannot be read").await;
    b.close().await;

    for screen in [NARROW, LAPTOP] {
        let b = Browser::open(screen, &server.address).await;
        b.client.goto(&link).await.expect("the link opens");
        b.check("seen by viewers").await;
        b.go(&format!("{project}/materials")).await;
        b.check("list that stays").await;
        b.close().await;
    }
}
