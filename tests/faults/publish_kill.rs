//! `publish` killed at any moment: every page that is there is whole, no way
//! from the index leads nowhere, nothing of others is touched, and the next run
//! finishes. `NOTCHBOOK_ROUNDS=500` looks longer.

use crate::dice::Dice;
use notchbook::notebook::{Id, LineChoice, Notebook, PhotoHash, ProjectDetails, Site};
use notchbook::plan::{Edit, Plan};
use notchbook::sheets::{PICTURE, publish};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

type Files = BTreeMap<String, Vec<u8>>;

const PROJECTS: usize = 10;
const LIST: &str = "notchbook-site.json";

fn picture(seed: u8) -> Vec<u8> {
    let image = image::RgbImage::from_fn(320, 200, |x, y| {
        image::Rgb([x as u8 ^ seed, y as u8, seed.wrapping_mul(9)])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    image.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    bytes.into_inner()
}

fn photo(notebook: &Notebook, place: &Path, seed: u8) -> PhotoHash {
    let file = place.join(format!("{seed}.png"));
    std::fs::write(&file, picture(seed)).expect("a file");
    notebook.add_photo(&file).expect("a photo").hash
}

fn choices(photos: &[PhotoHash], remark: &str) -> Vec<LineChoice> {
    let pictures = photos.iter().map(|p| format!("{PICTURE}{}", p.0));
    let shown = pictures
        .chain(["cloth/c1".into(), "thread".into()])
        .map(|key| LineChoice {
            key,
            shown: true,
            ..LineChoice::default()
        });
    let mut all: Vec<LineChoice> = shown.collect();
    all[photos.len()].remark = remark.into();
    all
}

/// Lists on the site, each with two pictures.
fn begun(notebook: &Notebook, place: &Path) -> Vec<Id> {
    let plan = r#"{"format":1,"cloths":[{"id":"c1","name":"Moss","usable_width":"42 in"}],
        "pieces":[{"id":"p1","name":"Front","cut_count":2,"width":"12 in","height":"20 in","face":{"kind":"plain","cloth":"c1"}}]}"#;
    let plan = Edit::Whole(Box::new(Plan::from_json(plan).expect("a plan")));
    let photos = [photo(notebook, place, 1), photo(notebook, place, 2)];
    (0..PROJECTS)
        .map(|n| {
            let details = ProjectDetails {
                title: format!("Piece {n}"),
                ..ProjectDetails::default()
            };
            let id = notebook.start_project(Id::now_v7(), &details).expect("a project");
            notebook.change_plan(id, 1, &plan).expect("its plan");
            notebook
                .save_choices(id, 0, &choices(&photos, "as it was"))
                .expect("ticks");
            notebook.set_site(id, Site::Always).expect("on the site");
            id
        })
        .collect()
}

/// What visitors are served: a host leaves out what begins with a dot.
fn served(root: &Path) -> Files {
    fn look(root: &Path, folder: &Path, found: &mut Files) {
        for item in std::fs::read_dir(folder).expect("a folder").flatten() {
            let path = item.path();
            if item.file_name().to_string_lossy().starts_with('.') {
                continue;
            }
            if path.is_dir() {
                look(root, &path, found);
            } else {
                let name = path.strip_prefix(root).expect("within").to_string_lossy().into_owned();
                found.insert(name, std::fs::read(&path).expect("a file"));
            }
        }
    }
    let mut found = Files::new();
    look(root, root, &mut found);
    found
}

fn copy(files: &Files, to: &Path) {
    for (name, bytes) in files {
        let path = to.join(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        std::fs::write(path, bytes).expect("written");
    }
}

/// Every address in the page, from its own folder.
fn links(name: &str, page: &[u8]) -> Vec<String> {
    let page = String::from_utf8_lossy(page);
    let base = url::Url::parse("http://x/")
        .expect("a base")
        .join(name)
        .expect("an address");
    let marks = ["href=\"", "src=\""].into_iter();
    let found = marks.flat_map(|mark| page.split(mark).skip(1).filter_map(|rest| rest.split('"').next()));
    found
        .filter_map(|link| base.join(link).ok())
        .filter(|link| link.host_str() == Some("x"))
        .map(|link| link.path().trim_start_matches('/').to_string())
        .collect()
}

fn started(notebook: &Path, site: &Path) -> Child {
    Command::new(env!("CARGO_BIN_EXE_notchbook"))
        .arg("publish")
        .arg(site)
        .arg("--folder")
        .arg(notebook)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program")
}

fn finished(notebook: &Path, site: &Path) -> Duration {
    let begun = Instant::now();
    assert!(started(notebook, site).wait().expect("an end").success());
    begun.elapsed()
}

#[test]
fn a_site_is_whole_at_every_moment_and_the_next_run_finishes_it() {
    let rounds: u64 = std::env::var("NOTCHBOOK_ROUNDS").map_or(24, |n| n.parse().expect("a number"));
    let place = tempfile::tempdir().expect("a folder");
    let at = |name: &str| -> PathBuf { place.path().join(name) };
    let folder = at("notebook");
    let notebook = Notebook::open(&folder).expect("a notebook");
    let ids = begun(&notebook, place.path());
    publish(&notebook, &at("before"), None).expect("published");
    let before = served(&at("before"));
    // Every page another, one picture fewer or another one, and two lists no longer there.
    let another = photo(&notebook, place.path(), 3);
    for (n, id) in ids.iter().enumerate() {
        let photos = if n % 2 == 0 { vec![another.clone()] } else { Vec::new() };
        notebook
            .save_choices(*id, 1, &choices(&photos, "as it is now"))
            .expect("ticks");
        if n < 2 {
            notebook.set_site(*id, Site::Never).expect("off the site");
        }
    }
    publish(&notebook, &at("after"), None).expect("published");
    let after = served(&at("after"));
    drop(notebook);
    copy(&before, &at("timed"));
    let took = finished(&folder, &at("timed"));

    let (mut dice, mut killed, mut between) = (Dice(20_261_129), 0, 0);
    for round in 0..rounds {
        let site = at(&format!("site-{round}"));
        // Every third time from nothing.
        let from = if round % 3 == 2 { Files::new() } else { before.clone() };
        copy(&from, &site);
        std::fs::create_dir_all(site.join(".git")).expect("a tool's own");
        std::fs::write(site.join(".git/config"), "mine").expect("a tool's own");
        let mut child = started(&folder, &site);
        if round % 2 == 0 {
            // Files are put into place once the list says which.
            let list = from.get(LIST);
            let begun = Instant::now();
            while std::fs::read(site.join(LIST)).ok().as_ref() == list && begun.elapsed() < 20 * took {
                std::thread::yield_now();
            }
            std::thread::sleep(Duration::from_micros(dice.below(6_000)));
        } else {
            std::thread::sleep(took.mul_f64((dice.below(1_000)) as f64 / 1_000.0));
        }
        child.kill().expect("SIGKILL");
        killed += u64::from(!child.wait().expect("an end").success());

        let now = served(&site);
        for (name, bytes) in now.iter().filter(|(name, _)| *name != LIST) {
            let whole = [from.get(name), after.get(name)].contains(&Some(bytes));
            assert!(whole, "round {round}: {name} is half written");
        }
        // A list that is new is there whole or not at all.
        let place = |name: &String| name.split_once('/').map(|(place, _)| place.to_string());
        let places = |files: &Files| -> BTreeSet<String> { files.keys().filter_map(place).collect() };
        for new in &places(&now) - &places(&from) {
            let of_it = |files: &Files| -> BTreeSet<String> {
                let names = files.keys().filter(|n| place(n).as_ref() == Some(&new));
                names.cloned().collect()
            };
            assert_eq!(of_it(&now), of_it(&after), "round {round}: {new} is there in part");
        }
        // Where visitors come from the index. A list that is new has no way to it before the index names it.
        let mut open: Vec<String> = now.keys().filter(|name| *name == "index.html").cloned().collect();
        let mut met = BTreeSet::new();
        while let Some(name) = open.pop() {
            let Some(page) = now.get(&name) else {
                panic!("round {round}: a page leads to {name}, which is not there");
            };
            if met.insert(name.clone()) && name.ends_with(".html") {
                open.extend(links(&name, page));
            }
        }
        between += u64::from(now != from && now != after);
        finished(&folder, &site);
        assert_eq!(served(&site), after, "round {round}");
        let mut dots: Vec<String> = std::fs::read_dir(&site)
            .expect("the site")
            .flatten()
            .map(|item| item.file_name().to_string_lossy().into_owned())
            .filter(|name| name.starts_with('.'))
            .collect();
        dots.sort();
        assert_eq!(dots, [".git"], "round {round}: nothing is left over");
        assert_eq!(std::fs::read(site.join(".git/config")).expect("it"), b"mine");
        std::fs::remove_dir_all(&site).expect("cleared");
    }
    assert!(killed > rounds / 2, "{killed} of {rounds} were killed before their end");
    println!("{rounds} runs, {killed} killed before their end, {between} between two states");
}

/// What was made before a kill and is not shared any more does not stay.
#[test]
fn what_a_broken_run_left_is_cleared() {
    let place = tempfile::tempdir().expect("a folder");
    let notebook = Notebook::open(&place.path().join("notebook")).expect("a notebook");
    begun(&notebook, place.path());
    let site = place.path().join("site");
    publish(&notebook, &site, None).expect("published");
    let aside = site.join(".notchbook-new/piece-0");
    std::fs::create_dir_all(&aside).expect("a folder");
    std::fs::write(aside.join("index.html"), "not ticked any more").expect("a file");
    publish(&notebook, &site, None).expect("published");
    assert!(!site.join(".notchbook-new").exists());
}
