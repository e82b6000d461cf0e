//! How dense lays of outlines come out on open sets of garment parts, in ten
//! seconds with two independent searches: printed, not judged.
//!
//! `NOTCHBOOK_LAYS` names a folder of JSON files `{"name", "strip_width",
//! "best_known_density_percent", "pieces": [{"quantity", "rotations", "points": [[x, y], ...]}]}`.
//! The sets are CC0 in github.com/ESICUP/datasets, 2d_irregular. The target is
//! about what the best open program reaches on the same machine in the same time;
//! the first answer is that of half a second.
//!
//!     NOTCHBOOK_LAYS=FOLDER cargo bench --bench lays
//!
//! `NOTCHBOOK_LAYS_SECONDS` and `NOTCHBOOK_LAYS_SEEDS` look longer or more often.

use kurbo::Point;
use notchbook::drafting::lay::{Cloth, Faces, Layout, Piece, Problem, Search, State, Turns};
use std::path::Path;
use std::sync::Mutex;
use std::time::{Duration, Instant};

#[derive(serde::Deserialize)]
struct Set {
    strip_width: f64,
    best_known_density_percent: f64,
    pieces: Vec<Part>,
}

#[derive(serde::Deserialize)]
struct Part {
    quantity: usize,
    rotations: Vec<f64>,
    points: Vec<(f64, f64)>,
}

/// Name, and density in per cent to reach in ten seconds and in half a second.
const TARGETS: [(&str, f64, f64); 7] = [
    ("shirts", 85.0, 79.0),
    ("trousers", 88.0, 84.0),
    ("swim", 72.0, 62.0),
    ("albano", 86.0, 75.0),
    ("dagli", 83.0, 77.0),
    ("marques", 87.5, 82.0),
    ("mao", 81.5, 75.0),
];

fn problem(set: &Set) -> Problem {
    // Some sets count in centimetres or coarser; the engine in millimetres.
    let scale = 1500.0 / set.strip_width;
    let pieces = set.pieces.iter().map(|part| Piece {
        name: "part".into(),
        outline: part
            .points
            .iter()
            .map(|(x, y)| Point::new(x * scale, y * scale))
            .collect(),
        count: part.quantity,
        turns: Turns::Angles(part.rotations.clone()),
        faces: Faces::Alike,
        on_fold: false,
    });
    Problem {
        pieces: pieces.collect(),
        cloth: Cloth::Single { width: 1500.0 },
        gap: 0.0,
    }
}

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// Two searches, each in its thread, that tell each other their best.
fn search(problem: &Problem, seed: u64, time: Duration) -> (f64, f64, u64) {
    let start = Instant::now();
    let shared: Mutex<(Option<Layout>, f64)> = Mutex::new((None, 0.0));
    let steps = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..2)
            .map(|thread| {
                let shared = &shared;
                scope.spawn(move || {
                    let mut search = Search::new(problem, seed * 2 + thread).expect("a set that can be laid");
                    while start.elapsed() < time && search.step(1_000) == State::Looking {
                        let mut shared = shared.lock().expect("the other thread is sound");
                        if let Some(own) = search.best()
                            && shared.0.as_ref().is_none_or(|best| own.length < best.length)
                        {
                            shared.0 = Some(own.clone());
                            if start.elapsed() <= Duration::from_millis(500) {
                                shared.1 = own.density;
                            }
                        }
                        let other = shared.0.clone();
                        drop(shared);
                        // Its own way is left only for one that is clearly ahead.
                        if let (Some(own), Some(other)) = (search.best(), &other)
                            && other.length < 0.99 * own.length
                        {
                            search.adopt(other);
                        }
                    }
                    search.steps()
                })
            })
            .collect();
        threads.into_iter().map(|t| t.join().expect("a search")).sum()
    });
    let (best, first) = shared.into_inner().expect("both threads are done");
    (best.map_or(0.0, |l| l.density * 100.0), first * 100.0, steps)
}

fn main() {
    let Some(folder) = std::env::var_os("NOTCHBOOK_LAYS") else {
        println!("NOTCHBOOK_LAYS is not set: nothing to lay. See the head of tests/bench/lays.rs.");
        return;
    };
    let time = Duration::from_secs(number("NOTCHBOOK_LAYS_SECONDS", 10));
    let seeds = number("NOTCHBOOK_LAYS_SEEDS", 3);
    println!(
        "density in %, {} s, two threads, median [least..most] of {seeds} seeds",
        time.as_secs()
    );
    println!("set        0.5 s (target)   reached                  target  best known  steps a second");
    for (name, target, first_target) in TARGETS {
        let path = Path::new(&folder).join(format!("{name}.json"));
        let Ok(text) = std::fs::read_to_string(&path) else {
            println!("{name:9}  no file {}", path.display());
            continue;
        };
        let set: Set = serde_json::from_str(&text).expect("a set as the head of this file says");
        let problem = problem(&set);
        let mut runs: Vec<_> = (0..seeds).map(|seed| search(&problem, seed, time)).collect();
        runs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let first = runs.iter().map(|r| r.1).fold(f64::INFINITY, f64::min);
        let steps: u64 = runs.iter().map(|r| r.2).sum();
        println!(
            "{name:9}  {first:5.2} ({first_target:4.1})    {:5.2} [{:5.2}..{:5.2}]   {target:5.1}  {:10.2}  {:.0}",
            runs[runs.len() / 2].0,
            runs[0].0,
            runs[runs.len() - 1].0,
            set.best_known_density_percent,
            steps as f64 / (time.as_secs_f64() * seeds as f64)
        );
    }
}
