//! Grain, nap, pairs, folds and gaps: what the trade asks of a layout.

use super::{checked, garment_part, laid, on_bolt, piece, points, rectangle};
use fastrand::Rng;
use notchbook::drafting::lay::{Cloth, Faces, Piece, Problem, ProblemError, Search, State, Turns};

fn parts(seed: u64) -> Vec<Piece> {
    let mut rng = Rng::with_seed(seed);
    (0..3)
        .map(|n| {
            let size = 150.0 + 200.0 * rng.f64();
            piece(&format!("part {n}"), garment_part(&mut rng, size), 2)
        })
        .collect()
}

#[test]
fn every_layout_passes_the_checker_whatever_the_rules() {
    for seed in 0..6u64 {
        let mut pieces = parts(seed);
        pieces[0].turns = [Turns::OneWay, Turns::BothWays, Turns::Quarters][seed as usize % 3].clone();
        pieces[1].turns = Turns::Angles(vec![0.0, 45.0, 200.0]);
        pieces[1].faces = Faces::Pair;
        pieces[1].count = 3;
        pieces[2].faces = Faces::Either;
        let problem = Problem {
            gap: [0.0, 2.0, 10.0][seed as usize % 3],
            ..on_bolt(pieces, 500.0 + 50.0 * seed as f64)
        };
        laid(&problem, seed, 8_000);
    }
}

#[test]
fn one_way_cloth_turns_nothing() {
    let pieces = parts(7)
        .into_iter()
        .map(|p| Piece {
            turns: Turns::OneWay,
            ..p
        })
        .collect();
    let layout = laid(&on_bolt(pieces, 600.0), 1, 8_000);
    assert!(layout.placements.iter().all(|p| p.turn == 0.0 && !p.mirrored));
}

#[test]
fn doubled_cloth_takes_one_of_each_pair_on_half_the_width() {
    let mut pieces = parts(9);
    for p in &mut pieces {
        p.faces = Faces::Pair;
    }
    pieces[2].count = 3;
    let problem = Problem {
        cloth: Cloth::Folded { width: 1100.0 },
        ..on_bolt(pieces, 0.0)
    };
    let layout = laid(&problem, 1, 8_000);
    // Two pairs of two cuts' worth, and three copies want two cuts.
    assert_eq!(layout.placements.len(), 4);
}

#[test]
fn a_piece_on_the_fold_stays_there_even_turned_end_for_end() {
    // Half a back: its long straight edge on the fold, wider at one end.
    let half = points(&[
        (0.0, 0.0),
        (620.0, 0.0),
        (600.0, 240.0),
        (250.0, 260.0),
        (180.0, 210.0),
        (0.0, 150.0),
    ]);
    let front = Piece {
        on_fold: true,
        ..piece("back", half, 3)
    };
    let sleeve = Piece {
        faces: Faces::Pair,
        ..piece("sleeve", garment_part(&mut Rng::with_seed(3), 400.0), 4)
    };
    let problem = Problem {
        cloth: Cloth::Folded { width: 1000.0 },
        gap: 4.0,
        ..on_bolt(vec![front, sleeve], 0.0)
    };
    let mut search = Search::new(&problem, 5).unwrap();
    // Edges on the fold lie one after the other.
    assert!(search.least_length() >= 3.0 * 620.0);
    search.step(8_000);
    let layout = search.best().unwrap();
    checked::check(&problem, layout);
    for p in layout.placements.iter().filter(|p| p.piece == 0) {
        assert_eq!(
            p.mirrored,
            p.turn == 180.0,
            "turned by half its fold edge would leave the fold"
        );
    }
}

#[test]
fn a_wider_gap_never_lets_pieces_nearer() {
    for gap in [0.5, 3.0, 12.0, 40.0] {
        // Needles, bays and square corners.
        let needle = points(&[(0.0, 0.0), (300.0, 20.0), (0.0, 40.0)]);
        let bay = points(&[
            (0.0, 0.0),
            (200.0, 0.0),
            (200.0, 150.0),
            (120.0, 150.0),
            (120.0, 50.0),
            (80.0, 50.0),
            (80.0, 150.0),
            (0.0, 150.0),
        ]);
        let pieces = vec![
            piece("needle", needle, 3),
            piece("bay", bay, 2),
            piece("square", rectangle(35.0, 90.0), 2),
        ];
        laid(
            &Problem {
                gap,
                ..on_bolt(pieces, 420.0)
            },
            2,
            6_000,
        );
    }
}

#[test]
fn the_same_seed_and_steps_give_the_same_layout() {
    let problem = on_bolt(parts(21), 520.0);
    let once = laid(&problem, 4, 12_000);
    assert_eq!(once, laid(&problem, 4, 12_000));
    // In pieces too: a layout depends on the steps, not on how they were asked for.
    let mut search = Search::new(&problem, 4).unwrap();
    while search.steps() < 12_000 {
        search.step(500);
    }
    assert_eq!(search.best().unwrap().length, once.length);
}

#[test]
fn more_steps_are_never_worse_and_a_layout_of_another_search_helps() {
    let problem = on_bolt(parts(30), 520.0);
    let mut search = Search::new(&problem, 1).unwrap();
    let mut last = search.first().expect("a first layout").length;
    for _ in 0..8 {
        search.step(2_000);
        let now = search.best().unwrap().length;
        assert!(now <= last);
        last = now;
    }
    let mut other = Search::new(&problem, 2).unwrap();
    other.first();
    other.adopt(search.best().unwrap());
    assert!(other.best().unwrap().length <= last);
    // One of another problem is not taken.
    let strange = laid(
        &on_bolt(vec![piece("square", rectangle(10.0, 10.0), 1)], 520.0),
        1,
        1_000,
    );
    let before = other.best().unwrap().length;
    other.adopt(&strange);
    assert_eq!(other.best().unwrap().length, before);
}

#[test]
fn what_cannot_be_meant_is_refused_in_a_sentence() {
    let refused = |problem: Problem| Search::new(&problem, 0).err().expect("refused");
    let square = || piece("Pocket", rectangle(100.0, 100.0), 1);
    let bow = points(&[(0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0)]);
    assert_eq!(refused(on_bolt(vec![], 500.0)), ProblemError::NoPieces);
    assert_eq!(
        refused(on_bolt(vec![piece("Bow", bow, 1)], 500.0)),
        ProblemError::Crosses("Bow".into())
    );
    assert_eq!(refused(on_bolt(vec![square()], f64::NAN)), ProblemError::Width);
    assert_eq!(
        refused(on_bolt(vec![Piece { count: 500, ..square() }], 500.0)),
        ProblemError::TooMany
    );
    assert_eq!(
        refused(Problem {
            gap: -1.0,
            ..on_bolt(vec![square()], 500.0)
        }),
        ProblemError::Gap
    );
    let on_fold = Piece {
        on_fold: true,
        ..square()
    };
    assert_eq!(
        refused(on_bolt(vec![on_fold], 500.0)),
        ProblemError::NoFold("Pocket".into())
    );
    // One hand of a piece with two hands, on doubled cloth.
    let left = piece("Left front", garment_part(&mut Rng::with_seed(1), 300.0), 1);
    let folded = Problem {
        cloth: Cloth::Folded { width: 900.0 },
        ..on_bolt(vec![left.clone()], 0.0)
    };
    assert_eq!(refused(folded), ProblemError::OneHand("Left front".into()));
    // A pocket is its own mirror image.
    let folded = Problem {
        cloth: Cloth::Folded { width: 900.0 },
        ..on_bolt(vec![square()], 0.0)
    };
    assert!(Search::new(&folded, 0).is_ok());
    // Too wide is proven at once.
    let search = Search::new(&on_bolt(vec![piece("Panel", rectangle(100.0, 600.0), 1)], 500.0), 0).unwrap();
    assert_eq!(search.state(), State::Impossible);
    assert!(search.proof().is_some() && search.best().is_none());
}
