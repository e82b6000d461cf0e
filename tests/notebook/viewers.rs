use crate::common::*;
use notchbook::notebook::{DiskFolder, Entry, EntryKind, Id, LineChoice, Notebook, Site, Step};
use notchbook::plan::Edit;
use notchbook::sheets;

fn choice(key: &str, shown: bool) -> LineChoice {
    LineChoice {
        key: key.into(),
        shown,
        ..LineChoice::default()
    }
}

fn begun(f: &Fresh) -> Id {
    let id = f.project("Moss waistcoat");
    let choices = [
        choice("cloth/c1", true),
        choice("cloth/c2", false),
        choice("picture/abc", true),
    ];
    f.notebook.save_choices(id, 0, &choices).unwrap();
    id
}

fn add_piece(n: &Notebook, id: Id) {
    let seen = n.project(id).unwrap().revision;
    n.change_plan(id, seen, &Edit::Piece(Box::new(piece("p9", "Pocket"))))
        .unwrap();
}

#[test]
fn a_list_that_is_held_stays_and_one_that_follows_goes_along() {
    let f = fresh();
    let n = &f.notebook;
    let id = begun(&f);
    let first = n.seen(id).unwrap();
    assert_eq!(first.since, None);
    n.hold(id).unwrap();
    let (held, states) = (n.seen(id).unwrap(), n.viewers(id).unwrap().states.len());
    assert_eq!((&held.shown, &held.plan), (&first.shown, &first.plan));
    assert!(held.since.is_some());
    n.hold(id).unwrap();
    assert_eq!(
        n.viewers(id).unwrap().states.len(),
        states,
        "nothing was changed: the same state"
    );

    add_piece(n, id);
    n.save_details(id, 1, &details("Other title")).unwrap();
    n.add_steps(id, &[Step::new(new_id(), "Hem it", None)]).unwrap();
    assert_eq!(n.seen(id).unwrap(), held);
    let token = n.make_share(id).unwrap().token;
    assert_eq!(n.shared(&token).unwrap(), held);
    let now = n.seen_now(id).unwrap();
    assert_eq!((now.shown.title.as_str(), now.plan.pieces.len()), ("Other title", 1));

    n.hold(id).unwrap();
    assert_eq!(n.seen(id).unwrap().shown, now.shown);
    n.hold_again(id, 1).unwrap();
    assert_eq!(n.seen(id).unwrap(), held, "an earlier state is shown again");
    assert!(is_not_found(n.hold_again(id, 9)));
    n.follow(id).unwrap();
    assert_eq!(n.seen(id).unwrap(), now);
    assert_eq!(n.viewers(id).unwrap().states.len(), 2, "they stay known");
}

#[test]
fn a_tick_taken_away_is_away_at_once() {
    let f = fresh();
    let n = &f.notebook;
    let id = begun(&f);
    n.hold(id).unwrap();
    let shown = |key: &str| {
        n.seen(id)
            .unwrap()
            .shown
            .choices
            .iter()
            .any(|c| c.key == key && c.shown)
    };
    assert!(shown("cloth/c1") && shown("picture/abc") && !shown("cloth/c2"));
    // One taken away, one ticked anew, and the picture gone.
    let choices = [choice("cloth/c1", false), choice("cloth/c2", true)];
    n.save_choices(id, 1, &choices).unwrap();
    for key in ["cloth/c1", "picture/abc", "cloth/c2"] {
        assert!(!shown(key), "{key}");
    }
}

#[test]
fn a_decision_is_told_as_it_was_said_and_not_once_it_is_thrown_away() {
    let f = fresh();
    let n = &f.notebook;
    let id = begun(&f);
    let decided = |text: &str, why: &str, at: &str| Entry {
        kind: EntryKind::Decision,
        why: why.into(),
        ..note(text, at)
    };
    let late = decided("**Later**", "", "2026-03-05T05:06:07Z");
    let first = decided("Patches 5 in", "6 in looked coarse", "2026-03-04T05:06:07Z");
    for entry in [&late, &first, &note("no decision", "2026-03-03T05:06:07Z")] {
        n.add_entry(id, entry).unwrap();
    }
    let told = |n: &Notebook| -> Vec<String> {
        let decisions = n.seen(id).unwrap().shown.decisions;
        decisions.iter().map(|d| format!("{}|{}", d.text, d.why)).collect()
    };
    assert_eq!(told(n), ["Patches 5 in|6 in looked coarse", "**Later**|"]);
    n.hold(id).unwrap();
    let mut other = first.clone();
    other.text = "Patches 4 in".into();
    n.save_entry(1, &other).unwrap();
    assert_eq!(told(n)[0], "Patches 5 in|6 in looked coarse", "as it was");
    assert_eq!(n.seen_now(id).unwrap().shown.decisions[0].text, "Patches 4 in");
    n.bin_entry(first.id).unwrap();
    assert_eq!(told(n), ["**Later**|"], "held or not");
    n.restore_entry(first.id).unwrap();
    assert_eq!(told(n).len(), 2);
}

#[test]
fn the_site_holds_what_has_a_link_or_was_chosen() {
    let f = fresh();
    let n = &f.notebook;
    let [linked, always, never, unticked] = ["Linked", "Always", "Never", "Unticked"].map(|t| f.project(t));
    for id in [linked, always, never] {
        n.save_choices(id, 0, &[choice("thread", true)]).unwrap();
    }
    assert_eq!(n.on_site().unwrap(), [] as [Id; 0]);
    for id in [linked, never, unticked] {
        n.make_share(id).unwrap();
    }
    n.set_site(always, Site::Always).unwrap();
    n.set_site(unticked, Site::Always).unwrap();
    n.set_site(never, Site::Never).unwrap();
    let mut on: Vec<Id> = n.on_site().unwrap();
    on.sort();
    assert_eq!(on, [linked, always]);
    n.revoke_share(linked).unwrap();
    n.bin_project(always).unwrap();
    assert_eq!(n.on_site().unwrap(), [] as [Id; 0]);
}

#[test]
fn a_place_on_the_site_is_given_once() {
    let f = fresh();
    let n = &f.notebook;
    let [a, b] = ["A", "B"].map(|t| f.project(t));
    let first = n.site_addresses(&[(a, "vest".into()), (b, "vest".into())]).unwrap();
    assert_eq!((first[&a].as_str(), first[&b].as_str()), ("vest", "vest-2"));
    assert_eq!(n.site_addresses(&[(a, "other".into())]).unwrap(), first);
    let c = f.project("C");
    assert_eq!(n.site_addresses(&[(c, "vest".into())]).unwrap()[&c], "vest-3");
    for bad in ["", "../x", "A", "-a", &"a".repeat(101)] {
        let d = f.project("D");
        assert_eq!(
            refused_field(n.site_addresses(&[(d, bad.to_string())])),
            "address",
            "{bad}"
        );
    }
}

#[test]
fn the_site_and_the_place_come_through_an_export() {
    let f = fresh();
    let id = begun(&f);
    f.notebook.set_site(id, Site::Always).unwrap();
    f.notebook.site_addresses(&[(id, "vest".into())]).unwrap();
    let out = f.dir.path().join("out");
    sheets::export(&f.notebook, &out).unwrap();
    let again = fresh();
    again.notebook.import(&DiskFolder::new(&out)).unwrap();
    let viewers = again.notebook.viewers(id).unwrap();
    assert_eq!((viewers.site, viewers.address.as_deref()), (Site::Always, Some("vest")));
    assert_eq!(again.notebook.choices(id).unwrap(), f.notebook.choices(id).unwrap());
}
