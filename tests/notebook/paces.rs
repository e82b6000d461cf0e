use crate::common::*;
use notchbook::figures::time::{Amount, PastWork};
use notchbook::notebook::{Entry, Id, NewDecision, Notebook, ProjectState, WorkDone};
use notchbook::plan::{Edit, Work};

fn finish(n: &Notebook, id: Id) {
    let project = n.project(id).unwrap();
    let mut details = project.details;
    details.state = ProjectState::Finished;
    n.save_details(id, project.details_version, &details).unwrap();
}

#[test]
fn minutes_are_kept_summed_and_edited() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let first = work(Work::Shape, 45);
    n.add_entry(id, &first).unwrap();
    n.add_entry(id, &work(Work::Shape, 30)).unwrap();
    n.add_entry(id, &work(Work::HandSew, 90)).unwrap();
    assert_eq!(n.minutes(id).unwrap(), [(Work::HandSew, 90), (Work::Shape, 75)]);
    let mut longer = first.clone();
    longer.work = Some(WorkDone {
        kind: Work::Assemble,
        minutes: 50,
    });
    n.save_entry(1, &longer).unwrap();
    assert_eq!(n.earlier_entries(first.id).unwrap(), std::slice::from_ref(&first));
    assert_eq!(n.entry(first.id).unwrap().1.work, longer.work);
    n.bin_entry(first.id).unwrap();
    assert_eq!(n.minutes(id).unwrap(), [(Work::HandSew, 90), (Work::Shape, 30)]);
    let json = serde_json::to_string(&longer).unwrap();
    assert!(json.contains(r#""work":{"kind":"assemble","minutes":50}"#), "{json}");
}

#[test]
fn work_without_minutes_or_minutes_without_work_are_refused() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let none = Entry {
        work: None,
        ..work(Work::Cut, 1)
    };
    let on_a_note = Entry {
        work: work(Work::Cut, 1).work,
        ..note("cut", "2026-11-25T10:00:00Z")
    };
    for entry in [none, work(Work::Cut, 0), work(Work::Cut, WorkDone::MOST + 1), on_a_note] {
        assert_eq!(refused_field(f.notebook.add_entry(id, &entry)), "minutes", "{entry:?}");
    }
    assert_eq!(f.rows("entry"), 0);
    f.notebook.add_entry(id, &work(Work::Cut, WorkDone::MOST)).unwrap();
}

#[test]
fn only_finished_projects_teach_a_pace_and_only_of_what_they_hold() {
    let f = fresh();
    let n = &f.notebook;
    let old = f.project("Old waistcoat");
    fill(n, old);
    n.add_entry(old, &work(Work::Shape, 40)).unwrap();
    n.add_entry(old, &work(Work::Shape, 10)).unwrap();
    // Its plan has no closures: no amount to divide by.
    n.add_entry(old, &work(Work::Close, 99)).unwrap();
    let new = f.project("New waistcoat");
    assert!(n.paces(new).unwrap().is_empty(), "not finished yet");
    finish(n, old);
    let count = n.project(old).unwrap().plan.pieces[0].cut_count;
    let learnt = PastWork {
        project: "Old waistcoat".into(),
        work: Work::Shape,
        amount: Amount::Count(count.into()),
        minutes: 50,
    };
    assert_eq!(n.paces(new).unwrap(), [learnt]);
    assert!(n.paces(old).unwrap().is_empty(), "not of itself");
    n.bin_project(old).unwrap();
    assert!(n.paces(new).unwrap().is_empty(), "not from the bin");
}

#[test]
fn a_decision_tells_what_it_does_to_the_time() {
    let f = fresh();
    let n = &f.notebook;
    let old = f.project("Old waistcoat");
    fill(n, old);
    let count = n.project(old).unwrap().plan.pieces[0].cut_count;
    n.add_entry(old, &work(Work::Shape, 30 * count)).unwrap();
    finish(n, old);
    let new = f.project("New waistcoat");
    fill(n, new);
    let mut sleeve = piece("p1", "Sleeve");
    sleeve.cut_count = count * 2;
    let decision = NewDecision {
        id: new_id(),
        what: "Lined sleeves".into(),
        why: String::new(),
    };
    n.change_plan_deciding(new, 4, &Edit::Piece(Box::new(sleeve)), Some(&decision))
        .unwrap();
    let effect = n.entry(decision.id).unwrap().1.effect;
    let time = effect.iter().find(|c| c.what == "Time expected").unwrap();
    assert!(
        time.difference.starts_with("about ") && time.difference.ends_with(" more work"),
        "{time:?}"
    );
    // The page that carries it later says the same.
    let (before, after) = (n.revision(new, 4).unwrap().plan, n.revision(new, 5).unwrap().plan);
    assert_eq!(n.effect(new, &before, &after).unwrap(), effect);
}
