//! Areas, in an integer wide enough for any sum of two-metre squares.

use super::{INCH, Length, METRE};
use std::ops::{Add, AddAssign, Mul};

/// An area as a count of (1/640 mm) squared.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Area(i128);

impl Area {
    pub const ZERO: Area = Area(0);

    /// So many (1/640 mm) squared.
    pub const fn from_units(units: i128) -> Area {
        Area(units)
    }

    pub fn of(width: Length, height: Length) -> Area {
        Area(i128::from(width.units()) * i128::from(height.units()))
    }

    /// The least length of a strip `width` wide that has this area: a floor
    /// under every layout, never a length to buy.
    pub fn length_at(self, width: Length) -> Length {
        let width = i128::from(width.units());
        assert!(width > 0, "a strip must be wider than nothing");
        Length::from_units((-((-self.0).div_euclid(width))).clamp(0, i128::from(i64::MAX)) as i64)
    }

    pub fn square_inches(self) -> f64 {
        let inch = INCH.units() as f64;
        self.0 as f64 / (inch * inch)
    }

    pub fn square_metres(self) -> f64 {
        let metre = METRE.units() as f64;
        self.0 as f64 / (metre * metre)
    }

    pub fn units(self) -> i128 {
        self.0
    }
}

impl Add for Area {
    type Output = Area;
    fn add(self, other: Area) -> Area {
        Area(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Area {
    fn add_assign(&mut self, other: Area) {
        *self = *self + other;
    }
}

impl Mul<i64> for Area {
    type Output = Area;
    fn mul(self, times: i64) -> Area {
        Area(self.0.saturating_mul(i128::from(times)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::YARD;

    #[test]
    fn a_yard_of_42_inch_cloth_is_1512_square_inches() {
        // Printed in quilting handbooks (42 x 36).
        let yard = Area::of(INCH * 42, YARD);
        assert_eq!(yard.square_inches().round() as i64, 1512);
        assert_eq!(yard.length_at(INCH * 42), YARD);
    }
}
