//! Shrinkage: what is needed before is the length over (1 - s), not times (1 + s).

use crate::plans::{backed, figures};
use notchbook::measure::{INCH, Length, Percent};

fn unwashed(length: i64, percent: Percent) -> Length {
    // A backing 40 in wide and `length` long with its overage.
    let mut plan = backed((INCH * 32, INCH * (length - 8)), INCH * 40, true);
    plan.cloths[0].shrinkage = percent;
    let figures = figures(&plan);
    assert_eq!(figures.cloths[0].length, INCH * length);
    figures.cloths[0].length_unwashed
}

/// Derived: 40 in after 5 % takes 42.105 in; 40 x 1.05 = 42 would be short.
/// 90 in, 5 %: 94.74 in; "make at least 95" (quiltingboard 6723231), 94.5 would be short.
#[test]
fn before_the_wash() {
    for (length, percent, before) in [(40, 5, 42.105), (90, 5, 94.737), (100, 3, 103.093)] {
        let asked = unwashed(length, Percent::whole(percent));
        assert!((asked.as_inches_f64() - before).abs() < 0.001, "{asked:?}");
        let left = asked.scale_down(100 - percent, 100);
        assert!(left >= INCH * length, "{left:?} left of {asked:?}");
        assert!(asked > (INCH * length).scale_up(100 + percent, 100));
    }
    assert_eq!(unwashed(40, Percent::ZERO), INCH * 40);
}
