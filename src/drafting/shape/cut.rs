//! The cut line: the piece with its allowances.

use super::band::{Meeting, Part, band, joint, outward};
use super::hem::{HemEnd, hem};
use super::sample::{Sample, samples};
use super::{Shape, ShapeEdge};
use crate::plan::{CornerCut, EdgeKind};
use geo::algorithm::bool_ops::FillRule;
use geo::{Area, BooleanOps, ConvexHull, LineString, MultiPoint, MultiPolygon, OpType, Polygon};
use kurbo::{Point, Rect};

/// The stitching line as points, and everything that lies between it and the cut line.
pub(super) struct Allowances {
    stitched: Part,
    parts: Vec<Part>,
}

impl Allowances {
    /// Of a whole piece: what lies on the fold is unfolded before.
    pub fn of(whole: &Shape) -> Allowances {
        let turn = whole.turn();
        let edges = &whole.edges;
        let lines: Vec<Vec<Sample>> = edges.iter().map(|e| samples(e, e.allowance)).collect();
        let mut parts = Vec::new();
        for (i, (edge, line)) in edges.iter().zip(&lines).enumerate() {
            let next = (i + 1) % edges.len();
            let before = (i + edges.len() - 1) % edges.len();
            let starts_back = edges.get(before).is_some_and(|b| hem_of(b, edge) == Some(Side::Next));
            let ends_back = edges.get(next).is_some_and(|n| hem_of(edge, n) == Some(Side::This));
            if starts_back || ends_back {
                let side = |back: bool, from: usize, away: f64| match (back, edges.get(from), lines.get(from)) {
                    (true, Some(side), Some(line)) => HemEnd::Side(inwards(line, turn, away), side.allowance),
                    _ => HemEnd::Plain,
                };
                let ends = [side(starts_back, before, -1.0), side(ends_back, next, 1.0)];
                let out = outward((edge.end() - edge.start()).normalize(), turn);
                hem(edge.start(), edge.end(), out, edge.allowance, ends, &mut parts);
            } else {
                band(line, edge.allowance, turn, &mut parts);
            }
            if let (Some(to), Some(a), Some(b)) =
                (edges.get(next), line.last(), lines.get(next).and_then(|l| l.first()))
                && hem_of(edge, to).is_none()
            {
                joint(
                    a.p,
                    (a.t, edge.allowance),
                    (b.t, to.allowance),
                    meeting(edge),
                    turn,
                    &mut parts,
                );
            }
        }
        let stitched = lines.iter().flatten().map(|s| s.p).collect();
        Allowances { stitched, parts }
    }

    /// The rectangle round all of it, to the accuracy of the numbers.
    pub fn bounds(&self) -> Rect {
        let mut all = self.stitched.iter().chain(self.parts.iter().flatten());
        let Some(first) = all.next() else { return Rect::ZERO };
        all.fold(Rect::from_points(*first, *first), |r, p| r.union_pt(*p))
    }

    /// The cut line as a polygon that is never inside of it, in the direction of
    /// positive area. A gap the allowances close over is filled.
    pub fn union(&self) -> Vec<Point> {
        let mut all = vec![turned(Polygon::new(ring(&self.stitched), Vec::new()))];
        all.extend(self.parts.iter().filter_map(|part| {
            let points: MultiPoint<f64> = part.iter().map(|p| (p.x, p.y)).collect();
            let hull = points.convex_hull();
            (hull.unsigned_area() > 1e-9).then(|| turned(hull))
        }));
        // All run the same way round, so that parts add up and none cuts into another.
        let none = MultiPolygon::new(Vec::new());
        let union = MultiPolygon::new(all).boolean_op_with_fill_rule(&none, OpType::Union, FillRule::NonZero);
        let largest = union
            .into_iter()
            .max_by(|a, b| a.unsigned_area().total_cmp(&b.unsigned_area()));
        largest.map(|p| points_of(&turned(p))).unwrap_or_default()
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    This,
    Next,
}

/// Of two edges that meet in a fold-back corner, which one is the hem.
pub(super) fn hem_of(edge: &ShapeEdge, next: &ShapeEdge) -> Option<Side> {
    if edge.corner != CornerCut::FoldBack {
        return None;
    }
    match (edge.kind, next.kind) {
        (EdgeKind::Hem, EdgeKind::Hem) => None,
        (EdgeKind::Hem, _) => Some(Side::This),
        (_, EdgeKind::Hem) => Some(Side::Next),
        _ => None,
    }
}

fn meeting(edge: &ShapeEdge) -> Meeting {
    match (edge.corner, edge.squares_next) {
        (CornerCut::Square, false) => Meeting::SquareFirst,
        (CornerCut::Square, true) => Meeting::SquareSecond,
        _ => Meeting::Mitre,
    }
}

/// The samples of a side from the hem's corner on, with their outward normals.
/// `away` is -1 where the side ends at the hem.
fn inwards(line: &[Sample], turn: f64, away: f64) -> Vec<(Sample, kurbo::Vec2)> {
    let mut side: Vec<_> = line.iter().map(|s| (*s, outward(s.t, turn))).collect();
    if away < 0.0 {
        side.reverse();
    }
    side
}

pub(super) fn ring(points: &[Point]) -> LineString<f64> {
    let mut points: Vec<(f64, f64)> = points.iter().map(|p| (p.x, p.y)).collect();
    points.dedup();
    points.into()
}

pub(super) fn points_of(polygon: &Polygon<f64>) -> Vec<Point> {
    let mut points: Vec<Point> = polygon.exterior().coords().map(|c| Point::new(c.x, c.y)).collect();
    points.pop();
    points
}

/// In the direction of positive area.
pub(super) fn turned(polygon: Polygon<f64>) -> Polygon<f64> {
    if polygon.signed_area() < 0.0 {
        let (mut outer, _) = polygon.into_inner();
        outer.0.reverse();
        Polygon::new(outer, Vec::new())
    } else {
        polygon
    }
}
