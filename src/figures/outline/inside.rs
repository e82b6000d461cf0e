//! Rectangles along the grain that lie wholly inside an outline: the largest
//! that is found, then the largest in what is left, and so on.
//!
//! Between two lines across, every edge of the outline that passes blocks a
//! range along; what lies between two ranges is a rectangle, inside or outside.
//! All in whole units, each range rounded outward, so a rectangle never
//! crosses an edge.

use super::corners::{Shape, edges};
use crate::figures::Rect;
use crate::measure::{INCH, Length};

/// Smaller rectangles are crumbs: no side is under two inches.
const LEAST: i64 = INCH.units() * 2;
/// What lengths are printed to, so that a printed place is the place: edges that
/// lie on no measured line are rounded to it.
const STEP: i64 = INCH.units() / 8;
/// Rectangles of one outline.
const MOST: usize = 5;
/// Lines across that are tried, besides those through corners.
const LINES: i64 = 36;

#[derive(Clone, Copy)]
struct Found {
    x: (i64, i64),
    y: (i64, i64),
}

impl Found {
    fn area(self) -> i128 {
        i128::from(self.x.1 - self.x.0) * i128::from(self.y.1 - self.y.0)
    }
}

pub(super) fn rectangles(shape: &Shape) -> Vec<Rect> {
    let mut taken: Vec<Found> = Vec::new();
    while taken.len() < MOST {
        let Some(next) = largest(shape, &taken) else { break };
        taken.push(next);
    }
    let length = Length::from_units;
    let rect = |f: Found| Rect {
        x: length(f.x.0),
        y: length(f.y.0),
        width: length(f.x.1 - f.x.0),
        height: length(f.y.1 - f.y.0),
    };
    taken.into_iter().map(rect).collect()
}

fn largest(shape: &Shape, taken: &[Found]) -> Option<Found> {
    let width = shape.points.iter().map(|p| p.0).max()?;
    let stride = (width / LINES).max(STEP);
    let mut lines: Vec<i64> = shape.points.iter().map(|p| p.0).collect();
    lines.extend(taken.iter().flat_map(|t| [t.x.0, t.x.1]));
    lines.extend((0..=LINES).map(|n| n * stride).filter(|x| *x <= width));
    lines.sort_unstable();
    lines.dedup();
    let mut best: Option<Found> = None;
    for (n, left) in lines.iter().enumerate() {
        for right in &lines[n + 1..] {
            best = better(best, between(shape, taken, *left, *right));
        }
    }
    // Nearer to the best pair of lines, in halved steps.
    let mut step = stride;
    while step > STEP / 2 {
        let Some(now) = best else { break };
        for (left, right) in [
            (-step, 0),
            (step, 0),
            (0, -step),
            (0, step),
            (-step, step),
            (step, -step),
        ] {
            best = better(best, between(shape, taken, now.x.0 + left, now.x.1 + right));
        }
        if best.is_some_and(|b| b.area() == now.area()) {
            step /= 2;
        }
    }
    best
}

fn better(a: Option<Found>, b: Option<Found>) -> Option<Found> {
    match (a, b) {
        (Some(a), Some(b)) if b.area() > a.area() => Some(b),
        (None, b) => b,
        (a, _) => a,
    }
}

/// The largest rectangle that reaches from one line across to another.
fn between(shape: &Shape, taken: &[Found], left: i64, right: i64) -> Option<Found> {
    let known = |list: &[i64], edge: fn(&Found) -> [i64; 2], at: i64| {
        list.contains(&at) || taken.iter().any(|t| edge(t).contains(&at))
    };
    let across = |at| known(&shape.exact.0, |t| [t.x.0, t.x.1], at);
    let along = |at| known(&shape.exact.1, |t| [t.y.0, t.y.1], at);
    let left = if across(left) { left } else { up(left + shape.off) };
    let right = if across(right) { right } else { down(right - shape.off) };
    if right - left < LEAST {
        return None;
    }
    // Blocked ranges along, and whether the edge passes the middle.
    let mut blocked: Vec<(i64, i64, bool)> = edges(&shape.points)
        .filter_map(|(a, b)| range(a, b, left, right))
        .collect();
    let of_taken = taken.iter().filter(|t| t.x.0 < right && t.x.1 > left);
    blocked.extend(of_taken.map(|t| (t.y.0, t.y.1, false)));
    blocked.sort_unstable();
    let mut best: Option<Found> = None;
    let mut reached = i64::MIN;
    let mut passed = 0;
    for (from, to, passes) in blocked {
        if from > reached && passed % 2 == 1 {
            let near = if along(reached) {
                reached
            } else {
                up(reached + shape.off)
            };
            let far = if along(from) { from } else { down(from - shape.off) };
            if far - near >= LEAST {
                best = better(
                    best,
                    Some(Found {
                        x: (left, right),
                        y: (near, far),
                    }),
                );
            }
        }
        reached = reached.max(to);
        passed += i32::from(passes);
    }
    best
}

fn up(n: i64) -> i64 {
    n + (-n).rem_euclid(STEP)
}

fn down(n: i64) -> i64 {
    n - n.rem_euclid(STEP)
}

/// What an edge takes along between two lines across, rounded outward, and
/// whether it passes the line halfway between them.
fn range(a: (i64, i64), b: (i64, i64), left: i64, right: i64) -> Option<(i64, i64, bool)> {
    let (a, b) = if a.0 <= b.0 { (a, b) } else { (b, a) };
    if a.0 == b.0 {
        // Along the grain: in the way only if it stands between the lines.
        let between = left < a.0 && a.0 < right;
        return between.then(|| (a.1.min(b.1), a.1.max(b.1), false));
    }
    let (from, to) = (a.0.max(left), b.0.min(right));
    if from >= to {
        return None;
    }
    let at = |x: i64| {
        let over = i128::from(x - a.0) * i128::from(b.1 - a.1);
        let run = i128::from(b.0 - a.0);
        let near = over.div_euclid(run);
        let near = i64::try_from(near).unwrap_or(0) + a.1;
        (near, near + i64::from(over.rem_euclid(run) != 0))
    };
    let (one, other) = (at(from), at(to));
    let twice = left + right;
    let passes = 2 * a.0 <= twice && twice < 2 * b.0;
    Some((one.0.min(other.0), one.1.max(other.1), passes))
}

#[cfg(test)]
mod tests {
    use super::super::corners::of;
    use super::*;
    use crate::plan::{Corner, Outline};

    fn in_inches(list: &[(i64, i64)]) -> Vec<(i64, i64, i64, i64)> {
        let corner = |(x, y): &(i64, i64)| Corner {
            across: INCH * *x,
            along: INCH * *y,
        };
        let outline = Outline::Corners(list.iter().map(corner).collect());
        let shape = of(&outline).unwrap_or_else(|e| panic!("{e}"));
        let inches = |l: Length| l.units() / INCH.units();
        rectangles(&shape)
            .into_iter()
            .map(|r| (inches(r.x), inches(r.y), inches(r.width), inches(r.height)))
            .collect()
    }

    #[test]
    fn a_rectangle_is_itself_and_an_l_is_two() {
        assert_eq!(in_inches(&[(0, 0), (9, 0), (9, 5), (0, 5)]), [(0, 0, 9, 5)]);
        // 12 by 4 along the foot, and what stands on it.
        let l = in_inches(&[(0, 0), (4, 0), (4, 10), (12, 10), (12, 14), (0, 14)]);
        assert_eq!(l, [(0, 0, 4, 14), (4, 10, 8, 4)]);
    }

    #[test]
    fn a_right_triangle_gives_half_of_itself_first() {
        let shape = of(&Outline::Corners(
            [(0, 0), (20, 0), (0, 12)]
                .map(|(x, y)| Corner {
                    across: INCH * x,
                    along: INCH * y,
                })
                .to_vec(),
        ))
        .unwrap_or_else(|e| panic!("{e}"));
        let first = rectangles(&shape)[0];
        // The largest rectangle of a triangle is half of it: 10 by 6.
        let area = first.width.as_inches_f64() * first.height.as_inches_f64();
        assert!((58.0..=60.0).contains(&area), "{area}");
    }

    #[test]
    fn too_small_an_outline_gives_nothing() {
        assert!(in_inches(&[(0, 0), (1, 0), (0, 9)]).is_empty());
    }
}
