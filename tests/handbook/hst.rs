//! Half-square triangles eight and four at a time.

use crate::cut_sizes::TRADE;
use crate::plans::{bare, cloth, figures, inches, piece};
use notchbook::figures::Shape;
use notchbook::measure::{EIGHTH, INCH, Length, SIXTEENTH};
use notchbook::plan::{Arrangement, CuttingRule, Face, Patchwork, Unit, UnitKind};

/// Finished and cut, 2f + 1 3/4. Scrapish, Half-square triangles 8 at a time,
/// scrapish.com/half-square-triangles-8-at-a-time.html; 3 -> 7 3/4 also Craftsy
/// 2014, 5 -> 11 3/4 also theashleytomlinson.com.
const EIGHT: [(i64, f64); 7] = [
    (2, 5.75),
    (3, 7.75),
    (4, 9.75),
    (5, 11.75),
    (6, 13.75),
    (7, 15.75),
    (8, 17.75),
];

#[test]
fn eight_at_a_time() {
    for (finished, cut) in EIGHT {
        assert_eq!(TRADE.half_squares_eight(INCH * finished), inches(cut), "{finished}");
        // It is twice the square for two.
        assert_eq!(TRADE.half_square(INCH * finished) * 2, inches(cut));
    }
}

/// Oversize, 2 (f + 1): 3 -> 8 (a repost) and 2 -> 6 (quilted-diary.com/magic-eight).
/// Ours is smaller and still comes out at least 2 1/2 in for 2 in finished.
#[test]
fn eight_at_a_time_oversize() {
    for (finished, oversize) in [(3, 8), (2, 6)] {
        let ours = TRADE.half_squares_eight(INCH * finished);
        assert!(ours < INCH * oversize);
        // Half of the square less the diagonal seam: 1/4 in times the square root of 2.
        let sewn = ours.as_inches_f64() / 2.0 - 0.25 * 2f64.sqrt();
        assert!(sewn >= finished as f64 + 0.5, "{sewn}");
    }
}

/// From 5 in squares eight units trim to 2 in unfinished (quilted-diary.com);
/// geometry leaves 2 1/8.
#[test]
fn eight_from_five_inch_squares() {
    let (finished, trimmed) = (inches(1.5), INCH * 2);
    assert!(TRADE.half_squares_eight(finished) <= INCH * 5);
    assert!(trimmed >= TRADE.trim_to(finished));
    let sewn = 5.0 / 2.0 - 0.25 * 2f64.sqrt();
    assert!((sewn - 2.125).abs() < 0.03 && sewn >= 2.0);
}

/// Derived: (f + 1/2) * sqrt 2 + 1/2, in thousandths of an inch.
const FOUR: [(i64, f64); 6] = [(1, 2.621), (2, 4.036), (3, 5.450), (4, 6.864), (5, 8.278), (6, 9.692)];
/// The trade's (f + 1/2) / 0.64, from memory.
const FOUR_BY_TRADE: [f64; 6] = [2.344, 3.906, 5.469, 7.031, 8.594, 10.156];

#[test]
fn four_at_a_time() {
    for ((finished, exact), trade) in FOUR.into_iter().zip(FOUR_BY_TRADE) {
        let f = INCH * finished;
        let ours = TRADE.half_squares_four_unrounded(f).as_inches_f64();
        assert!((ours - exact).abs() < 0.0006, "{finished}: {ours}");
        let cut = TRADE.half_squares_four(f);
        assert!(cut.as_inches_f64() >= exact - 0.0006 && cut - EIGHTH < TRADE.half_squares_four_unrounded(f));
        // Short below 3 in: what is cut by it does not come out.
        assert_eq!(trade < exact, finished < 3, "{finished}");
        assert!(((finished as f64 + 0.5) / 0.64 - trade).abs() < 0.0006);
    }
    // The exact rule goes up to sixteenths.
    let exact = notchbook::figures::units::Cutting {
        rule: CuttingRule::Exact,
        ..TRADE
    };
    assert_eq!(exact.half_squares_four(INCH * 2), SIXTEENTH * 65);
}

/// 18 units from pairs of squares: 9 pairs for two at a time, 5 for four, 3 for
/// eight, whatever is left over.
#[test]
fn whole_sets_in_a_plan() {
    for (at_a_time, shape, cut, squares) in [
        (2, Shape::HalfSquareTriangle, 4.875, 9),
        (4, Shape::FourHalfSquares, 6.875, 5),
        (8, Shape::EightHalfSquares, 9.75, 3),
    ] {
        let mut plan = bare();
        let unit = Unit {
            at_a_time,
            ..Unit::new(UnitKind::HalfSquareTriangle, vec!["c1".into(), "c2".into()])
        };
        let face = Face::Patchwork(Patchwork {
            finished: INCH * 4,
            arrangement: Arrangement::AllAlike,
            units: vec![unit],
            ..Default::default()
        });
        plan.pieces = vec![piece(INCH * 12, INCH * 24, face)];
        plan.cloths = vec![cloth("c1", INCH * 42), cloth("c2", INCH * 42)];
        let figures = figures(&plan);
        for patch in &figures.pieces[0].panel.as_ref().unwrap().patches {
            assert_eq!((patch.shape, patch.patches, patch.cuts), (shape, 18, squares));
            assert_eq!(patch.cut.width, inches(cut), "{at_a_time}");
        }
        for cloth in &figures.cloths {
            assert_eq!(cloth.cuts[0].count, squares);
        }
    }
}

/// One pair of squares sewn together gives nothing to another pair: two kinds
/// of unit with one cloth in common take a square of it each.
#[test]
fn sets_do_not_share_squares() {
    let mut plan = bare();
    let unit = |other: &str| Unit {
        at_a_time: 4,
        ..Unit::new(UnitKind::HalfSquareTriangle, vec!["c1".into(), other.into()])
    };
    let face = Face::Patchwork(Patchwork {
        finished: INCH * 4,
        arrangement: Arrangement::Alternating,
        units: vec![unit("c2"), unit("c3")],
        ..Default::default()
    });
    plan.pieces = vec![piece(INCH * 8, INCH * 8, face)];
    plan.cloths = vec![cloth("c1", INCH * 42), cloth("c2", INCH * 42), cloth("c3", INCH * 42)];
    let figures = figures(&plan);
    let squares: Vec<i64> = figures.cloths.iter().map(|c| c.cuts[0].count).collect();
    assert_eq!(squares, [2, 1, 1]);
    assert!(figures.cloths[0].length > Length::ZERO);
}
