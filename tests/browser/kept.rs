//! What is typed is kept: through a reload, a lost connection, a server that
//! is gone when Save is pressed, and a second tab that saved first.

use crate::driver::{Browser, PHONE};
use crate::support::Server;
use std::time::Duration;

#[tokio::test(flavor = "multi_thread")]
async fn what_is_typed_outlives_a_reload_and_a_dead_server() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut server = Server::in_folder(&folder.path().join("notebook"), &[]);
    let project = server.project("Kept");
    let b = Browser::open(PHONE, &server.address).await;
    let form = format!("{project}/pieces/new");
    b.go(&form).await;
    b.type_in("name", "Hood").await;
    b.type_in("width", "11 3/8").await;
    b.type_in("alt_by_0", "+1/2").await;
    b.press("Another alteration").await;
    b.type_in("alt_by_1", "-1 cm").await;
    b.tick("on_fold").await;
    tokio::time::sleep(Duration::from_millis(500)).await;

    b.client.refresh().await.expect("reloaded");
    b.until(".kept", "What you typed here earlier is back").await;
    assert_eq!(typed(&b).await, ["Hood", "11 3/8", "+1/2", "-1 cm", "true"]);

    // The server dies before Save is pressed.
    b.type_in("height", "13").await;
    server.kill();
    b.press("Save").await;
    // The new server must not be there before the old one was found gone.
    b.until("body", "ERR_CONNECTION_REFUSED").await;
    let port = server.address.rsplit(':').next().expect("a port").to_string();
    let _server = Server::again(&folder.path().join("notebook"), &port);
    b.go(&form).await;
    b.until(".kept", "is back").await;
    assert_eq!(typed(&b).await, ["Hood", "11 3/8", "+1/2", "-1 cm", "true"]);
    // While the server was gone the console said so: that is as it should be.
    b.forget_console().await;
    b.check("kept form").await;
    b.press("Save").await;
    b.until("#pieces", "Hood").await;

    // Once it is in the notebook, a new form is empty.
    b.go(&form).await;
    b.until("h1", "Add a piece").await;
    assert_eq!(typed(&b).await, ["", "", "", "", "false"]);
    b.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn two_tabs_on_one_piece_show_both_versions() {
    let server = Server::empty();
    let project = server.project("Two tabs");
    let b = Browser::open(PHONE, &server.address).await;
    b.go(&format!("{project}/pieces/new")).await;
    b.type_in("name", "Hood").await;
    b.type_in("width", "11").await;
    b.type_in("height", "13").await;
    b.press("Save").await;
    b.until("#pieces", "Hood").await;
    b.click("#pieces a.row").await;
    let first = b.client.window().await.expect("a tab");
    let address = b.client.current_url().await.expect("an address").path().to_string();
    let second = b.client.new_window(true).await.expect("a second tab").handle;
    b.client.switch_to_window(second).await.expect("switched");
    b.go(&address).await;
    b.type_in("width", "12").await;
    b.press("Save").await;
    b.until("#pieces", "12 × 13").await;
    b.client.switch_to_window(first).await.expect("switched");
    b.type_in("width", "14").await;
    b.press("Save").await;
    b.until(".errors", "Nothing is lost").await;
    let said = b.text(".errors").await;
    assert!(said.contains("12 in") && said.contains("14"), "{said}");
    b.check("two versions").await;
    b.press("Save").await;
    b.until("#pieces", "14 × 13").await;
    b.close().await;
}

/// Name, width, both alterations and the fold, as they stand in the form.
async fn typed(b: &Browser) -> Vec<String> {
    let values = b
        .script(
            "const v=n=>document.querySelector(`[name=\"${n}\"]`)?.value??'';
             return [v('name'),v('width'),v('alt_by_0'),v('alt_by_1'),String(document.querySelector('[name=on_fold]').checked)]",
            vec![],
        )
        .await;
    values
        .as_array()
        .into_iter()
        .flatten()
        .map(|v| v.as_str().unwrap_or("").to_string())
        .collect()
}
