//! What is written is found, as it is now and never as it was.

use crate::common::*;
use notchbook::measure::INCH;
use notchbook::notebook::{
    Found, FoundKind, Id, LineChoice, Notebook, ProjectDetails, ProjectState, SampleFolder, SearchFilter, SecondThought,
};
use notchbook::plan::{Closure, ClosureKind, Edit, Notion};
use rusqlite::Connection;

fn all(notebook: &Notebook, text: &str) -> Vec<Found> {
    narrowed(notebook, text, SearchFilter::default())
}

fn narrowed(notebook: &Notebook, text: &str, filter: SearchFilter) -> Vec<Found> {
    let groups = notebook.search(text, &filter).unwrap();
    groups.into_iter().flat_map(|g| g.found).collect()
}

/// Kind and item of what is found.
fn items(notebook: &Notebook, text: &str) -> Vec<(FoundKind, String)> {
    all(notebook, text).into_iter().map(|f| (f.kind, f.item)).collect()
}

fn finds(notebook: &Notebook, text: &str) -> bool {
    !all(notebook, text).is_empty()
}

/// A project with one of everything: the id of the project, cloth, wearer and entry.
fn filled(notebook: &Notebook) -> (Id, Id, Id, Id) {
    let ilse = wearer("Ilse");
    notebook.save_wearer(0, &ilse).unwrap();
    let cloth = stock_cloth("Madder twill");
    notebook.save_cloth(0, &cloth).unwrap();
    let details = ProjectDetails {
        title: "Grüne Schürze".into(),
        state: ProjectState::Making,
        wearer: Some(ilse.id),
        about: "For the **allotment**.".into(),
        pattern: notchbook::notebook::SourcePattern {
            name: "Apron seven".into(),
            ..Default::default()
        },
        ..ProjectDetails::default()
    };
    let project = notebook.start_project(new_id(), &details).unwrap();
    fill(notebook, project);
    let mut taken = cloth.for_plan("c2".into());
    taken.name = "Madder in the plan".into();
    let edits = [
        Edit::Cloth(taken),
        Edit::Notion(Notion {
            id: "n1".into(),
            name: "Press fasteners".into(),
            quantity: "9".into(),
            remark: "size two".into(),
            ..Notion::default()
        }),
        Edit::Closure(Closure {
            id: "b1".into(),
            name: "Front opening".into(),
            kind: ClosureKind::Snap,
            line: INCH * 20,
            first: INCH,
            last: INCH,
            count: Some(5),
            ..Closure::default()
        }),
    ];
    for (revision, edit) in (4..).zip(edits) {
        notebook.change_plan(project, revision, &edit).unwrap();
    }
    let mut entry = note("Pockets *sewn* by lamplight", "2026-03-04T10:00:00Z");
    entry.second_thought = Some(SecondThought {
        would_do_again: false,
        text: "brighter bulb".into(),
    });
    notebook.add_entry(project, &entry).unwrap();
    (project, cloth.id, ilse.id, entry.id)
}

#[test]
fn everything_written_is_found_by_what_is_remembered_of_it() {
    let Fresh { notebook, .. } = &fresh();
    let (project, cloth, wearer, entry) = filled(notebook);
    let material = |key: &str| (FoundKind::Material, key.to_string());
    for (text, wanted) in [
        ("allotment", (FoundKind::Project, String::new())),
        ("apron SEVEN", (FoundKind::Project, String::new())),
        // Umlauts or none, the beginning of a word, one or many.
        ("grune schurze", (FoundKind::Project, String::new())),
        ("GRÜNE", (FoundKind::Project, String::new())),
        ("schür", (FoundKind::Project, String::new())),
        ("snap", material("closure/b1")),
        ("snaps", material("closure/b1")),
        ("fastener", material("notion/n1")),
        ("\"size two\"", material("notion/n1")),
        ("what did I use for the backing?", material("cloth/c1")),
        ("take-up", (FoundKind::Piece, "piece/p1".into())),
        ("long arms", (FoundKind::Piece, "piece/p1".into())),
        ("lamplight", (FoundKind::Entry, entry.to_string())),
        ("bulb brighter", (FoundKind::Entry, entry.to_string())),
        ("stain", (FoundKind::Cloth, cloth.to_string())),
        ("twill remnants", (FoundKind::Cloth, cloth.to_string())),
        ("pockets", (FoundKind::Wearer, wearer.to_string())),
        ("bust girth", (FoundKind::Wearer, wearer.to_string())),
    ] {
        let found = items(notebook, text);
        assert!(found.contains(&wanted), "{text}: {found:?}");
    }
    // The name of the wearer narrows, but is no answer to itself in every part.
    assert_eq!(items(notebook, "backing Ilse"), [material("cloth/c1")]);
    let ilse = items(notebook, "Ilse");
    assert!(
        ilse.iter()
            .all(|(kind, _)| matches!(kind, FoundKind::Project | FoundKind::Wearer)),
        "{ilse:?}"
    );
    // The answer is in what is found: how much of it there is.
    let shelf = all(notebook, "twill remnants");
    let said: String = shelf[0].excerpt.iter().map(|e| e.text.as_str()).collect();
    assert!(said.contains("2 remnants 12 in (30.4 cm) × 13 in (33.3 cm)"), "{said}");
    let found = &all(notebook, "lamplight")[0];
    assert_eq!(found.project, Some((project, "Grüne Schürze".into())));
    let said: String = found.excerpt.iter().map(|e| e.text.as_str()).collect();
    assert!(said.starts_with("Pockets sewn by lamplight"), "{said}");
    let hits: Vec<&str> = found
        .excerpt
        .iter()
        .filter(|e| e.hit)
        .map(|e| e.text.as_str())
        .collect();
    assert_eq!(hits, ["lamplight"]);
    for nothing in ["", "  ", "\"", "zeppelin", "snaps zeppelin", "\"two size\""] {
        assert!(!finds(notebook, nothing), "{nothing}");
    }
}

#[test]
fn what_was_changed_is_found_as_it_is_now() {
    let fresh = fresh();
    let notebook = &fresh.notebook;
    let (project, cloth, person, entry) = filled(notebook);

    let mut sleeve = notebook.project(project).unwrap().plan.pieces[0].clone();
    sleeve.name = "Gusset".into();
    let seen = notebook.project(project).unwrap().revision;
    notebook
        .change_plan(project, seen, &Edit::Piece(Box::new(sleeve)))
        .unwrap();
    assert!(
        finds(notebook, "gusset") && !finds(notebook, "sleeve"),
        "the newest revision only"
    );

    let mut text = notebook.entry(entry).unwrap().1;
    text.text = "Pockets unpicked".into();
    notebook.save_entry(1, &text).unwrap();
    assert!(finds(notebook, "unpicked") && !finds(notebook, "lamplight"));

    let mut twill = notebook.stock_cloth(cloth).unwrap();
    twill.note = "smells of thyme".into();
    twill.remnants.clear();
    notebook.save_cloth(1, &twill).unwrap();
    assert!(finds(notebook, "thyme") && !finds(notebook, "stain"));

    let mut renamed = notebook.wearer(person).unwrap();
    renamed.name = "Orla".into();
    notebook.save_wearer(1, &renamed).unwrap();
    assert!(finds(notebook, "backing orla") && !finds(notebook, "ilse"));

    let mut details = notebook.project(project).unwrap().details;
    details.title = "Brown apron".into();
    notebook.save_details(project, 1, &details).unwrap();
    assert!(finds(notebook, "unpicked brown") && !finds(notebook, "schürze"));

    let choice = LineChoice {
        key: "notion/n1".into(),
        shown: true,
        remark: "prongless".into(),
        ..LineChoice::default()
    };
    notebook.save_choices(project, 0, &[choice]).unwrap();
    assert!(finds(notebook, "prongless"));
    notebook.save_choices(project, 1, &[]).unwrap();
    assert!(!finds(notebook, "prongless"));

    // What was refused was never written.
    let untitled = ProjectDetails {
        about: "quicksilver".into(),
        ..ProjectDetails::default()
    };
    assert_eq!(refused_field(notebook.save_details(project, 2, &untitled)), "title");
    assert!(!finds(notebook, "quicksilver"));
}

#[test]
fn nothing_of_the_bin_is_found_and_all_of_it_comes_back() {
    let Fresh { notebook, .. } = &fresh();
    let (project, cloth, person, entry) = filled(notebook);
    let (before, pockets) = (items(notebook, "snaps"), items(notebook, "pockets"));
    assert_eq!((before.len(), pockets.len()), (1, 2));

    notebook.bin_entry(entry).unwrap();
    assert!(!finds(notebook, "lamplight"));
    notebook.restore_entry(entry).unwrap();
    notebook.bin_cloth(cloth).unwrap();
    assert!(!finds(notebook, "stain"));
    notebook.restore_cloth(cloth).unwrap();
    notebook.bin_wearer(person).unwrap();
    assert!(!finds(notebook, "bust"));
    notebook.restore_wearer(person).unwrap();
    notebook.bin_project(project).unwrap();
    for text in ["snaps", "gusset", "lamplight", "allotment", "take-up"] {
        assert!(!finds(notebook, text), "{text}");
    }
    // Changed while it lies there, it is not found either.
    notebook
        .add_entry(project, &note("sent late", "2026-03-05T10:00:00Z"))
        .unwrap();
    assert!(!finds(notebook, "sent late"));
    notebook.restore_project(project).unwrap();
    assert_eq!(
        (items(notebook, "snaps"), items(notebook, "pockets")),
        (before, pockets)
    );
    assert!(finds(notebook, "sent late") && finds(notebook, "stain") && finds(notebook, "bust"));
}

#[test]
fn a_search_is_narrowed_by_state_wearer_cloth_and_time() {
    let Fresh { notebook, .. } = &fresh();
    let (project, cloth, person, _) = filled(notebook);
    let other = notebook.start_project(new_id(), &details("Other")).unwrap();
    fill(notebook, other);
    notebook
        .add_entry(other, &note("pockets too", "2024-07-01T10:00:00Z"))
        .unwrap();
    let projects = |text: &str, filter: SearchFilter| -> Vec<Id> {
        let found = narrowed(notebook, text, filter).into_iter();
        let of_these = found.filter(|f| matches!(f.kind, FoundKind::Piece | FoundKind::Entry));
        of_these.filter_map(|f| Some(f.project?.0)).collect()
    };
    let any = SearchFilter::default;
    assert_eq!(
        projects("sleeve", any()),
        [other, project],
        "the one changed last first"
    );
    for (text, filter, wanted) in [
        (
            "sleeve",
            SearchFilter {
                state: Some(ProjectState::Making),
                ..any()
            },
            vec![project],
        ),
        (
            "sleeve",
            SearchFilter {
                state: Some(ProjectState::Finished),
                ..any()
            },
            vec![],
        ),
        (
            "sleeve",
            SearchFilter {
                wearer: Some(person),
                ..any()
            },
            vec![project],
        ),
        (
            "sleeve",
            SearchFilter {
                cloth: Some(cloth),
                ..any()
            },
            vec![project],
        ),
        (
            "pockets",
            SearchFilter {
                within: Some((moment("2024-01-01T00:00:00Z"), moment("2025-01-01T00:00:00Z"))),
                ..any()
            },
            vec![other],
        ),
        (
            "sleeve",
            SearchFilter {
                within: Some((moment("1999-01-01T00:00:00Z"), moment("2000-01-01T00:00:00Z"))),
                ..any()
            },
            vec![],
        ),
    ] {
        assert_eq!(projects(text, filter.clone()), wanted, "{filter:?}");
    }
    let shelf = narrowed(
        notebook,
        "stain",
        SearchFilter {
            cloth: Some(cloth),
            ..any()
        },
    );
    assert_eq!(shelf.len(), 1);
    let people = narrowed(
        notebook,
        "bust",
        SearchFilter {
            wearer: Some(person),
            ..any()
        },
    );
    assert_eq!(people.len(), 1);
    assert!(
        narrowed(
            notebook,
            "stain",
            SearchFilter {
                state: Some(ProjectState::Making),
                ..any()
            }
        )
        .is_empty()
    );
}

/// Every row of the index, in no order.
fn index(fresh: &Fresh) -> Vec<String> {
    let database = Connection::open(fresh.dir.path().join("notebook.sqlite")).unwrap();
    let mut statement = database
        .prepare("SELECT concat_ws('|', kind, project, item, title, body, place) FROM search_text")
        .unwrap();
    let mut rows: Vec<String> = statement
        .query_map([], |r| r.get(0))
        .unwrap()
        .map(|r| r.unwrap())
        .collect();
    rows.sort();
    // What is told of the rows is what stands in them.
    database
        .execute_batch("INSERT INTO search (search, rank) VALUES ('integrity-check', 1)")
        .unwrap();
    rows
}

/// The index as it grew, save by save, is the one made of the notebook at once.
#[test]
fn the_index_never_goes_astray() {
    let mut fresh = fresh();
    fresh.notebook.import(&SampleFolder).unwrap();
    assert!(finds(&fresh.notebook, "snaps"), "what was taken in is found");
    let (project, cloth, person, entry) = filled(&fresh.notebook);
    let notebook = &fresh.notebook;
    notebook.bin_entry(entry).unwrap();
    notebook.bin_cloth(cloth).unwrap();
    let mut renamed = notebook.wearer(person).unwrap();
    renamed.name = "Orla".into();
    notebook.save_wearer(1, &renamed).unwrap();
    notebook.bin_project(project).unwrap();
    let copy = notebook.projects().unwrap()[0].id;
    let take = notchbook::notebook::TakeOver {
        measurements: true,
        pieces: true,
        plan: true,
    };
    notebook.start_from(new_id(), &details("A copy"), copy, take).unwrap();
    let grown = index(&fresh);
    assert!(grown.len() > 100, "{}", grown.len());

    let folder = fresh.dir.path().to_path_buf();
    let Fresh { dir, notebook } = fresh;
    drop(notebook);
    let database = Connection::open(folder.join("notebook.sqlite")).unwrap();
    database.execute("UPDATE search_wording SET number = 0", []).unwrap();
    drop(database);
    let notebook = Notebook::open(&folder).unwrap();
    fresh = Fresh { dir, notebook };
    assert_eq!(index(&fresh), grown);
    // It is left alone when it is sound.
    let database = Connection::open(folder.join("notebook.sqlite")).unwrap();
    let number: i64 = database
        .query_row("SELECT number FROM search_wording", [], |r| r.get(0))
        .unwrap();
    assert!(number > 0);
}

/// Of many, those of the project changed last are handed out, whole; of few, too.
#[test]
fn of_many_materials_those_changed_last_come_first() {
    let Fresh { notebook, .. } = &fresh();
    let first = notebook.start_project(new_id(), &details("Calicos")).unwrap();
    fill(notebook, first);
    let seen = notebook.project(first).unwrap().revision;
    for n in 0..40 {
        let mut cloth = notebook.project(first).unwrap().plan.cloths[0].clone();
        cloth.id = format!("x{n}");
        cloth.name = format!("Calico number {n}");
        notebook.change_plan(first, seen + n, &Edit::Cloth(cloth)).unwrap();
    }
    let take = notchbook::notebook::TakeOver {
        measurements: false,
        pieces: true,
        plan: true,
    };
    let mut projects = vec![first];
    for n in 0..15 {
        let copy = details(&format!("Copy {n}"));
        projects.push(notebook.start_from(new_id(), &copy, first, take).unwrap());
    }
    // More than are looked at one by one.
    let found = |text: &str| -> Vec<(Id, String)> {
        let groups = notebook.search(text, &SearchFilter::default()).unwrap();
        let materials = groups.into_iter().find(|g| g.kind == FoundKind::Material).unwrap();
        assert!(
            materials.more && materials.found.len() == 60,
            "{}",
            materials.found.len()
        );
        let parts = materials.found.into_iter();
        parts.map(|f| (f.project.unwrap().0, f.item)).collect()
    };
    let of_one = |project: Id| (0..40).map(move |n| (project, format!("cloth/x{n}")));
    let newest = |last: Id, before: Id| of_one(last).chain(of_one(before).take(20)).collect::<Vec<_>>();
    assert_eq!(found("calico"), newest(projects[15], projects[14]));
    assert_eq!(found("calico number"), newest(projects[15], projects[14]));
    notebook
        .add_entry(projects[3], &note("pressed", "2026-03-04T10:00:00Z"))
        .unwrap();
    notebook.bin_project(projects[15]).unwrap();
    assert_eq!(found("calico"), newest(projects[3], projects[14]));
    notebook.restore_project(projects[15]).unwrap();
    assert_eq!(found("calico"), newest(projects[3], projects[15]));
    // One of each project: few.
    let groups = notebook.search("\"number 7\"", &SearchFilter::default()).unwrap();
    let few: Vec<Id> = groups[0].found.iter().map(|f| f.project.as_ref().unwrap().0).collect();
    let mut wanted = vec![projects[3], projects[15], projects[14]];
    wanted.extend((4..14).rev().map(|n| projects[n]));
    wanted.extend([projects[2], projects[1], projects[0]]);
    assert_eq!(few, wanted);
}

#[test]
fn the_log_is_found_newest_first_whenever_it_was_written() {
    let Fresh { notebook, .. } = &fresh();
    let project = notebook.start_project(new_id(), &details("Apron")).unwrap();
    // Written in no order.
    let moments: Vec<String> = (0..90)
        .map(|n| {
            let n = n * 37 % 90;
            format!("20{:02}-0{}-1{}T10:00:00.{:03}Z", 10 + n % 15, 1 + n % 9, n / 45, n)
        })
        .collect();
    let mut ids = Vec::new();
    for at in &moments {
        let entry = note("binding sewn", at);
        notebook.add_entry(project, &entry).unwrap();
        ids.push(entry.id);
    }
    let groups = |filter| notebook.search("binding", &filter).unwrap();
    let of_the_log = |filter| groups(filter).into_iter().find(|g| g.kind == FoundKind::Entry).unwrap();
    let log = of_the_log(SearchFilter::default());
    assert!(log.more && log.found.len() == 60);
    let told: Vec<i64> = log.found.iter().map(|f| f.happened_at.unwrap().timestamp()).collect();
    assert!(told.windows(2).all(|w| w[0] >= w[1]), "{told:?}");
    let mut newest: Vec<i64> = moments.iter().map(|m| moment(m).timestamp()).collect();
    newest.sort_unstable_by(|a, b| b.cmp(a));
    assert_eq!(told, newest[..60]);
    // One that happened at another time after all moves.
    let oldest = moments.iter().min().unwrap();
    let mut entry = notebook
        .entry(ids[moments.iter().position(|m| m == oldest).unwrap()])
        .unwrap()
        .1;
    entry.happened_at = moment("2031-01-01T00:00:00Z");
    notebook.save_entry(1, &entry).unwrap();
    assert_eq!(of_the_log(SearchFilter::default()).found[0].item, entry.id.to_string());
    // To the very moment.
    let within = |from: &str, to: &str| SearchFilter {
        within: Some((moment(from), moment(to))),
        ..SearchFilter::default()
    };
    let found = of_the_log(within("2031-01-01T00:00:00Z", "2031-01-01T00:00:00.001Z"));
    assert_eq!(found.found.len(), 1);
    for none in [
        within("2031-01-01T00:00:00.001Z", "2032-01-01T00:00:00Z"),
        within("2030-12-31T00:00:00Z", "2031-01-01T00:00:00Z"),
    ] {
        assert!(groups(none).is_empty());
    }
    notebook.bin_entry(entry.id).unwrap();
    assert!(
        !of_the_log(SearchFilter::default())
            .found
            .iter()
            .any(|f| f.item == entry.id.to_string())
    );
    notebook.bin_project(project).unwrap();
    assert!(groups(SearchFilter::default()).is_empty());
}

#[test]
fn a_hit_in_the_name_goes_before_one_elsewhere() {
    let Fresh { notebook, .. } = &fresh();
    let named = notebook.start_project(new_id(), &details("Lantern quilt")).unwrap();
    let about = ProjectDetails {
        about: "lantern lantern lantern".into(),
        ..details("Tote")
    };
    let told = notebook.start_project(new_id(), &about).unwrap();
    let found: Vec<Id> = all(notebook, "lantern")
        .iter()
        .map(|f| f.project.as_ref().unwrap().0)
        .collect();
    assert_eq!(found, [named, told], "though the other was changed last");
}
