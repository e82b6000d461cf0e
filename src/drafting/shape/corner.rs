//! A corner rounded: a circle of the radius is put where it touches both edges,
//! straight or curved, and the corner is drawn along it.

use super::change::arc;
use super::edge::direction;
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point, Vec2};

/// Chords a curve is looked along with for where the circle may lie; what is
/// found is then solved for.
const CHORDS: usize = 48;

/// Two edges that turn by less run on into each other, in radians.
const STRAIGHT_ON: f64 = 1e-3;

/// What must be left of the edge that leaves the corner, in millimetres.
const LEFT: f64 = 0.1;

/// The edge that arrives at a corner and the one that leaves it.
pub(super) struct Corner {
    arrives: Vec<PathSeg>,
    leaves: Vec<PathSeg>,
    /// Both are one: an outline of a single edge.
    same: bool,
    /// Which way the outline turns at the corner, 1 or -1.
    side: f64,
    angle: f64,
}

/// Both edges as they are with the corner rounded; the curve is the first one's.
pub(super) struct Rounded {
    pub arrives: BezPath,
    pub leaves: BezPath,
    /// What was taken off the second edge's begin.
    pub taken: f64,
    /// How much of the first edge is as it was.
    pub kept: f64,
}

/// Places on the edges: the whole part counts segments, the rest is a curve's parameter.
#[derive(Clone, Copy)]
struct Touch {
    u: f64,
    v: f64,
}

impl Corner {
    /// `turn` as of the shape: it decides where the line turns right back.
    pub fn of(arrives: &BezPath, leaves: &BezPath, same: bool, turn: f64) -> Option<Corner> {
        let segments = |path: &BezPath| -> Vec<PathSeg> { path.segments().filter(|s| s.arclen(1e-6) > 1e-7).collect() };
        let (arrives, leaves) = (segments(arrives), segments(leaves));
        let (ta, tb) = (direction(arrives.last()?, 1.0), direction(leaves.first()?, 0.0));
        let (sin, cos) = (ta.cross(tb), ta.dot(tb));
        Some(Corner {
            arrives,
            leaves,
            same,
            side: if sin.abs() < 1e-9 { turn } else { sin.signum() },
            angle: sin.atan2(cos),
        })
    }

    pub fn is_straight_on(&self) -> bool {
        self.angle.abs() < STRAIGHT_ON
    }

    pub fn rounded(&self, radius: f64) -> Option<Rounded> {
        let touch = self.touch(radius)?;
        let (from, ta, _) = offset(&self.arrives, touch.u, 0.0);
        let (to, tb, _) = offset(&self.leaves, touch.v, 0.0);
        let angle = ta.cross(tb).atan2(ta.dot(tb));
        let (kept, leaves) = if self.same {
            (part(&self.arrives, touch.v, touch.u), BezPath::new())
        } else {
            let all = self.leaves.len() as f64;
            (
                part(&self.arrives, 0.0, touch.u),
                drawn(&part(&self.leaves, touch.v, all)),
            )
        };
        let mut arrives = drawn(&kept);
        if arrives.elements().is_empty() {
            arrives.move_to(from);
        }
        for c in arc(from, ta, to, radius, angle) {
            arrives.curve_to(c.p1, c.p2, c.p3);
        }
        Some(Rounded {
            arrives,
            leaves,
            taken: length(&part(&self.leaves, 0.0, touch.v)),
            kept: length(&kept),
        })
    }

    /// A radius below `too_large` that goes, near the largest; `None` where hardly any does.
    pub fn largest(&self, too_large: f64) -> Option<f64> {
        let (mut good, mut bad) = (0.0, too_large);
        for _ in 0..34 {
            let middle = (good + bad) / 2.0;
            if self.touch(middle).is_some() {
                good = middle;
            } else {
                bad = middle;
            }
        }
        // A whole number where it is one but for the last digits.
        let whole = (good * 100.0).round() / 100.0;
        let good = if self.touch(whole).is_some() { whole } else { good };
        (good >= 0.1).then_some(good)
    }

    /// Where a circle of `radius` on the corner's inner side touches both edges, next to
    /// the corner. Its centre is as far from either edge: where the lines drawn
    /// `radius` beside them cross.
    fn touch(&self, radius: f64) -> Option<Touch> {
        let aside = radius * self.side;
        let lines = [chords(&self.arrives, aside), chords(&self.leaves, aside)];
        let all = self.arrives.len() as f64;
        let mut best: Option<(f64, Touch)> = None;
        for guess in crossings(&lines) {
            let Some(touch) = self.solved(guess, aside) else {
                continue;
            };
            let gone = [part(&self.arrives, touch.u, all), part(&self.leaves, 0.0, touch.v)];
            let cost = length(&gone[0]) + length(&gone[1]);
            if best.as_ref().is_none_or(|(least, _)| cost < *least) && self.fits(touch, radius, &gone) {
                best = Some((cost, touch));
            }
        }
        best.map(|(_, touch)| touch)
    }

    /// Newton's method on the two lines `aside` of the edges.
    fn solved(&self, guess: Touch, aside: f64) -> Option<Touch> {
        let Touch { mut u, mut v } = guess;
        let ends = (self.arrives.len() as f64, self.leaves.len() as f64);
        for _ in 0..40 {
            let (a, _, da) = offset(&self.arrives, u, aside);
            let (b, _, db) = offset(&self.leaves, v, aside);
            let apart = b - a;
            if apart.hypot() < 1e-9 * (1.0 + aside.abs()) {
                return Some(Touch { u, v });
            }
            let across = da.cross(db);
            if across.abs() < 1e-12 {
                return None;
            }
            u = (u + apart.cross(db) / across).clamp(0.0, ends.0);
            v = (v + apart.cross(da) / across).clamp(0.0, ends.1);
        }
        None
    }

    /// That the corner's part which is cut away lies outside of the circle, and
    /// that something is left of the edges.
    fn fits(&self, touch: Touch, radius: f64, gone: &[Vec<PathSeg>; 2]) -> bool {
        let (a, ta, _) = offset(&self.arrives, touch.u, 0.0);
        let (_, tb, _) = offset(&self.leaves, touch.v, 0.0);
        let left = if self.same {
            if touch.u <= touch.v {
                return false;
            }
            length(&part(&self.arrives, touch.v, touch.u))
        } else {
            length(&part(&self.leaves, touch.v, self.leaves.len() as f64))
        };
        let centre = a + Vec2::new(-ta.y, ta.x) * radius * self.side;
        let clear = radius - 1e-4;
        ta.cross(tb) * self.side > 0.0
            && left >= LEFT
            && gone
                .iter()
                .flatten()
                .all(|s| s.nearest(centre, 1e-7).distance_sq >= clear * clear)
    }
}

/// A place on a line drawn `aside` of an edge (to the left of where it runs, as y
/// points down to the right hand), the edge's direction there, and how the place moves.
fn offset(edge: &[PathSeg], at: f64, aside: f64) -> (Point, Vec2, Vec2) {
    let last = edge.len().saturating_sub(1);
    let n = (at.max(0.0) as usize).min(last);
    let Some(segment) = edge.get(n) else {
        return (Point::ZERO, Vec2::ZERO, Vec2::ZERO);
    };
    let t = (at - n as f64).clamp(0.0, 1.0);
    let place = |t: f64| {
        let way = direction(segment, t);
        (segment.eval(t) + Vec2::new(-way.y, way.x) * aside, way)
    };
    let (p, way) = place(t);
    let (before, after) = ((t - 1e-6).max(0.0), (t + 1e-6).min(1.0));
    (p, way, (place(after).0 - place(before).0) / (after - before))
}

type Chord = ((f64, Point), (f64, Point));

/// The line `aside` of an edge; where the edge has a corner of its own it is broken.
fn chords(edge: &[PathSeg], aside: f64) -> Vec<Chord> {
    let mut all = Vec::new();
    for (n, segment) in edge.iter().enumerate() {
        let steps = if matches!(segment, PathSeg::Line(_)) { 1 } else { CHORDS };
        let place = |i: usize| {
            let t = i as f64 / steps as f64;
            let way = direction(segment, t);
            (n as f64 + t, segment.eval(t) + Vec2::new(-way.y, way.x) * aside)
        };
        all.extend((0..steps).map(|i| (place(i), place(i + 1))));
    }
    all
}

/// Places where chords of the first line cross chords of the second, or nearly do.
fn crossings([first, second]: &[Vec<Chord>; 2]) -> Vec<Touch> {
    let span = |c: &Chord| (c.0.1.x.min(c.1.1.x), c.0.1.x.max(c.1.1.x));
    let mut sorted: Vec<&Chord> = second.iter().collect();
    sorted.sort_by(|a, b| span(a).0.total_cmp(&span(b).0));
    let widest = second.iter().map(|c| span(c).1 - span(c).0).fold(0.0, f64::max);
    let mut found = Vec::new();
    for a in first {
        let (left, right) = span(a);
        let margin = (right - left + widest) * 1e-3 + 1e-6;
        let from = sorted.partition_point(|b| span(b).0 < left - widest - margin);
        for b in sorted.iter().skip(from).take_while(|b| span(b).0 <= right + margin) {
            let (p, q) = (a.1.1 - a.0.1, b.1.1 - b.0.1);
            let across = p.cross(q);
            if across == 0.0 {
                continue;
            }
            let apart = b.0.1 - a.0.1;
            let (s, t) = (apart.cross(q) / across, apart.cross(p) / across);
            let on = -1e-3..=1.001;
            if on.contains(&s) && on.contains(&t) {
                found.push(Touch {
                    u: a.0.0 + (a.1.0 - a.0.0) * s.clamp(0.0, 1.0),
                    v: b.0.0 + (b.1.0 - b.0.0) * t.clamp(0.0, 1.0),
                });
            }
        }
    }
    found
}

/// The part of an edge between two places.
fn part(edge: &[PathSeg], from: f64, to: f64) -> Vec<PathSeg> {
    edge.iter()
        .enumerate()
        .filter_map(|(n, segment)| {
            let (a, b) = ((from - n as f64).max(0.0), (to - n as f64).min(1.0));
            (b - a > 1e-9).then(|| {
                if a == 0.0 && b == 1.0 {
                    *segment
                } else {
                    segment.subsegment(a..b)
                }
            })
        })
        .collect()
}

fn drawn(segments: &[PathSeg]) -> BezPath {
    BezPath::from_path_segments(segments.iter().copied())
}

fn length(segments: &[PathSeg]) -> f64 {
    segments.iter().map(|s| s.arclen(1e-4)).sum()
}
