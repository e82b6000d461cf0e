//! What the letters of a lay mean, and where each copy lies.

use super::drawing::around;
use crate::figures::lay::{LaidPiece, LayFigures};
use crate::measure::{Length, MM, Round, Unit};
use crate::sheets::document::{Cell, Column, Row, Table};
use crate::sheets::words::in_both;

/// How a copy lies, against how it is drawn in the pattern.
fn lying(piece: &LaidPiece) -> String {
    let mut words = match piece.quarters {
        2 => "top down",
        1 | 3 => "across the grain",
        _ => "as drawn",
    }
    .to_string();
    if piece.mirrored {
        words.push_str(", turned over");
    }
    if piece.on_fold {
        words.push_str(", on the fold");
    }
    words
}

/// Every letter once: its name, and how its copies lie.
pub(super) fn legend(lay: &LayFigures) -> Table {
    let mut letters: Vec<(&LaidPiece, Vec<(String, usize)>)> = Vec::new();
    for piece in lay.sheets.iter().flat_map(|s| &s.pieces) {
        let at = letters.iter().position(|(p, _)| p.letter == piece.letter);
        let at = at.unwrap_or_else(|| {
            letters.push((piece, Vec::new()));
            letters.len() - 1
        });
        let ways = &mut letters[at].1;
        let way = lying(piece);
        match ways.iter_mut().find(|(w, _)| *w == way) {
            Some((_, count)) => *count += 1,
            None => ways.push((way, 1)),
        }
    }
    letters.sort_by_key(|(p, _)| (p.letter.len(), p.letter.clone()));
    Table {
        columns: vec![
            Column::strong("Letter"),
            Column::words("Piece").wide(),
            Column::number("Laid"),
            Column::words("How they lie"),
        ],
        rows: letters
            .into_iter()
            .map(|(piece, ways)| {
                let count: usize = ways.iter().map(|(_, n)| n).sum();
                let told: Vec<String> = match ways.as_slice() {
                    [(way, _)] => vec![way.clone()],
                    _ => ways.iter().map(|(way, n)| format!("{n} {way}")).collect(),
                };
                Row::of(vec![
                    piece.letter.clone().into(),
                    piece.name.clone().into(),
                    count.to_string().into(),
                    told.join("; ").into(),
                ])
            })
            .collect(),
        ticks: false,
    }
}

pub(super) fn places(lay: &LayFigures, unit: Unit) -> Table {
    let from_bolt = lay.sheets.iter().all(|s| s.from_bolt);
    let near = |mm: f64| -> Cell {
        let length = Length::from_units((mm.max(0.0) * MM.units() as f64).round() as i64);
        let text = |u: Unit| match u {
            Unit::Inch => length.inches(Round::Nearest),
            Unit::Cm => length.cm(Round::Nearest),
        };
        in_both(unit, text).into()
    };
    let mut columns = vec![
        Column::strong("Copy"),
        Column::words("How it lies").wide(),
        Column::number("From the left"),
        Column::number("Along"),
    ];
    if !from_bolt {
        columns.push(Column::words("On"));
    }
    let mut rows: Vec<(f64, f64, Row)> = Vec::new();
    for (n, sheet) in lay.sheets.iter().enumerate() {
        for piece in &sheet.pieces {
            let round = around(&piece.outline);
            let mut cells = vec![
                format!("{} {}", piece.letter, piece.copy + 1).into(),
                lying(piece).into(),
                near(round.x0),
                near(round.y0),
            ];
            if !from_bolt {
                cells.push(sheet.name.clone().into());
            }
            // In the order they are met along the cloth.
            rows.push((n as f64, round.y0, Row::of(cells)));
        }
    }
    rows.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    Table {
        columns,
        rows: rows.into_iter().map(|(_, _, row)| row).collect(),
        ticks: true,
    }
}
