//! Steps and the timer: the list taken from the plan and ticked, a timer that
//! outlives a reload and a restart of the server, and the first page that says
//! what is next.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE};
use crate::support::Server;

/// A project with two cut pieces in its plan.
fn with_a_piece(server: &Server) -> String {
    let project = server.project("Tilda's waistcoat");
    let form = format!("{project}/pieces/new");
    let (seen, id) = (server.hidden(&form, "seen"), server.hidden(&form, "part_id"));
    let saved = server.post(
        &form,
        &[
            ("seen", &seen),
            ("part_id", &id),
            ("name", "Front"),
            ("cut_count", "2"),
            ("width", "12"),
            ("height", "20"),
            ("face", "none"),
        ],
    );
    assert_eq!(saved.status, 303, "{}", saved.text());
    project
}

#[tokio::test(flavor = "multi_thread")]
async fn steps_are_taken_and_ticked_and_the_timer_outlives_the_server() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let notebook = folder.path().join("notebook");
    let mut server = Server::in_folder(&notebook, &[]);
    let project = with_a_piece(&server);
    let b = Browser::open(PHONE, &server.address).await;
    b.go(&project).await;
    b.click(".project-nav a[href$=\"/steps\"]").await;
    b.until("#offer", "Cut the pieces to shape").await;
    b.check("steps offered").await;
    b.press("Take these steps").await;
    b.until(".steps", "Assemble the pieces").await;
    b.check("steps taken").await;

    // A tick stays on the page.
    b.script("window.stayed = true", vec![]).await;
    b.press("Done: Cut the pieces to shape").await;
    b.until(".steps-short", "1 of 2 done").await;
    assert_eq!(b.script("return window.stayed", vec![]).await, true);
    b.find(".step[data-next] [aria-label=\"Done: Assemble the pieces\"]")
        .await;

    b.press("Start the timer on Assemble the pieces").await;
    b.until(".timer", "Assemble the pieces").await;
    b.client.refresh().await.expect("reloaded");
    b.until(".timer", "1 min").await;
    // The phone slept for ten minutes.
    b.script(
        "const now = Date.now; Date.now = () => now() + 600000; document.dispatchEvent(new Event('visibilitychange'))",
        vec![],
    )
    .await;
    b.until(".timer-minutes", "11 min").await;

    server.kill();
    let port = server.address.rsplit(':').next().expect("a port").to_string();
    let _server = Server::again(&notebook, &port);
    b.go("/").await;
    b.until(".timer", "Assemble the pieces").await;
    let home = b.text(".project").await;
    assert!(home.contains("Next, 1 of 2 done") && home.contains("Running"), "{home}");
    b.check("what now").await;

    // Stopped, and the page left: the minutes wait.
    b.press("Stop the timer").await;
    b.until("h1", "Minutes to the log").await;
    b.check("minutes of the timer").await;
    b.type_in("minutes", "25").await;
    tokio::time::sleep(std::time::Duration::from_millis(400)).await;
    b.go("/wearers").await;
    b.press("To the log").await;
    b.until(".kept", "What you typed here earlier is back").await;
    b.choose("work", "assemble").await;
    b.press("Save").await;
    b.until(".entry", "25 min").await;
    b.until(".entry", "step Assemble the pieces").await;
    assert_eq!(
        b.script("return document.querySelectorAll('.timer').length", vec![])
            .await,
        0
    );
    b.go(&format!("{project}/steps")).await;
    b.until(".steps", "25 min logged").await;
    b.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_tap_on_any_page_of_a_project_opens_what_is_needed() {
    let server = Server::empty();
    let project = with_a_piece(&server);
    let folder = tempfile::tempdir().expect("a temporary folder");
    let photo = folder.path().join("seam.png");
    let picture = image::RgbImage::from_fn(60, 40, |x, y| image::Rgb([(x * 4) as u8, (y * 6) as u8, 90]));
    picture.save(&photo).expect("a picture");
    for screen in [NARROW, LAPTOP] {
        let b = Browser::open(screen, &server.address).await;
        b.go(&format!("{project}/details")).await;
        b.check("details with what is one tap away").await;
        b.click(".quick a[href*=\"kind=decision\"]").await;
        b.until("#decision-card", "What you decided").await;
        b.click(".quick a[href*=\"kind=measure\"]").await;
        b.until("#measure-card", "What you measured").await;
        b.check("measure").await;
        b.press("Start the timer").await;
        b.until(".timer", "Timer").await;
        b.until("#measure-card", "What you measured").await;
        b.press("Stop the timer").await;
        b.press("Do not log it").await;
        b.until(".undo", "The entry is in the bin").await;
        b.find("#quick-camera")
            .await
            .send_keys(&photo.display().to_string())
            .await
            .expect("a photo chosen");
        b.until(".entry[data-kind=photo]", "photo").await;
        b.check("log with a photo").await;
        b.close().await;
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn steps_are_put_in_order_without_dragging() {
    let server = Server::empty();
    let project = with_a_piece(&server);
    for title in ["Baste", "Hem", "Label"] {
        server.post(&format!("{project}/steps/add"), &[("title", title)]);
    }
    let b = Browser::open(NARROW, &server.address).await;
    b.go(&format!("{project}/steps")).await;
    b.press("Change the order").await;
    b.press("Move Label up").await;
    b.until(".steps .step:nth-child(2)", "Label").await;
    b.press("Move Baste down").await;
    b.until(".steps .step:nth-child(1)", "Label").await;
    b.check("order").await;
    b.press("Ready").await;
    b.press("Hem").await;
    b.check("one step").await;
    b.close().await;
}
