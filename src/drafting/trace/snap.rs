//! A tap brought to the crossing it means: where the edges near it meet.

use kurbo::Point;
use std::f64::consts::TAU;

/// A photo as light and dark, row by row from the upper left.
#[derive(Clone, Copy, Debug)]
pub struct Grey<'a> {
    pub width: usize,
    pub height: usize,
    pub pixels: &'a [u8],
}

impl Grey<'_> {
    fn at(&self, x: i64, y: i64) -> f64 {
        f64::from(self.pixels[y as usize * self.width + x as usize])
    }

    /// Between four pixels; nothing outside of the photo.
    fn between(&self, x: f64, y: f64) -> Option<f64> {
        let (left, top) = (x.floor(), y.floor());
        let inside = left >= 0.0 && top >= 0.0 && left + 1.0 < self.width as f64 && top + 1.0 < self.height as f64;
        if !inside {
            return None;
        }
        let (i, j, u, v) = (left as i64, top as i64, x - left, y - top);
        let upper = self.at(i, j) * (1.0 - u) + self.at(i + 1, j) * u;
        let lower = self.at(i, j + 1) * (1.0 - u) + self.at(i + 1, j + 1) * u;
        Some(upper * (1.0 - v) + lower * v)
    }
}

/// The point near `tap` that the edges within `reach` pixels of it run through,
/// or nothing where there is none: too little contrast, one edge alone, or it
/// is not within reach. By the gradients (Förstner and Gülch 1987, from memory):
/// the point for which all of them stand across the way to it, weighed towards
/// the middle and looked for again in a smaller window.
pub fn snapped(grey: &Grey, tap: Point, reach: f64) -> Option<Point> {
    if grey.pixels.len() != grey.width * grey.height {
        return None;
    }
    let mut here = tap;
    let mut window = reach;
    for _ in 0..12 {
        let next = crossing(grey, here, window)?;
        if next.distance(tap) > reach {
            return None;
        }
        let moved = next.distance(here);
        here = next;
        window = (window * 0.7).max(SMALLEST.min(reach));
        if moved < 0.01 && window <= SMALLEST {
            break;
        }
    }
    two_squares_meet(grey, here).then_some(here)
}

/// Whether light and dark change round the point as where two dark squares
/// meet: twice on the way round, and there alone. In a weave, a print or the
/// grain of wood edges cross too, and a mark brought there would be moved away
/// from where it was tapped. Most of what the ring varies by must be its second
/// harmonic: of two sharp squares it is 8/π², of thin lines that cross far less.
fn two_squares_meet(grey: &Grey, at: Point) -> bool {
    const ROUND: usize = 48;
    const LEAST_CONTRAST: f64 = 12.0;
    [RING, RING * 1.4].into_iter().all(|radius| {
        let mut ring = [0.0; ROUND];
        for (n, light) in ring.iter_mut().enumerate() {
            let angle = TAU * n as f64 / ROUND as f64;
            let (x, y) = (at.x + radius * angle.cos(), at.y + radius * angle.sin());
            match grey.between(x, y) {
                Some(found) => *light = found,
                None => return false,
            }
        }
        let count = ROUND as f64;
        let mean = ring.iter().sum::<f64>() / count;
        let (mut varies, mut across, mut aslant) = (0.0, 0.0, 0.0);
        for (n, light) in ring.iter().enumerate() {
            let (twice, off) = (2.0 * TAU * n as f64 / count, light - mean);
            varies += off * off / count;
            across += off * twice.cos() / count;
            aslant += off * twice.sin() / count;
        }
        let second = 2.0 * (across * across + aslant * aslant);
        varies > LEAST_CONTRAST * LEAST_CONTRAST && second > 0.55 * varies
    })
}

/// Pixels from a crossing to where it is looked at: beyond what blurs it, within
/// the squares of a printed mark.
const RING: f64 = 5.0;

const SMALLEST: f64 = 5.0;
/// Mean square of the gradient, in grey levels, below which there is nothing to see.
const CONTRAST: f64 = 25.0;

fn crossing(grey: &Grey, here: Point, window: f64) -> Option<Point> {
    let (w, h) = (grey.width as i64, grey.height as i64);
    let r = window.ceil() as i64;
    let (cx, cy) = (here.x.round() as i64, here.y.round() as i64);
    let (mut xx, mut xy, mut yy, mut bx, mut by, mut sum) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for y in (cy - r).max(1)..=(cy + r).min(h - 2) {
        for x in (cx - r).max(1)..=(cx + r).min(w - 2) {
            let (dx, dy) = (x as f64 - here.x, y as f64 - here.y);
            let far = (dx * dx + dy * dy) / (window * window);
            if far > 1.0 {
                continue;
            }
            let weight = (1.0 - far).powi(2);
            let gx = (grey.at(x + 1, y) - grey.at(x - 1, y)) / 2.0;
            let gy = (grey.at(x, y + 1) - grey.at(x, y - 1)) / 2.0;
            xx += weight * gx * gx;
            xy += weight * gx * gy;
            yy += weight * gy * gy;
            bx += weight * (gx * gx * dx + gx * gy * dy);
            by += weight * (gx * gy * dx + gy * gy * dy);
            sum += weight;
        }
    }
    let (trace, determinant) = (xx + yy, xx * yy - xy * xy);
    // One edge alone holds a point in one direction only.
    if sum <= 0.0 || trace / sum < CONTRAST || 4.0 * determinant < 0.1 * trace * trace {
        return None;
    }
    Some(Point::new(
        here.x + (yy * bx - xy * by) / determinant,
        here.y + (xx * by - xy * bx) / determinant,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two dark quarters that meet at a point between pixels, drawn by sampling.
    fn crossing_at(at: Point, turn: f64) -> Vec<u8> {
        let mut pixels = Vec::new();
        for y in 0..80 {
            for x in 0..80 {
                let mut dark = 0.0;
                for sy in 0..16 {
                    for sx in 0..16 {
                        let d = Point::new(
                            f64::from(x) - 0.5 + (f64::from(sx) + 0.5) / 16.0,
                            f64::from(y) - 0.5 + (f64::from(sy) + 0.5) / 16.0,
                        ) - at;
                        let (u, v) = (d.x * turn.cos() + d.y * turn.sin(), d.y * turn.cos() - d.x * turn.sin());
                        if u * v > 0.0 {
                            dark += 1.0 / 256.0;
                        }
                    }
                }
                pixels.push((220.0 - 180.0 * dark) as u8);
            }
        }
        pixels
    }

    #[test]
    fn a_tap_beside_a_crossing_comes_to_it() {
        for (at, turn) in [
            (Point::new(40.3, 39.6), 0.0),
            (Point::new(37.8, 42.1), 0.4),
            (Point::new(41.5, 40.5), 1.1),
        ] {
            let pixels = crossing_at(at, turn);
            let grey = Grey {
                width: 80,
                height: 80,
                pixels: &pixels,
            };
            for (dx, dy) in [(6.0, -5.0), (-7.0, 3.0), (0.0, 0.0)] {
                let found = snapped(&grey, Point::new(at.x + dx, at.y + dy), 14.0).expect("a crossing");
                assert!(found.distance(at) < 0.1, "{found:?} is not {at:?}");
            }
        }
    }

    /// A weave has crossings everywhere, ruled lines cross too: neither is a
    /// printed mark, and what is tapped there stays where it was tapped.
    #[test]
    fn a_weave_and_ruled_lines_are_no_printed_marks() {
        let weave: Vec<u8> = (0..6400)
            .map(|i| {
                let (x, y) = (f64::from(i % 80), f64::from(i / 80));
                (130.0 + 50.0 * (x * 0.9).sin() * (y * 0.9).sin() + 30.0 * (x * 0.45 + y * 0.2).sin()) as u8
            })
            .collect();
        let lines: Vec<u8> = (0..6400)
            .map(|i| {
                if (38..41).contains(&(i % 80)) || (38..41).contains(&(i / 80)) {
                    30
                } else {
                    220
                }
            })
            .collect();
        for (name, pixels) in [("weave", &weave), ("lines", &lines)] {
            let grey = Grey {
                width: 80,
                height: 80,
                pixels,
            };
            for tap in [(40.0, 40.0), (43.0, 37.0), (30.0, 52.0), (25.5, 25.5)] {
                assert_eq!(snapped(&grey, Point::from(tap), 12.0), None, "{name} {tap:?}");
            }
        }
    }

    #[test]
    fn nothing_and_one_edge_alone_are_no_crossing() {
        let plain = vec![200u8; 6400];
        let edge: Vec<u8> = (0..6400).map(|i| if i % 80 < 40 { 40 } else { 220 }).collect();
        for pixels in [&plain, &edge] {
            let grey = Grey {
                width: 80,
                height: 80,
                pixels,
            };
            assert_eq!(snapped(&grey, Point::new(41.0, 40.0), 12.0), None);
        }
        let grey = Grey {
            width: 80,
            height: 80,
            pixels: &plain,
        };
        // A tap outside the photo.
        assert_eq!(snapped(&grey, Point::new(-300.0, 900.0), 12.0), None);
    }
}
