//! The classic table of how much cloth of another width does instead. A table
//! to look up, not a law: the program does not use it, it lays the cuts out
//! anew on every width. What can be checked is what its reader counts on.

use crate::plans::{bare, cloth, eighths, figures, piece};
use notchbook::measure::{INCH, Length, YARD};
use notchbook::plan::{Face, Plan};

/// Usable width of each column: 36 (printed 35-36), 39, 41 (41 in one copy, 42 in
/// the other), 45 (44-45), 50, 54 (52-54), 60 (58-60), 66 in.
const WIDTHS: [i64; 8] = [36, 39, 41, 45, 50, 54, 60, 66];

/// Eighths of a yard. Sew With Sarah, Fabric conversion chart,
/// sewwithsarah.com/fabric-conversion-chart-pattern-envelopes-dont-have-space-to-include-all-fabric-widths;
/// the same on greenspun.com/bboard/q-and-a-fetch-msg.tcl?msg_id=008fgB, whose
/// first row ends with 1 7/8, a slip for 7/8.
const TABLE: [[i64; 8]; 12] = [
    [14, 12, 12, 11, 10, 9, 8, 7],
    [16, 14, 14, 13, 12, 11, 10, 9],
    [18, 16, 16, 14, 13, 12, 11, 10],
    [20, 18, 18, 17, 14, 14, 13, 12],
    [23, 20, 20, 18, 16, 15, 14, 13],
    [25, 22, 22, 20, 18, 16, 15, 14],
    [27, 24, 23, 22, 19, 18, 16, 15],
    [30, 26, 25, 23, 21, 19, 18, 17],
    [34, 28, 27, 25, 22, 21, 19, 18],
    [36, 30, 29, 27, 24, 22, 21, 20],
    [38, 32, 31, 29, 26, 23, 22, 21],
    [40, 34, 33, 31, 27, 25, 23, 22],
];

#[test]
fn wider_cloth_takes_no_more_and_more_takes_more() {
    for row in TABLE {
        assert!(row.windows(2).all(|w| w[0] >= w[1]), "{row:?}");
    }
    for column in 0..8 {
        assert!(
            TABLE.windows(2).all(|rows| rows[0][column] < rows[1][column]),
            "{column}"
        );
    }
}

/// Single cells printed elsewhere: 2 yd of 36 in are 1 5/8 of 45 and 1 3/8 of 54
/// (reference.com).
#[test]
fn cells_printed_elsewhere() {
    assert_eq!((TABLE[1][0], TABLE[1][3], TABLE[1][5]), (16, 13, 11));
}

/// It is not the area: rounded up to 1/8 yd that gives 27 of the 84 cells
/// beside the first column, and mostly more than the table.
#[test]
fn it_is_not_the_area() {
    let (mut same, mut below) = (0, 0);
    for row in TABLE {
        for (width, printed) in WIDTHS.into_iter().zip(row).skip(1) {
            let by_area = (YARD.scale_up(row[0], 8) * 36).scale_up(1, width);
            let by_area = by_area.ceil_to(YARD.scale_up(1, 8));
            let printed = YARD.scale_up(printed, 8);
            same += i32::from(printed == by_area);
            below += i32::from(printed < by_area);
        }
    }
    assert_eq!(same, 27);
    assert!(below > 84 / 2, "{below}");
}

/// A garment of plain pieces that takes 3 1/8 yd of 36 in cloth.
fn garment(width: i64) -> Plan {
    let mut plan = bare();
    plan.allowances.straightening = INCH;
    let sizes = [(2, 24, 30), (1, 30, 32), (2, 15, 20), (2, 8, 10), (1, 6, 32)];
    for (n, (count, wide, high)) in sizes.into_iter().enumerate() {
        plan.pieces.push(notchbook::plan::Piece {
            id: format!("p{n}"),
            name: format!("Piece {n}"),
            cut_count: count,
            ..piece(INCH * wide, INCH * high, Face::plain("c1"))
        });
    }
    plan.cloths = vec![cloth("c1", INCH * width)];
    plan
}

/// What the table is for, by layouts: a wider cloth takes no more, and never
/// less than its area.
#[test]
fn the_other_widths_of_a_garment() {
    let plan = garment(36);
    let area: i64 = 2 * 24 * 30 + 30 * 32 + 2 * 15 * 20 + 2 * 8 * 10 + 6 * 32;
    let cloth = &figures(&plan).cloths[0];
    let mut last = cloth.to_buy_if_none_owned;
    assert!(cloth.other_widths.len() >= 7);
    for other in &cloth.other_widths {
        assert!(other.to_buy <= last, "{:?}", cloth.other_widths);
        let least = (INCH * area).scale_up(INCH.units(), other.width.units()) + INCH;
        assert!(other.to_buy >= least, "{other:?}");
        assert_eq!(other.to_buy.units() % eighths(36).units(), 0);
        last = other.to_buy;
    }
    // The same by a plan that has that width.
    for width in [42, 60] {
        let of = |w: Length| cloth.other_widths.iter().find(|o| o.width == w).unwrap().to_buy;
        assert!(figures(&garment(width)).cloths[0].to_buy <= of(INCH * width), "{width}");
    }
}
