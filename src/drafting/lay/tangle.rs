//! A layout that may be tangled: which copies lie in each other, how badly, and
//! how much each such pair counts by now.

use super::layout::Spot;
use super::prepared::{Field, Prepared, Remnant, Turned};
use kurbo::Point;

#[derive(Clone)]
pub(super) struct Tangle {
    pub(super) spots: Vec<Spot>,
    /// Of a strip: its length by now.
    pub(super) length: f64,
    /// How badly each pair lies in each other, both halves of the table; the
    /// diagonal says how badly a copy leaves its remnant.
    overlap: Vec<f64>,
    /// How much each pair counts: it grows while a pair stays tangled.
    weight: Vec<f64>,
    /// Rectangles round the bodies where they lie.
    rects: Vec<[f64; 4]>,
}

impl Tangle {
    pub(super) fn new(prepared: &Prepared, spots: Vec<Spot>, length: f64) -> Tangle {
        let count = spots.len();
        let mut tangle = Tangle {
            spots,
            length,
            overlap: vec![0.0; count * count],
            weight: vec![1.0; count * count],
            rects: vec![[0.0; 4]; count],
        };
        tangle.look_again(prepared);
        tangle
    }

    fn count(&self) -> usize {
        self.spots.len()
    }

    /// All overlaps anew, every copy brought into the strip.
    pub(super) fn look_again(&mut self, prepared: &Prepared) {
        for at in 0..self.count() {
            let way = &prepared.kind(at).ways[self.spots[at].way];
            if let Field::Strip { width } = prepared.field {
                let spot = &mut self.spots[at];
                spot.x = spot.x.min(self.length - way.width).max(0.0);
                spot.y = spot.y.min(width - way.height).max(0.0);
            }
            self.rects[at] = rect(way, self.spots[at]);
        }
        for at in 0..self.count() {
            self.weigh(prepared, at);
        }
    }

    /// The row and column of one copy anew.
    fn weigh(&mut self, prepared: &Prepared, at: usize) {
        let count = self.count();
        let spot = self.spots[at];
        let way = &prepared.kind(at).ways[spot.way];
        for other in 0..count {
            let value = if other == at {
                outside(&prepared.field, way, spot.x, spot.y)
            } else if apart(&self.rects[at], &self.rects[other]) {
                0.0
            } else {
                self.pair(prepared, way, spot, other)
            };
            self.overlap[at * count + other] = value;
            self.overlap[other * count + at] = value;
        }
    }

    fn pair(&self, prepared: &Prepared, way: &Turned, spot: Spot, other: usize) -> f64 {
        let there = self.spots[other];
        let body = &prepared.kind(other).ways[there.way].body;
        let (dx, dy) = (there.x - spot.x, there.y - spot.y);
        if way.body.meets(body, dx, dy) {
            way.body.depth(body, dx, dy)
        } else {
            0.0
        }
    }

    /// What a copy would cost at a place; any number not below `bound` once it
    /// cannot be below it.
    pub(super) fn cost(&self, prepared: &Prepared, at: usize, spot: Spot, bound: f64) -> f64 {
        let count = self.count();
        let way = &prepared.kind(at).ways[spot.way];
        let here = rect(way, spot);
        let weights = &self.weight[at * count..(at + 1) * count];
        let mut sum = 0.0;
        if let Field::Remnants(_) = prepared.field {
            sum += weights[at] * outside(&prepared.field, way, spot.x, spot.y);
            if sum >= bound {
                return sum;
            }
        }
        for (other, there) in self.rects.iter().enumerate() {
            if apart(&here, there) || other == at {
                continue;
            }
            let value = self.pair(prepared, way, spot, other);
            if value > 0.0 {
                sum += weights[other] * value;
                if sum >= bound {
                    return sum;
                }
            }
        }
        sum
    }

    pub(super) fn cost_now(&self, at: usize) -> f64 {
        let row = at * self.count()..(at + 1) * self.count();
        self.overlap[row.clone()]
            .iter()
            .zip(&self.weight[row])
            .map(|(o, w)| o * w)
            .sum()
    }

    pub(super) fn put(&mut self, prepared: &Prepared, at: usize, spot: Spot) {
        self.spots[at] = spot;
        self.rects[at] = rect(&prepared.kind(at).ways[spot.way], spot);
        self.weigh(prepared, at);
    }

    pub(super) fn is_tangled(&self, at: usize) -> bool {
        let count = self.count();
        self.overlap[at * count..(at + 1) * count].iter().any(|o| *o > 0.0)
    }

    /// All overlaps together, each once.
    pub(super) fn total(&self) -> f64 {
        let count = self.count();
        (0..count)
            .map(|at| self.overlap[at * count..at * count + at + 1].iter().sum::<f64>())
            .sum()
    }

    /// After a round: what is still tangled counts more, most the worst pair;
    /// what came apart slowly counts as before again.
    pub(super) fn raise_weights(&mut self) {
        let worst = self.overlap.iter().copied().fold(0.0, f64::max);
        if worst <= 0.0 {
            return;
        }
        for (weight, overlap) in self.weight.iter_mut().zip(&self.overlap) {
            if *overlap > 0.0 {
                *weight *= 1.2 + 0.8 * overlap / worst;
            } else {
                *weight = (*weight * 0.95).max(1.0);
            }
        }
        // Numbers that only ever grow would leave their range.
        let highest = self.weight.iter().copied().fold(0.0, f64::max);
        if highest > 1e12 {
            self.weight.iter_mut().for_each(|w| *w = (*w * 1e-9).max(1.0));
        }
    }
}

fn rect(way: &Turned, spot: Spot) -> [f64; 4] {
    [
        way.body.x0 + spot.x,
        way.body.y0 + spot.y,
        way.body.x1 + spot.x,
        way.body.y1 + spot.y,
    ]
}

fn apart(a: &[f64; 4], b: &[f64; 4]) -> bool {
    a[0] > b[2] || b[0] > a[2] || a[1] > b[3] || b[1] > a[3]
}

/// Whether the piece lies on one remnant wholly.
pub(super) fn lies_on(remnant: &Remnant, way: &Turned, x: f64, y: f64) -> bool {
    let (own, body) = (&way.own, &remnant.body);
    own.x0 + x >= body.x0
        && own.x1 + x <= body.x1
        && own.y0 + y >= body.y0
        && own.y1 + y <= body.y1
        && !body.edges_cross(own, x, y)
        && body.holds(own.x[0] + x, own.y[0] + y)
}

/// How badly a piece leaves the remnants; a strip it never leaves.
fn outside(field: &Field, way: &Turned, x: f64, y: f64) -> f64 {
    let Field::Remnants(list) = field else { return 0.0 };
    if list.iter().any(|r| lies_on(r, way, x, y)) {
        return 0.0;
    }
    // By the remnant it leaves least, as if what is beyond were one more piece.
    list.iter()
        .map(|remnant| {
            let body = &way.own;
            let fade = body.fade as f32;
            let mut sum = 0f32;
            for at in 0..body.circle_r.len() {
                let centre = Point::new(f64::from(body.circle_x[at]) + x, f64::from(body.circle_y[at]) + y);
                let r = body.circle_r[at];
                let depth = r - free(remnant, centre) as f32;
                let counted = if depth >= fade {
                    depth
                } else {
                    fade * fade / (2.0 * fade - depth)
                };
                sum += counted * r;
            }
            f64::from(sum.max(1e-12)).sqrt() * body.weight
        })
        .fold(f64::INFINITY, f64::min)
}

/// Distance of a point from the remnant's edge, negative outside.
fn free(remnant: &Remnant, p: Point) -> f64 {
    let edge = super::outline::edges(&remnant.outline)
        .map(|e| super::outline::distance(e, p))
        .fold(f64::INFINITY, f64::min);
    if remnant.body.holds(p.x, p.y) { edge } else { -edge }
}
