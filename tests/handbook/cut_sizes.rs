//! Cut sizes of squares, half-square and quarter-square triangles.

use crate::plans::{bare, cloth, eighths, figures, inches, piece};
use notchbook::figures::Size;
use notchbook::figures::units::Cutting;
use notchbook::measure::{CM, INCH, Length, MM, QUARTER, SIXTEENTH, Unit};
use notchbook::plan::{Arrangement, CuttingRule, Face, UnitKind};

pub const TRADE: Cutting = Cutting {
    seam: QUARTER,
    rule: CuttingRule::Trade,
    unit: Unit::Inch,
};

/// finished, square, half-square, quarter-square.
/// Rules +1/2, +7/8, +1 1/4: Karen Combs 2002, karencombs.com/page.php?ID=31.
/// 2 in: Granny Maud's Girl 2018, How to measure and cut triangles,
/// grannymaudsgirl.wordpress.com/2018/06/11/how-to-measure-and-cut-triangles.
/// 3 in: North Hampshire Quilters, north-hampshire-quilters.org.uk/hblk402b.htm.
/// 4 in: Kite's Tail block, quilterscache.com/K/KitesTailBlock.html.
const PRINTED: [(f64, f64, f64, f64); 3] = [
    (2.0, 2.5, 2.875, 3.25),
    (3.0, 3.5, 3.875, 4.25),
    (4.0, 4.5, 4.875, 5.25),
];

#[test]
fn the_printed_rows() {
    for (finished, square, half, quarter) in PRINTED {
        let f = inches(finished);
        assert_eq!(TRADE.square(f), inches(square), "square {finished}");
        assert_eq!(TRADE.half_square(f), inches(half), "half-square {finished}");
        assert_eq!(TRADE.quarter_square(f), inches(quarter), "quarter-square {finished}");
    }
}

/// Half-square and quarter-square triangles cut oversize to be trimmed: 4 1/8 and
/// 4 1/2 in for 3 in finished (North Hampshire Quilters, as above). Ours are
/// never larger, and both can be trimmed to 3 1/2 in.
#[test]
fn oversize_is_a_choice_and_not_needed() {
    let f = INCH * 3;
    assert!(TRADE.half_square(f) < inches(4.125) && TRADE.quarter_square(f) < inches(4.5));
    // What the diagonal seams leave of the square: 1/4 in times the square root of 2 each.
    let seam = QUARTER.times_irrational_up(std::f64::consts::SQRT_2);
    assert!(TRADE.half_square(f) - seam >= inches(3.5));
    assert!(TRADE.quarter_square(f) - seam * 2 >= inches(3.5));
}

/// The same rows through a whole plan.
#[test]
fn the_printed_rows_in_a_plan() {
    for (finished, square, half, quarter) in PRINTED {
        for (kind, cut, yields) in [
            (UnitKind::Square, square, 1),
            (UnitKind::HalfSquareTriangle, half, 2),
            (UnitKind::QuarterSquareTriangle, quarter, 4),
        ] {
            let mut plan = bare();
            let face = Face::Patchwork(notchbook::plan::Patchwork {
                finished: inches(finished),
                arrangement: Arrangement::AllAlike,
                units: vec![notchbook::plan::Unit::new(kind, vec!["c1".into(); kind.positions().0])],
                ..Default::default()
            });
            plan.pieces = vec![piece(inches(finished) * 3, inches(finished) * 3, face)];
            plan.cloths = vec![cloth("c1", INCH * 42)];
            let figures = figures(&plan);
            let patch = &figures.pieces[0].panel.as_ref().unwrap().patches[0];
            assert_eq!(patch.cut.width, inches(cut), "{kind:?} {finished}");
            assert_eq!(patch.cut.height, inches(cut), "{kind:?} {finished}");
            let patches = 9 * kind.positions().0 as i64;
            assert_eq!(patch.patches, patches);
            assert_eq!(patch.cuts, (patches + yields - 1) / yields);
        }
    }
}

/// Derived: with a seam s a half-square triangle adds s(2 + sqrt 2), a
/// quarter-square triangle s(2 + 2 sqrt 2); at 1/4 in 0.8536 and 1.2071 in.
/// Seam in eighths; additions in eighths (trade) and sixteenths (exact).
#[test]
fn any_seam() {
    for (seam, half, quarter, half_16, quarter_16) in [
        (1, 4, 5, 7, 10),    // 0.4268, 0.6036
        (2, 7, 10, 14, 20),  // 0.8536, 1.2071
        (3, 11, 15, 21, 29), // 1.2803, 1.8107
        (4, 14, 20, 28, 39), // 1.7071, 2.4142
        (5, 18, 25, 35, 49), // 2.1339, 3.0178
    ] {
        let trade = Cutting {
            seam: eighths(seam),
            ..TRADE
        };
        let exact = Cutting {
            rule: CuttingRule::Exact,
            ..trade
        };
        let f = INCH * 6;
        assert_eq!(trade.half_square(f) - f, eighths(half), "seam {seam}/8");
        assert_eq!(trade.quarter_square(f) - f, eighths(quarter), "seam {seam}/8");
        assert_eq!(exact.half_square(f) - f, SIXTEENTH * half_16, "seam {seam}/8");
        assert_eq!(exact.quarter_square(f) - f, SIXTEENTH * quarter_16, "seam {seam}/8");
        assert_eq!(trade.square(f) - f, eighths(seam * 2));
    }
}

/// Derived: 10 cm finished at 1/4 in (6.35 mm) seams is 112.7 mm square; with
/// the trade's 7/8 in 122.2 mm, with its 1 1/4 in 131.75 mm; up to whole millimetres.
#[test]
fn centimetres_go_up_to_the_millimetre() {
    let cutting = Cutting {
        unit: Unit::Cm,
        ..TRADE
    };
    assert_eq!(cutting.square(CM * 10), MM * 113);
    assert_eq!(cutting.half_square(CM * 10), MM * 123);
    assert_eq!(cutting.quarter_square(CM * 10), MM * 132);
    let one_cm = Cutting {
        seam: CM,
        rule: CuttingRule::Exact,
        unit: Unit::Cm,
    };
    // 1 cm * 3.4142 and * 4.8284.
    assert_eq!(one_cm.half_square(CM * 10), MM * 135);
    assert_eq!(one_cm.quarter_square(CM * 10), MM * 149);
}

/// Derived: a rail of n strips, f/n + 1/2 by f + 1/2; thirds go up to the next eighth.
#[test]
fn rails() {
    for (finished, strips, width, height) in [
        (6.0, 3, 2.5, 6.5),
        (4.0, 2, 2.5, 4.5),
        (4.0, 3, 1.875, 4.5),
        (5.0, 4, 1.75, 5.5),
        (6.0, 8, 1.25, 6.5),
    ] {
        let side = inches(finished);
        let cut = TRADE.rail(
            Size {
                width: side,
                height: side,
            },
            strips,
        );
        assert_eq!(
            (cut.width, cut.height),
            (inches(width), inches(height)),
            "{strips} in {finished}"
        );
    }
    assert_eq!(TRADE.trim_to(INCH * 4), Length::inches_frac(9, 2));
}
