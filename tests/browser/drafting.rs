//! Drafts, outlines, patterns at full size and lays, on every screen.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE, Screen};
use crate::support::Server;

#[tokio::test(flavor = "multi_thread")]
async fn a_piece_is_drafted_printed_and_laid_on_a_phone() {
    draft(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_piece_is_drafted_printed_and_laid_on_a_laptop() {
    draft(LAPTOP).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_piece_is_drafted_printed_and_laid_on_the_narrowest_phone() {
    draft(NARROW).await;
}

/// The sample's project with drafted pockets.
fn pinafore(server: &Server) -> (String, serde_json::Value) {
    let list: serde_json::Value = serde_json::from_str(&server.get("/api/projects").body).expect("JSON");
    let list = list.as_array().expect("projects");
    let found = list
        .iter()
        .find(|p| p["title"].as_str().is_some_and(|t| t.contains("inafore")))
        .expect("the pinafore");
    let id = found["id"].as_str().expect("an id");
    let plan = server.get(&format!("/api/projects/{id}/plan")).body;
    (format!("/projects/{id}"), serde_json::from_str(&plan).expect("a plan"))
}

async fn draft(screen: Screen) {
    let server = Server::sample();
    let (project, plan) = pinafore(&server);
    let b = Browser::open(screen, &server.address).await;
    b.go(&format!("{project}/drafts")).await;
    b.check("what to draft").await;
    let kinds = b
        .script(
            "return [...document.querySelectorAll('main a[href*=\"/drafts/new-\"]')].map(a => a.getAttribute('href'))",
            vec![],
        )
        .await;
    let kinds: Vec<String> = serde_json::from_value(kinds).expect("addresses");
    assert!(kinds.len() >= 10, "{kinds:?}");
    for kind in &kinds {
        b.go(kind).await;
        b.check(&format!("drafting {}", kind.rsplit('/').next().unwrap_or("")))
            .await;
    }

    // A hood lower than its neckline allows is refused beside its field; a good one goes into the plan.
    b.go(&format!("{project}/drafts/new-two-piece-hood")).await;
    b.type_in("height", "2 in").await;
    b.press("Save").await;
    b.until(".errors", "to mend").await;
    b.check("a hood that cannot be").await;
    b.type_in("height", "13 in").await;
    b.press("Save").await;
    b.until("main", "Hood").await;
    b.check("a plan with a hood").await;

    // The outline of the sample's pocket.
    let pieces = plan["pieces"].as_array().expect("pieces");
    let pocket = pieces
        .iter()
        .find(|p| p["pattern"].is_object())
        .expect("a drafted piece");
    let pocket = pocket["id"].as_str().expect("an id");
    b.go(&format!("{project}/pieces/{pocket}/outline")).await;
    b.check("an outline").await;
    b.go(&format!("{project}/pieces/{pocket}")).await;
    b.check("a piece with an outline").await;
    b.go(&format!("{project}/pieces/{pocket}/from-file")).await;
    b.check("an outline from a file").await;
    b.go(&format!("{project}/pattern")).await;
    b.check("patterns at full size").await;

    // On its cloth: drawn at once, looked for further in the background.
    let cloth = pieces
        .iter()
        .find_map(|p| p["face"]["cloth"].as_str().filter(|_| p["face"]["kind"] == "plain"))
        .expect("a plain piece");
    b.go(&format!("{project}/lay/{cloth}")).await;
    b.check("pieces to lay").await;
    b.press("Lay them").await;
    b.until("#found", "in").await;
    b.check("pieces as laid").await;
    // Where the first lay cannot be bettered there is nothing to look for.
    if b.page_text().await.contains("Look for a better one") {
        b.press("Look for a better one").await;
        b.until("#found", "places tried").await;
        b.check("looking for a better lay").await;
        b.press("Stop").await;
    }
    // Kept, and on paper.
    b.go(&format!("{project}/lay/{cloth}")).await;
    b.press("Keep this lay").await;
    b.until("#kept", "The kept lay holds").await;
    b.check("a kept lay").await;
    b.go(&format!("{project}/lay/{cloth}/sheet")).await;
    b.check("a lay sheet").await;
    b.close().await;
}
