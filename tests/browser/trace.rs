//! A piece traced from a photo by tapping, on every screen.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE, Screen};
use crate::support::Server;
use serde_json::json;

const ID: &str = "01939c3e-7d2a-7b60-8d6f-1f2e3d4c5b9a";

#[tokio::test(flavor = "multi_thread")]
async fn a_piece_is_traced_on_a_phone() {
    trace(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_piece_is_traced_on_a_laptop() {
    trace(LAPTOP).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_piece_is_traced_on_the_narrowest_phone() {
    trace(NARROW).await;
}

/// A green mat on a table, seen from straight above, with a pale piece on it.
fn photo() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(800, 600, |x, y| match (x, y) {
        (250..550, 200..400) => image::Rgb([225, 190, 200]),
        (100..700, 75..525) => image::Rgb([90, 140, 120]),
        _ => image::Rgb([165, 170, 150]),
    });
    let mut jpeg = Vec::new();
    jpeg_encoder::Encoder::new(&mut jpeg, 90)
        .encode(picture.as_raw(), 800, 600, jpeg_encoder::ColorType::Rgb)
        .expect("a picture");
    jpeg
}

/// Presses at a place of the photo (shares of it), moves there, lets go.
async fn tap(b: &Browser, (x, y): (f64, f64)) {
    b.script(
        "const place = document.querySelector('[data-trace-place]');
         const photo = place.querySelector('img');
         place.setPointerCapture = () => {};
         const box = photo.getBoundingClientRect();
         const at = (off) => ({ bubbles: true, isPrimary: true, button: 0, pointerId: 1,
           clientX: box.left + arguments[0] * box.width + off, clientY: box.top + arguments[1] * box.height + off });
         photo.dispatchEvent(new PointerEvent('pointerdown', at(6)));
         photo.dispatchEvent(new PointerEvent('pointermove', at(0)));
         const lens = !document.querySelector('.trace-lens').hidden;
         photo.dispatchEvent(new PointerEvent('pointerup', at(0)));
         if (!lens) throw new Error('no lens');
         return null",
        vec![json!(x), json!(y)],
    )
    .await;
}

async fn trace(screen: Screen) {
    let server = Server::empty();
    let project = server.project("Velvet collar");
    let added = server.post_files(
        &format!("{project}/log/add/photo"),
        &[("id", ID)],
        &[("photos", "mat.jpg", &photo())],
    );
    assert_eq!(added.status, 303, "{}", added.text());
    let b = Browser::open(screen, &server.address).await;
    b.go(&format!("{project}/log")).await;
    b.click(".entry-photos a").await;
    b.press("Trace a piece from it").await;
    b.until("h1", "Trace a piece").await;
    b.check("a photo to trace").await;
    for mark in [(0.125, 0.125), (0.875, 0.125), (0.875, 0.875), (0.125, 0.875)] {
        tap(&b, mark).await;
    }
    // The outline is next by itself.
    b.until("[data-trace-hint]", "Tap each corner of the piece").await;
    for corner in [(0.3125, 0.3333), (0.6875, 0.3333), (0.6875, 0.6667), (0.3125, 0.6667)] {
        tap(&b, corner).await;
    }
    b.click("label:has([value=check])").await;
    for end in [(0.125, 0.5), (0.875, 0.5)] {
        tap(&b, end).await;
    }
    b.check("tapped all round").await;
    for (name, length) in [
        ("mark_width", "60 cm"),
        ("mark_height", "45 cm"),
        ("check_length", "60 cm"),
    ] {
        b.type_in(name, length).await;
    }
    b.press("Measure").await;
    b.until("#measured", "The check length agrees").await;
    let told = b.text("#measured").await;
    assert!(
        told.contains("11 3/4 in") || told.contains("11 7/8 in"),
        "300 mm: {told}"
    );
    b.check("a piece as measured").await;
    b.type_in("name", "Collar").await;
    b.press("Put into the plan").await;
    b.until("main", "Collar").await;
    b.check("the traced piece in the plan").await;
    b.close().await;
}
