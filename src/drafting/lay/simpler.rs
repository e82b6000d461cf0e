//! Outlines with fewer corners for the search: curves come as hundreds of
//! chords, and every pair of pieces is asked for its edges again and again.

use super::outline::{crosses_itself, distance};
use kurbo::Point;

/// Outlines of no more corners are left as they are.
const FEW: usize = 24;
/// How far, in millimetres, the simpler outline may go beyond the true one.
const BEYOND: f64 = 0.5;

/// An outline round the given one, nowhere further from it than [`BEYOND`]:
/// what is apart by it is apart by the true one. Positive order round.
pub(super) fn simpler(outline: &[Point]) -> Vec<Point> {
    if outline.len() <= FEW {
        return outline.to_vec();
    }
    // Each corner with how far it may be from the true outline by now.
    let mut corners: Vec<(Point, f64)> = outline.iter().map(|p| (*p, 0.0)).collect();
    while corners.len() > FEW {
        let steps = (0..corners.len()).filter_map(|at| step(&corners, at).map(|(off, corner)| (off, at, corner)));
        let Some((off, at, corner)) = steps.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            break;
        };
        if off > BEYOND {
            break;
        }
        let next = (at + 1) % corners.len();
        match corner {
            // An edge goes, its neighbours run on until they meet.
            Some(corner) => {
                corners[at] = (corner, off);
                corners.remove(next);
            }
            // A corner of a bay goes, its neighbours are joined.
            None => {
                let before = (at + corners.len() - 1) % corners.len();
                corners[before].1 = corners[before].1.max(off);
                corners[next].1 = corners[next].1.max(off);
                corners.remove(at);
            }
        }
    }
    let simple: Vec<Point> = corners.into_iter().map(|(p, _)| p).collect();
    // Two sides of a needle may have been led across each other.
    if crosses_itself(&simple) {
        outline.to_vec()
    } else {
        simple
    }
}

/// The corner taken away, or the edge that begins there: how far off that
/// leads, and the corner that comes in place of an edge.
fn step(corners: &[(Point, f64)], at: usize) -> Option<(f64, Option<Point>)> {
    let count = corners.len();
    let (before, off_before) = corners[(at + count - 1) % count];
    let (here, off_here) = corners[at];
    let (next, off_next) = corners[(at + 1) % count];
    let (after, _) = corners[(at + 2) % count];
    let (into, along, out) = (here - before, next - here, after - next);
    if into.cross(along) <= 0.0 {
        let off = distance((before, next), here) + off_here.max(off_before).max(off_next);
        return Some((off, None));
    }
    let turn = into.cross(out);
    if along.cross(out) <= 0.0 || turn <= 1e-9 * into.hypot() * out.hypot() {
        return None;
    }
    let corner = here + into * (along.cross(out) / turn);
    let off = distance((here, next), corner) + off_here.max(off_next);
    Some((off, Some(corner)))
}

#[cfg(test)]
mod tests {
    use super::super::outline::{area, contains, edges};
    use super::*;

    /// A kidney of many chords: it bends both ways.
    fn kidney(count: usize) -> Vec<Point> {
        (0..count)
            .map(|n| {
                let a = n as f64 / count as f64 * std::f64::consts::TAU;
                let r = 180.0 + 60.0 * (2.0 * a).cos();
                Point::new(r * a.cos(), r * a.sin())
            })
            .collect()
    }

    #[test]
    fn fewer_corners_all_round_the_true_outline_and_near_it() {
        let true_one = kidney(300);
        let simple = simpler(&true_one);
        assert!(simple.len() < 120, "{} corners", simple.len());
        assert!(area(&simple) >= area(&true_one));
        for (a, b) in edges(&true_one) {
            for t in [0.0, 0.5] {
                let p = a.lerp(b, t);
                let edge = edges(&simple).map(|e| distance(e, p)).fold(f64::INFINITY, f64::min);
                assert!(contains(&simple, p) || edge < 1e-9, "{p:?} is outside");
            }
        }
        for p in &simple {
            let edge = edges(&true_one).map(|e| distance(e, *p)).fold(f64::INFINITY, f64::min);
            assert!(edge <= BEYOND + 1e-9, "{edge} mm beyond");
        }
    }

    #[test]
    fn few_corners_are_left_alone() {
        let plain = kidney(20);
        assert_eq!(simpler(&plain), plain);
    }
}
