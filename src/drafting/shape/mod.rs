//! [`Shape`]: an outline in numbers that can be measured, cut and drawn.
//!
//! All coordinates are millimetres, `x` across, `y` down along the grain, as in
//! the plan's outline. The edges are the stitching line; the cut line is worked
//! out from their allowances. A shape is only made of an outline that was
//! checked, so nothing here fails.
//!
//! - [`edge`]: an edge, its length, a place on it
//! - [`sample`]: curves as chords
//! - [`band`], [`hem`], [`cut`]: allowances, corners, the cut line
//! - [`fold`]: pieces on the fold
//! - [`upright`]: turned by the grainline
//! - [`read`]: from the plan's outline and back
//! - [`check`]: what can be wrong with it
//! - [`change`]: lengthened, added to, rounded
//! - [`corner`]: a corner rounded
//! - [`round`]: from exact lengths and back

mod band;
mod change;
mod check;
mod corner;
mod cut;
mod edge;
mod fold;
mod hem;
mod read;
pub(crate) mod round;
mod sample;
mod upright;

pub(crate) use change::arc;
pub use check::Told;
pub(crate) use edge::direction;
pub use edge::{Place, ShapeEdge};
pub(crate) use read::edge_path;
pub use sample::BOUND;

use crate::measure::Length;
use crate::plan::{EdgeKind, Spot};
use cut::Allowances;
use kurbo::{BezPath, PathEl, Point, Rect, Shape as _};

/// The outline of a piece; of one with a fold, its half.
#[derive(Clone, Debug)]
pub struct Shape {
    /// In order round; each path begins where the one before ends.
    pub edges: Vec<ShapeEdge>,
    pub notches: Vec<ShapeNotch>,
    /// The grainline, from its upper end to its lower; it stands upright.
    pub grain: [Point; 2],
    /// Points to mark through, with their names.
    pub marks: Vec<(String, Point)>,
    /// Lines inside: folds, places of other pieces.
    pub inner: Vec<(String, BezPath)>,
}

/// A notch: `edge` is the place of its edge in [`Shape::edges`].
#[derive(Clone, Copy, Debug)]
pub struct ShapeNotch {
    pub edge: usize,
    /// Along the stitching line, in millimetres.
    pub at: f64,
    pub double: bool,
}

/// Width and height of what is cut, never smaller than it is: of a piece that
/// is opened out, of the whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutSize {
    /// Of a piece on the fold, to the fold.
    pub width: Length,
    pub height: Length,
}

impl Shape {
    /// The stitching line as one closed path.
    pub fn stitching(&self) -> BezPath {
        let mut path = BezPath::new();
        for edge in &self.edges {
            let skip = usize::from(!path.elements().is_empty());
            path.extend(edge.path.elements().iter().skip(skip).copied());
        }
        if !path.elements().is_empty() {
            path.push(PathEl::ClosePath);
        }
        path
    }

    /// The stitching line as points, within [`BOUND`].
    pub fn stitching_polygon(&self) -> Vec<Point> {
        let mut points: Vec<Point> = self
            .edges
            .iter()
            .flat_map(|e| sample::samples(e, 0.0))
            .map(|s| s.p)
            .collect();
        points.dedup_by(|b, a| (*b - *a).hypot() < 1e-9);
        if let (Some(first), Some(last)) = (points.first(), points.last())
            && points.len() > 1
            && (*last - *first).hypot() < 1e-9
        {
            points.pop();
        }
        points
    }

    /// What is cut, as a polygon in the direction of positive area: the piece
    /// with its allowances, never less. Of a piece on the fold, the half that is
    /// laid on it.
    pub fn cut_polygon(&self) -> Vec<Point> {
        self.half_of(&self.whole_cut_polygon())
    }

    /// As [`Shape::cut_polygon`], of a piece on the fold both halves.
    pub fn whole_cut_polygon(&self) -> Vec<Point> {
        Allowances::of(&self.unfolded()).union()
    }

    /// [`Shape::cut_polygon`] as a closed path.
    pub fn cut_line(&self) -> BezPath {
        path_of(&self.cut_polygon())
    }

    pub fn whole_cut_line(&self) -> BezPath {
        path_of(&self.whole_cut_polygon())
    }

    /// Width and height of what is cut, rounded up.
    pub fn cut_size(&self) -> CutSize {
        let bounds = self.cut_bounds();
        CutSize {
            width: round::up(bounds.width()),
            height: round::up(bounds.height()),
        }
    }

    /// The rectangle round what is cut; of a piece on the fold, round the half.
    pub fn cut_bounds(&self) -> Rect {
        let whole = Allowances::of(&self.unfolded()).bounds();
        match self.fold_x() {
            Some(x) if self.bounds().center().x > x => Rect { x0: x, ..whole },
            Some(x) => Rect { x1: x, ..whole },
            None => whole,
        }
    }

    /// The rectangle round the stitching line.
    pub fn bounds(&self) -> Rect {
        self.stitching().bounding_box()
    }

    /// Area within the stitching line in square millimetres; of a piece on the
    /// fold, of the half.
    pub fn area(&self) -> f64 {
        self.stitching().area().abs()
    }

    /// Length of the stitching line all round, a fold not counted.
    pub fn perimeter(&self) -> f64 {
        self.edges
            .iter()
            .filter(|e| e.kind != EdgeKind::Fold)
            .map(ShapeEdge::length)
            .sum()
    }

    pub fn edge(&self, name: &str) -> Option<&ShapeEdge> {
        self.edges.iter().find(|e| e.name == name)
    }

    /// Length of an edge of the piece as it is sewn: on the fold, of both halves.
    /// Never shorter.
    pub fn sewn_length(&self, edge: &ShapeEdge) -> Length {
        let halves = if self.fold().is_some() { 2.0 } else { 1.0 };
        round::up(edge.length() * halves)
    }

    /// How often each edge is there, as it is drawn, when so many are cut: on the
    /// fold both halves count.
    pub fn times_sewn(&self, cut_count: u32) -> u32 {
        cut_count.saturating_mul(if self.fold().is_some() { 2 } else { 1 })
    }

    /// Point, direction and the way out at a distance along an edge.
    pub fn place(&self, edge: &ShapeEdge, at: f64) -> Place {
        let (point, along) = edge.at(at);
        Place {
            point,
            along,
            outward: band::outward(along, self.turn()),
        }
    }

    pub fn notch_place(&self, notch: &ShapeNotch) -> Option<Place> {
        self.edges.get(notch.edge).map(|e| self.place(e, notch.at))
    }

    /// Out of the piece, for an edge that runs along `along`.
    pub(crate) fn outward(&self, along: kurbo::Vec2) -> kurbo::Vec2 {
        band::outward(along, self.turn())
    }

    /// 1 where the edges run in the direction of positive area, else -1.
    fn turn(&self) -> f64 {
        if self.stitching().area() < 0.0 { -1.0 } else { 1.0 }
    }

    /// As the plan keeps it, to the nearest 1/640 mm.
    pub fn to_outline(&self) -> crate::plan::PatternOutline {
        read::outline_of(self)
    }
}

/// A closed path of straight lines.
pub fn path_of(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (i, p) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*p);
        } else {
            path.line_to(*p);
        }
    }
    if !points.is_empty() {
        path.close_path();
    }
    path
}

/// A point of a plan in millimetres.
pub fn point_of(spot: Spot) -> Point {
    round::point(spot)
}
