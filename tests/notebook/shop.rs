//! The shop list, what is bought, cut and given back.

use crate::common::*;
use chrono::{TimeDelta, Utc};
use notchbook::figures::shopping::same_cloth;
use notchbook::measure::{INCH, Length, Money, Percent, YARD};
use notchbook::notebook::{
    BoughtCloth, ClothUsed, Id, MovementKind, Notebook, NotebookError, Parts, ProjectState, Purchase, StockRemnant,
    Tick,
};
use notchbook::plan::{Cloth, Edit, Per, Price};

fn tick(key: &str, ticked: bool, minutes_ago: i64) -> Tick {
    Tick {
        key: key.into(),
        wanted: "1 yd".into(),
        ticked,
        changed_at: Utc::now() - TimeDelta::minutes(minutes_ago),
        bought: false,
    }
}

fn ticked(notebook: &Notebook) -> Vec<(String, bool)> {
    notebook
        .ticks()
        .unwrap()
        .into_iter()
        .map(|t| (t.key, t.ticked))
        .collect()
}

/// A project with one cloth in its plan.
fn wanting(here: &Fresh, title: &str, cloth: &Cloth) -> Id {
    let project = here.project(title);
    here.notebook
        .change_plan(project, 1, &Edit::Cloth(cloth.clone()))
        .unwrap();
    project
}

fn bought(key: &str, width: Length, length: Length) -> BoughtCloth {
    BoughtCloth {
        key: key.into(),
        new: new_id(),
        name: "Cream linen".into(),
        width,
        length,
        price: Some(Price {
            amount: Money::hundredths(1250),
            per: Per::Yard,
        }),
    }
}

fn purchase(cloths: Vec<BoughtCloth>) -> Purchase {
    Purchase {
        id: new_id(),
        day: day("2026-11-25"),
        cloths,
        things: Vec::new(),
    }
}

#[test]
fn the_word_said_last_counts_however_late_it_arrives() {
    let here = fresh();
    let n = &here.notebook;
    n.tick(&tick("a", true, 10)).unwrap();
    n.tick(&tick("a", false, 5)).unwrap();
    // Sent again, and sent late by a phone that was away.
    n.tick(&tick("a", true, 10)).unwrap();
    n.tick(&tick("a", true, 7)).unwrap();
    assert_eq!(ticked(n), [("a".to_string(), false)]);
    n.tick(&tick("a", true, 1)).unwrap();
    // A clock that is ahead does not outlast the next word.
    n.tick(&tick("b", true, -60)).unwrap();
    std::thread::sleep(std::time::Duration::from_millis(5));
    n.tick(&tick("b", false, 0)).unwrap();
    assert_eq!(ticked(n), [("a".to_string(), true), ("b".to_string(), false)]);
    for key in ["", &"x".repeat(401)] {
        assert!(matches!(
            n.tick(&tick(key, true, 0)),
            Err(NotebookError::Refused { .. })
        ));
    }
}

#[test]
fn open_projects_are_shopped_for_until_they_are_left_out() {
    let here = fresh();
    let n = &here.notebook;
    let (a, b) = (here.project("Apron"), here.project("Bag"));
    let chosen = || -> Vec<Id> {
        let all = n.shop_projects().unwrap().into_iter();
        all.filter(|p| p.chosen).map(|p| p.id).collect()
    };
    assert_eq!(chosen(), [b, a]);
    n.choose_shop_projects(&[a]).unwrap();
    assert_eq!(chosen(), [a]);
    // A new one is shopped for; a finished one is not even offered.
    let c = here.project("Cushion");
    assert_eq!(chosen(), [c, a]);
    let mut done = details("Apron");
    done.state = ProjectState::Finished;
    n.save_details(a, 1, &done).unwrap();
    assert_eq!(n.shop_projects().unwrap().len(), 2);
}

#[test]
fn what_is_bought_is_on_the_shelf_and_in_every_plan_that_wants_it() {
    let here = fresh();
    let n = &here.notebook;
    let cloth = Cloth {
        shrinkage: Percent::hundredths(400),
        ..cloth("c1")
    };
    let (a, b, out) = (
        wanting(&here, "Apron", &cloth),
        wanting(&here, "Bag", &cloth),
        wanting(&here, "Other", &cloth),
    );
    n.choose_shop_projects(&[a, b]).unwrap();
    let key = same_cloth(&cloth);
    n.tick(&Tick {
        key: key.clone(),
        ..tick("x", true, 1)
    })
    .unwrap();
    let mut home = purchase(vec![bought(&key, INCH * 54, YARD * 2)]);
    home.things = vec![("notion/snaps".into(), "9".into())];
    for _ in 0..2 {
        n.buy(&home).unwrap();
    }
    let shelf = n.cloths().unwrap();
    assert_eq!(shelf.len(), 1);
    // 72 in less 4 % in the wash, and never more than that.
    assert_eq!(
        (shelf[0].id, shelf[0].owned),
        (home.cloths[0].new, (YARD * 2).scale_down(96, 100))
    );
    assert_eq!(shelf[0].price.as_ref().unwrap().amount, Money::hundredths(1250));
    let moved = n.movements(shelf[0].id).unwrap();
    assert_eq!(
        (moved.len(), moved[0].kind, moved[0].length),
        (1, MovementKind::Bought, YARD * 2)
    );
    assert_eq!(
        (moved[0].owned_before, moved[0].owned_after),
        (Length::ZERO, shelf[0].owned)
    );
    for project in [a, b] {
        let p = n.project(project).unwrap();
        let seen = &p.plan.cloths[0];
        assert_eq!((p.revision, seen.owned), (3, shelf[0].owned));
        assert_eq!(seen.stock, Some(shelf[0].id.to_string()));
        assert_eq!(n.revisions(project).unwrap()[0].2, "Cream linen bought");
    }
    assert_eq!(n.project(out).unwrap().revision, 2);
    let ticks = n.ticks().unwrap();
    let state = |key: &str| ticks.iter().find(|t| t.key == key).map(|t| (t.ticked, t.bought));
    assert_eq!(
        (state(&key), state("notion/snaps")),
        (Some((false, false)), Some((true, true)))
    );
    // All of it taken back, once.
    for _ in 0..2 {
        n.undo_shelf_change(home.id).unwrap();
    }
    assert!(n.cloths().unwrap().is_empty());
    assert_eq!(n.binned_cloths().unwrap().len(), 1);
    for project in [a, b] {
        assert_eq!(n.project(project).unwrap().plan.cloths[0], cloth);
    }
    let ticks = n.ticks().unwrap();
    let state = |key: &str| ticks.iter().find(|t| t.key == key).map(|t| (t.ticked, t.bought));
    assert_eq!(
        (state(&key), state("notion/snaps")),
        (Some((true, false)), Some((false, false)))
    );
}

#[test]
fn a_second_length_is_no_longer_piece() {
    let here = fresh();
    let n = &here.notebook;
    let mut shelved = stock_cloth("Moss");
    shelved.usable_width = INCH * 54;
    shelved.owned = YARD;
    shelved.remnants.clear();
    shelved.shrinkage = Percent::ZERO;
    n.save_cloth(0, &shelved).unwrap();
    let project = wanting(&here, "Apron", &shelved.for_plan("c1".into()));
    // Its outline was cut for something else: the plan hears of that too.
    assert!(!n.project(project).unwrap().plan.cloths[0].outlined.is_empty());
    let kept = std::mem::take(&mut shelved.outlined);
    n.save_cloth(1, &shelved).unwrap();
    let key = format!("shelf/{}", shelved.id);
    let home = purchase(vec![bought(&key, INCH * 54, YARD * 2)]);
    n.buy(&home).unwrap();
    assert!(n.project(project).unwrap().plan.cloths[0].outlined.is_empty());
    n.undo_shelf_change(home.id).unwrap();
    shelved.outlined = kept;
    n.save_cloth(n.stock_cloth(shelved.id).unwrap().version, &shelved)
        .unwrap();
    let home = purchase(vec![bought(&key, INCH * 54, YARD * 2)]);
    n.buy(&home).unwrap();
    let now = n.stock_cloth(shelved.id).unwrap();
    // The longer in one piece, the shorter as a remnant of full width.
    assert_eq!(now.owned, YARD * 2);
    let full = StockRemnant {
        width: INCH * 54,
        length: YARD,
        count: 1,
        note: "full width".into(),
    };
    assert_eq!(now.remnants, [full]);
    assert_eq!(n.project(project).unwrap().plan.cloths[0].owned, YARD * 2);
    // Of another width it is another cloth.
    let wider = purchase(vec![bought(&key, INCH * 60, YARD * 3)]);
    n.buy(&wider).unwrap();
    assert_eq!(n.cloths().unwrap().len(), 2);
    let seen = n.project(project).unwrap().plan.cloths[0].clone();
    assert_eq!(seen.usable_width, INCH * 60);
    // The remnants stay with the cloth they are of: nothing is there twice.
    assert!(seen.remnants.is_empty() && seen.outlined.is_empty() && seen.ready_cut.is_empty());
    assert_eq!(n.stock_cloth(shelved.id).unwrap().outlined, shelved.outlined);
    // What was changed since is not undone behind the maker's back.
    let mut newer = n.stock_cloth(shelved.id).unwrap();
    newer.note = "washed twice".into();
    n.save_cloth(newer.version, &newer).unwrap();
    let said = n.undo_shelf_change(home.id).unwrap_err().to_string();
    assert!(said.contains("Moss was changed since"), "{said}");
    n.undo_shelf_change(wider.id).unwrap();
    assert_eq!(n.project(project).unwrap().plan.cloths[0].usable_width, INCH * 54);
    // Nobody wants it any more.
    let other = purchase(vec![bought("cloth/1/nothing", INCH, YARD)]);
    let said = n.buy(&other).unwrap_err().to_string();
    assert!(said.contains("No project on the list wants Cream linen"), "{said}");
    assert_eq!(here.rows("shelf_change"), 3);
}

/// Made anew from the plan's word, its remnants would be there twice once the
/// first is taken out of the bin.
#[test]
fn a_cloth_in_the_bin_comes_back_when_more_of_it_is_bought() {
    let here = fresh();
    let n = &here.notebook;
    let shelved = stock_cloth("Moss");
    n.save_cloth(0, &shelved).unwrap();
    wanting(&here, "Apron", &shelved.for_plan("c1".into()));
    n.bin_cloth(shelved.id).unwrap();
    let key = format!("shelf/{}", shelved.id);
    let home = purchase(vec![bought(&key, shelved.usable_width, YARD * 3)]);
    n.buy(&home).unwrap();
    let shelf = n.cloths().unwrap();
    assert_eq!((shelf.len(), shelf[0].id), (1, shelved.id));
    assert_eq!(shelf[0].outlined, shelved.outlined);
    assert!(n.binned_cloths().unwrap().is_empty());
    n.undo_shelf_change(home.id).unwrap();
    assert!(n.cloths().unwrap().is_empty());
    assert_eq!(n.binned_cloths().unwrap()[0].remnants, shelved.remnants);
}

#[test]
fn what_is_cut_leaves_the_shelf_and_what_is_left_comes_back() {
    let here = fresh();
    let n = &here.notebook;
    let mut shelved = stock_cloth("Moss");
    shelved.owned = YARD * 2;
    let remnant = |width: i64, length: i64, count: u32, note: &str| StockRemnant {
        width: INCH * width,
        length: INCH * length,
        count,
        note: note.into(),
    };
    shelved.remnants = vec![remnant(20, 20, 2, "from the hem")];
    n.save_cloth(0, &shelved).unwrap();
    let project = wanting(&here, "Apron", &shelved.for_plan("c1".into()));
    let used = |seen: i64, cut: Length| ClothUsed {
        cloth: shelved.id,
        seen,
        cut,
        taken: Parts {
            remnants: vec![remnant(20, 20, 1, "")],
            ready_cut: Vec::new(),
            ..Parts::default()
        },
        complete: true,
        given_back: vec![remnant(10, 36, 1, "")],
    };
    let on = day("2026-11-20");
    // More than there is, or begun from an older state: nothing happens.
    assert!(matches!(
        n.use_cloths(new_id(), project, on, &[used(1, YARD * 3)]),
        Err(NotebookError::Refused { .. })
    ));
    assert!(matches!(
        n.use_cloths(new_id(), project, on, &[used(0, YARD)]),
        Err(NotebookError::Stale(_))
    ));
    let change = new_id();
    for _ in 0..2 {
        n.use_cloths(change, project, on, &[used(1, YARD)]).unwrap();
    }
    let now = n.stock_cloth(shelved.id).unwrap();
    assert_eq!(now.owned, YARD);
    assert_eq!(
        now.remnants,
        [remnant(20, 20, 1, "from the hem"), remnant(10, 36, 1, "")]
    );
    let kinds: Vec<_> = n
        .movements_of_project(project)
        .unwrap()
        .iter()
        .map(|m| m.kind)
        .collect();
    assert_eq!(kinds, [MovementKind::CutFrom, MovementKind::GivenBack]);
    assert_eq!(n.shop_projects().unwrap()[0].cut, [("c1".to_string(), YARD)]);
    assert!(!n.asked_what_is_left(project).unwrap());
    // A change by hand is noted beside it.
    let mut by_hand = now.clone();
    by_hand.owned = INCH * 30;
    n.save_cloth(now.version, &by_hand).unwrap();
    let newest = &n.movements(shelved.id).unwrap()[0];
    assert_eq!(
        (newest.kind, newest.owned_before, newest.owned_after),
        (MovementKind::Corrected, YARD, INCH * 30)
    );
    assert!(n.undo_shelf_change(change).is_err());
    assert_eq!(n.movements(shelved.id).unwrap().len(), 3);
}

#[test]
fn a_cut_is_undone_whole_and_a_finished_project_is_asked_once() {
    let here = fresh();
    let n = &here.notebook;
    let mut shelved = stock_cloth("Moss");
    shelved.owned = YARD * 2;
    n.save_cloth(0, &shelved).unwrap();
    let before = n.stock_cloth(shelved.id).unwrap();
    let project = wanting(&here, "Apron", &before.for_plan("c1".into()));
    let mut done = details("Apron");
    done.state = ProjectState::Finished;
    n.save_details(project, 1, &done).unwrap();
    let used = ClothUsed {
        cloth: shelved.id,
        seen: 1,
        cut: YARD,
        taken: Parts::default(),
        complete: true,
        given_back: Vec::new(),
    };
    let change = new_id();
    n.use_cloths(change, project, day("2026-11-20"), &[used]).unwrap();
    assert!(n.asked_what_is_left(project).unwrap());
    n.undo_shelf_change(change).unwrap();
    let now = n.stock_cloth(shelved.id).unwrap();
    assert_eq!((now.owned, &now.remnants), (before.owned, &before.remnants));
    assert!(n.movements(shelved.id).unwrap().is_empty());
    assert!(!n.asked_what_is_left(project).unwrap());
    n.nothing_left(project).unwrap();
    assert!(n.asked_what_is_left(project).unwrap());
}
