use crate::common::*;
use chrono::TimeDelta;

#[test]
fn a_token_lets_its_device_in_until_it_is_revoked() {
    let f = fresh();
    let n = &f.notebook;
    let (phone, token) = n.add_device("  Phone at the machine ").unwrap();
    let (tablet, other) = n.add_device("Tablet").unwrap();
    assert_eq!(phone.name, "Phone at the machine");
    // 32 random bytes are 43 characters of base64.
    assert_eq!((token.len(), other.len()), (43, 43));
    assert_ne!(token, other);
    let at = phone.made_at;
    assert_eq!(n.device_in(&token, at).unwrap().unwrap().id, phone.id);
    assert_eq!(n.device_in(&other, at).unwrap().unwrap().id, tablet.id);
    for wrong in ["", "x", &token[..42], &token.to_lowercase(), &"A".repeat(43)] {
        assert_eq!(n.device_in(wrong, at).unwrap(), None, "{wrong}");
    }
    n.revoke_device(phone.id).unwrap();
    n.revoke_device(phone.id).unwrap();
    assert_eq!(n.device_in(&token, at).unwrap(), None);
    assert_eq!(n.device_in(&other, at).unwrap().unwrap().id, tablet.id);
    let left: Vec<_> = n.devices().unwrap().into_iter().map(|d| d.id).collect();
    assert_eq!(left, [tablet.id]);
    assert!(is_not_found(n.rename_device(phone.id, "Phone")));
    assert_eq!(f.rows("device"), 2, "a revoked one keeps its row");
}

#[test]
fn the_token_is_nowhere_in_the_folder() {
    let f = fresh();
    let (_, token) = f.notebook.add_device("Phone").unwrap();
    // Together with what stands in the journal.
    for name in ["notebook.sqlite", "notebook.sqlite-wal"] {
        let file = std::fs::read(f.dir.path().join(name)).unwrap();
        assert!(!file.windows(token.len()).any(|w| w == token.as_bytes()), "{name}");
    }
}

#[test]
fn being_seen_is_noted_at_most_once_a_minute() {
    let f = fresh();
    let n = &f.notebook;
    let (phone, token) = n.add_device("Phone").unwrap();
    let seen = |seconds: i64| {
        n.device_in(&token, phone.made_at + TimeDelta::seconds(seconds))
            .unwrap();
        (n.devices().unwrap()[0].last_seen_at - phone.made_at).num_seconds()
    };
    assert_eq!(seen(59), 0);
    assert_eq!(seen(60), 60);
    assert_eq!(seen(119), 60);
    assert_eq!(seen(121), 121);
    assert_eq!(seen(30), 30, "a clock set back is followed");
    assert_eq!(n.devices().unwrap()[0].made_at, phone.made_at);
}

/// Pages are kept until the notebook's state is another one. A phone that looks
/// at them does not change what they show; whatever is said of devices by hand does.
#[test]
fn being_seen_keeps_what_is_kept_of_pages() {
    let f = fresh();
    let n = &f.notebook;
    let (phone, token) = n.add_device("Phone").unwrap();
    let state = n.state();
    for minutes in 2..9 {
        let at = phone.made_at + TimeDelta::minutes(minutes);
        n.device_in(&token, at).unwrap();
        assert_eq!(n.devices().unwrap()[0].last_seen_at, at, "noted all the same");
    }
    assert_eq!(n.state(), state);
    n.rename_device(phone.id, "Phone at the machine").unwrap();
    let renamed = n.state();
    assert!(renamed > state);
    n.revoke_device(phone.id).unwrap();
    assert!(n.state() > renamed);
}

#[test]
fn devices_are_listed_by_when_they_were_seen_and_renamed() {
    let f = fresh();
    let n = &f.notebook;
    let (first, token) = n.add_device("First").unwrap();
    let (second, _) = n.add_device("Second").unwrap();
    let names = || n.devices().unwrap().into_iter().map(|d| d.name).collect::<Vec<_>>();
    assert_eq!(names(), ["Second", "First"]);
    n.device_in(&token, first.made_at + TimeDelta::minutes(5)).unwrap();
    assert_eq!(names(), ["First", "Second"]);
    n.rename_device(second.id, "Tablet on the wall").unwrap();
    assert_eq!(names(), ["First", "Tablet on the wall"]);
    assert_eq!(refused_field(n.rename_device(second.id, " ")), "name");
    assert_eq!(refused_field(n.add_device("").map(drop)), "name");
    assert_eq!(names(), ["First", "Tablet on the wall"]);
    assert!(is_not_found(n.rename_device(new_id(), "Nobody's")));
}
