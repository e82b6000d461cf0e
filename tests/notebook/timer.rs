use crate::common::*;
use chrono::{Duration, Utc};
use notchbook::notebook::{Id, Notebook, StartOn, Step, WorkDone};
use notchbook::plan::Work;

const NOTHING: StartOn = StartOn { step: None, work: None };

fn ago(minutes: i64) -> chrono::DateTime<Utc> {
    Utc::now() - Duration::minutes(minutes)
}

fn step(n: &Notebook, project: Id) -> Id {
    let step = Step::new(new_id(), "Quilt the back", Some(Work::Quilt));
    n.add_steps(project, std::slice::from_ref(&step)).unwrap();
    step.id
}

#[test]
fn the_timer_outlives_closing_and_becomes_one_entry() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let step = step(&f.notebook, id);
    let timer = new_id();
    let on = StartOn {
        step: Some(step),
        work: None,
    };
    let started = ago(24) - Duration::seconds(30);
    f.notebook.start_timer(timer, id, on, started).unwrap();
    f.notebook.start_timer(timer, id, on, ago(1)).unwrap();
    let Fresh { dir, notebook } = f;
    drop(notebook);
    let n = &Notebook::open(dir.path()).unwrap();
    let running = n.timer().unwrap().unwrap();
    assert_eq!(
        (running.id, running.project, running.title.as_str()),
        (timer, id, "Moss waistcoat")
    );
    assert_eq!(running.step, Some((step, "Quilt the back".into())));
    assert_eq!((running.work, running.minutes(Utc::now())), (Some(Work::Quilt), 25));
    for _ in 0..2 {
        n.stop_timer(timer, Utc::now()).unwrap();
    }
    let waiting = n.timer().unwrap().unwrap();
    assert_eq!(waiting.minutes(Utc::now() + Duration::hours(9)), 25, "stopped");
    assert!(n.log(id).unwrap().is_empty());
    // Looked over and saved: the entry with its id.
    let mut entry = work(Work::Quilt, 20);
    entry.id = timer;
    entry.step = Some(step);
    n.add_entry(id, &entry).unwrap();
    assert_eq!(n.timer().unwrap(), None);
    assert_eq!(n.step_minutes(id).unwrap(), [(step, 20)]);
    // A late resend of the start begins no second one.
    n.start_timer(timer, id, on, started).unwrap();
    assert_eq!(n.timer().unwrap(), None);
}

#[test]
fn starting_another_puts_the_first_into_the_log() {
    let f = fresh();
    let n = &f.notebook;
    let (one, two) = (f.project("One"), f.project("Two"));
    let step = step(n, one);
    let first = new_id();
    let on = StartOn {
        step: Some(step),
        work: None,
    };
    let now = Utc::now();
    let whole = |minutes: i64| now - Duration::minutes(minutes);
    assert_eq!(n.start_timer(first, one, on, whole(10)).unwrap(), None);
    let second = new_id();
    assert_eq!(n.start_timer(second, two, NOTHING, whole(5)).unwrap(), Some(first));
    let (owner, entry) = n.entry(first).unwrap();
    assert_eq!((owner, entry.step), (one, Some(step)));
    assert_eq!(entry.work.map(|w| w.kind), Some(Work::Quilt));
    // Until the other was started.
    assert_eq!(entry.work.map(|w| w.minutes), Some(5));
    // One that was stopped and waits is not lost either; without a kind it is other work.
    n.stop_timer(second, Utc::now()).unwrap();
    assert_eq!(n.start_timer(new_id(), one, NOTHING, Utc::now()).unwrap(), Some(second));
    assert_eq!(n.entry(second).unwrap().1.work.map(|w| w.kind), Some(Work::Other));
    assert_eq!(f.rows("timer WHERE stopped_at IS NULL"), 1);
}

#[test]
fn a_timer_forgotten_for_days_is_kept_as_an_entry_can_hold_it() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("One");
    let first = new_id();
    n.start_timer(first, id, NOTHING, ago(50 * 60)).unwrap();
    n.start_timer(new_id(), id, NOTHING, Utc::now()).unwrap();
    let entry = n.entry(first).unwrap().1;
    assert_eq!(entry.work.map(|w| w.minutes), Some(WorkDone::MOST));
    assert!(entry.text.contains("50 h"), "{}", entry.text);
}

#[test]
fn a_timer_is_dropped_into_the_bin_and_resumed() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("One");
    let timer = new_id();
    n.start_timer(timer, id, NOTHING, ago(3)).unwrap();
    n.stop_timer(timer, Utc::now()).unwrap();
    n.resume_timer(timer).unwrap();
    assert!(n.timer().unwrap().is_some_and(|t| t.stopped_at.is_none()));
    for _ in 0..2 {
        assert_eq!(n.drop_timer(timer).unwrap(), id);
    }
    assert_eq!(n.timer().unwrap(), None);
    assert!(n.log(id).unwrap().is_empty());
    assert_eq!(n.binned_entries(id).unwrap()[0].id, timer);
    n.restore_entry(timer).unwrap();
    assert_eq!(n.log(id).unwrap().len(), 1);
    assert!(is_not_found(n.resume_timer(timer)) && is_not_found(n.drop_timer(new_id())));
}

#[test]
fn what_a_timer_is_started_on_must_be_there() {
    let f = fresh();
    let n = &f.notebook;
    let (one, two) = (f.project("One"), f.project("Two"));
    let on = StartOn {
        step: Some(step(n, one)),
        work: None,
    };
    assert!(is_not_found(n.start_timer(new_id(), two, on, Utc::now())));
    assert!(is_not_found(n.start_timer(new_id(), new_id(), NOTHING, Utc::now())));
    assert_eq!(f.rows("timer"), 0);
    // A clock that is ahead does not start it in the future.
    n.start_timer(new_id(), one, on, Utc::now() + Duration::days(2))
        .unwrap();
    assert_eq!(n.timer().unwrap().unwrap().minutes(Utc::now()), 1);
    // With its project in the bin it is out of the way, and comes back with it.
    n.bin_project(one).unwrap();
    assert_eq!(n.timer().unwrap(), None);
    n.restore_project(one).unwrap();
    assert!(n.timer().unwrap().is_some());
}

/// Started and stopped on a phone without the laptop, and told later: by its
/// own times, once, and never less than nothing.
#[test]
fn a_timer_told_of_later_ran_as_long_as_it_ran() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("One");
    let now = Utc::now();
    let ago = |minutes: i64| now - Duration::minutes(minutes);
    let timer = new_id();
    assert!(is_not_found(n.stop_timer(timer, ago(40))), "its start is told first");
    for _ in 0..2 {
        n.start_timer(timer, id, NOTHING, ago(60)).unwrap();
        assert_eq!(n.stop_timer(timer, ago(35)).unwrap(), None);
    }
    assert_eq!(n.timer().unwrap().unwrap().minutes(now), 25);
    // A later word of another device that it was stopped changes nothing, an earlier one does.
    n.stop_timer(timer, ago(20)).unwrap();
    assert_eq!(n.timer().unwrap().unwrap().minutes(now), 25);
    n.stop_timer(timer, ago(40)).unwrap();
    assert_eq!(n.timer().unwrap().unwrap().minutes(now), 20);
    // Stopped before it was started: a clock was wrong.
    n.stop_timer(timer, ago(90)).unwrap();
    let timer = n.timer().unwrap().unwrap();
    assert_eq!(timer.stopped_at, Some(timer.started_at));
    // Let run on since: a stop from before that is none.
    n.resume_timer(timer.id).unwrap();
    n.stop_timer(timer.id, ago(3)).unwrap();
    assert_eq!(n.timer().unwrap().unwrap().stopped_at, None);
    n.stop_timer(timer.id, Utc::now()).unwrap();
    assert!(n.timer().unwrap().unwrap().stopped_at.is_some());
}

/// No minute is in two timers, whichever is told of first.
#[test]
fn timers_of_two_devices_do_not_run_at_the_same_time() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("One");
    let now = Utc::now();
    let ago = |minutes: i64| now - Duration::minutes(minutes);
    // The laptop's runs from 30 minutes ago; the phone's, told of later, from 50.
    let (laptop, phone) = (new_id(), new_id());
    n.start_timer(laptop, id, NOTHING, ago(30)).unwrap();
    assert_eq!(n.start_timer(phone, id, NOTHING, ago(50)).unwrap(), None);
    assert_eq!(n.timer().unwrap().unwrap().id, laptop, "it runs on");
    assert_eq!(n.stop_timer(phone, ago(10)).unwrap(), None);
    n.stop_timer(laptop, ago(10)).unwrap();
    let third = new_id();
    n.start_timer(third, id, NOTHING, ago(5)).unwrap();
    let minutes = |timer: Id| n.entry(timer).unwrap().1.work.unwrap().minutes;
    assert_eq!((minutes(laptop), minutes(phone)), (20, 20));
    // Into the log with more minutes than it ran: said, and not changed.
    let late = n.stop_timer(laptop, ago(25)).unwrap().expect("more than it ran");
    assert_eq!((late.id, minutes(laptop)), (laptop, 20));
    assert_eq!(n.stop_timer(laptop, ago(10)).unwrap(), None, "as it was known");
    n.bin_entry(laptop).unwrap();
    assert_eq!(n.stop_timer(laptop, ago(25)).unwrap(), None);
    assert_eq!(f.rows("timer WHERE stopped_at IS NULL"), 1);
}
