//! From exact lengths to millimetres and back: the one place where a worked
//! out outline is rounded.

use crate::measure::Length;
use crate::plan::Spot;
use kurbo::Point;

/// Units of 1/640 mm that may be the noise of sums, not a length.
const NOISE: f64 = 1e-5;

const UNITS: f64 = 640.0;

pub fn mm(length: Length) -> f64 {
    length.as_mm_f64()
}

pub fn point(spot: Spot) -> Point {
    Point::new(mm(spot.x), mm(spot.y))
}

/// The least length that is not shorter.
pub fn up(mm: f64) -> Length {
    Length::from_units((mm * UNITS - NOISE).ceil() as i64)
}

pub fn nearest(mm: f64) -> Length {
    Length::from_units((mm * UNITS).round() as i64)
}

pub fn spot(point: Point) -> Spot {
    Spot::new(nearest(point.x), nearest(point.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MM;

    #[test]
    fn up_is_never_shorter_and_knows_noise() {
        assert_eq!(up(120.0), MM * 120);
        assert_eq!(up(120.000_000_000_1), MM * 120);
        assert_eq!(up(119.999_999_999_9), MM * 120);
        assert_eq!(up(120.000_1).units(), MM.units() * 120 + 1);
        assert_eq!(up(0.1 + 0.2).units(), 192);
    }
}
