//! Backing: overage on every side, lengths joined where the cloth is narrower.

use crate::plans::{backed, figures};
use notchbook::figures::joined::lengths;
use notchbook::measure::{INCH, Length, YARD};

const HALF: Length = Length::inches_frac(1, 2);

struct Row {
    top: (i64, i64),
    backing: (i64, i64),
    cloth: i64,
    one_way: bool,
    inches: i64,
    /// Shop's step in eighths of a yard, and steps to buy.
    to_buy: (i64, i64),
}

/// - 63 x 78: Julie Baird, generations-quilt-patterns.com/calculating-yardage-for-quilt-back.html
/// - 74 long: katieskitchenblog, up to 1/4 yd (seams up the backing, as printed)
/// - 65 x 78 of 42: quiltingboard.com/7400852-post21.html, by seam direction
/// - 52 x 96 of 43: cherryblossomlove.com (5 1/3 printed; 5 3/8 by eighths)
/// - 59 x 69 of 42: derived; the shop's own article adds 4 in once (see misprints)
///
/// "One way" keeps the seams up the backing, as those rows print them.
const ROWS: [Row; 6] = [
    Row {
        top: (63, 78),
        backing: (71, 86),
        cloth: 40,
        one_way: false,
        inches: 172,
        to_buy: (1, 39),
    },
    Row {
        top: (63, 66),
        backing: (71, 74),
        cloth: 40,
        one_way: true,
        inches: 148,
        to_buy: (2, 17),
    },
    Row {
        top: (57, 70),
        backing: (65, 78),
        cloth: 42,
        one_way: false,
        inches: 130,
        to_buy: (1, 29),
    },
    Row {
        top: (57, 70),
        backing: (65, 78),
        cloth: 42,
        one_way: true,
        inches: 156,
        to_buy: (1, 35),
    },
    Row {
        top: (44, 88),
        backing: (52, 96),
        cloth: 43,
        one_way: true,
        inches: 192,
        to_buy: (1, 43),
    },
    Row {
        top: (51, 61),
        backing: (59, 69),
        cloth: 42,
        one_way: true,
        inches: 138,
        to_buy: (1, 31),
    },
];

#[test]
fn the_printed_rows() {
    for row in &ROWS {
        let mut plan = backed((INCH * row.top.0, INCH * row.top.1), INCH * row.cloth, row.one_way);
        let step = YARD.scale_up(row.to_buy.0, 8);
        plan.allowances.shop_step = step;
        let figures = figures(&plan);
        let size = figures.pieces[0].backing.unwrap();
        assert_eq!((size.width, size.height), (INCH * row.backing.0, INCH * row.backing.1));
        let cloth = &figures.cloths[0];
        assert_eq!(cloth.length, INCH * row.inches, "{:?}", row.backing);
        assert_eq!(cloth.to_buy, step * row.to_buy.1, "{:?}", row.backing);
    }
}

/// Lengths of the cloth: printed as 71 / 40 = 1.775, so 2; with 1/2 in seams each
/// join takes 1 in (Julie Baird, above), which can call for one more.
#[test]
fn seams_take_their_part() {
    assert_eq!(lengths(INCH * 71, INCH * 40, HALF), Some(2));
    assert_eq!(lengths(INCH * 79, INCH * 40, HALF), Some(2));
    assert_eq!(lengths(INCH * 80, INCH * 40, HALF), Some(3));
    assert_eq!(lengths(INCH * 80, INCH * 40, Length::ZERO), Some(2));
    assert_eq!(lengths(INCH * 40, INCH * 40, HALF), Some(1));
}

/// Backing for beds, with 8 in more and 40 in cloth: twin 72 x 90, 2 lengths of
/// 98 in = 5 1/2 yd. Park Bench Quilt Shop, parkbenchquiltshop.com/faq. (Its
/// double and king are too small; see misprints.)
#[test]
fn a_twin_bed() {
    // 80 in wide from two lengths of 40 in leaves nothing for the seam: 41 in.
    let plan = backed((INCH * 72, INCH * 90), INCH * 41, true);
    let cloth = &figures(&plan).cloths[0];
    assert_eq!(cloth.length, INCH * 196);
    assert_eq!(cloth.to_buy, YARD.scale_up(11, 2));
}
