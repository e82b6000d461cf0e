//! A spline as the curves a plan holds: exactly where its pieces are cubics
//! themselves, else so near that nobody can cut the difference.

use super::entity::point;
use dxf::entities::Spline;
use kurbo::{BezPath, Point, Vec2};

/// How far a fitted curve may leave its spline, in millimetres.
const FIT: f64 = 0.01;

/// Of one spline.
const POINTS: usize = 4_000;
const CURVES: usize = 2_000;
/// A span is halved so many times at most.
const HALVED: u32 = 7;
const HIGHEST: usize = 11;

/// A B-spline in millimetres, `y` down.
struct Curve {
    degree: usize,
    knots: Vec<f64>,
    points: Vec<Point>,
    /// Of each point; none where all count alike.
    weights: Option<Vec<f64>>,
}

/// The line a spline draws, or why it is left out.
pub(super) fn path(spline: &Spline, scale: f64) -> Result<BezPath, String> {
    let curve = Curve::of(spline, scale)?;
    let mut path = BezPath::new();
    let spans = curve.spans();
    for (n, span) in spans.iter().enumerate() {
        if n == 0 {
            path.move_to(curve.begin(*span));
        }
        if curve.weights.is_none() && curve.degree <= 3 {
            curve.exact(*span, &mut path);
        } else {
            curve.fitted(*span, (0.0, 1.0), 0, &mut path)?;
        }
        if path.elements().len() > CURVES {
            return Err(format!("has more than {CURVES} curves"));
        }
    }
    Ok(path)
}

impl Curve {
    fn of(spline: &Spline, scale: f64) -> Result<Curve, String> {
        let count = spline.control_points.len();
        if count == 0 && !spline.fit_points.is_empty() {
            return Err("is given by the points it passes through alone".into());
        }
        let degree = usize::try_from(spline.degree_of_curve).unwrap_or_default();
        if !(1..=HIGHEST).contains(&degree) {
            return Err(format!(
                "has degree {}; 1 to {HIGHEST} are read",
                spline.degree_of_curve
            ));
        }
        if count <= degree || count > POINTS {
            return Err(format!("has {count} control points, too few or too many"));
        }
        let knots = spline.knot_values.clone();
        let rising = knots.windows(2).all(|w| w[0] <= w[1]) && knots.iter().all(|k| k.is_finite());
        let domain = knots.get(degree).zip(knots.get(count));
        if knots.len() != count + degree + 1 || !rising || !domain.is_some_and(|(a, b)| a < b) {
            return Err("has knots that do not go with its points".into());
        }
        let weights = &spline.weight_values;
        let plain = weights.windows(2).all(|w| (w[0] - w[1]).abs() <= 1e-12 * w[0].abs());
        let weights = match weights.as_slice() {
            all if plain && all.first().is_none_or(|w| *w > 0.0) => None,
            all if all.len() == count && all.iter().all(|w| w.is_finite() && *w > 1e-9) => Some(all.to_vec()),
            _ => return Err("has weights that do not go with its points".into()),
        };
        let points = spline.control_points.iter().map(|p| point(p, scale)).collect();
        Ok(Curve {
            degree,
            knots,
            points,
            weights,
        })
    }

    /// Knots between which it is one polynomial (or one fraction of two).
    fn spans(&self) -> Vec<usize> {
        (self.degree..self.points.len())
            .filter(|i| self.knots[i + 1] > self.knots[*i])
            .collect()
    }

    fn begin(&self, span: usize) -> Point {
        self.at(span, self.knots[span]).0
    }

    /// De Boor's scheme with another parameter at each of its steps: the control
    /// points a span has of its own, as inserting its knots would give them.
    fn blossom(&self, span: usize, parameters: &[f64]) -> Point {
        let p = self.degree;
        let mut d: Vec<Point> = self.points[span - p..=span].to_vec();
        for (r, t) in parameters.iter().enumerate() {
            for j in (r + 1..=p).rev() {
                let (a, b) = (self.knots[span - p + j], self.knots[span + j - r]);
                d[j] = d[j - 1].lerp(d[j], (t - a) / (b - a));
            }
        }
        d[p]
    }

    fn exact(&self, span: usize, path: &mut BezPath) {
        let (a, b) = (self.knots[span], self.knots[span + 1]);
        match self.degree {
            1 => path.line_to(self.blossom(span, &[b])),
            2 => path.quad_to(self.blossom(span, &[a, b]), self.blossom(span, &[b, b])),
            _ => path.curve_to(
                self.blossom(span, &[a, a, b]),
                self.blossom(span, &[a, b, b]),
                self.blossom(span, &[b, b, b]),
            ),
        }
    }

    /// Place and motion at a parameter of a span.
    fn at(&self, span: usize, t: f64) -> (Point, Vec2) {
        let p = self.degree;
        // Weighted points and their weights go through the scheme alike.
        let mut d: Vec<(Vec2, f64)> = (span - p..=span)
            .map(|i| {
                let w = self.weights.as_ref().map_or(1.0, |w| w[i]);
                (self.points[i].to_vec2() * w, w)
            })
            .collect();
        let mut before = [d[0]; 2];
        for r in 0..p {
            if r + 1 == p {
                before = [d[p - 1], d[p]];
            }
            for j in (r + 1..=p).rev() {
                let (a, b) = (self.knots[span - p + j], self.knots[span + j - r]);
                let part = (t - a) / (b - a);
                let (low, high) = (d[j - 1], d[j]);
                d[j] = (
                    low.0 * (1.0 - part) + high.0 * part,
                    low.1 * (1.0 - part) + high.1 * part,
                );
            }
        }
        let (sum, weight) = d[p];
        let steep = p as f64 / (self.knots[span + 1] - self.knots[span]);
        let (rise, gain) = ((before[1].0 - before[0].0) * steep, (before[1].1 - before[0].1) * steep);
        let place = sum / weight;
        (place.to_point(), (rise - place * gain) / weight)
    }

    /// Cubics with its places and motions at their ends, halved until they are near enough.
    fn fitted(&self, span: usize, (from, to): (f64, f64), depth: u32, path: &mut BezPath) -> Result<(), String> {
        let (low, high) = (self.knots[span], self.knots[span + 1]);
        let at = |part: f64| self.at(span, low + (high - low) * part);
        let ((a, da), (b, db)) = (at(from), at(to));
        let third = (high - low) * (to - from) / 3.0;
        let cubic = kurbo::CubicBez::new(a, a + da * third, b - db * third, b);
        let near = [0.15, 0.3, 0.5, 0.7, 0.85].into_iter().all(|part| {
            let own = kurbo::ParamCurve::eval(&cubic, part);
            (own - at(from + (to - from) * part).0).hypot() <= FIT / 4.0
        });
        if near {
            path.curve_to(cubic.p1, cubic.p2, cubic.p3);
            return Ok(());
        }
        if depth >= HALVED || path.elements().len() > CURVES {
            return Err("bends too sharply to be drawn within 0.01 mm".into());
        }
        let middle = (from + to) / 2.0;
        self.fitted(span, (from, middle), depth + 1, path)?;
        self.fitted(span, (middle, to), depth + 1, path)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{ParamCurveArclen, ParamCurveNearest, Shape};

    fn spline(degree: i32, knots: &[f64], points: &[(f64, f64)], weights: &[f64]) -> Spline {
        Spline {
            degree_of_curve: degree,
            knot_values: knots.to_vec(),
            weight_values: weights.to_vec(),
            control_points: points.iter().map(|(x, y)| dxf::Point::new(*x, *y, 0.0)).collect(),
            ..Spline::default()
        }
    }

    /// One span with knots at its ends alone is a Bezier curve.
    #[test]
    fn one_span_is_its_own_curve() {
        let points = [(0.0, 0.0), (10.0, 30.0), (50.0, 40.0), (90.0, 0.0)];
        let made = path(&spline(3, &[0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0], &points, &[]), 2.0).unwrap();
        assert_eq!(made.to_svg(), "M0,0 C20,-60 100,-80 180,0");
        let made = path(&spline(1, &[0.0, 0.0, 1.0, 2.0, 2.0], &points[..3], &[]), 1.0).unwrap();
        assert_eq!(made.to_svg(), "M0,0 L10,-30 L50,-40");
    }

    /// Three quarters of the control polygon's middle: the textbook's uniform quadratic
    /// passes the middles of its legs.
    #[test]
    fn a_uniform_quadratic_passes_the_middles_of_its_legs() {
        let knots: Vec<f64> = (0..7).map(f64::from).collect();
        let points = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (30.0, 10.0)];
        let made = path(&spline(2, &knots, &points, &[]), 1.0).unwrap();
        assert_eq!(made.to_svg(), "M5,0 Q10,0 10,-5 Q10,-10 20,-10");
    }

    /// The textbook's quarter of a circle: weights 1, root of a half, 1.
    #[test]
    fn a_weighted_quarter_is_a_circle() {
        let w = std::f64::consts::FRAC_1_SQRT_2;
        let points = [(500.0, 0.0), (500.0, 500.0), (0.0, 500.0)];
        let made = path(
            &spline(2, &[0.0, 0.0, 0.0, 1.0, 1.0, 1.0], &points, &[1.0, w, 1.0]),
            1.0,
        )
        .unwrap();
        let length: f64 = made.segments().map(|s| s.arclen(1e-6)).sum();
        assert!((length - 250.0 * std::f64::consts::PI).abs() < 0.01, "{length}");
        for n in 0..=100 {
            let angle = std::f64::consts::FRAC_PI_2 * f64::from(n) / 100.0;
            let on = Point::new(500.0 * angle.cos(), -500.0 * angle.sin());
            let off = made
                .segments()
                .map(|s| s.nearest(on, 1e-9).distance_sq)
                .fold(f64::MAX, f64::min);
            assert!(off.sqrt() <= FIT, "{off}");
        }
        assert!(made.elements().len() < 40);
    }

    /// A parabola raised to degree 5 is still that parabola.
    #[test]
    fn a_higher_degree_is_fitted() {
        let (p0, p1, p2) = ((0.0, 0.0), (60.0, 80.0), (120.0, 0.0));
        let mut points = vec![p0, p1, p2];
        for n in [2.0, 3.0, 4.0] {
            let last = points.len();
            points = (0..=last)
                .map(|i| {
                    let a = i as f64 / (n + 1.0);
                    let low = points[i.saturating_sub(1)];
                    let high = points[i.min(last - 1)];
                    (a * low.0 + (1.0 - a) * high.0, a * low.1 + (1.0 - a) * high.1)
                })
                .collect();
        }
        let knots = [[0.0; 6], [1.0; 6]].concat();
        let made = path(&spline(5, &knots, &points, &[]), 1.0).unwrap();
        let exact = BezPath::from_svg("M0 0 Q60 -80 120 0").unwrap();
        assert!(
            (made.area() - exact.area()).abs() < 0.1,
            "{} {}",
            made.area(),
            exact.area()
        );
    }

    #[test]
    fn what_is_no_spline_is_told() {
        let points = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (30.0, 10.0)];
        let clamped = [0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0];
        for (wrong, part) in [
            (spline(0, &clamped, &points, &[]), "degree 0"),
            (spline(40, &clamped, &points, &[]), "degree 40"),
            (spline(3, &clamped[..7], &points, &[]), "knots"),
            (spline(3, &[0.0; 8], &points, &[]), "knots"),
            (
                spline(3, &[1.0, 1.0, 1.0, 1.0, 0.0, 0.0, 0.0, 0.0], &points, &[]),
                "knots",
            ),
            (spline(3, &clamped, &points[..3], &[]), "control points"),
            (spline(3, &clamped, &points, &[1.0, 2.0]), "weights"),
            (spline(3, &clamped, &points, &[1.0, 2.0, -1.0, 1.0]), "weights"),
        ] {
            let said = path(&wrong, 1.0).expect_err(part);
            assert!(said.contains(part), "{said}");
        }
        let through = Spline {
            fit_points: vec![dxf::Point::origin(); 3],
            ..Spline::default()
        };
        assert!(path(&through, 1.0).expect_err("no points").contains("passes through"));
    }
}
