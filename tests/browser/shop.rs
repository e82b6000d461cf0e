//! The shop list with a thumb: ticks that outlive a laptop out of reach, and
//! what is bought becoming cloth on the shelf.

use crate::driver::{Browser, LAPTOP, NARROW, PHONE};
use crate::support::Server;
use notchbook::notebook::{Id, Notebook, ProjectDetails};
use notchbook::plan::{Edit, Plan};
use serde_json::json;
use std::path::Path;

/// Two projects that share a cloth and snaps.
fn begun(folder: &Path) -> Vec<Id> {
    let notebook = Notebook::open(folder).expect("a notebook");
    let plan = |count: u32| {
        Plan::from_json(&format!(
            r##"{{"format":1,"cloths":[
            {{"id":"c1","name":"Oat linen with a long name","usable_width":"42 in","fibre":"linen","price":{{"amount":"10.00","per":"yd"}},"colour":"#d9cfb8"}},
            {{"id":"c2","name":"Wool batting","kind":"batting","usable_width":"90 in"}}],
            "pieces":[{{"id":"p1","name":"Front","cut_count":{count},"width":"20 in","height":"34 in","face":{{"kind":"plain","cloth":"c1"}},
                "layers":{{"batting":"c2","backing":"c1"}}}}],
            "notions":[{{"id":"n1","name":"Snaps","quantity":"9","price":"4.00","remark":"15 mm"}},{{"id":"n2","name":"Awl","kind":"tool"}}]}}"##
        ))
        .expect("a plan")
    };
    let projects = [("Apron with a bib", 1), ("Bag", 2)]
        .iter()
        .map(|(title, count)| {
            let details = ProjectDetails {
                title: (*title).into(),
                ..ProjectDetails::default()
            };
            let id = notebook.start_project(Id::now_v7(), &details).expect("started");
            let edit = Edit::Whole(Box::new(plan(*count)));
            notebook.change_plan(id, 1, &edit).expect("planned");
            id
        })
        .collect();
    drop(notebook);
    closed();
    projects
}

/// A process that another test starts at this very moment holds the lock of the
/// folder too, until it has become the program it is to be.
fn closed() {
    std::thread::sleep(std::time::Duration::from_millis(300));
}

/// The names of the lines that show as ticked.
async fn ticked(b: &Browser) -> Vec<String> {
    let names = b
        .script(
            "return [...document.querySelectorAll('[aria-checked=true] .shop-name')].map(e => e.textContent)",
            vec![],
        )
        .await;
    let names = names.as_array().cloned().unwrap_or_default();
    names.iter().map(|n| n.as_str().unwrap_or("").to_string()).collect()
}

/// Presses the line with this name.
async fn tick(b: &Browser, name: &str) {
    b.script(
        "const line = [...document.querySelectorAll('.shop-line')].find(l => l.querySelector('.shop-name').textContent === arguments[0]);
         document.querySelectorAll('.pressed').forEach(e => e.classList.remove('pressed')); line.classList.add('pressed'); return true",
        vec![json!(name)],
    )
    .await;
    b.click(".shop-line.pressed").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn chosen_ticked_and_brought_home() {
    for screen in [PHONE, NARROW, LAPTOP] {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let projects = begun(folder.path());
        let server = Server::in_folder(folder.path(), &[]);
        let b = Browser::open(screen, &server.address).await;
        b.go("/").await;
        b.press("Shop list").await;
        b.until("h1", "Shop list").await;
        b.until(".shop-choice", "For Bag, Apron with a bib").await;
        b.until("#notions", "18").await;
        b.check("shop list").await;
        // One of the two only, and back.
        b.click(".shop-choice summary").await;
        b.click(&format!("label:has([value=\"{}\"])", projects[0])).await;
        b.press("Shop for these").await;
        b.until(".shop-choice", "For Bag").await;
        assert!(!b.page_text().await.contains("Apron"));
        b.until("#notions", "9").await;
        b.click(".shop-choice summary").await;
        b.click(&format!("label:has([value=\"{}\"])", projects[0])).await;
        b.press("Shop for these").await;
        b.until("#notions", "18").await;
        for line in ["Oat linen with a long name", "Snaps"] {
            tick(&b, line).await;
        }
        b.until(".save-bar", "(2)").await;
        b.check("shop list ticked").await;
        b.press("Bring home what is ticked (2)").await;
        b.until("h1", "Bring home").await;
        b.type_in("length_0", "5 yd").await;
        b.type_in("price_0", "9.50").await;
        b.check("bring home").await;
        b.press("Put it away").await;
        b.until(".undo", "It is on the shelf").await;
        b.until(".shop-home", "Enough at hand: 1 cloth").await;
        b.check("brought home").await;
        // The shelf has it, and so have the plans.
        b.go("/cloth").await;
        b.press("Oat linen with a long name").await;
        b.until("#history", "5 yd").await;
        b.until("#history", "Apron with a bib").await;
        b.check("history").await;
        b.press("Cut from it for Bag").await;
        b.until("h1", "Cloth cut and given back").await;
        b.check("cloth cut").await;
        b.press("Save").await;
        b.until("#history", "cut from it").await;
        b.check("history cut").await;
        b.press("Undo").await;
        b.until("#history", "bought").await;
        assert!(!b.text("#history").await.contains("Cut so far"));
        b.close().await;
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_tick_without_the_laptop_is_sent_later_and_once() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    begun(folder.path());
    let mut server = Server::in_folder(folder.path(), &[]);
    let b = Browser::open(PHONE, &server.address).await;
    b.go("/shop").await;
    tick(&b, "Wool batting").await;
    b.until(".save-bar", "(1)").await;
    // What is sent is sent before the laptop goes.
    for _ in 0..50 {
        if server.get("/shop/ticks").body.contains("wool batting") {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    server.kill();
    tick(&b, "Snaps").await;
    tick(&b, "Awl").await;
    tick(&b, "Wool batting").await;
    b.until("[data-shop-waiting]", "3 ticks wait for the laptop.").await;
    assert_eq!(ticked(&b).await, ["Snaps", "Awl"]);
    b.press("Bring home what is ticked (2)").await;
    b.until("[data-shop-waiting]", "cannot be reached").await;
    // The laptop is back; a second device ticked something meanwhile.
    let port = server.address.rsplit(':').next().expect("a port").to_string();
    let server = Server::again(folder.path(), &port);
    let second = Browser::open(PHONE, &server.address).await;
    second.go("/shop").await;
    tick(&second, "Oat linen with a long name").await;
    // Nothing is pressed: it is sent by itself.
    b.until("body", "Bring home what is ticked").await;
    for _ in 0..150 {
        if b.text("body").await.contains("for the laptop") {
            tokio::time::sleep(std::time::Duration::from_millis(100)).await;
        }
    }
    let waiting = b.script("return localStorage.getItem('shop:waiting')", vec![]).await;
    assert!(waiting.is_null(), "{waiting}");
    second.go("/shop").await;
    assert_eq!(ticked(&second).await, ["Oat linen with a long name", "Snaps", "Awl"]);
    b.forget_console().await;
    b.client.refresh().await.expect("reloaded");
    b.until(".save-bar", "(3)").await;
    b.check("shop list of two devices").await;
    second.close().await;
    b.close().await;
}
