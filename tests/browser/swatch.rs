//! A swatch marked with a finger, a remnant with an outline, and the squint
//! view, on every screen.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE, Screen};
use crate::support::Server;
use serde_json::json;

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b6a";

#[tokio::test(flavor = "multi_thread")]
async fn a_swatch_is_marked_on_a_phone() {
    mark(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_swatch_is_marked_on_a_laptop() {
    mark(LAPTOP).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_swatch_is_marked_on_the_narrowest_phone() {
    mark(NARROW).await;
}

/// Two broad stripes, blue above and cream below.
fn photo() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(640, 480, |_, y| {
        if y < 240 {
            image::Rgb([30, 60, 140])
        } else {
            image::Rgb([240, 230, 210])
        }
    });
    let mut jpeg = Vec::new();
    jpeg_encoder::Encoder::new(&mut jpeg, 90)
        .encode(picture.as_raw(), 640, 480, jpeg_encoder::ColorType::Rgb)
        .expect("a picture");
    jpeg
}

async fn mark(screen: Screen) {
    let server = Server::sample();
    let fields = [
        ("id", ID),
        ("name", "Striped ticking"),
        ("kind", "cloth"),
        ("usable_width", "54 in"),
        ("colour", "#888888"),
        ("price_per", "yd"),
        ("out_by_0", "corners"),
        ("out_across1_0", "0 in"),
        ("out_along1_0", "0 in"),
        ("out_across2_0", "20 in"),
        ("out_along2_0", "4 in"),
        ("out_across3_0", "16 in"),
        ("out_along3_0", "24 in"),
        ("out_across4_0", "0 in"),
        ("out_along4_0", "18 in"),
    ];
    let sent = server.post_files("/cloth/new", &fields, &[("photo", "c.jpg", &photo())]);
    assert_eq!(sent.status, 303, "{}", sent.body);

    let b = Browser::open(screen, &server.address).await;
    b.go(&format!("/cloth/{ID}")).await;
    b.check("a cloth with an outline").await;
    b.press("Mark the swatch").await;
    b.until("h1", "Swatch of Striped ticking").await;
    b.check("marking a swatch").await;
    // A tap in the lower half moves the frame there.
    b.script(
        "const place = document.querySelector('[data-marking]');
         const box = place.getBoundingClientRect();
         place.querySelector('img').dispatchEvent(new MouseEvent('click', {
           bubbles: true, clientX: box.left + box.width / 2, clientY: box.top + box.height * 0.9 }));
         return null",
        vec![],
    )
    .await;
    let top = b
        .script("return Number(document.querySelector('[name=top]').value)", vec![])
        .await;
    assert_eq!(top, json!(66));
    b.press("Smaller").await;
    let width = b
        .script("return Number(document.querySelector('[name=width]').value)", vec![])
        .await;
    assert_eq!(width, json!(27.2));
    b.press("Save the swatch").await;
    b.until(".seen-colours", "light").await;
    b.check("a cloth with its swatch").await;
    b.go("/cloth").await;
    b.check("the shelf with a swatch").await;

    // The squint view of a panel, and what the plan says of its cloths.
    b.go("/").await;
    b.click(".project h3 a").await;
    b.check("a plan with its contrast").await;
    b.click(".project-nav a:nth-child(2)").await;
    b.until("h1", "Figures").await;
    let shown = "return [...document.querySelectorAll('.seen-squinting')].some((e) => e.offsetParent)";
    // On a phone the panels are folded away: a tap opens them.
    let open = "const fold = document.querySelector('label.squint-switch').closest('details.fold');
                if (fold && !fold.open) fold.querySelector(':scope > summary').click(); return true";
    b.script(open, vec![]).await;
    assert_eq!(b.script(shown, vec![]).await, json!(false));
    b.click("label.squint-switch").await;
    assert_eq!(b.script(shown, vec![]).await, json!(true));
    b.check("figures seen with the eyes half closed").await;
    b.close().await;
}
