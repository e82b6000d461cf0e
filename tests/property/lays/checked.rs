//! The independent checker: it turns the pieces' own outlines by itself and
//! asks a library for what they have in common, by area.

use geo::algorithm::{Area, BooleanOps, Distance, Euclidean};
use geo::{Coord, LineString, Polygon};
use kurbo::{Affine, Point};
use notchbook::drafting::lay::{Cloth, Faces, Layout, Piece, Placement, Problem, Turns};

/// Square millimetres a touch along an edge of some metres may come to, with
/// the library's own rounding.
const TOUCHED: f64 = 0.05;

fn polygon(points: &[Point]) -> Polygon<f64> {
    let ring = points.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
    Polygon::new(LineString::new(ring), Vec::new())
}

fn corners(polygon: &Polygon<f64>) -> Vec<Coord<f64>> {
    polygon.exterior().coords().copied().collect()
}

/// Where the copy lies, from its turn and side alone and one corner.
fn placed(piece: &Piece, placement: &Placement) -> Polygon<f64> {
    let (sin, cos) = placement.turn.to_radians().sin_cos();
    let turn = |p: Point| {
        let y = if placement.mirrored { -p.y } else { p.y };
        Point::new(p.x * cos - y * sin, p.x * sin + y * cos)
    };
    let first = piece.outline[0];
    let there = placement.at * first;
    let moved = there - turn(first);
    let outline: Vec<Point> = piece.outline.iter().map(|p| turn(*p) + moved).collect();
    for (mine, p) in outline.iter().zip(&piece.outline) {
        assert!(
            mine.distance(placement.at * *p) < 1e-6,
            "the map is not what turn and side say"
        );
    }
    assert!(placement.at.determinant().abs() > 0.999_999, "{:?}", Affine::IDENTITY);
    polygon(&outline)
}

/// Panics unless every copy is there once, lies on the cloth, the way it may,
/// and no two have anything in common or are nearer than the gap.
pub fn check(problem: &Problem, layout: &Layout) {
    let folded = matches!(problem.cloth, Cloth::Folded { .. });
    for (at, piece) in problem.pieces.iter().enumerate() {
        let own: Vec<&Placement> = layout.placements.iter().filter(|p| p.piece == at).collect();
        let doubled = folded && !piece.on_fold;
        let wanted = if doubled { piece.count.div_ceil(2) } else { piece.count };
        let mut numbers: Vec<usize> = own.iter().map(|p| p.copy).collect();
        numbers.sort_unstable();
        assert_eq!(numbers, (0..wanted).collect::<Vec<_>>(), "copies of {}", piece.name);
        for placement in &own {
            let allowed: &[f64] = match &piece.turns {
                Turns::OneWay => &[0.0],
                Turns::BothWays => &[0.0, 180.0],
                Turns::Quarters => &[0.0, 90.0, 180.0, 270.0],
                Turns::Angles(list) => list,
            };
            assert!(
                allowed.contains(&placement.turn),
                "{} is turned by {}",
                piece.name,
                placement.turn
            );
        }
        if !folded && piece.faces != Faces::Either {
            let mirrored = own.iter().filter(|p| p.mirrored).count();
            let wanted = if piece.faces == Faces::Pair { piece.count / 2 } else { 0 };
            assert_eq!(mirrored, wanted, "mirrored copies of {}", piece.name);
        }
    }
    let placed: Vec<Polygon<f64>> = layout
        .placements
        .iter()
        .map(|p| placed(&problem.pieces[p.piece], p))
        .collect();
    for (placement, polygon) in layout.placements.iter().zip(&placed) {
        let piece = &problem.pieces[placement.piece];
        match &problem.cloth {
            Cloth::Single { width } => in_strip(polygon, *width, layout.length),
            Cloth::Folded { width } => in_strip(polygon, width / 2.0, layout.length),
            Cloth::Remnants(list) => {
                let beyond = polygon.difference(&self::polygon(&list[placement.remnant]));
                assert!(beyond.unsigned_area() < TOUCHED, "{} leaves its remnant", piece.name);
            }
        }
        if piece.on_fold {
            let low = piece.outline.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
            for (corner, here) in piece.outline.iter().zip(corners(polygon)) {
                assert!(
                    (corner.y > low) || here.y.abs() < 1e-6,
                    "{} is off the fold",
                    piece.name
                );
            }
        }
    }
    for a in 0..placed.len() {
        for b in a + 1..placed.len() {
            if layout.placements[a].remnant != layout.placements[b].remnant {
                continue;
            }
            let common = placed[a].intersection(&placed[b]).unsigned_area();
            assert!(common < TOUCHED, "{a} and {b} have {common} mm2 in common");
            if problem.gap > 0.0 {
                let between = Euclidean.distance(&placed[a], &placed[b]);
                assert!(between > problem.gap - 1e-5, "{between} mm between {a} and {b}");
            }
        }
    }
}

fn in_strip(polygon: &Polygon<f64>, width: f64, length: f64) {
    for c in corners(polygon) {
        assert!(c.x >= -1e-6 && c.x <= length, "{c:?} is beyond the length {length}");
        assert!(c.y >= -1e-6 && c.y <= width + 1e-6, "{c:?} is beyond the width {width}");
    }
}

#[test]
fn the_checker_sees_what_is_wrong() {
    let problem = super::on_bolt(vec![super::piece("square", super::rectangle(100.0, 100.0), 2)], 150.0);
    let good = super::laid(&problem, 1, 2_000);
    let spoilt = |change: &dyn Fn(&mut Layout)| {
        let mut layout = good.clone();
        change(&mut layout);
        std::panic::catch_unwind(|| check(&problem, &layout)).is_err()
    };
    assert!(!spoilt(&|_| ()));
    assert!(spoilt(&|l| l.placements[0].at = l.placements[1].at), "two on one place");
    assert!(
        spoilt(&|l| l.placements[0].at = Affine::translate((0.0, 51.0))),
        "beyond the selvage"
    );
    assert!(spoilt(&|l| l.length -= 1.0), "too short");
    assert!(spoilt(&|l| l.placements[0].turn = 90.0), "turned");
    assert!(spoilt(&|l| l.placements.truncate(1)), "one missing");
}
