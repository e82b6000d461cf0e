//! Leftovers of any outline: what is said to fit lies on them, and what is said
//! not to fit is proven.

use super::{checked, garment_part, piece, points, rectangle};
use fastrand::Rng;
use kurbo::Point;
use notchbook::drafting::lay::{Cloth, Piece, Problem, Proof, Search, State, Turns};

fn on(remnants: Vec<Vec<Point>>, pieces: Vec<Piece>) -> Problem {
    Problem {
        pieces,
        cloth: Cloth::Remnants(remnants),
        gap: 0.0,
    }
}

fn searched(problem: &Problem, steps: u64) -> Search {
    let mut search = Search::new(problem, 1).expect("a problem that can be laid");
    search.step(steps);
    if let Some(layout) = search.best() {
        checked::check(problem, layout);
    }
    search
}

/// An L of 600 x 500 with arms 200 wide.
fn angle() -> Vec<Point> {
    points(&[
        (0.0, 0.0),
        (600.0, 0.0),
        (600.0, 200.0),
        (200.0, 200.0),
        (200.0, 500.0),
        (0.0, 500.0),
    ])
}

#[test]
fn pieces_are_laid_on_several_leftovers() {
    let mut rng = Rng::with_seed(5);
    let pieces = vec![
        Piece {
            turns: Turns::Quarters,
            ..piece("facing", garment_part(&mut rng, 180.0), 3)
        },
        piece("band", rectangle(420.0, 60.0), 2),
    ];
    let triangle = points(&[(0.0, 0.0), (700.0, 0.0), (0.0, 400.0)]);
    let problem = Problem {
        gap: 3.0,
        ..on(vec![angle(), triangle], pieces)
    };
    let search = searched(&problem, 60_000);
    assert_eq!(search.state(), State::Best, "there is plenty of room");
}

#[test]
fn a_piece_that_just_fits_an_arm_is_found_a_place() {
    // 200 wide on an arm 200 wide, both ways of the L.
    let pieces = vec![
        piece("long", rectangle(400.0, 200.0), 1),
        piece("short", rectangle(200.0, 300.0), 1),
    ];
    let search = searched(&on(vec![angle()], pieces), 20_000);
    assert_eq!(search.state(), State::Best);
}

#[test]
fn no_place_is_proven_by_the_outline_itself_where_its_rectangle_would_do() {
    // 210 x 450 lies inside the rectangle round the L, and the L has area enough.
    let problem = |across: f64| {
        on(
            vec![angle()],
            vec![Piece {
                turns: Turns::Quarters,
                ..piece("panel", rectangle(450.0, across), 1)
            }],
        )
    };
    assert_eq!(searched(&problem(200.0), 5_000).state(), State::Best);
    let search = searched(&problem(200.1), 5_000);
    assert_eq!(search.state(), State::Impossible);
    assert_eq!(search.proof(), Some(&Proof::NoPlace { piece: 0 }));
}

/// Squares turned into the corner of a triangle: the largest that has a place
/// in a right triangle of legs a and b, sides along the legs, is a b / (a + b).
#[test]
fn the_proof_agrees_with_the_largest_square_in_a_triangle() {
    for (a, b) in [(300.0, 400.0), (500.0, 250.0), (330.0, 330.0)] {
        let triangle = points(&[(0.0, 0.0), (a, 0.0), (0.0, b)]);
        let side = a * b / (a + b);
        for (factor, fits) in [(0.9999, true), (1.0001, false)] {
            let square = piece("square", rectangle(side * factor, side * factor), 1);
            let search = searched(&on(vec![triangle.clone()], vec![square]), 3_000);
            assert_eq!(search.state() == State::Best, fits, "{a} x {b} and {factor}");
            assert_eq!(search.state() == State::Impossible, !fits, "{a} x {b} and {factor}");
        }
    }
}

/// Whatever was made by drawing a piece in from the leftover itself has a place
/// there; a proof of the contrary would be a lie.
#[test]
fn nothing_that_has_a_place_is_proven_not_to() {
    let mut rng = Rng::with_seed(77);
    for case in 0..25 {
        let remnant = garment_part(&mut rng, 500.0);
        // The leftover itself, shrunk towards a corner from which all of it is
        // seen, by nothing at all up to a tenth.
        let shrink = if case % 5 == 0 { 1.0 } else { 1.0 - 0.1 * rng.f64() };
        let from = remnant[1].lerp(remnant[6], 0.5);
        let own: Vec<Point> = remnant.iter().map(|p| from.lerp(*p, shrink)).collect();
        let problem = on(
            vec![remnant],
            vec![Piece {
                turns: Turns::OneWay,
                ..piece("part", own, 1)
            }],
        );
        let search = searched(&problem, 10_000);
        assert_ne!(search.state(), State::Impossible, "case {case}: {:?}", search.proof());
    }
}

#[test]
fn too_much_area_for_where_the_pieces_have_places_is_proven() {
    // The large leftover is too narrow for the panels; the small one holds two of three.
    let narrow = rectangle(2000.0, 100.0);
    let small = rectangle(420.0, 210.0);
    let panels = |count| {
        vec![
            piece("panel", rectangle(200.0, 200.0), count),
            piece("tie", rectangle(800.0, 50.0), 2),
        ]
    };
    assert_eq!(
        searched(&on(vec![narrow.clone(), small.clone()], panels(2)), 20_000).state(),
        State::Best
    );
    let search = searched(&on(vec![narrow, small], panels(3)), 20_000);
    assert_eq!(search.state(), State::Impossible);
    let Some(Proof::Area {
        pieces,
        remnants,
        needed,
        there,
    }) = search.proof()
    else {
        panic!("{:?}", search.proof())
    };
    assert_eq!(
        (pieces.as_slice(), remnants.as_slice()),
        ([0].as_slice(), [1].as_slice())
    );
    assert!(needed > there);
}

#[test]
fn what_is_neither_found_nor_disproven_is_left_open() {
    // Two squares of 150 have area enough on a 320 x 280 leftover with a bite
    // taken out of its middle, and each has a place alone; both have none.
    let bitten = points(&[
        (0.0, 0.0),
        (320.0, 0.0),
        (320.0, 160.0),
        (165.0, 160.0),
        (165.0, 170.0),
        (150.0, 170.0),
        (150.0, 260.0),
        (0.0, 260.0),
    ]);
    let problem = on(
        vec![bitten],
        vec![
            piece("square", rectangle(158.0, 158.0), 2),
            piece("tab", rectangle(30.0, 120.0), 2),
        ],
    );
    let search = searched(&problem, 20_000);
    assert_eq!(search.state(), State::Looking);
    assert!(search.best().is_none() && search.proof().is_none());
}
