//! How the camera saw the table.

use kurbo::Point;

/// How far a tap may be beside what it means, in pixels of the photo: one
/// standard deviation. A guess from own trials of zoomed taps; common practice.
pub const TAP: f64 = 1.5;

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TraceError {
    #[error("Four marks are needed, and there are fewer. Tap all four.")]
    TooFew,
    #[error(
        "Three of the marks lie on one line, or two are the same. Tap the four corners of something with four corners."
    )]
    OnOneLine,
    #[error(
        "The marks are not in order round: tap them one after another as you would walk round the piece, beginning at the upper left."
    )]
    Crossed,
    #[error(
        "The measures of the marks do not close to a shape with four corners. Measure the sides and the diagonal again."
    )]
    NoShape,
    #[error("A point of the outline is not on the table, or metres away. Tap it again, nearer to the marks.")]
    NotOnTable,
    #[error("The outline needs three points or more. Tap round the piece.")]
    NoOutline,
}

/// From the photo to the table and back.
#[derive(Clone, Debug, PartialEq)]
pub struct Homography {
    to_table: [f64; 9],
    to_photo: [f64; 9],
    marks: Vec<(Point, Point)>,
}

impl Homography {
    /// From marks: each its place on the photo and on the table. Four fix it;
    /// more are fitted by least squares.
    pub fn from_marks(marks: &[(Point, Point)]) -> Result<Homography, TraceError> {
        if marks.len() < 4 {
            return Err(TraceError::TooFew);
        }
        let on_photo: Vec<Point> = marks.iter().map(|m| m.0).collect();
        let on_table: Vec<Point> = marks.iter().map(|m| m.1).collect();
        if marks.len() == 4 {
            let (seen, real) = (turning(&on_photo)?, turning(&on_table)?);
            if seen != real {
                return Err(TraceError::Crossed);
            }
        }
        let (from, photo) = small(&on_photo).ok_or(TraceError::OnOneLine)?;
        let (to, table) = small(&on_table).ok_or(TraceError::OnOneLine)?;
        let mut h = solve(normal(&photo, &table, None)).ok_or(TraceError::OnOneLine)?;
        if marks.len() > 4 {
            // What is made smallest is the distance on the table, as a person
            // would measure it: Gauss and Newton, from the linear solution on.
            for _ in 0..20 {
                let step = solve(normal(&photo, &table, Some(&h))).ok_or(TraceError::OnOneLine)?;
                h.iter_mut().zip(step).for_each(|(h, s)| *h += s);
                if step.iter().all(|s| s.abs() < 1e-15) {
                    break;
                }
            }
        }
        let h = [h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0];
        let to_table = product(&inverse(&to).ok_or(TraceError::OnOneLine)?, &product(&h, &from));
        let to_photo = inverse(&to_table).ok_or(TraceError::OnOneLine)?;
        Ok(Homography {
            to_table,
            to_photo,
            marks: marks.to_vec(),
        })
    }

    /// None beyond the horizon, where a point of the photo is on no table.
    pub fn on_table(&self, photo: Point) -> Option<Point> {
        // The marks are on the table: what has the sign of none of them is not.
        let sign = weight(&self.to_table, self.marks[0].0).signum();
        (weight(&self.to_table, photo) * sign > 1e-12).then(|| through(&self.to_table, photo))
    }

    pub fn on_photo(&self, table: Point) -> Point {
        through(&self.to_photo, table)
    }

    /// The distance on the table between two points of the photo, and how far
    /// it may be off (19 times of 20), both in millimetres, when every tap, of
    /// marks and ends, is off by `tap` pixels (one standard deviation).
    pub fn length(&self, from: Point, to: Point, tap: f64) -> Option<(f64, f64)> {
        let length = |h: &Homography, a: Point, b: Point| Some(h.on_table(a)?.distance(h.on_table(b)?));
        let here = length(self, from, to)?;
        let mut square = 0.0;
        for axis in [kurbo::Vec2::new(tap, 0.0), kurbo::Vec2::new(0.0, tap)] {
            square += (length(self, from + axis, to)? - here).powi(2);
            square += (length(self, from, to + axis)? - here).powi(2);
            for at in 0..self.marks.len() {
                let mut marks = self.marks.clone();
                marks[at].0 += axis;
                let moved = Homography::from_marks(&marks).ok()?;
                square += (length(&moved, from, to)? - here).powi(2);
            }
        }
        Some((here, 1.96 * square.sqrt()))
    }
}

/// The normal equations: of `h` itself (h33 is 1: the middle of the marks is
/// never at infinity), or of the step from an `h` to a better one.
fn normal(photo: &[Point], table: &[Point], from: Option<&[f64; 8]>) -> [[f64; 9]; 8] {
    let mut normal = [[0.0; 9]; 8];
    for (p, q) in photo.iter().zip(table) {
        let (mut seen, mut weight, mut left) = (*q, 1.0, q.to_vec2());
        if let Some(h) = from {
            weight = 1.0 / (h[6] * p.x + h[7] * p.y + 1.0);
            seen = Point::new(
                (h[0] * p.x + h[1] * p.y + h[2]) * weight,
                (h[3] * p.x + h[4] * p.y + h[5]) * weight,
            );
            left = *q - seen;
        }
        let rows = [
            ([p.x, p.y, 1.0, 0.0, 0.0, 0.0, -p.x * seen.x, -p.y * seen.x], left.x),
            ([0.0, 0.0, 0.0, p.x, p.y, 1.0, -p.x * seen.y, -p.y * seen.y], left.y),
        ];
        for (row, value) in rows {
            let row = row.map(|r| r * weight);
            for i in 0..8 {
                for j in 0..8 {
                    normal[i][j] += row[i] * row[j];
                }
                normal[i][8] += row[i] * value;
            }
        }
    }
    normal
}

/// Which way round four points run; they must make a shape without dents.
fn turning(p: &[Point]) -> Result<bool, TraceError> {
    let scale = (0..4).map(|i| p[i].distance(p[(i + 1) % 4])).fold(0.0, f64::max);
    let turns: Vec<f64> = (0..4)
        .map(|i| (p[(i + 1) % 4] - p[i]).cross(p[(i + 2) % 4] - p[(i + 1) % 4]))
        .collect();
    if turns.iter().any(|t| t.abs() <= 1e-4 * scale * scale) {
        return Err(TraceError::OnOneLine);
    }
    let right = turns.iter().filter(|t| **t > 0.0).count();
    match right {
        4 => Ok(true),
        0 => Ok(false),
        _ => Err(TraceError::Crossed),
    }
}

/// The points moved so that their middle is at the origin and their mean
/// distance from it 1.4, with the matrix that does it.
fn small(points: &[Point]) -> Option<([f64; 9], Vec<Point>)> {
    let n = points.len() as f64;
    let middle = points.iter().fold(kurbo::Vec2::ZERO, |sum, p| sum + p.to_vec2()) / n;
    let mean = points.iter().map(|p| (p.to_vec2() - middle).hypot()).sum::<f64>() / n;
    if !(mean.is_finite() && mean > 1e-9) {
        return None;
    }
    let s = std::f64::consts::SQRT_2 / mean;
    let matrix = [s, 0.0, -s * middle.x, 0.0, s, -s * middle.y, 0.0, 0.0, 1.0];
    Some((
        matrix,
        points.iter().map(|p| ((p.to_vec2() - middle) * s).to_point()).collect(),
    ))
}

/// Gaussian elimination with the largest pivot.
fn solve(mut m: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for at in 0..8 {
        let pivot = (at..8).max_by(|a, b| m[*a][at].abs().total_cmp(&m[*b][at].abs()))?;
        if m[pivot][at].abs() < 1e-14 {
            return None;
        }
        m.swap(at, pivot);
        for row in 0..8 {
            if row != at {
                let factor = m[row][at] / m[at][at];
                let pivot = m[at];
                for (value, of_pivot) in m[row].iter_mut().zip(pivot).skip(at) {
                    *value -= factor * of_pivot;
                }
            }
        }
    }
    Some(std::array::from_fn(|i| m[i][8] / m[i][i]))
}

fn product(a: &[f64; 9], b: &[f64; 9]) -> [f64; 9] {
    std::array::from_fn(|i| (0..3).map(|k| a[i / 3 * 3 + k] * b[k * 3 + i % 3]).sum())
}

fn inverse(m: &[f64; 9]) -> Option<[f64; 9]> {
    let minor = |r: usize, c: usize| {
        let at = |i: usize, j: usize| m[(r + i) % 3 * 3 + (c + j) % 3];
        at(1, 1) * at(2, 2) - at(1, 2) * at(2, 1)
    };
    let determinant: f64 = (0..3).map(|c| m[c] * minor(0, c)).sum();
    let size = m.iter().fold(0.0f64, |a, b| a.max(b.abs()));
    if determinant.abs() <= 1e-18 * size.powi(3) {
        return None;
    }
    Some(std::array::from_fn(|i| minor(i % 3, i / 3) / determinant))
}

fn weight(m: &[f64; 9], p: Point) -> f64 {
    m[6] * p.x + m[7] * p.y + m[8]
}

fn through(m: &[f64; 9], p: Point) -> Point {
    let w = weight(m, p);
    Point::new(
        (m[0] * p.x + m[1] * p.y + m[2]) / w,
        (m[3] * p.x + m[4] * p.y + m[5]) / w,
    )
}
