//! The first answer: one piece after the other, slid to the left as far as it
//! will go, exactly, into gaps between others too.

use super::body::Body;
use super::layout::Spot;
use super::outline::TOUCH;
use super::prepared::{Field, Prepared, Remnant, Turned};

/// Heights tried across the strip for each way a piece may lie.
const HEIGHTS: usize = 72;
/// Beside how many of those laid last it is tried edge to edge.
const BESIDE: usize = 60;

/// What a piece may not meet, where it lies.
struct Obstacle<'a> {
    body: &'a Body,
    x: f64,
    y: f64,
}

/// The places along x where an edge of `moving`, at height `y`, would cross an
/// edge of `fixed`, as intervals of where `moving` is put.
fn crossings(fixed: &Body, moving: &Body, shift: f64, dy: f64, found: &mut Vec<(f64, f64)>) {
    let low = fixed.y0.max(moving.y0 + dy);
    let high = fixed.y1.min(moving.y1 + dy);
    if low > high {
        return;
    }
    for i in 1..fixed.x.len() {
        let (ax, ay, bx, by) = (fixed.x[i - 1], fixed.y[i - 1], fixed.x[i], fixed.y[i]);
        let (a_low, a_high) = if ay < by { (ay, by) } else { (by, ay) };
        if a_high < low || a_low > high {
            continue;
        }
        for j in 1..moving.x.len() {
            let (cx, cy, ex, ey) = (moving.x[j - 1], moving.y[j - 1] + dy, moving.x[j], moving.y[j] + dy);
            let from = a_low.max(cy.min(ey));
            let to = a_high.min(cy.max(ey));
            if from > to {
                continue;
            }
            let mut interval = (f64::INFINITY, f64::NEG_INFINITY);
            let mut note = |difference: f64| {
                interval.0 = interval.0.min(difference);
                interval.1 = interval.1.max(difference);
            };
            for y in [from, to] {
                for p in reach(ax, ay, bx, by, y) {
                    for q in reach(cx, cy, ex, ey, y) {
                        note(p - q);
                    }
                }
            }
            found.push((interval.0 + shift, interval.1 + shift));
        }
    }
}

/// Where an edge is at a height: its ends if it is level.
fn reach(ax: f64, ay: f64, bx: f64, by: f64, y: f64) -> [f64; 2] {
    if ay == by {
        [ax, bx]
    } else {
        let x = ax + (bx - ax) * ((y - ay) / (by - ay)).clamp(0.0, 1.0);
        [x, x]
    }
}

/// What the pieces lie on: a strip bounds only the heights that are tried.
#[derive(Clone, Copy)]
enum Ground<'a> {
    Strip,
    Remnants(&'a [Remnant]),
}

/// The least x from `from` on and up to `to` where the piece meets nothing.
fn leftmost(
    way: &Turned,
    y: f64,
    from: f64,
    to: f64,
    obstacles: &[Obstacle],
    ground: Ground,
    intervals: &mut Vec<(f64, f64)>,
) -> Option<f64> {
    intervals.clear();
    for o in obstacles {
        crossings(o.body, &way.body, o.x, y - o.y, intervals);
    }
    if let Ground::Remnants(list) = ground {
        for remnant in list {
            crossings(&remnant.body, &way.own, 0.0, y, intervals);
        }
    }
    intervals.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let free = |x: f64| {
        let inside = match ground {
            Ground::Strip => true,
            Ground::Remnants(list) => list.iter().any(|r| r.body.holds(way.own.x[0] + x, way.own.y[0] + y)),
        };
        inside
            && !obstacles.iter().any(|o| {
                let (dx, dy) = (x - o.x, y - o.y);
                o.body.hearts_meet(&way.body, dx, dy)
                    || o.body.holds(way.body.x[0] + dx, way.body.y[0] + dy)
                    || way.body.holds(o.body.x[0] - dx, o.body.y[0] - dy)
            })
    };
    let mut x = from;
    for &(start, end) in intervals.iter() {
        // Where edges only just begin to cross, outlines may lie on each other.
        if start > x + 1e-9 {
            // In the middle of a gap no wider than a touch, else a touch from its start.
            let here = if x == from {
                x
            } else {
                x + ((start - x) / 2.0).min(TOUCH)
            };
            if here > to {
                return None;
            }
            if free(here) {
                return Some(here);
            }
        }
        x = x.max(end);
    }
    let here = if x == from { x } else { x + TOUCH };
    (here <= to && free(here)).then_some(here)
}

/// What makes a place good: how far its piece reaches, or its middle.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Aim {
    End,
    Middle,
    Start,
}

/// Pieces laid one by one.
pub(super) struct Slide {
    pub(super) order: Vec<usize>,
    pub(super) next: usize,
    pub(super) aim: Aim,
    pub(super) spots: Vec<Option<Spot>>,
    laid: Vec<usize>,
}

impl Slide {
    pub(super) fn new(order: Vec<usize>, aim: Aim) -> Slide {
        let spots = vec![None; order.len()];
        Slide {
            order,
            next: 0,
            aim,
            spots,
            laid: Vec::new(),
        }
    }

    /// Lays the next copy; false when none is left. A copy that has no place
    /// (on a remnant) stays without.
    pub(super) fn lay_next(&mut self, prepared: &Prepared) -> bool {
        let Some(&copy) = self.order.get(self.next) else {
            return false;
        };
        self.next += 1;
        let obstacles: Vec<Obstacle> = self
            .laid
            .iter()
            .map(|&at| {
                let spot = self.spots[at].expect("a laid copy");
                Obstacle {
                    body: &prepared.kind(at).ways[spot.way].body,
                    x: spot.x,
                    y: spot.y,
                }
            })
            .collect();
        if let Some(spot) = best_place(prepared, copy, &obstacles, self.aim) {
            self.spots[copy] = Some(spot);
            self.laid.push(copy);
        }
        true
    }
}

fn best_place(prepared: &Prepared, copy: usize, obstacles: &[Obstacle], aim: Aim) -> Option<Spot> {
    let kind = prepared.kind(copy);
    let ground = match &prepared.field {
        Field::Strip { .. } => Ground::Strip,
        Field::Remnants(list) => Ground::Remnants(list),
    };
    let mut best: Option<(f64, Spot)> = None;
    let mut intervals = Vec::new();
    for (at, way) in kind.ways.iter().enumerate() {
        let (from, to, low, high) = match &prepared.field {
            Field::Strip { width } => (0.0, f64::INFINITY, 0.0, width - way.height),
            Field::Remnants(list) => (
                0.0,
                list.last().map_or(0.0, |r| r.round.x1 - way.width) + TOUCH,
                list.iter().map(|r| r.round.y0).fold(f64::INFINITY, f64::min),
                list.iter().map(|r| r.round.y1).fold(f64::NEG_INFINITY, f64::max) - way.height,
            ),
        };
        if high < low - TOUCH {
            continue;
        }
        let high = high.max(low);
        let mut consider = |y: f64, best: &mut Option<(f64, Spot)>| {
            let Some(x) = leftmost(way, y, from, to, obstacles, ground, &mut intervals) else {
                return f64::INFINITY;
            };
            let score = match aim {
                Aim::End => x + way.width,
                Aim::Middle => x + way.width / 2.0,
                Aim::Start => x,
            };
            // Of places equally far along the one nearer to the edge of y = 0.
            let score = score + 1e-6 * y;
            if best.is_none_or(|(other, _)| score < other) {
                *best = Some((score, Spot { way: at, x, y }));
            }
            score
        };
        if kind.pinned {
            consider(low, &mut best);
            continue;
        }
        let mut heights: Vec<f64> = (0..=HEIGHTS)
            .map(|n| low + (high - low) * n as f64 / HEIGHTS as f64)
            .collect();
        for o in obstacles.iter().rev().take(BESIDE) {
            // Edge to edge with what lies there, above and below it.
            heights.push(o.y + o.body.y1 - way.body.y0 + TOUCH);
            heights.push(o.y + o.body.y0 - way.body.y1 - TOUCH);
            heights.push(o.y);
        }
        heights.retain(|y| (low..=high).contains(y));
        heights.sort_unstable_by(f64::total_cmp);
        heights.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        let mut own_best = (f64::INFINITY, low);
        for y in heights {
            let score = consider(y, &mut best);
            if score < own_best.0 {
                own_best = (score, y);
            }
        }
        let mut step = (high - low) / HEIGHTS as f64 / 2.0;
        for _ in 0..6 {
            for y in [own_best.1 - step, own_best.1 + step] {
                if (low..=high).contains(&y) {
                    let score = consider(y, &mut best);
                    if score < own_best.0 {
                        own_best = (score, y);
                    }
                }
            }
            step /= 2.0;
        }
    }
    best.map(|(_, spot)| spot)
}

/// A place for a piece alone on one remnant, if the slide finds one.
pub(super) fn lone_place(way: &Turned, remnant: &Remnant) -> Option<Spot> {
    let (low, high) = (remnant.round.y0, (remnant.round.y1 - way.height).max(remnant.round.y0));
    let to = remnant.round.x1 - way.width + TOUCH;
    let mut intervals = Vec::new();
    let remnant = std::slice::from_ref(remnant);
    (0..=HEIGHTS).find_map(|n| {
        let y = low + (high - low) * n as f64 / HEIGHTS as f64;
        let x = leftmost(
            way,
            y,
            remnant[0].round.x0,
            to,
            &[],
            Ground::Remnants(remnant),
            &mut intervals,
        )?;
        Some(Spot { way: 0, x, y })
    })
}
