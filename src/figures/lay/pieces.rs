//! Which pieces are cut from a cloth, and the outline each is cut by.

use super::{LayGround, LayTurns};
use crate::drafting::{lay, shape_of};
use crate::figures::Size;
use crate::plan::{Face, Piece, Plan};
use kurbo::Point;

/// A piece, its outline as it is cut: seam allowances and margin are in it.
#[derive(Clone, Debug)]
pub struct LayPiece {
    /// Its id in the plan.
    pub piece: String,
    pub name: String,
    /// Told apart in drawings by this letter.
    pub letter: String,
    pub count: usize,
    pub mirrored: bool,
    /// Both halves; x along the grain, y across.
    whole: Vec<Point>,
    /// Of a piece on the fold, one half with the fold at y = 0.
    half: Option<Vec<Point>>,
    /// The grainline in the coordinates of `whole` and of `half`.
    grain: [[Point; 2]; 2],
    /// False where the piece is laid as the rectangle round it.
    pub outlined: bool,
    /// Why it is laid as a rectangle that is larger than itself.
    pub quilted: bool,
    /// Says that its fold does not run along the grain, so that the whole is laid.
    pub opened_out: Option<String>,
}

/// Along the cloth goes what runs down in the pattern.
fn along(p: Point) -> Point {
    Point::new(p.y, p.x)
}

/// `panel` is the size of a piece's panel, where there is one.
pub(super) fn of(plan: &Plan, cloth: &str, panel: impl Fn(&str) -> Option<Size>) -> Vec<LayPiece> {
    let cut_from_it = |piece: &&Piece| matches!(&piece.face, Some(Face::Plain(face)) if face.cloth == cloth);
    plan.pieces
        .iter()
        .filter(cut_from_it)
        .filter_map(|piece| one(plan, piece, panel(&piece.id)?))
        .enumerate()
        .map(|(n, piece)| LayPiece {
            letter: letter(n),
            ..piece
        })
        .collect()
}

/// A, B, ... Z, AA, AB.
fn letter(n: usize) -> String {
    let last = char::from(b'A' + (n % 26) as u8).to_string();
    if n < 26 { last } else { letter(n / 26 - 1) + &last }
}

fn one(plan: &Plan, piece: &Piece, panel: Size) -> Option<LayPiece> {
    // What is quilted or trimmed is cut as a panel first, to shape afterwards.
    let quilted = piece.layers.is_some() || piece.margin.is_positive();
    let shape = match &piece.pattern {
        Some(_) => Some(shape_of(plan, piece).ok()?),
        None => None,
    };
    let mut laid = LayPiece {
        piece: piece.id.clone(),
        name: piece.name.clone(),
        letter: String::new(),
        count: piece.cut_count as usize,
        mirrored: piece.mirrored,
        whole: Vec::new(),
        half: None,
        grain: [[Point::ORIGIN; 2]; 2],
        outlined: false,
        quilted: quilted && piece.pattern.is_some(),
        opened_out: shape.as_ref().and_then(|s| s.fold_notice(&piece.name)),
    };
    match shape.filter(|_| !quilted) {
        Some(shape) => {
            laid.outlined = true;
            laid.whole = shape.whole_cut_polygon().into_iter().map(along).collect();
            let grain = shape.grain.map(along);
            laid.grain = [grain, grain];
            if let Some(fold) = shape.fold_x() {
                let beside = |p: Point| Point::new(p.x, (p.y - fold).abs());
                laid.half = Some(shape.cut_polygon().into_iter().map(|p| beside(along(p))).collect());
                laid.grain[1] = grain.map(beside);
            }
        }
        None => {
            let (across, down) = (panel.width.as_mm_f64(), panel.height.as_mm_f64());
            laid.whole = rectangle(down, across);
            laid.grain[0] = straight(down, across);
            if piece.on_fold && !quilted {
                laid.half = Some(rectangle(down, across / 2.0));
                laid.grain[1] = straight(down, across / 2.0);
            }
        }
    }
    Some(laid)
}

fn rectangle(along: f64, across: f64) -> Vec<Point> {
    [(0.0, 0.0), (along, 0.0), (along, across), (0.0, across)]
        .map(Point::from)
        .to_vec()
}

fn straight(along: f64, across: f64) -> [Point; 2] {
    [
        Point::new(along * 0.25, across / 2.0),
        Point::new(along * 0.75, across / 2.0),
    ]
}

impl LayPiece {
    fn lies_on_fold(&self, ground: LayGround) -> bool {
        ground == LayGround::Folded && self.half.is_some()
    }

    pub(super) fn laid(&self, ground: LayGround, turns: LayTurns) -> lay::Piece {
        let on_fold = self.lies_on_fold(ground);
        lay::Piece {
            name: self.name.clone(),
            outline: self.outline(ground).to_vec(),
            count: self.count,
            turns: match turns {
                LayTurns::BothWays => lay::Turns::BothWays,
                LayTurns::OneWay => lay::Turns::OneWay,
                LayTurns::Across => lay::Turns::Quarters,
            },
            faces: if self.mirrored && !on_fold {
                lay::Faces::Pair
            } else {
                lay::Faces::Alike
            },
            on_fold,
        }
    }

    pub(super) fn outline(&self, ground: LayGround) -> &[Point] {
        match &self.half {
            Some(half) if ground == LayGround::Folded => half,
            _ => &self.whole,
        }
    }

    pub(super) fn grain(&self, ground: LayGround) -> [Point; 2] {
        self.grain[usize::from(self.lies_on_fold(ground))]
    }
}
