//! From what was measured to corners in whole units.

use crate::measure::{Area, Length};
use crate::plan::{Corner, Outline, Sides, limits};

/// A closed outline that does not cross itself, pushed into the corner: the
/// least across and the least along are 0.
pub(super) struct Shape {
    pub points: Vec<(i64, i64)>,
    /// Distances across and along that are as measured: an edge of a rectangle
    /// may lie on them. All others are rounded inward.
    pub exact: (Vec<i64>, Vec<i64>),
    /// Corners may be off by so much: they were worked out with square roots.
    pub off: i64,
}

impl Shape {
    /// Rounded down, and no more than it may be with its corners a little off.
    pub fn area(&self) -> Area {
        let around: i128 = edges(&self.points)
            .map(|(a, b)| i128::from(a.0) * i128::from(b.1) - i128::from(b.0) * i128::from(a.1))
            .sum();
        let length: i128 = edges(&self.points)
            .map(|(a, b)| i128::from((a.0 - b.0).abs()) + i128::from((a.1 - b.1).abs()))
            .sum();
        Area::from_units((around.abs() / 2 - length * i128::from(self.off)).max(0))
    }
}

pub(super) fn edges(points: &[(i64, i64)]) -> impl Iterator<Item = ((i64, i64), (i64, i64))> + '_ {
    let next = points.iter().skip(1).chain(points.first());
    points.iter().copied().zip(next.copied())
}

pub(super) fn of(outline: &Outline) -> Result<Shape, String> {
    match outline {
        Outline::Corners(corners) => of_corners(corners),
        Outline::Sides(sides) => of_sides(sides),
    }
}

fn of_corners(corners: &[Corner]) -> Result<Shape, String> {
    if !(3..=limits::OUTLINE_CORNERS).contains(&corners.len()) {
        return Err(format!(
            "An outline has 3 to {} corners; this one has {}.",
            limits::OUTLINE_CORNERS,
            corners.len()
        ));
    }
    for (n, corner) in corners.iter().enumerate() {
        if [corner.across, corner.along]
            .iter()
            .any(|l| l.is_negative() || *l > Length::MAX)
        {
            return Err(format!(
                "Corner {} lies outside: measure from two lines that touch the remnant, so that no distance is below 0 or above 200 m.",
                n + 1
            ));
        }
    }
    let points = corners.iter().map(|c| (c.across.units(), c.along.units())).collect();
    let points = in_the_corner(points);
    if let Some((a, b)) = crossing(&points) {
        return Err(format!(
            "The edges after corner {} and corner {} meet where they should not. Name the corners in the order you come to them, going round.",
            a + 1,
            b + 1
        ));
    }
    let exact = (
        points.iter().map(|p| p.0).collect(),
        points.iter().map(|p| p.1).collect(),
    );
    Ok(Shape { points, exact, off: 0 })
}

fn of_sides(sides: &Sides) -> Result<Shape, String> {
    let all = sides.sides.iter().chain(&sides.diagonal);
    if all.clone().any(|l| !l.is_positive() || *l > Length::MAX) {
        return Err("Every side and the diagonal are more than 0 and at most 200 m.".into());
    }
    let length = |n: usize| sides.sides[n].units();
    match (sides.sides.len(), sides.diagonal) {
        (3, None) => {
            let (a, b, c) = (length(0), length(1), length(2));
            let Some((along, across)) = apex(a, c, b) else {
                return Err("These three sides do not close: the longest must be shorter than the two others together. Measure them again.".into());
            };
            Ok(rounded(vec![(0.0, 0.0), (0.0, a as f64), (across, along)]))
        }
        (3, Some(_)) => Err("A triangle needs no diagonal. Clear it, or give the fourth side.".into()),
        (4, Some(diagonal)) => {
            let (a, b, c, e, d) = (length(0), length(1), length(2), length(3), diagonal.units());
            let Some((along, across)) = apex(a, d, b) else {
                return Err("Sides 1 and 2 do not close with the diagonal, which runs from where side 1 begins to where side 2 ends. Measure them again.".into());
            };
            let Some((on, beside)) = apex(d, e, c) else {
                return Err("Sides 3 and 4 do not close with the diagonal, which runs from where side 1 begins to where side 2 ends. Measure them again.".into());
            };
            // On the other side of the diagonal than the corner between sides 1 and 2.
            let d = d as f64;
            let fourth = ((on * across + beside * along) / d, (on * along - beside * across) / d);
            Ok(rounded(vec![(0.0, 0.0), (0.0, a as f64), (across, along), fourth]))
        }
        (4, None) => Err("Four sides alone can lean either way: measure a diagonal too, from where side 1 begins to where side 2 ends.".into()),
        (n, _) => Err(format!("Give three sides, or four and a diagonal; {n} are given. For more corners, give the place of each.")),
    }
}

/// Over a base of `base`: how far along it the corner stands that is `left`
/// from its start and `right` from its end, and how far from it. `None` where
/// the three do not close. Exact but for one root and one division.
fn apex(base: i64, left: i64, right: i64) -> Option<(f64, f64)> {
    let square = |n: i64| i128::from(n) * i128::from(n);
    let doubled = square(base) + square(left) - square(right);
    let under = 4 * square(base) * square(left) - doubled * doubled;
    let root = u128::try_from(under).ok().filter(|n| *n > 0)?.isqrt();
    let twice = 2.0 * base as f64;
    Some((doubled as f64 / twice, root as f64 / twice))
}

/// Rounded to whole units, so no line through them is as measured: a corner
/// may lie a hair beyond the end of the first side.
fn rounded(corners: Vec<(f64, f64)>) -> Shape {
    let points: Vec<(i64, i64)> = corners
        .into_iter()
        .map(|(x, y)| (x.round() as i64, y.round() as i64))
        .collect();
    Shape {
        points: in_the_corner(points),
        exact: (Vec::new(), Vec::new()),
        off: 2,
    }
}

fn in_the_corner(mut points: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    let x = points.iter().map(|p| p.0).min().unwrap_or(0);
    let y = points.iter().map(|p| p.1).min().unwrap_or(0);
    for p in &mut points {
        *p = (p.0 - x, p.1 - y);
    }
    points
}

/// Two edges that touch, besides neighbours at their common corner; an edge
/// without length touches itself.
fn crossing(points: &[(i64, i64)]) -> Option<(usize, usize)> {
    let all: Vec<_> = edges(points).collect();
    let n = all.len();
    for (i, (a, b)) in all.iter().enumerate() {
        if a == b {
            return Some((i, (i + 1) % n));
        }
        for (j, (c, d)) in all.iter().enumerate().skip(i + 1) {
            let wrong = if b == c && j == i + 1 {
                folds_back(*a, *b, *d)
            } else if d == a && i == 0 && j == n - 1 {
                folds_back(*c, *d, *b)
            } else {
                touch((*a, *b), (*c, *d))
            };
            if wrong {
                return Some((i, j));
            }
        }
    }
    None
}

fn side_of(a: (i64, i64), b: (i64, i64), p: (i64, i64)) -> i128 {
    let part = |u: i64, v: i64, w: i64, z: i64| i128::from(u - v) * i128::from(w - z);
    part(b.0, a.0, p.1, a.1) - part(b.1, a.1, p.0, a.0)
}

/// From a to b and back over the same line.
fn folds_back(a: (i64, i64), b: (i64, i64), c: (i64, i64)) -> bool {
    let ahead = i128::from(b.0 - a.0) * i128::from(c.0 - b.0) + i128::from(b.1 - a.1) * i128::from(c.1 - b.1);
    side_of(a, b, c) == 0 && ahead < 0
}

fn touch((a, b): ((i64, i64), (i64, i64)), (c, d): ((i64, i64), (i64, i64))) -> bool {
    let sides = [
        side_of(a, b, c).signum(),
        side_of(a, b, d).signum(),
        side_of(c, d, a).signum(),
        side_of(c, d, b).signum(),
    ];
    if sides[0] * sides[1] < 0 && sides[2] * sides[3] < 0 {
        return true;
    }
    let on = |p: (i64, i64), q: (i64, i64), r: (i64, i64)| {
        (p.0.min(q.0)..=p.0.max(q.0)).contains(&r.0) && (p.1.min(q.1)..=p.1.max(q.1)).contains(&r.1)
    };
    (sides[0] == 0 && on(a, b, c))
        || (sides[1] == 0 && on(a, b, d))
        || (sides[2] == 0 && on(c, d, a))
        || (sides[3] == 0 && on(c, d, b))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

    fn corners(list: &[(i64, i64)]) -> Outline {
        let corner = |(x, y): &(i64, i64)| Corner {
            across: INCH * *x,
            along: INCH * *y,
        };
        Outline::Corners(list.iter().map(corner).collect())
    }

    fn sides(list: &[i64], diagonal: Option<i64>) -> Outline {
        Outline::Sides(Sides {
            sides: list.iter().map(|n| INCH * *n).collect(),
            diagonal: diagonal.map(|n| INCH * n),
        })
    }

    #[test]
    fn known_triangles_and_quadrilaterals() {
        // 3, 4, 5: the right angle at the end of the first side.
        let shape = of(&sides(&[3, 4, 5], None)).unwrap_or_else(|e| panic!("{e}"));
        let inch = INCH.units();
        assert_eq!(shape.points, [(0, 0), (0, 3 * inch), (4 * inch, 3 * inch)]);
        let (area, exact) = (shape.area(), Area::of(INCH * 3, INCH * 2));
        assert!(area <= exact && exact.square_inches() - area.square_inches() < 0.01);
        // A rectangle of 6 by 8: diagonal 10.
        let shape = of(&sides(&[6, 8, 6, 8], Some(10))).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(
            shape.points,
            [(0, 0), (0, 6 * inch), (8 * inch, 6 * inch), (8 * inch, 0)]
        );
        // A dart: the fourth corner lies inside the angle of the others.
        assert!(of(&sides(&[10, 10, 7, 7], Some(12))).is_ok());
    }

    #[test]
    fn what_does_not_close_is_refused_with_a_sentence() {
        for (outline, part) in [
            (sides(&[3, 4, 7], None), "do not close"),
            (sides(&[3, 4, 5], Some(5)), "needs no diagonal"),
            (sides(&[6, 8, 6, 8], None), "measure a diagonal"),
            (sides(&[6, 8, 6, 8], Some(15)), "Sides 1 and 2"),
            (sides(&[6, 8, 1, 2], Some(10)), "Sides 3 and 4"),
            (sides(&[6, 0, 6], None), "more than 0"),
            (sides(&[6; 5], None), "5 are given"),
            (corners(&[(0, 0), (1, 1)]), "has 2"),
            (corners(&[(0, 0), (4, 4), (4, 0), (0, 4)]), "corner 1 and corner 3"),
            (corners(&[(0, 0), (4, 0), (2, 0)]), "meet"),
            (corners(&[(0, 0), (0, 0), (4, 0), (2, 3)]), "meet"),
            (corners(&[(0, 0), (-1, 0), (2, 3)]), "Corner 2"),
        ] {
            let said = of(&outline).err().unwrap_or_default();
            assert!(said.contains(part), "{outline:?}: {said}");
        }
    }
}
