//! Pieces on the plane. One that fits on a sheet lies on one sheet alone; larger
//! ones begin where a sheet does.

use super::pack;
use super::size::{HEAD, OVERLAP, PatternPaper};
use super::tiles::Tiles;
use crate::drafting::formats::DrawnPiece;
use kurbo::{Rect, Size, Vec2};

/// Between two pieces.
pub(super) const BETWEEN: f64 = 6.0;

/// From the edge of a sheet: half the width of a line, and letters beside it.
const INSIDE: f64 = 1.0;

/// Sheets side by side that are tried.
const COLUMNS: usize = 14;

/// One piece: `by` moves it from its own place to that on the plane.
#[derive(Clone, Copy, Debug)]
pub struct Placed {
    pub piece: usize,
    pub by: Vec2,
}

/// The places that need the fewest sheets, and the pieces as they lie: in rows as they are,
/// or, where that takes fewer, turned by a quarter and laid into gaps.
pub fn place(pieces: &[DrawnPiece], paper: PatternPaper) -> (Vec<DrawnPiece>, Vec<Placed>) {
    let most = if paper == PatternPaper::Roll36 { 1 } else { COLUMNS };
    let mut best: Option<((Cost, usize), pack::Packed)> = None;
    let ways = pack::Ways::of(pieces);
    let mut offer = |placed: Vec<Placed>, turned: Vec<bool>| {
        let lying = ways.lying(&turned);
        // Of two that take as many, the one that turns fewer.
        let cost = (
            cost(&lying, &placed, paper),
            turned.iter().filter(|turned| **turned).count(),
        );
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, (placed, turned)));
        }
    };
    let upright = || vec![false; pieces.len()];
    for columns in 1..=most {
        if let Some(placed) = in_rows(pieces, paper, columns) {
            offer(placed, upright());
        }
    }
    for columns in 1..=most {
        for (placed, turned) in pack::packed(&ways, paper, columns) {
            offer(placed, turned);
        }
    }
    match best {
        Some((_, (placed, turned))) => (ways.lying(&turned), placed),
        // Wider than all that was tried: as many columns as it takes.
        None => (pieces.to_vec(), in_rows(pieces, paper, usize::MAX).unwrap_or_default()),
    }
}

/// Sheets, and of a roll how long it is in tenths of a millimetre.
pub(super) type Cost = (usize, u64);

pub(super) fn cost(pieces: &[DrawnPiece], placed: &[Placed], paper: PatternPaper) -> Cost {
    let long = match paper {
        PatternPaper::Roll36 => (used(pieces, placed).height * 10.0).ceil() as u64,
        _ => 0,
    };
    (Tiles::of(pieces, placed, paper).all.len(), long)
}

/// What is drawn of a piece: its lines inside may reach beyond its cut line.
pub fn bounds(piece: &DrawnPiece) -> Rect {
    let lines = piece.inner.iter().map(|(_, line)| kurbo::Shape::bounding_box(line));
    lines.fold(piece.bounds(), |all, b| all.union(b))
}

/// How far so many columns reach.
pub(super) fn reach(paper: PatternPaper, columns: usize) -> f64 {
    if columns == usize::MAX {
        f64::MAX
    } else {
        columns as f64 * paper.step().width + OVERLAP - INSIDE
    }
}

/// Large paper has the test squares at its head.
pub(super) fn first_row(paper: PatternPaper) -> f64 {
    if paper.has_cover() { 0.0 } else { HEAD.height + BETWEEN }
}

/// Highest first, from left to right, row by row; nothing where one is wider than the columns.
pub(super) fn in_rows(pieces: &[DrawnPiece], paper: PatternPaper, columns: usize) -> Option<Vec<Placed>> {
    let step = paper.step();
    let wide = reach(paper, columns);
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|a, b| bounds(&pieces[*b]).height().total_cmp(&bounds(&pieces[*a]).height()));
    let mut placed = Vec::new();
    let mut row = first_row(paper);
    let (mut x, mut bottom) = (0.0, row);
    for piece in order {
        let box_ = bounds(&pieces[piece]);
        let size = box_.size();
        let mut at = along(x, size.width, step.width);
        if at + size.width > wide {
            (row, x) = (bottom, 0.0);
            at = along(x, size.width, step.width);
        }
        if at + size.width > wide {
            return None;
        }
        let down = along(row, size.height, step.height);
        placed.push(Placed {
            piece,
            by: Vec2::new(at, down) - box_.origin().to_vec2(),
        });
        x = at + size.width + BETWEEN;
        bottom = f64::max(bottom, down + size.height + BETWEEN);
    }
    Some(placed)
}

/// The first place from `from` on that lies on one sheet alone, or for what is longer than
/// that where a sheet begins.
pub(super) fn along(from: f64, length: f64, step: f64) -> f64 {
    let own = |n: f64| {
        let begin = if n > 0.0 { n * step + OVERLAP } else { 0.0 };
        (begin + INSIDE, (n + 1.0) * step - INSIDE)
    };
    let mut n = (from / step).floor().max(0.0);
    if length > step - OVERLAP - 2.0 * INSIDE {
        // The first sheet has no neighbour before it: it may serve though others do not.
        loop {
            let (begin, end) = own(n);
            if from <= begin || (n == 0.0 && from + length <= end) {
                return begin.max(from);
            }
            n += 1.0;
        }
    }
    loop {
        let (begin, end) = own(n);
        let at = from.max(begin);
        if at + length <= end {
            return at;
        }
        n += 1.0;
    }
}

/// How much of a roll is used.
pub fn used(pieces: &[DrawnPiece], placed: &[Placed]) -> Size {
    placed.iter().fold(HEAD, |used, p| {
        let b = pieces.get(p.piece).map(bounds).unwrap_or_default() + p.by;
        Size::new(used.width.max(b.x1), used.height.max(b.y1))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fits_on_a_sheet_lies_on_one_alone() {
        for (from, length) in [
            (0.0, 50.0),
            (150.0, 50.0),
            (180.0, 168.0),
            (171.0, 10.0),
            (700.0, 100.0),
        ] {
            let at = along(from, length, 180.0);
            assert!(at >= from);
            let n = (at / 180.0).floor();
            let begin = if n > 0.0 { n * 180.0 + OVERLAP } else { 0.0 };
            assert!(at >= begin && at + length <= (n + 1.0) * 180.0, "{from} {length}: {at}");
        }
    }

    #[test]
    fn what_does_not_fit_begins_where_a_sheet_does() {
        assert_eq!(along(0.0, 400.0, 180.0), INSIDE);
        assert_eq!(along(5.0, 400.0, 180.0), 180.0 + OVERLAP + INSIDE);
        assert_eq!(along(3.0, 172.0, 180.0), 3.0);
    }
}
