//! Radii of circle and part-circle pieces.

use notchbook::drafting::circle_radius;
use notchbook::measure::{CM, INCH, Length, MM};
use notchbook::plan::CirclePart as Circle;

/// smartpatternmaking.com/pages/circle-skirt-formula, printed with 6.28 for
/// twice pi: edge and radius in hundredths of a centimetre.
const CENTIMETRES: [(i64, Circle, i64); 3] = [
    (11_000, Circle::Whole, 1752),
    (11_400, Circle::Whole, 1815),
    (11_200, Circle::Half, 3567),
];

/// prettyquirkypants.com 2014, a waist of 26 in, and the first source's 44 in:
/// edge in inches, radius as printed, in hundredths, and how finely it is printed.
const INCHES: [(i64, Circle, i64, i64); 5] = [
    (26, Circle::Whole, 413, 1),
    (26, Circle::Half, 820, 10),
    (26, Circle::Third, 1240, 10),
    (26, Circle::Quarter, 1656, 1),
    (44, Circle::Whole, 700, 10),
];

fn apart(a: Length, b: Length) -> Length {
    (a - b).abs()
}

#[test]
fn printed_radii_come_out() {
    for (edge, circle, radius) in CENTIMETRES {
        let got = circle_radius(CM.scale_down(edge, 100), circle);
        // 6.28 in place of twice pi makes the printed radius 0.05 % too large.
        assert!(
            apart(got, CM.scale_down(radius, 100)) <= MM.scale_up(3, 10),
            "{edge} {circle:?}: {got:?}"
        );
    }
    for (edge, circle, radius, step) in INCHES {
        let got = circle_radius(INCH * edge, circle);
        assert!(
            apart(got, INCH.scale_down(radius, 100)) <= INCH.scale_up(step, 100),
            "{edge} {circle:?}: {got:?}"
        );
    }
}

#[test]
fn the_opening_is_never_cut_too_large() {
    for eighths in 1..2000 {
        let edge = INCH.scale_down(eighths, 8);
        let radius = circle_radius(edge, Circle::Whole);
        assert!(radius.as_mm_f64() * std::f64::consts::TAU <= edge.as_mm_f64());
        assert!((radius + MM).as_mm_f64() * std::f64::consts::TAU > edge.as_mm_f64());
    }
}
