//! No layout is shorter than what can be worked out without one; more to lay
//! never makes that less.

use super::{garment_part, laid, on_bolt, piece, rectangle};
use fastrand::Rng;
use notchbook::drafting::lay::{Cloth, Faces, Piece, Problem, Search};

fn outline_area(piece: &Piece) -> f64 {
    let n = piece.outline.len();
    let corner = |at: usize| piece.outline[at % n];
    (0..n)
        .map(|at| corner(at).x * corner(at + 1).y - corner(at + 1).x * corner(at).y)
        .sum::<f64>()
        .abs()
        / 2.0
}

fn pieces(rng: &mut Rng) -> Vec<Piece> {
    (0..2 + rng.usize(..2))
        .map(|n| {
            let size = 120.0 + 250.0 * rng.f64();
            let outline = if rng.bool() {
                garment_part(rng, size)
            } else {
                rectangle(size, size * (0.2 + rng.f64()))
            };
            Piece {
                faces: Faces::Pair,
                ..piece(&format!("{n}"), outline, 1 + rng.usize(..3))
            }
        })
        .collect()
}

#[test]
fn no_layout_is_shorter_than_area_longest_piece_or_its_own_bound() {
    let mut rng = Rng::with_seed(11);
    for case in 0..8 {
        let problem = on_bolt(pieces(&mut rng), 480.0);
        let layout = laid(&problem, case, 3_000);
        let area: f64 = problem.pieces.iter().map(|p| outline_area(p) * p.count as f64).sum();
        assert!(layout.length * 480.0 >= area);
        assert!(layout.density <= 1.0);
        assert!((layout.density - area / (480.0 * layout.length)).abs() < 1e-9);
        for p in &problem.pieces {
            let xs = || p.outline.iter().map(|c| c.x);
            let long = xs().fold(f64::NEG_INFINITY, f64::max) - xs().fold(f64::INFINITY, f64::min);
            assert!(layout.length >= long);
        }
        assert!(layout.length >= Search::new(&problem, 0).unwrap().least_length());
    }
}

#[test]
fn more_pieces_wider_gaps_and_narrower_cloth_never_need_provenly_less() {
    let mut rng = Rng::with_seed(12);
    for _ in 0..40 {
        let least = |problem: &Problem| Search::new(problem, 0).unwrap().least_length();
        let problem = on_bolt(pieces(&mut rng), 500.0);
        let mut more = problem.clone();
        more.pieces[0].count += 1;
        assert!(least(&more) >= least(&problem));
        let mut larger = problem.clone();
        larger.pieces[0]
            .outline
            .iter_mut()
            .for_each(|p| *p = (p.to_vec2() * 1.2).to_point());
        assert!(least(&larger) >= least(&problem));
        assert!(least(&on_bolt(problem.pieces.clone(), 450.0)) >= least(&problem));
        assert!(
            least(&Problem {
                gap: 20.0,
                ..problem.clone()
            }) >= least(&problem)
        );
        let folded = Problem {
            cloth: Cloth::Folded { width: 1000.0 },
            ..problem.clone()
        };
        assert!(
            least(&folded) <= least(&problem) + 1e-9,
            "one of each pair on the same width"
        );
    }
}
