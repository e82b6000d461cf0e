//! Every sheet as a page, with the sample loaded: of a plan, of a variant, of
//! the shop list, and the published site from a plain file server.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE, Screen};
use crate::plain;
use crate::support::Server;
use std::process::Command;

#[tokio::test(flavor = "multi_thread")]
async fn every_sheet_on_a_phone() {
    every_sheet(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_sheet_on_a_laptop() {
    every_sheet(LAPTOP).await;
}

async fn every_sheet(screen: Screen) {
    let server = Server::sample();
    let b = Browser::open(screen, &server.address).await;
    let list: serde_json::Value = serde_json::from_str(&server.get("/api/projects").body).expect("JSON");
    for project in list.as_array().expect("projects") {
        let title = project["title"].as_str().expect("a title");
        let base = format!("/projects/{}/sheets", project["id"].as_str().expect("an id"));
        for place in ["", "/cut", "/piecing", "/project", "/swatches"] {
            b.go(&format!("{base}{place}")).await;
            b.check(&format!("sheets{place} of {title}")).await;
        }
    }
    b.go("/shop/sheet").await;
    b.check("sheet of the shop list").await;

    // The sheets of a variant say that they are not the plan's.
    let waistcoat = list.as_array().expect("projects").iter();
    let waistcoat = waistcoat.filter(|p| p["title"].as_str().is_some_and(|t| t.contains("waistcoat")));
    let id = waistcoat
        .map(|p| p["id"].as_str().expect("an id"))
        .next()
        .expect("it")
        .to_string();
    b.go(&format!("/projects/{id}/variants")).await;
    if b.page_text().await.contains("Set two variants") {
        b.press("Set two variants beside each other").await;
    }
    b.go(&format!("/variants/a/projects/{id}/sheets")).await;
    assert!(!b.page_text().await.contains("Project sheet"));
    b.check("sheets of a variant").await;
    b.go(&format!("/variants/a/projects/{id}/sheets/cut")).await;
    b.until(".paper-head", "Variant A").await;
    b.check("cut sheet of a variant").await;
    b.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_published_site_reads_well() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("notebook");
    let server = Server::in_folder(&folder, &["--sample"]);
    let list: serde_json::Value = serde_json::from_str(&server.get("/api/projects").body).expect("JSON");
    for project in list.as_array().expect("projects") {
        let site = format!("/projects/{}/materials/site", project["id"].as_str().expect("an id"));
        assert_eq!(server.post(&site, &[("site", "always")]).status, 303);
    }
    let site = place.path().join("site");
    drop(server);
    let done = Command::new(env!("CARGO_BIN_EXE_notchbook"))
        .arg("publish")
        .arg(&site)
        .arg("--folder")
        .arg(&folder)
        .output()
        .expect("the program");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let address = plain::serve(site);
    for screen in [PHONE, NARROW, LAPTOP] {
        let b = Browser::open(screen, &address).await;
        b.client.goto(&address).await.expect("the index");
        b.check("published index").await;
        // A picture of any shape leaves the name of its list to be read.
        let hidden = b
            .script(
                "return [...document.querySelectorAll('.site-index a')].filter(a => {
                    const [card, name] = [a, a.querySelector('.name')].map(e => e.getBoundingClientRect());
                    return name.bottom > card.bottom + 1 || a.querySelector('.picture').getBoundingClientRect().bottom > name.top + 1;
                 }).length",
                vec![],
            )
            .await;
        assert_eq!(hidden, 0, "on {}", screen.name);
        b.click(".site-index a").await;
        b.until(".unit-pages", "cm").await;
        b.check("published list").await;
        let first = b.text(".unit-pages [aria-current]").await;
        b.click(".unit-pages a[href]").await;
        b.until(".unit-pages", "cm").await;
        assert_ne!(b.text(".unit-pages [aria-current]").await, first, "the other unit");
        b.check("published list in the other unit").await;
        b.close().await;
    }
}
