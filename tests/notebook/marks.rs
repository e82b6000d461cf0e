//! Lines marked on photos, and two photos side by side.

use crate::common::*;
use crate::pictures;
use notchbook::measure::{INCH, Length};
use notchbook::notebook::{
    BeforeAfter, DiskFolder, EntryKind, FoundKind, Id, MarkPoint, Notebook, PhotoHash, PhotoMark, SearchFilter,
};
use notchbook::sheets::export;

fn photo(f: &Fresh, seed: u32) -> PhotoHash {
    let file = pictures::file(f.dir.path(), "picture", &pictures::jpeg(40, 30, seed));
    f.notebook.add_photo(&file).unwrap().hash
}

/// A project with a photo in its log.
fn pictured(f: &Fresh, seed: u32) -> (Id, PhotoHash) {
    let project = f.project("Moss waistcoat");
    let hash = photo(f, seed);
    let mut entry = note("Pinned", "2026-02-01T10:00:00Z");
    entry.kind = EntryKind::Photo;
    entry.photos = vec![hash.clone()];
    f.notebook.add_entry(project, &entry).unwrap();
    (project, hash)
}

fn mark(photo: &PhotoHash) -> PhotoMark {
    PhotoMark {
        id: new_id(),
        photo: photo.clone(),
        from: MarkPoint { x: 1000, y: 2000 },
        to: MarkPoint { x: 9001, y: 2000 },
        length: INCH * 14 + Length::from_units(1),
        what: "hem to notch".into(),
        version: 1,
    }
}

#[test]
fn a_mark_is_kept_exactly_with_what_it_was_before() {
    let f = fresh();
    let n = &f.notebook;
    let (project, hash) = pictured(&f, 1);
    let first = mark(&hash);
    assert_eq!(n.save_photo_mark(project, 0, &first).unwrap(), 1);
    assert_eq!(n.save_photo_mark(project, 0, &first).unwrap(), 1, "sent again");
    assert_eq!(n.photo_marks(project).unwrap(), std::slice::from_ref(&first));

    let mut second = first.clone();
    second.length = INCH * 15;
    assert!(is_stale(n.save_photo_mark(project, 0, &second)), "not new any more");
    assert_eq!(n.save_photo_mark(project, 1, &second).unwrap(), 2);
    second.version = 2;
    assert_eq!(n.photo_marks(project).unwrap(), std::slice::from_ref(&second));
    assert_eq!(n.earlier_photo_marks(first.id).unwrap(), std::slice::from_ref(&first));

    // Not from another project, not onto another photo, not as one never made.
    let other = f.project("Fern waistcoat");
    assert!(is_not_found(n.save_photo_mark(other, 2, &first)));
    assert!(is_not_found(n.bin_photo_mark(other, first.id)));
    assert!(is_not_found(n.save_photo_mark(project, 3, &mark(&hash))));
    let moved = PhotoMark {
        photo: photo(&f, 2),
        ..second.clone()
    };
    assert_eq!(refused_field(n.save_photo_mark(project, 2, &moved)), "photo");

    n.bin_photo_mark(project, first.id).unwrap();
    assert!(n.photo_marks(project).unwrap().is_empty());
    assert_eq!(n.binned_photo_marks(project).unwrap(), std::slice::from_ref(&second));
    assert!(
        is_not_found(n.save_photo_mark(project, 2, &first)),
        "not while it is in the bin"
    );
    n.restore_photo_mark(project, first.id).unwrap();
    assert_eq!(n.photo_marks(project).unwrap(), [second]);
}

#[test]
fn marks_that_cannot_be_are_refused() {
    let f = fresh();
    let n = &f.notebook;
    let (project, hash) = pictured(&f, 1);
    let with = |change: &dyn Fn(&mut PhotoMark)| {
        let mut mark = mark(&hash);
        change(&mut mark);
        mark
    };
    for (mark, field) in [
        (with(&|m| m.from.x = -1), "from_x"),
        (with(&|m| m.to.y = 10_001), "from_x"),
        (with(&|m| m.to.x = i64::MAX), "from_x"),
        (with(&|m| m.to = m.from), "to_x"),
        (with(&|m| m.length = Length::ZERO), "length"),
        (with(&|m| m.length = Length::from_units(i64::MAX)), "length"),
        (with(&|m| m.what = "x".repeat(121)), "what"),
    ] {
        assert_eq!(refused_field(n.save_photo_mark(project, 0, &mark)), field, "{mark:?}");
    }
    assert!(is_not_found(n.save_photo_mark(
        project,
        0,
        &with(&|m| m.photo = PhotoHash("0".repeat(64)))
    )));
    assert!(is_not_found(n.save_photo_mark(new_id(), 0, &mark(&hash))));
    assert_eq!(f.rows("photo_mark"), 0);
}

#[test]
fn what_is_marked_is_found_by_its_entry() {
    let f = fresh();
    let n = &f.notebook;
    let (project, hash) = pictured(&f, 1);
    let finds = |text: &str| -> Vec<FoundKind> {
        let groups = n.search(text, &SearchFilter::default()).unwrap();
        groups.into_iter().map(|g| g.kind).collect()
    };
    assert_eq!(finds("hem to notch"), []);
    let first = mark(&hash);
    n.save_photo_mark(project, 0, &first).unwrap();
    assert_eq!(finds("hem to notch"), [FoundKind::Entry]);
    let mut second = first.clone();
    second.what = "placket".into();
    n.save_photo_mark(project, 1, &second).unwrap();
    assert_eq!(
        (finds("hem to notch"), finds("placket")),
        (vec![], vec![FoundKind::Entry])
    );
    n.bin_photo_mark(project, first.id).unwrap();
    assert_eq!(finds("placket"), []);
    n.restore_photo_mark(project, first.id).unwrap();
    assert_eq!(finds("placket"), [FoundKind::Entry]);
}

#[test]
fn a_pair_is_kept_with_the_one_before_it() {
    let f = fresh();
    let n = &f.notebook;
    let (project, first) = pictured(&f, 1);
    let (second, third) = (photo(&f, 2), photo(&f, 3));
    let pair = |before: &PhotoHash, after: &PhotoHash, version: i64| BeforeAfter {
        before: before.clone(),
        after: after.clone(),
        version,
    };
    assert_eq!(n.before_after(project).unwrap(), None);
    assert_eq!(
        refused_field(n.save_before_after(project, 0, &pair(&first, &first, 1))),
        "after"
    );
    assert_eq!(n.save_before_after(project, 0, &pair(&first, &second, 1)).unwrap(), 1);
    assert_eq!(
        n.save_before_after(project, 0, &pair(&first, &second, 1)).unwrap(),
        1,
        "sent again"
    );
    assert!(is_stale(n.save_before_after(project, 0, &pair(&first, &third, 1))));
    assert_eq!(n.save_before_after(project, 1, &pair(&first, &third, 1)).unwrap(), 2);
    assert_eq!(n.before_after(project).unwrap(), Some(pair(&first, &third, 2)));
    assert_eq!(f.rows("before_after_version"), 1);
    n.bin_before_after(project).unwrap();
    assert_eq!(n.before_after(project).unwrap(), None);
    n.restore_before_after(project).unwrap();
    assert_eq!(n.before_after(project).unwrap(), Some(pair(&first, &third, 2)));
    n.bin_before_after(project).unwrap();
    assert_eq!(
        n.save_before_after(project, 2, &pair(&second, &third, 1)).unwrap(),
        3,
        "out of the bin by a new one"
    );
    assert_eq!(n.before_after(project).unwrap(), Some(pair(&second, &third, 3)));
}

#[test]
fn marks_and_pairs_go_out_and_come_back() {
    let f = fresh();
    let n = &f.notebook;
    let (project, first) = pictured(&f, 1);
    let second = photo(&f, 2);
    let kept = mark(&first);
    let gone = mark(&first);
    for m in [&kept, &gone] {
        n.save_photo_mark(project, 0, m).unwrap();
    }
    n.bin_photo_mark(project, gone.id).unwrap();
    let pair = BeforeAfter {
        before: first.clone(),
        after: second,
        version: 1,
    };
    n.save_before_after(project, 0, &pair).unwrap();
    let aside = tempfile::tempdir().unwrap();
    let folder = aside.path().join("out");
    export(n, &folder).unwrap();
    let again = Notebook::open(&aside.path().join("again")).unwrap();
    again.import(&DiskFolder::new(&folder)).unwrap();
    assert_eq!(again.photo_marks(project).unwrap(), std::slice::from_ref(&kept));
    assert_eq!(again.before_after(project).unwrap(), Some(pair));
    assert_eq!(again.search("hem to notch", &SearchFilter::default()).unwrap().len(), 1);

    // A folder whose mark cannot be is refused whole.
    let file = folder.join("projects/moss-waistcoat/project.json");
    let text = std::fs::read_to_string(&file).unwrap();
    for (from, to, said) in [
        ("\"x\": 9001", "\"x\": 10001", "lie on its photo"),
        ("\"version\": 1", "\"version\": 0", "versions count from 1"),
        (first.0.as_str(), &"0".repeat(64), "is not in photos/"),
    ] {
        let at = text.find("\"marks\"").unwrap();
        let changed = format!("{}{}", &text[..at], text[at..].replacen(from, to, 1));
        assert_ne!(changed, text, "{from}");
        std::fs::write(&file, changed).unwrap();
        let new = tempfile::tempdir().unwrap();
        let refused = Notebook::open(new.path()).unwrap().import(&DiskFolder::new(&folder));
        let sentence = refused.unwrap_err().to_string();
        assert!(sentence.contains(said), "{sentence}");
    }
    // A folder written before there were any comes in too.
    let mut value: serde_json::Value = serde_json::from_str(&text).unwrap();
    let map = value.as_object_mut().unwrap();
    map.remove("marks").unwrap();
    map.remove("before_after").unwrap();
    std::fs::write(&file, value.to_string()).unwrap();
    let old = tempfile::tempdir().unwrap();
    let old = Notebook::open(old.path()).unwrap();
    old.import(&DiskFolder::new(&folder)).unwrap();
    assert!(old.photo_marks(project).unwrap().is_empty());
}
