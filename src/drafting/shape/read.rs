//! From the plan's outline to a shape, and back.

use super::check::{Told, listed};
use super::{Shape, ShapeEdge, ShapeNotch, round};
use crate::drafting::DraftProblem;
use crate::measure::Round;
use crate::plan::{EdgePath, InnerLine, Mark, Notch, OutlineEdge, PatternOutline, Segment, Spot};
use kurbo::{BezPath, PathEl, PathSeg, Point};

impl Shape {
    /// The shape of an outline, or everything that is wrong with it.
    pub fn of(outline: &PatternOutline, told: &Told<'_>) -> Result<Shape, Vec<DraftProblem>> {
        let problems = listed(outline, told);
        if !problems.is_empty() {
            return Err(problems);
        }
        let shape = measured(outline);
        let mut problems = shape.problems(told);
        for (i, notch) in outline.notches.iter().enumerate() {
            if let Some(edge) = shape.edge(&notch.edge)
                && notch.at > edge.length_up()
            {
                problems.push(told.problem(
                    format!("notches/{i}/at"),
                    format!(
                        "The notch on “{}” of {} lies at {}, but that edge is {} long. Type less.",
                        notch.edge,
                        told.name,
                        notch.at.both(told.unit, Round::Nearest),
                        edge.length_nearest().both(told.unit, Round::Down)
                    ),
                ));
            }
        }
        if problems.is_empty() { Ok(shape) } else { Err(problems) }
    }
}

fn measured(outline: &PatternOutline) -> Shape {
    let mut at = outline.edges.last().and_then(|e| e.path.end()).unwrap_or_default();
    let mut edges = Vec::new();
    for edge in &outline.edges {
        edges.push(ShapeEdge {
            name: edge.name.clone(),
            path: path(at, &edge.path),
            allowance: round::mm(edge.allowance),
            corner: edge.corner,
            kind: edge.kind,
            squares_next: false,
        });
        at = edge.path.end().unwrap_or(at);
    }
    let mut shape = Shape {
        notches: outline
            .notches
            .iter()
            .filter_map(|n| {
                Some(ShapeNotch {
                    edge: edges.iter().position(|e: &ShapeEdge| e.name == n.edge)?,
                    at: round::mm(n.at),
                    double: n.double,
                })
            })
            .collect(),
        edges,
        grain: [Point::ZERO; 2],
        marks: outline
            .marks
            .iter()
            .map(|m| (m.name.clone(), round::point(m.at)))
            .collect(),
        inner: outline
            .inner
            .iter()
            .map(|l| (l.name.clone(), path(l.from, &l.path)))
            .collect(),
    };
    shape.grain = match &outline.grain {
        Some(ends) => ends.map(round::point),
        None => shape.grain_in_the_middle(),
    };
    shape.upright();
    shape
}

impl Shape {
    /// Straight down the middle, where the piece is tall there.
    fn grain_in_the_middle(&self) -> [Point; 2] {
        let bounds = self.bounds();
        let x = bounds.center().x;
        let tall = bounds.height() * 0.7;
        let y = bounds.center().y - tall / 2.0;
        [Point::new(x, y), Point::new(x, y + tall)]
    }
}

fn path(from: Spot, path: &EdgePath) -> BezPath {
    let mut line = BezPath::new();
    line.move_to(round::point(from));
    for segment in &path.0 {
        match segment {
            Segment::Line(end) => line.line_to(round::point(*end)),
            Segment::Curve(a, b, end) => line.curve_to(round::point(*a), round::point(*b), round::point(*end)),
        }
    }
    line
}

/// A path of the plan from a path in millimetres; what comes before it is where it begins.
pub(crate) fn edge_path(path: &BezPath) -> EdgePath {
    let segments = path.segments().map(|s| match s {
        PathSeg::Line(l) => Segment::Line(round::spot(l.p1)),
        PathSeg::Quad(q) => {
            let c = q.raise();
            Segment::Curve(round::spot(c.p1), round::spot(c.p2), round::spot(c.p3))
        }
        PathSeg::Cubic(c) => Segment::Curve(round::spot(c.p1), round::spot(c.p2), round::spot(c.p3)),
    });
    EdgePath(segments.collect())
}

pub(super) fn outline_of(shape: &Shape) -> PatternOutline {
    let start = |path: &BezPath| match path.elements().first() {
        Some(PathEl::MoveTo(p)) => round::spot(*p),
        _ => Spot::default(),
    };
    PatternOutline {
        edges: shape
            .edges
            .iter()
            .map(|e| OutlineEdge {
                name: e.name.clone(),
                path: edge_path(&e.path),
                allowance: round::nearest(e.allowance),
                corner: e.corner,
                kind: e.kind,
            })
            .collect(),
        notches: shape
            .notches
            .iter()
            .filter_map(|n| {
                Some(Notch {
                    edge: shape.edges.get(n.edge)?.name.clone(),
                    at: round::nearest(n.at),
                    double: n.double,
                })
            })
            .collect(),
        grain: Some(shape.grain.map(round::spot)),
        marks: shape
            .marks
            .iter()
            .map(|(name, p)| Mark {
                name: name.clone(),
                at: round::spot(*p),
            })
            .collect(),
        inner: shape
            .inner
            .iter()
            .map(|(name, line)| InnerLine {
                name: name.clone(),
                from: start(line),
                path: edge_path(line),
            })
            .collect(),
    }
}
