//! How long a whole plan takes to work out. Prints, never judges:
//! `cargo bench --bench speed`.
//!
//! A garment of 12 pieces, 6 cloths and about 2,000 patches in one call, as a
//! ratio to writing the same plan as JSON; then plans of 100 to 10,000 patches,
//! their times as ratios to n log n of the first.

use notchbook::figures::{Figures, problems, time::work_amounts, work_out};
use notchbook::measure::{INCH, Length};
use notchbook::plan::{
    Arrangement, Binding, BindingCut, Cloth, ClothKind, Edge, Face, Fold, Layers, Patchwork, Piece, Plan, Unit,
    UnitKind,
};
use std::hint::black_box;
use std::time::{Duration, Instant};

const PIECES: usize = 12;
const CLOTHS: usize = 6;

fn cloth(n: usize) -> Cloth {
    let (kind, width) = match n {
        4 => (ClothKind::Batting, 90),
        5 => (ClothKind::Cloth, 108),
        _ => (ClothKind::Cloth, 42),
    };
    Cloth {
        id: format!("c{n}"),
        name: format!("Cloth {n}"),
        kind,
        usable_width: INCH * width,
        ..Cloth::default()
    }
}

/// Units of four kinds in turn, each of two of the four cloths of the face.
fn unit(n: usize) -> Unit {
    let cloths = [n % 4, (n + 1) % 4].map(|c| format!("c{c}"));
    match n % 4 {
        0 => Unit::new(UnitKind::HalfSquareTriangle, cloths.to_vec()),
        1 => Unit::new(UnitKind::Square, cloths[..1].to_vec()),
        2 => Unit::new(UnitKind::QuarterSquareTriangle, [&cloths[..], &cloths[..]].concat()),
        _ => Unit::new(UnitKind::Rail, [&cloths[..], &cloths[..1]].concat()),
    }
}

/// `columns` × `rows` units in each piece, sizes and units differing from piece to piece.
fn garment(columns: i64, rows: i64) -> Plan {
    let piece = |n: usize| {
        let finished = INCH * (2 + n as i64 % 3) + Length::inches_frac(n as i64 % 2, 2);
        Piece {
            id: format!("p{n}"),
            name: format!("Piece {n}"),
            cut_count: 2,
            mirrored: n.is_multiple_of(2),
            width: finished * columns - INCH,
            height: finished * rows - INCH,
            face: Some(Face::Patchwork(Patchwork {
                finished,
                arrangement: Arrangement::Alternating,
                units: vec![unit(n), unit(n + 1)],
                ..Patchwork::default()
            })),
            layers: Some(Layers {
                batting: Some("c4".into()),
                backing: Some("c5".into()),
                quilting: None,
            }),
            ..Piece::default()
        }
    };
    let edge = |n: usize| Edge {
        id: format!("e{n}"),
        name: format!("Edge {n}"),
        length: INCH * (20 + 7 * n as i64),
        count: 1 + n as u32 % 2,
        corners: n as u32 % 3,
        closed: n.is_multiple_of(2),
        from: None,
    };
    Plan {
        cloths: (0..CLOTHS).map(cloth).collect(),
        pieces: (0..PIECES).map(piece).collect(),
        edges: (0..6).map(edge).collect(),
        binding: Some(Binding {
            cloth: "c0".into(),
            fold: Fold::Double,
            cut: BindingCut::BiasStrips,
            finished_width: INCH.scale_up(3, 8),
            thickness: Length::ZERO,
            from_remnants: false,
        }),
        ..Plan::default()
    }
}

/// The quickest of several runs: what disturbs a run only makes it longer.
fn quickest<T>(mut work: impl FnMut() -> T) -> Duration {
    let begun = Instant::now();
    let mut best = Duration::MAX;
    for run in 0..25 {
        let start = Instant::now();
        black_box(work());
        best = best.min(start.elapsed());
        if run >= 2 && begun.elapsed() > Duration::from_secs(8) {
            break;
        }
    }
    best
}

fn rectangles(figures: &Figures) -> i64 {
    figures.cloths.iter().flat_map(|c| &c.cuts).map(|l| l.count).sum()
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1_000.0
}

fn main() {
    let plan = garment(5, 9);
    let figures = work_out(&plan);
    println!(
        "A garment of {} pieces ({} panels), {} cloths, {} patches from {} rectangles, {} problems:",
        plan.pieces.len(),
        figures.totals.panels,
        plan.cloths.len(),
        figures.totals.patches,
        rectangles(&figures),
        figures.problems.len()
    );
    let json = quickest(|| plan.to_json());
    let whole = quickest(|| work_out(&plan));
    for (what, time) in [
        ("the plan as JSON", json),
        ("every figure, cloth laid out", whole),
        ("problems alone, nothing laid out", quickest(|| problems(&plan))),
        ("amounts of work alone", quickest(|| work_amounts(&plan))),
        ("the figures as JSON", quickest(|| serde_json::to_string(&figures).ok())),
    ] {
        let ratio = time.as_secs_f64() / json.as_secs_f64();
        println!("  {what:34} {:9.3} ms {ratio:9.1} times the plan's JSON", ms(time));
    }
    println!("\n  patches  rectangles        ms   to n log n of the first   each patch, µs   without layouts, ms");
    let mut first: Option<f64> = None;
    for (columns, rows) in [(2, 2), (3, 3), (4, 5), (5, 9), (8, 12), (12, 16), (14, 20)] {
        let plan = garment(columns, rows);
        let figures = work_out(&plan);
        let patches = figures.totals.patches;
        let time = quickest(|| work_out(&plan)).as_secs_f64();
        let n = patches as f64;
        let per = time / (n * n.ln());
        let base = *first.get_or_insert(per);
        println!(
            "  {patches:7}  {:10}  {:8.2}  {:24.2}  {:15.2}  {:20.3}",
            rectangles(&figures),
            time * 1_000.0,
            per / base,
            time * 1e6 / n,
            ms(quickest(|| problems(&plan)))
        );
    }
}
