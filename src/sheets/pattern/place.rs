//! Pieces on the plane. One that fits on a sheet lies on one sheet alone; larger
//! ones begin where a sheet does.

use super::size::{HEAD, OVERLAP, PatternPaper};
use super::tiles::Tiles;
use crate::drafting::formats::DrawnPiece;
use kurbo::{Rect, Size, Vec2};

/// Between two pieces.
const BETWEEN: f64 = 6.0;

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

/// The places that need the fewest sheets.
pub fn place(pieces: &[DrawnPiece], paper: PatternPaper) -> Vec<Placed> {
    let most = if paper == PatternPaper::Roll36 { 1 } else { COLUMNS };
    let mut best: Option<(usize, Vec<Placed>)> = None;
    for columns in 1..=most {
        let Some(placed) = in_rows(pieces, paper, columns) else {
            continue;
        };
        let sheets = Tiles::of(pieces, &placed, paper).all.len();
        if best.as_ref().is_none_or(|(least, _)| sheets < *least) {
            best = Some((sheets, placed));
        }
    }
    // Wider than all that was tried: as many columns as it takes.
    best.map(|(_, placed)| placed)
        .or_else(|| in_rows(pieces, paper, usize::MAX))
        .unwrap_or_default()
}

/// What is drawn of a piece: its lines inside may reach beyond its cut line.
pub fn bounds(piece: &DrawnPiece) -> Rect {
    let lines = piece.inner.iter().map(|(_, line)| kurbo::Shape::bounding_box(line));
    lines.fold(piece.bounds(), |all, b| all.union(b))
}

/// Highest first, from left to right, row by row; nothing where one is wider than the columns.
fn in_rows(pieces: &[DrawnPiece], paper: PatternPaper, columns: usize) -> Option<Vec<Placed>> {
    let step = paper.step();
    let wide = if columns == usize::MAX {
        f64::MAX
    } else {
        columns as f64 * step.width + OVERLAP - INSIDE
    };
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|a, b| bounds(&pieces[*b]).height().total_cmp(&bounds(&pieces[*a]).height()));
    let mut placed = Vec::new();
    let mut row = if paper.has_cover() { 0.0 } else { HEAD.height + BETWEEN };
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
fn along(from: f64, length: f64, step: f64) -> f64 {
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
