//! Which sheets the plane needs. Each shows its frame; two neighbours share a
//! strip of [`OVERLAP`]. A sheet is needed where some of a piece lies on it that
//! the sheets before it do not show.

use super::place;
use super::place::Placed;
use super::size::{HEAD, OVERLAP, PatternPaper};
use crate::drafting::formats::DrawnPiece;
use geo::{Coord, Intersects, LineString, Polygon};
use kurbo::{Point, Rect, Size};

/// One sheet: its place in the grid of sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tile {
    pub column: usize,
    pub row: usize,
}

impl Tile {
    /// A letter for the column, a number for the row: `B3`.
    pub fn name(self) -> String {
        let mut letters = Vec::new();
        let mut left = self.column + 1;
        while left > 0 {
            left -= 1;
            letters.push(char::from(b'A' + (left % 26) as u8));
            left /= 26;
        }
        letters.reverse();
        format!("{}{}", letters.into_iter().collect::<String>(), self.row + 1)
    }
}

pub struct Tiles {
    /// Row by row.
    pub all: Vec<Tile>,
    pub step: Size,
    pub frame: Size,
    /// Pieces on each sheet.
    pieces: Vec<Vec<usize>>,
}

impl Tiles {
    pub fn of(pieces: &[DrawnPiece], placed: &[Placed], paper: PatternPaper) -> Tiles {
        let (mut step, mut frame) = (paper.step(), paper.frame());
        if paper == PatternPaper::Roll36 {
            // As long as it must be; of more than the longest, joined like any other.
            let used = place::used(pieces, placed).height + 1.0;
            if used < frame.height {
                frame.height = used;
                step.height = used;
            }
        }
        let mut tiles = Tiles {
            all: Vec::new(),
            step,
            frame,
            pieces: Vec::new(),
        };
        let polygons: Vec<(usize, Polygon<f64>, Rect)> = placed
            .iter()
            .filter_map(|p| {
                let piece = pieces.get(p.piece)?;
                let points: Vec<Point> = piece.cut.iter().map(|q| *q + p.by).collect();
                let ring: LineString<f64> = points.iter().map(|q| (q.x, q.y)).collect();
                Some((p.piece, Polygon::new(ring, Vec::new()), place::bounds(piece) + p.by))
            })
            .collect();
        let far = polygons.iter().fold(Rect::ZERO, |all, (_, _, b)| all.union(*b));
        let count = |length: f64, step: f64| ((length - OVERLAP) / step).ceil().max(1.0) as usize;
        for row in 0..count(far.y1, step.height) {
            for column in 0..count(far.x1, step.width) {
                let tile = Tile { column, row };
                let own = tiles.own(tile);
                let here: Vec<usize> = polygons
                    .iter()
                    .filter(|(_, polygon, bounds)| meets(*bounds, own) && polygon.intersects(&rect(own)))
                    .map(|(piece, _, _)| *piece)
                    .collect();
                let head = !paper.has_cover() && meets(Rect::from_origin_size((0.0, 0.0), HEAD), own) && row == 0;
                if !here.is_empty() || (head && column == 0) {
                    tiles.all.push(tile);
                    tiles.pieces.push(here);
                }
            }
        }
        tiles
    }

    /// What a sheet shows of the plane.
    pub fn shows(&self, tile: Tile) -> Rect {
        let corner = (tile.column as f64 * self.step.width, tile.row as f64 * self.step.height);
        Rect::from_origin_size(corner, self.frame)
    }

    /// What of it the sheets to its left and above do not show.
    fn own(&self, tile: Tile) -> Rect {
        let shows = self.shows(tile);
        let past = |n: usize| if n > 0 { OVERLAP } else { 0.0 };
        Rect {
            x0: shows.x0 + past(tile.column),
            y0: shows.y0 + past(tile.row),
            ..shows
        }
    }

    pub fn has(&self, tile: Tile) -> bool {
        self.all.contains(&tile)
    }

    /// Pieces on the nth sheet.
    pub fn pieces_on(&self, n: usize) -> &[usize] {
        self.pieces.get(n).map_or(&[], Vec::as_slice)
    }

    /// Whether two neighbours show parts of one piece, and so are joined.
    pub fn joined(&self, a: Tile, b: Tile) -> bool {
        let on = |t: Tile| {
            self.all
                .iter()
                .position(|x| *x == t)
                .map_or(&[][..], |n| self.pieces_on(n))
        };
        on(a).iter().any(|p| on(b).contains(p))
    }
}

/// More than along an edge.
fn meets(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 - 0.01 && b.x0 < a.x1 - 0.01 && a.y0 < b.y1 - 0.01 && b.y0 < a.y1 - 0.01
}

fn rect(r: Rect) -> geo::Rect<f64> {
    geo::Rect::new(
        Coord {
            x: r.x0 + 0.01,
            y: r.y0 + 0.01,
        },
        Coord {
            x: r.x1 - 0.01,
            y: r.y1 - 0.01,
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_lettered_as_in_a_table() {
        let name = |column| Tile { column, row: 2 }.name();
        assert_eq!(
            [0, 1, 25, 26, 27, 51, 52].map(name),
            ["A3", "B3", "Z3", "AA3", "AB3", "AZ3", "BA3"]
        );
    }
}
