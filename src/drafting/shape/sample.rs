//! Curves as chords, so close that what is cut by them is right.

use super::edge::{ShapeEdge, direction};
use kurbo::{ParamCurve, ParamCurveExtrema, PathSeg, Point, Vec2};

/// How far a chord may leave its curve, in millimetres.
pub const BOUND: f64 = 0.02;

/// A point of the stitching line and the direction there, of length 1.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sample {
    pub p: Point,
    pub t: Vec2,
}

/// Samples of an edge, each segment from its own begin to its own end: where two
/// segments meet there are two. Curves are divided at their outermost points
/// and where they turn the other way, and so finely that both the curve and the
/// line `offset` outside of it are met within [`BOUND`].
pub(super) fn samples(edge: &ShapeEdge, offset: f64) -> Vec<Sample> {
    let mut all = Vec::new();
    for segment in edge.segments() {
        let at = |t: f64| Sample {
            p: segment.eval(t),
            t: direction(&segment, t),
        };
        let mut stops = vec![0.0, 1.0];
        if let PathSeg::Cubic(c) = &segment {
            stops.extend(c.extrema());
            stops.extend(c.inflections());
            stops.sort_by(f64::total_cmp);
            stops.dedup_by(|b, a| *b - *a < 1e-9);
        }
        let Some(first) = stops.first() else { continue };
        all.push(at(*first));
        for pair in stops.windows(2) {
            if let [from, to] = pair {
                divide(&at, (*from, at(*from)), (*to, at(*to)), offset, 0, &mut all);
            }
        }
    }
    all
}

fn divide(
    at: &impl Fn(f64) -> Sample,
    (from, a): (f64, Sample),
    (to, b): (f64, Sample),
    offset: f64,
    depth: u32,
    all: &mut Vec<Sample>,
) {
    let turn = a.t.cross(b.t).atan2(a.t.dot(b.t)).abs();
    let chord = (b.p - a.p).hypot();
    let middle = at((from + to) / 2.0);
    // A chord between parallel directions may still be a bend both ways.
    let aside = if chord > 1e-9 {
        ((b.p - a.p).cross(middle.p - a.p) / chord).abs()
    } else {
        0.0
    };
    let fine = turn < 0.4 && (chord + offset * turn) * turn / 8.0 <= BOUND && aside <= BOUND;
    if fine || depth >= 12 {
        all.push(b);
        return;
    }
    let half = (from + to) / 2.0;
    divide(at, (from, a), (half, middle), offset, depth + 1, all);
    divide(at, (half, middle), (to, b), offset, depth + 1, all);
}
