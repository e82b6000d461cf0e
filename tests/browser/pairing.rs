//! Letting a phone in: the square on the laptop, the door on the phone, and
//! what is typed on a phone that is shut out meanwhile.

use crate::driver::{Browser, LAPTOP, PHONE};
use crate::support::Server;
use serde_json::json;
use std::net::{IpAddr, Ipv4Addr};

/// Under another address than the laptop's own browser uses, as a phone does.
fn elsewhere(server: &Server) -> String {
    let found = if_addrs::get_if_addrs().expect("addresses");
    let ip = found.iter().find_map(|i| match i.ip() {
        IpAddr::V4(ip) if !ip.is_loopback() => Some(ip),
        _ => None,
    });
    let port = server.address.rsplit(':').next().expect("a port");
    format!("{}:{port}", ip.unwrap_or(Ipv4Addr::new(127, 0, 0, 2)))
}

#[tokio::test(flavor = "multi_thread")]
async fn a_phone_is_let_in_shut_out_and_loses_nothing() {
    let server = Server::start(&["--lan"]);
    let laptop = Browser::open(LAPTOP, &server.address).await;
    let phone = Browser::open(PHONE, &elsewhere(&server)).await;

    laptop.go("/settings").await;
    laptop.check("settings, nobody let in").await;
    laptop.press("Let a phone in").await;
    laptop.press("Make another code").await;
    laptop.check("a code to scan").await;
    let code = laptop.text("#code").await;

    phone.go("/").await;
    phone.until("h1", "This device is not let in").await;
    phone.check("turned away").await;
    scan(&phone, &code).await;
    phone.check("at the door").await;
    phone.press("Let this device in").await;
    phone.until("main", "Start the first project").await;
    phone.check("let in").await;

    // Shut out while a form is being filled in.
    phone.press("Start the first project").await;
    phone.type_in("title", "Heather vest").await;
    laptop.go("/settings").await;
    laptop.click("#devices a.row").await;
    laptop.check("one device").await;
    laptop.press("Shut this device out").await;
    laptop.until("#devices", "No device is let in").await;
    phone.press("Start").await;
    phone.until("h1", "This device is not let in").await;

    laptop.press("Let a phone in").await;
    laptop.press("Make a code").await;
    let code = laptop.text("#code").await;
    // The first code is good no longer, and the second may be typed.
    phone.type_in("code", "0000 0000 0000").await;
    phone.press("Let this device in").await;
    phone.until("#code-error", "wrong").await;
    phone.check("a wrong code").await;
    phone.type_in("code", &code.to_lowercase()).await;
    phone.press("Let this device in").await;
    phone.until("main", "Start the first project").await;
    phone.press("Start the first project").await;
    phone.until("main", "What you typed here earlier is back").await;
    phone.press("Start").await;
    phone.until("h1", "Heather vest").await;
    laptop.close().await;
    phone.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_a_phone_is_to_trust_is_told_step_by_step() {
    let server = Server::start(&["--lan", "--tls"]);
    let address = elsewhere(&server);
    for screen in [PHONE, LAPTOP] {
        let guest = Browser::open(screen, &address).await;
        // Plain http from elsewhere gets the way to what is encrypted, nothing else.
        guest.go("/").await;
        guest.check("not encrypted").await;
        guest.until("h1", "This notebook is encrypted").await;
        guest.press("How to trust it").await;
        guest.until("h1", "Trust this notebook").await;
        guest.check("what to trust").await;
        let told = guest.page_text().await;
        for said in ["iPhone", "Android", "fingerprint"] {
            assert!(told.contains(said), "{said}: {told}");
        }
        let file = guest
            .script("return document.querySelector('#certificate a').href", vec![])
            .await;
        assert!(
            file.as_str().is_some_and(|f| f.ends_with("/trust/notchbook.crt")),
            "{file}"
        );
        guest.close().await;
    }
}

/// What the phone's camera makes of the square.
async fn scan(phone: &Browser, code: &str) {
    phone.go(&format!("/pair#{}", code.replace('-', ""))).await;
    for _ in 0..50 {
        let now = phone
            .script("return [document.querySelector('#code').value, location.hash]", vec![])
            .await;
        if now == json!([code.replace('-', ""), ""]) {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    panic!("the code goes into the form and out of the address");
}
