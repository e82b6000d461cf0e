//! A piece on the fold: unfolded into the whole, and the whole cut at the fold.

use super::cut::{points_of, ring, turned};
use super::{Shape, ShapeEdge, ShapeNotch};
use crate::plan::EdgeKind;
use geo::{Area, BooleanOps, Polygon};
use kurbo::{Affine, BezPath, Point, Rect};
use std::borrow::Cow;

/// A line on a piece that was opened out at it.
const MIDDLE: &str = "middle";

impl Shape {
    /// The edge that lies on the fold of the cloth.
    pub fn fold(&self) -> Option<&ShapeEdge> {
        self.edges.iter().find(|e| e.kind == EdgeKind::Fold)
    }

    /// Where the fold runs, of a piece that is cut on the fold: its fold lies along
    /// the grain, as the fold of cloth does.
    pub fn fold_x(&self) -> Option<f64> {
        let fold = self.fold()?;
        let x = fold.start().x;
        ((fold.end().x - x).abs() <= 0.01).then_some(x)
    }

    /// Whether it has a fold that does not run along the grain. Cloth is folded along
    /// its grain, and folded across it one half of a print or a nap stands on its
    /// head, so such a piece is cut opened out, on a single layer.
    pub fn is_opened_out(&self) -> bool {
        self.fold().is_some() && self.fold_x().is_none()
    }

    /// The piece as a pattern shows it: of one cut on the fold the half, else the
    /// whole, with a line where its fold was.
    pub fn as_cut(&self) -> Cow<'_, Shape> {
        let Some(fold) = self.fold().filter(|_| self.is_opened_out()) else {
            return Cow::Borrowed(self);
        };
        let mut whole = self.unfolded();
        whole.inner.push((MIDDLE.into(), fold.path.clone()));
        Cow::Owned(whole)
    }

    /// Says that a piece with a fold is not cut on the fold.
    pub fn fold_notice(&self, name: &str) -> Option<String> {
        let fold = self.fold().filter(|_| self.is_opened_out())?;
        Some(format!(
            "The fold “{}” of {name} does not run along its grainline, and cloth is folded along the grain: {name} is counted, laid and printed opened out. To cut it on the fold, let the grain run along that edge.",
            fold.name
        ))
    }

    /// Reflection at the fold's line.
    fn mirror(fold: &ShapeEdge) -> Affine {
        let (p, d) = (fold.start(), (fold.end() - fold.start()).normalize());
        let (a, b) = (2.0 * d.x * d.x - 1.0, 2.0 * d.x * d.y);
        Affine::translate(p.to_vec2()) * Affine::new([a, b, b, -a, 0.0, 0.0]) * Affine::translate(-p.to_vec2())
    }

    /// The whole piece: of one on the fold both halves, whose second has edges
    /// named as those of the first with `(other half)` behind.
    pub fn unfolded(&self) -> Shape {
        let Some(at) = self.edges.iter().position(|e| e.kind == EdgeKind::Fold) else {
            return self.clone();
        };
        let (mut kept, order): (Vec<ShapeEdge>, Vec<usize>) = (1..self.edges.len())
            .filter_map(|step| {
                let from = (at + step) % self.edges.len();
                self.edges.get(from).map(|e| (e.clone(), from))
            })
            .unzip();
        let mirror = self.edges.get(at).map(Shape::mirror).unwrap_or_default();
        let mirrored: Vec<ShapeEdge> = kept
            .iter()
            .enumerate()
            .rev()
            .map(|(i, e)| {
                // The corner at its end is the one at its begin before, if the fold was not there.
                let before = i.checked_sub(1).and_then(|b| kept.get(b));
                ShapeEdge {
                    name: other_half(&e.name),
                    path: (mirror * e.path.clone()).reverse_subpaths(),
                    corner: before.map(|b| b.corner).unwrap_or_default(),
                    squares_next: before.is_some_and(|b| !b.squares_next),
                    ..e.clone()
                }
            })
            .collect();
        if let Some(last) = kept.last_mut() {
            last.corner = Default::default();
        }
        let count = kept.len();
        let whole_index = |edge: usize| order.iter().position(|o| *o == edge);
        let mut notches = Vec::new();
        for notch in &self.notches {
            let Some(i) = whole_index(notch.edge) else { continue };
            let Some(edge) = kept.get(i) else { continue };
            notches.push(ShapeNotch { edge: i, ..*notch });
            notches.push(ShapeNotch {
                edge: count + (count - 1 - i),
                at: edge.length() - notch.at,
                ..*notch
            });
        }
        let other = |p: Point| mirror * p;
        let marks = self.marks.iter().cloned();
        let inner = self.inner.iter().cloned();
        Shape {
            notches,
            grain: self.grain,
            marks: marks.clone().chain(marks.map(|(name, p)| (name, other(p)))).collect(),
            inner: inner
                .clone()
                .chain(inner.map(|(name, line): (String, BezPath)| (name, mirror * line)))
                .collect(),
            edges: kept.into_iter().chain(mirrored).collect(),
        }
    }

    /// Of a polygon of the whole piece, the half on the pattern's side of the fold.
    pub(super) fn half_of(&self, whole: &[Point]) -> Vec<Point> {
        let Some(x) = self.fold_x() else { return whole.to_vec() };
        let bounds = whole
            .iter()
            .fold(Rect::from_points((x, 0.0), (x, 0.0)), |r, p| r.union_pt(*p))
            .inflate(1.0, 1.0);
        let half = if self.bounds().center().x > x {
            Rect { x0: x, ..bounds }
        } else {
            Rect { x1: x, ..bounds }
        };
        let corners = [
            Point::new(half.x0, half.y0),
            Point::new(half.x1, half.y0),
            Point::new(half.x1, half.y1),
            Point::new(half.x0, half.y1),
        ];
        let polygon = |points: &[Point]| turned(Polygon::new(ring(points), Vec::new()));
        let cut = polygon(whole).intersection(&polygon(&corners));
        cut.into_iter()
            .max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()))
            .map(|p| points_of(&turned(p)))
            .unwrap_or_default()
    }
}

pub(super) fn other_half(name: &str) -> String {
    format!("{name} (other half)")
}
