use crate::common::*;
use crate::pictures;
use notchbook::figures;
use notchbook::measure::{INCH, Unit};
use notchbook::notebook::{
    DiskFolder, Entry, EntryKind, Id, Imported, LineChoice, Notebook, PhotoHash, ProjectDetails, Settings, StockCloth,
    Wearer,
};
use notchbook::plan::Plan;
use serde_json::{Value, json};
use std::path::Path;
use tempfile::TempDir;

/// A small folder, and what it says.
struct Folder {
    dir: TempDir,
    settings: Settings,
    cloth: StockCloth,
    wearer: Wearer,
    photo: PhotoHash,
    old: Id,
    new: Id,
    plans: Vec<Plan>,
    log: Vec<Entry>,
}

fn folder() -> Folder {
    let dir = tempfile::tempdir().unwrap();
    let picture = pictures::turned_jpeg();
    let photo = PhotoHash::of(&picture);
    let mut cloth = stock_cloth("Cream linen");
    cloth.photo = Some(photo.clone());
    cloth.version = 3;
    let wearer = wearer("Ada");
    let settings = Settings {
        name: "Sewing room".into(),
        unit: Unit::Cm,
        currency: "€".into(),
        description_limit: 900,
    };

    let mut plans = vec![Plan::new(Unit::Cm)];
    let mut next = plans[0].clone();
    next.cloths.push(cloth.for_plan("c1".into()));
    next.pieces.push(piece("p1", "Sleeve"));
    plans.push(next.clone());
    next.pieces[0].height = INCH * 30;
    plans.push(next);
    let revisions: Vec<Value> = (1..)
        .zip(&plans)
        .map(|(number, plan): (i64, _)| {
            json!({"number": number, "made_at": format!("2026-03-0{number}T08:00:00Z"), "what": "Changed", "plan": plan})
        })
        .collect();

    let decision = Entry {
        kind: EntryKind::Decision,
        why: "for winter".into(),
        revisions: Some((2, 3)),
        ..note("Sleeves longer", "2026-03-03T08:00:01.000000002Z")
    };
    let picture_entry = Entry {
        kind: EntryKind::Photo,
        photos: vec![photo.clone()],
        version: 2,
        ..note("", "2026-03-02T09:00:00Z")
    };
    let log = vec![decision, picture_entry];
    let (old, new) = (new_id(), new_id());
    let details = ProjectDetails {
        wearer: Some(wearer.id),
        due: Some(day("2026-12-01")),
        ..details("Moss waistcoat")
    };

    write(dir.path(), "README.md", &json!("for a person"));
    write(dir.path(), "notebook.json", &json!({"format": 1, "settings": settings}));
    write(dir.path(), "cloths.json", &json!([cloth]));
    write(dir.path(), "wearers.json", &json!([wearer]));
    // The new one comes first in the folder and names the old one.
    write(
        dir.path(),
        "projects/fern/project.json",
        &json!({
            "id": new, "created_at": "2026-04-01T08:00:00Z", "details": {"title": "Fern waistcoat"}, "from": old,
            "measurements": null, "cover": null, "choices": [],
            "revisions": [{"number": 1, "made_at": "2026-04-01T08:00:00Z", "what": "Plan begun", "plan": {"format": 1}}],
        }),
    );
    write(dir.path(), "projects/fern/log.json", &json!([]));
    write(
        dir.path(),
        "projects/moss/project.json",
        &json!({
            "id": old, "created_at": "2026-03-01T08:00:00Z", "details": details, "from": null,
            "measurements": wearer.sets[1].id, "cover": photo,
            "choices": [{"key": "cloth/c1", "shown": true, "remark": "soft", "substitute": "flannel", "paid": true}],
            "revisions": revisions,
        }),
    );
    write(dir.path(), "projects/moss/log.json", &json!(log));
    write(dir.path(), "projects/moss/log.md", &json!("for a person"));
    std::fs::create_dir(dir.path().join("photos")).unwrap();
    std::fs::write(dir.path().join(format!("photos/{}.jpg", photo.0)), picture).unwrap();
    Folder {
        dir,
        settings,
        cloth,
        wearer,
        photo,
        old,
        new,
        plans,
        log,
    }
}

fn write(root: &Path, name: &str, value: &Value) {
    let path = root.join(name);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(path, serde_json::to_vec_pretty(value).unwrap()).unwrap();
}

impl Folder {
    fn import(&self, n: &Notebook) -> Result<Imported, notchbook::notebook::NotebookError> {
        n.import(&DiskFolder::new(self.dir.path()))
    }

    /// Changes one JSON file.
    fn edit(&self, name: &str, change: impl FnOnce(&mut Value)) {
        let bytes = std::fs::read(self.dir.path().join(name)).unwrap();
        let mut value = serde_json::from_slice(&bytes).unwrap();
        change(&mut value);
        write(self.dir.path(), name, &value);
    }
}

#[test]
fn a_folder_is_taken_in_whole() {
    let f = fresh();
    let n = &f.notebook;
    assert!(n.is_empty().unwrap());
    let from = folder();
    let wanted = Imported {
        projects: 2,
        revisions: 4,
        entries: 2,
        cloths: 1,
        wearers: 1,
        photos: 1,
    };
    assert_eq!(from.import(n).unwrap(), wanted);
    assert!(!n.is_empty().unwrap());
    assert_eq!(n.settings().unwrap(), from.settings);
    assert_eq!(n.cloths().unwrap(), std::slice::from_ref(&from.cloth));
    assert_eq!(n.wearers().unwrap(), std::slice::from_ref(&from.wearer));

    let old = n.project(from.old).unwrap();
    assert_eq!(old.details.title, "Moss waistcoat");
    assert_eq!((old.for_whom.as_str(), old.photo.as_ref()), ("Ada", Some(&from.photo)));
    assert_eq!(old.measurements.as_ref(), Some(&from.wearer.sets[1]));
    assert_eq!((old.revision, &old.plan), (3, &from.plans[2]));
    for (number, plan) in (1..).zip(&from.plans) {
        assert_eq!(&n.revision(from.old, number).unwrap().plan, plan);
    }
    // As old as what is in it, so that the list is in the order of the work.
    assert_eq!(old.changed_at, moment("2026-03-03T08:00:01.000000002Z"));
    assert_eq!(n.projects().unwrap()[0].id, from.new);
    assert_eq!(
        n.choices(from.old).unwrap(),
        [LineChoice {
            key: "cloth/c1".into(),
            shown: true,
            remark: "soft".into(),
            substitute: "flannel".into(),
            paid: true,
        }]
    );
    assert_eq!(
        n.project(from.new).unwrap().from,
        Some((from.old, "Moss waistcoat".into()))
    );

    // The effect of the decision was left out and is worked out.
    let log = n.log(from.old).unwrap();
    let effect = figures::effect(&figures::work_out(&from.plans[1]), &figures::work_out(&from.plans[2]));
    assert!(!effect.is_empty());
    assert_eq!(
        log[0],
        Entry {
            effect,
            ..from.log[0].clone()
        }
    );
    assert_eq!(log[1], from.log[1]);
    let photo = n.photo(&from.photo).unwrap();
    assert_eq!(
        (photo.width, photo.taken_at),
        (64, Some(moment("2026-07-14T18:30:15Z")))
    );
    assert_eq!(n.projects_with_cloth(from.cloth.id).unwrap().len(), 1);
}

#[test]
fn an_effect_that_is_there_is_kept_as_it_is() {
    let f = fresh();
    let from = folder();
    let effect = json!([{"what": "Time", "before": "2 h", "after": "3 h", "difference": "+1 h"}]);
    from.edit("projects/moss/log.json", |log| log[0]["effect"] = effect);
    from.import(&f.notebook).unwrap();
    assert_eq!(f.notebook.log(from.old).unwrap()[0].effect[0].difference, "+1 h");
}

#[test]
fn what_the_notebook_has_is_never_written_over() {
    let f = fresh();
    let n = &f.notebook;
    let from = folder();
    from.import(n).unwrap();
    n.save_details(from.old, 1, &details("Renamed since")).unwrap();
    let said = from.import(n).unwrap_err().to_string();
    assert!(
        said.contains("already has") && said.contains("new, empty notebook"),
        "{said}"
    );
    assert_eq!(n.project(from.old).unwrap().details.title, "Renamed since");
    assert_eq!((f.rows("project"), f.rows("entry"), f.rows("cloth")), (2, 2, 1));

    // Beside a notebook's own projects there is room, and its settings stay.
    let other = fresh();
    let own = other.project("My own");
    from.import(&other.notebook).unwrap();
    assert_eq!(other.notebook.projects().unwrap().len(), 3);
    assert_eq!(other.notebook.project(own).unwrap().details.title, "My own");
    assert_ne!(other.notebook.settings().unwrap(), from.settings);
}

#[test]
fn a_folder_with_anything_wrong_changes_nothing() {
    const MOSS: &str = "projects/moss/project.json";
    const LOG: &str = "projects/moss/log.json";
    type Change = Box<dyn Fn(&Folder)>;
    fn json(name: &'static str, change: impl Fn(&mut Value) + 'static) -> Change {
        Box::new(move |from| from.edit(name, &change))
    }
    fn twice(list: &mut Value) {
        let first = list[0].clone();
        list.as_array_mut().unwrap().push(first);
    }
    fn remove(name: &'static str) -> Change {
        Box::new(move |from| std::fs::remove_file(from.dir.path().join(name)).unwrap())
    }
    let stranger = || json!("018f0000-0000-7000-8000-00000000dead");
    let cases: Vec<(Change, &str)> = vec![
        (remove("notebook.json"), "notebook.json: there is no such file"),
        (remove("wearers.json"), "wearers.json: there is no such file"),
        (remove(LOG), "log.json: there is no such file"),
        (remove(MOSS), "project.json: there is no such file"),
        (json("notebook.json", |v| v["format"] = json!(2)), "Update Notchbook"),
        (
            json("notebook.json", |v| v["colour"] = json!("red")),
            "unknown field `colour`",
        ),
        (
            json("notebook.json", |v| v["settings"]["name"] = json!(" ")),
            "notebook.json: Give the notebook a name",
        ),
        (
            json("cloths.json", |v| v[0]["owned"] = json!("2 1/0 yd")),
            "cloths.json: at [0].owned",
        ),
        (json("cloths.json", |v| v[0]["owned"] = json!("2")), "names no unit"),
        (
            json("cloths.json", |v| v[0]["usable_width"] = json!("0 in")),
            "cloths.json: The usable width",
        ),
        (
            json("cloths.json", |v| v[0]["version"] = json!(0)),
            "versions count from 1",
        ),
        (
            json("cloths.json", |v| v[0]["photo"] = json!("c".repeat(64))),
            "is not in photos/",
        ),
        (json("cloths.json", twice), "two cloths have the id"),
        (
            json("wearers.json", |v| {
                v[0]["sets"][1]["id"] = v[0]["sets"][0]["id"].clone()
            }),
            "Two sets",
        ),
        (json("wearers.json", twice), "two wearers have the id"),
        (
            json(MOSS, move |v| v["details"]["wearer"] = stranger()),
            "is not in wearers.json",
        ),
        (
            json(MOSS, move |v| v["measurements"] = stranger()),
            "are not in wearers.json",
        ),
        (
            json(MOSS, move |v| v["from"] = stranger()),
            "it was started from is not in the folder",
        ),
        (
            json(MOSS, |v| v["from"] = v["id"].clone()),
            "it was started from is not in the folder",
        ),
        (json(MOSS, |v| v["cover"] = json!("../../secret")), "is not in photos/"),
        (
            json(MOSS, |v| v["details"]["title"] = json!("")),
            "Give the project a title",
        ),
        (json(MOSS, |v| v["revisions"] = json!([])), "no revision of a plan"),
        (
            json(MOSS, |v| v["revisions"][1]["number"] = json!(4)),
            "revision 2 is missing",
        ),
        (
            json(MOSS, |v| v["revisions"][0]["number"] = json!(0)),
            "revision 1 is missing",
        ),
        (
            json(MOSS, |v| v["revisions"][2]["plan"]["format"] = json!(9)),
            "format 9",
        ),
        (
            json(MOSS, |v| {
                v["revisions"][2]["plan"]["pieces"][0]["heigth"] = json!("1 in")
            }),
            "unknown field `heigth`",
        ),
        (
            json(MOSS, |v| v["revisions"][2]["plan"]["pieces"][0]["id"] = json!("a/b")),
            "cannot be kept",
        ),
        (
            json(MOSS, |v| {
                let seam = json!({ "id": "s1", "name": "Side", "length": "20 in", "count": 2 });
                v["revisions"][2]["plan"]["seams"] = json!([seam, seam]);
            }),
            "are the seam “s1”",
        ),
        (
            json(MOSS, |v| {
                v["revisions"][2]["plan"]["seams"] =
                    json!([{ "id": "", "name": "Side", "length": "20 in", "count": 2 }])
            }),
            "of a seam cannot be kept",
        ),
        (json(MOSS, |v| twice(&mut v["choices"])), "named twice"),
        (
            Box::new(|from| {
                let old = json!(from.old);
                from.edit("projects/fern/project.json", |v| {
                    v["id"] = old;
                    v["from"] = Value::Null;
                });
            }),
            "two projects have the id",
        ),
        (
            json(LOG, |v| v[1]["id"] = v[0]["id"].clone()),
            "two entries have the id",
        ),
        (
            json(LOG, |v| v[0]["revisions"] = json!([3, 4])),
            "which the plan does not have",
        ),
        (
            json(MOSS, |v| v["details"]["due"] = json!("+12026-12-01")),
            "four digits",
        ),
        (
            json(LOG, |v| v[0]["revisions"] = json!([3, 2])),
            "from an earlier revision",
        ),
        (
            json(LOG, |v| v[1]["photos"] = json!(["d".repeat(64)])),
            "is not in photos/",
        ),
        (json(LOG, |v| v[1]["photos"] = json!([])), "Choose a photo"),
        (json(LOG, |v| v[1]["version"] = json!(-1)), "versions count from 1"),
        (
            json(LOG, |v| v[1]["happened_at"] = json!("yesterday")),
            "at [1].happened_at",
        ),
        (
            Box::new(|from| std::fs::write(from.dir.path().join(LOG), "[] []").unwrap()),
            "trailing characters",
        ),
        (
            Box::new(|from| {
                let name = from.dir.path().join(format!("photos/{}.jpg", from.photo.0));
                std::fs::write(name, pictures::jpeg(20, 20, 5)).unwrap();
            }),
            "not the one its name says",
        ),
        (
            Box::new(|from| {
                let name = from.dir.path().join(format!("photos/{}.jpg", "e".repeat(64)));
                std::fs::write(name, "text").unwrap();
            }),
            "not a picture",
        ),
        (
            Box::new(|from| {
                let old = from.dir.path().join(format!("photos/{}.jpg", from.photo.0));
                std::fs::rename(&old, old.with_extension("png")).unwrap();
            }),
            "in truth a .jpg",
        ),
        (
            Box::new(|from| {
                let d = from.dir.path().join("projects");
                std::fs::rename(d.join("moss"), d.join("moss waistcoat")).unwrap();
            }),
            "is named with letters",
        ),
    ];
    let f = fresh();
    for (number, (change, part)) in cases.iter().enumerate() {
        let from = folder();
        change(&from);
        let answer = from.import(&f.notebook);
        let said = answer.as_ref().err().map(|e| e.to_string()).unwrap_or_default();
        assert!(said.contains(part), "case {number}: “{said}” does not say “{part}”");
        assert_eq!(refused_field(answer), "folder");
        assert!(f.notebook.is_empty().unwrap(), "case {number}");
        assert_eq!((f.rows("photo"), f.photo_files()), (0, 0), "case {number}");
    }
    // The folder itself is good.
    folder().import(&f.notebook).unwrap();
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    let f = fresh();
    let from = folder();
    let photos = from.dir.path().join("photos");
    let outside = tempfile::tempdir().unwrap();
    let elsewhere = outside.path().join("picture");
    let name = photos.join(format!("{}.jpg", from.photo.0));
    std::fs::rename(&name, &elsewhere).unwrap();
    std::os::unix::fs::symlink(&elsewhere, &name).unwrap();
    let said = from.import(&f.notebook).unwrap_err().to_string();
    assert!(said.contains("is a link"), "{said}");
    assert!(f.notebook.is_empty().unwrap());
}

#[test]
fn a_wrong_history_of_cloths_is_refused_with_a_sentence() {
    let here = fresh();
    let n = &here.notebook;
    n.save_cloth(0, &stock_cloth("Moss")).unwrap();
    let cloth = n.cloths().unwrap()[0].id;
    let aside = tempfile::tempdir().unwrap();
    let folder = aside.path().join("out");
    notchbook::sheets::export(n, &folder).unwrap();
    let moved = |cloth: String, length: &str, more: &str| {
        format!(
            r#"{{"id":"018f0000-0000-7000-8000-00000000000a","cloth":"{cloth}","kind":"bought","day":"2026-11-25",
            "made_at":"2026-11-25T10:00:00Z","length":"{length}","owned_before":"0 in","owned_after":"1 yd"{more}}}"#
        )
    };
    let sound = moved(cloth.to_string(), "1 yd", "");
    let tick = r#"{"key":"a","wanted":"1","ticked":true,"changed_at":"2026-11-25T10:00:00Z"}"#;
    let gone = "018f0000-0000-7000-8000-00000000000b";
    let cases = [
        (format!(r#"{{"movements":[{sound},{sound}]}}"#), "twice"),
        (
            format!(r#"{{"movements":[{}]}}"#, moved(gone.into(), "1 yd", "")),
            "not in cloths.json",
        ),
        (
            format!(r#"{{"movements":[{}]}}"#, moved(cloth.to_string(), "900 m", "")),
            "length",
        ),
        (
            format!(
                r#"{{"movements":[{}]}}"#,
                moved(cloth.to_string(), "1 yd", &format!(r#","project":"{gone}""#))
            ),
            "project",
        ),
        (
            format!(
                r#"{{"movements":[{}]}}"#,
                moved(cloth.to_string(), "1 yd", r#","price":{"amount":"-1","per":"yd"}"#)
            ),
            "price",
        ),
        (format!(r#"{{"left_out":["{gone}"]}}"#), "project"),
        (format!(r#"{{"ticks":[{tick},{tick}]}}"#), "twice"),
        (format!(r#"{{"ticks":[{}]}}"#, tick.replace(r#""a""#, r#""""#)), "tick"),
        (r#"{"tick":[]}"#.to_string(), "tick"),
    ];
    for (at, (text, said)) in cases.iter().enumerate() {
        std::fs::write(folder.join("shop.json"), text).unwrap();
        let again = Notebook::open(&aside.path().join(format!("again{at}"))).unwrap();
        let error = again.import(&DiskFolder::new(&folder)).unwrap_err().to_string();
        assert!(error.contains("shop.json") && error.contains(said), "{text}: {error}");
        assert!(again.cloths().unwrap().is_empty());
    }
    std::fs::write(
        folder.join("shop.json"),
        format!(r#"{{"movements":[{sound}],"ticks":[{tick}]}}"#),
    )
    .unwrap();
    let again = Notebook::open(&aside.path().join("sound")).unwrap();
    again.import(&DiskFolder::new(&folder)).unwrap();
    assert_eq!(again.movements(cloth).unwrap().len(), 1);
    assert!(
        !again
            .search("bought 25 November", &Default::default())
            .unwrap()
            .is_empty()
    );
}
