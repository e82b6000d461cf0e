//! Straight binding: total, strip width, whole strips.

use crate::plans::{bound, eighths, figures, inches};
use notchbook::figures::binding::{run_total, strip_width, strips_made, strips_needed};
use notchbook::measure::{EIGHTH, INCH, Length, YARD};
use notchbook::plan::{Allowances, BindingCut, Edge, Fold};

fn edge(length: Length, corners: u32) -> Edge {
    Edge {
        id: "e1".into(),
        name: "Outside".into(),
        length,
        count: 1,
        corners,
        closed: true,
    }
}

/// 10 in beyond the perimeter of a quilt. C&T Publishing, All-in-One Quilter's
/// Reference Tool (excerpt), ctpub.com/blog/quilting-tips-calculating-yardage-for-bias-binding;
/// Monica Curry 2019, How to make French fold binding,
/// monicacurryquiltdesign.com/2019/07/how-to-make-french-fold-binding.html (54 x 60: 238).
#[test]
fn a_quilt_takes_ten_inches_more() {
    let a = Allowances::default();
    assert_eq!(run_total(&edge(INCH * 228, 4), &a, inches(2.5)), INCH * 238);
    let plan = bound(INCH * 228, 4, INCH * 42, eighths(3), Fold::Double, BindingCut::Straight);
    assert_eq!(figures(&plan).binding.unwrap().total, INCH * 238);
}

/// Derived: a closed run is joined to itself on the diagonal, which takes a
/// square of the strip. A strip wider than the allowance for closing needs its
/// own width, and what the marks of the ruler add to it.
#[test]
fn a_wide_strip_takes_its_width_to_close() {
    let a = Allowances::default();
    for (strip, taken) in [(2.5, 6.0), (5.875, 6.0), (6.125, 6.25), (9.0, 9.125)] {
        assert_eq!(
            run_total(&edge(INCH * 40, 0), &a, inches(strip)),
            INCH * 40 + inches(taken),
            "{strip}"
        );
    }
    let open = Edge {
        closed: false,
        ..edge(INCH * 40, 0)
    };
    assert_eq!(run_total(&open, &a, INCH * 9), INCH * 42);
    // Through a plan: 1 1/2 in finished, strips of 9 1/8 in.
    let plan = bound(INCH * 40, 0, INCH * 60, eighths(12), Fold::Double, BindingCut::Straight);
    let binding = figures(&plan).binding.unwrap();
    assert_eq!(binding.strip_width, inches(9.125));
    assert_eq!(binding.total, inches(49.25));
}

/// Strips in all, up to whole strips before they are multiplied by their width.
/// - 54 x 60: Monica Curry (above)
/// - 46 x 46: Sylvia's Quilt Depot, sylviasquiltdepot.com/measuring-fabric-for-continuous-strips.htm
/// - 63 1/2 x 42 3/4: quiltsbyjen.ca/calculating-amounts-of-fabric-for-binding
/// - 96 x 110: quiltingboard.com/main-f1/binding-math-t189575.html (its 26.5 in is a slip)
/// - 40 x 50: Cotton Patch Fabrics shop page (its 15 in is a slip)
/// - 60 x 72: reposted, kungfurosario.com.ar
/// - around 114: learnhowtoquilt.com, How long a binding (3, and one spare)
#[test]
fn whole_strips_before_multiplying() {
    // total, usable width, strips, strip width, inches of cloth; steps to buy and
    // the step in eighths of a yard (the 46 x 46 quilt is bought by quarters)
    for (total, width, strips, strip, inches_of_cloth, to_buy) in [
        (238.0, 42.0, 6, 2.5, 15.0, None),
        (184.0, 40.0, 5, 2.5, 12.5, Some((2, 2))),
        (212.5, 40.0, 6, 2.25, 13.5, None),
        (424.0, 40.0, 11, 2.5, 27.5, Some((7, 1))),
        (180.0, 42.0, 5, 3.5, 17.5, Some((4, 1))),
        (274.0, 40.0, 7, 2.5, 17.5, Some((4, 1))),
    ] {
        let count = strips_needed(inches(total), inches(width));
        assert_eq!(count, strips, "{total} / {width}");
        let cloth = inches(strip) * count;
        assert_eq!(cloth, inches(inches_of_cloth));
        if let Some((to_buy, step)) = to_buy {
            let step = YARD.scale_up(step, 8);
            assert_eq!(cloth.ceil_to(step), step * to_buy, "{total} / {width}");
        }
    }
    assert_eq!(strips_needed(INCH * 114, INCH * 45), 3);
}

/// Derived: strips with square ends joined on the diagonal lose a strip's width
/// at each join, so a plan may take a strip more than the printed division.
#[test]
fn joins_are_paid_for() {
    // 274 of 40 in, 2 1/2 in: 7 strips give 280 - 15 = 265, so 8.
    assert_eq!(strips_made(7, INCH * 40, inches(2.5)), INCH * 265);
    for (edge, width, strips) in [(228, 42, 6), (264, 40, 8), (20, 42, 1), (32, 42, 1), (33, 42, 2)] {
        let plan = bound(
            INCH * edge,
            4,
            INCH * width,
            eighths(3),
            Fold::Double,
            BindingCut::Straight,
        );
        let binding = figures(&plan).binding.unwrap();
        assert_eq!(binding.strip_width, inches(2.5));
        assert_eq!(binding.strips[0].count, strips, "{edge} at {width}");
        assert_eq!(binding.joins, strips - 1);
        assert_eq!(binding.rectangle.height, inches(2.5) * strips);
        assert!(binding.made >= binding.total);
        let short = strips_made(strips - 1, INCH * width, inches(2.5));
        assert!(short < binding.total, "a strip less would do for {edge} at {width}");
    }
}

/// Double fold, 4F + 1: Along Came Quilting, What size binding would you like
/// with that, ma'am?, alongcamequilting.com/blogs/blog. Above 1/2 in finished the
/// six layers measure more than that (derived: 6F). There it is 6F and 1/8 in for
/// the turn, as in the tight strip of 1 5/8 in for 1/4 in (C&T Publishing, above).
#[test]
fn double_fold_strips() {
    for (finished, printed) in [(2, 2.0), (3, 2.5), (4, 3.0)] {
        assert_eq!(
            strip_width(Fold::Double, eighths(finished), Length::ZERO),
            inches(printed)
        );
    }
    for (finished, printed, needed) in [(6, 4.0, 4.625), (8, 5.0, 6.125)] {
        let width = strip_width(Fold::Double, eighths(finished), Length::ZERO);
        assert!(width > inches(printed), "the printed strip is too narrow");
        assert_eq!(width, inches(needed));
    }
    assert!(
        inches(1.625) == eighths(2) * 6 + EIGHTH && inches(1.625) < strip_width(Fold::Double, eighths(2), Length::ZERO)
    );
    // What is typed for thick layers is added once.
    assert_eq!(strip_width(Fold::Double, eighths(3), EIGHTH), eighths(21));
}

/// Single fold, 1/4 in finished: 1 1/8. C&T Publishing (above).
#[test]
fn single_fold_strips() {
    assert_eq!(strip_width(Fold::Single, eighths(2), Length::ZERO), eighths(9));
    assert_eq!(strip_width(Fold::Single, eighths(4), Length::ZERO), eighths(17));
}
