//! How many squares a piece of cloth gives: whole ones across times whole ones
//! along. Each row is laid out: the printed number must fit in the length, and
//! one more must not.

use crate::plans::{cloth, eighths, inches, length_of_squares, only_cloth, squares};
use notchbook::measure::{EIGHTH, INCH, Length, YARD};
use notchbook::plan::{Cloth, Remnant};

/// So many squares of `side` from so much cloth.
struct Row {
    source: &'static str,
    side: f64,
    width: i64,
    length: Length,
    printed: i64,
}

fn table(source: &'static str, width: i64, length: Length, rows: &[(f64, i64)]) -> Vec<Row> {
    let row = |(side, printed): &(f64, i64)| Row {
        source,
        side: *side,
        width,
        length,
        printed: *printed,
    };
    rows.iter().map(row).collect()
}

/// Fat quarter, 18 x 22 in. Marcia Hohn, math charts,
/// quilterscache.com/M/MathChartsPage.html; the same in Pieceful Living 2011.
const FAT_QUARTER: [(f64, i64); 15] = [
    (2.0, 99),
    (2.5, 56),
    (2.875, 42),
    (3.0, 42),
    (3.5, 30),
    (3.875, 20),
    (4.0, 20),
    (4.5, 16),
    (4.875, 12),
    (5.0, 12),
    (5.5, 12),
    (5.875, 9),
    (6.0, 9),
    (6.5, 6),
    (6.875, 6),
];

/// One yard by usable width 39, 40, 41, 42 in.
/// jajalger2018.org/how-many-5-inch-squares-in-a-yard-of-fabric (reposted).
const BY_USABLE_WIDTH: [(f64, [i64; 4]); 13] = [
    (0.5, [5616, 5760, 5904, 6048]),
    (1.0, [1404, 1440, 1476, 1512]),
    (2.0, [342, 360, 360, 378]),
    (2.5, [210, 224, 224, 224]),
    (3.5, [110, 110, 110, 120]),
    (4.0, [81, 90, 90, 90]),
    (5.0, [49, 56, 56, 56]),
    (5.5, [42, 42, 42, 42]),
    (6.5, [30, 30, 30, 30]),
    (7.0, [25, 25, 25, 30]),
    (8.0, [16, 20, 20, 20]),
    (8.5, [16, 16, 16, 16]),
    (9.5, [12, 12, 12, 12]),
];

/// One yard, 44 in usable. quilterscache.com/M/MathChartsPage.html (its heading
/// says 42 x 36; the numbers are those of 44). Its row of 7 in is a misprint.
const OF_44: [(f64, i64); 24] = [
    (1.0, 1584),
    (1.5, 696),
    (1.875, 437),
    (2.0, 396),
    (2.5, 238),
    (2.875, 180),
    (3.0, 168),
    (3.5, 120),
    (3.875, 99),
    (4.0, 99),
    (4.5, 72),
    (4.875, 63),
    (5.0, 56),
    (5.5, 48),
    (6.0, 42),
    (6.5, 30),
    (8.0, 20),
    (8.5, 20),
    (9.0, 16),
    (10.0, 12),
    (11.0, 12),
    (11.5, 9),
    (12.0, 9),
    (12.5, 6),
];

/// 36 and 45 in, selvage to selvage. Bonnie Hunter 2005, How many squares in a
/// yard, quiltville.blogspot.com/2005/06/how-many-squares-in-yard.html. Of 45 in
/// the rows 8, 12 and 15 do not follow from the widths and are left out: see
/// `misprints`.
const OF_36: [(f64, i64); 16] = [
    (3.0, 144),
    (4.0, 81),
    (5.0, 49),
    (6.0, 36),
    (7.0, 25),
    (8.0, 16),
    (9.0, 16),
    (10.0, 9),
    (11.0, 9),
    (12.0, 9),
    (13.0, 4),
    (14.0, 4),
    (15.0, 4),
    (16.0, 4),
    (17.0, 4),
    (18.0, 4),
];
const OF_45: [(f64, i64); 13] = [
    (3.0, 180),
    (4.0, 99),
    (5.0, 63),
    (6.0, 42),
    (7.0, 30),
    (9.0, 20),
    (10.0, 12),
    (11.0, 12),
    (13.0, 6),
    (14.0, 6),
    (16.0, 4),
    (17.0, 4),
    (18.0, 4),
];

/// Fractions of a yard, washed 44 in cloth (43 in usable reproduces it), in
/// eighths of an inch. Sylvia's Quilt Depot, Yardage for cutting squares,
/// sylviasquiltdepot.com/yardage---for-cutting-squares.htm. 2 1/2 in from 5/8 yd
/// is printed one row low (136) and left out, as is the row of 3 1/2 in, whose
/// 7/8 yd is. The chart's other rows leave out a row of squares where the length
/// is an exact multiple.
const FRACTIONS: [i64; 10] = [36, 72, 96, 108, 144, 180, 192, 216, 252, 288];
const BY_FRACTION: [(f64, [Option<i64>; 10]); 3] = [
    (
        2.5,
        [
            Some(17),
            Some(51),
            Some(68),
            Some(85),
            Some(119),
            None,
            Some(153),
            Some(170),
            Some(204),
            Some(238),
        ],
    ),
    (
        5.0,
        [
            Some(0),
            Some(8),
            Some(16),
            Some(16),
            Some(24),
            Some(32),
            Some(32),
            Some(40),
            Some(48),
            Some(56),
        ],
    ),
    (
        5.5,
        [
            Some(0),
            Some(7),
            Some(14),
            Some(14),
            Some(21),
            Some(28),
            Some(28),
            Some(28),
            Some(35),
            Some(42),
        ],
    ),
];

fn rows() -> Vec<Row> {
    let mut rows = table("fat quarter", 22, INCH * 18, &FAT_QUARTER);
    for (side, counts) in BY_USABLE_WIDTH {
        for (width, printed) in (39..).zip(counts) {
            rows.extend(table("one yard by usable width", width, YARD, &[(side, printed)]));
        }
    }
    rows.extend(table("one yard of 44 in", 44, YARD, &OF_44));
    rows.extend(table("one yard of 36 in", 36, YARD, &OF_36));
    rows.extend(table("one yard of 45 in", 45, YARD, &OF_45));
    for (side, counts) in BY_FRACTION {
        for (length, printed) in FRACTIONS.into_iter().zip(counts) {
            if let Some(printed) = printed {
                rows.extend(table("fractions of a yard", 43, eighths(length), &[(side, printed)]));
            }
        }
    }
    rows
}

#[test]
fn as_many_as_printed_and_not_one_more() {
    let rows = rows();
    assert_eq!(rows.len(), 15 + 52 + 24 + 16 + 13 + 29);
    for row in rows {
        let (source, side, printed) = (row.source, row.side, row.printed);
        let take = |count: i64| length_of_squares(count, inches(side), INCH * row.width);
        if printed > 0 {
            let fits = take(printed);
            assert!(fits <= row.length, "{source}: {printed} of {side} take {fits:?}");
        }
        assert!(
            take(printed + 1) > row.length,
            "{source}: one more than {printed} of {side} fits too"
        );
    }
}

/// Never more cloth than a printed chart for the same patches. The charts know
/// no straightening: what the plan loses to it comes on top, and both are
/// rounded up to 1/8 yd, as cloth is bought.
#[test]
fn never_more_than_the_printed_chart() {
    let step = YARD.scale_up(1, 8);
    for row in rows() {
        if row.printed == 0 {
            continue;
        }
        for straightening in [Length::ZERO, INCH] {
            let mut plan = squares(row.printed, inches(row.side), cloth("c1", INCH * row.width));
            plan.allowances.straightening = straightening;
            let figures = only_cloth(&plan);
            let chart = row.length + straightening;
            assert!(
                figures.length <= chart,
                "{}: {} of {}",
                row.source,
                row.printed,
                row.side
            );
            assert!(figures.to_buy <= chart.ceil_to(step), "{}: {}", row.source, row.side);
            assert!(figures.to_buy >= figures.length && figures.to_buy - figures.length < step + EIGHTH);
        }
    }
}

/// A remnant gives what the chart says, laid out as it lies.
#[test]
fn a_fat_quarter_as_a_remnant() {
    for (side, printed) in FAT_QUARTER {
        let fat_quarter = Cloth {
            remnants: vec![Remnant {
                width: INCH * 22,
                length: INCH * 18,
                count: 1,
            }],
            ..cloth("c1", INCH * 42)
        };
        let figures = only_cloth(&squares(150, inches(side), fat_quarter));
        let sheet = figures.layout.sheets.iter().find(|s| s.remnant == Some(0)).unwrap();
        let placed: usize = sheet.strips.iter().map(|s| s.placed.len()).sum();
        assert_eq!(placed as i64, printed, "{side}");
    }
}
