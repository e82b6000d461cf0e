//! What a plan can hold besides squares: painted by hand, on point, with
//! closures, thread, sizes and time; two variants before one is taken.

use crate::driver::{Browser, LAPTOP, PHONE, Screen};
use crate::support::Server;

#[tokio::test(flavor = "multi_thread")]
async fn a_garment_with_everything_on_a_phone() {
    everything(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_garment_with_everything_on_a_laptop() {
    everything(LAPTOP).await;
}

async fn everything(screen: Screen) {
    let server = Server::sample();
    let b = Browser::open(screen, &server.address).await;
    paint_a_panel(&b, &project(&server, "cushion")).await;
    let waistcoat = project(&server, "waistcoat");
    look_at_what_is_sewn(&b, &waistcoat).await;
    compare_sizes_and_leftovers(&b, &project(&server, "cushion")).await;
    place_a_row_of_closures(&b, &project(&server, "Pinafore")).await;
    log_minutes(&b, &project(&server, "Barley")).await;
    try_two_variants(&b, &waistcoat).await;
    b.close().await;
}

fn project(server: &Server, title: &str) -> String {
    let list: serde_json::Value = serde_json::from_str(&server.get("/api/projects").body).expect("JSON");
    let found = list.as_array().expect("projects").iter().find(|p| {
        let words = p["title"].as_str().expect("a title");
        words.contains(title)
    });
    let id = found.unwrap_or_else(|| panic!("no project {title}"))["id"]
        .as_str()
        .expect("an id");
    format!("/projects/{id}")
}

async fn painted(b: &Browser) -> String {
    let text = b
        .script("return document.querySelector('#painted').value", vec![])
        .await;
    text.as_str().expect("rows of letters").to_string()
}

/// A tap paints, the same tap turns, an arrow and a letter do it too; what was
/// painted is saved and comes back.
async fn paint_a_panel(b: &Browser, base: &str) {
    b.go(&format!("{base}/pieces/p1")).await;
    b.find(".paint-cell[data-at='0 0']").await;
    b.check("painted piece").await;
    let before = painted(b).await;
    b.click(".paint-unit[aria-label^='b']").await;
    b.click(".paint-cell[data-at='2 1']").await;
    let once = painted(b).await;
    assert_ne!(before, once);
    assert!(
        once.lines()
            .nth(2)
            .is_some_and(|row| row.split(' ').nth(1) == Some("b")),
        "{once}"
    );
    b.click(".paint-unit[aria-label^='a']").await;
    b.click(".paint-cell[data-at='2 1']").await;
    b.click(".paint-cell[data-at='2 1']").await;
    let turned = painted(b).await;
    assert!(
        turned
            .lines()
            .nth(2)
            .is_some_and(|row| row.split(' ').nth(1) == Some("a1")),
        "{turned}"
    );
    b.press("Save").await;
    b.until("#pieces", "Top").await;
    b.go(&format!("{base}/pieces/p1")).await;
    assert_eq!(painted(b).await.trim_end(), turned.trim_end());
    // Nothing of the form is lost by a slip elsewhere in it.
    b.type_in("width", "25 1/0").await;
    b.press("Save").await;
    b.until("#width-error", "fraction over nothing").await;
    assert_eq!(painted(b).await.trim_end(), turned.trim_end());
}

async fn look_at_what_is_sewn(b: &Browser, base: &str) {
    for (place, words) in [
        (
            "/figures",
            vec!["Closures", "Thread", "Care", "8 1/2 in", "Quilting", "spools"],
        ),
        ("/closures/k1", vec!["Front opening"]),
        ("/thread", vec!["Waste"]),
        ("/seams/s1", vec!["Side seams"]),
        ("/sizing", vec!["bust girth"]),
        ("/time", vec!["quilt"]),
        ("/binding/remnant", vec!["remnant"]),
        ("/revisions", vec!["Thread, size table, care and time added"]),
    ] {
        b.go(&format!("{base}{place}")).await;
        b.script(
            "for (const fold of document.querySelectorAll('details.fold')) fold.open = true",
            vec![],
        )
        .await;
        let page = b.script("return document.querySelector('main').innerText + [...document.querySelectorAll('input,textarea')].map(f => f.value).join(' ')", vec![]).await;
        let page = page.as_str().expect("words").to_string();
        for part in words {
            assert!(page.contains(part), "{place} lacks {part}: {page}");
        }
        b.check(&format!("sewn {place}")).await;
    }
}

async fn compare_sizes_and_leftovers(b: &Browser, base: &str) {
    b.go(&format!("{base}/leftovers")).await;
    b.check("leftovers").await;
    b.go(&format!("{base}/unit-sizes?piece=p1")).await;
    b.check("unit sizes").await;
    let page = b.page_text().await;
    assert!(page.contains("4 in") && page.contains("Madder sprig print"), "{page}");
}

/// Eight buttons a hand apart, with one at bust level.
async fn place_a_row_of_closures(b: &Browser, base: &str) {
    b.go(&format!("{base}/closures/new")).await;
    b.type_in("name", "Bib straps").await;
    b.type_in("line", "20 cm").await;
    b.type_in("first", "2 cm").await;
    b.type_in("last", "2 cm").await;
    b.type_in("spacing", "0").await;
    b.press("Save").await;
    b.find(".has-error [name=spacing], #spacing-error").await;
    b.check("a spacing refused").await;
    b.type_in("spacing", "6 cm").await;
    b.type_in("size", "18 mm").await;
    b.press("Save").await;
    b.until("main", "Bib straps").await;
    b.go(&format!("{base}/figures")).await;
    b.go(&format!("{base}/figures#closures")).await;
    b.until("#closures", "Bib straps").await;
    // 16 cm between first and last at 6 cm at most: three gaps.
    let card = b.text("#closures").await;
    assert!(card.contains('4') && card.contains("5.3"), "{card}");
    b.check("closures on the figures").await;
}

async fn log_minutes(b: &Browser, base: &str) {
    b.go(&format!("{base}/time")).await;
    b.check("time").await;
    let before = b.page_text().await;
    assert!(
        before.contains("16 December 2026") || before.contains("due") || before.contains("Due"),
        "{before}"
    );
    b.go(&format!("{base}/log/add?kind=work")).await;
    b.choose("work", "quilt").await;
    b.type_in("minutes", "1:35").await;
    b.check("add minutes").await;
    b.click("form[action$='/log/add/work'] button[type=submit]").await;
    b.until("main", "1 h 35").await;
}

/// Two sizes of the same fronts side by side; one becomes the plan, with the reason.
async fn try_two_variants(b: &Browser, base: &str) {
    b.go(&format!("{base}/variants")).await;
    b.press("Set two variants beside each other").await;
    b.press("Change B").await;
    b.until("h1", "Variant B").await;
    b.check("a variant's parts").await;
    b.click("#pieces a.row").await;
    b.type_in("finished", "5 in").await;
    b.press("Save").await;
    b.until("h1", "Variant B").await;
    b.press("Compare both variants").await;
    b.until("main", "Figure by figure").await;
    b.check("two variants").await;
    let table = b.text("#figures").await;
    assert!(table.contains("patches"), "{table}");
    // The plan itself is as it was.
    b.go(&format!("{base}/pieces/p1")).await;
    let now = b
        .script("return document.querySelector('[name=finished]').value", vec![])
        .await;
    assert!(now.as_str().is_some_and(|v| v.starts_with('4')), "{now}");
    b.go(&format!("{base}/variants")).await;
    b.press("Take B").await;
    b.type_in("decided", "Patches 4 in to 5 in after all").await;
    b.type_in("why", "Half the triangles.").await;
    b.check("taking a variant").await;
    b.press("Take B").await;
    b.until("#pieces", "5 in").await;
    b.go(&format!("{base}/log")).await;
    b.until("main", "Patches 4 in to 5 in after all").await;
    b.go(&format!("{base}/revisions")).await;
    b.check("revisions with their effects").await;
}
