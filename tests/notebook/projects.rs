use crate::common::*;
use crate::pictures;
use notchbook::measure::{INCH, Length, Unit};
use notchbook::notebook::{
    Entry, EntryKind, Notebook, PhotoHash, ProjectDetails, ProjectState, Settings, SourcePattern, TakeOver, WearerKind,
};
use notchbook::plan::{Edit, MadeFor, Plan};

fn full_details(title: &str) -> ProjectDetails {
    ProjectDetails {
        title: title.into(),
        state: ProjectState::Making,
        wearer: None,
        for_whom: "the reading chair".into(),
        pattern: SourcePattern {
            name: "Lantern".into(),
            maker: "Invented Patterns".into(),
            link: "https://example.org/lantern".into(),
            size: "14".into(),
        },
        due: Some(day("2026-12-20")),
        about: "For the *reading* corner.".into(),
    }
}

#[test]
fn a_project_keeps_what_was_typed() {
    let f = fresh();
    let typed = full_details("Reading quilt");
    let id = new_id();
    assert_eq!(f.notebook.start_project(id, &typed).unwrap(), id);
    let project = f.notebook.project(id).unwrap();
    assert_eq!((&project.details, project.details_version), (&typed, 1));
    assert_eq!(project.for_whom, "the reading chair");
    assert_eq!((project.revision, project.plan.unit), (1, Unit::Inch));
    assert_eq!((project.from, project.photo, project.measurements), (None, None, None));

    // Sent again, even with other words: one project, as it was.
    f.notebook.start_project(id, &details("Typed twice")).unwrap();
    assert_eq!(f.notebook.project(id).unwrap().details, typed);
    assert_eq!(f.rows("project"), 1);

    assert_eq!(
        refused_field(f.notebook.start_project(new_id(), &details(" \n"))),
        "title"
    );
    let stranger = ProjectDetails {
        wearer: Some(new_id()),
        ..typed
    };
    assert_eq!(refused_field(f.notebook.start_project(new_id(), &stranger)), "wearer");
    assert_eq!(f.rows("project"), 1);
}

#[test]
fn a_new_plan_is_in_the_notebooks_unit() {
    let f = fresh();
    let settings = f.notebook.settings().unwrap();
    f.notebook
        .save_settings(&Settings {
            unit: Unit::Cm,
            ..settings
        })
        .unwrap();
    let id = f.project("Moss waistcoat");
    assert_eq!(f.notebook.project(id).unwrap().plan, Plan::new(Unit::Cm));
}

#[test]
fn details_name_the_version_they_began_from() {
    let f = fresh();
    let n = &f.notebook;
    let id = f.project("Moss waistcoat");
    let first = details("Moss waistcoat, lined");
    assert_eq!(n.save_details(id, 1, &first).unwrap(), 2);
    // From the other device, where version 1 is still open.
    assert!(is_stale(n.save_details(id, 1, &details("Fern waistcoat"))));
    assert_eq!(n.project(id).unwrap().details, first);
    // The first device sends its save again.
    assert_eq!(n.save_details(id, 1, &first).unwrap(), 2);
    assert_eq!(n.save_details(id, 2, &details("Fern waistcoat")).unwrap(), 3);
    assert_eq!(refused_field(n.save_details(id, 3, &details(""))), "title");
    assert!(is_not_found(n.save_details(new_id(), 1, &first)));

    // What was there before is there still.
    let earlier = n.earlier_details(id).unwrap();
    let titles: Vec<_> = earlier
        .iter()
        .map(|e| (e.version, e.value.details.title.as_str()))
        .collect();
    assert_eq!(titles, [(2, "Moss waistcoat, lined"), (1, "Moss waistcoat")]);

    let mut far = details("Fern waistcoat");
    far.due = chrono::NaiveDate::from_ymd_opt(12_026, 1, 1);
    assert_eq!(refused_field(n.save_details(id, 3, &far)), "due");
}

#[test]
fn the_list_shows_the_latest_first_with_its_photo_words_and_colours() {
    let f = fresh();
    let n = &f.notebook;
    let quilt = f.project("Reading quilt");
    let waistcoat = f.project("Moss waistcoat");
    fill(n, waistcoat);
    std::thread::sleep(std::time::Duration::from_millis(5));
    let photo = add(n, &f, 1);
    let mut picture = note("\n  Basted.  \nMore words", "2026-02-01T10:00:00Z");
    picture.kind = EntryKind::Photo;
    picture.photos = vec![photo.clone()];
    n.add_entry(quilt, &picture).unwrap();
    // Newer, but with no words and no photo.
    let measure = Entry {
        kind: EntryKind::Measure,
        length: Some(notchbook::measure::INCH),
        ..note("", "2026-02-02T10:00:00Z")
    };
    n.add_entry(quilt, &measure).unwrap();

    let cards = n.projects().unwrap();
    let titles: Vec<_> = cards.iter().map(|c| c.details.title.as_str()).collect();
    assert_eq!(titles, ["Reading quilt", "Moss waistcoat"]);
    assert_eq!(cards[0].photo, Some(photo.clone()));
    assert_eq!(cards[0].last_entry.as_deref(), Some("Basted."));
    assert_eq!(
        (cards[1].revision, cards[1].swatches.as_slice()),
        (
            4,
            [notchbook::notebook::Look {
                colour: "#eee4cf".into(),
                picture: None
            }]
            .as_slice()
        )
    );
    assert_eq!((&cards[1].photo, &cards[1].last_entry), (&None, &None));

    // A cover goes before the newest photo; an entry in the bin shows nothing.
    let cover = add(n, &f, 2);
    n.set_cover(quilt, &cover).unwrap();
    assert_eq!(n.projects().unwrap()[0].photo, Some(cover.clone()));
    assert_eq!(n.project(quilt).unwrap().photo, Some(cover));
    n.bin_entry(picture.id).unwrap();
    assert_eq!(n.projects().unwrap()[0].last_entry, None);
    assert!(is_not_found(n.set_cover(quilt, &PhotoHash("0".repeat(64)))));
}

fn add(n: &Notebook, f: &Fresh, seed: u32) -> PhotoHash {
    let file = pictures::file(f.dir.path(), "picture", &pictures::jpeg(20, 20, seed));
    n.add_photo(&file).unwrap().hash
}

const NOTHING: TakeOver = TakeOver {
    measurements: false,
    pieces: false,
    plan: false,
};

#[test]
fn a_new_project_takes_over_what_was_asked_for() {
    let f = fresh();
    let n = &f.notebook;
    let ada = wearer("Ada");
    n.save_wearer(0, &ada).unwrap();
    let mut for_ada = details("Moss waistcoat");
    for_ada.wearer = Some(ada.id);
    let old = n.start_project(new_id(), &for_ada).unwrap();
    fill(n, old);
    n.use_measurements(old, Some(ada.sets[1].id)).unwrap();
    let old_plan = n.project(old).unwrap().plan;
    let start = |take| {
        let id = n.start_from(new_id(), &details("Fern waistcoat"), old, take).unwrap();
        let first = n.revisions(id).unwrap();
        assert_eq!(first.len(), 1);
        let project = n.project(id).unwrap();
        assert_eq!(project.revision, 1);
        assert_eq!(project.from, Some((old, "Moss waistcoat".to_string())));
        (project, first[0].2.clone())
    };

    let (project, what) = start(TakeOver { plan: true, ..NOTHING });
    assert_eq!(
        (&project.plan, what.as_str()),
        (&old_plan, "Plan taken over from Moss waistcoat")
    );
    assert_eq!((&project.measurements, project.details.wearer), (&None, None));

    let (project, what) = start(TakeOver {
        pieces: true,
        measurements: true,
        ..NOTHING
    });
    assert_eq!(what, "Plan taken over from Moss waistcoat");
    let mut bare = piece("p1", "Sleeve");
    (bare.face, bare.layers) = (None, None);
    assert_eq!(
        (&project.plan.pieces, &project.plan.edges),
        (&vec![bare], &old_plan.edges)
    );
    assert!(project.plan.cloths.is_empty());
    assert_eq!(project.measurements.as_ref(), Some(&ada.sets[1]));
    assert_eq!(
        (project.details.wearer, project.for_whom.as_str()),
        (Some(ada.id), "Ada")
    );

    let (project, what) = start(NOTHING);
    assert_eq!((&project.plan, what.as_str()), (&Plan::default(), "Plan begun"));

    // The copy lives on its own.
    n.change_plan(project.id, 1, &notchbook::plan::Edit::Edge(edge("e9")))
        .unwrap();
    assert_eq!(n.project(old).unwrap().plan, old_plan);

    // Sent again.
    let id = new_id();
    n.start_from(id, &details("Once"), old, NOTHING).unwrap();
    n.start_from(id, &details("Twice"), old, NOTHING).unwrap();
    assert_eq!(n.project(id).unwrap().details.title, "Once");
    assert!(is_not_found(n.start_from(
        new_id(),
        &details("None"),
        new_id(),
        NOTHING
    )));
}

#[test]
fn measurements_never_go_to_someone_else() {
    let f = fresh();
    let n = &f.notebook;
    let (ada, ben) = (wearer("Ada"), wearer("Ben"));
    n.save_wearer(0, &ada).unwrap();
    n.save_wearer(0, &ben).unwrap();
    let mut of_ada = details("Moss waistcoat");
    of_ada.wearer = Some(ada.id);
    let old = n.start_project(new_id(), &of_ada).unwrap();
    n.use_measurements(old, Some(ada.sets[0].id)).unwrap();
    let take = TakeOver {
        measurements: true,
        ..NOTHING
    };
    let mut of_ben = details("Fern waistcoat");
    of_ben.wearer = Some(ben.id);
    let new = n.start_from(new_id(), &of_ben, old, take).unwrap();
    let new = n.project(new).unwrap();
    assert_eq!((new.details.wearer, new.measurements), (Some(ben.id), None));

    // The project itself made over to someone else.
    let version = n.project(old).unwrap().details_version;
    let mut retitled = of_ada.clone();
    retitled.title = "Moss waistcoat, lined".into();
    n.save_details(old, version, &retitled).unwrap();
    assert_eq!(n.project(old).unwrap().measurements.as_ref(), Some(&ada.sets[0]));
    of_ben.title = retitled.title;
    n.save_details(old, version + 1, &of_ben).unwrap();
    assert_eq!(n.project(old).unwrap().measurements, None);

    n.use_measurements(old, Some(ben.sets[0].id)).unwrap();
    assert_eq!(n.project(old).unwrap().measurements.as_ref(), Some(&ben.sets[0]));
    n.use_measurements(old, None).unwrap();
    assert_eq!(n.project(old).unwrap().measurements, None);
    assert!(is_not_found(n.use_measurements(old, Some(new_id()))));
}

#[test]
fn a_project_for_a_wearer_begins_with_their_newest_measurements() {
    let f = fresh();
    let n = &f.notebook;
    let ada = wearer("Ada");
    n.save_wearer(0, &ada).unwrap();
    let mut for_ada = details("Moss waistcoat");
    for_ada.wearer = Some(ada.id);
    let id = n.start_project(new_id(), &for_ada).unwrap();
    let newest = ada.sets.iter().map(|s| s.taken_on).max();
    assert_eq!(n.project(id).unwrap().measurements.map(|s| s.taken_on), newest);
}

/// Cautions for children and animals must not wait for a form that nobody opens.
#[test]
fn a_plan_is_made_for_whom_the_project_is() {
    let f = fresh();
    let n = &f.notebook;
    let mut child = wearer("Oda");
    child.kind = WearerKind::Child;
    n.save_wearer(0, &child).unwrap();
    let mut for_child = details("Hooded vest");
    for_child.wearer = Some(child.id);
    let id = n.start_project(new_id(), &for_child).unwrap();
    assert_eq!(n.project(id).unwrap().plan.made_for, MadeFor::Child);

    let adult = wearer("Ada");
    n.save_wearer(0, &adult).unwrap();
    let mut other = for_child.clone();
    other.wearer = Some(adult.id);
    let version = n.project(id).unwrap().details_version;
    let version = n.save_details(id, version, &other).unwrap();
    assert_eq!(n.project(id).unwrap().plan.made_for, MadeFor::Adult);
    assert_eq!(
        n.revisions(id).unwrap()[0].2,
        "Made for an adult",
        "as a revision of its own"
    );
    // Another change of the details leaves what was chosen for the plan.
    let seen = n.project(id).unwrap().revision;
    n.change_plan(id, seen, &Edit::Time(None, MadeFor::Household)).unwrap();
    other.title = "Vest".into();
    n.save_details(id, version, &other).unwrap();
    assert_eq!(n.project(id).unwrap().plan.made_for, MadeFor::Household);
}

#[test]
fn a_copied_plan_owns_what_is_on_the_shelf_now() {
    let f = fresh();
    let n = &f.notebook;
    let mut shelf = stock_cloth("Oat linen");
    shelf.owned = INCH * 90;
    n.save_cloth(0, &shelf).unwrap();
    let old = n.start_project(new_id(), &details("Moss waistcoat")).unwrap();
    n.change_plan(old, 1, &Edit::Cloth(shelf.for_plan("c1".into())))
        .unwrap();
    // Half a yard of it was used up since.
    shelf.owned = INCH * 72;
    shelf.version = 1;
    n.save_cloth(1, &shelf).unwrap();
    let all = TakeOver {
        measurements: false,
        pieces: false,
        plan: true,
    };
    let copy = n.start_from(new_id(), &details("Fern waistcoat"), old, all).unwrap();
    assert_eq!(n.project(copy).unwrap().plan.cloths[0].owned, INCH * 72);
    assert_eq!(
        n.project(old).unwrap().plan.cloths[0].owned,
        INCH * 90,
        "the old plan stays as it was"
    );
    // Off the shelf: owned no more.
    n.bin_cloth(shelf.id).unwrap();
    let copy = n.start_from(new_id(), &details("Third waistcoat"), old, all).unwrap();
    assert_eq!(n.project(copy).unwrap().plan.cloths[0].owned, Length::ZERO);
}

#[test]
fn a_new_cloth_is_shelved_with_its_plan_and_once() {
    let f = fresh();
    let n = &f.notebook;
    let id = n.start_project(new_id(), &details("Moss waistcoat")).unwrap();
    let shelf = stock_cloth("Oat linen");
    let edit = Edit::Cloth(shelf.for_plan("c1".into()));
    for _ in 0..2 {
        n.change_plan_shelving(id, 1, &edit, None, &shelf).unwrap();
    }
    assert_eq!(n.cloths().unwrap().len(), 1);
    assert_eq!(n.project(id).unwrap().revision, 2);
    // A clash leaves the shelf as it was.
    let mut other = stock_cloth("Other linen");
    other.id = new_id();
    let mut changed = other.for_plan("c1".into());
    changed.name = "Other linen".into();
    n.change_plan_shelving(id, 1, &Edit::Cloth(changed), None, &other)
        .unwrap_err();
    assert_eq!(n.cloths().unwrap().len(), 1);
}
