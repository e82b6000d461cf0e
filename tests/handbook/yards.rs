//! Yards, fractions of them, and money by the yard.

use crate::plans::eighths;
use notchbook::measure::{CM, INCH, Length, METRE, Round, Unit, YARD};

/// Fractions of a yard in inches. Cheryl Almgren Taylor, Measurements,
/// atimetosewquilts.com/measurements.htm.
#[test]
fn fractions_in_inches() {
    for (typed, printed) in [
        ("1/8 yd", 36),
        ("1/4 yd", 72),
        ("1/3 yd", 96),
        ("3/8 yd", 108),
        ("1/2 yd", 144),
        ("5/8 yd", 180),
        ("2/3 yd", 192),
        ("3/4 yd", 216),
        ("7/8 yd", 252),
        ("1 yd", 288),
    ] {
        assert_eq!(Length::parse(typed, Unit::Inch), Ok(eighths(printed)), "{typed}");
    }
}

/// The yard is 0.9144 m and the inch 2.54 cm exactly (international agreement of 1959).
#[test]
fn exact_metric() {
    assert_eq!(YARD.units() * 10_000, METRE.units() * 9_144);
    assert_eq!(INCH.units() * 100, CM.units() * 254);
    // A bundle of 40 fat quarters is 9.14 m (sewmucheasier.com/pre-cut-fabric-explained).
    assert_eq!((YARD * 10).metres(Round::Nearest), "9.14 m");
    // 5/8 in is 15.875 mm, called 1.5 cm in the trade; it is not.
    assert_eq!(eighths(5).units() * 1000, 15_875 * 640);
    assert_ne!(eighths(5), CM.scale_up(3, 2));
}

/// To buy is printed up, what is there down.
#[test]
fn printed_to_the_safe_side() {
    assert_eq!((INCH * 28).yards(Round::Up), "7/8 yd");
    assert_eq!((INCH * 28).yards(Round::Down), "3/4 yd");
    assert_eq!((INCH * 27).yards(Round::Up), "3/4 yd");
}
