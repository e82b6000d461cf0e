//! Where the marks lie on the table, from what a person can measure.

use super::TraceError;
use crate::measure::Length;
use kurbo::Point;

/// Four marks, in order round as they are tapped, the first at the upper left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Marks {
    /// The corners of something with right angles: a cutting mat, the printed sheet.
    Rectangle { width: Length, height: Length },
    /// Anything with four corners: its sides from the first mark on, and the
    /// diagonal from the first mark to the third.
    Sides { sides: [Length; 4], diagonal: Length },
}

/// The marks' places in millimetres: the first at the origin, the second to its right.
pub fn places(marks: &Marks) -> Result<[Point; 4], TraceError> {
    match marks {
        Marks::Rectangle { width, height } => {
            let (w, h) = (width.as_mm_f64(), height.as_mm_f64());
            if w <= 0.0 || h <= 0.0 {
                return Err(TraceError::NoShape);
            }
            Ok([Point::ZERO, Point::new(w, 0.0), Point::new(w, h), Point::new(0.0, h)])
        }
        Marks::Sides { sides, diagonal } => {
            let [a, b, c, d] = sides.map(|s| s.as_mm_f64());
            let e = diagonal.as_mm_f64();
            let third = apex(a, e, b).ok_or(TraceError::NoShape)?;
            // The fourth lies beyond the diagonal, away from the second.
            let along = third.to_vec2() / e;
            let fourth = apex(e, d, c).ok_or(TraceError::NoShape)?;
            let across = kurbo::Vec2::new(-along.y, along.x);
            let fourth = (along * fourth.x + across * fourth.y).to_point();
            Ok([Point::ZERO, Point::new(a, 0.0), third, fourth])
        }
    }
}

/// The corner of a triangle over its base from the origin along x, `from` away
/// from the origin and `to` from the base's other end; y down.
fn apex(base: f64, from: f64, to: f64) -> Option<Point> {
    if !(base > 0.0 && from > 0.0 && to > 0.0) {
        return None;
    }
    let x = (base * base + from * from - to * to) / (2.0 * base);
    let square = from * from - x * x;
    (square > 1e-6 * from * from).then(|| Point::new(x, square.sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sides_and_a_diagonal_make_the_rectangle_they_are_of() {
        let mm = Length::whole_mm;
        // 300 by 400 with the diagonal 500.
        let sides = Marks::Sides {
            sides: [mm(300), mm(400), mm(300), mm(400)],
            diagonal: mm(500),
        };
        let rectangle = Marks::Rectangle {
            width: mm(300),
            height: mm(400),
        };
        let (a, b) = (places(&sides).unwrap(), places(&rectangle).unwrap());
        for (p, q) in a.iter().zip(&b) {
            assert!(p.distance(*q) < 1e-9, "{p:?} {q:?}");
        }
    }

    #[test]
    fn a_diagonal_longer_than_two_sides_is_refused() {
        let mm = Length::whole_mm;
        let sides = Marks::Sides {
            sides: [mm(300), mm(400), mm(300), mm(400)],
            diagonal: mm(701),
        };
        assert_eq!(places(&sides), Err(TraceError::NoShape));
    }
}
