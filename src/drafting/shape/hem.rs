//! The ends of a turned hem: the side's allowance mirrored at the turn, so that
//! both lie on each other when the hem is turned up.

use super::band::Part;
use super::sample::Sample;
use kurbo::{Point, Vec2};

/// How one end of a hem is cut.
pub(super) enum HemEnd {
    /// At a right angle at the stitching line's end; the corner beyond is filled
    /// as other corners are.
    Plain,
    /// By the side: samples of its stitching line from the hem's corner on, its
    /// outward normals and its allowance.
    Side(Vec<(Sample, Vec2)>, f64),
}

/// Parts of a straight hem from `start` to `end`, `depth` deep along `out`.
pub(super) fn hem(start: Point, end: Point, out: Vec2, depth: f64, ends: [HemEnd; 2], parts: &mut Vec<Part>) {
    let along = (end - start).normalize();
    let length = (end - start).hypot();
    let place = |p: Point| ((p - start).dot(along), -(p - start).dot(out));
    let [first, second] = &ends;
    let first = limit(first, depth, 0.0, &place);
    let second = limit(second, depth, length, &place);
    let mut levels: Vec<f64> = first.iter().chain(&second).map(|(_, v)| *v).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup_by(|b, a| *b - *a < 1e-9);
    let spot = |u: f64, v: f64| start + along * u + out * v;
    for pair in levels.windows(2) {
        let [v, w] = pair else { continue };
        let (a, b) = (across(&first, *v), across(&second, *v));
        let (c, d) = (across(&first, *w), across(&second, *w));
        if a < b && c < d {
            parts.push(vec![spot(a, *v), spot(b, *v), spot(d, *w), spot(c, *w)]);
        }
    }
    // Beside the corner, between the end of the side's band and the hem's line.
    for (end, line, corner) in [(&ends[0], &first, start), (&ends[1], &second, end)] {
        if let (HemEnd::Side(side, allowance), Some((u, _))) = (end, line.first())
            && let Some((_, normal)) = side.first()
        {
            parts.push(vec![corner, corner + *normal * *allowance, spot(*u, 0.0)]);
        }
    }
}

/// The side's cut line inside the piece as (along the hem, depth), from the hem's
/// line to `depth`: mirrored, it is where the hem ends.
fn limit(end: &HemEnd, depth: f64, plain: f64, place: &impl Fn(Point) -> (f64, f64)) -> Vec<(f64, f64)> {
    let HemEnd::Side(side, allowance) = end else {
        return vec![(plain, 0.0), (plain, depth)];
    };
    let cut: Vec<(f64, f64)> = side.iter().map(|(s, n)| place(s.p + *n * *allowance)).collect();
    // Only what leads on inwards: a side that comes back ends the hem there.
    let mut line: Vec<(f64, f64)> = Vec::new();
    for point in cut {
        if line.last().is_none_or(|(_, v)| point.1 > *v + 1e-9) {
            line.push(point);
        }
    }
    let (Some(first), true) = (line.first().copied(), line.len() > 1) else {
        return vec![(plain, 0.0), (plain, depth)];
    };
    let at = |v: f64| {
        let (a, b) = line
            .windows(2)
            .filter_map(|p| p.first().copied().zip(p.last().copied()))
            .find(|(_, b)| v <= b.1)
            .or_else(|| {
                line.len()
                    .checked_sub(2)
                    .and_then(|i| line.get(i).copied().zip(line.last().copied()))
            })
            .unwrap_or((first, first));
        let steep = (b.0 - a.0) / (b.1 - a.1).max(1e-9);
        (a.0 + steep * (v - a.1), v)
    };
    let mut levels = vec![at(0.0)];
    levels.extend(line.iter().filter(|(_, v)| *v > 1e-9 && *v < depth - 1e-9));
    levels.push(at(depth));
    levels
}

fn across(line: &[(f64, f64)], v: f64) -> f64 {
    let mut before = line.first().copied().unwrap_or_default();
    for point in line {
        if v <= point.1 {
            let steep = point.1 - before.1;
            return if steep > 1e-9 {
                before.0 + (point.0 - before.0) * (v - before.1) / steep
            } else {
                point.0
            };
        }
        before = *point;
    }
    before.0
}
