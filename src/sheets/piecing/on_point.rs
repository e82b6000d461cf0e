//! Blocks on point: how they are drawn, and the rows they are sewn in, which
//! rise from the lower left to the upper right.

use super::painter::Painter;
use super::panel::Inside;
use crate::plan::{Patchwork, Sashing};
use crate::sheets::document::Point;
use std::collections::BTreeSet;

/// A place in half blocks across and down from the upper left corner.
type Half = (usize, usize);

/// Blocks, setting triangles, and sashing all round every block.
pub fn draw(painter: &mut Painter, face: &Patchwork, inside: &Inside, (width, height): (f64, f64)) {
    let half = inside.across() / 2.0;
    let pitch = inside.unit.0 + inside.sash;
    let blocks: Vec<(Half, (usize, u32))> = rows(face, inside.columns, inside.rows)
        .into_iter()
        .flat_map(|row| row.blocks)
        .collect();
    for (at, (unit, turn)) in &blocks {
        let middle = (at.0 as f64 * half, at.1 as f64 * half);
        if let Some(unit) = face.units.get(*unit) {
            let side = inside.unit.0 / 2.0;
            painter.unit(unit, *turn, inside.unit, &|(x, y)| turned(middle, (x - side, y - side)));
        }
    }
    if let Some(sashing) = face.sashing.as_ref().filter(|_| inside.sash > 0.0) {
        let places: Vec<Half> = blocks.iter().map(|(at, _)| *at).collect();
        sash(painter, sashing, &places, half, (inside.unit.0, inside.sash));
    }
    let Some(setting) = &face.on_point else { return };
    let across = 2.0 * half;
    let back = inside.sash * std::f64::consts::FRAC_1_SQRT_2;
    let (from, base) = (half + back, across - 2.0 * back);
    if base <= 0.0 || pitch <= 0.0 {
        return;
    }
    let deep = base / 2.0;
    for c in 0..inside.columns.saturating_sub(1) {
        let x = c as f64 * across + from;
        for (y, tip) in [(0.0, deep), (height, height - deep)] {
            painter.patch(&setting.side, vec![(x, y), (x + base, y), (x + deep, tip)], deep * 0.5);
        }
    }
    for r in 0..inside.rows.saturating_sub(1) {
        let y = r as f64 * across + from;
        for (x, tip) in [(0.0, deep), (width, width - deep)] {
            painter.patch(&setting.side, vec![(x, y), (x, y + base), (tip, y + deep)], deep * 0.5);
        }
    }
    let leg = (half - back).max(0.0);
    for (x, dx) in [(0.0, leg), (width, -leg)] {
        for (y, dy) in [(0.0, leg), (height, -leg)] {
            painter.patch(&setting.corner, vec![(x, y), (x + dx, y), (x, y + dy)], leg * 0.35);
        }
    }
}

/// From a middle, by so much along and across a block that stands on its corner.
fn turned(middle: Point, (x, y): Point) -> Point {
    let k = std::f64::consts::FRAC_1_SQRT_2;
    (middle.0 + (x - y) * k, middle.1 + (x + y) * k)
}

/// Every strip and every post once, though two blocks share it.
fn sash(painter: &mut Painter, sashing: &Sashing, blocks: &[Half], half: f64, (side, wide): (f64, f64)) {
    let square = |middle: Point, w: f64, h: f64| -> Vec<Point> {
        let corners = [(-w, -h), (w, -h), (w, h), (-w, h)].into_iter();
        corners.map(|(x, y)| turned(middle, (x / 2.0, y / 2.0))).collect()
    };
    // The middle of a strip in quarter blocks, and whether it rises.
    let mut strips: BTreeSet<(usize, usize, bool)> = BTreeSet::new();
    let mut posts: BTreeSet<Half> = BTreeSet::new();
    for (x, y) in blocks {
        let (x2, y2) = (2 * x, 2 * y);
        strips.extend([
            (x2 - 1, y2 - 1, true),
            (x2 + 1, y2 + 1, true),
            (x2 + 1, y2 - 1, false),
            (x2 - 1, y2 + 1, false),
        ]);
        posts.extend([(x - 1, *y), (x + 1, *y), (*x, y - 1), (*x, y + 1)]);
    }
    for (x, y, rises) in strips {
        let middle = (x as f64 * half / 2.0, y as f64 * half / 2.0);
        let outline = if rises {
            square(middle, wide, side)
        } else {
            square(middle, side, wide)
        };
        painter.patch(&sashing.cloth, outline, wide * 0.8);
    }
    for (x, y) in posts {
        let post = sashing.posts.as_deref().unwrap_or(&sashing.cloth);
        painter.patch(post, square((x as f64 * half, y as f64 * half), wide, wide), wide * 0.8);
    }
}

/// One row as it is sewn.
pub struct Row {
    /// From the lower left on: where the middle of each block is, its unit and turn.
    pub blocks: Vec<(Half, (usize, u32))>,
    /// Whether a corner triangle ends it at the lower left and at the upper
    /// right; else a side triangle does.
    pub corners: (bool, bool),
}

/// From the upper left corner on.
pub fn rows(face: &Patchwork, columns: usize, down: usize) -> Vec<Row> {
    if columns == 0 || down == 0 {
        return Vec::new();
    }
    let levels: Vec<Vec<(usize, u32)>> = (0..2 * down - 1)
        .map(|level| face.row_of(level, columns - level % 2))
        .collect();
    (1..columns + down)
        .map(|n| {
            // Across and down together are twice the number of the row.
            let lowest = (2 * n - 1).min(2 * down - 1);
            let blocks = (1..=lowest).rev().filter_map(|y| {
                let x = 2 * n - y;
                let level = y - 1;
                let column = (x - 1 - level % 2) / 2;
                Some(((x, y), *levels.get(level)?.get(column)?))
            });
            Row {
                blocks: blocks.collect(),
                corners: (n == down, n == columns),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_block_stands_in_one_row() {
        let face = Patchwork::default();
        for (columns, down) in [(1, 1), (1, 4), (3, 1), (3, 2), (2, 5), (6, 6)] {
            let rows = rows(&face, columns, down);
            assert_eq!(rows.len(), columns + down - 1);
            let mut met = BTreeSet::new();
            for row in &rows {
                assert!(!row.blocks.is_empty());
                for pair in row.blocks.windows(2) {
                    let [(from, _), (to, _)] = [pair[0], pair[1]];
                    assert_eq!((to.0, to.1), (from.0 + 1, from.1 - 1), "rises by one");
                }
                met.extend(row.blocks.iter().map(|b| b.0));
            }
            // Blocks on point: so many across and down, and those between them.
            assert_eq!(met.len(), columns * down + (columns - 1) * (down - 1));
            // Four triangles in corners: two end rows, two are sewn on last.
            let ends = rows.iter().map(|r| usize::from(r.corners.0) + usize::from(r.corners.1));
            assert_eq!(ends.sum::<usize>(), 2);
        }
    }
}
