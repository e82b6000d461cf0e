//! Setting triangles round blocks on point: side 1.414 f + 1 1/4, corner
//! f / 1.414 + 7/8, both up to 1/8 in.

use crate::cut_sizes::TRADE;
use crate::plans::{bare, cloth, figures, inches, piece};
use notchbook::figures::units::{Cutting, diagonal};
use notchbook::figures::{Setting, Shape};
use notchbook::measure::{EIGHTH, INCH, Length, QUARTER};
use notchbook::plan::{Arrangement, CuttingRule, Face, OnPoint, Patchwork, Unit, UnitKind};

/// Block, side square, corner square. Marcia Hohn 2002, How to make setting
/// triangles, quilterscache.com/H/howtomakesettingtriangles.html (12 in is her
/// worked example: 16.968 + 1.25 = 18.218, 8.489 + 0.875 = 9.364); the same in
/// lukas.is-a-geek.org/tani/chart.htm.
const PRINTED: [(i64, f64, f64); 10] = [
    (4, 7.0, 3.75),
    (5, 8.375, 4.5),
    (7, 11.25, 5.875),
    (8, 12.625, 6.625),
    (10, 15.5, 8.0),
    (11, 16.875, 8.75),
    (12, 18.25, 9.375),
    (13, 19.75, 10.125),
    (14, 21.125, 10.875),
    // With all places of the square root of 2 the side would come out at 24 in.
    (16, 23.875, 12.25),
];

#[test]
fn the_printed_chart() {
    for (block, side, corner) in PRINTED {
        let f = INCH * block;
        assert_eq!(TRADE.setting_side(f), inches(side), "side {block}");
        assert_eq!(TRADE.setting_corner(f), inches(corner), "corner {block}");
    }
    let worked = TRADE.setting_side_unrounded(INCH * 12).as_inches_f64();
    assert!((worked - 18.218).abs() < 0.0005);
    let worked = TRADE.setting_corner_unrounded(INCH * 12).as_inches_f64();
    // 12 / 1.414 is 8.4866; she writes 8.489.
    assert!((worked - 9.364).abs() < 0.0025);
}

/// Derived (never shorter than geometry): the trade's square root is a little
/// too small, and its allowance makes up for it.
#[test]
fn the_trades_rule_is_never_short() {
    for block in 1..=40 {
        for seam in 1..=8 {
            let (f, s) = (block as f64, seam as f64 / 8.0);
            let trade = Cutting {
                seam: EIGHTH * seam,
                ..TRADE
            };
            let side = trade.setting_side(INCH * block).as_inches_f64();
            let corner = trade.setting_corner(INCH * block).as_inches_f64();
            assert!(
                side >= f * 2f64.sqrt() + s * (2.0 + 2.0 * 2f64.sqrt()) - 1e-9,
                "{block}, {seam}/8"
            );
            assert!(
                corner >= f / 2f64.sqrt() + s * (2.0 + 2f64.sqrt()) - 1e-9,
                "{block}, {seam}/8"
            );
        }
    }
}

/// By exact geometry 4, 7 and 10 in blocks take an eighth less on the side
/// than every printed chart says.
#[test]
fn exact_geometry_is_smaller() {
    let exact = Cutting {
        rule: CuttingRule::Exact,
        ..TRADE
    };
    for (block, side) in [(4, 6.875), (7, 11.125), (10, 15.375)] {
        assert_eq!(exact.setting_side(INCH * block), inches(side), "{block}");
        assert_eq!(TRADE.setting_side(INCH * block), inches(side + 0.125));
    }
}

/// Block diagonals to the nearest 1/8: Marcia Hohn, math charts,
/// quilterscache.com/M/MathChartsPage.html.
#[test]
fn diagonals() {
    for (block, printed) in [
        (4, 5.625),
        (5, 7.125),
        (7, 9.875),
        (8, 11.375),
        (10, 14.125),
        (14, 19.75),
    ] {
        assert_eq!(diagonal(INCH * block).round_to(EIGHTH), inches(printed), "{block}");
    }
}

/// Half-inch blocks: quiltnotes.com/learning-center/triangle-cutting-chart.
const HALF_INCH_SIDES: [(f64, f64); 10] = [
    (3.0, 5.5),
    (3.5, 6.25),
    (4.5, 7.625),
    (5.5, 9.125),
    (6.5, 10.5),
    (8.5, 13.375),
    (9.5, 14.75),
    (10.5, 16.125),
    (12.5, 19.0),
    (13.5, 20.375),
];
const HALF_INCH_CORNERS: [(f64, f64); 10] = [
    (3.0, 3.0),
    (4.5, 4.125),
    (5.5, 4.875),
    (6.5, 5.5),
    (7.5, 6.25),
    (9.5, 7.625),
    (10.5, 8.375),
    (11.5, 9.125),
    (12.5, 9.75),
    (13.5, 10.5),
];

#[test]
fn half_inch_blocks() {
    for (block, side) in HALF_INCH_SIDES {
        assert_eq!(TRADE.setting_side(inches(block)), inches(side), "side {block}");
    }
    for (block, corner) in HALF_INCH_CORNERS {
        assert_eq!(TRADE.setting_corner(inches(block)), inches(corner), "corner {block}");
    }
}

/// Misprints of that chart: a 10 in block's side is 15 1/2 and not "5 1/2", a
/// 7 in block's corner 5 7/8 and not "5 5/8", which would be too small. (Its
/// other rows off the formula: sides of 7.5, 11.5 and 14.5, corners of 3.5, 8.5
/// and 14.5 in.)
#[test]
fn misprints_of_the_half_inch_chart() {
    assert_eq!(TRADE.setting_side(INCH * 10), inches(15.5));
    assert!(TRADE.setting_corner(INCH * 7) > inches(5.625));
    assert_eq!(TRADE.setting_corner(INCH * 7), inches(5.875));
    for (block, side) in [(7.5, 11.875), (11.5, 17.625), (14.5, 21.875)] {
        assert_eq!(
            TRADE.setting_side(inches(block)),
            inches(side),
            "by the formula, side {block}"
        );
    }
    for (block, corner) in [(3.5, 3.375), (8.5, 7.0), (14.5, 11.25)] {
        assert_eq!(
            TRADE.setting_corner(inches(block)),
            inches(corner),
            "by the formula, corner {block}"
        );
    }
}

/// A looser chart in quarters of an inch: phoebemoon.com/tutorials/on-point.htm.
/// Block, side, corner.
const QUARTERS: [(i64, f64, f64); 10] = [
    (5, 8.5, 4.5),
    (8, 12.75, 6.75),
    (9, 14.0, 7.5),
    (11, 17.0, 8.75),
    (12, 18.25, 9.5),
    (14, 21.0, 11.0),
    (16, 24.0, 12.25),
    (17, 25.25, 13.0),
    (18, 26.75, 13.75),
    (20, 29.5, 15.25),
];

#[test]
fn a_chart_in_quarters() {
    for (block, side, corner) in QUARTERS {
        let up = |length: Length| length.ceil_to(QUARTER);
        let ours = TRADE.setting_side_unrounded(INCH * block);
        if [14, 17, 20].contains(&block) {
            // Printed below the formula itself, by 0.03 to 0.05 in.
            let short = (ours - inches(side)).as_inches_f64();
            assert!(short > 0.029 && short < 0.051, "{block}: {short}");
        } else {
            assert_eq!(up(ours), inches(side), "side {block}");
        }
        let ours = TRADE.setting_corner_unrounded(INCH * block);
        // The 9 in corner is printed a quarter larger than the formula asks.
        let more = if block == 9 { QUARTER } else { Length::ZERO };
        assert_eq!(up(ours) + more, inches(corner), "corner {block}");
    }
}

/// 1.41 to the nearest 1/8, then the additions: 6 -> 8 1/2, side 9 3/4, corner
/// 8 1/2 / 2 + 7/8 = 5 1/8. Moonlight Quilters,
/// moonlightquilters.org/tip-on-point-settings.
#[test]
fn by_the_rounded_diagonal() {
    let f = INCH * 6;
    assert_eq!(diagonal(f).round_to(EIGHTH), inches(8.5));
    assert_eq!(TRADE.setting_side(f), inches(9.75));
    assert_eq!(TRADE.setting_corner(f), inches(5.125));
}

/// Derived: 3 by 4 outer blocks have 2 by 3 between them, 2 (2 + 3) side
/// triangles from 3 squares and 4 corners from 2.
#[test]
fn a_panel_on_point() {
    let mut plan = bare();
    let face = Face::Patchwork(Patchwork {
        finished: INCH * 8,
        arrangement: Arrangement::Alternating,
        units: vec![
            Unit::new(UnitKind::Square, vec!["c1".into()]),
            Unit::new(UnitKind::Square, vec!["c2".into()]),
        ],
        on_point: Some(OnPoint {
            side: "c3".into(),
            corner: "c4".into(),
        }),
        ..Default::default()
    });
    // 8 in blocks are 11.31 in wide.
    plan.pieces = vec![piece(INCH * 30, INCH * 45, face)];
    plan.cloths = ["c1", "c2", "c3", "c4"].map(|id| cloth(id, INCH * 42)).to_vec();
    let figures = figures(&plan);
    let panel = figures.pieces[0].panel.as_ref().unwrap();
    assert_eq!((panel.columns, panel.rows, panel.units), (3, 4, 18));
    assert_eq!(
        panel.setting,
        Setting::OnPoint {
            side_triangles: 10,
            corner_triangles: 4
        }
    );
    let patches: Vec<_> = panel
        .patches
        .iter()
        .map(|p| (p.cloth.as_str(), p.shape, p.cut.width, p.patches, p.cuts))
        .collect();
    assert_eq!(
        patches,
        [
            ("c1", Shape::Square, inches(8.5), 12, 12),
            ("c2", Shape::Square, inches(8.5), 6, 6),
            ("c3", Shape::QuarterSquareTriangle, inches(12.625), 10, 3),
            ("c4", Shape::HalfSquareTriangle, inches(6.625), 4, 2),
        ]
    );
    assert!(panel.before.width >= INCH * 34 && panel.before.height >= inches(45.75));
}

/// An eight-pointed star is two sides of its diamonds and a diagonal across:
/// 3.41 times the side. Karen Combs 2002, karencombs.com/page.php?ID=31.
#[test]
fn the_block_of_an_eight_pointed_star() {
    for side in [1, 2, 3, 4, 6] {
        let s = INCH * side;
        let block = (s * 2 + diagonal(s)).as_inches_f64();
        let printed = 3.41 * side as f64;
        assert!(
            block >= printed && block - printed < 0.005 * side as f64,
            "{side}: {block}"
        );
    }
}
