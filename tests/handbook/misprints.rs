//! Published slips, each of which the figures must NOT reproduce.

use crate::plans::{backed, bound, eighths, figures, inches, length_of_squares};
use notchbook::figures::binding::bias::{Start, bias_strips, bias_total};
use notchbook::figures::binding::{strips_made, strips_needed};
use notchbook::figures::units::Cutting;
use notchbook::measure::{Area, INCH, Length, QUARTER, Unit, YARD};
use notchbook::plan::{BindingCut, CuttingRule, Fold};

/// "4 inches all round" is 8 on each dimension. A shop article adds 4 in all:
/// 51 x 61 becomes 55 x 65 (Missouri Star Quilt Co.). Right is 59 x 69.
#[test]
fn four_inches_all_round_is_eight() {
    let plan = backed((INCH * 51, INCH * 61), INCH * 108, false);
    let size = figures(&plan).pieces[0].backing.unwrap();
    assert_ne!((size.width, size.height), (INCH * 55, INCH * 65));
    assert_eq!((size.width, size.height), (INCH * 59, INCH * 69));
}

/// 20 in / 2 1/2 in = 8 bias strips of 44 in = 352 in from 31 x 20 in (a forum
/// post): the lines are w * sqrt 2 apart, and the area allows 248 in at most.
#[test]
fn bias_lines_are_farther_apart_than_the_strip_is_wide() {
    let strip = inches(2.5);
    let most = Area::of(INCH * 31, INCH * 20).length_at(strip);
    assert_eq!(most, INCH * 248);
    for start in [Start::Corner, Start::Middle] {
        let strips = bias_strips(INCH * 31, INCH * 20, strip, INCH * 4, start);
        let long: Length = strips.iter().map(|s| s.length * s.count).sum();
        assert!(long <= most, "{long:?}");
        assert!(bias_total(&strips) < INCH * 248);
        assert!(bias_total(&strips) > INCH * 120, "{:?}", bias_total(&strips));
    }
}

/// 11 strips of 2 1/2 in are 27 1/2 in, more than 3/4 yd (quiltingboard t189575
/// says 26 1/2 in and 3/4 yd).
#[test]
fn eleven_strips_are_more_than_three_quarters_of_a_yard() {
    let cloth = inches(2.5) * strips_needed(INCH * 424, INCH * 40);
    assert_ne!(cloth, inches(26.5));
    assert_eq!(cloth, inches(27.5));
    let step = YARD.scale_up(1, 8);
    assert!(cloth > YARD.scale_up(3, 4));
    assert_eq!(cloth.ceil_to(step), YARD.scale_up(7, 8));
}

/// 35 seven-inch squares from a yard of 44 in (quilterscache.com math charts): 6 x 5 = 30.
#[test]
fn thirty_seven_inch_squares_to_the_yard() {
    assert!(length_of_squares(35, INCH * 7, INCH * 44) > YARD);
    assert!(length_of_squares(30, INCH * 7, INCH * 44) <= YARD);
    assert!(length_of_squares(31, INCH * 7, INCH * 44) > YARD);
}

/// 180 in of 3 1/2 in binding from 42 in cloth: 4.29 strips are 5, so 17 1/2 in,
/// not 15 (Cotton Patch Fabrics).
#[test]
fn strips_are_whole_before_they_are_multiplied() {
    let strips = strips_needed(INCH * 180, INCH * 42);
    assert_eq!(strips, 5);
    assert_eq!(inches(3.5) * strips, inches(17.5));
    assert!(inches(3.5) * strips > INCH * 15);
    // Through a plan: whole strips, with the joins.
    let plan = bound(INCH * 170, 4, INCH * 42, eighths(5), Fold::Double, BindingCut::Straight);
    let binding = figures(&plan).binding.unwrap();
    assert_eq!(binding.total, INCH * 180);
    assert_eq!(binding.rectangle.height.units() % binding.strip_width.units(), 0);
    assert!(strips_made(binding.strips[0].count, INCH * 42, binding.strip_width) >= INCH * 180);
}

/// A half-square triangle 2 in finished is cut from 2 7/8 in; 3 3/8 is printed
/// on stockingisthenewplanking.com and bkkquilt.com (reposts).
#[test]
fn two_inch_triangles() {
    let cutting = Cutting {
        seam: QUARTER,
        rule: CuttingRule::Trade,
        unit: Unit::Inch,
    };
    assert_ne!(cutting.half_square(INCH * 2), inches(3.375));
    assert_eq!(cutting.half_square(INCH * 2), inches(2.875));
}

/// 1/8 yd is 4 1/2 in, not "4/5" (quiltersresources.com/measurements.html).
#[test]
fn an_eighth_of_a_yard() {
    let eighth = Length::parse("1/8 yd", Unit::Inch).unwrap();
    assert_ne!(eighth, Length::inches_frac(4, 5));
    assert_eq!(eighth, inches(4.5));
}

/// A fat quarter gives 56 squares of 2 1/2 in and 12 of 5 in; 55 and 15 are
/// printed on quiltersresources.com/measurements.html.
#[test]
fn fat_quarters() {
    assert!(length_of_squares(56, inches(2.5), INCH * 22) <= INCH * 18);
    assert!(length_of_squares(15, INCH * 5, INCH * 22) > INCH * 18);
    assert!(length_of_squares(12, INCH * 5, INCH * 22) <= INCH * 18);
}

/// 45 in cloth gives 20 squares of 8 in, 9 of 12 and 6 of 15; 25, 12 and 4 are
/// printed (quiltville.blogspot.com 2005).
#[test]
fn squares_from_45_inches() {
    for (side, right, printed) in [(8, 20, 25), (12, 9, 12), (15, 6, 4)] {
        let fits = |count| length_of_squares(count, INCH * side, INCH * 45) <= YARD;
        assert!(fits(right) && !fits(right + 1), "{side}");
        assert_ne!(right, printed);
    }
}

/// Backing for a double bed of 81 x 96 in from 40 in cloth: 3 lengths of 89 in,
/// 7 1/2 yd by eighths, where a shop's rule of thumb says 6 (parkbenchquiltshop.com/faq).
#[test]
fn a_double_bed_takes_more_than_six_yards() {
    let plan = backed((INCH * 81, INCH * 96), INCH * 40, false);
    let cloth = &figures(&plan).cloths[0];
    assert!(cloth.to_buy > YARD * 6);
    assert_eq!(cloth.length, INCH * 89 * 3);
    assert_eq!(cloth.to_buy, YARD.scale_up(15, 2));
}

/// 4F + 1 for a double-fold binding of 3/4 or 1 in finished is narrower than
/// the six layers of it (alongcamequilting.com prints 4 and 5 in), and 1/8 in
/// are needed besides for the turn.
#[test]
fn wide_double_bindings() {
    for (finished, printed, needed) in [(6, 4.0, 4.625), (8, 5.0, 6.125)] {
        let plan = bound(
            INCH * 200,
            4,
            INCH * 42,
            eighths(finished),
            Fold::Double,
            BindingCut::Straight,
        );
        let strip = figures(&plan).binding.unwrap().strip_width;
        assert_ne!(strip, inches(printed));
        assert_eq!(strip, inches(needed));
    }
}
