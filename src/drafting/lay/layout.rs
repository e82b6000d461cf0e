//! Where every copy lies.

use super::prepared::{Field, Prepared};
use kurbo::{Affine, Point};

/// Where a copy lies, with the way it is turned (index of `Kind::ways`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    pub(super) way: usize,
    pub(super) x: f64,
    pub(super) y: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// Index in the problem's pieces.
    pub piece: usize,
    /// Which copy of it, from 0. On doubled cloth a copy is cut from both layers.
    pub copy: usize,
    /// Degrees it is turned by, from x towards y, after it is mirrored.
    pub turn: f64,
    pub mirrored: bool,
    /// Which remnant it lies on; 0 on cloth from the bolt.
    pub remnant: usize,
    /// From the piece's own coordinates to the cloth's.
    pub at: Affine,
}

impl Placement {
    pub fn place(&self, outline: &[Point]) -> Vec<Point> {
        outline.iter().map(|p| self.at * *p).collect()
    }
}

/// A layout that was checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    pub placements: Vec<Placement>,
    /// Length of cloth used, in millimetres, with what the check's touch may
    /// hide added: never shorter than what is laid. On remnants 0.
    pub length: f64,
    /// Area of the pieces in the area of the cloth they lie on, 0 to 1.
    pub density: f64,
    pub(super) spots: Vec<Spot>,
}

impl Prepared {
    /// The used end of a strip.
    pub(super) fn end(&self, spots: &[Spot]) -> f64 {
        spots
            .iter()
            .enumerate()
            .map(|(at, s)| s.x + self.kind(at).ways[s.way].width)
            .fold(0.0, f64::max)
    }

    pub(super) fn layout(&self, spots: &[Spot]) -> Layout {
        let mut placements: Vec<Placement> = spots
            .iter()
            .enumerate()
            .map(|(at, spot)| {
                let kind = self.kind(at);
                let way = &kind.ways[spot.way];
                let (remnant, moved) = match &self.field {
                    Field::Strip { .. } => (0, 0.0),
                    Field::Remnants(list) => list
                        .iter()
                        .enumerate()
                        .rfind(|(_, r)| r.round.x0 <= spot.x + way.width / 2.0)
                        .map_or((0, 0.0), |(n, r)| (n, r.moved)),
                };
                Placement {
                    piece: kind.piece,
                    copy: self.copies[at].number,
                    turn: way.degrees,
                    mirrored: way.mirrored,
                    remnant,
                    at: Affine::translate((spot.x - moved, spot.y)) * way.map,
                }
            })
            .collect();
        placements.sort_by_key(|p| (p.piece, p.copy));
        let (length, ground) = match &self.field {
            Field::Strip { width } => {
                let length = self.end(spots) + spots.len() as f64 * super::outline::TOUCH;
                (length, width * length)
            }
            Field::Remnants(list) => (0.0, list.iter().map(|r| r.area).sum()),
        };
        Layout {
            placements,
            length,
            density: self.area / ground,
            spots: spots.to_vec(),
        }
    }
}
