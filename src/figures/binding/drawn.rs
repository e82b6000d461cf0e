//! Bias strips as they lie on their rectangle.

use super::bias::{Start, lines, spacing};
use super::bias_join_loss;
use crate::measure::Length;
use serde::Serialize;

/// Strips drawn at most: beyond any binding, near enough that a drawing stays one.
const MOST: usize = 2_000;

/// One strip cut at 45 degrees, its ends on the grain.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BiasPiece {
    /// In the order they are cut, from the lower left corner.
    pub number: i64,
    /// Its corners on the rectangle, in turn.
    pub corners: Vec<Point>,
    /// What is counted on: the shorter of its two long edges.
    pub length: Length,
    /// Of all strips up to this one, sewn end to end in this order.
    pub so_far: Length,
}

/// From the left and from the top of a rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Point {
    pub x: Length,
    pub y: Length,
}

/// Every strip [`super::bias_strips`] counts, as a polygon.
pub fn drawn(width: Length, length: Length, strip: Length, shortest: Length, start: Start) -> Vec<BiasPiece> {
    let mut so_far = Length::ZERO;
    let strips = lines(width, length, strip, shortest, start).take(MOST);
    strips
        .enumerate()
        .map(|(n, (line, long))| {
            so_far += if n == 0 { long } else { long - bias_join_loss() };
            BiasPiece {
                number: n as i64 + 1,
                corners: corners(width, length, line, line + spacing(strip)),
                length: long,
                so_far,
            }
        })
        .collect()
}

/// The part of the rectangle between the lines x - y = `low` and x - y = `high`.
fn corners(width: Length, length: Length, low: Length, high: Length) -> Vec<Point> {
    // Where a line enters at the left or top, and leaves at the bottom or right.
    let enters = |t: Length| Point {
        x: t.max(Length::ZERO),
        y: (-t).max(Length::ZERO),
    };
    let leaves = |t: Length| Point {
        x: width.min(length + t),
        y: length.min(width - t),
    };
    let (near, far) = (Length::ZERO, width - length);
    let mut corners = vec![enters(low), leaves(low)];
    if low < far && far < high {
        corners.push(Point { x: width, y: length });
    }
    corners.extend([leaves(high), enters(high)]);
    if low < near && near < high {
        corners.push(Point { x: near, y: near });
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::super::{bias_strips, bias_total};
    use super::*;
    use crate::measure::INCH;

    /// Twice the area of a polygon, by the corners in turn.
    fn twice_area(corners: &[Point]) -> f64 {
        let at = |p: &Point| (p.x.as_inches_f64(), p.y.as_inches_f64());
        let pairs = corners.iter().zip(corners.iter().cycle().skip(1));
        pairs
            .map(|(a, b)| {
                let ((ax, ay), (bx, by)) = (at(a), at(b));
                ax * by - bx * ay
            })
            .sum::<f64>()
            .abs()
    }

    #[test]
    fn every_strip_is_drawn_once_and_inside() {
        for (w, l, strip) in [(42, 18, 2), (31, 20, 3), (12, 40, 2), (17, 17, 2), (9, 9, 3)] {
            for start in [Start::Corner, Start::Middle] {
                let (width, length, strip) = (INCH * w, INCH * l, INCH * strip);
                let strips = bias_strips(width, length, strip, INCH * 4, start);
                let pieces = drawn(width, length, strip, INCH * 4, start);
                let count: i64 = strips.iter().map(|s| s.count).sum();
                assert_eq!(pieces.len() as i64, count);
                assert_eq!(pieces.last().map_or(Length::ZERO, |p| p.so_far), bias_total(&strips));
                let mut area = 0.0;
                for piece in &pieces {
                    assert!(strips.iter().any(|s| s.length == piece.length));
                    for p in &piece.corners {
                        assert!(
                            p.x >= Length::ZERO && p.x <= width && p.y >= Length::ZERO && p.y <= length,
                            "{p:?}"
                        );
                    }
                    // At least its length times its width, and beside the
                    // slopes of its ends not more.
                    let (long, wide) = (piece.length.as_inches_f64(), strip.as_inches_f64());
                    let mine = twice_area(&piece.corners) / 2.0;
                    assert!(
                        mine >= long * wide - 0.01 && mine <= (long + 2.0 * wide) * wide,
                        "{mine} of {long}"
                    );
                    area += mine;
                }
                assert!(area <= width.as_inches_f64() * length.as_inches_f64() + 0.01);
            }
        }
    }
}
