//! A sheet of four marks whose distances are known, to be photographed with a
//! piece that is traced from the photo. At full size: nothing on it may be scaled.

use super::letters::letters;
use super::marks::{Mark, Spot, Stroke};
use super::{Paper, write};
use crate::sheets::document::Document;
use chrono::NaiveDate;

/// Points in a millimetre.
const MM: f32 = 72.0 / 25.4;
/// Side of each of the two black squares of a mark, in millimetres.
const SQUARE: f32 = 8.0;
/// The length to be measured with a ruler, in millimetres.
const RULER: f32 = 150.0;

impl Paper {
    /// Across and down from mark to mark, in millimetres: round numbers that
    /// leave printers their margin.
    pub const fn marks_apart(self) -> (u16, u16) {
        match self {
            Paper::A4 => (180, 260),
            Paper::Letter => (180, 240),
        }
    }
}

pub fn marks_sheet(paper: Paper, date: NaiveDate) -> Result<Vec<u8>, String> {
    let document = Document {
        kind: "Sheet of marks",
        title: paper.name().into(),
        date,
        ..Document::default()
    };
    write::write(&document, paper, &[page(paper)])
}

fn page(paper: Paper) -> Vec<Mark> {
    let (wide, high) = paper.points();
    let (across, down) = paper.marks_apart();
    let (w, h) = (f32::from(across) * MM, f32::from(down) * MM);
    let (x, y) = ((wide - w) / 2.0, (high - h) / 2.0);
    let mut marks = Vec::new();
    let corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
    for (n, at) in corners.into_iter().enumerate() {
        marks.extend(crossing(at));
        // Its number stands inward, beside it.
        let side = if at.0 < wide / 2.0 { 1.0 } else { -1.0 };
        let left = at.0 + side * (SQUARE + 5.0) * MM - if side < 0.0 { 5.0 } else { 0.0 };
        marks.push(Mark::words((left, at.1 + 5.0), 15.0, true, (n + 1).to_string()));
    }
    let middle = high / 2.0;
    let centred = |size: f32, bold: bool, down: f32, text: &str| {
        Mark::words(
            ((wide - letters(bold).width(text, size)) / 2.0, middle + down),
            size,
            bold,
            text,
        )
    };
    marks.push(centred(20.0, true, -120.0, "Marks for tracing a piece from a photo"));
    let apart = format!(
        "Marks 1 and 2 are {across} mm apart ({}), marks 2 and 3 {down} mm ({}).",
        inches(across),
        inches(down)
    );
    for (n, line) in [
        "Print this at full size (100 %, not fitted to the page).",
        &apart,
        "Lay it under or beside the piece; better: cut the marks apart, lay them round the piece,",
        "and measure the four sides and the diagonal from mark 1 to mark 3.",
        "Photograph straight from above, from 1 m or more, the piece in the middle.",
    ]
    .into_iter()
    .enumerate()
    {
        marks.push(centred(11.0, false, -88.0 + 17.0 * n as f32, line));
    }
    let (from, to) = ((wide - RULER * MM) / 2.0, (wide + RULER * MM) / 2.0);
    let level = middle + 40.0;
    marks.push(Mark::line((from, level), (to, level), Stroke::of(0.6)));
    for end in [from, to] {
        marks.push(Mark::line((end, level - 8.0), (end, level + 8.0), Stroke::of(0.6)));
    }
    marks.push(centred(
        11.0,
        false,
        62.0,
        "This line is 150 mm (5.91 in) long. Measure it: if it is not, the print is not to scale.",
    ));
    marks
}

/// To a hundredth: no ruler shows these as fractions.
fn inches(mm: u16) -> String {
    format!("{:.2} in", f32::from(mm) / 25.4)
}

/// Two black squares that meet at a point.
fn crossing((x, y): Spot) -> [Mark; 2] {
    let s = SQUARE * MM;
    let square = |x: f32, y: f32| Mark::filled(vec![(x, y), (x + s, y), (x + s, y + s), (x, y + s)]);
    [square(x, y), square(x - s, y - s)]
}
