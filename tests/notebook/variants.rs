use crate::common::*;
use notchbook::measure::INCH;
use notchbook::notebook::{EntryKind, Id, Letter, NewDecision, Notebook, NotebookError};
use notchbook::plan::{Edge, Edit};

fn longer(id: &str, inches: i64) -> Edit {
    Edit::Edge(Edge {
        length: INCH * inches,
        ..edge(id)
    })
}

/// A project of revision 4 with a pair beside its plan.
fn begun(f: &Fresh) -> Id {
    let id = f.project("Moss waistcoat");
    fill(&f.notebook, id);
    f.notebook.begin_variants(id).unwrap();
    id
}

fn edge_of(n: &Notebook, id: Id, letter: Letter) -> i64 {
    let plan = n.variant_project(id, letter).unwrap().plan;
    plan.edge("e1").unwrap().length.units() / INCH.units()
}

#[test]
fn a_pair_begins_as_the_plan_and_leaves_it_alone() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    assert!(n.variants(id).unwrap().is_none());
    assert!(is_not_found(n.variant_project(id, Letter::A)));
    fill(n, id);
    n.begin_variants(id).unwrap();
    let plan = n.project(id).unwrap().plan;
    let [a, b] = n.variants(id).unwrap().unwrap();
    assert_eq!((&a.plan, &b.plan, a.from.number), (&plan, &plan, 4));
    let project = n.variant_project(id, Letter::B).unwrap();
    assert_eq!((project.variant, project.revision), (Some(Letter::B), b.version));

    let version = n
        .change_variant(id, Letter::A, a.version, &longer("e1", 30), None)
        .unwrap();
    assert_eq!(version, a.version + 1);
    n.note_variant(id, Letter::A, "a longer hem").unwrap();
    assert_eq!(edge_of(n, id, Letter::A), 30);
    assert_eq!(n.variants(id).unwrap().unwrap()[0].note, "a longer hem");
    assert_eq!(n.variants(id).unwrap().unwrap()[1].plan, plan);
    let after = n.project(id).unwrap();
    assert_eq!((after.revision, after.plan), (4, plan));
    // Begun again, what is there stays.
    n.begin_variants(id).unwrap();
    assert_eq!(edge_of(n, id, Letter::A), 30);
    assert_eq!(f.rows("variant_plan"), 3);
}

#[test]
fn a_variant_saved_from_two_devices_clashes_in_the_same_part_only() {
    let f = fresh();
    let n = &f.notebook;
    let id = begun(&f);
    let seen = n.variants(id).unwrap().unwrap()[0].version;
    n.change_variant(id, Letter::A, seen, &longer("e1", 30), None).unwrap();
    // Begun from the same version: another part is kept too, the same part is not.
    n.change_variant(id, Letter::A, seen, &longer("e2", 7), None).unwrap();
    match n.change_variant(id, Letter::A, seen, &longer("e1", 31), None) {
        Err(NotebookError::Clash { current, .. }) => assert_eq!(current.number, seen + 2),
        other => panic!("{other:?}"),
    }
    assert_eq!(edge_of(n, id, Letter::A), 30);
    // The same save sent again changes nothing.
    assert_eq!(
        n.change_variant(id, Letter::A, seen, &longer("e1", 30), None).unwrap(),
        seen + 2
    );
}

#[test]
fn taking_one_is_one_revision_with_its_decision() {
    let f = fresh();
    let n = &f.notebook;
    let id = begun(&f);
    let seen = n.variants(id).unwrap().unwrap()[1].version;
    n.change_variant(id, Letter::B, seen, &longer("e1", 30), None).unwrap();
    let version = n
        .change_variant(id, Letter::B, seen + 1, &longer("e2", 7), None)
        .unwrap();
    // What was looked at is no longer what would be taken.
    assert!(is_stale(n.take_variant(id, Letter::B, seen, None, None)));
    let decision = NewDecision {
        id: new_id(),
        what: "The longer hem".into(),
        why: "it covers the knees".into(),
    };
    let (before, after) = n.take_variant(id, Letter::B, version, None, Some(&decision)).unwrap();
    assert_eq!((before.number, after.number), (4, 5));
    assert_eq!(after.what, "Variant B taken");
    assert_eq!(after.plan.edges.len(), 2);
    let log = n.log(id).unwrap();
    assert_eq!(
        (log.len(), log[0].kind, log[0].revisions),
        (1, EntryKind::Decision, Some((4, 5)))
    );
    assert!(n.variants(id).unwrap().is_none());
    // Sent twice: nothing happens again.
    let again = n.take_variant(id, Letter::B, version, None, Some(&decision)).unwrap();
    assert_eq!((again.0.number, again.1.number, n.log(id).unwrap().len()), (5, 5, 1));
}

#[test]
fn a_plan_changed_meanwhile_is_not_written_over() {
    let f = fresh();
    let n = &f.notebook;
    let id = begun(&f);
    let [a, b] = n.variants(id).unwrap().unwrap();
    let a = n
        .change_variant(id, Letter::A, a.version, &longer("e1", 30), None)
        .unwrap();
    n.change_variant(id, Letter::B, b.version, &longer("e2", 7), None)
        .unwrap();
    n.change_plan(id, 4, &longer("e1", 44)).unwrap();
    match n.take_variant(id, Letter::A, a, None, None) {
        Err(NotebookError::Clash { current, clash }) => {
            assert_eq!((current.number, clash.0.as_str()), (5, "Hem e1"));
        }
        other => panic!("{other:?}"),
    }
    // Nor on the word of someone who saw an earlier revision.
    assert!(n.take_variant(id, Letter::A, a, Some(4), None).is_err());
    assert_eq!(n.project(id).unwrap().revision, 5);
    // B changed another part: both changes stay.
    let b = n.variants(id).unwrap().unwrap()[1].clone();
    let merged = b.brought_over(&n.project(id).unwrap().plan).unwrap();
    let (_, after) = n.take_variant(id, Letter::B, b.version, None, None).unwrap();
    assert_eq!(after.plan, merged);
    assert_eq!(after.plan.edge("e1").unwrap().length, INCH * 44);
    assert!(after.plan.edge("e2").is_some());
    // Taken after all, the plan it replaces is an earlier revision.
    n.restore_variants(id).unwrap();
    let (_, after) = n.take_variant(id, Letter::A, a, Some(6), None).unwrap();
    assert_eq!((after.number, after.plan.edge("e1").unwrap().length), (7, INCH * 30));
}

#[test]
fn a_pair_given_up_comes_back_and_a_new_one_is_told_apart() {
    let f = fresh();
    let n = &f.notebook;
    let id = begun(&f);
    let old = n.variants(id).unwrap().unwrap()[0].version;
    let old = n.change_variant(id, Letter::A, old, &longer("e1", 30), None).unwrap();
    n.drop_variants(id).unwrap();
    assert!(n.variants(id).unwrap().is_none() && n.has_binned_variants(id).unwrap());
    assert!(is_not_found(n.change_variant(
        id,
        Letter::A,
        old,
        &longer("e1", 31),
        None
    )));
    n.restore_variants(id).unwrap();
    assert_eq!(edge_of(n, id, Letter::A), 30);
    n.drop_variants(id).unwrap();
    n.begin_variants(id).unwrap();
    assert_eq!(edge_of(n, id, Letter::A), 42, "copied from the plan again");
    // A form that was open since the earlier pair meets the new one as a clash.
    match n.change_variant(id, Letter::A, old, &longer("e1", 31), None) {
        Err(NotebookError::Clash { .. }) => {}
        other => panic!("{other:?}"),
    }
    assert!(is_not_found(f.notebook.begin_variants(new_id())));
}
