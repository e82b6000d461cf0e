//! One edge of a shape, and places along it.

use super::round;
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind};
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveDeriv, PathEl, PathSeg, Point, Vec2};

/// Arc lengths are worked out to a tenth of a micrometre.
const ACCURACY: f64 = 1e-4;

/// An edge in millimetres. Its path begins with a move to where the edge before ends.
#[derive(Clone, Debug)]
pub struct ShapeEdge {
    pub name: String,
    pub path: BezPath,
    /// From the stitching line out to the cut line.
    pub allowance: f64,
    pub corner: CornerCut,
    pub kind: EdgeKind,
    /// Of a square corner at its end: that the next edge is the one squared, as
    /// in the other half of a piece on the fold.
    pub(super) squares_next: bool,
}

/// A place on an edge.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    pub point: Point,
    /// Of length 1, the way the edge runs.
    pub along: Vec2,
    /// Of length 1, out of the piece.
    pub outward: Vec2,
}

impl ShapeEdge {
    pub fn segments(&self) -> impl Iterator<Item = PathSeg> + '_ {
        self.path.segments()
    }

    pub fn start(&self) -> Point {
        match self.path.elements().first() {
            Some(PathEl::MoveTo(p)) => *p,
            _ => Point::ZERO,
        }
    }

    pub fn end(&self) -> Point {
        self.path
            .elements()
            .last()
            .and_then(|e| e.end_point())
            .unwrap_or_default()
    }

    /// Length of the stitching line in millimetres.
    pub fn length(&self) -> f64 {
        self.segments().map(|s| s.arclen(ACCURACY)).sum()
    }

    /// As [`ShapeEdge::length`], never shorter.
    pub fn length_up(&self) -> Length {
        round::up(self.length())
    }

    /// To the nearest 1/640 mm: for measures that are compared.
    pub fn length_nearest(&self) -> Length {
        round::nearest(self.length())
    }

    /// Point and direction at a distance along the edge; beyond an end, that end.
    pub(super) fn at(&self, distance: f64) -> (Point, Vec2) {
        let mut left = distance.max(0.0);
        let mut last = (self.start(), Vec2::new(0.0, 1.0));
        for segment in self.segments() {
            let length = segment.arclen(ACCURACY);
            if left <= length {
                let t = if length > 0.0 {
                    segment.inv_arclen(left, ACCURACY)
                } else {
                    0.0
                };
                return (segment.eval(t), direction(&segment, t));
            }
            left -= length;
            last = (segment.end(), direction(&segment, 1.0));
        }
        last
    }

    /// Whether it is one straight line, to a hundredth of a millimetre.
    pub fn is_straight(&self) -> bool {
        let (a, b) = (self.start(), self.end());
        let chord = b - a;
        let length = chord.hypot();
        length > 0.0
            && self.segments().all(|s| {
                let aside = |p: Point| (chord.cross(p - a) / length).abs() < 0.01;
                let inside = |p: Point| {
                    let along = chord.dot(p - a) / length;
                    along > -0.01 && along < length + 0.01
                };
                match s {
                    PathSeg::Line(l) => aside(l.p1) && inside(l.p1),
                    PathSeg::Quad(q) => aside(q.p1) && aside(q.p2) && inside(q.p2),
                    PathSeg::Cubic(c) => {
                        aside(c.p1) && aside(c.p2) && aside(c.p3) && inside(c.p1) && inside(c.p2) && inside(c.p3)
                    }
                }
            })
    }
}

/// The direction of a segment, also where a control point lies on an end.
pub(crate) fn direction(segment: &PathSeg, t: f64) -> Vec2 {
    let exact = match segment {
        PathSeg::Line(l) => l.p1 - l.p0,
        PathSeg::Quad(q) => q.deriv().eval(t).to_vec2(),
        PathSeg::Cubic(c) => c.deriv().eval(t).to_vec2(),
    };
    if exact.hypot() > 1e-9 {
        return exact.normalize();
    }
    let near = |t: f64| segment.eval(t.clamp(0.0, 1.0));
    let chord = near(t + 1e-4) - near(t - 1e-4);
    if chord.hypot() > 0.0 {
        chord.normalize()
    } else {
        Vec2::new(0.0, 1.0)
    }
}
