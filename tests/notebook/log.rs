use crate::common::*;
use crate::pictures;
use notchbook::measure::{INCH, Length};
use notchbook::notebook::{Entry, EntryKind, PhotoHash, SecondThought};

#[test]
fn the_log_is_newest_first_by_when_it_happened() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let entries = [
        note("second", "2026-05-02T08:00:00Z"),
        note("third", "2026-05-02T08:00:00.250Z"),
        note("first", "2026-05-02T07:59:59.999999999Z"),
    ];
    for entry in &entries {
        f.notebook.add_entry(id, entry).unwrap();
    }
    let log = f.notebook.log(id).unwrap();
    let texts: Vec<_> = log.iter().map(|e| e.text.as_str()).collect();
    assert_eq!(texts, ["third", "second", "first"]);
    assert_eq!(log[2], entries[2]);
    assert!(is_not_found(f.notebook.log(new_id())));
}

#[test]
fn an_entry_sent_again_changes_nothing() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let entry = note("Basted the sleeve.", "2026-05-02T08:00:00Z");
    f.notebook.add_entry(id, &entry).unwrap();
    let mut again = entry.clone();
    again.text = "garbled on the way".into();
    f.notebook.add_entry(id, &again).unwrap();
    assert_eq!(f.notebook.log(id).unwrap(), std::slice::from_ref(&entry));
    assert_eq!(f.notebook.entry(entry.id).unwrap(), (id, entry));
}

#[test]
fn an_edited_entry_keeps_what_it_was() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let photo = n
        .add_photo(&pictures::file(f.dir.path(), "p", &pictures::jpeg(20, 20, 1)))
        .unwrap()
        .hash;
    let first = Entry {
        kind: EntryKind::Measure,
        length: Some(INCH * 10 + Length::from_units(1)),
        piece: Some("p1".into()),
        photos: vec![photo.clone(), photo.clone()],
        ..note("Sleeve", "2026-05-02T08:00:00Z")
    };
    n.add_entry(id, &first).unwrap();
    let mut second = first.clone();
    second.text = "Sleeve, from the shoulder".into();
    second.photos.pop();
    second.second_thought = Some(SecondThought {
        would_do_again: false,
        text: String::new(),
    });
    assert_eq!(n.save_entry(1, &second).unwrap(), 2);
    let mut third = second.clone();
    third.length = Some(INCH * 11);
    assert!(is_stale(n.save_entry(1, &third)), "begun from what is no longer there");
    assert_eq!(n.save_entry(1, &second).unwrap(), 2, "the same save sent again");
    assert_eq!(n.save_entry(2, &third).unwrap(), 3);
    second.version = 2;
    third.version = 3;
    assert_eq!(n.entry(first.id).unwrap(), (id, third));
    assert_eq!(n.earlier_entries(first.id).unwrap(), [second, first]);
    let unknown = note("none", "2026-05-02T08:00:00Z");
    assert!(is_not_found(n.save_entry(1, &unknown)));
}

#[test]
fn entries_without_what_they_are_about_are_refused() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let of = |kind| Entry {
        kind,
        ..note("", "2026-05-02T08:00:00Z")
    };
    let said = |kind| Entry {
        text: "x".into(),
        ..of(kind)
    };
    for (entry, field) in [
        (of(EntryKind::Note), "text"),
        (of(EntryKind::Decision), "text"),
        (said(EntryKind::Photo), "photos"),
        (said(EntryKind::Measure), "length"),
        (
            Entry {
                length: Some(-INCH),
                ..said(EntryKind::Measure)
            },
            "length",
        ),
        (
            Entry {
                length: Some(Length::MAX + Length::from_units(1)),
                ..said(EntryKind::Note)
            },
            "length",
        ),
        (
            Entry {
                happened_at: chrono::DateTime::<chrono::Utc>::MAX_UTC,
                ..said(EntryKind::Note)
            },
            "happened_at",
        ),
        (
            Entry {
                photos: vec![PhotoHash("a".repeat(64))],
                ..said(EntryKind::Note)
            },
            "photos",
        ),
        (
            Entry {
                revisions: Some((1, 2)),
                ..said(EntryKind::Decision)
            },
            "revisions",
        ),
        (
            Entry {
                revisions: Some((0, 1)),
                ..said(EntryKind::Decision)
            },
            "revisions",
        ),
        (
            Entry {
                revisions: Some((1, 1)),
                ..said(EntryKind::Note)
            },
            "revisions",
        ),
    ] {
        assert_eq!(refused_field(f.notebook.add_entry(id, &entry)), field, "{entry:?}");
    }
    assert_eq!(f.rows("entry"), 0);
    assert!(is_not_found(f.notebook.add_entry(new_id(), &said(EntryKind::Note))));
}
