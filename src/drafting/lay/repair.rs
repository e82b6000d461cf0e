//! Untangling: every copy that lies in another looks for a better place, round
//! after round, until none does.

use super::layout::Spot;
use super::prepared::{Field, Prepared};
use super::tangle::Tangle;
use fastrand::Rng;

/// Places tried for a copy in a round: anywhere, and near where it is.
const ANYWHERE: usize = 24;
const NEAR: usize = 20;
/// Of those, how many are walked downhill.
const KEPT: usize = 3;

/// One round. Adds the places that were looked at to `steps`.
pub(super) fn round(prepared: &Prepared, tangle: &mut Tangle, rng: &mut Rng, steps: &mut u64) {
    let mut tangled: Vec<usize> = (0..tangle.spots.len()).filter(|at| tangle.is_tangled(*at)).collect();
    rng.shuffle(&mut tangled);
    for at in tangled {
        if tangle.is_tangled(at) {
            move_one(prepared, tangle, at, rng, steps);
        }
    }
    tangle.raise_weights();
}

/// Where a copy may be put: the ranges of x and y for a way to lie.
struct Range {
    x: (f64, f64),
    y: (f64, f64),
}

fn range(prepared: &Prepared, tangle: &Tangle, at: usize, way: usize, remnant: usize) -> Option<Range> {
    let kind = prepared.kind(at);
    let turned = &kind.ways[way];
    match &prepared.field {
        Field::Strip { width } => {
            let (x, y) = (tangle.length - turned.width, width - turned.height);
            let y = if kind.pinned { 0.0 } else { y };
            // A piece as wide as the cloth: rounding must not shut it out.
            (x >= 0.0 && y >= -1e-9).then_some(Range {
                x: (0.0, x),
                y: (0.0, y.max(0.0)),
            })
        }
        Field::Remnants(list) => {
            let round = list[remnant].round;
            let (x, y) = (round.x1 - turned.width, round.y1 - turned.height);
            (x >= round.x0 - 1e-9 && y >= round.y0 - 1e-9).then_some(Range {
                x: (round.x0, x.max(round.x0)),
                y: (round.y0, y.max(round.y0)),
            })
        }
    }
}

fn within(value: f64, range: (f64, f64)) -> f64 {
    value.max(range.0).min(range.1)
}

fn move_one(prepared: &Prepared, tangle: &mut Tangle, at: usize, rng: &mut Rng, steps: &mut u64) {
    let ways = prepared.kind(at).ways.len();
    let now = tangle.spots[at];
    let cost_now = tangle.cost_now(at);
    let mut kept: Vec<(f64, Spot)> = vec![(cost_now, now)];
    let size = {
        let way = &prepared.kind(at).ways[now.way];
        way.width.min(way.height)
    };
    for n in 0..ANYWHERE + NEAR {
        let near = n >= ANYWHERE;
        let way = if near && rng.u8(..4) > 0 {
            now.way
        } else {
            rng.usize(..ways)
        };
        let remnant = match &prepared.field {
            Field::Strip { .. } => 0,
            Field::Remnants(list) if near => nearest(list, now.x),
            Field::Remnants(list) => by_area(list, rng),
        };
        let Some(range) = range(prepared, tangle, at, way, remnant) else {
            continue;
        };
        let spot = if near {
            // Turned, its middle stays where it is.
            let (old, new) = (&prepared.kind(at).ways[now.way], &prepared.kind(at).ways[way]);
            let x = now.x + (old.width - new.width) / 2.0 + (rng.f64() + rng.f64() - 1.0) * size;
            let y = now.y + (old.height - new.height) / 2.0 + (rng.f64() + rng.f64() - 1.0) * size;
            Spot {
                way,
                x: within(x, range.x),
                y: within(y, range.y),
            }
        } else {
            Spot {
                way,
                x: range.x.0 + rng.f64() * (range.x.1 - range.x.0),
                y: range.y.0 + rng.f64() * (range.y.1 - range.y.0),
            }
        };
        let bound = if kept.len() < KEPT {
            f64::INFINITY
        } else {
            kept[kept.len() - 1].0
        };
        let cost = tangle.cost(prepared, at, spot, bound);
        *steps += 1;
        if cost < bound {
            let place = kept.partition_point(|(c, _)| *c <= cost);
            kept.insert(place, (cost, spot));
            kept.truncate(KEPT);
        }
    }
    let mut best = (cost_now, now);
    for (cost, spot) in kept {
        let found = downhill(
            prepared,
            tangle,
            at,
            (cost, spot),
            size * 0.25,
            size * 0.005,
            rng,
            steps,
        );
        if found.0 < best.0 {
            best = found;
        }
        if best.0 == 0.0 {
            break;
        }
    }
    if best.0 > 0.0 {
        best = downhill(prepared, tangle, at, best, size * 0.01, size * 0.0001, rng, steps);
    }
    if best.0 < cost_now {
        tangle.put(prepared, at, best.1);
    }
}

/// Walks to where the copy costs less, along x, along y or both, with steps
/// that grow while it goes well and halve when it does not.
#[allow(clippy::too_many_arguments)] // all of one walk
fn downhill(
    prepared: &Prepared,
    tangle: &Tangle,
    at: usize,
    start: (f64, Spot),
    first: f64,
    last: f64,
    rng: &mut Rng,
    steps: &mut u64,
) -> (f64, Spot) {
    let (mut cost, mut spot) = start;
    if cost == 0.0 {
        return start;
    }
    let remnant = match &prepared.field {
        Field::Strip { .. } => 0,
        Field::Remnants(list) => nearest(list, spot.x),
    };
    let Some(range) = range(prepared, tangle, at, spot.way, remnant) else {
        return start;
    };
    let (mut step_x, mut step_y) = (first, first);
    while step_x > last || step_y > last {
        let axis = if range.y.0 == range.y.1 { 0 } else { rng.u8(..4) };
        let mut best: Option<(f64, Spot)> = None;
        for sign in [1.0, -1.0] {
            let (dx, dy) = match axis {
                0 => (sign * step_x, 0.0),
                1 => (0.0, sign * step_y),
                2 => (sign * step_x, sign * step_y),
                _ => (sign * step_x, -sign * step_y),
            };
            let there = Spot {
                way: spot.way,
                x: within(spot.x + dx, range.x),
                y: within(spot.y + dy, range.y),
            };
            let bound = best.map_or(cost, |(c, _)| c);
            let found = tangle.cost(prepared, at, there, bound);
            *steps += 1;
            if found < bound {
                best = Some((found, there));
            }
        }
        let factor = if let Some((found, there)) = best {
            (cost, spot) = (found, there);
            1.1
        } else {
            0.5
        };
        match axis {
            0 => step_x *= factor,
            1 => step_y *= factor,
            _ => {
                // Both: by the root, so that a diagonal counts as one step.
                let root = if factor < 1.0 { 0.7071 } else { factor };
                step_x *= root;
                step_y *= root;
            }
        }
        if range.y.0 == range.y.1 {
            step_y = 0.0;
        }
        if cost == 0.0 {
            break;
        }
    }
    (cost, spot)
}

fn nearest(list: &[super::prepared::Remnant], x: f64) -> usize {
    list.iter().rposition(|r| r.round.x0 <= x + 1e-6).unwrap_or(0)
}

fn by_area(list: &[super::prepared::Remnant], rng: &mut Rng) -> usize {
    let whole: f64 = list.iter().map(|r| r.area).sum();
    let mut at = rng.f64() * whole;
    for (n, r) in list.iter().enumerate() {
        if at < r.area {
            return n;
        }
        at -= r.area;
    }
    list.len() - 1
}

/// A random place for a copy, inside the rectangle round some remnant.
pub(super) fn anywhere(prepared: &Prepared, at: usize, rng: &mut Rng) -> Spot {
    let kind = prepared.kind(at);
    let Field::Remnants(list) = &prepared.field else {
        return Spot { way: 0, x: 0.0, y: 0.0 };
    };
    let way = rng.usize(..kind.ways.len());
    let round = list[by_area(list, rng)].round;
    let turned = &kind.ways[way];
    Spot {
        way,
        x: round.x0 + rng.f64() * (round.width() - turned.width).max(0.0),
        y: round.y0 + rng.f64() * (round.height() - turned.height).max(0.0),
    }
}

/// Two of the larger copies, of different pieces, change places.
pub(super) fn swap_two(prepared: &Prepared, spots: &mut [Spot], rng: &mut Rng) {
    let mut largest: Vec<usize> = (0..spots.len()).collect();
    largest.sort_by(|a, b| prepared.kind(*b).area.total_cmp(&prepared.kind(*a).area));
    largest.truncate((spots.len() / 2).max(2));
    if largest.len() < 2 {
        return;
    }
    let a = largest[rng.usize(..largest.len())];
    let others: Vec<usize> = largest
        .into_iter()
        .filter(|b| prepared.copies[*b].kind != prepared.copies[a].kind)
        .collect();
    if others.is_empty() {
        return;
    }
    let b = others[rng.usize(..others.len())];
    let middle = |at: usize, spot: Spot| {
        let way = &prepared.kind(at).ways[spot.way];
        (spot.x + way.width / 2.0, spot.y + way.height / 2.0)
    };
    let (of_a, of_b) = (middle(a, spots[a]), middle(b, spots[b]));
    for (at, (x, y)) in [(a, of_b), (b, of_a)] {
        let way = &prepared.kind(at).ways[spots[at].way];
        spots[at].x = x - way.width / 2.0;
        spots[at].y = y - way.height / 2.0;
    }
}
