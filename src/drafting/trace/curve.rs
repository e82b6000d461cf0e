//! Lines and curves through taps along an outline.

use kurbo::simplify::SimplifyBezPath;
use kurbo::{BezPath, Line, ParamCurve, ParamCurveNearest, PathEl, Point, fit_to_bezpath_opt};

/// A tap on the outline, on the table in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tap {
    pub at: Point,
    /// The outline turns sharply here: an edge ends and another begins.
    pub corner: bool,
}

/// Taps nearer to a straight line than this are on it: less than a finger is sure of.
const STRAIGHT: f64 = 1.0;
/// How far a fitted curve may keep from the curve through the taps.
const SMOOTH: f64 = 0.3;

/// The edges of a closed outline, in order round from the first corner on (or
/// the first tap, where there is none). Each goes from corner to corner: a line
/// where all its taps lie on one, else a curve through them. Fewer than three
/// taps make no outline.
pub fn path_through(taps: &[Tap]) -> Vec<BezPath> {
    if taps.len() < 3 {
        return Vec::new();
    }
    let first = taps.iter().position(|t| t.corner);
    let round: Vec<Tap> = taps
        .iter()
        .cycle()
        .skip(first.unwrap_or(0))
        .take(taps.len() + 1)
        .copied()
        .collect();
    if first.is_none() {
        let ring: Vec<Point> = round.iter().map(|t| t.at).collect();
        return vec![fitted(through(&ring, true))];
    }
    let mut edges = Vec::new();
    let mut run = vec![round[0].at];
    for (i, tap) in round.iter().enumerate().skip(1) {
        run.push(tap.at);
        if tap.corner || i == taps.len() {
            edges.push(edge(&run));
            run = vec![tap.at];
        }
    }
    edges
}

fn edge(run: &[Point]) -> BezPath {
    let (start, end) = (run[0], run[run.len() - 1]);
    let chord = Line::new(start, end);
    let straight = run
        .iter()
        .all(|p| chord.nearest(*p, 1e-9).distance_sq <= STRAIGHT * STRAIGHT);
    match straight && start != end {
        true => BezPath::from_vec(vec![PathEl::MoveTo(start), PathEl::LineTo(end)]),
        false => fitted(through(run, false)),
    }
}

/// A smooth curve through all points: its direction at each is that of the
/// parabola through the point and its two neighbours, which are weighed by the
/// square root of their distance, so that uneven taps make no loops.
fn through(points: &[Point], closed: bool) -> BezPath {
    let n = points.len();
    let before = |i: usize| match (i, closed) {
        (0, true) => points[n - 2],
        (0, false) => points[0] + (points[0] - points[1]),
        _ => points[i - 1],
    };
    let after = |i: usize| match (i + 1 == n, closed) {
        (true, true) => points[1],
        (true, false) => points[n - 1] + (points[n - 1] - points[n - 2]),
        _ => points[i + 1],
    };
    let gap = |a: Point, b: Point| a.distance(b).sqrt().max(1e-6);
    let slope = |i: usize| {
        let (a, p, b) = (before(i), points[i], after(i));
        let (d, e) = (gap(a, p), gap(p, b));
        (p - a) / d - (b - a) / (d + e) + (b - p) / e
    };
    let mut path = BezPath::new();
    path.move_to(points[0]);
    for i in 0..n - 1 {
        let (p, q) = (points[i], points[i + 1]);
        let third = gap(p, q) / 3.0;
        path.curve_to(p + slope(i) * third, q - slope(i + 1) * third, q);
    }
    path
}

/// As few curves as keep to it; its ends stay.
fn fitted(path: BezPath) -> BezPath {
    if path.elements().len() <= 2 {
        return path;
    }
    let ends = (
        path.elements().first().copied(),
        path.segments().last().map(|s| ParamCurve::end(&s)),
    );
    let mut fit = fit_to_bezpath_opt(&SimplifyBezPath::new(path.elements().iter().copied()), SMOOTH);
    let (Some(PathEl::MoveTo(start)), Some(end)) = ends else {
        return path;
    };
    let elements = fit.elements_mut();
    match elements {
        [PathEl::MoveTo(a), .., PathEl::CurveTo(_, _, b)] if a.distance(start) < SMOOTH && b.distance(end) < SMOOTH => {
            (*a, *b) = (start, end);
            fit
        }
        // No fit was found: the curve through the taps is as good.
        _ => path,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{ParamCurveArclen, Shape};

    fn tap(x: f64, y: f64, corner: bool) -> Tap {
        Tap {
            at: Point::new(x, y),
            corner,
        }
    }

    #[test]
    fn corners_with_nothing_between_make_lines() {
        let taps = [
            tap(0.0, 0.0, true),
            tap(300.0, 0.0, true),
            tap(300.0, 200.0, true),
            tap(0.0, 200.0, true),
        ];
        let edges = path_through(&taps);
        assert_eq!(edges.len(), 4);
        let long: f64 = edges
            .iter()
            .flat_map(|e| e.segments().map(|s| s.arclen(1e-6)).collect::<Vec<_>>())
            .sum();
        assert!((long - 1000.0).abs() < 1e-6);
        assert!(edges.iter().all(|e| e.elements().len() == 2));
    }

    #[test]
    fn a_circle_of_sixteen_taps_is_a_circle_within_half_a_millimetre() {
        let taps: Vec<Tap> = (0..16)
            .map(|i| {
                let a = std::f64::consts::TAU * f64::from(i) / 16.0;
                tap(150.0 * a.cos(), 150.0 * a.sin(), false)
            })
            .collect();
        let edges = path_through(&taps);
        assert_eq!(edges.len(), 1);
        let mut whole = edges[0].clone();
        whole.close_path();
        for segment in edges[0].segments() {
            for t in 0..=20 {
                let p = kurbo::ParamCurve::eval(&segment, f64::from(t) / 20.0);
                assert!((p.to_vec2().hypot() - 150.0).abs() < 0.5, "{p:?}");
            }
        }
        assert!((whole.area().abs() - std::f64::consts::PI * 22_500.0).abs() < 120.0);
    }

    #[test]
    fn ends_of_edges_meet_and_uneven_taps_make_no_loop() {
        let taps = [
            tap(0.0, 0.0, true),
            tap(5.0, 40.0, false),
            tap(8.0, 50.0, false),
            tap(120.0, 90.0, false),
            tap(200.0, 80.0, true),
            tap(100.0, -30.0, false),
        ];
        let edges = path_through(&taps);
        assert_eq!(edges.len(), 2);
        for (a, b) in edges.iter().zip(edges.iter().cycle().skip(1)) {
            let end = ParamCurve::end(&a.segments().last().unwrap());
            assert_eq!(b.elements()[0], PathEl::MoveTo(end));
        }
        let long: f64 = edges[0].segments().map(|s| s.arclen(1e-6)).sum();
        let straight: f64 = taps[..5].windows(2).map(|w| w[0].at.distance(w[1].at)).sum();
        assert!(long >= straight - 1.0 && long < 1.15 * straight, "{long} {straight}");
    }

    #[test]
    fn two_taps_are_no_outline() {
        assert!(path_through(&[tap(0.0, 0.0, true), tap(1.0, 0.0, true)]).is_empty());
    }
}
