//! The allowance as small convex parts: a band along each edge and what fills
//! its corners. Their union with the piece is what is cut, so a cut line can
//! neither cross itself nor run inside an allowance.

use super::sample::Sample;
use kurbo::{Point, Vec2};

/// How far a mitre may stand out, in widths of the wider allowance.
const LONGEST_MITRE: f64 = 3.0;

/// A convex part by points that span it.
pub(super) type Part = Vec<Point>;

/// Out of the piece, for a stitching line that runs round with `turn` 1
/// (positive area) or -1.
pub(super) fn outward(t: Vec2, turn: f64) -> Vec2 {
    Vec2::new(t.y, -t.x) * turn
}

/// The band of width `a` outside of the samples of one edge.
pub(super) fn band(samples: &[Sample], a: f64, turn: f64, parts: &mut Vec<Part>) {
    for pair in samples.windows(2) {
        let [s, e] = pair else { continue };
        if (e.p - s.p).hypot() < 1e-12 {
            // Two segments meet.
            joint(s.p, (s.t, a), (e.t, a), Meeting::Mitre, turn, parts);
            continue;
        }
        let (from, to) = (s.p + outward(s.t, turn) * a, e.p + outward(e.t, turn) * a);
        let mut part = vec![s.p, from];
        // Outside of a bulge the tangents are followed to where they meet.
        let bend = s.t.cross(e.t);
        if bend * turn > 1e-12 {
            let along = (to - from).cross(e.t) / bend;
            if along > 0.0 {
                part.push(from + s.t * along);
            }
        }
        part.extend([to, e.p]);
        parts.push(part);
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Meeting {
    Mitre,
    SquareFirst,
    SquareSecond,
}

/// What fills the corner at `p` between an edge that arrives along `ta` with
/// allowance `a` and one that leaves along `tb` with `b`.
pub(super) fn joint(
    p: Point,
    (ta, a): (Vec2, f64),
    (tb, b): (Vec2, f64),
    meeting: Meeting,
    turn: f64,
    parts: &mut Vec<Part>,
) {
    let (na, nb) = (outward(ta, turn), outward(tb, turn));
    let (sin, cos) = (ta.cross(tb) * turn, ta.dot(tb));
    let wider = a.max(b);
    if wider <= 0.0 || sin.abs() < 1e-9 && cos > 0.0 {
        return;
    }
    if sin.abs() < 1e-9 {
        // The line turns back on itself: ended square beyond the point.
        let end = ta * wider;
        parts.push(vec![p + na * a, p + na * a + end, p + nb * b + end, p + nb * b]);
        return;
    }
    if sin > 0.0 && meeting != Meeting::Mitre {
        let squared = match meeting {
            Meeting::SquareSecond => [(-tb, nb, b), (-ta, na, a)],
            _ => [(ta, na, a), (tb, nb, b)],
        };
        square(p, squared, parts);
        return;
    }
    // Where both cut lines meet: so far on along the first, back along the second.
    let (on, back) = ((b - a * cos) / sin, (a - b * cos) / sin);
    let meet = na * a + ta * on;
    let reach = meet.hypot();
    if sin > 0.0 {
        let mut part = vec![p, p + na * a];
        if on >= 0.0 && back >= 0.0 {
            let longest = wider * LONGEST_MITRE;
            if reach <= longest {
                part.push(p + meet);
            } else {
                let way = meet / reach;
                let cut = |n: Vec2, width: f64, t: Vec2| n * width + t * ((longest - width * n.dot(way)) / t.dot(way));
                part.push(p + cut(na, a, ta));
                part.push(p + cut(nb, b, -tb));
            }
        }
        part.push(p + nb * b);
        parts.push(part);
    } else if (on > 0.0 || back > 0.0) && reach <= wider * LONGEST_MITRE {
        // An inner corner between allowances of unlike width.
        parts.push(vec![p, p + na * a, p + meet, p + nb * b]);
    }
}

/// The first allowance runs on straight by the second's width and is ended at a
/// right angle; the second's cut line is followed to that end.
fn square(p: Point, [(ta, na, a), (_, nb, b)]: [(Vec2, Vec2, f64); 2], parts: &mut Vec<Part>) {
    parts.push(vec![p, p + na * a, p + na * a + ta * b, p + ta * b]);
    // The line across the end and the second's cut line are both `b` away.
    let half = ta + nb;
    let length = half.hypot();
    let mut part = vec![p, p + ta * b];
    if length > 0.2 {
        let half = half / length;
        part.push(p + half * (b / half.dot(nb)));
    }
    part.push(p + nb * b);
    parts.push(part);
}
