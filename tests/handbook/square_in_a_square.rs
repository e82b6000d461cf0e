//! A square on its point in a square.

use crate::cut_sizes::TRADE;
use crate::plans::{bare, cloth, figures, inches, piece};
use notchbook::figures::Shape;
use notchbook::measure::{INCH, QUARTER};
use notchbook::plan::{Arrangement, Face, Patchwork, Unit, UnitKind};

/// Finished centre and the square for two of its corners, centre / 1.414 up to
/// 1/8 and 7/8. 4 in: Marcia Hohn, Square in a square,
/// quilterscache.com/S/SquareinSquareBlock_Page2.html, also
/// scrapish.com/corner-triangles-for-setting-blocks-on-point.html. 6 in: the rule
/// as quoted on the quiltube forum.
#[test]
fn the_printed_rows() {
    for (centre, corner) in [(4, 3.75), (6, 5.125)] {
        assert_eq!(TRADE.corners_round(INCH * centre), inches(corner), "{centre}");
    }
}

/// 4 1/2 in: Scrapish prints 4 1/4, rounded up to quarters; up to eighths 4 1/8.
#[test]
fn rounded_to_quarters() {
    let ours = TRADE.corners_round(inches(4.5));
    assert_eq!(ours, inches(4.125));
    assert_eq!(ours.ceil_to(QUARTER), inches(4.25));
}

/// Sewn and flipped from a 12 1/2 in square and four of 6 1/2 in: a 12 in unit
/// (quilterscache.com, the same page). Of the corners cut as triangles each
/// takes less cloth, and the whole comes out the same size.
#[test]
fn a_twelve_inch_unit() {
    let squares = TRADE.square_in_a_square(INCH * 12);
    assert_eq!(TRADE.trim_to(INCH * 12), inches(12.5));
    // Derived: the centre finishes at 12 / sqrt 2 = 8.485, the corners at 6.
    assert_eq!(squares.centre, INCH * 9);
    assert_eq!(squares.corner, inches(6.875));
    let flipped = 4.0 * 6.5 * 6.5;
    let corner = squares.corner.as_inches_f64();
    assert!(2.0 * corner * corner < flipped);
}

/// Derived: a unit takes one centre and four corners, two squares.
#[test]
fn in_a_plan() {
    let mut plan = bare();
    let face = Face::Patchwork(Patchwork {
        finished: INCH * 6,
        arrangement: Arrangement::AllAlike,
        units: vec![Unit::new(UnitKind::SquareInASquare, vec!["c1".into(), "c2".into()])],
        ..Default::default()
    });
    plan.pieces = vec![piece(INCH * 18, INCH * 6, face)];
    plan.cloths = vec![cloth("c1", INCH * 42), cloth("c2", INCH * 42)];
    let figures = figures(&plan);
    let patches = &figures.pieces[0].panel.as_ref().unwrap().patches;
    let of = |n: usize| {
        let p = &patches[n];
        (p.shape, p.cut.width, p.patches, p.cuts)
    };
    // 6 / sqrt 2 + 1/2 = 4.74; 3 + 7/8.
    assert_eq!(of(0), (Shape::Square, inches(4.75), 3, 3));
    assert_eq!(of(1), (Shape::HalfSquareTriangle, inches(3.875), 12, 6));
}
