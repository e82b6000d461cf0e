//! What is written while the laptop is out of reach: it waits on the phone,
//! through a reload and a dead server, arrives once, and is never dropped
//! without a word. The pages seen last open meanwhile.

use crate::driver::{Browser, PHONE};
use crate::proxy::Proxy;
use crate::support::Server;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::TempDir;

pub fn folder() -> (TempDir, PathBuf) {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let notebook = dir.path().join("notebook");
    (dir, notebook)
}

/// The entries of a log, as the notebook itself shows them.
pub fn entries(server: &Server, project: &str) -> usize {
    let log = server.get(&format!("{project}/log"));
    assert_eq!(log.status, 200);
    log.body.matches("<article class=\"entry\"").count()
}

/// The laptop is back in reach: phones say so, or the page asks by itself after a while.
pub async fn back_online(b: &Browser) {
    b.script("window.dispatchEvent(new Event('online')); return 1", vec![])
        .await;
}

pub async fn wait_for(b: &Browser, what: &str, script: &str) {
    for _ in 0..150 {
        let found = b
            .client
            .execute_async(
                &format!(
                    "const done=arguments[arguments.length-1]; (async()=>{{ {script} }})().then(done,()=>done(false))"
                ),
                vec![],
            )
            .await;
        if matches!(found, Ok(Value::Bool(true))) {
            return;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    panic!("{what} did not come about");
}

/// Until the worker has the page of this address.
pub async fn is_kept(b: &Browser, path: &str) {
    wait_for(
        b,
        &format!("{path} kept"),
        &format!("return Boolean(navigator.serviceWorker.controller && await (await caches.open('notchbook-pages')).match({path:?}))"),
    )
    .await;
}

async fn write_note(b: &Browser, text: &str) {
    b.type_in("text", text).await;
    b.click(".panel-note .primary").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_written_while_the_laptop_is_gone_arrives_once() {
    let (_dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let port = server.port().to_string();
    let b = Browser::open(PHONE, &server.address).await;
    let add = format!("{project}/log/add");
    b.go("/").await;
    is_kept(&b, "/").await;
    for path in [&project, &format!("{project}/figures"), &add] {
        b.go(path).await;
        is_kept(&b, path).await;
    }
    server.kill();

    write_note(&b, "Hem pinned, 1 cm shorter.").await;
    b.until(".outbox-said", "Kept on this device").await;
    b.until(".outbox-line", "1 waiting for the laptop").await;
    b.click("label:has(#add-measure)").await;
    b.type_in("measured", "Strap").await;
    b.type_in("length", "12 1/2").await;
    b.click(".panel-measure .primary").await;
    b.until(".outbox-line", "2 waiting for the laptop").await;
    assert_eq!(
        b.script("return document.querySelector('.panel-note [name=text]').value", vec![])
            .await,
        json!(""),
        "ready for the next"
    );

    // Loaded again the page is the one that was kept, and says so.
    b.client.refresh().await.expect("loaded again");
    b.until(".kept-copy", "The notebook does not answer").await;
    b.until(".outbox-line", "2 waiting for the laptop").await;
    b.check_away("outbox, kept copy of the log's form").await;
    b.click("label:has(#add-decision)").await;
    b.type_in("decided", "Straps 5 in instead of 6 in").await;
    b.click(".panel-decision .primary").await;
    b.until(".outbox-line", "3 waiting for the laptop").await;
    // Twice the same form: two entries, not one over the other.
    b.click("label:has(#add-work)").await;
    b.type_in("minutes", "45").await;
    b.choose("work", "piece").await;
    b.click(".panel-work .primary").await;
    b.until(".outbox-line", "4 waiting for the laptop").await;
    b.click(".outbox-line button").await;
    b.until(".outbox-list", "Hem pinned, 1 cm shorter.").await;
    let list = b.text(".outbox-list").await;
    for part in [
        "Note",
        "Measure",
        "12 1/2",
        "Decision",
        "Minutes of work",
        "Heather vest",
    ] {
        assert!(list.contains(part), "{part}: {list}");
    }
    b.check_away("outbox, the list").await;
    b.press("Close").await;

    // Pages seen open, others say that they are not kept.
    b.go("/").await;
    b.until(".kept-copy", "may be old").await;
    b.until("main", "Heather vest").await;
    b.go(&format!("{project}/figures")).await;
    b.until(".kept-copy", "may be old").await;
    b.go("/wearers").await;
    b.until("h1", "not kept on this device").await;
    b.until(".rows", "Heather vest").await;
    b.until(".outbox-line", "4 waiting for the laptop").await;
    b.check_away("outbox, a page not kept").await;
    b.go(&project).await;
    b.until(".kept-copy", "may be old").await;

    let server = Server::again(&folder, &port);
    back_online(&b).await;
    b.until(".outbox-line", "All 4 sent to the laptop").await;
    let log = server.get(&format!("{project}/log")).text();
    assert_eq!(entries(&server, &project), 4, "{log}");
    for part in [
        "Hem pinned, 1 cm shorter.",
        "12 1/2 in",
        "Straps 5 in instead of 6 in",
        "45 min",
    ] {
        assert_eq!(log.matches(part).count(), 1, "{part}: {log}");
    }
    assert!(!log.contains("earlier version"), "{log}");
    b.go(&project).await;
    b.until("main", "Heather vest").await;
    let left = b
        .script(
            "return [document.querySelector('.kept-copy'), document.querySelector('.outbox-line:not([hidden])')]",
            vec![],
        )
        .await;
    assert_eq!(left, json!([null, null]));
    b.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn thirty_photos_outlive_a_server_killed_in_mid_upload() {
    let (dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let proxy = Proxy::to(&server.address);
    let b = Browser::open(PHONE, &proxy.address).await;
    b.go(&format!("{project}/log/add")).await;
    let photos: Vec<String> = (0..30).map(|i| photo(dir.path(), i)).collect();
    proxy.slow(40);
    b.find("#photos")
        .await
        .send_keys(&photos.join("\n"))
        .await
        .expect("photos chosen");
    b.script(
        "document.querySelector('#photo-words').value = 'All of it laid out'",
        vec![],
    )
    .await;
    b.press("Save these photos").await;
    b.until(".taken-before .outbox-said", "Sending photo 2 of 30").await;
    b.check("outbox, photos under way").await;
    b.until(".taken-before .outbox-said", "Sending photo 4 of 30").await;
    server.kill();
    b.until(".taken-before .outbox-said", "Kept on this device").await;
    b.until(".outbox-line", "1 waiting for the laptop").await;
    b.click(".outbox-line button").await;
    wait_for(
        &b,
        "thumbnails",
        "return document.querySelectorAll('.outbox-photos img').length === 30",
    )
    .await;
    b.check_away("outbox, photos in the list").await;
    b.press("Close").await;

    proxy.slow(0);
    let server = Server::at(&folder, server.port(), &[]);
    back_online(&b).await;
    for _ in 0..6 {
        if b.text(".outbox-line").await.contains("Sent to the laptop") {
            break;
        }
        tokio::time::sleep(Duration::from_secs(5)).await;
    }
    b.until(".outbox-line", "Sent to the laptop").await;
    let log = server.get(&format!("{project}/log"));
    assert_eq!(entries(&server, &project), 1);
    assert!(log.body.contains("data-count=\"30\""), "all thirty");
    assert!(log.text().contains("All of it laid out") && !log.text().contains("earlier version"));
    let originals = std::fs::read_dir(folder.join("photos/originals")).expect("originals");
    let files: usize = originals
        .flatten()
        .map(|d| std::fs::read_dir(d.path()).expect("a folder").count())
        .sum();
    assert_eq!(files, 30, "each once");
    b.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_answer_that_got_lost_makes_nothing_twice() {
    let (dir, folder) = folder();
    let server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let proxy = Proxy::to(&server.address);
    let b = Browser::open(PHONE, &proxy.address).await;
    b.go(&format!("{project}/log/add")).await;
    b.until("h1", "Add to the log").await;
    proxy.lose_answers(true);
    write_note(&b, "Hem pinned.").await;
    b.until(".outbox-line", "1 waiting for the laptop").await;
    assert_eq!(entries(&server, &project), 1, "it did arrive");
    b.find("#camera")
        .await
        .send_keys(&photo(dir.path(), 1))
        .await
        .expect("a photo chosen");
    b.until(".outbox-line", "2 waiting for the laptop").await;
    let before = proxy.lost();
    back_online(&b).await;
    for _ in 0..100 {
        if proxy.lost() > before {
            break;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    assert!(proxy.lost() > before, "sent again, and the answer lost again");
    proxy.lose_answers(false);
    // Two tabs of the same phone at once.
    let first = b.client.window().await.expect("a tab");
    let second = b.client.new_window(true).await.expect("a second tab").handle;
    b.client.switch_to_window(second).await.expect("switched");
    b.go(&project).await;
    b.client.switch_to_window(first).await.expect("switched");
    back_online(&b).await;
    b.until(".outbox-line", "sent to the laptop").await;
    let log = server.get(&format!("{project}/log")).text();
    assert_eq!(entries(&server, &project), 2, "{log}");
    assert_eq!(log.matches("Hem pinned.").count(), 1);
    assert!(!log.contains("earlier version"), "{log}");
    b.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_the_notebook_does_not_take_is_mended_or_left_out_by_hand() {
    let (dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let port = server.port().to_string();
    let b = Browser::open(PHONE, &server.address).await;
    let add = format!("{project}/log/add");
    b.go(&add).await;
    is_kept(&b, &add).await;

    // With the laptop there the errors stand beside the fields at once.
    b.click("label:has(#add-measure)").await;
    b.type_in("measured", "Strap").await;
    b.type_in("length", "a hand").await;
    b.click(".panel-measure .primary").await;
    b.until("#length-error", "length").await;
    assert_eq!(
        b.script("return document.querySelector('[name=length]').value", vec![])
            .await,
        json!("a hand")
    );
    b.type_in("length", "12").await;
    b.click(".panel-measure .primary").await;
    b.until(".entries", "Strap").await;

    // Photos that cannot be taken.
    b.go(&add).await;
    let heic = dir.path().join("IMG_1.heic");
    std::fs::write(&heic, b"\0\0\0\x18ftypheic\0\0\0\0mif1heic").expect("written");
    let torn = dir.path().join("torn.jpg");
    std::fs::write(&torn, &std::fs::read(photo(dir.path(), 2)).expect("read")[..9000]).expect("written");
    let good = photo(dir.path(), 3);
    b.find("#photos")
        .await
        .send_keys(&format!("{}\n{}\n{good}", heic.display(), torn.display()))
        .await
        .expect("photos chosen");
    b.press("Save these photos").await;
    b.until(".outbox-error", "torn.jpg").await;
    b.until(".outbox-error", "IMG_1.heic").await;
    b.until(".outbox-said", "The others are in the log").await;
    b.until(".outbox-line", "1 not taken by the notebook").await;
    b.check_away("outbox, a photo refused").await;
    b.click(".outbox-line button").await;
    b.until(".outbox-list", "not all of it arrived").await;
    b.press("Leave out").await;
    b.press("Leave out for good").await;
    b.until(".outbox-list", "Nothing waits").await;
    assert_eq!(entries(&server, &project), 2);
    assert!(server.get(&format!("{project}/log")).body.contains("data-count=\"1\""));
    b.press("Close").await;
    b.find("#photos")
        .await
        .send_keys(&heic.display().to_string())
        .await
        .expect("a photo chosen");
    b.press("Save these photos").await;
    b.until(".outbox-error", "Send it as JPEG").await;

    // Written while the laptop was gone, refused when it was back.
    server.kill();
    b.go(&add).await;
    b.until(".kept-copy", "does not answer").await;
    b.click("label:has(#add-measure)").await;
    b.type_in("measured", "Neck").await;
    b.type_in("length", "a span").await;
    b.click(".panel-measure .primary").await;
    b.until(".outbox-line", "1 waiting").await;
    write_after(&b, "Then a note.").await;
    b.until(".outbox-line", "2 waiting").await;
    let server = Server::again(&folder, &port);
    back_online(&b).await;
    // The one behind it is not held up.
    b.until(".outbox-line", "1 not taken by the notebook").await;
    for _ in 0..100 {
        if !b.text(".outbox-line").await.contains("waiting") {
            break;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    assert_eq!(entries(&server, &project), 3);
    b.click(".outbox-line button").await;
    b.until(".outbox-list", "a span").await;
    b.check_away("outbox, an entry refused").await;
    b.press("Mend it").await;
    b.until("#length-error", "length").await;
    b.until(".outbox-line", "1 not taken by the notebook").await;
    b.type_in("length", "9").await;
    b.click(".panel-measure .primary").await;
    b.until(".entries", "Neck").await;
    assert_eq!(entries(&server, &project), 4);
    let left = b
        .script("return document.querySelector('.outbox-line:not([hidden])')", vec![])
        .await;
    assert_eq!(left, json!(null));
    b.close().await;
}

async fn write_after(b: &Browser, text: &str) {
    b.click("label:has(#add-note)").await;
    write_note(b, text).await;
}

/// Over plain http there are no workers, no locks and no ready-made ids.
#[tokio::test(flavor = "multi_thread")]
async fn a_phone_in_the_home_network_writes_from_an_open_page_and_is_shut_out() {
    let (dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &["--lan"]);
    let project = server.project("Heather vest");
    let port = server.port().to_string();
    let b = Browser::open(PHONE, &elsewhere(&server)).await;
    let_in(&b, &server).await;
    let secure = b.script("return window.isSecureContext", vec![]).await;
    assert_eq!(secure, json!(false));
    b.go(&format!("{project}/figures")).await;
    let form = format!(
        "return await new Promise(r => {{ const o = indexedDB.open('notchbook-outbox'); o.onsuccess = () => {{ const g = o.result.transaction('forms').objectStore('forms').get('{project}/log/add'); g.onsuccess = () => {{ r(Boolean(g.result)); o.result.close(); }}; }}; }})"
    );
    wait_for(&b, "the form kept", &form).await;
    server.kill();
    b.click(".quick a[href*=\"kind=note\"]").await;
    b.until(".outbox-sheet", "The laptop does not answer").await;
    b.type_in("text", "Written without the laptop.").await;
    b.click(".outbox-sheet .panel-note .primary").await;
    b.until(".outbox-said", "Kept on this device").await;
    b.find(".outbox-sheet input[capture]")
        .await
        .send_keys(&photo(dir.path(), 5))
        .await
        .expect("a photo chosen");
    b.until(".outbox-line", "2 waiting for the laptop").await;
    b.check_away("outbox, the form without the laptop").await;
    b.click(".outbox-sheet > .card-head button").await;
    let server = Server::at(&folder, &port, &["--lan"]);
    back_online(&b).await;
    b.until(".outbox-line", "All 2 sent to the laptop").await;
    assert_eq!(entries(&server, &project), 2);

    // Shut out: what waits is kept, and goes when the phone is let in again.
    b.go(&format!("{project}/log/add")).await;
    shut_out(&server);
    write_note(&b, "Written after.").await;
    b.until(".outbox-said", "It is not let in any more").await;
    b.until(".outbox-line", "1 kept here: this device is not let in any more")
        .await;
    b.go(&project).await;
    b.until("h1", "This device is not let in").await;
    b.until(".outbox-line", "1 entry is kept on this device").await;
    b.check_away("outbox, at the door").await;
    let_in(&b, &server).await;
    b.until(".outbox-line", "Sent to the laptop").await;
    assert_eq!(entries(&server, &project), 3);
    b.close().await;
}

/// Where pages are kept on a phone, they go when it is shut out.
#[tokio::test(flavor = "multi_thread")]
async fn a_phone_that_is_shut_out_keeps_no_page() {
    let mut server = Server::start(&["--lan"]);
    let project = server.project("Heather vest");
    let b = Browser::open_secure(PHONE, &elsewhere(&server)).await;
    let_in(&b, &server).await;
    // The page a worker starts on may be left before it is kept.
    wait_for(&b, "a worker", "return Boolean(navigator.serviceWorker.controller)").await;
    for page in ["/", &project] {
        b.go(page).await;
        is_kept(&b, page).await;
    }
    let shared = server.post(&format!("{project}/materials"), &[("title", "Vest"), ("then", "share")]);
    assert_eq!(shared.status, 303);
    b.go(&format!("{project}/materials")).await;
    is_kept(&b, &format!("{project}/materials")).await;
    b.go("/settings").await;
    b.until("h1", "Settings").await;
    let kept = "const names = []; for (const cache of await caches.keys()) { if (!cache.includes('static')) for (const k of await (await caches.open(cache)).keys()) names.push(new URL(k.url).pathname); }";
    wait_for(
        &b,
        "the right pages kept",
        &format!("{kept} return names.length === 3 && !names.includes('/settings')"),
    )
    .await;
    shut_out(&server);
    b.go(&project).await;
    b.until("h1", "This device is not let in").await;
    wait_for(&b, "nothing kept", &format!("{kept} return names.length === 0")).await;
    server.kill();
    b.go(&project).await;
    b.until("h1", "not kept on this device").await;
    assert!(!b.page_text().await.contains("Heather vest"));
    b.close().await;
}

fn shut_out(server: &Server) {
    let settings = server.get("/settings").body;
    let mark = "/settings/devices/";
    let at = settings.find(mark).expect("a device") + mark.len();
    let out = server.post(&format!("{mark}{}/revoke", &settings[at..at + 36]), &[]);
    assert_eq!(out.status, 303);
}

/// Under the address a phone would use: plain http from elsewhere.
pub fn elsewhere(server: &Server) -> String {
    let found = if_addrs::get_if_addrs().expect("addresses");
    let ip = found.iter().find(|i| !i.is_loopback() && i.ip().is_ipv4());
    format!("{}:{}", ip.expect("a network").ip(), server.port())
}

pub async fn let_in(b: &Browser, server: &Server) {
    assert_eq!(server.post("/settings/let-in", &[]).status, 303);
    let page = server.get("/settings/let-in").body;
    let at = page.find("id=\"code\">").expect("a code") + "id=\"code\">".len();
    let code = page[at..].split('<').next().expect("the code").to_string();
    b.go("/pair").await;
    b.type_in("code", &code).await;
    b.press("Let this device in").await;
    b.until("h1", "").await;
    for _ in 0..100 {
        if b.client.current_url().await.expect("an address").path() == "/" {
            return;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    panic!("not let in");
}

/// A photo of about a megabyte, each another.
pub fn photo(folder: &Path, number: u32) -> String {
    let mut state = 0x9e37_79b9_u32.wrapping_mul(number + 1);
    let picture = image::RgbImage::from_fn(800, 600, |_, _| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        image::Rgb([state as u8, (state >> 8) as u8, (state >> 16) as u8])
    });
    let path = folder.join(format!("photo-{number}.jpg"));
    let file = std::fs::File::create(&path).expect("a file");
    image::codecs::jpeg::JpegEncoder::new_with_quality(file, 92)
        .encode_image(&picture)
        .expect("a JPEG");
    path.display().to_string()
}
