//! The last look at a layout before it is given out, and the look at one that
//! was kept. It asks the true outlines edge by edge and uses nothing the search
//! has worked out.

use super::layout::Spot;
use super::outline::{TOUCH, bounds, contains, distance, edges, nudged};
use super::prepared::{Field, Prepared};
use kurbo::{Point, Rect};

/// What is in the way: positions in the list of outlines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Offence {
    OffCloth(usize),
    Meet(usize, usize),
}

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
    let on_cloth = |at: usize, outline: &[Point]| match &prepared.field {
        Field::Strip { width } => on_strip(outline, *width, prepared.kind(at).pinned, TOUCH),
        Field::Remnants(list) => list.iter().any(|r| within(outline, &r.outline, TOUCH)),
    };
    offence(&outlines, on_cloth, |_, _| true, prepared.gap, TOUCH).is_none()
}

/// The first thing that is wrong. Only those that `share` a cloth can meet.
pub(super) fn offence(
    outlines: &[Vec<Point>],
    on_cloth: impl Fn(usize, &[Point]) -> bool,
    share: impl Fn(usize, usize) -> bool,
    gap: f64,
    touch: f64,
) -> Option<Offence> {
    for (at, outline) in outlines.iter().enumerate() {
        if !on_cloth(at, outline) {
            return Some(Offence::OffCloth(at));
        }
    }
    for a in 0..outlines.len() {
        for b in a + 1..outlines.len() {
            if share(a, b) && !apart(&outlines[a], &outlines[b], gap, touch) {
                return Some(Offence::Meet(a, b));
            }
        }
    }
    None
}

/// Between the edges of a strip as long as it takes; a piece on the fold at it.
pub(super) fn on_strip(outline: &[Point], width: f64, pinned: bool, touch: f64) -> bool {
    outline
        .iter()
        .all(|p| p.x >= -touch && p.y >= -touch && p.y <= width + touch)
        && (!pinned || outline.iter().any(|p| p.y.abs() <= touch))
}

pub(super) fn within(outline: &[Point], remnant: &[Point], touch: f64) -> bool {
    let own = nudged(outline, -touch / 2.0);
    let cloth = nudged(remnant, touch / 2.0);
    let everywhere = Rect::new(f64::NEG_INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::INFINITY);
    own.iter().all(|p| contains(&cloth, *p)) && !cross(&own, &cloth, everywhere)
}

fn apart(a: &[Point], b: &[Point], gap: f64, touch: f64) -> bool {
    let (round_a, round_b) = (bounds(a), bounds(b));
    let far = |a: (f64, f64), b: (f64, f64)| a.1 + gap <= b.0 || b.1 + gap <= a.0;
    if far((round_a.x0, round_a.x1), (round_b.x0, round_b.x1))
        || far((round_a.y0, round_a.y1), (round_b.y0, round_b.y1))
    {
        return true;
    }
    // What is asked of an edge or a corner can only be so where both outlines reach.
    let shared = round_a
        .inflate(gap, gap)
        .intersect(round_b.inflate(gap, gap))
        .inflate(touch, touch);
    let (small_a, small_b) = (nudged(a, -touch / 2.0), nudged(b, -touch / 2.0));
    if cross(&small_a, &small_b, shared)
        || small_a.iter().any(|p| shared.contains(*p) && contains(&small_b, *p))
        || small_b.iter().any(|p| shared.contains(*p) && contains(&small_a, *p))
    {
        return false;
    }
    // Apart: then the least distance is between a corner of one and an edge of the other.
    let near = |a: &[Point], b: &[Point]| {
        a.iter()
            .filter(|p| shared.contains(**p))
            .any(|p| edges(b).any(|e| reaches(e, shared) && distance(e, *p) < gap - touch))
    };
    gap == 0.0 || !(near(a, b) || near(b, a))
}

/// Whether the rectangle round an edge meets this one.
fn reaches(e: (Point, Point), part: Rect) -> bool {
    e.0.x.min(e.1.x) <= part.x1
        && e.0.x.max(e.1.x) >= part.x0
        && e.0.y.min(e.1.y) <= part.y1
        && e.0.y.max(e.1.y) >= part.y0
}

fn cross(a: &[Point], b: &[Point], part: Rect) -> bool {
    let side = |e: (Point, Point), p: Point| (e.1 - e.0).cross(p - e.0) > 0.0;
    let there: Vec<(Point, Point)> = edges(b).filter(|f| reaches(*f, part)).collect();
    edges(a).filter(|e| reaches(*e, part)).any(|e| {
        there
            .iter()
            .any(|f| side(e, f.0) != side(e, f.1) && side(*f, e.0) != side(*f, e.1))
    })
}
