//! Pieces into gaps, each as it is or turned by a quarter: it is paper, and the
//! grainline turns with it. The rectangles round them are laid one after the
//! other, each where it needs the fewest new sheets and then ends highest.

use super::place::{BETWEEN, Placed, along, bounds, first_row, reach};
use super::size::{OVERLAP, PatternPaper};
use crate::drafting::formats::DrawnPiece;
use kurbo::{Point, Rect, Size};
use std::collections::HashSet;

/// Of more pieces than this one order is tried, and gaps are looked for beside the last ones.
const MANY: usize = 40;

/// Every piece as it is and turned.
pub(super) struct Ways {
    ways: Vec<[DrawnPiece; 2]>,
    boxes: Vec<[Rect; 2]>,
}

impl Ways {
    pub(super) fn of(pieces: &[DrawnPiece]) -> Ways {
        let ways: Vec<[DrawnPiece; 2]> = pieces.iter().map(|p| [p.clone(), p.quarter_turned()]).collect();
        let boxes = ways.iter().map(|both| both.each_ref().map(bounds)).collect();
        Ways { ways, boxes }
    }

    /// The pieces as they lie.
    pub(super) fn lying(&self, turned: &[bool]) -> Vec<DrawnPiece> {
        let both = self.ways.iter().zip(turned);
        both.map(|([own, other], turned)| if *turned { other } else { own }.clone())
            .collect()
    }
}

/// Where the pieces lie, and which are turned.
pub(super) type Packed = (Vec<Placed>, Vec<bool>);

/// Places within so many columns, by several orders of the pieces.
pub(super) fn packed(ways: &Ways, paper: PatternPaper, columns: usize) -> Vec<Packed> {
    type Key = fn(&[Rect; 2]) -> f64;
    let orders: [(Key, bool); 4] = [
        (|b| b[0].height(), false),
        (|b| b[0].area(), true),
        (|b| b[0].width().max(b[0].height()), true),
        (|b| b[0].height(), true),
    ];
    let tried = if ways.boxes.len() > MANY { 2 } else { orders.len() };
    let sorted = |key: Key| {
        let mut order: Vec<usize> = (0..ways.boxes.len()).collect();
        order.sort_by(|a, b| key(&ways.boxes[*b]).total_cmp(&key(&ways.boxes[*a])));
        order
    };
    let mut found = Vec::new();
    for (key, turns) in &orders[..tried] {
        let order = sorted(*key);
        found.extend(one_by_one(
            ways,
            &order,
            if *turns { Turn::Freely } else { Turn::Never },
            paper,
            columns,
        ));
        if *turns {
            found.extend(one_by_one(ways, &order, Turn::ForSheets, paper, columns));
        }
    }
    found
}

/// New sheets, whether it is turned where that should be seldom, where it ends, where it begins.
type Worth = (usize, bool, f64, f64);

#[derive(Clone, Copy, PartialEq, Eq)]
enum Turn {
    Never,
    /// Where it needs fewer new sheets.
    ForSheets,
    /// Where it ends higher too.
    Freely,
}

fn one_by_one(ways: &Ways, order: &[usize], turn: Turn, paper: PatternPaper, columns: usize) -> Option<Packed> {
    let step = paper.step();
    let wide = reach(paper, columns);
    let top = first_row(paper);
    let mut taken: Vec<Rect> = Vec::new();
    let mut sheets: HashSet<(usize, usize)> = HashSet::new();
    let mut placed = Vec::new();
    let mut turned = vec![false; ways.boxes.len()];
    for piece in order {
        let mut best: Option<(Worth, bool, Rect)> = None;
        for way in 0..=usize::from(turn != Turn::Never) {
            let size = ways.boxes[*piece][way].size();
            for x in beginnings(&taken, size, wide, step, columns) {
                let lies = Rect::from_origin_size(Point::new(x, highest(&taken, x, size, top, step)), size);
                let new = on(lies, step).filter(|sheet| !sheets.contains(sheet)).count();
                let cost = (new, way == 1 && turn == Turn::ForSheets, lies.y1, lies.x0);
                if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
                    best = Some((cost, way == 1, lies));
                }
            }
        }
        let (_, is_turned, lies) = best?;
        sheets.extend(on(lies, step));
        taken.push(lies);
        turned[*piece] = is_turned;
        let own = ways.boxes[*piece][usize::from(is_turned)];
        placed.push(Placed {
            piece: *piece,
            by: lies.origin() - own.origin(),
        });
    }
    Some((placed, turned))
}

/// Where across the plane a piece may begin: at a sheet, or beside another piece.
fn beginnings(taken: &[Rect], size: Size, wide: f64, step: Size, columns: usize) -> Vec<f64> {
    let beside = taken.iter().rev().take(MANY).map(|r| r.x1 + BETWEEN);
    let sheets = (0..columns).map(|n| n as f64 * step.width);
    let mut all: Vec<f64> = sheets
        .chain(beside)
        .map(|from| along(from, size.width, step.width))
        .filter(|x| x + size.width <= wide)
        .collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// The first free place from the top on.
fn highest(taken: &[Rect], x: f64, size: Size, top: f64, step: Size) -> f64 {
    let mut y = along(top, size.height, step.height);
    let in_the_way = |y: f64| {
        let lies = Rect::new(x, y, x + size.width, y + size.height).inflate(BETWEEN - 1e-6, BETWEEN - 1e-6);
        let below = taken.iter().filter(|r| r.overlaps(lies)).map(|r| r.y1);
        below.min_by(f64::total_cmp)
    };
    while let Some(below) = in_the_way(y) {
        y = along((below + BETWEEN).max(y + 1e-3), size.height, step.height);
    }
    y
}

/// The sheets a rectangle is seen on first.
fn on(lies: Rect, step: Size) -> impl Iterator<Item = (usize, usize)> {
    // The nth sheet shows what lies beyond the strip it shares with the one before.
    let sheet = |at: f64, step: f64| ((at - OVERLAP) / step).floor().max(0.0) as usize;
    let columns = sheet(lies.x0, step.width)..=sheet(lies.x1, step.width);
    let rows = sheet(lies.y0, step.height)..=sheet(lies.y1, step.height);
    columns.flat_map(move |column| rows.clone().map(move |row| (column, row)))
}

#[cfg(test)]
mod tests {
    use super::super::place::{cost, in_rows, place};
    use super::super::tiles::Tiles;
    use super::*;
    use crate::measure::MM;
    use crate::plan::{Piece, Plan};

    fn rectangles(sizes: &[(i64, i64)]) -> Vec<DrawnPiece> {
        let piece = |(n, (width, height)): (usize, &(i64, i64))| {
            let piece = Piece {
                id: n.to_string(),
                name: n.to_string(),
                cut_count: 1,
                width: MM * *width,
                height: MM * *height,
                ..Piece::default()
            };
            DrawnPiece::of(&Plan::default(), &piece).expect("a rectangle")
        };
        sizes.iter().enumerate().map(piece).collect()
    }

    /// Rows without turning, as many columns as are tried: the least that takes.
    fn in_rows_alone(pieces: &[DrawnPiece], paper: PatternPaper) -> (usize, u64) {
        let most = if paper == PatternPaper::Roll36 { 1 } else { 14 };
        (1..=most)
            .filter_map(|columns| Some(cost(pieces, &in_rows(pieces, paper, columns)?, paper)))
            .min()
            .unwrap_or((usize::MAX, 0))
    }

    #[test]
    fn it_never_takes_more_sheets_than_rows_do_and_often_fewer() {
        // Numbers without a pattern that are the same each time.
        let mut seed = 7_u64;
        let mut number = |from: u64, to: u64| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (from + (seed >> 33) % (to - from)) as i64
        };
        let (mut fewer, mut sets) = (0, 0);
        for set in 0..24 {
            let many = number(1, if set % 6 == 0 { 45 } else { 12 });
            let sizes: Vec<(i64, i64)> = (0..many)
                .map(|_| match number(0, 4) {
                    0 => (number(30, 120), number(300, 1_200)),
                    1 => (number(300, 1_200), number(30, 120)),
                    _ => (number(40, 500), number(40, 700)),
                })
                .collect();
            let pieces = rectangles(&sizes);
            for paper in PatternPaper::ALL {
                let before = in_rows_alone(&pieces, paper);
                let (lying, placed) = place(&pieces, paper);
                let after = cost(&lying, &placed, paper);
                assert!(after <= before, "{sizes:?} on {}: {after:?}, {before:?}", paper.name());
                sets += 1;
                fewer += usize::from(after < before);
                lies_well(&pieces, &lying, &placed, paper);
            }
        }
        assert!(fewer * 3 > sets, "{fewer} of {sets}");
    }

    /// Every piece is there once, as large as before, apart from others, on the sheets.
    fn lies_well(pieces: &[DrawnPiece], lying: &[DrawnPiece], placed: &[Placed], paper: PatternPaper) {
        let mut all: Vec<usize> = placed.iter().map(|p| p.piece).collect();
        all.sort_unstable();
        assert_eq!(all, (0..pieces.len()).collect::<Vec<_>>());
        let rects: Vec<Rect> = placed.iter().map(|p| bounds(&lying[p.piece]) + p.by).collect();
        let tiles = Tiles::of(lying, placed, paper);
        let frame = paper.frame();
        for (n, (rect, p)) in rects.iter().zip(placed).enumerate() {
            let (own, is) = (bounds(&pieces[p.piece]).size(), rect.size());
            let turned = Size::new(own.height, own.width);
            let same = |a: Size, b: Size| (a.width - b.width).abs() < 1e-6 && (a.height - b.height).abs() < 1e-6;
            assert!(same(own, is) || same(turned, is), "{own:?} {is:?}");
            for other in &rects[n + 1..] {
                let near = rect.inflate(BETWEEN - 1e-3, BETWEEN - 1e-3);
                assert!(!near.overlaps(*other), "{rect:?} {other:?}");
            }
            assert!(rect.x0 >= 0.0 && rect.y0 >= first_row(paper));
            // What fits between the strips of a sheet lies on one sheet alone.
            if is.width < frame.width - 2.0 * OVERLAP - 2.0 && is.height < frame.height - 2.0 * OVERLAP - 2.0 {
                let on = (0..tiles.all.len())
                    .filter(|t| tiles.pieces_on(*t).contains(&p.piece))
                    .count();
                assert_eq!(on, 1, "{rect:?}");
            }
        }
    }

    #[test]
    fn a_long_band_is_turned_into_the_rows_beside_it() {
        // Four columns of A4 hold the panel; the band fits below it when it lies.
        let pieces = rectangles(&[(730, 500), (40, 720)]);
        let (lying, placed) = place(&pieces, PatternPaper::A4);
        assert!(cost(&lying, &placed, PatternPaper::A4) < in_rows_alone(&pieces, PatternPaper::A4));
        let grain = lying[1].grain;
        assert!((grain[0].y - grain[1].y).abs() < 1e-6 || (lying[0].grain[0].y - lying[0].grain[1].y).abs() < 1e-6);
    }
}
