//! The map: which sheet is where, and the pieces on them, made small.

use super::LaidOut;
use super::ink::{Ink, Pen};
use super::label::width;
use crate::drafting::formats::DrawnPiece;
use crate::sheets::paper::letters::one_line;
use kurbo::{Affine, Point, Rect, Shape, Size};
use std::collections::HashSet;

/// In millimetres of the plane.
#[derive(Clone, Debug)]
pub struct PatternMap {
    pub size: Size,
    /// Each sheet's place and name.
    pub tiles: Vec<(Rect, String)>,
    pub pieces: Vec<MapPiece>,
    /// Sheets of the whole file.
    pub pages: usize,
}

#[derive(Clone, Debug)]
pub struct MapPiece {
    pub name: String,
    pub points: Vec<Point>,
    /// Names of the sheets it is on.
    pub on: Vec<String>,
}

pub fn map(pieces: &[DrawnPiece], laid: &LaidOut) -> PatternMap {
    let tiles = &laid.tiles;
    let all: Vec<(Rect, String)> = tiles.all.iter().map(|t| (tiles.shows(*t), t.name())).collect();
    let far = all.iter().fold(Rect::ZERO, |far, (r, _)| far.union(*r));
    let pieces = laid
        .placed
        .iter()
        .filter_map(|placed| {
            let piece = pieces.get(placed.piece)?;
            let on = tiles.all.iter().enumerate();
            Some(MapPiece {
                name: piece.name.clone(),
                points: piece.cut.iter().map(|p| *p + placed.by).collect(),
                on: on
                    .filter(|(n, _)| tiles.pieces_on(*n).contains(&placed.piece))
                    .map(|(_, t)| t.name())
                    .collect(),
            })
        })
        .collect();
    PatternMap {
        size: far.size(),
        pages: all.len() + usize::from(laid.paper.has_cover()),
        tiles: all,
        pieces,
    }
}

impl PatternMap {
    /// In words, for who cannot see it.
    pub fn says(&self) -> String {
        let names: Vec<&str> = self.tiles.iter().map(|(_, name)| name.as_str()).collect();
        let sheets = match names.as_slice() {
            [] => "no sheet".into(),
            [one] => format!("one sheet, {one}"),
            all => format!("{} sheets, {}", all.len(), all.join(", ")),
        };
        let columns = self
            .tiles
            .iter()
            .map(|(r, _)| r.x0.to_bits())
            .collect::<HashSet<_>>()
            .len();
        format!(
            "Map of {sheets}, in {columns} {}, and where the pieces lie on them. Columns have letters, rows numbers.",
            if columns == 1 { "column" } else { "columns" }
        )
    }

    /// Drawn within so much room, its corner at `at`; and how high it became.
    pub fn inks(&self, at: Point, room: Size) -> (Vec<Ink>, f64) {
        let scale = (room.width / self.size.width)
            .min(room.height / self.size.height)
            .min(0.2);
        let to = Affine::translate(at.to_vec2()) * Affine::scale(scale);
        let mut all = Vec::new();
        for piece in &self.pieces {
            all.push(Ink::Line {
                path: to * crate::drafting::path_of(&piece.points),
                pen: Pen::FINE,
            });
        }
        for (rect, name) in &self.tiles {
            all.push(Ink::Line {
                path: to * rect.to_path(0.1),
                pen: Pen::FRAME,
            });
            let letters = (rect.width() * scale * 1.2).clamp(4.0, 9.0);
            let wide = width(name, letters, true);
            let middle = to * rect.center();
            all.push(Ink::words(
                Point::new(middle.x - wide / 2.0, middle.y + letters * 0.12),
                letters,
                true,
                name,
            ));
        }
        for piece in &self.pieces {
            let Some(first) = piece.points.first() else { continue };
            let bounds = piece
                .points
                .iter()
                .fold(Rect::from_points(*first, *first), |r, p| r.union_pt(*p));
            let room = bounds.width() * scale / super::label::POINT - 2.0;
            if room > 18.0 {
                let text = one_line(&piece.name, room as f32, 5.5, false);
                let low = to * Point::new(bounds.center().x, bounds.y1);
                all.push(Ink::words(
                    Point::new(low.x - width(&text, 5.5, false) / 2.0, low.y - 1.2),
                    5.5,
                    false,
                    text,
                ));
            }
        }
        (all, self.size.height * scale)
    }
}
