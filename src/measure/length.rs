//! [`Length`]: a whole count of 1/640 mm.
//!
//! 1 in = 16,256 and 1 mm = 640, so every inch fraction down to 1/128 in (127
//! units) and every tenth of a millimetre (64 units) is exact, and sums never
//! drift.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length, exact to 1/640 mm. May be negative where a difference is meant
/// (an alteration that shortens); figures refuse negatives where they make no
/// sense.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

pub const MM: Length = Length(640);
pub const CM: Length = Length(6_400);
pub const METRE: Length = Length(640_000);
pub const INCH: Length = Length(16_256);
pub const QUARTER: Length = Length(4_064);
pub const EIGHTH: Length = Length(2_032);
pub const SIXTEENTH: Length = Length(1_016);
pub const FOOT: Length = Length(195_072);
pub const YARD: Length = Length(585_216);

impl Length {
    pub const ZERO: Length = Length(0);
    /// Nothing made at home is longer; what is typed beyond it is a slip.
    pub const MAX: Length = Length(200 * 640_000);

    /// From a count of 1/640 mm.
    pub const fn from_units(units: i64) -> Length {
        Length(units)
    }

    /// The count of 1/640 mm.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// `n/d` inches, to the nearest unit (exact for d up to 128 in powers of two).
    pub const fn inches_frac(n: i64, d: i64) -> Length {
        Length((n * INCH.0 + d / 2).div_euclid(d))
    }

    /// Whole inches.
    pub const fn whole_inches(n: i64) -> Length {
        Length(n * INCH.0)
    }

    /// Whole millimetres.
    pub const fn whole_mm(n: i64) -> Length {
        Length(n * MM.0)
    }

    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    pub const fn abs(self) -> Length {
        Length(self.0.saturating_abs())
    }

    /// The next multiple of `step` at or above.
    pub const fn ceil_to(self, step: Length) -> Length {
        let (size, step) = (self.0 as i128, step.0 as i128);
        Length(narrow(-((-size).div_euclid(step)) * step))
    }

    /// The next multiple of `step` at or below.
    pub const fn floor_to(self, step: Length) -> Length {
        let (size, step) = (self.0 as i128, step.0 as i128);
        Length(narrow(size.div_euclid(step) * step))
    }

    /// The nearest multiple of `step`, halves upwards.
    pub const fn round_to(self, step: Length) -> Length {
        let (size, step) = (self.0 as i128, step.0 as i128);
        Length(narrow((size + step / 2).div_euclid(step) * step))
    }

    /// How many whole times `part` fits in. Zero when `part` is not positive.
    pub const fn times_fits(self, part: Length) -> i64 {
        if part.0 <= 0 || self.0 <= 0 { 0 } else { self.0 / part.0 }
    }

    /// How many of `part` it takes to reach this length. `part` must be positive.
    pub const fn times_needed(self, part: Length) -> i64 {
        assert!(part.0 > 0, "a part must be longer than nothing");
        narrow(-((-(self.0 as i128)).div_euclid(part.0 as i128)))
    }

    /// `self * num / den`, rounded up to a whole unit.
    pub fn scale_up(self, num: i64, den: i64) -> Length {
        let wide = i128::from(self.0) * i128::from(num);
        let den = i128::from(den);
        Length(narrow(-((-wide).div_euclid(den))))
    }

    /// `self * num / den`, rounded down to a whole unit.
    pub fn scale_down(self, num: i64, den: i64) -> Length {
        let wide = i128::from(self.0) * i128::from(num);
        Length(narrow(wide.div_euclid(i128::from(den))))
    }

    /// Inches as a floating number: for drawing and for trigonometry that is
    /// rounded at once to the safe side, never for sums.
    pub fn as_inches_f64(self) -> f64 {
        self.0 as f64 / INCH.0 as f64
    }

    /// Millimetres as a floating number: for drawing.
    pub fn as_mm_f64(self) -> f64 {
        self.0 as f64 / MM.0 as f64
    }

    /// `self * factor` for an irrational factor (a square root), rounded up to
    /// a whole unit: the one place where trigonometry enters a length.
    pub fn times_irrational_up(self, factor: f64) -> Length {
        Length((self.0 as f64 * factor).ceil() as i64)
    }

    /// As [`Length::times_irrational_up`], rounded down: for what a cut yields.
    pub fn times_irrational_down(self, factor: f64) -> Length {
        Length((self.0 as f64 * factor).floor() as i64)
    }
}

/// Saturates instead of wrapping: a plan that large is refused elsewhere with
/// a sentence, and must not turn into a small number here.
const fn narrow(wide: i128) -> i64 {
    if wide > i64::MAX as i128 {
        i64::MAX
    } else if wide < i64::MIN as i128 {
        i64::MIN
    } else {
        wide as i64
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0.saturating_sub(other.0))
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(self.0.saturating_neg())
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0.saturating_mul(times))
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        *self = *self + other;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        *self = *self - other;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_units_are_exact() {
        // The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
        assert_eq!(INCH.units() * 10, MM.units() * 254);
        assert_eq!(YARD, INCH * 36);
        assert_eq!(FOOT, INCH * 12);
        assert_eq!(METRE, MM * 1000);
        assert_eq!(Length::inches_frac(1, 128).units(), 127);
    }

    #[test]
    fn rounding_goes_the_way_it_says() {
        let x = Length::inches_frac(17, 16);
        assert_eq!(x.ceil_to(EIGHTH), Length::inches_frac(9, 8));
        assert_eq!(x.floor_to(EIGHTH), INCH);
        assert_eq!((-x).ceil_to(EIGHTH), -INCH);
        assert_eq!(INCH.ceil_to(EIGHTH), INCH);
        assert_eq!(Length::whole_inches(40).times_needed(Length::whole_inches(7)), 6);
        assert_eq!(Length::whole_inches(42).times_needed(Length::whole_inches(7)), 6);
        assert_eq!(Length::whole_inches(41).times_fits(Length::whole_inches(7)), 5);
        assert_eq!(INCH.scale_up(1, 3).units(), 5419);
        assert_eq!(INCH.scale_down(1, 3).units(), 5418);
    }

    #[test]
    fn sums_stop_at_the_end_of_the_range() {
        let huge = Length::from_units(i64::MAX);
        assert_eq!(huge + INCH, huge);
        assert_eq!(huge * 3, huge);
    }

    #[test]
    fn the_ends_of_the_range_can_be_rounded_and_printed() {
        // A plan built in code may hold any value; a refusal prints it.
        for units in [i64::MIN, i64::MIN + 1, i64::MAX - 1, i64::MAX] {
            let x = Length::from_units(units);
            for step in [EIGHTH, MM, YARD] {
                assert!(x.floor_to(step) <= x.round_to(step) && x.round_to(step) <= x.ceil_to(step));
            }
            assert!(!x.is_negative() || x.abs().is_positive());
            for round in [
                super::super::Round::Up,
                super::super::Round::Down,
                super::super::Round::Nearest,
            ] {
                let text = x.both(super::super::Unit::Inch, round);
                assert!(text.contains(" in ("), "{text}");
            }
            assert_eq!(x.times_needed(INCH).signum(), units.signum());
        }
    }
}
