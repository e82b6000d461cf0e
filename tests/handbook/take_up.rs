//! Quilting take-up, measured before and after.

use crate::plans::{bare, cloth, figures, inches, piece};
use notchbook::figures::take_up::{QUILTS, SAMPLES, average, by_spacing, take_up};
use notchbook::measure::{EIGHTH, INCH, Length, Percent};
use notchbook::plan::{Face, Layers, Piece, Quilting, TakeUpFrom};

/// One measured panel: width and height before and after, and the loss of each
/// side in hundredths of one per cent, as it is printed or follows.
struct Row {
    before: (f64, f64),
    after: (f64, f64),
    lost: (i64, i64),
}

const fn row(before: (f64, f64), after: (f64, f64), lost: (i64, i64)) -> Row {
    Row { before, after, lost }
}

/// Unwashed quilts. Along Came Quilting, Quilting shrinkage,
/// alongcamequilting.com/blogs/blog/quilting-shrinkage.
const MEASURED: [Row; 5] = [
    row((57.0, 62.0), (56.0, 61.25), (175, 121)),
    row((83.0, 105.0), (80.0, 102.0), (361, 286)),
    row((57.0, 68.0), (55.5, 66.5), (263, 221)),
    row((66.75, 84.625), (64.75, 82.75), (300, 222)),
    row((69.0, 69.0), (67.25, 67.25), (254, 254)),
];

/// Samples 9 x 20 in quilted in a grid of this spacing, unwashed. Anything But
/// Boring 2020, How to make a quilt finish at a certain size,
/// anythingbutboring.com/2020/01/how-to-make-a-quilt-finish-at-a-certain-size/.
const GRIDS: [(f64, Row); 3] = [
    (4.0, row((9.0, 20.0), (9.0, 19.875), (0, 63))),
    (2.0, row((9.0, 20.0), (8.875, 19.75), (139, 125))),
    (1.5, row((9.0, 20.0), (8.75, 19.5), (278, 250))),
];

/// The same samples washed and dried: 4, 2 and 1 1/2 in (same author, who plans
/// 100 in for a quilt of 90). What is lost in the wash is no take-up of
/// quilting: a garment is cut from panels washed before.
const WASHED: [(f64, Row); 3] = [
    (4.0, row((9.0, 20.0), (8.5, 18.25), (556, 875))),
    (2.0, row((9.0, 20.0), (8.5, 18.125), (556, 938))),
    (1.5, row((9.0, 20.0), (8.5, 18.0), (556, 1000))),
];

fn loss(before: f64, after: f64) -> i64 {
    ((before - after) / before * 10_000.0).round() as i64
}

/// The percentages are those of the lengths.
#[test]
fn the_printed_losses_follow_from_the_lengths() {
    let grids = GRIDS.iter().chain(&WASHED).map(|(_, row)| row);
    for row in MEASURED.iter().chain(grids) {
        assert_eq!(loss(row.before.0, row.after.0), row.lost.0, "{:?}", row.before);
        assert_eq!(loss(row.before.1, row.after.1), row.lost.1, "{:?}", row.before);
    }
}

/// A piece that must measure what was left takes about what was there before.
#[test]
fn measured_quilts_and_samples() {
    let grids = GRIDS.iter().map(|(_, row)| row);
    for row in MEASURED.iter().chain(grids) {
        for (before, after, percent) in [
            (row.before.0, row.after.0, row.lost.0),
            (row.before.1, row.after.1, row.lost.1),
        ] {
            let mut plan = bare();
            plan.cloths = vec![cloth("c1", INCH * 120)];
            plan.pieces = vec![Piece {
                layers: Some(Layers::default()),
                take_up: Percent::hundredths(percent),
                ..piece(inches(after), INCH * 20, Face::plain("c1"))
            }];
            let figures = figures(&plan);
            let worked = &figures.pieces[0];
            let off = (worked.needed_before.width - inches(before)).abs();
            assert!(
                off <= Length::inches_frac(1, 100),
                "{before}: {:?}",
                worked.needed_before.width
            );
            let left = worked.panel.as_ref().unwrap().after.width;
            assert!(left >= inches(after), "{left:?} left of {before}");
        }
    }
}

/// The program's own tables of samples and quilts are these.
#[test]
fn the_samples_the_program_goes_by() {
    let eighths = |(w, h): (f64, f64)| ((w * 8.0) as i64, (h * 8.0) as i64);
    for (row, quilt) in MEASURED.iter().zip(QUILTS) {
        assert_eq!((quilt.before, quilt.after), (eighths(row.before), eighths(row.after)));
        let worse = row.lost.0.max(row.lost.1);
        // Up to a hundredth of one per cent.
        assert!((0..=1).contains(&(quilt.loss().as_hundredths() - worse)));
    }
    for ((spacing, row), (apart, sample)) in GRIDS.iter().zip(SAMPLES) {
        assert_eq!(inches(*spacing), EIGHTH * apart);
        assert_eq!((sample.before, sample.after), (eighths(row.before), eighths(row.after)));
    }
}

/// Never less than the sample of that density lost, nor than the quilts on
/// average: their mean is printed as about 2.5 %, by their worse sides 2.7.
#[test]
fn take_up_by_spacing_is_on_the_safe_side() {
    let sides = || MEASURED.iter().flat_map(|r| [r.lost.0, r.lost.1]);
    let mean = sides().sum::<i64>() as f64 / sides().count() as f64;
    assert!((mean - 246.0).abs() < 1.0, "{mean}");
    assert_eq!(average(), Percent::hundredths(271));
    for (spacing, row) in &GRIDS {
        let counted = by_spacing(inches(*spacing));
        assert!(counted.as_hundredths() >= row.lost.0.max(row.lost.1), "{spacing}");
        assert!(counted >= average());
    }
    // Between two samples the closer one counts.
    assert_eq!(by_spacing(inches(1.5)), Percent::hundredths(278));
    assert_eq!(by_spacing(inches(1.75)), Percent::hundredths(278));
    assert_eq!(by_spacing(inches(2.0)), Percent::hundredths(271));
    assert_eq!(by_spacing(inches(8.0)), Percent::hundredths(271));
    // Derived: closer than any sample it rises by 1.39 % for each half inch.
    assert_eq!(by_spacing(inches(1.0)), Percent::hundredths(278 + 139));
    assert_eq!(by_spacing(inches(0.5)), Percent::hundredths(278 + 139 * 2));
}

/// Through a plan: the closest lines of any way decide.
#[test]
fn a_piece_quilted_closely() {
    let mut plan = bare();
    plan.cloths = vec![cloth("c1", INCH * 120)];
    let quilting = |upright: f64, rising: f64| Quilting {
        upright: Some(inches(upright)),
        rising: Some(inches(rising)),
        ..Quilting::default()
    };
    let quilted = |lines| Piece {
        layers: Some(Layers {
            quilting: Some(lines),
            ..Layers::default()
        }),
        take_up: Percent::whole(1),
        take_up_from: TakeUpFrom::Spacing,
        ..piece(INCH * 20, INCH * 20, Face::plain("c1"))
    };
    for (lines, percent) in [
        (quilting(4.0, 3.0), 271),
        (quilting(4.0, 1.5), 278),
        (quilting(1.0, 4.0), 417),
    ] {
        plan.pieces = vec![quilted(lines)];
        assert_eq!(take_up(&plan.pieces[0]), Percent::hundredths(percent));
        let figures = figures(&plan);
        let before = figures.pieces[0].needed_before.width.as_inches_f64();
        assert!(
            (before - 20.0 / (1.0 - percent as f64 / 10_000.0)).abs() < 0.001,
            "{before}"
        );
        let words = figures.pieces[0].shown.working.join(" ");
        assert!(words.contains("Take-up from the quilting"), "{words}");
    }
}

/// Without batting or backing nothing is quilted, and nothing is taken up.
#[test]
fn only_what_is_quilted() {
    let mut plan = bare();
    plan.cloths = vec![cloth("c1", INCH * 120)];
    plan.pieces = vec![Piece {
        take_up: Percent::whole(3),
        ..piece(INCH * 20, INCH * 20, Face::plain("c1"))
    }];
    assert_eq!(figures(&plan).pieces[0].needed_before.width, INCH * 20);
}
