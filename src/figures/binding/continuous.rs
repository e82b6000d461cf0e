//! One long bias strip cut round a tube that is sewn from a square.
//!
//! The square is cut corner to corner, its triangles are sewn into a
//! parallelogram, lines a strip's width apart are drawn along its bias edges,
//! and it is sewn into a tube with the lines one step out of true.

use super::{Cut, JOIN_SEAM, area_over, least};
use crate::figures::{BiasStrip, Size};
use crate::measure::{CM, INCH, Length, Round, Unit};
use crate::plan::Plan;
use std::f64::consts::SQRT_2;

/// What a rectangle gives if nothing were lost: its area over the strip's width.
pub fn continuous_by_law(a: Length, b: Length, strip: Length) -> Length {
    area_over(a, b, strip)
}

/// The side of the square by that law, up to a whole inch: the root of the
/// length times the strip's width, as it is printed everywhere.
pub fn continuous_side_by_law(total: Length, strip: Length) -> Length {
    root_up(total, strip).ceil_to(INCH)
}

/// The practical law: one strip's width is lost along the longer side. For a
/// square s(s - w)/w.
pub fn continuous_practical(a: Length, b: Length, strip: Length) -> Length {
    (area_over(a, b, strip) - a.max(b)).max(Length::ZERO)
}

/// What the tube gives by geometry: whole rounds only (what is left beside the
/// last line is thrown away).
///
/// The first seam joins the triangles end to end along the longer side, so it
/// takes its two allowances from that side before the lines are drawn: in a
/// square that all but holds another round it costs a whole one. The seam of
/// the tube takes its two at 45 degrees from every round.
pub fn continuous_geometric(a: Length, b: Length, strip: Length) -> Length {
    let (short, long) = (a.min(b), a.max(b));
    let spacing = strip.times_irrational_up(SQRT_2);
    let rounds = (long - JOIN_SEAM * 2).times_fits(spacing);
    let round = short.times_irrational_down(SQRT_2) - JOIN_SEAM.times_irrational_up(SQRT_2) * 2;
    (round * rounds).max(Length::ZERO)
}

/// The root of `a * b`, rounded up.
fn root_up(a: Length, b: Length) -> Length {
    let product = (i128::from(a.units().max(0)) * i128::from(b.units().max(0))).unsigned_abs();
    let root = product.isqrt();
    let root = if root * root < product { root + 1 } else { root };
    Length::from_units(i64::try_from(root).unwrap_or(i64::MAX))
}

/// What is counted on: the less of what practice and geometry give.
pub(super) fn made(a: Length, b: Length, strip: Length) -> Length {
    continuous_practical(a, b, strip).min(continuous_geometric(a, b, strip))
}

pub(super) fn cut(plan: &Plan, total: Length, strip: Length, width: Length) -> Result<Cut, String> {
    let unit = plan.unit;
    let step = match unit {
        Unit::Inch => INCH,
        Unit::Cm => CM,
    };
    let most = Length::from_units(i64::MAX / 8);
    let too_much = || "This binding takes more cloth than can be planned. Choose a wider cloth.".to_string();
    let theory = root_up(total, strip);
    let side = least(step, theory, most, |s| made(s, s, strip) >= total).ok_or_else(too_much)?;
    let mut working = vec![format!(
        "By area alone a square of {} would do: the root of {} × {}.",
        theory.both(unit, Round::Up),
        match unit {
            Unit::Inch => total.inches(Round::Up),
            Unit::Cm => total.cm(Round::Up),
        },
        strip.cut_one(unit)
    )];
    let rectangle = if side <= width {
        working.push(format!(
            "Seams and the ends of the tube take about one strip's width along a side, and only whole rounds count: a square of {}.",
            side.both(unit, Round::Up)
        ));
        Size {
            width: side,
            height: side,
        }
    } else {
        let length = least(step, step, most, |l| made(width, l, strip) >= total).ok_or_else(too_much)?;
        working.push(format!(
            "A square of {} is wider than the cloth, so a rectangle {} across and {} along.",
            side.both(unit, Round::Up),
            width.both(unit, Round::Down),
            length.both(unit, Round::Up)
        ));
        Size { width, height: length }
    };
    let made = made(rectangle.width, rectangle.height, strip);
    working.push(format!(
        "The seam of the triangles takes {} from {} before the lines are drawn: {} whole rounds of {}. It gives at least {}.",
        (JOIN_SEAM * 2).both(unit, Round::Nearest),
        if rectangle.width == rectangle.height {
            "one side"
        } else {
            "the longer side"
        },
        (rectangle.width.max(rectangle.height) - JOIN_SEAM * 2).times_fits(strip.times_irrational_up(SQRT_2)),
        strip.cut(unit),
        made.both(unit, Round::Down)
    ));
    Ok(Cut {
        strips: vec![BiasStrip { length: made, count: 1 }],
        joins: 0,
        made,
        rectangle,
        drawn: Vec::new(),
        working,
        cautions: vec![
            "Continuous binding has a seam about every round of the tube; place none of them at a corner.".into(),
        ],
    })
}
