//! Circles inside an outline, the largest first: a cheap stand-in for it that
//! tells how deep two outlines lie in each other. Only the search is guided by
//! them; whether two outlines meet is always asked of the outlines.

use super::outline::{area, bounds, contains, distance, edges};
use kurbo::Point;

const MOST: usize = 14;
const GRID: usize = 24;

/// Where an outline has most room: centre and radius of the largest circle inside.
pub fn roomiest(outline: &[Point]) -> (Point, f64) {
    let found = first_circles(outline, 1);
    // Of a sliver no circle may be found.
    found.first().copied().unwrap_or((bounds(outline).center(), 0.0))
}

/// Centre and radius of each.
pub(super) fn circles(outline: &[Point]) -> Vec<(Point, f64)> {
    first_circles(outline, MOST)
}

fn first_circles(outline: &[Point], most: usize) -> Vec<(Point, f64)> {
    let clear = |p: Point| {
        let edge = edges(outline).map(|e| distance(e, p)).fold(f64::INFINITY, f64::min);
        if contains(outline, p) { edge } else { -edge }
    };
    let round = bounds(outline);
    let step = (round.width() / GRID as f64).min(round.height() / GRID as f64 * 4.0);
    let (wide, high) = (
        (round.width() / step).ceil() as usize,
        ((round.height() / step).ceil() as usize).clamp(GRID, GRID * 4),
    );
    let mut seen: Vec<(Point, f64)> = Vec::new();
    for row in 0..high {
        for column in 0..wide {
            let p = Point::new(
                round.x0 + (column as f64 + 0.5) / wide as f64 * round.width(),
                round.y0 + (row as f64 + 0.5) / high as f64 * round.height(),
            );
            let free = clear(p);
            if free > 0.0 {
                seen.push((p, free));
            }
        }
    }
    let whole = area(outline);
    let mut found: Vec<(Point, f64)> = Vec::new();
    let mut covered = 0.0;
    while found.len() < most && covered < 0.92 * whole {
        let free = |p: Point, edge: f64, found: &[(Point, f64)]| {
            found.iter().map(|(c, r)| c.distance(p) - r).fold(edge, f64::min)
        };
        let best = seen
            .iter()
            .map(|(p, edge)| (*p, free(*p, *edge, &found)))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        let Some((mut centre, mut radius)) = best else { break };
        let mut step = step;
        while step > 1e-3 * (radius.max(1e-3)) {
            let mut moved = false;
            for (dx, dy) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
                let p = Point::new(centre.x + dx * step, centre.y + dy * step);
                let r = free(p, clear(p), &found);
                if r > radius {
                    (centre, radius, moved) = (p, r, true);
                }
            }
            if !moved {
                step /= 2.0;
            }
        }
        let largest = found.first().map_or(radius, |(_, r)| *r);
        if radius <= 0.0 || (radius < 0.12 * largest && found.len() >= 4) {
            break;
        }
        covered += std::f64::consts::PI * radius * radius;
        found.push((centre, radius));
    }
    if found.is_empty() {
        // An outline thinner than the grid: its middle, so that it has one.
        let (a, b) = (outline[0], outline[outline.len() / 2]);
        found.push((
            a.midpoint(b),
            (whole / round.width().max(round.height())).max(1e-6) / 2.0,
        ));
    }
    found
}
