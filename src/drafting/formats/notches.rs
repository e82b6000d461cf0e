//! Notches of a file on the edges of an outline.

use super::edges::edge_name;
use crate::drafting::shape::round;
use crate::measure::{Length, MM};
use crate::plan::{Notch, limits};
use kurbo::{ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point};
use std::ops::RangeInclusive;

/// How far from the outline a notch may lie, in millimetres: an allowance away.
const FAR: f64 = 60.0;

/// Files hold a double notch as two: so far apart along one edge they are one. By common
/// practice a double notch is two, a quarter to half an inch apart; this program writes
/// them 6 mm apart.
const DOUBLE: RangeInclusive<Length> = Length::from_units(MM.units() * 3)..=Length::from_units(MM.units() * 12);

/// The notches, and what must be said about them.
pub(super) fn all(edges: &[Vec<PathSeg>], points: impl Iterator<Item = Point>) -> (Vec<Notch>, Vec<String>) {
    let mut notches: Vec<Notch> = Vec::new();
    let mut notices = Vec::new();
    let mut astray = 0;
    // Of double ones there are two each.
    for point in points.take(limits::NOTCHES * 2) {
        match on(edges, point) {
            Some(on) if notches.contains(&on) => {}
            Some(on) => notches.push(on),
            None => astray += 1,
        }
    }
    let single = notches.len();
    let mut notches = paired(notches);
    let double = single - notches.len();
    notches.truncate(limits::NOTCHES);
    if double > 0 {
        notices.push(format!(
            "Two notches 3 to 12 mm (1/8 to 1/2 in) apart count as one double notch: {double} {}.",
            if double == 1 { "is" } else { "are" }
        ));
    }
    if astray > 0 {
        notices.push(format!(
            "{astray} notches lie more than 60 mm (2 3/8 in) away from the outline and were left out."
        ));
    }
    (notches, notices)
}

/// Two that are near each other, and near no third, become one between them.
fn paired(mut notches: Vec<Notch>) -> Vec<Notch> {
    notches.sort_by(|a, b| (&a.edge, a.at).cmp(&(&b.edge, b.at)));
    let near = |a: &Notch, b: &Notch| a.edge == b.edge && DOUBLE.contains(&(b.at - a.at));
    let mut out: Vec<Notch> = Vec::new();
    let mut left = notches.as_slice();
    while let [first, rest @ ..] = left {
        // As many as stand in one row.
        let run = 1 + left.windows(2).take_while(|w| near(&w[0], &w[1])).count();
        if let (2, Some(second)) = (run, rest.first()) {
            out.push(Notch {
                edge: first.edge.clone(),
                at: first.at + Length::from_units((second.at - first.at).units() / 2),
                double: true,
            });
        } else {
            out.extend_from_slice(&left[..run]);
        }
        left = &left[run..];
    }
    out
}

/// The notch on the edge nearest to a point.
fn on(edges: &[Vec<PathSeg>], point: Point) -> Option<Notch> {
    let mut best: Option<(f64, usize, f64)> = None;
    for (n, edge) in edges.iter().enumerate() {
        let mut before = 0.0;
        for segment in edge {
            let near = segment.nearest(point, 1e-6);
            let along = before + segment.subsegment(0.0..near.t).arclen(1e-4);
            if best.is_none_or(|(d, _, _)| near.distance_sq < d) {
                best = Some((near.distance_sq, n, along));
            }
            before += segment.arclen(1e-4);
        }
    }
    let (distance, n, at) = best?;
    (distance <= FAR * FAR).then(|| Notch {
        edge: edge_name(n),
        at: round::nearest(at),
        double: false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn notch(edge: &str, mm: i64, double: bool) -> Notch {
        Notch {
            edge: edge.into(),
            at: MM * mm,
            double,
        }
    }

    #[test]
    fn two_near_each_other_are_a_double_one() {
        let single = |edge: &str, mm: i64| notch(edge, mm, false);
        let made = paired(vec![
            // Too near, too far, three in a row, on two edges.
            single("edge 1", 106),
            single("edge 1", 100),
            single("edge 2", 50),
            single("edge 2", 52),
            single("edge 2", 70),
            single("edge 2", 84),
            single("edge 3", 10),
            single("edge 3", 20),
            single("edge 3", 30),
            single("edge 4", 12),
            single("edge 5", 20),
            single("edge 5", 23),
            single("edge 5", 200),
            single("edge 5", 212),
        ]);
        let doubles: Vec<_> = made.iter().filter(|n| n.double).cloned().collect();
        assert_eq!(
            doubles,
            [
                notch("edge 1", 103, true),
                Notch {
                    at: MM * 21 + Length::from_units(320),
                    ..notch("edge 5", 0, true)
                },
                notch("edge 5", 206, true)
            ]
        );
        assert_eq!(made.len(), 11);
    }
}
