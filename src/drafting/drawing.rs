//! Drawing an outline edge by edge, in millimetres.

use super::shape::{arc, edge_path, round};
use crate::measure::Length;
use crate::plan::{CornerCut, EdgeKind, InnerLine, Mark, Notch, OutlineEdge, PatternOutline};
use kurbo::{BezPath, Point, Vec2};

/// An outline being drawn. Every edge begins where the one before ended.
pub(super) struct Drawing {
    outline: PatternOutline,
    at: Point,
    path: BezPath,
}

impl Drawing {
    pub fn from(start: Point) -> Drawing {
        let mut path = BezPath::new();
        path.move_to(start);
        Drawing {
            outline: PatternOutline::default(),
            at: start,
            path,
        }
    }

    pub fn line(&mut self, x: f64, y: f64) -> &mut Drawing {
        self.at = Point::new(x, y);
        self.path.line_to(self.at);
        self
    }

    pub fn curve(&mut self, first: Point, second: Point, end: Point) -> &mut Drawing {
        self.at = end;
        self.path.curve_to(first, second, end);
        self
    }

    /// A part of a circle to `end`, leaving along `ta` and turned by `angle`.
    pub fn arc(&mut self, ta: Vec2, end: Point, angle: f64, radius: f64) -> &mut Drawing {
        for c in arc(self.at, ta, end, radius, angle) {
            self.path.curve_to(c.p1, c.p2, c.p3);
        }
        self.at = end;
        self
    }

    /// Whatever else leads on from here.
    pub fn follow(&mut self, path: &BezPath) -> &mut Drawing {
        for element in path.elements().iter().skip(1) {
            self.path.push(*element);
            self.at = element.end_point().unwrap_or(self.at);
        }
        self
    }

    /// Ends the edge here.
    pub fn edge(&mut self, name: &str, kind: EdgeKind, allowance: Length, corner: CornerCut) -> &mut Drawing {
        self.outline.edges.push(OutlineEdge {
            name: name.into(),
            path: edge_path(&self.path),
            allowance,
            corner,
            kind,
        });
        self.path = BezPath::new();
        self.path.move_to(self.at);
        self
    }

    pub fn seam(&mut self, name: &str, allowance: Length) -> &mut Drawing {
        self.edge(name, EdgeKind::Seam, allowance, CornerCut::Mitre)
    }

    /// A notch, so far along an edge that is drawn already.
    pub fn notch(&mut self, edge: &str, at: f64) -> &mut Drawing {
        self.outline.notches.push(Notch {
            edge: edge.into(),
            at: round::nearest(at),
            double: false,
        });
        self
    }

    pub fn grain(&mut self, from: Point, to: Point) -> &mut Drawing {
        self.outline.grain = Some([round::spot(from), round::spot(to)]);
        self
    }

    pub fn mark(&mut self, name: &str, at: Point) -> &mut Drawing {
        self.outline.marks.push(Mark {
            name: name.into(),
            at: round::spot(at),
        });
        self
    }

    pub fn inner(&mut self, name: &str, path: &BezPath) -> &mut Drawing {
        let from = path.elements().first().and_then(|e| e.end_point()).unwrap_or_default();
        self.outline.inner.push(InnerLine {
            name: name.into(),
            from: round::spot(from),
            path: edge_path(path),
        });
        self
    }

    pub fn done(&mut self) -> PatternOutline {
        std::mem::take(&mut self.outline)
    }
}
