//! Remnants with an outline: what is counted on lies inside them, checked anew
//! in floating point from what was measured; it never overlaps and is never
//! more than there is.

use crate::{cases, plans};
use notchbook::figures::{OutlineFigures, outline};
use notchbook::measure::INCH;
use notchbook::plan::{Cloth, Outline, Remnant, Sides};
use proptest::prelude::*;

type Point = (f64, f64);
type Box4 = (f64, f64, f64, f64);

/// The corners in inches, the first where the program has it (in whole units;
/// the others may be off by one); sides by the law of cosines and angles, not as
/// the program does it.
fn corners(of: &Outline, figures: &OutlineFigures) -> Vec<Point> {
    let inches = |l: notchbook::measure::Length| l.as_inches_f64();
    let all: Vec<Point> = match of {
        Outline::Corners(list) => list.iter().map(|c| (inches(c.across), inches(c.along))).collect(),
        Outline::Sides(Sides { sides, diagonal }) => {
            let s: Vec<f64> = sides.iter().map(|l| inches(*l)).collect();
            let angle = |beside: f64, other: f64, opposite: f64| {
                ((beside * beside + other * other - opposite * opposite) / (2.0 * beside * other)).acos()
            };
            // Angles from the grain, which runs along.
            let at = |long: f64, angle: f64| (long * angle.sin(), long * angle.cos());
            let from_start = diagonal.map_or(s[2], inches);
            let first = angle(s[0], from_start, s[1]);
            let mut points = vec![(0.0, 0.0), at(s[0], 0.0), at(from_start, first)];
            if diagonal.is_some() {
                points.push(at(s[3], first + angle(from_start, s[3], s[2])));
            }
            points
        }
    };
    let first = figures.corners[0];
    let (x, y) = (inches(first.x) - all[0].0, inches(first.y) - all[0].1);
    let all: Vec<Point> = all.iter().map(|p| (p.0 + x, p.1 + y)).collect();
    for (p, said) in all.iter().zip(&figures.corners) {
        let off = (p.0 - inches(said.x)).abs().max((p.1 - inches(said.y)).abs());
        assert!(off < 0.0001, "{off} in off: {p:?} {said:?}");
    }
    all
}

fn area(points: &[Point]) -> f64 {
    let next = points.iter().cycle().skip(1);
    let twice: f64 = points.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    twice.abs() / 2.0
}

/// Whether a line from a to b passes through the inside of a rectangle.
fn passes(a: Point, b: Point, (left, top, right, bottom): Box4) -> bool {
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for (start, step, low, high) in [(a.0, b.0 - a.0, left, right), (a.1, b.1 - a.1, top, bottom)] {
        if step == 0.0 {
            if start <= low || start >= high {
                return false;
            }
            continue;
        }
        let (one, other) = ((low - start) / step, (high - start) / step);
        from = from.max(one.min(other));
        to = to.min(one.max(other));
    }
    from < to
}

fn holds(points: &[Point], p: Point) -> bool {
    let next = points.iter().cycle().skip(1);
    let crossed = points
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.1 > p.1) != (b.1 > p.1) && p.0 < (b.0 - a.0) * (p.1 - a.1) / (b.1 - a.1) + a.0);
    crossed.count() % 2 == 1
}

/// What is wrong with the rectangles of an outline.
pub fn fault(of: &Outline, figures: &OutlineFigures) -> Option<String> {
    // A hair, so that a rectangle may lie against an edge.
    const HAIR: f64 = 1e-6;
    let points = corners(of, figures);
    let boxes: Vec<Box4> = figures
        .rectangles
        .iter()
        .map(|r| {
            let [x, y, w, h] = [r.x, r.y, r.width, r.height].map(|l| l.as_inches_f64());
            (x, y, x + w, y + h)
        })
        .collect();
    let mut sum = 0.0;
    for (n, (left, top, right, bottom)) in boxes.iter().copied().enumerate() {
        sum += (right - left) * (bottom - top);
        let inner = (left + HAIR, top + HAIR, right - HAIR, bottom - HAIR);
        if !holds(&points, (f64::midpoint(left, right), f64::midpoint(top, bottom))) {
            return Some(format!("rectangle {n} is outside"));
        }
        let next = points.iter().cycle().skip(1);
        if let Some((a, b)) = points.iter().zip(next).find(|(a, b)| passes(**a, **b, inner)) {
            return Some(format!("rectangle {n} is crossed by the edge {a:?} {b:?}"));
        }
        for (m, other) in boxes.iter().enumerate().skip(n + 1) {
            if left < other.2 - HAIR && other.0 < right - HAIR && top < other.3 - HAIR && other.1 < bottom - HAIR {
                return Some(format!("rectangles {n} and {m} overlap"));
            }
        }
    }
    let there = area(&points);
    if sum > there + HAIR {
        return Some(format!("{sum} of {there} square inches"));
    }
    let said = figures.area.square_inches();
    if said > there + HAIR || said < there * 0.99 - 0.1 {
        return Some(format!("the area is {there}, said to be {said}"));
    }
    None
}

/// Every rectangle the leftovers of a cloth are counted as, in the order figures number them.
pub fn at_hand(cloth: &Cloth) -> Vec<Remnant> {
    let mut all = cloth.remnants.clone();
    for one in &cloth.outlined {
        for r in outline(&one.outline).map(|o| o.rectangles).unwrap_or_default() {
            all.push(Remnant {
                width: r.width,
                length: r.height,
                count: one.count,
            });
        }
    }
    all
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn what_is_counted_on_lies_inside(of in plans::outline()) {
        let figures = outline(&of).map_err(TestCaseError::fail)?;
        prop_assert_eq!(fault(&of, &figures), None, "{:?}", of);
    }

    /// An outline that is a rectangle gives all of itself.
    #[test]
    fn a_rectangle_is_all_of_itself(w in plans::inches(2, 60), h in plans::inches(2, 60)) {
        let corner = |across, along| notchbook::plan::Corner { across, along };
        let zero = notchbook::measure::Length::ZERO;
        let of = Outline::Corners(vec![corner(zero, zero), corner(w, zero), corner(w, h), corner(zero, h)]);
        let figures = outline(&of).map_err(TestCaseError::fail)?;
        prop_assert_eq!(figures.rectangles.len(), 1);
        prop_assert_eq!((figures.rectangles[0].width, figures.rectangles[0].height), (w, h));
    }

    /// Half of a triangle with one side on the grain is its largest rectangle:
    /// most of that is found.
    #[test]
    fn much_of_a_triangle_is_found(w in 8..60i64, h in 8..60i64, at in 0..=100i64) {
        let corner = |across: i64, along: i64| notchbook::plan::Corner { across: INCH * across, along: INCH * along };
        let of = Outline::Corners(vec![corner(0, 0), corner(0, h), corner(w, h * at / 100)]);
        let figures = outline(&of).map_err(TestCaseError::fail)?;
        let largest = figures.rectangles.first().map_or(0.0, |r| r.width.as_inches_f64() * r.height.as_inches_f64());
        let half = (w * h) as f64 / 4.0;
        // Each edge may be rounded inward by 1/8 in.
        let rounded = (w as f64 / 2.0 - 0.25) * (h as f64 / 2.0 - 0.25);
        prop_assert!(largest <= half + 1e-6 && largest >= rounded * 0.98, "{largest} of {half}");
    }

    #[test]
    fn any_outline_gives_an_answer(of in plans::wild_outline()) {
        if let Ok(figures) = outline(&of) {
            prop_assert!(figures.rectangles.len() <= 5);
            prop_assert!((0..=100).contains(&figures.percent));
        }
    }
}
