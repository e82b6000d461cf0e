//! How long it takes to publish many lists. Prints, never judges:
//! `cargo bench --bench publish`; `NOTCHBOOK_LISTS=50` takes fewer than 1,000.
//!
//! The sample's projects over and over, each list shared whole: all of them into
//! a new folder, the same again, and again after one was changed, as ratios to the
//! first; and the first beside working out the figures of all plans alone.

use notchbook::figures::work_out;
use notchbook::notebook::{Id, LineChoice, Notebook, SampleFolder, Seen, Site};
use notchbook::plan::Edit;
use notchbook::sheets::{self, Source, materials};
use std::hint::black_box;
use std::time::Instant;

fn everything(seen: &Seen) -> Vec<LineChoice> {
    let figures = work_out(&seen.plan);
    let list = materials(&Source {
        title: &seen.shown.title,
        pattern: &seen.shown.pattern,
        plan: &seen.plan,
        figures: &figures,
        steps: &seen.shown.steps,
        decisions: &seen.shown.decisions,
        choices: &[],
        width: None,
    });
    let lines = list.sections.iter().flat_map(|s| &s.lines);
    let shown = lines.map(|l| LineChoice {
        key: l.key.clone(),
        shown: true,
        ..LineChoice::default()
    });
    shown.collect()
}

fn main() {
    let lists: usize = std::env::var("NOTCHBOOK_LISTS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(1_000);
    let place = tempfile::tempdir().expect("a temporary folder");
    let notebook = Notebook::open(&place.path().join("notebook")).expect("a notebook");
    notebook.import(&SampleFolder).expect("the sample");
    let originals: Vec<(Seen, Vec<LineChoice>)> = notebook
        .projects()
        .expect("projects")
        .iter()
        .map(|card| {
            let seen = notebook.seen_now(card.id).expect("a project");
            let mut ticks = everything(&seen);
            ticks.extend(card.photo.iter().map(|photo| LineChoice {
                key: format!("{}{}", sheets::PICTURE, photo.0),
                shown: true,
                ..LineChoice::default()
            }));
            (seen, ticks)
        })
        .collect();
    let mut ids = Vec::new();
    for n in 0..lists {
        let (seen, ticks) = &originals[n % originals.len()];
        let details = serde_json::from_value(serde_json::json!({"title": format!("{} {n}", seen.shown.title)}));
        let id = notebook
            .start_project(Id::now_v7(), &details.expect("details"))
            .expect("a project");
        let plan = Edit::Whole(Box::new(seen.plan.clone()));
        notebook.change_plan(id, 1, &plan).expect("its plan");
        notebook.save_choices(id, 0, ticks).expect("its ticks");
        notebook.set_site(id, Site::Always).expect("on the site");
        ids.push(id);
    }

    let begun = Instant::now();
    for (seen, _) in originals.iter().cycle().take(lists) {
        black_box(work_out(&seen.plan));
    }
    let figures = begun.elapsed().as_secs_f64();
    println!("{lists} lists; the figures of their plans alone take {figures:.2} s.");

    let site = place.path().join("site");
    let publish = |what: &str, first: Option<f64>| {
        let begun = Instant::now();
        let done = sheets::publish(&notebook, &site, None).expect("published");
        let took = begun.elapsed().as_secs_f64();
        let ratio = first.map_or(format!("{:.2} of the figures alone", took / figures), |first| {
            format!("{:.4} of the first", took / first)
        });
        println!(
            "  {what:28} {took:8.3} s, {ratio}; {} written, {} as they were",
            done.written, done.unchanged
        );
        took
    };
    let first = publish("into a new folder", None);
    publish("again, nothing changed", Some(first));
    let mut ticks = notebook.choices(ids[0]).expect("ticks");
    ticks[0].remark = "changed".into();
    notebook.save_choices(ids[0], 1, &ticks).expect("saved");
    publish("again, one list changed", Some(first));
}
