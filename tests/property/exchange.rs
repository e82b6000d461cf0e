//! A notebook written out as a folder and taken in again is the same notebook,
//! value by value, whatever is in it.

use super::plans::{inches, sound};
use crate::cases;
use chrono::{DateTime, NaiveDate, Utc};
use notchbook::measure::Length;
use notchbook::notebook::{
    BeforeAfter, ClothUsed, DiskFolder, Entry, EntryKind, Id, Letter, LineChoice, MarkPoint, Measurement,
    MeasurementSet, Notebook, Part, Parts, PhotoHash, PhotoMark, ProjectDetails, ProjectState, SecondThought,
    SourcePattern, Step, StockCloth, StockRemnant, Tick, Wearer, WearerKind, WorkDone,
};
use notchbook::plan::{Edit, Plan, Work};
use notchbook::sheets::export;
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::path::Path;

/// What is typed into a line: any script, signs of Markdown and JSON, nothing
/// but signs.
fn line() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => "[a-zA-Z ]{0,12}[a-zA-Z]",
        1 => "[A-Za-z\u{e4}\u{df}\u{3b1}\u{4e00}\u{1f9f5}*_`|<>&\"'\\\\{}#-]{1,20}",
    ]
}

fn text() -> impl Strategy<Value = String> {
    vec(line(), 0..4).prop_map(|lines| lines.join("\n"))
}

fn id() -> impl Strategy<Value = Id> {
    any::<u128>().prop_map(|n| uuid::Builder::from_random_bytes(n.to_be_bytes()).into_uuid())
}

fn moment() -> impl Strategy<Value = DateTime<Utc>> {
    (946_684_800i64..4_102_444_800, 0..1_000u32)
        .prop_map(|(s, ms)| DateTime::from_timestamp(s, ms * 1_000_000).expect("a moment"))
}

fn day() -> impl Strategy<Value = NaiveDate> {
    moment().prop_map(|m| m.date_naive())
}

fn wearer() -> BoxedStrategy<Wearer> {
    let set = (id(), day(), vec((line(), inches(1, 80)), 1..5)).prop_map(|(id, taken_on, values)| MeasurementSet {
        id,
        taken_on,
        // A name stands once in a set.
        values: values
            .into_iter()
            .enumerate()
            .map(|(n, (name, value))| Measurement {
                name: format!("{name} {n}"),
                value,
            })
            .collect(),
    });
    let kind = prop::sample::select(WearerKind::ALL.to_vec());
    (id(), line(), kind, text(), vec(set, 0..4))
        .prop_map(|(id, name, kind, note, sets)| Wearer {
            id,
            name,
            kind,
            note,
            sets,
            version: 1,
        })
        .boxed()
}

/// A cloth of a plan, put on the shelf.
fn cloth() -> BoxedStrategy<StockCloth> {
    (id(), super::plans::cloth(0), text(), text())
        .prop_map(|(id, cloth, note, of_remnant)| {
            let mut stock = StockCloth::of_plan(id, &cloth);
            stock.note = note;
            if let Some(StockRemnant { note, .. }) = stock.remnants.first_mut() {
                *note = of_remnant.lines().next().unwrap_or_default().to_string();
            }
            stock
        })
        .boxed()
}

fn entry() -> BoxedStrategy<(Entry, bool)> {
    let kind = prop::sample::select(vec![
        EntryKind::Note,
        EntryKind::Photo,
        EntryKind::Decision,
        EntryKind::Measure,
        EntryKind::Work,
    ]);
    let thought = (any::<bool>(), text()).prop_map(|(would_do_again, text)| SecondThought { would_do_again, text });
    let work = (prop::sample::select(Work::ALL.to_vec()), 1..=WorkDone::MOST);
    (
        (id(), kind, moment(), text(), text()),
        (inches(1, 99), work, any::<bool>(), option::of(thought), any::<bool>()),
    )
        .prop_map(
            |((id, kind, happened_at, text, why), (length, work, photo, thought, edited))| {
                let json = json!({"id": id, "kind": kind, "happened_at": happened_at});
                let mut entry: Entry = serde_json::from_value(json).expect("an entry");
                entry.text = format!("{text}.");
                match kind {
                    EntryKind::Decision => {
                        entry.why = why;
                        entry.second_thought = thought;
                    }
                    EntryKind::Measure => entry.length = Some(length),
                    EntryKind::Work => {
                        entry.work = Some(WorkDone {
                            kind: work.0,
                            minutes: work.1,
                        })
                    }
                    EntryKind::Note | EntryKind::Photo => {}
                }
                (entry, photo || kind == EntryKind::Photo && edited)
            },
        )
        .boxed()
}

fn step() -> BoxedStrategy<Step> {
    let work = option::of(prop::sample::select(Work::ALL.to_vec()));
    (
        (id(), line(), work),
        (
            option::of(1..=Step::MOST),
            option::of(moment()),
            option::of(0..36_000u32),
        ),
    )
        .prop_map(|((id, title, work), (minutes, done_at, video))| Step {
            minutes,
            done_at,
            video,
            ..Step::new(id, &title, work)
        })
        .boxed()
}

fn mark() -> BoxedStrategy<(Id, [i64; 4], Length, String)> {
    let ends = [0..=5_000i64, 0..=10_000, 5_001..=10_000, 0..=10_000].map(|r| r.boxed());
    (id(), ends, inches(1, 40), line()).boxed()
}

#[derive(Clone, Debug)]
struct Project {
    id: Id,
    title: String,
    state: ProjectState,
    pattern: [String; 3],
    due: Option<NaiveDate>,
    about: String,
    plans: Vec<Plan>,
    variant: Option<(Plan, String)>,
    log: Vec<(Entry, bool)>,
    choices: Vec<(bool, String)>,
    wearer: bool,
    steps: Vec<Step>,
    marks: Vec<(Id, [i64; 4], Length, String)>,
}

fn project() -> BoxedStrategy<Project> {
    (
        (id(), line(), prop::sample::select(ProjectState::ALL.to_vec())),
        ([line(), line(), line()], option::of(day()), text()),
        (
            vec(sound().boxed(), 0..3).boxed(),
            option::weighted(0.3, (sound().boxed(), line())),
            vec(entry(), 0..5).boxed(),
            vec((any::<bool>(), line()), 0..4),
            any::<bool>(),
        ),
        (vec(step(), 0..4), vec(mark(), 0..3)),
    )
        .prop_map(
            |((id, title, state), (pattern, due, about), (plans, variant, log, choices, wearer), (steps, marks))| {
                Project {
                    id,
                    title,
                    state,
                    pattern,
                    due,
                    about,
                    plans,
                    variant,
                    log,
                    choices,
                    wearer,
                    steps,
                    marks,
                }
            },
        )
        .boxed()
}

fn picture(n: u32) -> Vec<u8> {
    let image = image::RgbImage::from_pixel(3, 2, image::Rgb([(n >> 16) as u8, (n >> 8) as u8, n as u8]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    image.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    bytes.into_inner()
}

/// By the same ways as the pages.
fn fill(notebook: &Notebook, aside: &Path, wearers: &[Wearer], cloths: &[StockCloth], projects: &[Project]) {
    for wearer in wearers {
        notebook.save_wearer(0, wearer).expect("a wearer");
    }
    for cloth in cloths {
        notebook.save_cloth(0, cloth).expect("a cloth");
    }
    let mut pictures = 0;
    for project in projects {
        let wearer = wearers.first().filter(|_| project.wearer);
        let [name, maker, size] = project.pattern.clone();
        let details = ProjectDetails {
            title: project.title.clone(),
            state: project.state,
            wearer: wearer.map(|w| w.id),
            for_whom: String::new(),
            pattern: SourcePattern {
                name,
                maker,
                size,
                link: String::new(),
            },
            due: project.due,
            about: project.about.clone(),
        };
        notebook.start_project(project.id, &details).expect("a project");
        if let Some(set) = wearer.and_then(|w| w.sets.first()) {
            notebook
                .use_measurements(project.id, Some(set.id))
                .expect("measurements");
        }
        for plan in &project.plans {
            let seen = notebook.project(project.id).expect("it").revision;
            let edit = Edit::Whole(Box::new(plan.clone()));
            notebook.change_plan(project.id, seen, &edit).expect("a revision");
        }
        if let Some((plan, note)) = &project.variant {
            notebook.begin_variants(project.id).expect("a pair");
            let edit = Edit::Whole(Box::new(plan.clone()));
            notebook
                .change_variant(project.id, Letter::B, 1, &edit, None)
                .expect("a variant");
            notebook.note_variant(project.id, Letter::B, note).expect("a note");
        }
        notebook.add_steps(project.id, &project.steps).expect("steps");
        let mut photos: Vec<PhotoHash> = Vec::new();
        for (n, (entry, photo)) in project.log.iter().enumerate() {
            let mut entry = entry.clone();
            // What it belongs to, in turns.
            entry.step = project.steps.get(n).map(|s| s.id);
            let plan = project.plans.last();
            entry.piece = plan.and_then(|p| Some(p.pieces.get(n)?.id.clone()));
            entry.cloth = plan.and_then(|p| Some(p.cloths.get(n)?.id.clone()));
            if *photo {
                pictures += 1;
                let file = aside.join("p.png");
                std::fs::write(&file, picture(pictures)).expect("a file");
                let hash: PhotoHash = notebook.add_photo(&file).expect("a photo").hash;
                entry.photos.push(hash.clone());
                photos.push(hash.clone());
                notebook.add_entry(project.id, &entry).expect("an entry");
                notebook.set_cover(project.id, &hash).expect("a cover");
            } else if entry.kind != EntryKind::Photo {
                notebook.add_entry(project.id, &entry).expect("an entry");
                // Changed once: only its newest text goes out.
                entry.text.push_str(" Changed.");
                notebook.save_entry(1, &entry).expect("changed");
            }
        }
        for ((id, [x, y, x2, y2], length, what), photo) in project.marks.iter().zip(&photos) {
            let mark = PhotoMark {
                id: *id,
                photo: photo.clone(),
                from: MarkPoint { x: *x, y: *y },
                to: MarkPoint { x: *x2, y: *y2 },
                length: *length,
                what: what.clone(),
                version: 1,
            };
            notebook.save_photo_mark(project.id, 0, &mark).expect("a mark");
        }
        if let [before, .., after] = &photos[..] {
            let pair = BeforeAfter {
                before: before.clone(),
                after: after.clone(),
                version: 1,
            };
            notebook.save_before_after(project.id, 0, &pair).expect("a pair");
        }
        let choices: Vec<LineChoice> = project
            .choices
            .iter()
            .enumerate()
            .map(|(n, (shown, remark))| LineChoice {
                key: format!("cloth/c{n}"),
                shown: *shown,
                remark: remark.clone(),
                substitute: remark.chars().rev().collect(),
                paid: *shown,
            })
            .collect();
        notebook.save_choices(project.id, 0, &choices).expect("choices");
    }
    // Shopping: one project left out, a tick, cloth cut for a project and given back.
    let Some(first) = projects.first() else { return };
    notebook.choose_shop_projects(&[]).expect("a choice");
    let tick = Tick {
        key: "notion/thread".into(),
        wanted: "2 spools".into(),
        ticked: true,
        changed_at: "2026-03-01T10:00:00Z".parse().expect("a moment"),
        bought: false,
    };
    notebook.tick(&tick).expect("a tick");
    let used: Vec<ClothUsed> = cloths
        .iter()
        .map(|cloth| ClothUsed {
            cloth: cloth.id,
            seen: 1,
            cut: cloth.owned,
            taken: Parts {
                remnants: cloth.remnants.iter().take(1).cloned().collect(),
                outlined: cloth.outlined.iter().take(1).cloned().collect(),
                ready_cut: cloth.ready_cut.iter().take(1).cloned().collect(),
            },
            complete: cloth.one_way,
            given_back: cloth.remnants.iter().skip(1).cloned().collect(),
        })
        .collect();
    let day = "2026-03-02".parse().expect("a day");
    notebook
        .use_cloths(Id::from_u128(1), first.id, day, &used)
        .expect("cut and given back");
    notebook.nothing_left(first.id).expect("an answer");
}

/// Every value of a notebook, in order.
fn values(notebook: &Notebook) -> Vec<Value> {
    let mut values = Vec::new();
    notebook
        .read_out(|part| -> Result<(), notchbook::notebook::NotebookError> {
            let value = |v: Result<Value, serde_json::Error>| v.expect("JSON");
            match part {
                Part::Settings(settings) => values.push(value(serde_json::to_value(settings))),
                Part::Shopping(shopping) => values.push(value(serde_json::to_value(shopping))),
                Part::Cloths(cloths) => values.push(value(serde_json::to_value(cloths))),
                Part::Wearers(wearers) => values.push(value(serde_json::to_value(wearers))),
                Part::Project(project) => {
                    values.push(value(serde_json::to_value(&project.file)));
                    values.push(value(serde_json::to_value(&project.log)));
                }
                Part::Photo(photo) => {
                    let (name, bytes) = photo.expect("a photo");
                    values.push(json!([name, PhotoHash::of(&bytes).0]));
                }
            }
            Ok(())
        })
        .expect("read out");
    values
}

proptest! {
    #![proptest_config(cases(12))]

    #[test]
    fn a_notebook_goes_out_and_comes_back_the_same(
        wearers in vec(wearer(), 0..3),
        cloths in vec(cloth(), 0..3),
        projects in vec(project(), 0..4),
    ) {
        let place = tempfile::tempdir().expect("a folder");
        let notebook = Notebook::open(&place.path().join("here")).expect("a notebook");
        fill(&notebook, place.path(), &wearers, &cloths, &projects);
        let out = place.path().join("out");
        let done = export(&notebook, &out).expect("written");
        prop_assert_eq!(done.problems, Vec::<String>::new());
        let again = Notebook::open(&place.path().join("again")).expect("a notebook");
        again.import(&DiskFolder::new(&out)).expect("taken in");
        let (before, after) = (values(&notebook), values(&again));
        prop_assert_eq!(before.len(), after.len());
        for (before, after) in before.iter().zip(&after) {
            prop_assert_eq!(before, after);
        }
        prop_assert!(before.len() >= 4 + 2 * projects.len());
    }
}
