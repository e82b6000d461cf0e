//! Quilting take-up, measured before and after.

use crate::plans::{bare, cloth, figures, inches, piece};
use notchbook::measure::{INCH, Length, Percent};
use notchbook::plan::{Face, Layers, Piece};

/// Unwashed quilts. Along Came Quilting, Quilting shrinkage,
/// alongcamequilting.com/blogs/blog/quilting-shrinkage. before, after and
/// per cent (in hundredths), of one side.
const MEASURED: [(f64, f64, i64); 9] = [
    (57.0, 56.0, 175),
    (62.0, 61.25, 121),
    (83.0, 80.0, 361),
    (105.0, 102.0, 286),
    (57.0, 55.5, 263),
    (68.0, 66.5, 221),
    (66.75, 64.75, 300),
    (84.625, 82.75, 222),
    (69.0, 67.25, 254),
];

/// A piece that must measure what was left takes about what was there before.
#[test]
fn measured_quilts() {
    for (before, after, percent) in MEASURED {
        let mut plan = bare();
        plan.cloths = vec![cloth("c1", INCH * 120)];
        plan.pieces = vec![Piece {
            layers: Some(Layers::default()),
            take_up: Percent::hundredths(percent),
            ..piece(inches(after), INCH * 20, Face::plain("c1"))
        }];
        let figures = figures(&plan);
        let worked = &figures.pieces[0];
        let off = (worked.needed_before.width - inches(before)).abs();
        assert!(
            off <= Length::inches_frac(1, 100),
            "{before}: {:?}",
            worked.needed_before.width
        );
        let left = worked.panel.as_ref().unwrap().after.width;
        assert!(left >= inches(after), "{left:?} left of {before}");
    }
}

/// Without batting or backing nothing is quilted, and nothing is taken up.
#[test]
fn only_what_is_quilted() {
    let mut plan = bare();
    plan.cloths = vec![cloth("c1", INCH * 120)];
    plan.pieces = vec![Piece {
        take_up: Percent::whole(3),
        ..piece(INCH * 20, INCH * 20, Face::plain("c1"))
    }];
    assert_eq!(figures(&plan).pieces[0].needed_before.width, INCH * 20);
}
