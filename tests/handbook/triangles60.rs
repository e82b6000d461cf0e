//! Equilateral triangles from strips.

use crate::cut_sizes::TRADE;
use crate::plans::inches;
use notchbook::figures::units::{Cutting, height60, side60};
use notchbook::measure::{EIGHTH, INCH, SIXTEENTH};
use notchbook::plan::CuttingRule;

/// Strip = finished height + 3/4, every cut side = finished side + 7/8. Janet
/// Wickell, quilting.about.com/od/rotarycuttingskills/ss/cutting_shapes_5.htm.
#[test]
fn the_rule() {
    for (height, strip) in [(2.0, 2.75), (3.0, 3.75), (4.5, 5.25), (6.0, 6.75)] {
        assert_eq!(TRADE.triangle60_strip(inches(height)), inches(strip), "{height}");
    }
    for (side, cut) in [(2.0, 2.875), (3.0, 3.875), (4.0, 4.875), (6.0, 6.875)] {
        assert_eq!(TRADE.triangle60_side(inches(side)), inches(cut), "{side}");
    }
}

/// Derived: 3 seams on the height exactly, 2 sqrt 3 seams on the side, 0.8660 at
/// 1/4 in; height = 0.8660 * side.
#[test]
fn exact_geometry() {
    let exact = Cutting {
        rule: CuttingRule::Exact,
        ..TRADE
    };
    // 0.8660 up to sixteenths.
    assert_eq!(exact.triangle60_side(INCH * 4), INCH * 4 + SIXTEENTH * 14);
    assert!((height60(INCH * 4).as_inches_f64() - 3.4641).abs() < 0.0001);
    for side in 1..=12 {
        let cut = TRADE.triangle60(INCH * side);
        // A strip cut up to a mark gives longer sides: they are what is counted.
        assert!(cut.width >= side60(cut.height));
        assert!(cut.width >= TRADE.triangle60_side(INCH * side));
        assert!(cut.width <= side60(cut.height).max(TRADE.triangle60_side(INCH * side)) + EIGHTH);
    }
}

/// A 5 in square yields a triangle 5 in wide, measured 4 1/4 in high
/// (quiltartdesigns.blogspot.com 2014); geometry says 4.330.
#[test]
fn from_a_five_inch_square() {
    let height = height60(INCH * 5);
    assert!((height.as_inches_f64() - 4.330).abs() < 0.0005);
    assert!(height > inches(4.25) && height < inches(4.25) + EIGHTH);
    assert!(height < INCH * 5);
}
