use crate::common::*;
use notchbook::figures;
use notchbook::measure::{INCH, Length};
use notchbook::notebook::{EntryKind, NewDecision, Notebook, NotebookError};
use notchbook::plan::{Along, Alteration, Closure, Edge, Edit, Plan, Seam};
use std::sync::Barrier;

const THREADS: i64 = 20;

/// Runs `work` in many threads that start together.
fn together<T: Send>(notebook: &Notebook, work: impl Fn(&Notebook, i64) -> T + Sync) -> Vec<T> {
    let start = Barrier::new(usize::try_from(THREADS).unwrap());
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..THREADS)
            .map(|n| {
                let (notebook, start, work) = (notebook.clone(), &start, &work);
                scope.spawn(move || {
                    start.wait();
                    work(&notebook, n)
                })
            })
            .collect();
        threads.into_iter().map(|t| t.join().unwrap()).collect()
    })
}

fn longer(id: &str, inches: i64) -> Edge {
    Edge {
        length: INCH * inches,
        ..edge(id)
    }
}

#[test]
fn every_change_is_a_revision_and_stays() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    fill(n, id);
    let revisions = n.revisions(id).unwrap();
    let heads: Vec<_> = revisions
        .iter()
        .map(|(number, _, what)| (*number, what.as_str()))
        .collect();
    assert_eq!(
        heads,
        [
            (4, "Edge Hem e1 added"),
            (3, "Sleeve added"),
            (2, "Cream linen added"),
            (1, "Plan begun")
        ]
    );
    assert!(revisions.windows(2).all(|w| w[0].1 >= w[1].1));
    assert_eq!(n.revision(id, 1).unwrap().plan, Plan::default());
    assert!(n.revision(id, 3).unwrap().plan.edges.is_empty());

    // An older one taken again is a new one.
    let old = n.revision(id, 2).unwrap().plan;
    let (before, after) = n.change_plan(id, 4, &Edit::Whole(Box::new(old.clone()))).unwrap();
    assert_eq!((before.number, after.number), (4, 5));
    let project = n.project(id).unwrap();
    assert_eq!((project.revision, &project.plan), (5, &old));
    assert_eq!(project.changed_at, after.made_at);
    assert_eq!(n.revision(id, 4).unwrap(), before);
    assert!(is_not_found(n.revision(id, 6)));
}

#[test]
fn a_change_that_changes_nothing_is_no_revision() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let first = f.notebook.change_plan(id, 1, &Edit::Edge(edge("e1"))).unwrap();
    assert_eq!((first.0.number, first.1.number), (1, 2));
    // The answer was lost on the way, and the phone sends it again.
    let again = f.notebook.change_plan(id, 1, &Edit::Edge(edge("e1"))).unwrap();
    assert_eq!((again.0.number, again.1.number), (2, 2));
    assert_eq!(f.rows("revision"), 2);
}

#[test]
fn different_parts_saved_at_once_are_all_kept() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let numbers = together(&f.notebook, |n, i| {
        n.change_plan(id, 1, &Edit::Edge(edge(&format!("e{i}"))))
            .unwrap()
            .1
            .number
    });
    let mut numbers = numbers;
    numbers.sort_unstable();
    assert_eq!(numbers, (2..=THREADS + 1).collect::<Vec<_>>());
    let project = f.notebook.project(id).unwrap();
    assert_eq!(project.revision, THREADS + 1);
    for i in 0..THREADS {
        assert_eq!(project.plan.edge(&format!("e{i}")), Some(&edge(&format!("e{i}"))));
    }
}

#[test]
fn the_same_part_saved_at_once_is_kept_once_and_the_others_are_told() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    f.notebook.change_plan(id, 1, &Edit::Edge(edge("e1"))).unwrap();
    let answers = together(&f.notebook, |n, i| {
        n.change_plan(id, 2, &Edit::Edge(longer("e1", 100 + i)))
    });
    let kept: Vec<_> = answers.iter().filter_map(|a| a.as_ref().ok()).collect();
    assert_eq!(kept.len(), 1);
    let winner = &kept[0].1;
    assert_eq!(winner.number, 3);
    for answer in &answers {
        match answer {
            Ok(_) => {}
            Err(NotebookError::Clash { clash, current }) => {
                assert_eq!(&**current, winner);
                assert_eq!(clash.0, "Hem e1");
            }
            Err(other) => panic!("{other}"),
        }
    }
    assert_eq!(f.notebook.project(id).unwrap().plan, winner.plan);
}

#[test]
fn nobodys_change_is_lost_when_each_who_clashes_looks_and_saves_again() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let mut bare = piece("p1", "Sleeve");
    bare.alterations.clear();
    f.notebook.change_plan(id, 1, &Edit::Piece(Box::new(bare))).unwrap();
    let clashes: i64 = together(&f.notebook, |n, i| {
        let mut clashes = 0;
        loop {
            let project = n.project(id).unwrap();
            let mut sleeve = project.plan.piece("p1").unwrap().clone();
            sleeve.alterations.push(Alteration {
                along: Along::Width,
                by: Length::from_units(i + 1),
                reason: format!("thread {i}"),
            });
            match n.change_plan(id, project.revision, &Edit::Piece(Box::new(sleeve))) {
                Ok(_) => return clashes,
                Err(NotebookError::Clash { .. }) => clashes += 1,
                Err(other) => panic!("{other}"),
            }
        }
    })
    .iter()
    .sum();
    let project = f.notebook.project(id).unwrap();
    let mut by: Vec<_> = project.plan.pieces[0]
        .alterations
        .iter()
        .map(|a| a.by.units())
        .collect();
    by.sort_unstable();
    assert_eq!(by, (1..=THREADS).collect::<Vec<_>>(), "{clashes} clashes");
    assert_eq!(project.revision, 2 + THREADS);
}

#[test]
fn a_save_from_a_revision_that_never_was_is_not_found() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    for seen in [0, -1, 2, i64::MAX] {
        assert!(
            is_not_found(f.notebook.change_plan(id, seen, &Edit::Edge(edge("e1")))),
            "{seen}"
        );
    }
    assert!(is_not_found(f.notebook.change_plan(
        new_id(),
        1,
        &Edit::Edge(edge("e1"))
    )));
    assert_eq!(f.rows("revision"), 1);
}

#[test]
fn a_plan_that_could_not_be_read_back_is_not_kept() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let whole = |change: &dyn Fn(&mut Plan)| {
        let mut plan = Plan::default();
        change(&mut plan);
        Edit::Whole(Box::new(plan))
    };
    let endless = Length::from_units(i64::MAX / 4);
    let closure = |id: &str| Closure {
        id: id.into(),
        ..Closure::default()
    };
    let seam = |id: &str| Seam {
        id: id.into(),
        ..Seam::default()
    };
    for edit in [
        whole(&|p| p.format = 0),
        whole(&|p| p.format = 2),
        whole(&|p| p.edges = vec![edge("e1"), edge("e1")]),
        whole(&|p| p.pieces = vec![piece("p1", "Front"), piece("p1", "Back")]),
        whole(&|p| p.edges = vec![edge("")]),
        whole(&|p| p.closures = vec![closure("b1"), closure("b1")]),
        whole(&|p| p.closures = vec![closure("")]),
        whole(&|p| p.seams = vec![seam("s1"), seam("s1")]),
        whole(&|p| p.seams = vec![seam("")]),
        whole(&|p| p.edges = vec![edge("../e1")]),
        whole(&|p| p.cloths = vec![cloth(&"c".repeat(41))]),
        whole(&|p| {
            p.edges = vec![Edge {
                length: endless,
                ..edge("e1")
            }]
        }),
        whole(&|p| {
            p.cloths = vec![notchbook::plan::Cloth {
                fibre: "x".repeat(2_000_000),
                ..cloth("c1")
            }]
        }),
    ] {
        assert_eq!(refused_field(f.notebook.change_plan(id, 1, &edit)), "plan");
    }
    assert_eq!(f.rows("revision"), 1);
    assert_eq!(f.notebook.project(id).unwrap().plan, Plan::default());
}

#[test]
fn a_decision_is_kept_with_the_change_it_is_about() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    fill(n, id);
    assert_eq!(n.last_decided(id).unwrap(), 1);
    let mut sleeve = piece("p1", "Sleeve");
    sleeve.height = INCH * 30;
    let edit = Edit::Piece(Box::new(sleeve));
    let decision = NewDecision {
        id: new_id(),
        what: "Sleeves longer".into(),
        why: "for winter".into(),
    };
    let (before, after) = n.change_plan_deciding(id, 4, &edit, Some(&decision)).unwrap();
    assert_eq!((before.number, after.number), (4, 5));
    let log = n.log(id).unwrap();
    assert_eq!(log.len(), 1);
    let entry = &log[0];
    assert_eq!(
        (entry.id, entry.kind, entry.version),
        (decision.id, EntryKind::Decision, 1)
    );
    assert_eq!(
        (entry.text.as_str(), entry.why.as_str()),
        ("Sleeves longer", "for winter")
    );
    assert_eq!(entry.revisions, Some((4, 5)));
    let (old, new) = (figures::work_out(&before.plan), figures::work_out(&after.plan));
    assert_eq!(entry.effect, figures::effect(&old, &new));
    assert!(!entry.effect.is_empty(), "longer sleeves take more cloth");
    assert_eq!(n.last_decided(id).unwrap(), 5);

    // Sent again: one decision, one revision.
    n.change_plan_deciding(id, 4, &edit, Some(&decision)).unwrap();
    assert_eq!((n.log(id).unwrap().len(), n.project(id).unwrap().revision), (1, 5));

    // A clash keeps neither.
    let other = NewDecision {
        id: new_id(),
        ..decision.clone()
    };
    let clash = n.change_plan_deciding(id, 4, &Edit::RemovePiece("p1".into()), Some(&other));
    assert!(matches!(clash, Err(NotebookError::Clash { .. })));
    assert_eq!((n.log(id).unwrap().len(), n.project(id).unwrap().revision), (1, 5));

    // A decision to leave all as it is has no revisions to name.
    n.change_plan_deciding(id, 5, &edit, Some(&other)).unwrap();
    let (_, entry) = n.entry(other.id).unwrap();
    assert_eq!((entry.revisions, entry.effect.len()), (None, 0));
    assert_eq!(n.last_decided(id).unwrap(), 5);
}
