//! How close cutting layouts come to the least length there is, on open sets of
//! rectangles whose least length is known: printed, not judged.
//!
//! `NOTCHBOOK_RECTANGLES` names a JSON file, or a folder with `rect_t_n.json`:
//! `{"instances": [{"name", "guillotine", "width", "optimum", "items": [[w, h], ...]}]}`.
//! The sets "T" and "N" of E. Hopper (2000) are CC0 in github.com/ESICUP/datasets,
//! 2d_rectangular/t_n. Every layout is placed again before it counts.
//!
//!     NOTCHBOOK_RECTANGLES=FOLDER cargo bench --bench rectangles

use notchbook::figures::{CutLine, Layout, Purpose, Size, lay_out};
use notchbook::measure::{Length, MM, Unit};
use std::collections::BTreeMap;
use std::time::{Duration, Instant};

#[derive(serde::Deserialize)]
struct File {
    instances: Vec<Instance>,
}

#[derive(serde::Deserialize)]
struct Instance {
    name: String,
    width: i64,
    optimum: i64,
    items: Vec<(i64, i64)>,
}

#[derive(Default)]
struct Class {
    sets: u32,
    pieces: usize,
    above: f64,
    worst: f64,
    slowest: Duration,
}

fn main() {
    let Some(path) = std::env::var_os("NOTCHBOOK_RECTANGLES") else {
        println!("NOTCHBOOK_RECTANGLES is not set: nothing to lay out. See the head of tests/bench/rectangles.rs.");
        return;
    };
    let mut path = std::path::PathBuf::from(path);
    if path.is_dir() {
        path.push("rect_t_n.json");
    }
    let text = std::fs::read_to_string(&path).expect("the file of rectangles cannot be read");
    let file: File = serde_json::from_str(&text).expect("the file of rectangles is not as the head of this one says");
    for turn in [true, false] {
        println!(
            "{}",
            if turn {
                "Pieces may turn:"
            } else {
                "Pieces of fixed direction:"
            }
        );
        println!("class  sets  pieces  mean above optimum  worst  slowest");
        let mut classes: BTreeMap<String, Class> = BTreeMap::new();
        for instance in &file.instances {
            let (length, took) = laid_out(instance, turn);
            let above = length.units() as f64 / (MM * instance.optimum).units() as f64 - 1.0;
            let class = classes.entry(instance.name.chars().take(2).collect()).or_default();
            class.sets += 1;
            class.pieces = class.pieces.max(instance.items.len());
            class.above += above;
            class.worst = class.worst.max(above);
            class.slowest = class.slowest.max(took);
        }
        for (name, class) in classes {
            println!(
                "{name:<5}  {:>4}  {:>6}  {:>16.2} %  {:>4.1} %  {:>5} ms",
                class.sets,
                class.pieces,
                class.above / f64::from(class.sets) * 100.0,
                class.worst * 100.0,
                class.slowest.as_millis()
            );
        }
    }
}

fn laid_out(instance: &Instance, turn: bool) -> (Length, Duration) {
    let line = |(w, h): &(i64, i64)| CutLine {
        purpose: Purpose::PlainPanel,
        pieces: Vec::new(),
        cut: Size {
            width: MM * *w,
            height: MM * *h,
        },
        count: 1,
        may_turn: turn,
        patches: 1,
        strips: None,
    };
    let lines: Vec<CutLine> = instance.items.iter().map(line).collect();
    let began = Instant::now();
    let layout = lay_out(&lines, MM * instance.width, Length::ZERO, Unit::Cm);
    let took = began.elapsed();
    (placed_again(instance, &lines, &layout, turn), took)
}

/// The length the layout takes, worked out from where its pieces lie.
fn placed_again(instance: &Instance, lines: &[CutLine], layout: &Layout, turn: bool) -> Length {
    let mut seen = vec![false; lines.len()];
    let mut rects = Vec::new();
    for placed in layout.sheets.iter().flat_map(|s| &s.strips).flat_map(|s| &s.placed) {
        let (rect, cut) = (placed.rect, lines[placed.line].cut);
        let size = if placed.turned {
            (cut.height, cut.width)
        } else {
            (cut.width, cut.height)
        };
        assert!(turn || !placed.turned, "{}: turned", instance.name);
        assert_eq!((rect.width, rect.height), size, "{}", instance.name);
        assert!(!rect.x.is_negative() && !rect.y.is_negative(), "{}", instance.name);
        assert!(
            rect.x + rect.width <= MM * instance.width,
            "{}: hangs over",
            instance.name
        );
        assert!(
            !std::mem::replace(&mut seen[placed.line], true),
            "{}: twice",
            instance.name
        );
        for other in &rects {
            let notchbook::figures::Rect { x, y, width, height } = *other;
            let apart =
                rect.x >= x + width || x >= rect.x + rect.width || rect.y >= y + height || y >= rect.y + rect.height;
            assert!(apart, "{}: {rect:?} and {other:?} overlap", instance.name);
        }
        rects.push(rect);
    }
    assert!(
        seen.into_iter().all(|seen| seen),
        "{}: a piece is missing",
        instance.name
    );
    rects.iter().map(|r| r.y + r.height).max().unwrap_or(Length::ZERO)
}
