//! Outlines laid on cloth, held against an independent checker and against
//! puzzles whose best layout is known because they were made by cutting it.

mod bounds;
mod checked;
mod jigsaws;
mod kept;
mod leftovers;
mod plans;
mod rules;
mod wild;

use fastrand::Rng;
use kurbo::Point;
use notchbook::drafting::lay::{Cloth, Faces, Layout, Piece, Problem, Search, Turns};

fn piece(name: &str, outline: Vec<Point>, count: usize) -> Piece {
    Piece {
        name: name.into(),
        outline,
        count,
        turns: Turns::BothWays,
        faces: Faces::Alike,
        on_fold: false,
    }
}

fn points(list: &[(f64, f64)]) -> Vec<Point> {
    list.iter().map(|(x, y)| Point::new(*x, *y)).collect()
}

fn rectangle(along: f64, across: f64) -> Vec<Point> {
    points(&[(0.0, 0.0), (along, 0.0), (along, across), (0.0, across)])
}

fn on_bolt(pieces: Vec<Piece>, width: f64) -> Problem {
    Problem {
        pieces,
        cloth: Cloth::Single { width },
        gap: 0.0,
    }
}

/// A shape with a bay and slanted sides, about `size` long, different by seed.
fn garment_part(rng: &mut Rng, size: f64) -> Vec<Point> {
    let mut at = |x: f64, y: f64| Point::new((x + 0.08 * rng.f64()) * size, (y + 0.08 * rng.f64()) * size);
    vec![
        at(0.0, 0.0),
        at(0.9, 0.05),
        at(1.0, 0.25),
        at(0.75, 0.35),
        at(0.8, 0.5),
        at(0.3, 0.62),
        at(0.05, 0.5),
        at(0.2, 0.25),
    ]
}

/// The best layout after so many steps, which is there and passes the checker.
fn laid(problem: &Problem, seed: u64, steps: u64) -> Layout {
    let mut search = Search::new(problem, seed).expect("a problem that can be laid");
    search.step(steps);
    let layout = search.best().expect("a layout").clone();
    checked::check(problem, &layout);
    layout
}
