//! Bias strips from a rectangle.

use crate::plans::{bound, eighths, figures, inches};
use notchbook::figures::binding::bias::{Start, bias_strips, bias_total};
use notchbook::measure::{Area, INCH, Length, YARD};
use notchbook::plan::{BindingCut, Fold};

fn best(width: Length, length: Length, strip: Length) -> Length {
    [Start::Corner, Start::Middle]
        .into_iter()
        .map(|start| bias_total(&bias_strips(width, length, strip, INCH * 8, start)))
        .max()
        .unwrap()
}

/// Running yards from one yard of cloth. Fiber Images, How to make bias tape,
/// fiber-images.com/Free_Things/How_Tos/how_to_make_bias_tape.html. What its
/// maker gets in practice: strips laid by geometry give no less but in one cell,
/// and never more than the area.
#[test]
fn one_yard_gives_what_is_printed() {
    for (width, printed) in [
        (35, [23.0, 15.0, 12.0, 10.0, 8.0]),
        (45, [30.0, 21.5, 16.0, 14.0, 10.0]),
        (54, [37.0, 26.0, 20.0, 16.5, 12.0]),
        (60, [40.0, 29.0, 22.5, 19.0, 14.0]),
    ] {
        for (strip, yards) in [1.25, 1.75, 2.25, 2.75, 3.75].into_iter().zip(printed) {
            let made = best(INCH * width, YARD, inches(strip));
            let most = Area::of(INCH * width, YARD).length_at(inches(strip));
            assert!(made <= most);
            let made = made.as_inches_f64() / 36.0;
            // The widest strips of the narrowest cloth: 7.7 yd, printed 8.
            let least = if (width, strip) == (35, 3.75) { 7.7 } else { yards };
            assert!(made >= least, "{width} x 36 at {strip}: {made:.2} yd, printed {yards}");
        }
    }
}

/// Running yards of strips 1 5/8 in wide. Nancy's Notions, How to make bias
/// strips, nancysnotions.com/text/content/pages/rsbiasstrips.html. It prints
/// all but the whole area for 36 in (22 of 22.15 yd), without joins; geometry
/// leaves the corners and comes within 6 % of it.
#[test]
fn one_yard_of_narrow_strips() {
    for (width, printed) in [(36, 22.0), (48, 26.0), (54, 29.5)] {
        let strips = |start| bias_strips(INCH * width, YARD, inches(1.625), INCH * 2, start);
        let long = |start| -> Length { strips(start).iter().map(|s| s.length * s.count).sum() };
        let unjoined = long(Start::Corner).max(long(Start::Middle)).as_inches_f64() / 36.0;
        assert!(
            unjoined >= printed * 0.94,
            "{width}: {unjoined:.2} yd, printed {printed}"
        );
        let most = Area::of(INCH * width, YARD).length_at(inches(1.625));
        assert!(unjoined * 36.0 <= most.as_inches_f64());
    }
}

/// Derived: the cut lines are w * sqrt 2 apart along the edge.
#[test]
fn spacing_along_the_edge() {
    for (strip, spacing) in [(1.5, 2.121), (2.0, 2.828), (2.25, 3.182), (2.5, 3.536)] {
        // In a long narrow rectangle every further strip takes just that much.
        let strips = |length: f64| -> i64 {
            let length = Length::from_units((length * INCH.units() as f64) as i64);
            bias_strips(INCH * 12, length, inches(strip), INCH * 12, Start::Corner)
                .iter()
                .map(|s| s.count)
                .sum()
        };
        let (few, many) = (strips(100.0), strips(100.0 + spacing * 20.0 + 0.01));
        assert_eq!(many - few, 20, "{strip}");
    }
}

/// A bias cut across 31 in is 43.84 in long (a post measures 44):
/// quiltingboard.com/8276918-post1.html.
#[test]
fn a_cut_across_the_width() {
    let strips = bias_strips(INCH * 31, INCH * 60, INCH * 2, INCH * 8, Start::Corner);
    let longest = strips[0].length.as_inches_f64();
    assert!((longest - 43.84).abs() < 0.005, "{longest}");
}

/// The rectangle of a plan gives enough, and 1/8 in less does not.
#[test]
fn the_least_rectangle() {
    for (edge, width) in [(228, 42), (100, 42), (400, 54), (60, 22)] {
        let plan = bound(
            INCH * edge,
            4,
            INCH * width,
            eighths(3),
            Fold::Double,
            BindingCut::BiasStrips,
        );
        let binding = figures(&plan).binding.unwrap();
        let length = binding.rectangle.height;
        assert_eq!(binding.rectangle.width, INCH * width);
        assert!(best(INCH * width, length, binding.strip_width) >= binding.total);
        assert!(
            best(INCH * width, length - eighths(1), binding.strip_width) < binding.total,
            "{edge} at {width}"
        );
        assert!(binding.strips.iter().all(|s| s.length >= INCH * 8));
    }
}
