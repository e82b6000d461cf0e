//! Patches in their cloths: the outlines of each cloth together, its letter on
//! every patch that is large enough to read one.

use crate::plan::{Plan, Unit};
use crate::sheets::document::{Ground, Hatch, Label, Line, POINT, Point, Shape, tint};
use crate::sheets::letter;
use crate::sheets::shapes::{SIDE, patches};
use std::collections::BTreeMap;

/// How high a letter is in its room, and half the width of the disc under it.
const LETTER: f64 = 0.75;
const DISC: f64 = LETTER * 0.62;

pub struct Painter<'a> {
    plan: &'a Plan,
    /// By the place of the cloth in the plan.
    areas: BTreeMap<Option<usize>, Vec<Vec<Point>>>,
    /// Where a letter may stand, and how high it may be.
    letters: Vec<(Point, f64, Option<usize>)>,
    /// Nothing is drawn beyond it.
    edge: Option<(f64, f64)>,
}

impl<'a> Painter<'a> {
    pub fn new(plan: &'a Plan) -> Painter<'a> {
        Painter {
            plan,
            areas: BTreeMap::new(),
            letters: Vec::new(),
            edge: None,
        }
    }

    /// What lies outside this rectangle is cut off.
    pub fn within(plan: &'a Plan, width: f64, height: f64) -> Painter<'a> {
        Painter {
            edge: Some((width, height)),
            ..Painter::new(plan)
        }
    }

    pub fn count(&self) -> usize {
        self.areas.values().map(Vec::len).sum()
    }

    /// One patch. `room` is the height of a letter that fits on it.
    pub fn patch(&mut self, cloth: &str, outline: Vec<Point>, room: f64) {
        let whole = area(&outline);
        let outline = match self.edge {
            Some((width, height)) => clipped(outline, width, height),
            None => outline,
        };
        if outline.len() < 3 {
            return;
        }
        let at = self.plan.cloths.iter().position(|c| c.id == cloth);
        // A sliver at the edge has no room for a letter.
        if area(&outline) > whole * 0.45 {
            let middle = middle(&outline);
            // The disc under it must not cover a seam.
            let free = to_the_edge(&outline, middle);
            self.letters.push((middle, room.min(free / DISC), at));
        }
        self.areas.entry(at).or_default().push(outline);
    }

    pub fn rectangle(&mut self, cloth: &str, (x, y): Point, (w, h): (f64, f64)) {
        self.patch(
            cloth,
            vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)],
            w.min(h) * 0.6,
        );
    }

    /// A unit so large, its points put where they belong by `place`.
    pub fn unit(&mut self, unit: &Unit, turn: u32, (w, h): (f64, f64), place: &dyn Fn(Point) -> Point) {
        let side = SIDE as f64;
        for patch in patches(unit, turn) {
            let outline = patch
                .points
                .iter()
                .map(|(x, y)| place((*x as f64 / side * w, *y as f64 / side * h)))
                .collect();
            self.patch(patch.cloth, outline, patch.room as f64 / side * w.min(h));
        }
    }

    pub fn shapes(self, one_to: f64) -> Vec<Shape> {
        let mut shapes = Vec::new();
        for (cloth, outlines) in self.areas {
            shapes.push(Shape::Areas {
                outlines,
                colour: cloth.map(|n| tint(&self.plan.cloths[n].colour)),
                hatch: cloth.map_or(Hatch::Waste, Hatch::of_cloth),
                line: Line::Fine,
            });
        }
        for (at, room, cloth) in self.letters {
            let size = room / one_to / POINT * LETTER;
            if size >= 4.0 {
                shapes.push(Shape::Label(Label {
                    at,
                    text: cloth.map_or("?".into(), letter),
                    size: size.min(8.5),
                    ground: Ground::Light,
                    bold: true,
                }));
            }
        }
        shapes
    }
}

/// The sides of a closed outline.
fn sides(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1))
}

fn area(outline: &[Point]) -> f64 {
    let twice: f64 = sides(outline).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    twice.abs() / 2.0
}

/// Where it would balance.
fn middle(outline: &[Point]) -> Point {
    let (mut x, mut y, mut six) = (0.0, 0.0, 0.0);
    for (a, b) in sides(outline) {
        let cross = a.0 * b.1 - b.0 * a.1;
        x += (a.0 + b.0) * cross;
        y += (a.1 + b.1) * cross;
        six += 3.0 * cross;
    }
    if six == 0.0 {
        return outline.first().copied().unwrap_or_default();
    }
    (x / six, y / six)
}

/// How far a point within is from the nearest side.
fn to_the_edge(outline: &[Point], (x, y): Point) -> f64 {
    sides(outline)
        .filter_map(|(a, b)| {
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            let long = dx.hypot(dy);
            (long > 1e-9).then(|| ((x - a.0) * dy - (y - a.1) * dx).abs() / long)
        })
        .fold(f64::MAX, f64::min)
}

/// What of an outline lies in the rectangle from the origin, edge by edge.
fn clipped(mut outline: Vec<Point>, width: f64, height: f64) -> Vec<Point> {
    type Inside = fn(Point, f64) -> f64;
    let edges: [(Inside, f64); 4] = [
        (|p, _| p.0, 0.0),
        (|p, w| w - p.0, width),
        (|p, _| p.1, 0.0),
        (|p, h| h - p.1, height),
    ];
    for (inside, limit) in edges {
        let mut kept = Vec::with_capacity(outline.len() + 2);
        for (n, to) in outline.iter().enumerate() {
            let from = outline[(n + outline.len() - 1) % outline.len()];
            let (a, b) = (inside(from, limit), inside(*to, limit));
            if (a >= 0.0) != (b >= 0.0) {
                let t = a / (a - b);
                kept.push((from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t));
            }
            if b >= 0.0 {
                kept.push(*to);
            }
        }
        outline = kept;
    }
    outline
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_stands_where_its_patch_is_wide() {
        let triangle = [(0.0, 0.0), (6.0, 0.0), (0.0, 6.0)];
        assert_eq!(middle(&triangle), (2.0, 2.0));
        assert!((to_the_edge(&triangle, (2.0, 2.0)) - 2f64.sqrt()).abs() < 1e-9);
        // A corner met twice, as cutting off leaves it, moves nothing.
        assert_eq!(middle(&[(0.0, 0.0), (0.0, 0.0), (6.0, 0.0), (0.0, 6.0)]), (2.0, 2.0));
    }

    #[test]
    fn what_lies_outside_is_cut_off() {
        let square = |x: f64, y: f64| vec![(x, y), (x + 4.0, y), (x + 4.0, y + 4.0), (x, y + 4.0)];
        assert_eq!(area(&clipped(square(0.0, 0.0), 10.0, 10.0)), 16.0);
        assert_eq!(area(&clipped(square(-2.0, -1.0), 10.0, 10.0)), 6.0);
        assert_eq!(area(&clipped(square(8.0, 9.0), 10.0, 10.0)), 2.0);
        assert!(clipped(square(20.0, 20.0), 10.0, 10.0).is_empty());
        let hexagon = vec![(-1.0, 1.0), (1.0, -1.0), (3.0, 1.0), (1.0, 3.0)];
        assert!((area(&clipped(hexagon, 2.0, 2.0)) - 4.0).abs() < 1e-9);
    }
}
