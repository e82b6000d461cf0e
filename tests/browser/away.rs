//! What lies one tap away on every page of a project, with the laptop out of
//! reach: the camera of the bar, the forms it opens, the timer, a tick; and the
//! pages seen last.

use crate::driver::{Browser, PHONE};
use crate::outbox::{back_online, elsewhere, entries, folder, is_kept, let_in, photo, wait_for};
use crate::support::Server;
use serde_json::json;

/// The id of a step just added.
fn step(server: &Server, project: &str, title: &str) -> String {
    let id = server.hidden(&format!("{project}/steps"), "id");
    let added = server.post(&format!("{project}/steps/add"), &[("id", &id), ("title", title)]);
    assert_eq!(added.status, 303);
    id
}

/// Over plain http, where no worker answers for the laptop.
#[tokio::test(flavor = "multi_thread")]
async fn the_bar_takes_photos_and_entries_and_says_what_it_cannot() {
    let (dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &["--lan"]);
    let project = server.project("Heather vest");
    step(&server, &project, "Quilt the front");
    let port = server.port().to_string();
    let b = Browser::open(PHONE, &elsewhere(&server)).await;
    let_in(&b, &server).await;
    b.go(&format!("{project}/steps")).await;
    let form = format!(
        "return await new Promise(r => {{ const o = indexedDB.open('notchbook-outbox'); o.onsuccess = () => {{ const g = o.result.transaction('forms').objectStore('forms').get('{project}/log/add'); g.onsuccess = () => {{ r(Boolean(g.result)); o.result.close(); }}; }}; }})"
    );
    wait_for(&b, "the form kept", &form).await;
    b.script("window.stayed = true", vec![]).await;
    server.kill();

    b.find("#quick-camera")
        .await
        .send_keys(&photo(dir.path(), 1))
        .await
        .expect("a photo chosen");
    b.until(".quick-said", "Kept on this device").await;
    b.until(".outbox-line", "1 waiting for the laptop").await;
    // And the next one.
    b.find("#quick-camera")
        .await
        .send_keys(&photo(dir.path(), 2))
        .await
        .expect("a photo chosen");
    b.until(".outbox-line", "2 waiting for the laptop").await;
    b.check_away("the bar, a photo without the laptop").await;
    b.click(".quick-said").await;

    b.press("Start the timer").await;
    b.until(".timer", "Quilt the front").await;
    b.until(".timer", "waits for the laptop").await;
    b.press("Done: Quilt the front").await;
    b.until(".step[data-done][data-waits]", "waits for the laptop").await;
    b.until(".steps-short", "1 of 1 done").await;
    b.until(".outbox-line", "4 waiting for the laptop").await;
    b.check_away("the bar, the timer without the laptop").await;
    b.click(".quick a[href*=\"kind=decision\"]").await;
    b.until(".outbox-sheet", "The laptop does not answer").await;
    b.type_in("decided", "Lines 2 in apart").await;
    b.click(".outbox-sheet .panel-decision .primary").await;
    b.until(".outbox-line", "5 waiting for the laptop").await;
    b.click(".outbox-sheet > .card-head button").await;
    assert_eq!(
        b.script("return window.stayed", vec![]).await,
        true,
        "the page stayed open"
    );

    let server = Server::at(&folder, &port, &["--lan"]);
    back_online(&b).await;
    b.until(".outbox-line", "All 5 sent to the laptop").await;
    assert_eq!(entries(&server, &project), 3);
    let steps = server.get(&format!("{project}/steps")).body;
    assert!(steps.contains("data-done") && steps.contains("1 of 1 done"), "{steps}");
    wait_for(
        &b,
        "the page as it is there",
        "return !document.querySelector('[data-waits]') && Boolean(document.querySelector('.timer[data-running] a'))",
    )
    .await;
    assert_eq!(
        b.script("return window.stayed", vec![]).await,
        true,
        "the page stays as it was"
    );
    // With the laptop there the bar leads on as ever.
    b.press("Stop the timer").await;
    b.until("h1", "Minutes to the log").await;
    b.find("#quick-camera")
        .await
        .send_keys(&photo(dir.path(), 3))
        .await
        .expect("a photo chosen");
    b.until("h1", "Log").await;
    assert_eq!(entries(&server, &project), 4);
    b.close().await;
}

/// On the page of the form itself the bar changes what is open and asks for nothing.
#[tokio::test(flavor = "multi_thread")]
async fn what_is_typed_stays_when_the_bar_opens_another_form() {
    let (_dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let b = Browser::open(PHONE, &server.address).await;
    b.go(&format!("{project}/log/add")).await;
    b.type_in("text", "Half a sentence").await;
    server.kill();
    b.click(".quick a[href*=\"kind=measure\"]").await;
    b.type_in("measured", "Strap").await;
    b.click(".quick a[href*=\"kind=note\"]").await;
    let text = b
        .script("return document.querySelector('.panel-note [name=text]').value", vec![])
        .await;
    assert_eq!(text, json!("Half a sentence"));
    b.close().await;
}

/// The minutes of a stopped timer are an entry like any other.
#[tokio::test(flavor = "multi_thread")]
async fn the_minutes_of_a_timer_are_kept_until_the_laptop_answers() {
    let (_dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let port = server.port().to_string();
    let b = Browser::open(PHONE, &server.address).await;
    b.go(&project).await;
    b.press("Start the timer").await;
    b.press("Stop the timer").await;
    b.until("h1", "Minutes to the log").await;
    server.kill();
    b.choose("work", "quilt").await;
    b.click(".save-bar .primary").await;
    b.until(".outbox-said", "Kept on this device").await;
    b.until(".outbox-line", "1 waiting for the laptop").await;
    let server = Server::again(&folder, &port);
    back_online(&b).await;
    b.until(".outbox-line", "Sent to the laptop").await;
    assert_eq!(entries(&server, &project), 1);
    // It is in the log, so the timer waits for it no more.
    assert!(!server.get(&project).body.contains("aria-label=\"Timer\""));
    b.close().await;
}

/// Steps, a photo with its marks, a cloth and a wearer open from what was kept;
/// a timer there does not count on; a note tied to a step that was taken out
/// meanwhile is not lost.
#[tokio::test(flavor = "multi_thread")]
async fn pages_of_the_table_open_without_the_laptop() {
    let (dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let first = step(&server, &project, "Quilt the front");
    let port = server.port().to_string();
    let picture = std::fs::read(photo(dir.path(), 1)).expect("a photo");
    let sent = server.post_files(
        &format!("{project}/log/add/photo"),
        &[],
        &[("photos", "front.jpg", &picture)],
    );
    assert_eq!(sent.status, 303, "{}", sent.text());
    let log = server.get(&format!("{project}/log")).body;
    let mark = format!("{project}/photos/");
    let at = log.find(&mark).expect("the photo's page");
    let photo_page = log[at..at + mark.len() + 64].to_string();
    let started = server.post(&format!("{project}/timer/start"), &[("step", &first)]);
    assert_eq!(started.status, 303);

    let b = Browser::open(PHONE, &server.address).await;
    b.go("/").await;
    is_kept(&b, "/").await;
    let add = format!("{project}/log/add");
    let steps = format!("{project}/steps");
    for page in [&steps, &photo_page, &"/shop".to_string(), &"/cloth".to_string(), &add] {
        b.go(page).await;
        is_kept(&b, page).await;
    }
    server.kill();
    for page in [&steps, &photo_page, &"/shop".to_string(), &"/cloth".to_string()] {
        b.go(page).await;
        b.until(".kept-copy", "may be old").await;
        b.check_away(&format!("kept copy of {}", page.split('/').nth(3).unwrap_or(page)))
            .await;
    }
    b.go(&steps).await;
    b.until(".timer", "Quilt the front").await;
    b.script(
        "const now = Date.now; Date.now = () => now() + 600000; document.dispatchEvent(new Event('visibilitychange'))",
        vec![],
    )
    .await;
    assert_eq!(b.text(".timer-minutes").await, "1 min", "an old copy does not count on");

    b.go(&format!("{add}?kind=measure")).await;
    b.until(".kept-copy", "may be old").await;
    b.type_in("measured", "Strap").await;
    b.go(&format!("{add}?kind=note")).await;
    b.until(".kept-copy", "may be old").await;
    b.type_in("text", "Lines run off by a thread.").await;
    b.click(".panel-note details.ties summary").await;
    b.choose("step", &first).await;
    b.click(".panel-note .primary").await;
    b.until(".outbox-line", "1 waiting for the laptop").await;
    let server = Server::again(&folder, &port);
    assert_eq!(server.post(&format!("{project}/steps/{first}/bin"), &[]).status, 303);
    back_online(&b).await;
    b.until(".outbox-line", "Sent to the laptop").await;
    let log = server.get(&format!("{project}/log")).text();
    assert!(log.contains("Lines run off by a thread."), "{log}");
    b.close().await;
}

/// On pages that were kept, through a reload, and told when they were made: a
/// tick of another device that was made later stands, and is told of.
#[tokio::test(flavor = "multi_thread")]
async fn ticks_and_the_timer_wait_and_go_by_the_time_they_were_made() {
    let (_dir, folder) = folder();
    let mut server = Server::in_folder(&folder, &[]);
    let project = server.project("Heather vest");
    let front = step(&server, &project, "Quilt the front");
    let back = step(&server, &project, "Quilt the back");
    step(&server, &project, "Bind it");
    let port = server.port().to_string();
    let steps = format!("{project}/steps");
    let b = Browser::open(PHONE, &server.address).await;
    b.go("/").await;
    is_kept(&b, "/").await;
    b.go(&steps).await;
    is_kept(&b, &steps).await;
    server.kill();

    b.press("Done: Quilt the front").await;
    b.press("Done: Quilt the back").await;
    b.until(".outbox-line", "2 waiting for the laptop").await;
    b.client.refresh().await.expect("loaded again");
    b.until(".kept-copy", "may be old").await;
    b.until(".steps-short", "2 of 3 done").await;
    // Thought better of: of one step one word waits.
    b.press("Done: Quilt the back").await;
    b.until(".steps-short", "1 of 3 done").await;
    b.until(".outbox-line", "2 waiting for the laptop").await;
    b.press("Start the timer on Bind it").await;
    b.until(".timer", "Bind it").await;
    b.client.refresh().await.expect("loaded again");
    b.until(".timer", "Bind it").await;
    b.until(".timer", "waits for the laptop").await;
    b.click(".outbox-line button").await;
    b.until(".outbox-list", "Timer started").await;
    b.check_away("ticks and the timer wait").await;
    b.press("Close").await;
    // Ten minutes of sewing.
    b.script("const now = Date.now; Date.now = () => now() + 600000", vec![])
        .await;
    b.press("Stop the timer").await;
    b.until(".timer", "stopped, waits for the laptop").await;
    b.until(".timer-minutes", "11 min").await;

    // Nothing goes out until the other device has had its word.
    b.script(
        "navigator.locks.request('notchbook-outbox', () => new Promise(done => { window.letGo = done }))",
        vec![],
    )
    .await;
    let mut server = Server::again(&folder, &port);
    for done in ["yes", "no"] {
        let said = server.post(&format!("{steps}/{front}/tick"), &[("done", done)]);
        assert_eq!(said.status, 303);
    }
    b.script("window.letGo()", vec![]).await;
    back_online(&b).await;
    b.until(".outbox-line", "1 overtaken by something later").await;
    wait_for(
        &b,
        "the page as it is there",
        "return !document.querySelector('[data-waits], [data-done]') && document.querySelector('.timer').textContent.includes('To the log')",
    )
    .await;
    b.click(".outbox-line button").await;
    b.until(".outbox-list", "taken away elsewhere").await;
    b.check_away("a tick that was overtaken").await;
    b.press("I have read it").await;
    b.until(".outbox-list", "Nothing waits").await;
    let page = server.get(&steps);
    assert!(page.text().contains("0 of 3 done"), "{}", page.text());
    assert!(!page.body.contains("data-done"));
    assert_eq!(server.post(&format!("{steps}/{back}/bin"), &[]).status, 303);
    // From its own start to its own stop.
    let timer = server.get(&format!("{project}/timer")).body;
    assert!(
        timer.contains("value=\"11 min\"") || timer.contains("value=\"10 min\""),
        "{timer}"
    );

    // A step that is gone: the tick is kept with the notebook's sentence.
    b.press("Close").await;
    b.press("Done: Quilt the back").await;
    b.until(".outbox-line", "1 not taken by the notebook").await;
    b.click(".outbox-line button").await;
    b.until(".outbox-list", "The notebook did not take this").await;
    b.press("Throw away").await;
    b.press("Throw away for good").await;
    b.until(".outbox-list", "Nothing waits").await;
    b.press("Close").await;

    // A start that is thrown away never was.
    server.kill();
    b.press("Start the timer on Bind it").await;
    b.until(".timer", "waits for the laptop").await;
    b.until(".outbox-line", "1 waiting for the laptop").await;
    b.click(".outbox-line button").await;
    b.until(".outbox-list", "Timer started").await;
    b.press("Throw away").await;
    b.press("Throw away for good").await;
    b.until(".outbox-list", "Nothing waits").await;
    wait_for(
        &b,
        "no timer shown",
        "return !document.querySelector('.timer') && document.querySelector('.quick form:last-of-type button').textContent.includes('Timer')",
    )
    .await;
    b.close().await;
}
