//! The last look at a layout before it is given out. It asks the true outlines
//! edge by edge and uses nothing the search has worked out.

use super::layout::Spot;
use super::outline::{TOUCH, contains, distance, edges, nudged};
use super::prepared::{Field, Prepared};
use kurbo::Point;

/// Whether all copies lie on the cloth, and no two nearer than the gap.
pub(super) fn holds(prepared: &Prepared, spots: &[Spot]) -> bool {
    let outlines: Vec<Vec<Point>> = spots
        .iter()
        .enumerate()
        .map(|(at, spot)| {
            let way = &prepared.kind(at).ways[spot.way];
            way.outline
                .iter()
                .map(|p| Point::new(p.x + spot.x, p.y + spot.y))
                .collect()
        })
        .collect();
    let pinned = |at: usize| prepared.kind(at).pinned;
    let on_cloth = outlines.iter().enumerate().all(|(at, outline)| match &prepared.field {
        Field::Strip { width } => {
            outline
                .iter()
                .all(|p| p.x >= -TOUCH && p.y >= -TOUCH && p.y <= width + TOUCH)
                && (!pinned(at) || outline.iter().any(|p| p.y.abs() <= TOUCH))
        }
        Field::Remnants(list) => list.iter().any(|r| within(outline, &r.outline)),
    });
    on_cloth
        && (0..outlines.len()).all(|a| (a + 1..outlines.len()).all(|b| apart(&outlines[a], &outlines[b], prepared.gap)))
}

fn within(outline: &[Point], remnant: &[Point]) -> bool {
    let own = nudged(outline, -TOUCH / 2.0);
    let cloth = nudged(remnant, TOUCH / 2.0);
    own.iter().all(|p| contains(&cloth, *p)) && !cross(&own, &cloth)
}

fn apart(a: &[Point], b: &[Point], gap: f64) -> bool {
    let far = |axis: fn(&Point) -> f64| {
        let range = |o: &[Point]| {
            let of = o.iter().map(axis);
            (
                of.clone().fold(f64::INFINITY, f64::min),
                of.fold(f64::NEG_INFINITY, f64::max),
            )
        };
        let (a, b) = (range(a), range(b));
        a.1 + gap <= b.0 || b.1 + gap <= a.0
    };
    if far(|p| p.x) || far(|p| p.y) {
        return true;
    }
    let (small_a, small_b) = (nudged(a, -TOUCH / 2.0), nudged(b, -TOUCH / 2.0));
    if cross(&small_a, &small_b)
        || small_a.iter().any(|p| contains(&small_b, *p))
        || small_b.iter().any(|p| contains(&small_a, *p))
    {
        return false;
    }
    // Apart: then the least distance is between a corner of one and an edge of the other.
    let near = |a: &[Point], b: &[Point]| a.iter().any(|p| edges(b).any(|e| distance(e, *p) < gap - TOUCH));
    gap == 0.0 || !(near(a, b) || near(b, a))
}

fn cross(a: &[Point], b: &[Point]) -> bool {
    let side = |e: (Point, Point), p: Point| (e.1 - e.0).cross(p - e.0) > 0.0;
    edges(a).any(|e| edges(b).any(|f| side(e, f.0) != side(e, f.1) && side(f, e.0) != side(f, e.1)))
}
