//! Flying geese, four at a time from one large and four small squares.

use crate::cut_sizes::TRADE;
use crate::plans::{bare, cloth, figures, inches, piece};
use notchbook::figures::Shape;
use notchbook::measure::INCH;
use notchbook::plan::{Arrangement, Face, Patchwork, Unit, UnitKind};

/// Finished width and height, large square W + 1 1/4, small square H + 7/8.
/// Beverly's Quilting Page, members.shaw.ca/beverlysquiltingpage/ffg.htm (7
/// rows); A-Line Quilts 2011, Fast easy flying geese,
/// alinequilts.blogspot.com/2011/03/fast-easy-flying-geese-no-more-tears.html
/// (9 rows); the formula also sylviasquiltdepot.com/fast-flying-geese.htm.
const PRINTED: [(f64, f64, f64, f64); 11] = [
    (2.0, 1.0, 3.25, 1.875),
    (2.5, 1.25, 3.75, 2.125),
    (3.0, 1.5, 4.25, 2.375),
    (3.5, 1.75, 4.75, 2.625),
    (4.0, 2.0, 5.25, 2.875),
    (4.5, 2.25, 5.75, 3.125),
    (5.0, 2.5, 6.25, 3.375),
    (5.5, 2.75, 6.75, 3.625),
    (6.0, 3.0, 7.25, 3.875),
    (7.0, 3.5, 8.25, 4.375),
    (8.0, 4.0, 9.25, 4.875),
];

#[test]
fn the_printed_rows() {
    for (width, height, large, small) in PRINTED {
        assert_eq!(inches(width).units(), inches(height).units() * 2);
        let geese = TRADE.geese(inches(width));
        assert_eq!((geese.large, geese.small), (inches(large), inches(small)), "{width}");
    }
}

/// 3 in small with 5 1/4 in large squares, trimmed to 2 1/2 by 4 1/2 in
/// (allpeoplequilt.com): the same large square, the small ones oversize.
#[test]
fn oversize_small_squares() {
    let geese = TRADE.geese(INCH * 4);
    assert_eq!(geese.large, inches(5.25));
    assert!(geese.small < INCH * 3);
    assert_eq!(TRADE.trim_to(INCH * 4), inches(4.5));
    assert_eq!(TRADE.trim_to(INCH * 2), inches(2.5));
}

/// Derived: a unit is two geese, so 9 units are 18 geese, 5 large squares with
/// 20 small ones; four of the latter to each large one, also to the last.
#[test]
fn whole_sets_in_a_plan() {
    let mut plan = bare();
    let face = Face::Patchwork(Patchwork {
        finished: INCH * 4,
        arrangement: Arrangement::AllAlike,
        units: vec![Unit::new(UnitKind::FlyingGeese, vec!["c1".into(), "c2".into()])],
        ..Default::default()
    });
    plan.pieces = vec![piece(INCH * 12, INCH * 12, face)];
    plan.cloths = vec![cloth("c1", INCH * 42), cloth("c2", INCH * 42)];
    let figures = figures(&plan);
    let patches = &figures.pieces[0].panel.as_ref().unwrap().patches;
    let of = |n: usize| {
        let p = &patches[n];
        (p.shape, p.cut.width, p.patches, p.cuts)
    };
    assert_eq!(of(0), (Shape::GeeseLarge, inches(5.25), 18, 5));
    assert_eq!(of(1), (Shape::GeeseSmall, inches(2.875), 36, 20));
    assert_eq!(
        (figures.cloths[0].cuts[0].count, figures.cloths[1].cuts[0].count),
        (5, 20)
    );
}
