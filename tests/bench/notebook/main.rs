//! How fast a large notebook answers. Prints, never judges:
//! `cargo bench --bench notebook`.
//!
//! A made-up notebook of 1,000 projects, 50,000 entries and 20,000 photo
//! records is served by the program itself. Beside it runs a bare program of
//! the same libraries (actix-web and rusqlite) that answers every request with
//! one prepared SELECT and as many bytes: what a page costs is printed as a
//! ratio to that, both asked in turns within one run. Then the start, memory,
//! search at its slowest, and a photo's sizes against libvips' command line
//! (`libvips-tools`), where that is installed.
//!
//! `NOTCHBOOK_BENCH_FOLDER` keeps the notebook there for the next run. Words
//! after `--` choose what is asked: `cargo bench --bench notebook -- shared`.

mod bare;
#[path = "../../support/dice.rs"]
mod dice;
mod load;
mod made;
mod photo;
mod served;

use load::{Asked, latencies, rate};
use served::Served;
use std::time::Instant;

/// How often each side is asked, in turns.
const ROUNDS: usize = 5;

fn main() {
    let words: Vec<String> = std::env::args().collect();
    if let [_, flag, bytes] = words.as_slice()
        && flag == "--bare"
    {
        return bare::serve(bytes.parse().expect("a number of bytes"));
    }
    let chosen: Vec<&str> = words[1..]
        .iter()
        .map(String::as_str)
        .filter(|w| !w.starts_with('-'))
        .collect();
    let is_chosen = |name: &str| chosen.is_empty() || chosen.iter().any(|part| name.contains(part));
    let place = tempfile::tempdir().expect("a temporary folder");
    let folder = std::env::var_os("NOTCHBOOK_BENCH_FOLDER").map_or_else(|| place.path().join("notebook"), Into::into);
    let begun = Instant::now();
    let made = made::notebook(&folder);
    println!(
        "A notebook of {} projects, {} entries and {} photo records ({:.0} s to take in).",
        made.projects,
        made.entries,
        made.photos,
        begun.elapsed().as_secs_f64()
    );

    println!("\nStart, from nothing to the first page whole");
    for path in ["/", &made.project] {
        if !is_chosen("start") {
            continue;
        }
        let times: Vec<f64> = (0..5)
            .map(|_| {
                let begun = Instant::now();
                let server = Served::notebook(&folder);
                load::get(&server.address, path);
                begun.elapsed().as_secs_f64()
            })
            .collect();
        println!("  {:40} {:8.3} s (middle of five)", said(path), middle(times));
    }

    let server = Served::notebook(&folder);
    load::get(&server.address, "/");
    println!("\nMemory idle after the first page {:8.1} MB", server.memory("VmRSS"));
    let share = made::share(&server.address, &made.project);

    println!("\nRequests a second, ours and the bare program's, and their ratio (middle of {ROUNDS} turns)");
    for (name, asked) in [
        ("project page", Asked::get(&made.project)),
        ("project page, compressed", Asked::compressed(&made.project)),
        ("project page, made anew", Asked::anew(&made.project)),
        ("figures", Asked::get(&format!("{}/figures", made.project))),
        ("figures, made anew", Asked::anew(&format!("{}/figures", made.project))),
        ("log", Asked::get(&format!("{}/log", made.project))),
        ("log, made anew", Asked::anew(&format!("{}/log", made.project))),
        ("home", Asked::get("/")),
        ("home, made anew", Asked::anew("/")),
        ("search", Asked::get("/search?q=binding")),
        ("shared list", Asked::shared(&share)),
        (
            "shared list, known to the viewer",
            Asked::known(&server.address, &share),
        ),
        ("a save of the plan", Asked::save(&server.address, &made.project)),
    ] {
        if !is_chosen(name) {
            continue;
        }
        let bytes = asked.once(&server.address);
        let bare = Served::bare(bytes);
        let (mut ours, mut theirs, mut ratios) = (Vec::new(), Vec::new(), Vec::new());
        for _ in 0..ROUNDS {
            let (a, b) = (rate(&server.address, &asked), rate(&bare.address, &asked.bare()));
            ours.push(a);
            theirs.push(b);
            ratios.push(a / b);
        }
        println!(
            "  {name:34} {bytes:9} bytes {:9.0} {:9.0}   {:6.3}",
            middle(ours),
            middle(theirs),
            middle(ratios)
        );
    }
    println!(
        "\nMemory under that load {:8.1} MB, at most {:8.1} MB",
        server.memory("VmRSS"),
        server.memory("VmHWM")
    );

    for (kind, questions) in [
        ("words that are in a third of the log", &made.common),
        ("words as in a language", &made.questions),
    ] {
        if !is_chosen("questions") {
            continue;
        }
        let mut times = latencies(&server.address, questions);
        times.sort_by(f64::total_cmp);
        let at = |part: f64| times[((times.len() - 1) as f64 * part) as usize] * 1_000.0;
        println!(
            "\nSearch, {} different questions of {kind}: half within {:.1} ms, 99 of 100 within {:.1} ms, all within {:.1} ms",
            times.len(),
            at(0.5),
            at(0.99),
            at(1.0)
        );
    }
    drop(server);
    if is_chosen("photo") {
        photo::print(place.path());
    }
}

fn said(path: &str) -> &str {
    match path {
        "/" => "home",
        _ => "a project's page",
    }
}

fn middle(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
