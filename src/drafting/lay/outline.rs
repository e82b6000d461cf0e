//! Closed outlines of straight edges: area, order round, whether one crosses
//! itself, a point inside, and the outline grown by half a gap.

use geo::algorithm::unary_union;
use geo::{Area, BooleanOps, Coord, LineString, Polygon};
use kurbo::{Point, Rect, Vec2};

/// Two outlines count as apart when they reach into each other by no more than
/// this, in millimetres: what touches exactly must be allowed to lie there.
pub const TOUCH: f64 = 1e-6;

/// Twice the signed area, positive for the order round that turns from x to y.
fn doubled_area(points: &[Point]) -> f64 {
    // Measured from the first corner: far from the origin the products would
    // lose the digits that matter.
    let Some(first) = points.first() else { return 0.0 };
    let mut sum = 0.0;
    for (a, b) in edges(points) {
        sum += (a - *first).cross(b - *first);
    }
    sum
}

pub(super) fn area(points: &[Point]) -> f64 {
    doubled_area(points).abs() / 2.0
}

pub(super) fn edges(points: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    (0..points.len()).map(|at| (points[at], points[(at + 1) % points.len()]))
}

pub(super) fn bounds(points: &[Point]) -> Rect {
    let mut rect = Rect::new(f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
    for p in points {
        rect.x0 = rect.x0.min(p.x);
        rect.y0 = rect.y0.min(p.y);
        rect.x1 = rect.x1.max(p.x);
        rect.y1 = rect.y1.max(p.y);
    }
    rect
}

/// The outline in the one order round, without corners that lie on each other
/// or on the line between their neighbours.
pub(super) fn tidied(points: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(points.len());
    for p in points {
        if kept.last().is_none_or(|last| last.distance(*p) > TOUCH) {
            kept.push(*p);
        }
    }
    while kept.len() > 1 && kept[0].distance(kept[kept.len() - 1]) <= TOUCH {
        kept.pop();
    }
    // A corner on the straight line between its neighbours bounds nothing. A
    // spike turns back on itself and is kept, to be refused as crossing itself.
    let mut at = 0;
    while kept.len() > 3 && at < kept.len() {
        let count = kept.len();
        let (before, here, after) = (kept[(at + count - 1) % count], kept[at], kept[(at + 1) % count]);
        let (to, from) = (here - before, after - here);
        if to.cross(from).abs() <= 1e-9 * to.hypot() * from.hypot() && to.dot(from) > 0.0 {
            kept.remove(at);
        } else {
            at += 1;
        }
    }
    if doubled_area(&kept) < 0.0 {
        kept.reverse();
    }
    kept
}

/// Which side of the line through `a` and `b` the point is on.
fn side(a: Point, b: Point, p: Point) -> f64 {
    (b - a).cross(p - a)
}

/// Whether two edges have a point in common.
fn meet(a: (Point, Point), b: (Point, Point)) -> bool {
    let within = |e: (Point, Point), p: Point| {
        p.x >= e.0.x.min(e.1.x) && p.x <= e.0.x.max(e.1.x) && p.y >= e.0.y.min(e.1.y) && p.y <= e.0.y.max(e.1.y)
    };
    let (a0, a1) = (side(b.0, b.1, a.0), side(b.0, b.1, a.1));
    let (b0, b1) = (side(a.0, a.1, b.0), side(a.0, a.1, b.1));
    if a0 * a1 < 0.0 && b0 * b1 < 0.0 {
        return true;
    }
    (a0 == 0.0 && within(b, a.0))
        || (a1 == 0.0 && within(b, a.1))
        || (b0 == 0.0 && within(a, b.0))
        || (b1 == 0.0 && within(a, b.1))
}

/// Whether any two edges that are not neighbours meet, or two neighbours lie
/// on each other.
pub(super) fn crosses_itself(points: &[Point]) -> bool {
    let count = points.len();
    let all: Vec<_> = edges(points).collect();
    for i in 0..count {
        for j in i + 1..count {
            if j == i + 1 || (i == 0 && j == count - 1) {
                let (first, second) = if j == i + 1 { (all[i], all[j]) } else { (all[j], all[i]) };
                let (to, from) = (first.1 - first.0, second.1 - second.0);
                if to.cross(from).abs() <= 1e-9 * to.hypot() * from.hypot() && to.dot(from) < 0.0 {
                    return true;
                }
            } else if meet(all[i], all[j]) {
                return true;
            }
        }
    }
    false
}

pub(super) fn contains(points: &[Point], p: Point) -> bool {
    let mut inside = false;
    for (a, b) in edges(points) {
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}

/// Distance of a point from an edge.
pub(super) fn distance(edge: (Point, Point), p: Point) -> f64 {
    let (along, to) = (edge.1 - edge.0, p - edge.0);
    let length = along.hypot2();
    let t = if length > 0.0 {
        (to.dot(along) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (to - along * t).hypot()
}

/// The same outline with every edge moved outward by `by`, inward if negative;
/// for amounts so small that no edge can vanish.
pub(super) fn nudged(points: &[Point], by: f64) -> Vec<Point> {
    let count = points.len();
    (0..count)
        .map(|at| {
            let (before, here, after) = (points[(at + count - 1) % count], points[at], points[(at + 1) % count]);
            let (n, m) = (outward(before, here), outward(here, after));
            // The corner of the two moved edges; a needle's tip is held to
            // fifty times the amount.
            let both = n + m;
            let scale = 2.0 / both.hypot2().max(0.0016);
            here + both * (by * scale)
        })
        .collect()
}

fn outward(a: Point, b: Point) -> Vec2 {
    let along = b - a;
    Vec2::new(along.y, -along.x) / along.hypot()
}

/// The outline grown by `by` on all sides: edges exactly, corners by mitres;
/// sharp corners are squared off where the mitre would be longer than 1.5 times
/// the amount, still nowhere nearer than it. Bays that close become part of it.
pub(super) fn grown(points: &[Point], by: f64) -> Vec<Point> {
    // The library counts in steps of about a millionth of a millimetre.
    let by = by + 1e-5;
    let count = points.len();
    let mut parts = vec![polygon(points)];
    for at in 0..count {
        let (before, here, after) = (points[(at + count - 1) % count], points[at], points[(at + 1) % count]);
        let (n, m) = (outward(before, here), outward(here, after));
        parts.push(polygon(&[here, here + m * by, after + m * by, after]));
        if (here - before).cross(after - here) <= 0.0 {
            continue;
        }
        let half = (n + m).hypot() / 2.0; // cosine of half the turn at the corner
        let corner = if half > 1.0 / 1.5 {
            vec![
                here,
                here + n * by,
                here + (n + m) * (by / (2.0 * half * half)),
                here + m * by,
            ]
        } else {
            // A cut square to the bisector that touches the circle round the corner.
            let ahead = |normal: Vec2| Vec2::new(-normal.y, normal.x);
            let reach = by * ((1.0 - half) / (1.0 - half * half).sqrt().max(1e-9));
            vec![
                here,
                here + n * by,
                here + n * by + ahead(n) * reach,
                here + m * by - ahead(m) * reach,
                here + m * by,
            ]
        };
        parts.push(polygon(&corner));
    }
    let whole = unary_union(&parts);
    let largest = whole
        .0
        .iter()
        .max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
    let ring: Vec<Point> = largest
        .map(|p| p.exterior().coords().map(|c| Point::new(c.x, c.y)).collect())
        .unwrap_or_default();
    tidied(&ring)
}

/// What of an outline lies between two lines across the plane, as a drawing on
/// several pages shows it.
pub fn between(points: &[Point], from: f64, to: f64) -> Vec<Vec<Point>> {
    let round = bounds(points);
    if round.y0 >= from && round.y1 <= to {
        return vec![points.to_vec()];
    }
    if round.y1 <= from || round.y0 >= to {
        return Vec::new();
    }
    let (left, right) = (round.x0 - 1.0, round.x1 + 1.0);
    let band = [(left, from), (right, from), (right, to), (left, to)].map(Point::from);
    let parts = polygon(points).intersection(&polygon(&band));
    let ring = |p: &Polygon<f64>| tidied(&p.exterior().coords().map(|c| Point::new(c.x, c.y)).collect::<Vec<_>>());
    parts.iter().map(ring).filter(|ring| ring.len() > 2).collect()
}

fn polygon(points: &[Point]) -> Polygon<f64> {
    let ring = points.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
    Polygon::new(LineString::new(ring), Vec::new())
}

/// The smallest outline round it that bends one way only.
pub(super) fn hull(points: &[Point]) -> Vec<Point> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut round: Vec<Point> = Vec::new();
    for pass in 0..2 {
        let floor = round.len();
        let chain: Box<dyn Iterator<Item = &Point>> = if pass == 0 {
            Box::new(sorted.iter())
        } else {
            Box::new(sorted.iter().rev())
        };
        for p in chain {
            while round.len() >= floor + 2 && side(round[round.len() - 2], round[round.len() - 1], *p) <= 0.0 {
                round.pop();
            }
            round.push(*p);
        }
        round.pop();
    }
    round
}
