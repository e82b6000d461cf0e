//! Newer measures taken by one tap, a change undone, an earlier version looked
//! at, a measure marked on a photo by two taps, two photos side by side.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE, Screen};
use crate::support::Server;
use serde_json::json;

#[tokio::test(flavor = "multi_thread")]
async fn measures_marks_and_versions_on_a_phone() {
    measure_mark_undo(PHONE).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn measures_marks_and_versions_on_a_laptop() {
    measure_mark_undo(LAPTOP).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn measures_marks_and_versions_on_the_narrowest_phone() {
    measure_mark_undo(NARROW).await;
}

async fn measure_mark_undo(screen: Screen) {
    let server = Server::sample();
    let b = Browser::open(screen, &server.address).await;
    b.go("/wearers").await;
    b.click("a.wearer[href*='019c48ba']").await;
    b.until("h1", "Ilse").await;
    b.check("a wearer").await;
    b.press("Measure anew").await;
    b.until("h1", "Measure Ilse").await;
    b.type_in("value_3", "39 3/4").await;
    b.type_in("value_5", "31 1/2").await;
    b.check("measuring").await;
    b.press("Save").await;
    b.until("#history", "Waist girth").await;
    b.check("measures over time").await;

    // The waistcoat goes by older measures: what differs, and the newest by one tap.
    b.press("Patchwork waistcoat for Ilse").await;
    b.until("#measured", "was measured again on").await;
    b.check("newer measures").await;
    b.press("Take the newest measures").await;
    b.until("#last-change", "Size table changed").await;
    assert!(!b.page_text().await.contains("Measured again since"));
    b.check("last change").await;
    b.press("Undo: Size table changed").await;
    b.until(".undo", "The earlier version is back").await;
    b.press("Undo: Details").await;
    b.until("#measured", "was measured again on").await;
    let project = b.client.current_url().await.expect("an address").path().to_string();
    b.go(&format!("{project}/details/versions")).await;
    b.check("earlier details").await;

    // A line on a photo: two taps, a length.
    b.go(&format!("{project}/log")).await;
    b.check("log with photos").await;
    b.click(".entry-photos a").await;
    b.until("#mark", "Tap the photo where the measure begins").await;
    let tapped = b
        .script(
            "const i=document.querySelector('[data-mark-photo] img'), r=i.getBoundingClientRect();
             const tap=(x,y)=>{for(const t of ['pointerdown','pointerup'])i.dispatchEvent(new PointerEvent(t,{bubbles:true,isPrimary:true,button:0,clientX:r.left+r.width*x,clientY:r.top+r.height*y}));};
             tap(.25,.5); tap(.75,.5);
             return ['from_x','from_y','to_x','to_y'].map(n=>Math.round(document.querySelector(`[name=${n}]`).value));",
            vec![],
        )
        .await;
    assert_eq!(tapped, json!([25, 50, 75, 50]));
    b.type_in("length", "14 1/2").await;
    b.type_in("what", "hem to notch").await;
    b.check("marking a photo").await;
    b.press("Save the mark").await;
    b.until(".marks-list", "hem to notch").await;
    b.check("a marked photo").await;
    b.click(".marks-list a").await;
    b.check("changing a mark").await;

    // Two photos side by side.
    b.go(&format!("{project}/before-after")).await;
    b.check("choosing two photos").await;
    b.press("Set side by side").await;
    b.until("#before-after", "After").await;
    let beside = b
        .script(
            "const [a,c]=[...document.querySelectorAll('#before-after figure')].map(f=>f.getBoundingClientRect());
             return Math.abs(a.top-c.top)<1 && a.right<=c.left;",
            vec![],
        )
        .await;
    assert_eq!(beside, json!(true), "side by side on {}", screen.name);
    b.check("before and after").await;
    b.close().await;
}
