//! The published site, served by a plain file server: every link leads
//! somewhere, and no byte tells what was not ticked.

use crate::common::*;
use crate::pictures;
use crate::plain;
use notchbook::notebook::{Entry, EntryKind, Id, LineChoice, PhotoHash, Site, Step};
use notchbook::plan::{Edit, Plan};
use notchbook::sheets::{self, Published};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::time::SystemTime;

/// Each of these words stands in the notebook, and is not ticked.
const PRIVATE: [&str; 14] = [
    "Zebulon",
    "zq-private-reason",
    "zq-unticked-cloth",
    "zq-about",
    "zq-log-note",
    "zq-decision",
    "zq-why",
    "zq-step",
    "zq-remark",
    "81.37",
    "8137",
    "zq-title",
    "zq-file-name",
    "zq-other-project",
];

fn shown(key: &str) -> LineChoice {
    LineChoice {
        key: key.into(),
        shown: true,
        ..LineChoice::default()
    }
}

fn title(text: &str) -> LineChoice {
    LineChoice {
        remark: text.into(),
        ..shown(sheets::TITLE)
    }
}

fn plan() -> Plan {
    Plan::from_json(
        r##"{"format":1,"cloths":[
            {"id":"c1","name":"Cream linen","usable_width":"42 in","price":{"amount":"81.37","per":"yd"},"link":"https://shop.example/linen"},
            {"id":"c2","name":"zq-unticked-cloth","usable_width":"42 in"}],
        "pieces":[{"id":"p1","name":"Front","cut_count":2,"width":"20 in","height":"24 in",
            "alterations":[{"along":"height","by":"1 in","reason":"zq-private-reason"}],
            "face":{"kind":"plain","cloth":"c1"},"layers":{"backing":"c2"}}],
        "notions":[{"id":"n1","name":"Snaps <&\">","kind":"notion","quantity":"9","price":"81.37"}]}"##,
    )
    .unwrap()
}

/// A project with everything private in it, its linen, snaps and a picture ticked.
fn garment(f: &Fresh, named: &str) -> (Id, PhotoHash) {
    let n = &f.notebook;
    let mut about = details("zq-title");
    about.for_whom = "Zebulon".into();
    about.about = "zq-about".into();
    let id = n.start_project(new_id(), &about).unwrap();
    n.change_plan(id, 1, &Edit::Whole(Box::new(plan()))).unwrap();
    let file = pictures::file(f.dir.path(), "zq-file-name.jpg", &pictures::telltale_jpeg());
    let photo = n.add_photo(&file).unwrap().hash;
    let mut entry = note("zq-log-note", "2026-03-04T05:06:07Z");
    entry.photos = vec![photo.clone()];
    n.add_entry(id, &entry).unwrap();
    let decision = Entry {
        kind: EntryKind::Decision,
        why: "zq-why".into(),
        ..note("zq-decision", "2026-03-05T05:06:07Z")
    };
    n.add_entry(id, &decision).unwrap();
    n.add_steps(id, &[Step::new(new_id(), "zq-step", None)]).unwrap();
    let hidden = LineChoice {
        remark: "zq-remark".into(),
        ..LineChoice::default()
    };
    let choices = [
        shown("cloth/c1"),
        shown("notion/n1"),
        LineChoice {
            key: "cloth/c2".into(),
            ..hidden
        },
        shown(&format!("picture/{}", photo.0)),
        title(named),
    ];
    n.save_choices(id, 0, &choices).unwrap();
    n.set_site(id, Site::Always).unwrap();
    (id, photo)
}

fn files(root: &Path) -> BTreeMap<String, (Vec<u8>, SystemTime)> {
    fn walk(root: &Path, folder: &Path, found: &mut BTreeMap<String, (Vec<u8>, SystemTime)>) {
        for item in std::fs::read_dir(folder).unwrap() {
            let path = item.unwrap().path();
            if path.is_dir() {
                walk(root, &path, found);
                continue;
            }
            let name = path.strip_prefix(root).unwrap().to_str().unwrap().to_string();
            let at = path.metadata().unwrap().modified().unwrap();
            found.insert(name, (std::fs::read(&path).unwrap(), at));
        }
    }
    let mut found = BTreeMap::new();
    walk(root, root, &mut found);
    found
}

/// Every address the pages lead to from the first one, and what is there.
fn walk(base: &str) -> BTreeMap<String, Vec<u8>> {
    let agent: ureq::Agent = ureq::Agent::config_builder().http_status_as_error(false).build().into();
    let mut found = BTreeMap::new();
    let mut open = vec![url::Url::parse(base).unwrap()];
    while let Some(address) = open.pop() {
        if found.contains_key(address.as_str()) {
            continue;
        }
        let mut answer = agent.get(address.as_str()).call().unwrap();
        assert_eq!(answer.status(), 200, "{address}");
        let bytes = answer.body_mut().read_to_vec().unwrap();
        let name = address.path();
        if name.ends_with('/') || name.ends_with(".html") || name.ends_with(".css") {
            let text = String::from_utf8(bytes.clone()).unwrap();
            assert!(!text.contains("<script src"), "{address} needs no script");
            for mark in ["href=\"", "src=\"", "url("] {
                for rest in text.split(mark).skip(1) {
                    let link: String = rest.chars().take_while(|c| !"\")".contains(*c)).collect();
                    if link.starts_with('#') || link.starts_with("data:") {
                        continue;
                    }
                    assert!(!link.starts_with('/'), "{address}: {link} is not relative");
                    let to = address.join(&link).unwrap();
                    // What the maker linked to is elsewhere, and stays unasked.
                    if to.host_str() == address.host_str() {
                        open.push(to);
                    }
                }
            }
        }
        found.insert(address.to_string(), bytes);
    }
    found
}

#[test]
fn every_link_leads_somewhere_and_no_byte_tells_what_was_not_ticked() {
    let f = fresh();
    garment(&f, "A smock in cream");
    garment(&f, "A smock in cream");
    let other = f.project("zq-other-project");
    f.notebook.save_choices(other, 0, &[shown("thread")]).unwrap();
    let out = f.dir.path().join("site");
    let done = sheets::publish(&f.notebook, &out, Some("https://example.org/lists/")).unwrap();
    assert_eq!((done.lists, done.problems.len()), (2, 0));

    let base = plain::serve(out.clone());
    let reached = walk(&base);
    let on_disk = files(&out);
    let names: BTreeSet<String> = reached.keys().map(|a| a[base.len()..].to_string()).collect();
    for name in on_disk
        .keys()
        .filter(|n| !n.ends_with(".json") && !n.ends_with("OFL.txt"))
    {
        assert!(names.contains(name), "{name} is led to from the index");
    }
    let telltale = pictures::telltale_jpeg();
    for (name, (bytes, _)) in &on_disk {
        let text = String::from_utf8_lossy(bytes).to_lowercase();
        for private in PRIVATE {
            assert!(!text.contains(&private.to_lowercase()), "{name} holds {private}");
            assert!(!name.contains(private), "{name}");
        }
        for id in f.notebook.projects().unwrap() {
            assert!(!text.contains(&id.id.to_string()), "{name} holds an id");
        }
        if name.ends_with(".jpg") {
            assert_ne!(bytes, &telltale);
            assert!(!bytes.windows(4).any(|w| w == b"Exif"), "{name}");
        }
    }
    let page = String::from_utf8(on_disk["a-smock-in-cream/index.html"].0.clone()).unwrap();
    assert!(
        page.contains("Cream linen") && page.contains("Snaps &lt;&amp;&quot;&gt;"),
        "{page}"
    );
    assert!(page.contains("og:image\" content=\"https://example.org/lists/a-smock-in-cream/picture-1.jpg"));
    assert!(on_disk.contains_key("a-smock-in-cream-2/index.html"));
}

/// The same list twice, each with a unit first and the widths sold by it; a way
/// from each to the other without a script.
#[test]
fn a_visitor_chooses_the_unit() {
    let f = fresh();
    garment(&f, "Smock");
    let out = f.dir.path().join("site");
    sheets::publish(&f.notebook, &out, None).unwrap();
    // Each length stands in one line, in a span of its own.
    let page = |name: &str| {
        let page = String::from_utf8(files(&out)[name].0.clone()).unwrap();
        page.replace("</span> <span class=\"whole\">", " ")
    };
    let (inches, metric) = (page("smock/index.html"), page("smock/centimetres.html"));
    assert!(inches.contains("href=\"centimetres.html\"") && metric.contains("href=\"index.html\""));
    assert!(
        inches.contains(" yd (") && inches.contains("44 in (111.8 cm)"),
        "{inches}"
    );
    assert!(
        metric.contains(" m (") && metric.contains("150.0 cm (59 in)"),
        "{metric}"
    );
    // For machines it is one list.
    assert!(metric.contains("rel=\"canonical\" href=\"index.html\"") && !inches.contains("canonical"));
}

#[test]
fn what_did_not_change_is_not_written_again() {
    let f = fresh();
    let (first, _) = garment(&f, "First");
    let (second, _) = garment(&f, "Second");
    let out = f.dir.path().join("site");
    sheets::publish(&f.notebook, &out, None).unwrap();
    let before = files(&out);
    let again = sheets::publish(&f.notebook, &out, None).unwrap();
    assert_eq!((again.lists, again.written, again.removed), (2, 0, 0));
    assert_eq!(files(&out), before, "to the moment they were written");

    // Another title, and the address stays.
    let mut choices = f.notebook.choices(first).unwrap();
    choices.pop();
    choices.push(title("Renamed"));
    f.notebook.save_choices(first, 1, &choices).unwrap();
    sheets::publish(&f.notebook, &out, None).unwrap();
    let after = files(&out);
    for (name, (bytes, at)) in &before {
        let same = name.starts_with("second/") || name.ends_with(".css") || name.ends_with(".jpg");
        if same {
            assert_eq!(&after[name], &(bytes.clone(), *at), "{name}");
        }
    }
    assert!(String::from_utf8_lossy(&after["first/index.html"].0).contains("Renamed"));
    assert!(String::from_utf8_lossy(&after["index.html"].0).contains("Renamed"));

    // No longer shared: gone, with its folder.
    f.notebook.set_site(second, Site::Never).unwrap();
    let done = sheets::publish(&f.notebook, &out, None).unwrap();
    assert!(done.removed >= 5, "{done:?}");
    assert!(!out.join("second").exists());
    // Shared again: where it was, in another folder too.
    f.notebook.set_site(second, Site::Always).unwrap();
    let elsewhere = f.dir.path().join("elsewhere");
    sheets::publish(&f.notebook, &elsewhere, None).unwrap();
    assert!(elsewhere.join("second/index.html").exists() && elsewhere.join("first/index.html").exists());
}

#[test]
fn a_picture_whose_tick_is_taken_away_is_taken_away() {
    let f = fresh();
    let (id, _) = garment(&f, "Smock");
    let out = f.dir.path().join("site");
    sheets::publish(&f.notebook, &out, None).unwrap();
    assert!(out.join("smock/picture-1.jpg").exists() && out.join("smock/small.jpg").exists());
    // Held or not.
    f.notebook.hold(id).unwrap();
    let mut choices = f.notebook.choices(id).unwrap();
    choices.retain(|c| !c.key.starts_with("picture/"));
    f.notebook.save_choices(id, 1, &choices).unwrap();
    sheets::publish(&f.notebook, &out, None).unwrap();
    assert!(files(&out).keys().all(|name| !name.ends_with(".jpg")));
    let text = String::from_utf8(files(&out)["smock/index.html"].0.clone()).unwrap();
    assert!(!text.contains("<img"));
}

#[test]
fn a_folder_of_others_is_refused_and_left_as_it_is() {
    let f = fresh();
    garment(&f, "Smock");
    let refused = |out: &Path| -> String {
        let before = files(out);
        let error = sheets::publish(&f.notebook, out, None).unwrap_err().to_string();
        assert_eq!(files(out), before);
        error
    };
    let out = f.dir.path().join("taken");
    std::fs::create_dir(&out).unwrap();
    std::fs::write(out.join("diary.txt"), "mine").unwrap();
    assert!(refused(&out).contains("“diary.txt”"));
    std::fs::remove_file(out.join("diary.txt")).unwrap();
    // A tool's own is let be.
    std::fs::create_dir(out.join(".git")).unwrap();
    std::fs::write(out.join(".git/config"), "mine").unwrap();
    sheets::publish(&f.notebook, &out, None).unwrap();
    assert_eq!(std::fs::read(out.join(".git/config")).unwrap(), b"mine");

    std::fs::write(out.join("smock/notes.txt"), "mine").unwrap();
    assert!(refused(&out).contains("“smock/notes.txt”"));
    std::fs::remove_file(out.join("smock/notes.txt")).unwrap();
    let page = std::fs::read(out.join("smock/index.html")).unwrap();
    std::fs::write(out.join("smock/index.html"), "mended by hand").unwrap();
    assert!(refused(&out).contains("was changed"));
    std::fs::write(out.join("smock/index.html"), page).unwrap();
    for odd in [
        "{}",
        "{\"format\":1,\"files\":{\"../x\":[\"00\"]},\"made_of\":{}}",
        "not JSON",
    ] {
        let list = std::fs::read(out.join("notchbook-site.json")).unwrap();
        std::fs::write(out.join("notchbook-site.json"), odd).unwrap();
        assert!(refused(&out).contains("cannot be read"), "{odd}");
        std::fs::write(out.join("notchbook-site.json"), list).unwrap();
    }
    for bad in ["example.org", "https://", "ftp://example.org", "https://a b"] {
        assert_eq!(
            refused_field(sheets::publish(&f.notebook, &out, Some(bad))),
            "address",
            "{bad}"
        );
    }
}

#[cfg(unix)]
#[test]
fn a_link_to_another_place_is_not_followed() {
    let f = fresh();
    garment(&f, "Smock");
    let out = f.dir.path().join("site");
    sheets::publish(&f.notebook, &out, None).unwrap();
    let elsewhere = f.dir.path().join("elsewhere");
    std::fs::create_dir(&elsewhere).unwrap();
    std::fs::write(elsewhere.join("index.html"), "mine").unwrap();
    std::fs::remove_dir_all(out.join("smock")).unwrap();
    std::os::unix::fs::symlink(&elsewhere, out.join("smock")).unwrap();
    assert_eq!(refused_field(sheets::publish(&f.notebook, &out, None)), "folder");
    assert_eq!(std::fs::read(elsewhere.join("index.html")).unwrap(), b"mine");
}

/// Broken off at any file, the next one finds its own again.
#[test]
fn a_site_that_was_broken_off_is_finished_the_next_time() {
    let f = fresh();
    let (id, _) = garment(&f, "Smock");
    let whole = f.dir.path().join("whole");
    sheets::publish(&f.notebook, &whole, None).unwrap();
    let out = f.dir.path().join("site");
    sheets::publish(&f.notebook, &out, None).unwrap();
    // A file is gone, as if it had not been put into place yet.
    std::fs::remove_file(out.join("smock/list.csv")).unwrap();
    let done: Published = sheets::publish(&f.notebook, &out, None).unwrap();
    assert_eq!(done.written, 1, "{done:?}");
    let plain = |root: &Path| -> BTreeMap<String, Vec<u8>> {
        files(root)
            .into_iter()
            .map(|(name, (bytes, _))| (name, bytes))
            .collect()
    };
    assert_eq!(plain(&out), plain(&whole));
    f.notebook.bin_project(id).unwrap();
    sheets::publish(&f.notebook, &out, None).unwrap();
    assert!(!out.join("smock").exists());
}
