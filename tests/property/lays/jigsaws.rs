//! Puzzles made by cutting a piece of cloth of known length: a layout of that
//! length is known to be there, and none can be shorter.

use super::{checked, laid, on_bolt, piece};
use fastrand::Rng;
use kurbo::Point;
use notchbook::drafting::lay::{Cloth, Faces, Piece, Problem, Search, State, Turns};

/// A cloth of these measures cut into columns and rows by broken lines, every
/// piece drawn in by `inset` on all sides, so that neighbours are twice that
/// apart. Pieces begin at their own origin: nothing tells where they came from.
fn cut_up(rng: &mut Rng, length: f64, width: f64, columns: usize, rows: usize, inset: f64) -> Vec<Piece> {
    let (step_x, step_y) = (length / columns as f64, width / rows as f64);
    // Corners of the grid and the middles of its lines, moved a little unless on the edge.
    let mut grid = vec![vec![Point::ORIGIN; 2 * rows + 1]; 2 * columns + 1];
    for (i, column) in grid.iter_mut().enumerate() {
        for (j, point) in column.iter_mut().enumerate() {
            let mut off = |edge: bool, step: f64| if edge { 0.0 } else { (rng.f64() - 0.5) * 0.3 * step };
            *point = Point::new(
                i as f64 * step_x / 2.0 + off(i == 0 || i == 2 * columns, step_x),
                j as f64 * step_y / 2.0 + off(j == 0 || j == 2 * rows, step_y),
            );
        }
    }
    let mut pieces = Vec::new();
    for i in (0..2 * columns).step_by(2) {
        for j in (0..2 * rows).step_by(2) {
            let round = [(0, 0), (1, 0), (2, 0), (2, 1), (2, 2), (1, 2), (0, 2), (0, 1)];
            let outline: Vec<Point> = round.iter().map(|(di, dj)| grid[i + di][j + dj]).collect();
            let outline = if inset > 0.0 {
                drawn_in(&outline, inset)
            } else {
                outline
            };
            let from = outline[0].to_vec2();
            let outline = outline.into_iter().map(|p| p - from).collect();
            let name = format!("{i}, {j}");
            pieces.push(Piece {
                turns: Turns::OneWay,
                ..piece(&name, outline, 1)
            });
        }
    }
    rng.shuffle(&mut pieces);
    pieces
}

/// Every edge moved inward by this much; the corners where they meet again.
fn drawn_in(outline: &[Point], by: f64) -> Vec<Point> {
    let count = outline.len();
    (0..count)
        .map(|at| {
            let (a, b, c) = (
                outline[(at + count - 1) % count],
                outline[at],
                outline[(at + 1) % count],
            );
            let inward = |from: Point, to: Point| {
                let along = to - from;
                kurbo::Vec2::new(-along.y, along.x) / along.hypot()
            };
            let (n, m) = (inward(a, b), inward(b, c));
            b + (n + m) * (by / (1.0 + n.dot(m)))
        })
        .collect()
}

#[test]
fn a_cut_up_cloth_goes_back_into_five_hundredths_more() {
    for seed in 0..4 {
        let mut rng = Rng::with_seed(seed);
        let pieces = cut_up(&mut rng, 1000.0, 700.0, 2, 2, 0.0);
        let problem = on_bolt(pieces, 735.0);
        let mut search = Search::new(&problem, seed).unwrap();
        while search.best().is_none_or(|l| l.length > 1050.0) && search.steps() < 400_000 {
            search.step(2_000);
        }
        let layout = search.best().expect("a layout");
        checked::check(&problem, layout);
        assert!(layout.length <= 1050.0, "seed {seed}: {} mm of 1000", layout.length);
        assert!(
            layout.length * 735.0 >= 700_000.0,
            "shorter than its own area: {}",
            layout.length
        );
    }
}

#[test]
fn the_gap_of_a_cut_up_cloth_is_kept() {
    for seed in 0..3 {
        let mut rng = Rng::with_seed(seed + 50);
        // Pieces drawn in by 3 mm: they lie 6 mm apart in a layout of this length.
        let pieces = cut_up(&mut rng, 900.0, 600.0, 3, 2, 3.0);
        let problem = Problem {
            gap: 6.0,
            ..on_bolt(pieces, 600.0)
        };
        let layout = laid(&problem, seed, 30_000);
        let without = Problem {
            gap: 0.0,
            ..problem.clone()
        };
        assert!(Search::new(&without, seed).unwrap().least_length() <= layout.length);
    }
}

#[test]
fn a_cut_up_remnant_goes_back_into_a_little_more_and_not_into_less() {
    for seed in 0..3 {
        let mut rng = Rng::with_seed(seed + 100);
        let pieces = cut_up(&mut rng, 800.0, 600.0, 2, 2, 0.0);
        let on = |factor: f64| Problem {
            pieces: pieces.clone(),
            cloth: Cloth::Remnants(vec![super::rectangle(800.0 * factor, 600.0 * factor)]),
            gap: 0.0,
        };
        let larger = on(1.05);
        let mut search = Search::new(&larger, seed).unwrap();
        while search.state() == State::Looking && search.steps() < 400_000 {
            search.step(2_000);
        }
        checked::check(&larger, search.best().expect("a layout on 5 % more"));
        let mut search = Search::new(&on(0.98), seed).unwrap();
        search.step(100_000);
        assert_eq!(search.state(), State::Impossible, "more area than the remnant has");
        assert!(search.best().is_none());
    }
}

/// A puzzle of convex pieces put back by hand: the check lets pieces touch all
/// along their edges, so a layout without any waste is a layout.
#[test]
fn strips_of_a_whole_width_fill_it_without_waste() {
    // 3 x 500 = 1500 across, 2 x 400 along; and two triangles that make a rectangle.
    let triangle = super::points(&[(0.0, 0.0), (400.0, 0.0), (0.0, 500.0)]);
    let pieces = vec![
        piece("square", super::rectangle(400.0, 500.0), 5),
        Piece {
            faces: Faces::Alike,
            ..piece("half of one", triangle, 2)
        },
    ];
    let problem = on_bolt(pieces, 1500.0);
    let layout = laid(&problem, 3, 20_000);
    assert!((layout.length - 800.0).abs() < 1e-3, "{}", layout.length);
    let mut search = Search::new(&problem, 3).unwrap();
    search.step(20_000);
    assert_eq!(search.state(), State::Best, "nothing can be shorter, and it says so");
}
