use crate::common::*;
use crate::pictures;
use notchbook::measure::{INCH, Length, Unit};
use notchbook::notebook::{
    FoundKind, Id, Letter, MovementKind, Notebook, NotebookError, PhotoHash, SearchFilter, Site, StartOn, Step,
    StepTick,
};
use notchbook::plan::{Outline, Plan, ReadyShape, Washing, Work};
use rusqlite::{Connection, params};
use std::path::Path;

/// The files of migrations/, in order, from the source and not from the program.
fn steps() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    files.iter().map(|f| std::fs::read_to_string(f).unwrap()).collect()
}

const PROJECT: &str = "018f0000-0000-7000-8000-000000000001";
const WEARER: &str = "018f0000-0000-7000-8000-000000000002";
const SET: &str = "018f0000-0000-7000-8000-000000000003";
const CLOTH: &str = "018f0000-0000-7000-8000-000000000004";
const ENTRY: &str = "018f0000-0000-7000-8000-000000000005";
const WORK: &str = "018f0000-0000-7000-8000-000000000007";
const CHANGE: &str = "018f0000-0000-7000-8000-000000000009";
const STEP: &str = "018f0000-0000-7000-8000-00000000000a";
const TIMER: &str = "018f0000-0000-7000-8000-00000000000b";
const DEVICE: &str = "018f0000-0000-7000-8000-000000000006";

fn id(text: &str) -> Id {
    Id::try_parse(text).unwrap()
}

/// A notebook as the program of `version` left it, with something in every table it had.
fn build(folder: &Path, version: usize) {
    if version == 0 {
        return;
    }
    let database = Connection::open(folder.join("notebook.sqlite")).unwrap();
    database.pragma_update(None, "journal_mode", "WAL").unwrap();
    // As the program does: a step may build a table anew.
    database.pragma_update(None, "foreign_keys", false).unwrap();
    for (number, sql) in (1i64..).zip(&steps()[..version]) {
        database.execute_batch(sql).unwrap();
        database.pragma_update(None, "user_version", number).unwrap();
        match number {
            1 => fill_version_1(folder, &database),
            2 => fill_version_2(&database),
            3 => fill_version_3(&database),
            4 => fill_version_4(&database),
            5 => fill_version_5(&database),
            6 => fill_version_6(&database),
            7 => fill_version_7(&database),
            8 => fill_version_8(&database),
            9 => fill_shop(&database),
            10 => fill_photo_marks(&database),
            11 => fill_swatch_and_outline(&database),
            12 => fill_steps(&database),
            13 => fill_viewers(&database),
            14 => fill_ticks(&database),
            _ => {
                panic!("a migration was added: say here what a notebook of version {number} holds, and check it below")
            }
        }
    }
}

fn fill_version_1(folder: &Path, database: &Connection) {
    const AT: &str = "2026-03-04T05:06:07.000000000Z";
    let picture = pictures::jpeg(30, 20, 1);
    let hash = PhotoHash::of(&picture).0;
    let originals = folder.join("photos/originals").join(&hash[..2]);
    std::fs::create_dir_all(&originals).unwrap();
    std::fs::write(originals.join(format!("{hash}.jpg")), &picture).unwrap();
    let mut plan = Plan::default();
    let first = plan.to_json();
    plan.pieces.push(piece("p1", "Front"));
    let second = plan.to_json();
    let all = [
        database.execute(
            "UPDATE settings SET name = 'Old notebook', unit = 'cm', currency = '€', description_limit = 900",
            [],
        ),
        database.execute(
            "INSERT INTO photo VALUES (?1, 'jpg', 30, 20, ?2, NULL, ?3)",
            params![hash, i64::try_from(picture.len()).unwrap(), AT],
        ),
        database.execute(
            "INSERT INTO wearer VALUES (?1, 'Old wearer', 'adult', '', 2, ?2, NULL)",
            params![WEARER, AT],
        ),
        database.execute(
            "INSERT INTO wearer_version VALUES (?1, 1, ?2, '{\"id\":\"018f0000-0000-7000-8000-000000000002\",\"name\":\"Before\"}')",
            params![WEARER, AT],
        ),
        database.execute(
            "INSERT INTO measurement_set VALUES (?1, ?2, 0, '2026-03-01', '[{\"name\":\"bust girth\",\"value\":\"97 cm\"}]')",
            params![SET, WEARER],
        ),
        database.execute(
            "INSERT INTO cloth (id, name, kind, fibre, usable_width, owned, price, price_per, colour, link, one_way,
                shrinkage, note, photo, version, changed_at, binned_at) VALUES (?1, 'Old cloth', 'cloth', 'wool', 682752, 1, 1250, 'm', '#102030', '', 0, 250, '', ?2, 1, ?3, NULL)",
            params![CLOTH, hash, AT],
        ),
        database.execute(
            "INSERT INTO cloth_version VALUES (?1, 1, ?2, '{}')",
            params![CLOTH, AT],
        ),
        database.execute("INSERT INTO remnant VALUES (?1, 0, 16257, 16255, 3, 'odd')", params![CLOTH]),
        database.execute(
            "INSERT INTO project VALUES (?1, 'Old project', 'making', ?2, '', 'Pattern', 'Maker', '', 'M', '2026-12-01',
                'about', 1, ?3, NULL, ?4, ?5, ?5, NULL)",
            params![PROJECT, WEARER, hash, SET, AT],
        ),
        database.execute(
            "INSERT INTO details_version VALUES (?1, 0, ?2, '{}', NULL)",
            params![PROJECT, AT],
        ),
        database.execute(
            "INSERT INTO revision VALUES (?1, 1, ?2, 'Plan begun', ?3)",
            params![PROJECT, AT, first],
        ),
        database.execute(
            "INSERT INTO revision VALUES (?1, 2, ?2, 'Front added', ?3)",
            params![PROJECT, AT, second],
        ),
        database.execute(
            "INSERT INTO entry VALUES (?1, ?2, 'decision', ?3, 'Longer', 'cold', 5419, 'p1', 1, 2,
                '[{\"what\":\"Cloth\",\"before\":\"1\",\"after\":\"2\",\"difference\":\"+1\"}]', 1, 'still good', 2, ?3, NULL)",
            params![ENTRY, PROJECT, AT],
        ),
        database.execute("INSERT INTO entry_photo VALUES (?1, 0, ?2)", params![ENTRY, hash]),
        database.execute(
            "INSERT INTO entry_version VALUES (?1, 1, ?2, ?3)",
            params![
                ENTRY,
                AT,
                serde_json::to_string(&note("Before", "2026-03-04T05:06:07Z")).unwrap()
            ],
        ),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

fn fill_version_2(database: &Connection) {
    let token = "old-token";
    let all = [
        database.execute(
            "INSERT INTO choice VALUES (?1, 'cloth/c1', 0, 1, 'remark')",
            params![PROJECT],
        ),
        database.execute(
            "INSERT INTO share VALUES (?1, ?2, ?3, '2026-03-04T05:06:07.000000000Z', NULL)",
            params![PhotoHash::of(token.as_bytes()).0, token, PROJECT],
        ),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

fn fill_version_3(database: &Connection) {
    let done = database.execute(
        "INSERT INTO device VALUES (?1, 'Old phone', ?2, '2026-03-04T05:06:07.000000000Z', '2026-03-05T05:06:07.000000000Z', NULL)",
        params![DEVICE, PhotoHash::of(b"old-device").0],
    );
    assert_eq!(done.unwrap(), 1);
}

fn fill_version_4(database: &Connection) {
    let done = database.execute(
        "INSERT INTO ready_cut VALUES (?1, 0, 'quarter-square-triangle', 16257, 0, 7)",
        params![CLOTH],
    );
    assert_eq!(done.unwrap(), 1);
}

fn fill_version_5(database: &Connection) {
    let done = database.execute(
        "UPDATE cloth SET care = ?2 WHERE id = ?1",
        params![CLOTH, r#"{"washing":"30-very-mild","in_the_shade":true}"#],
    );
    assert_eq!(done.unwrap(), 1);
}

fn fill_version_6(database: &Connection) {
    const AT: &str = "2026-03-06T05:06:07.000000000Z";
    let plan = Plan::new(Unit::Cm).to_json();
    for letter in ["a", "b"] {
        let all = [
            database.execute(
                "INSERT INTO variant_plan VALUES (?1, ?2, 3, ?3, 'Unit changed', ?4)",
                params![PROJECT, letter, AT, plan],
            ),
            database.execute(
                "INSERT INTO variant VALUES (?1, ?2, 2, 3, 'in centimetres', ?3, NULL)",
                params![PROJECT, letter, AT],
            ),
        ];
        for done in all {
            assert_eq!(done.unwrap(), 1);
        }
    }
}

fn fill_version_7(database: &Connection) {
    let done = database.execute(
        "INSERT INTO entry (id, project, kind, happened_at, text, why, effect, version, changed_at, binned_at, work, minutes)
         VALUES (?1, ?2, 'work', ?3, 'Old work', '', '[]', 1, ?3, ?3, 'quilt', 90)",
        params![WORK, PROJECT, "2026-03-04T06:06:07.000000000Z"],
    );
    assert_eq!(done.unwrap(), 1);
}

fn fill_version_8(database: &Connection) {
    let all = [
        database.execute(
            "INSERT INTO search_text (kind, project, item, title, body, place) VALUES ('piece', ?1, 'piece/p9', 'Heirloom', '', '')",
            params![PROJECT],
        ),
        database.execute("INSERT INTO search (rowid, title, body, place) SELECT id, title, body, place FROM search_text", []),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

fn fill_shop(database: &Connection) {
    const AT: &str = "2026-03-07T05:06:07.000000000Z";
    let all = [
        database.execute("INSERT INTO shop_left_out VALUES (?1)", [PROJECT]),
        database.execute("INSERT INTO given_back VALUES (?1, ?2)", params![PROJECT, AT]),
        database.execute("INSERT INTO shop_tick VALUES ('notion/snaps', '9', 1, ?1, 1)", [AT]),
        database.execute("INSERT INTO shelf_change VALUES (?1, ?2, '{\"cloths\":[],\"new\":[],\"plans\":[],\"ticks\":[],\"answered\":null}', NULL)", params![CHANGE, AT]),
        database.execute(
            "INSERT INTO movement VALUES (?1, ?2, 'cut-from', '2026-03-07', ?3, ?4, 16257, 1250, 'm', 32513, 16256, '{}', 1, ?1)",
            params![CHANGE, CLOTH, AT, PROJECT],
        ),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

fn fill_steps(database: &Connection) {
    const AT: &str = "2026-03-07T05:06:07.000000000Z";
    let earlier = Step::new(id(STEP), "Baste", None);
    let all = [
        database.execute(
            "INSERT INTO step VALUES (?1, ?2, 3, 'Baste it all', 'layer', 45, ?3, 245, 2, ?3, NULL)",
            params![STEP, PROJECT, AT],
        ),
        database.execute(
            "INSERT INTO step_version VALUES (?1, 1, ?2, ?3)",
            params![STEP, AT, serde_json::to_string(&earlier).unwrap()],
        ),
        database.execute(
            "UPDATE entry SET step = ?2, cloth = 'c9' WHERE id = ?1",
            params![ENTRY, STEP],
        ),
        database.execute(
            "INSERT INTO timer VALUES (?1, ?2, ?3, 'layer', '2026-03-07T04:00:00.000000000Z', '2026-03-07T04:20:30.000000000Z')",
            params![TIMER, PROJECT, STEP],
        ),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

fn fill_viewers(database: &Connection) {
    const AT: &str = "2026-03-08T05:06:07.000000000Z";
    let held = "{\"title\":\"Shown before\",\"pattern\":{},\"revision\":1,\"choices\":[{\"key\":\"cloth/c1\",\"shown\":true}],\"steps\":[]}";
    let all = [
        database.execute(
            "UPDATE choice SET substitute = 'flannel', paid = 1 WHERE project = ?1",
            params![PROJECT],
        ),
        database.execute(
            "INSERT INTO choices_version VALUES (?1, 1, ?2, '[{\"key\":\"thread\",\"shown\":false}]')",
            params![PROJECT, AT],
        ),
        database.execute("INSERT INTO shown_state VALUES (?1, 1, ?2, ?3)", params![PROJECT, AT, held]),
        database.execute(
            "UPDATE viewers SET choices_version = 2, site = 'always', address = 'old-place', shows = 1 WHERE project = ?1",
            params![PROJECT],
        ),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

fn fill_swatch_and_outline(database: &Connection) {
    let all = [
        database.execute(
            "UPDATE cloth SET swatch = ?2 WHERE id = ?1",
            params![
                CLOTH,
                r##"{"part":{"left":1000,"top":2000,"width":3000,"height":4000},"average":"#102030","colours":[{"colour":"#112233","percent":97}]}"##
            ],
        ),
        database.execute(
            "INSERT INTO outlined_remnant VALUES (?1, 0, ?2, 2, 'three-cornered')",
            params![CLOTH, r#"{"sides":{"sides":["3 in","4 in","5 in"]}}"#],
        ),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

const MARK: &str = "018f0000-0000-7000-8000-000000000008";

fn fill_photo_marks(database: &Connection) {
    const AT: &str = "2026-03-07T05:06:07.000000000Z";
    let hash = PhotoHash::of(&pictures::jpeg(30, 20, 1)).0;
    let other = "b".repeat(64);
    let all = [
        database.execute(
            "INSERT INTO photo_mark VALUES (?1, ?2, ?3, 0, 1, 10000, 2, 16257, 'hem', 2, ?4, NULL)",
            params![MARK, PROJECT, hash, AT],
        ),
        database.execute(
            "INSERT INTO photo_mark_version VALUES (?1, 1, ?2, '{}')",
            params![MARK, AT],
        ),
        database.execute(
            "INSERT INTO photo VALUES (?1, 'jpg', 30, 20, 9, NULL, ?2)",
            params![other, AT],
        ),
        database.execute(
            "INSERT INTO before_after VALUES (?1, ?2, ?3, 2, ?4, NULL)",
            params![PROJECT, hash, other, AT],
        ),
        database.execute(
            "INSERT INTO before_after_version VALUES (?1, 1, ?2, '{}')",
            params![PROJECT, AT],
        ),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

fn check_shop(notebook: &Notebook) {
    let projects = notebook.shop_projects().unwrap();
    assert!(projects.iter().any(|p| p.id == id(PROJECT) && !p.chosen));
    assert!(notebook.asked_what_is_left(id(PROJECT)).unwrap());
    let tick = &notebook.ticks().unwrap()[0];
    assert_eq!((tick.wanted.as_str(), tick.ticked, tick.bought), ("9", true, true));
    let moved = &notebook.movements(id(CLOTH)).unwrap()[0];
    assert_eq!((moved.kind, moved.complete), (MovementKind::CutFrom, true));
    assert_eq!((moved.length, moved.owned_after), (INCH + Length::from_units(1), INCH));
    assert_eq!(moved.change, Some(id(CHANGE)));
}

fn check_photo_marks(notebook: &Notebook) {
    let mark = notebook.photo_marks(id(PROJECT)).unwrap().remove(0);
    assert_eq!((mark.id, mark.from.y, mark.to.x), (id(MARK), 1, 10_000));
    assert_eq!((mark.length, mark.version), (INCH + Length::from_units(1), 2));
    let pair = notebook.before_after(id(PROJECT)).unwrap().unwrap();
    assert_eq!((pair.after, pair.version), (PhotoHash("b".repeat(64)), 2));
}

fn check_swatch_and_outline(notebook: &Notebook) {
    let cloth = notebook.stock_cloth(id(CLOTH)).unwrap();
    let swatch = cloth.swatch.unwrap();
    assert_eq!((swatch.part.left, swatch.part.height), (1000, 4000));
    assert_eq!(swatch.colours[0].colour, "#112233");
    let Outline::Sides(sides) = &cloth.outlined[0].outline else {
        panic!("by its sides")
    };
    assert_eq!((sides.sides[2], cloth.outlined[0].count), (INCH * 5, 2));
    let found = notebook.search("three-cornered", &SearchFilter::default()).unwrap();
    assert_eq!(found[0].kind, FoundKind::Cloth);
}

fn check_viewers(notebook: &Notebook) {
    let project = id(PROJECT);
    let choice = &notebook.choices(project).unwrap()[0];
    assert_eq!((choice.substitute.as_str(), choice.paid), ("flannel", true));
    assert_eq!(notebook.choices_version(project).unwrap(), 2);
    assert_eq!(notebook.earlier_choices(project).unwrap()[0][0].key, "thread");
    let viewers = notebook.viewers(project).unwrap();
    assert_eq!((viewers.site, viewers.shows), (Site::Always, Some(1)));
    assert_eq!(viewers.address.as_deref(), Some("old-place"));
    let seen = notebook.seen(project).unwrap();
    assert_eq!((seen.shown.title.as_str(), seen.shown.revision), ("Shown before", 1));
    assert!(seen.plan.pieces.is_empty() && seen.shown.choices[0].shown);
}

fn fill_ticks(database: &Connection) {
    let all = [
        database.execute(
            "INSERT INTO step_tick VALUES ('018f0000-0000-7000-8000-00000000000c', ?1, 1, '2026-03-08T05:06:07.000000000Z')",
            params![STEP],
        ),
        database.execute("UPDATE timer SET resumed_at = '2026-03-07T04:10:00.000000000Z'", []),
    ];
    for done in all {
        assert_eq!(done.unwrap(), 1);
    }
}

/// The moment a step was done, or what was said of it later, goes before an earlier word.
fn check_ticks(notebook: &Notebook, version: usize) {
    let said = |at: &str| {
        let tick = StepTick {
            id: new_id(),
            step: id(STEP),
            done: false,
            made_at: moment(at),
        };
        notebook.tick_step(&tick).unwrap()
    };
    let later = said("2026-03-07T05:06:06Z").expect("overtaken");
    assert!(later.done);
    if version >= 14 {
        assert_eq!(said("2026-03-08T05:06:06Z"), Some(later));
    }
}

fn check_steps(notebook: &Notebook) {
    let steps = notebook.steps(id(PROJECT)).unwrap();
    assert_eq!(steps.len(), 1);
    assert_eq!(
        (steps[0].work, steps[0].minutes, steps[0].video),
        (Some(Work::Layer), Some(45), Some(245))
    );
    assert!(steps[0].done_at.is_some() && steps[0].title == "Baste it all");
    assert_eq!(notebook.earlier_steps(id(STEP)).unwrap()[0].title, "Baste");
    let (_, entry) = notebook.entry(id(ENTRY)).unwrap();
    assert_eq!((entry.step, entry.cloth.as_deref()), (Some(id(STEP)), Some("c9")));
    let timer = notebook.timer().unwrap().unwrap();
    assert_eq!((timer.id, timer.minutes(timer.started_at)), (id(TIMER), 21));
    let found = notebook.search("baste", &SearchFilter::default()).unwrap();
    let kinds: Vec<FoundKind> = found.into_iter().map(|g| g.kind).collect();
    assert_eq!(kinds, [FoundKind::Step, FoundKind::Entry]);
}

/// What was written by any version is found, and nothing that was not.
fn search(notebook: &Notebook) {
    let kinds = |text: &str| -> Vec<FoundKind> {
        let groups = notebook.search(text, &SearchFilter::default()).unwrap();
        groups.into_iter().map(|g| g.kind).collect()
    };
    assert_eq!(kinds("old project"), [FoundKind::Project]);
    assert_eq!(kinds("front"), [FoundKind::Piece, FoundKind::Entry]);
    assert_eq!(kinds("longer cold"), [FoundKind::Entry]);
    assert_eq!(kinds("wool"), [FoundKind::Cloth]);
    assert_eq!(kinds("bust girth"), [FoundKind::Wearer]);
    assert_eq!(kinds("heirloom"), []);
}

fn check(notebook: &Notebook, version: usize) {
    if version >= 1 {
        let project = notebook.project(id(PROJECT)).unwrap();
        assert_eq!(project.details.title, "Old project");
        assert_eq!(project.for_whom, "Old wearer");
        assert_eq!(project.details.due, Some(day("2026-12-01")));
        assert_eq!((project.revision, project.plan.pieces.len()), (2, 1));
        assert_eq!(project.plan.pieces[0], piece("p1", "Front"));
        assert_eq!(project.measurements.unwrap().values[0].name, "bust girth");
        assert!(notebook.revision(id(PROJECT), 1).unwrap().plan.pieces.is_empty());
        let hash = project.photo.unwrap();
        assert_eq!(notebook.photo(&hash).unwrap().width, 30);
        let cloth = notebook.stock_cloth(id(CLOTH)).unwrap();
        assert_eq!((cloth.usable_width, cloth.owned), (INCH * 42, Length::from_units(1)));
        assert_eq!(cloth.remnants[0].width, INCH + Length::from_units(1));
        let entries = notebook.log(id(PROJECT)).unwrap();
        assert_eq!(entries.len(), 1);
        assert_eq!(entries[0].length, Some(Length::from_units(5419)));
        assert_eq!(entries[0].revisions, Some((1, 2)));
        assert_eq!(entries[0].effect[0].difference, "+1");
        assert_eq!(entries[0].photos, [hash]);
        assert_eq!(notebook.earlier_entries(id(ENTRY)).unwrap()[0].text, "Before");
        assert_eq!(notebook.wearer(id(WEARER)).unwrap().sets.len(), 1);
        assert_eq!(notebook.settings().unwrap().name, "Old notebook");
        search(notebook);
    }
    if version >= 2 {
        assert_eq!(notebook.choices(id(PROJECT)).unwrap()[0].remark, "remark");
        assert_eq!(notebook.shared("old-token").unwrap().project, id(PROJECT));
    }
    if version >= 3 {
        let devices = notebook.devices().unwrap();
        let device = devices.iter().find(|d| d.id == id(DEVICE)).unwrap();
        assert_eq!(device.name, "Old phone");
        let seen = notebook.device_in("old-device", device.last_seen_at).unwrap();
        assert_eq!(seen.as_ref(), Some(device));
    }
    if version >= 4 {
        let ready = &notebook.stock_cloth(id(CLOTH)).unwrap().ready_cut[0];
        assert_eq!((ready.shape, ready.count), (ReadyShape::QuarterSquareTriangle, 7));
        assert_eq!(ready.width, INCH + Length::from_units(1));
    }
    if version >= 5 {
        let care = notebook.stock_cloth(id(CLOTH)).unwrap().care.unwrap();
        assert_eq!((care.washing, care.in_the_shade), (Washing::C30VeryMild, true));
    }
    if version >= 6 {
        let [a, b] = notebook.variants(id(PROJECT)).unwrap().unwrap();
        assert_eq!((a.version, a.from.number, a.plan.unit), (3, 2, Unit::Cm));
        assert_eq!(b.note, "in centimetres");
    }
    if version >= 7 {
        let binned = notebook.binned_entries(id(PROJECT)).unwrap();
        let done = binned.iter().find(|e| e.id == id(WORK)).unwrap().work.unwrap();
        assert_eq!((done.kind, done.minutes), (Work::Quilt, 90));
    }
    if version >= 9 {
        check_shop(notebook);
    }
    if version >= 10 {
        check_photo_marks(notebook);
    }
    if version >= 11 {
        check_swatch_and_outline(notebook);
    }
    if version >= 12 {
        check_steps(notebook);
        check_ticks(notebook, version);
    }
    if version >= 13 {
        check_viewers(notebook);
    } else if version >= 2 {
        assert_eq!(notebook.choices_version(id(PROJECT)).unwrap(), 1);
        assert_eq!(notebook.viewers(id(PROJECT)).unwrap().site, Site::WithLink);
    }
}

/// What a new notebook can do, an old one can.
fn use_it(notebook: &Notebook) {
    let project = notebook.start_project(new_id(), &details("Afterwards")).unwrap();
    fill(notebook, project);
    notebook
        .add_entry(project, &note("Goes on", "2026-11-25T10:00:00Z"))
        .unwrap();
    notebook.save_cloth(0, &stock_cloth("New cloth")).unwrap();
    notebook.save_wearer(0, &wearer("New wearer")).unwrap();
    notebook.begin_variants(project).unwrap();
    assert_eq!(notebook.variants(project).unwrap().unwrap()[1].letter, Letter::B);
    notebook.add_entry(project, &work(Work::Cut, 45)).unwrap();
    assert_eq!(notebook.minutes(project).unwrap(), [(Work::Cut, 45)]);
    notebook
        .add_steps(project, &[Step::new(new_id(), "Hem it", Some(Work::HandSew))])
        .unwrap();
    let step = notebook.steps(project).unwrap()[0].id;
    let on = StartOn {
        step: Some(step),
        work: None,
    };
    // One that waits for the log would be put into it; it is looked at again below.
    if notebook.timer().unwrap().is_none() {
        notebook
            .start_timer(new_id(), project, on, moment("2026-11-25T10:00:00Z"))
            .unwrap();
        assert_eq!(notebook.timer().unwrap().unwrap().work, Some(Work::HandSew));
    }
    // A step that builds a table anew must not lose what follows its changes.
    for text in [
        "afterwards",
        "goes on",
        "new cloth",
        "new wearer",
        "long arms",
        "hem it",
    ] {
        let found = notebook.search(text, &SearchFilter::default()).unwrap();
        assert!(!found.is_empty(), "{text}");
    }
    notebook.choose_shop_projects(&[project]).unwrap();
    assert!(notebook.shop_projects().unwrap()[0].chosen);
    let share = notebook.make_share(project).unwrap();
    assert_eq!(notebook.shared(&share.token).unwrap().project, project);
    let (device, token) = notebook.add_device("New phone").unwrap();
    assert_eq!(notebook.device_in(&token, device.made_at).unwrap(), Some(device));
}

fn version_of(file: &Path) -> i64 {
    Connection::open(file)
        .unwrap()
        .pragma_query_value(None, "user_version", |r| r.get(0))
        .unwrap()
}

fn schema(file: &Path) -> Vec<(String, String)> {
    let database = Connection::open(file).unwrap();
    let mut statement = database
        .prepare("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name")
        .unwrap();
    let rows = statement.query_map([], |r| Ok((r.get(0)?, r.get(1)?))).unwrap();
    rows.map(|r| r.unwrap()).collect()
}

#[test]
fn every_earlier_version_becomes_the_newest_with_all_that_was_in_it() {
    let newest = steps().len();
    let begun = tempfile::tempdir().unwrap();
    drop(Notebook::open(begun.path()).unwrap());
    let wanted = schema(&begun.path().join("notebook.sqlite"));
    for version in 0..=newest {
        let dir = tempfile::tempdir().unwrap();
        let file = dir.path().join("notebook.sqlite");
        build(dir.path(), version);
        let notebook = Notebook::open(dir.path()).unwrap();
        check(&notebook, version);
        use_it(&notebook);
        drop(notebook);
        assert_eq!(version_of(&file), i64::try_from(newest).unwrap());
        assert_eq!(schema(&file), wanted, "from version {version}");
        // A copy as it was, where there was anything to lose.
        let copy = dir.path().join(format!("notebook.v{version}.sqlite"));
        assert_eq!(copy.exists(), (1..newest).contains(&version), "version {version}");
        if copy.exists() {
            assert_eq!(version_of(&copy), i64::try_from(version).unwrap());
            let title: String = Connection::open(&copy)
                .unwrap()
                .query_row("SELECT title FROM project", [], |r| r.get(0))
                .unwrap();
            assert_eq!(title, "Old project");
        }
        // Opened again it is left alone.
        let notebook = Notebook::open(dir.path()).unwrap();
        check(&notebook, version);
        assert!(!dir.path().join(format!("notebook.v{newest}.sqlite")).exists());
    }
}

#[test]
fn an_earlier_copy_is_never_written_over() {
    let dir = tempfile::tempdir().unwrap();
    build(dir.path(), 1);
    std::fs::write(dir.path().join("notebook.v1.sqlite"), "the only good copy").unwrap();
    drop(Notebook::open(dir.path()).unwrap());
    let kept = std::fs::read(dir.path().join("notebook.v1.sqlite")).unwrap();
    assert_eq!(kept, b"the only good copy");
    assert_eq!(version_of(&dir.path().join("notebook.v1-2.sqlite")), 1);
}

#[test]
fn a_newer_notebook_is_refused_and_left_alone() {
    let Fresh { dir, notebook } = fresh();
    drop(notebook);
    let file = dir.path().join("notebook.sqlite");
    let database = Connection::open(&file).unwrap();
    database.pragma_update(None, "user_version", 999).unwrap();
    drop(database);
    let before = std::fs::read(&file).unwrap();
    let refused = Notebook::open(dir.path()).err().unwrap();
    assert!(matches!(&refused, NotebookError::Newer(folder) if folder == dir.path()));
    assert!(refused.to_string().contains("Update this program"), "{refused}");
    assert_eq!(std::fs::read(&file).unwrap(), before);
}
