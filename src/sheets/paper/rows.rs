//! A table as strips: its heads, and one strip a row. Columns of numbers are
//! as wide as they need, those of words share the rest.

use super::letters::{least_and_whole, letters, lines};
use super::marks::{Ink, Mark, Stroke};
use super::said::{Part, Role};
use super::strips::{BODY, BODY_LINE, SMALL, SMALL_LINE, Strip};
use crate::sheets::document::{Cell, Column, Row, Table};
use std::rc::Rc;

const STRONG: f32 = 11.0;
/// Between two columns.
const GAP: f32 = 12.0;
const TICK: f32 = 18.0;
/// A box for one strip, and from one to the next.
const BOX: f32 = 8.0;
const BOX_STEP: f32 = 12.0;
/// A row of more lines goes on as another: no page holds it.
const LINES: usize = 40;

struct Place {
    x: f32,
    width: f32,
}

pub fn rows(table: &Table, width: f32, block: usize) -> Vec<Strip> {
    let places = places(table, width);
    let whole = Part::of_block(Role::Table, block, 0);
    let head = Rc::new(head(table, &places, width, &whole));
    let mut out = vec![Strip::clone(&head)];
    out[0].before = 8.0;
    for (n, row) in table.rows.iter().enumerate() {
        let strips = row_strips(table, row, &places, (width, &whole, n)).into_iter();
        out.extend(strips.map(|strip| Strip {
            again: Some(head.clone()),
            ..strip
        }));
    }
    out
}

fn size_of(column: &Column) -> f32 {
    if column.strong { STRONG } else { BODY }
}

fn places(table: &Table, width: f32) -> Vec<Place> {
    let start = if table.ticks { TICK } else { 0.0 };
    let count = table.columns.len().max(1);
    let room = width - start - GAP * (count - 1) as f32;
    let wants: Vec<(f32, f32)> = table
        .columns
        .iter()
        .enumerate()
        .map(|(n, column)| {
            let mut want = least_and_whole(&column.head, SMALL, true);
            for cell in table.rows.iter().filter_map(|row| row.cells.get(n)) {
                let boxes = cell.boxes.min(12) as f32 * BOX_STEP;
                for (least, whole) in [
                    least_and_whole(&cell.text, size_of(column), column.strong),
                    least_and_whole(&cell.under, SMALL, false),
                    (boxes.min(60.0), boxes),
                ] {
                    want = (want.0.max(least), want.1.max(whole));
                }
            }
            // Rounding must not break what fits exactly.
            (want.0 + 0.5, want.1 + 0.5)
        })
        .collect();
    let widths = shared(&table.columns, &wants, room);
    let mut x = start;
    widths
        .into_iter()
        .map(|width| {
            let place = Place { x, width };
            x += width + GAP;
            place
        })
        .collect()
}

/// What each column gets of the room.
fn shared(columns: &[Column], wants: &[(f32, f32)], room: f32) -> Vec<f32> {
    let whole: f32 = wants.iter().map(|w| w.1).sum();
    if whole <= room {
        let mut widths: Vec<f32> = wants.iter().map(|w| w.1).collect();
        // What is left over goes to words, so that the numbers stand at the right.
        let wide = columns.iter().position(|c| c.wide);
        let takes = wide.or(columns.iter().position(|c| !c.right)).unwrap_or(0);
        if let Some(width) = widths.get_mut(takes) {
            *width += room - whole;
        }
        return widths;
    }
    let least: f32 = wants.iter().map(|w| w.0).sum();
    if least >= room {
        // Words wider than their column are divided.
        return wants.iter().map(|w| w.0 * room / least).collect();
    }
    // Numbers first; what is left is shared by how much is still wanted.
    let fixed: f32 = columns
        .iter()
        .zip(wants)
        .filter(|(c, _)| c.right)
        .map(|(_, w)| w.1 - w.0)
        .sum();
    let numbers_whole = least + fixed <= room;
    let base = |column: &Column, want: &(f32, f32)| if column.right && numbers_whole { want.1 } else { want.0 };
    let bases: Vec<f32> = columns.iter().zip(wants).map(|(c, w)| base(c, w)).collect();
    let spare = room - bases.iter().sum::<f32>();
    let open: f32 = wants.iter().zip(&bases).map(|(w, b)| w.1 - b).sum();
    wants
        .iter()
        .zip(&bases)
        .map(|(w, b)| b + spare * (w.1 - b) / open.max(1.0))
        .collect()
}

/// One line of a cell, or a row of boxes.
enum Piece {
    Words {
        text: String,
        size: f32,
        bold: bool,
        ink: Ink,
    },
    Boxes(usize),
}

impl Piece {
    fn high(&self) -> f32 {
        match self {
            Piece::Words { size, .. } if *size > BODY => BODY_LINE + 1.0,
            Piece::Words { size, .. } if *size < BODY => SMALL_LINE,
            Piece::Words { .. } => BODY_LINE,
            Piece::Boxes(_) => BOX + 4.0,
        }
    }

    fn put(&self, marks: &mut Vec<Mark>, place: &Place, right: bool, y: f32) {
        match self {
            Piece::Words { text, size, bold, ink } => {
                let wide = letters(*bold).width(text, *size);
                let x = if right { place.x + place.width - wide } else { place.x };
                marks.push(Mark::Words {
                    at: (x, y + size),
                    size: *size,
                    bold: *bold,
                    ink: *ink,
                    text: text.clone(),
                });
            }
            Piece::Boxes(count) => {
                for n in 0..*count {
                    marks.push(Mark::tick_box((place.x + 0.5 + n as f32 * BOX_STEP, y + 3.0), BOX));
                }
            }
        }
    }
}

fn pieces(cell: &Cell, column: &Column, width: f32) -> Vec<Piece> {
    let mut out = Vec::new();
    let words = |text: &str, size: f32, bold: bool, ink: Ink, out: &mut Vec<Piece>| {
        let text = lines(text, width, size, bold).into_iter();
        out.extend(text.map(|text| Piece::Words { text, size, bold, ink }));
    };
    words(&cell.text, size_of(column), column.strong, Ink::Black, &mut out);
    let a_row = ((width / BOX_STEP) as usize).max(1);
    let mut boxes = cell.boxes;
    while boxes > 0 {
        out.push(Piece::Boxes(boxes.min(a_row)));
        boxes -= boxes.min(a_row);
    }
    words(&cell.under, SMALL, false, Ink::Grey, &mut out);
    out
}

fn head(table: &Table, places: &[Place], width: f32, whole: &Part) -> Strip {
    let all: Vec<Vec<String>> = table
        .columns
        .iter()
        .zip(places)
        .map(|(column, place)| lines(&column.head, place.width, SMALL, true))
        .collect();
    let most = all.iter().map(Vec::len).max().unwrap_or(0);
    let height = most as f32 * SMALL_LINE + 4.0;
    let mut marks = vec![Mark::line((0.0, height), (width, height), Stroke::of(0.9))];
    for (n, ((column, place), text)) in table.columns.iter().zip(places).zip(&all).enumerate() {
        let row = [whole.clone(), Part::new(Role::Heads, 0), Part::new(Role::Row, 0)];
        marks.push(Mark::At(Some([&row[..], &[Part::new(Role::HeadCell, n)]].concat())));
        // At the foot, where there are fewer lines than beside it.
        let from = most - text.len();
        for (n, text) in text.iter().enumerate() {
            let piece = Piece::Words {
                text: text.clone(),
                size: SMALL,
                bold: true,
                ink: Ink::Grey,
            };
            piece.put(&mut marks, place, column.right, (from + n) as f32 * SMALL_LINE);
        }
    }
    Strip {
        height,
        keep: true,
        marks,
        ..Strip::default()
    }
}

fn row_strips(table: &Table, row: &Row, places: &[Place], (width, whole, number): (f32, &Part, usize)) -> Vec<Strip> {
    let cells: Vec<Vec<Piece>> = table
        .columns
        .iter()
        .zip(places)
        .enumerate()
        .map(|(n, (column, place))| {
            row.cells
                .get(n)
                .map(|cell| pieces(cell, column, place.width))
                .unwrap_or_default()
        })
        .collect();
    let most = cells.iter().map(Vec::len).max().unwrap_or(0).max(1);
    let mut out = Vec::new();
    let room = row.room as f32 * 72.0 / 25.4;
    for from in (0..most).step_by(LINES) {
        let mut marks = Vec::new();
        let mut height: f32 = 0.0;
        for (n, ((cell, column), place)) in cells.iter().zip(&table.columns).zip(places).enumerate() {
            let within = [
                whole.clone(),
                Part::new(Role::Rows, 0),
                Part::new(Role::Row, number),
                Part::new(Role::Cell, n),
            ];
            marks.push(Mark::at(&within));
            // Letters of two sizes stand on one line.
            let mut y = 3.0 + if column.strong { 0.0 } else { STRONG - BODY };
            for piece in cell.iter().skip(from).take(LINES) {
                piece.put(&mut marks, place, column.right, y);
                y += piece.high();
            }
            height = height.max(y);
        }
        height = (height + 3.0).max(room.min(600.0));
        if table.ticks && from == 0 {
            marks.push(Mark::tick_box((0.5, 4.5), 9.5));
        }
        let last = from + LINES >= most;
        if last {
            marks.push(Mark::line((0.0, height), (width, height), Stroke::grey(0.4)));
        }
        out.push(Strip {
            height,
            marks,
            ..Strip::default()
        });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(words: &str) -> Table {
        Table {
            columns: vec![
                Column::words("What"),
                Column::strong("Cut size"),
                Column::number("Pieces"),
            ],
            rows: (0..5)
                .map(|_| {
                    Row::of(vec![
                        words.into(),
                        Cell::new("4 7/8 × 10 1/2 in", "(12.4 × 26.7 cm)"),
                        "32".into(),
                    ])
                })
                .collect(),
            ticks: true,
        }
    }

    #[test]
    fn columns_stand_beside_each_other_within_the_frame() {
        for words in [
            "squares",
            &"squares for half-square triangles ".repeat(20),
            &"W".repeat(900),
        ] {
            let table = table(words);
            let places = places(&table, 500.0);
            for pair in places.windows(2) {
                assert!(pair[0].x + pair[0].width <= pair[1].x + 0.01);
            }
            let end = places.last().unwrap();
            assert!(
                places[0].x >= TICK && end.x + end.width <= 500.1,
                "{}",
                end.x + end.width
            );
        }
    }

    #[test]
    fn numbers_keep_to_one_line_beside_long_words() {
        let table = table(&"squares for half-square triangles ".repeat(20));
        let places = places(&table, 500.0);
        assert_eq!(lines("4 7/8 × 10 1/2 in", places[1].width, STRONG, true).len(), 1);
    }

    #[test]
    fn a_row_longer_than_a_page_goes_on() {
        let table = table(&"patch ".repeat(20_000));
        let strips = rows(&table, 500.0, 1);
        assert!(strips.iter().all(|s| s.height < 650.0));
        assert!(strips.len() > 20);
    }
}
