//! A piece of a plan as it is written into files and printed: its lines in
//! millimetres. The one place where pieces with an outline and plain rectangles
//! become alike.

use crate::drafting::shape::round;
use crate::drafting::{CutSize, DraftProblem, Shape, shape_of};
use crate::plan::{Along, Piece, Plan};
use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Vec2};

/// All lines of one piece, `y` down along the grain.
#[derive(Clone, Debug)]
pub struct DrawnPiece {
    pub name: String,
    pub cut_count: u32,
    pub mirrored: bool,
    /// What is cut, closed; of a piece on the fold, the half.
    pub cut: Vec<Point>,
    /// The stitching line, closed; nothing of a rectangle, whose allowances are in its size.
    pub stitching: Option<BezPath>,
    /// The edge on the fold, from its upper end to its lower.
    pub fold: Option<[Point; 2]>,
    pub notches: Vec<DrawnNotch>,
    pub grain: [Point; 2],
    pub marks: Vec<(String, Point)>,
    pub inner: Vec<(String, BezPath)>,
}

/// A notch from the stitching line out to the cut line.
#[derive(Clone, Copy, Debug)]
pub struct DrawnNotch {
    pub stitched: Point,
    pub cut: Point,
    /// Of length 1, out of the piece and along its edge.
    pub outward: Vec2,
    pub along: Vec2,
    pub double: bool,
}

impl DrawnPiece {
    /// As the pattern piece is printed: of one on the fold, the half.
    pub fn of(plan: &Plan, piece: &Piece) -> Result<DrawnPiece, Vec<DraftProblem>> {
        match piece.pattern {
            Some(_) => shape_of(plan, piece).map(|shape| drawn(piece, &shape.as_cut())),
            None => rectangle(piece).map_err(|problem| vec![problem]),
        }
    }

    /// As it lies opened: what is on the fold is unfolded.
    pub fn whole(plan: &Plan, piece: &Piece) -> Result<DrawnPiece, Vec<DraftProblem>> {
        if piece.pattern.is_some() {
            return shape_of(plan, piece).map(|shape| drawn(piece, &shape.unfolded()));
        }
        let half = rectangle(piece).map_err(|problem| vec![problem])?;
        Ok(match half.fold {
            None => half,
            Some(_) => {
                let b = half.bounds();
                let whole = Rect::new(b.x0, b.y0, b.x1 + b.width(), b.y1);
                DrawnPiece {
                    cut: corners(whole),
                    fold: None,
                    grain: upright(whole),
                    ..half
                }
            }
        })
    }

    /// Turned by a quarter, clockwise; its grainline turns with it.
    pub fn quarter_turned(&self) -> DrawnPiece {
        // y runs down: what pointed down points to the left.
        let turn = Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]);
        let way = |v: Vec2| Vec2::new(-v.y, v.x);
        DrawnPiece {
            name: self.name.clone(),
            cut: self.cut.iter().map(|p| turn * *p).collect(),
            stitching: self.stitching.clone().map(|line| turn * line),
            fold: self.fold.map(|ends| ends.map(|p| turn * p)),
            notches: self
                .notches
                .iter()
                .map(|n| DrawnNotch {
                    stitched: turn * n.stitched,
                    cut: turn * n.cut,
                    outward: way(n.outward),
                    along: way(n.along),
                    ..*n
                })
                .collect(),
            grain: self.grain.map(|p| turn * p),
            marks: self.marks.iter().map(|(name, p)| (name.clone(), turn * *p)).collect(),
            inner: self
                .inner
                .iter()
                .map(|(name, l)| (name.clone(), turn * l.clone()))
                .collect(),
            ..*self
        }
    }

    /// The rectangle round what is cut.
    pub fn bounds(&self) -> Rect {
        let first = self.cut.first().copied().unwrap_or_default();
        self.cut
            .iter()
            .fold(Rect::from_points(first, first), |r, p| r.union_pt(*p))
    }

    /// Width and height of what is cut, rounded up.
    pub fn cut_size(&self) -> CutSize {
        let bounds = self.bounds();
        CutSize {
            width: round::up(bounds.width()),
            height: round::up(bounds.height()),
        }
    }

    /// How many to cut, as it stands on the pattern: `Cut 2, a mirrored pair`.
    pub fn cut_words(&self) -> String {
        let n = self.cut_count;
        let fold = if self.fold.is_some() { " on the fold" } else { "" };
        match (n, self.mirrored && n > 1) {
            (2, true) => format!("Cut 2{fold}, a mirrored pair"),
            (n, true) => format!("Cut {n}{fold}, half of them mirrored"),
            (n, false) => format!("Cut {n}{fold}"),
        }
    }
}

fn drawn(piece: &Piece, shape: &Shape) -> DrawnPiece {
    let fold = shape.fold().map(|edge| {
        let (a, b) = (edge.start(), edge.end());
        if a.y <= b.y { [a, b] } else { [b, a] }
    });
    let notches = shape
        .notches
        .iter()
        .filter_map(|notch| {
            let place = shape.notch_place(notch)?;
            let allowance = shape.edges.get(notch.edge).map_or(0.0, |e| e.allowance);
            Some(DrawnNotch {
                stitched: place.point,
                cut: place.point + place.outward * allowance,
                outward: place.outward,
                along: place.along,
                double: notch.double,
            })
        })
        .collect();
    DrawnPiece {
        name: piece.name.clone(),
        cut_count: piece.cut_count,
        mirrored: piece.mirrored,
        cut: shape.cut_polygon(),
        stitching: Some(shape.stitching()),
        fold,
        notches,
        grain: shape.grain,
        marks: shape.marks.clone(),
        inner: shape.inner.clone(),
    }
}

/// Width and height have the allowances in them; a fold lies on the left.
fn rectangle(piece: &Piece) -> Result<DrawnPiece, DraftProblem> {
    let (mut width, mut height) = (piece.width, piece.height);
    for alteration in &piece.alterations {
        match alteration.along {
            Along::Width => width += alteration.by,
            Along::Height => height += alteration.by,
        }
    }
    if !width.is_positive() || !height.is_positive() {
        return Err(DraftProblem::new(
            format!("pieces/{}/width", piece.id),
            format!(
                "{} has no width or no height. Type both before it is drawn.",
                piece.name
            ),
        ));
    }
    let rect = Rect::new(0.0, 0.0, width.as_mm_f64(), height.as_mm_f64());
    let left = || [Point::new(rect.x0, rect.y0), Point::new(rect.x0, rect.y1)];
    Ok(DrawnPiece {
        name: piece.name.clone(),
        cut_count: piece.cut_count,
        mirrored: piece.mirrored,
        cut: corners(rect),
        stitching: None,
        fold: piece.on_fold.then(left),
        notches: Vec::new(),
        grain: upright(rect),
        marks: Vec::new(),
        inner: Vec::new(),
    })
}

fn corners(rect: Rect) -> Vec<Point> {
    let mut points: Vec<Point> = rect.path_elements(0.1).filter_map(|e| e.end_point()).collect();
    points.dedup();
    points
}

fn upright(rect: Rect) -> [Point; 2] {
    let (x, tall) = (rect.center().x, rect.height() * 0.7);
    let y = rect.center().y - tall / 2.0;
    [Point::new(x, y), Point::new(x, y + tall)]
}
