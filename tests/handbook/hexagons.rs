//! Hexagons.

use crate::cut_sizes::TRADE;
use crate::plans::{inches, length_of_squares};
use notchbook::figures::units::{Cutting, flat_to_flat};
use notchbook::measure::{EIGHTH, INCH, Length, YARD};

/// A hexagon paper with 1 in sides measures 1 3/4 in flat to flat: Debby Kratovil
/// 2020, debbykratovilquilts.blogspot.com. The square root of 3 is 1.732.
#[test]
fn flat_to_flat_of_one_inch() {
    let flat = flat_to_flat(INCH);
    assert!((flat.as_inches_f64() - 1.732).abs() < 0.0005);
    assert_eq!(flat.round_to(EIGHTH), inches(1.75));
}

/// English paper piecing, 1 in hexagons from 2 1/2 in strips: the seam is 3/8 in.
/// 16 to 18 patches of 2 1/2 in a strip; 420 / 18 = 23.33, so 24 strips, 60 in,
/// 1 2/3 yd. faeriesandfibres.blogspot.ca 2014.
#[test]
fn strips_of_one_inch_hexagons() {
    let basted = Cutting {
        seam: EIGHTH * 3,
        ..TRADE
    };
    assert_eq!(basted.hexagon(INCH).height, inches(2.5));
    // 18 of 2 1/2 in stand in 45 in, 16 in 40 in.
    let strip = inches(2.5);
    assert_eq!((INCH * 45).times_fits(strip), 18);
    assert_eq!((INCH * 40).times_fits(strip), 16);
    let length = length_of_squares(420, strip, INCH * 45);
    assert_eq!(length, strip * 24);
    assert_eq!(length, INCH * 60);
    assert_eq!(length, YARD.scale_up(5, 3));
}

/// Area of a hexagon 3 sqrt 3 / 2 s^2: side 2.5 -> 16.24 sq in; three of them
/// 48.72 / 1512 = 0.032 yd of 42 in cloth. quiltingreadersgarden.blogspot.com
/// 2018. Here from the figures: flat to flat times one side and a half.
#[test]
fn area() {
    let side = inches(2.5);
    let area = flat_to_flat(side).as_inches_f64() * side.as_inches_f64() * 1.5;
    assert!((area - 16.24).abs() < 0.005, "{area}");
    assert!((area * 3.0 - 48.72).abs() < 0.01);
    assert!((area * 3.0 / (42.0 * 36.0) - 0.032).abs() < 0.0005);
    // Three squares of 4 1/2 in would take 0.04 yd.
    assert!((3.0 * 4.5 * 4.5 / (42.0 * 36.0) - 0.04f64).abs() < 0.0005);
}

/// Derived: 1/2 in flat to flat at 1/4 in seams, 0.2887 on every side.
#[test]
fn seams() {
    for side in 1..=6 {
        let cut = TRADE.hexagon(INCH * side);
        let flat = flat_to_flat(INCH * side) + inches(0.5);
        assert!(cut.height >= flat && cut.height < flat + EIGHTH);
        let side_as_cut = cut.width.as_inches_f64() / 2.0;
        assert!(side_as_cut >= side as f64 + 0.2886, "{side_as_cut}");
    }
    assert!(TRADE.hexagon(INCH * 2).height > Length::ZERO);
}
