//! Every screen with the sample loaded: looks used, reads well, has no
//! violation, and is nowhere wider than the screen.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE, Screen};
use crate::support::Server;

#[tokio::test(flavor = "multi_thread")]
async fn every_screen_on_a_phone() {
    every_screen(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_screen_on_a_laptop() {
    every_screen(LAPTOP).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_screen_on_the_narrowest_phone() {
    every_screen(NARROW).await;
}

async fn every_screen(screen: Screen) {
    let server = Server::sample();
    let b = Browser::open(screen, &server.address).await;
    b.go("/").await;
    let home = b.page_text().await;
    assert!(home.contains("On the table") && home.contains("Finished"), "{home}");
    b.check("sample home").await;
    if screen.phone {
        b.readme_picture("home-phone.jpg").await;
    }
    for path in [
        "/cloth",
        "/wearers",
        "/settings",
        "/projects/new",
        "/cloth/new",
        "/wearers/new",
    ] {
        b.go(path).await;
        b.check(&format!("sample {path}")).await;
    }
    b.go("/cloth").await;
    follow(&b, "main a[href^=\"/cloth/\"]:not([href$=new])", "sample one cloth").await;
    b.go("/wearers").await;
    follow(&b, "main a[href^=\"/wearers/\"]:not([href$=new])", "sample one wearer").await;

    let list: serde_json::Value = serde_json::from_str(&server.get("/api/projects").body).expect("JSON");
    for (i, project) in list.as_array().expect("projects").iter().enumerate() {
        let base = format!("/projects/{}", project["id"].as_str().expect("an id"));
        for place in [
            "",
            "/figures",
            "/log",
            "/log/add",
            "/materials",
            "/revisions",
            "/details",
            "/again",
            "/allowances",
            "/binding",
            "/cloths/choose",
            "/pieces/new",
            "/edges/new",
        ] {
            b.go(&format!("{base}{place}")).await;
            b.check(&format!("sample project {i} {place}")).await;
            if place == "/figures" && screen.phone {
                let unfold = "for (const fold of document.querySelectorAll('details.fold')) fold.open = true";
                b.script(unfold, vec![]).await;
                let what = format!("sample project {i} {place}, unfolded");
                // The same words as on the wider phone: only room can be short here.
                match screen.name == NARROW.name {
                    true => b.check_cut_off(&what).await,
                    false => b.check(&what).await,
                }
            }
            if place == "/cloths/choose" {
                // 40 cm are 15 3/4 in: less than half a yard.
                let shelf = b.page_text().await;
                let said = ["owned 3/8 yd (0.40 m)", "owned 0.40 m (3/8 yd)"];
                assert!(
                    said.iter().any(|s| shelf.contains(s)),
                    "never longer than it is: {shelf}"
                );
            }
        }
        // What only a plan with everything fills.
        if project["title"].as_str().is_some_and(|t| t.contains("waistcoat")) {
            for place in [
                "/closures/k1",
                "/closures/new",
                "/seams/s1",
                "/seams/new",
                "/thread",
                "/sizing",
                "/time",
                "/leftovers",
                "/unit-sizes",
                "/variants",
                "/binding/remnant?width=14&length=30",
                "/notions/new",
                "/revisions?from=4&to=13",
            ] {
                b.go(&format!("{base}{place}")).await;
                b.check(&format!("sample {place}")).await;
            }
        }
        if project["title"].as_str().is_some_and(|t| t.contains("waistcoat")) && !screen.phone {
            b.go(&format!("{base}/figures")).await;
            b.script("document.querySelector('.panel-figure').scrollIntoView()", vec![])
                .await;
            b.readme_picture("figures-laptop.jpg").await;
        }
        b.go(&base).await;
        follow(&b, "#pieces a.row", &format!("sample project {i} a piece")).await;
        b.go(&base).await;
        follow(&b, "#cloths a.row", &format!("sample project {i} a cloth")).await;
    }
    b.close().await;
}

/// Opens the first such link, where there is one, and checks the page.
async fn follow(b: &Browser, css: &str, what: &str) {
    let href = b
        .script(
            "return document.querySelector(arguments[0])?.getAttribute('href') ?? ''",
            vec![serde_json::json!(css)],
        )
        .await;
    let href = href.as_str().unwrap_or("");
    if !href.is_empty() {
        b.go(href).await;
        b.check(what).await;
    }
}
