use crate::common::*;
use chrono::{DateTime, Duration, Utc};
use notchbook::measure::LATEST_MOMENT;
use notchbook::notebook::{
    DiskFolder, Entry, FoundKind, Id, Notebook, Now, ProjectState, SearchFilter, Step, StepTick,
};
use notchbook::plan::Work;
use notchbook::sheets::export;

fn steps(titles: &[&str]) -> Vec<Step> {
    titles
        .iter()
        .map(|t| Step::new(new_id(), *t, Some(Work::Piece)))
        .collect()
}

fn tick(step: Id, done: bool, made_at: DateTime<Utc>) -> StepTick {
    StepTick {
        id: new_id(),
        step,
        done,
        made_at,
    }
}

fn titles(n: &Notebook, project: Id) -> Vec<String> {
    n.steps(project).unwrap().into_iter().map(|s| s.title).collect()
}

#[test]
fn steps_keep_their_order_whatever_is_moved_binned_and_sent_twice() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let four = steps(&["cut", "piece", "press", "quilt"]);
    n.add_steps(id, &four[..3]).unwrap();
    n.add_steps(id, &four[2..]).unwrap();
    n.add_steps(id, &four).unwrap();
    assert_eq!(titles(n, id), ["cut", "piece", "press", "quilt"]);
    let [cut, piece, press, quilt] = [0, 1, 2, 3].map(|i| four[i].id);
    for _ in 0..2 {
        n.place_step(quilt, Some(cut)).unwrap();
        assert_eq!(titles(n, id), ["cut", "quilt", "piece", "press"]);
    }
    n.bin_step(piece).unwrap();
    n.place_step(press, None).unwrap();
    assert_eq!(titles(n, id), ["press", "cut", "quilt"]);
    assert_eq!(n.binned_steps(id).unwrap()[0].id, piece);
    assert!(is_not_found(n.place_step(piece, None)) && is_not_found(n.step(piece)));
    n.restore_step(piece).unwrap();
    assert_eq!(titles(n, id), ["press", "cut", "quilt", "piece"]);
    let other = f.project("Other");
    assert!(is_not_found(n.add_steps(other, &four[..1])), "an id of another project");
    let strange = steps(&["strange"]);
    n.add_steps(other, &strange).unwrap();
    assert!(is_not_found(n.place_step(cut, Some(strange[0].id))));
    assert_eq!(titles(n, id), ["press", "cut", "quilt", "piece"]);
}

#[test]
fn an_edited_step_keeps_what_it_was_and_a_tick_what_was_edited() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let first = steps(&["Quilt"]).remove(0);
    n.add_steps(id, std::slice::from_ref(&first)).unwrap();
    let renamed = Step {
        title: "Quilt the back".into(),
        minutes: Some(90),
        video: Some(245),
        ..first.clone()
    };
    assert_eq!(n.save_step(1, &renamed).unwrap(), 2);
    assert_eq!(n.save_step(1, &renamed).unwrap(), 2, "sent twice");
    assert!(is_stale(n.save_step(
        1,
        &Step {
            title: "Quilt it".into(),
            ..first.clone()
        }
    )));
    let done = moment("2026-11-25T10:00:00Z");
    let first_tick = tick(first.id, true, done);
    for word in [
        &first_tick,
        &first_tick,
        &tick(first.id, true, done + Duration::hours(1)),
    ] {
        assert_eq!(n.tick_step(word).unwrap(), None);
    }
    let now = n.step(first.id).unwrap().1;
    assert_eq!(
        (now.title.as_str(), now.done_at, now.version),
        ("Quilt the back", Some(done), 3)
    );
    let earlier: Vec<i64> = n.earlier_steps(first.id).unwrap().iter().map(|s| s.version).collect();
    assert_eq!(earlier, [2, 1]);
    assert_eq!(n.earlier_steps(first.id).unwrap()[1], first);
    assert_eq!(
        n.tick_step(&tick(first.id, false, done + Duration::hours(2))).unwrap(),
        None
    );
    assert_eq!(n.step(first.id).unwrap().1.done_at, None);
}

/// Every order in which the words of two devices may arrive ends as the one
/// said last has it, each word sent twice.
#[test]
fn the_tick_made_last_stands_whichever_arrives_last() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let at = |minute: i64| moment("2026-11-25T10:00:00Z") + Duration::minutes(minute);
    let orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    for last in [true, false] {
        for order in orders {
            let step = steps(&["Quilt"]).remove(0);
            n.add_steps(id, std::slice::from_ref(&step)).unwrap();
            let said = [
                tick(step.id, last, at(0)),
                tick(step.id, !last, at(5)),
                tick(step.id, last, at(9)),
            ];
            for (arrived, i) in order.into_iter().enumerate() {
                let newest = order[..=arrived].iter().max().expect("at least this one");
                for _ in 0..2 {
                    let later = n.tick_step(&said[i]).unwrap();
                    // Overtaken only by one that says something else.
                    let expected = (said[*newest].done != said[i].done).then(|| said[*newest].clone());
                    assert_eq!(later, expected, "{order:?} {i}");
                }
                let now = n.step(step.id).unwrap().1;
                assert_eq!(now.done_at.is_some(), said[*newest].done, "{order:?} {i}");
            }
        }
    }
    // A clock that is ahead does not outlast what is said after it.
    let step = steps(&["Hem"]).remove(0);
    n.add_steps(id, std::slice::from_ref(&step)).unwrap();
    n.tick_step(&tick(step.id, true, Utc::now() + Duration::days(9)))
        .unwrap();
    assert_eq!(n.tick_step(&tick(step.id, false, Utc::now())).unwrap(), None);
    assert_eq!(n.step(step.id).unwrap().1.done_at, None);
    n.bin_step(step.id).unwrap();
    assert!(is_not_found(n.tick_step(&tick(step.id, true, Utc::now()))));
}

#[test]
fn steps_that_cannot_be_kept_are_refused() {
    let f = fresh();
    let id = f.project("Moss waistcoat");
    let good = steps(&["x"]).remove(0);
    for (step, field) in [
        (
            Step {
                title: " ".into(),
                ..good.clone()
            },
            "title",
        ),
        (
            Step {
                minutes: Some(0),
                ..good.clone()
            },
            "minutes",
        ),
        (
            Step {
                minutes: Some(Step::MOST + 1),
                ..good.clone()
            },
            "minutes",
        ),
        (
            Step {
                video: Some(LATEST_MOMENT + 1),
                ..good.clone()
            },
            "video",
        ),
        (
            Step {
                done_at: Some(chrono::DateTime::<Utc>::MAX_UTC),
                ..good.clone()
            },
            "done",
        ),
    ] {
        assert_eq!(refused_field(f.notebook.add_steps(id, &[step])), field);
    }
    assert_eq!(f.rows("step"), 0);
    let many: Vec<Step> = (0..501).map(|i| Step::new(new_id(), format!("{i}"), None)).collect();
    assert_eq!(refused_field(f.notebook.add_steps(id, &many)), "title");
    assert_eq!(f.rows("step"), 0, "all of them or none");
    assert!(is_not_found(f.notebook.add_steps(new_id(), &[good])));
}

#[test]
fn entries_belong_to_a_step_and_a_cloth_and_their_minutes_to_the_step() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let two = steps(&["Quilt the back", "Quilt the front"]);
    n.add_steps(id, &two).unwrap();
    let of = |step: Id, minutes: u32| Entry {
        step: Some(step),
        cloth: Some("c1".into()),
        ..work(Work::Quilt, minutes)
    };
    let (first, second) = (of(two[0].id, 40), of(two[0].id, 5));
    n.add_entry(id, &first).unwrap();
    n.add_entry(id, &second).unwrap();
    n.add_entry(id, &of(two[1].id, 7)).unwrap();
    let mut minutes = n.step_minutes(id).unwrap();
    minutes.sort_by_key(|(_, m)| *m);
    assert_eq!(minutes, [(two[1].id, 7), (two[0].id, 45)]);
    n.bin_entry(second.id).unwrap();
    assert!(n.step_minutes(id).unwrap().contains(&(two[0].id, 40)));
    let untied = Entry {
        step: None,
        ..first.clone()
    };
    n.save_entry(1, &untied).unwrap();
    assert_eq!(n.earlier_entries(first.id).unwrap(), std::slice::from_ref(&first));
    assert!(!n.step_minutes(id).unwrap().iter().any(|(s, _)| *s == two[0].id));
    // A step of another project, or of none.
    let other = f.project("Other");
    assert_eq!(refused_field(n.add_entry(other, &of(two[0].id, 1))), "step");
    assert_eq!(refused_field(n.add_entry(id, &of(new_id(), 1))), "step");
    // A step in the bin keeps what belongs to it.
    n.bin_step(two[1].id).unwrap();
    n.add_entry(id, &of(two[1].id, 3)).unwrap();
}

#[test]
fn steps_go_out_and_come_back_and_are_found() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let mut three = steps(&["Baste the back", "Hem", "Gone"]);
    three[0].minutes = Some(90);
    three[0].video = Some(3845);
    three[0].done_at = Some(moment("2026-11-25T10:00:00Z"));
    three[1].work = None;
    n.add_steps(id, &three).unwrap();
    n.place_step(three[1].id, None).unwrap();
    let tied = Entry {
        step: Some(three[0].id),
        cloth: Some("c1".into()),
        ..work(Work::Layer, 45)
    };
    let to_the_bin = Entry {
        step: Some(three[2].id),
        ..note("belongs to what is binned", "2026-11-25T09:00:00Z")
    };
    n.add_entry(id, &tied).unwrap();
    n.add_entry(id, &to_the_bin).unwrap();
    n.bin_step(three[2].id).unwrap();

    let found = n.search("baste", &SearchFilter::default()).unwrap();
    let kinds: Vec<FoundKind> = found.iter().map(|g| g.kind).collect();
    assert_eq!(kinds, [FoundKind::Step, FoundKind::Entry]);
    assert_eq!(found[0].found[0].item, three[0].id.to_string());
    assert!(n.search("gone", &SearchFilter::default()).unwrap().is_empty());

    // By the cloth's name too, as it is now.
    let entries = |text: &str| -> usize {
        let found = n.search(text, &SearchFilter::default()).unwrap();
        found
            .iter()
            .filter(|g| g.kind == FoundKind::Entry)
            .map(|g| g.found.len())
            .sum()
    };
    fill(n, id);
    assert_eq!(entries("cream"), 1);
    let mut renamed = cloth("c1");
    renamed.name = "Ecru linen".into();
    n.change_plan(id, 4, &notchbook::plan::Edit::Cloth(renamed)).unwrap();
    assert_eq!((entries("cream"), entries("ecru")), (0, 1));

    let aside = tempfile::tempdir().unwrap();
    let folder = aside.path().join("out");
    export(n, &folder).unwrap();
    let page = std::fs::read_to_string(folder.join("projects/moss-waistcoat/project.md")).unwrap();
    for said in [
        "- [ ] Hem\n",
        "- [x] Baste the back (piece), about 1 h 30 min, 1:04:05 in the video, done 2026-11-25",
        "Step: Baste the back",
    ] {
        assert!(page.contains(said), "{said}: {page}");
    }
    let again = Notebook::open(&aside.path().join("again")).unwrap();
    again.import(&DiskFolder::new(&folder)).unwrap();
    assert_eq!(again.steps(id).unwrap(), n.steps(id).unwrap());
    assert_eq!(again.entry(tied.id).unwrap(), n.entry(tied.id).unwrap());
    assert_eq!(again.entry(to_the_bin.id).unwrap().1.step, None);
    // The same folder a second time is refused, not doubled.
    assert_eq!(refused_field(again.import(&DiskFolder::new(&folder))), "folder");

    // A folder without the new keys still comes in, one with a wrong step does not.
    let file = folder.join("projects/moss-waistcoat/project.json");
    let mut json: serde_json::Value = serde_json::from_slice(&std::fs::read(&file).unwrap()).unwrap();
    let good = json["steps"].take();
    json.as_object_mut().unwrap().remove("steps");
    std::fs::write(&file, json.to_string()).unwrap();
    let third = Notebook::open(&aside.path().join("third")).unwrap();
    let said = third.import(&DiskFolder::new(&folder)).unwrap_err().to_string();
    assert!(said.contains("which the project does not have"), "{said}");
    let log = folder.join("projects/moss-waistcoat/log.json");
    let text = std::fs::read_to_string(&log).unwrap();
    let mut entries: serde_json::Value = serde_json::from_str(&text).unwrap();
    for entry in entries.as_array_mut().unwrap() {
        entry.as_object_mut().unwrap().remove("step");
        entry.as_object_mut().unwrap().remove("cloth");
    }
    std::fs::write(&log, entries.to_string()).unwrap();
    third.import(&DiskFolder::new(&folder)).unwrap();
    assert!(third.steps(id).unwrap().is_empty());
    for (key, value, part) in [
        ("title", serde_json::json!(""), "Say what the step is"),
        ("version", serde_json::json!(0), "versions count from 1"),
        ("id", good[1]["id"].clone(), "two steps have the id"),
    ] {
        let mut bad = good.clone();
        bad[0][key] = value;
        json["steps"] = bad;
        std::fs::write(&file, json.to_string()).unwrap();
        let fourth = Notebook::open(&aside.path().join(key)).unwrap();
        let said = fourth.import(&DiskFolder::new(&folder)).unwrap_err().to_string();
        assert!(said.contains(part), "{said}");
        assert!(fourth.is_empty().unwrap());
    }
}

#[test]
fn the_first_page_is_told_what_is_next_and_how_long_it_takes() {
    let f = fresh();
    let n = &f.notebook;
    let today = day("2026-11-25");
    let old = f.project("Old waistcoat");
    fill(n, old);
    n.add_entry(old, &work(Work::Shape, 60)).unwrap();
    let new = f.project("New waistcoat");
    let now = |id: Id| -> Option<Now> { n.what_now(today).unwrap().remove(&id) };
    assert!(!now(new).unwrap().begun);
    fill(n, new);
    assert!(now(new).unwrap().begun, "another revision is looked at anew");
    assert_eq!(now(new).unwrap().time.left.likely, 0, "no pace yet");
    let version = n.project(old).unwrap().details_version;
    let mut finished = details("Old waistcoat");
    finished.state = ProjectState::Finished;
    n.save_details(old, version, &finished).unwrap();
    assert_eq!(now(old), None);
    // The same pieces, so as long as before.
    assert_eq!(now(new).unwrap().time.left.likely, 60);
    let list = [
        Step::new(new_id(), "Shape", Some(Work::Shape)),
        Step::new(new_id(), "Assemble", Some(Work::Assemble)),
    ];
    n.add_steps(new, &list).unwrap();
    n.add_entry(
        new,
        &Entry {
            step: Some(list[0].id),
            ..work(Work::Shape, 50)
        },
    )
    .unwrap();
    assert_eq!(now(new).unwrap().time.left.likely, 10);
    n.tick_step(&tick(list[0].id, true, Utc::now())).unwrap();
    let told = now(new).unwrap();
    assert_eq!(told.next.unwrap().title, "Assemble");
    assert_eq!((told.done, told.steps, told.time.left.likely), (1, 2, 0));
    // As the project's own pages say.
    let project = n.project(new).unwrap();
    assert_eq!(n.time_of(&project, today).unwrap(), now(new).unwrap().time);
    n.bin_project(new).unwrap();
    assert_eq!(now(new), None);
}
