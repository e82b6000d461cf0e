//! The search by clicking: from a project to an answer that is copied.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE, Screen};
use crate::support::Server;

#[tokio::test(flavor = "multi_thread")]
async fn an_answer_is_found_and_copied_on_a_phone() {
    find_and_copy(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_answer_is_found_and_copied_on_a_laptop() {
    find_and_copy(LAPTOP).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_answer_is_found_and_copied_on_the_narrowest_phone() {
    find_and_copy(NARROW).await;
}

async fn find_and_copy(screen: Screen) {
    let server = Server::sample();
    let b = Browser::open(screen, &server.address).await;
    b.go("/").await;
    b.click(".project h3 a").await;
    b.click(".top .search-link").await;
    b.check("search, nothing asked yet").await;
    b.type_in("q", "what was the backing of the waistcoat").await;
    b.click(".search-form button").await;
    b.until(".answer-text", "Reeds print: ").await;
    b.check("search, an answer").await;
    b.click("[data-copy='#materials-0-text']").await;
    b.until("[data-copied]", "Copied.").await;
    for path in [
        "/search?q=take-up",
        "/search?q=Ilse&state=finished",
        "/search?q=zeppelin&year=2026",
    ] {
        b.go(path).await;
        b.check(&format!("search {path}")).await;
    }
    b.close().await;
}
