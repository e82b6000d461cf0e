//! Pre-cut pieces of cloth, as remnants.

use crate::plans::{cloth, inches, only_cloth, squares};
use notchbook::measure::{Area, CM, INCH, Length, Round, YARD};
use notchbook::plan::{Cloth, Remnant};

/// Fat quarter 18 x 22 in, fat eighth 9 x 22 in; of a metric yard called 55 x 45
/// and 55 x 22.5 cm. sewmucheasier.com/pre-cut-fabric-explained, bloomeriefabrics.com.
/// Half a yard by half of 44 in; exactly 55.88 x 45.72 cm.
#[test]
fn fat_quarters_and_eighths() {
    assert_eq!(
        (YARD.scale_up(1, 2), (INCH * 44).scale_up(1, 2)),
        (INCH * 18, INCH * 22)
    );
    assert_eq!(YARD.scale_up(1, 4), INCH * 9);
    for (inches, called, exact) in [(22, 55, 5588), (18, 45, 4572)] {
        let length = INCH * inches;
        assert_eq!(length.units() * 100, CM.units() * exact);
        // What it is called is less than what is there.
        assert!(CM * called < length);
    }
    // Narrow cloth: 20 or 21 in. Whole squares of 5 in are no fewer.
    for width in [20, 21, 22] {
        assert_eq!(placed(INCH * width, INCH * 18, inches(5.0)), 12, "{width}");
    }
    assert_eq!((YARD.scale_up(1, 4) * 40).metres(Round::Nearest), "9.14 m");
}

/// Squares of a side from one such remnant.
fn placed(width: Length, length: Length, side: Length) -> usize {
    let of = Cloth {
        remnants: vec![Remnant {
            width,
            length,
            count: 1,
        }],
        ..cloth("c1", INCH * 42)
    };
    let figures = only_cloth(&squares(400, side, of));
    let sheets = figures.layout.sheets.iter().filter(|s| s.remnant.is_some());
    sheets.flat_map(|s| &s.strips).map(|s| s.placed.len()).sum()
}

/// One yard of 42 in is 1512 square inches. quiltingreadersgarden.blogspot.com.
#[test]
fn a_yard_in_square_inches() {
    assert_eq!(Area::of(YARD, INCH * 42).length_at(INCH), INCH * 1512);
}

/// A roll of strips: 2 1/2 in by the width of the cloth; squares of 10, 5 and
/// 2 1/2 in. sewmucheasier.com, polkadotchair.com. (Derived: what one gives.)
#[test]
fn strips_and_squares() {
    assert_eq!(placed(INCH * 42, inches(2.5), inches(2.5)), 16);
    assert_eq!(placed(INCH * 10, INCH * 10, inches(5.0)), 4);
    assert_eq!(placed(INCH * 10, INCH * 10, inches(2.5)), 16);
}
