//! Blocks of a sheet as strips as wide as the page's frame. A strip is never
//! divided between two pages.

use super::letters::{letters, lines};
use super::marks::{Ink, Mark, Spot, Stroke};
use super::{picture, rows};
use crate::sheets::document::{Block, Document, Number, Picture};
use std::rc::Rc;

/// Heights of letters and lines, in points.
pub const BODY: f32 = 9.5;
pub const BODY_LINE: f32 = 13.0;
pub const SMALL: f32 = 8.0;
pub const SMALL_LINE: f32 = 10.5;

#[derive(Clone, Debug, Default)]
pub struct Strip {
    pub height: f32,
    /// Free above it, unless it stands at the top of a page.
    pub before: f32,
    /// Stays on one page with the next.
    pub keep: bool,
    /// Stands at the top of a page again where this strip begins one.
    pub again: Option<Rc<Strip>>,
    pub marks: Vec<Mark>,
}

/// The whole sheet, with its title.
pub fn strips_of(document: &Document, width: f32) -> Vec<Strip> {
    let mut out = vec![title(document, width)];
    for block in &document.blocks {
        match block {
            Block::Heading(text) => out.push(heading(text, width)),
            Block::Subheading(text) => out.push(Strip {
                before: 11.0,
                keep: true,
                ..written(text, width, (10.5, 14.0), true, Ink::Black)
            }),
            Block::Text(text) => out.extend(paragraph(text, width, (BODY, BODY_LINE), Ink::Black)),
            Block::Small(text) => out.extend(paragraph(text, width, (SMALL, SMALL_LINE), Ink::Grey)),
            Block::Cautions(all) => out.extend(cautions(all, width)),
            Block::Numbers(all) => out.extend(numbers(all, width)),
            Block::Table(table) => out.extend(rows::rows(table, width)),
            Block::Steps(all) => out.extend(steps(all, width)),
            Block::Picture(picture) => out.extend(photo(picture, width)),
            Block::Drawings(all) => out.extend(picture::pictures(all, width)),
        }
    }
    out
}

fn title(document: &Document, width: f32) -> Strip {
    let mut marks = Vec::new();
    let under: Vec<&str> = [document.state.as_str()]
        .into_iter()
        .filter(|s| !s.is_empty())
        .collect();
    let date = document.date_words();
    let right = |text: &str, y: f32| Mark::grey((width - letters(false).width(text, BODY), y), BODY, text);
    marks.push(Mark::words((0.0, 9.0), 10.0, true, document.kind));
    marks.push(right(&date, 9.0));
    let mut y = 32.0;
    for line in lines(&document.title, width, 20.0, true) {
        marks.push(Mark::words((0.0, y), 20.0, true, line));
        y += 24.0;
    }
    for text in under {
        marks.push(right(text, 21.0));
    }
    Strip {
        height: y - 14.0,
        keep: true,
        marks,
        ..Strip::default()
    }
}

/// A rule with the notch on it, and the words under it.
fn heading(text: &str, width: f32) -> Strip {
    const INDENT: f32 = 11.0;
    let mut marks = vec![
        Mark::line((0.0, 0.0), (width, 0.0), Stroke::of(1.2)),
        Mark::filled(vec![(0.0, 5.5), (7.0, 10.5), (0.0, 15.5)]),
    ];
    let mut y = 15.0;
    for line in lines(text, width - INDENT, 13.0, true) {
        marks.push(Mark::words((INDENT, y), 13.0, true, line));
        y += 16.0;
    }
    Strip {
        height: y - 9.0,
        before: 20.0,
        keep: true,
        marks,
        again: None,
    }
}

/// All lines of a text as one strip.
fn written(text: &str, width: f32, (size, high): (f32, f32), bold: bool, ink: Ink) -> Strip {
    let mut marks = Vec::new();
    let all = lines(text, width, size, bold);
    for (n, text) in all.iter().enumerate() {
        marks.push(Mark::Words {
            at: (0.0, n as f32 * high + size),
            size,
            bold,
            ink,
            text: text.clone(),
        });
    }
    Strip {
        height: all.len() as f32 * high,
        marks,
        ..Strip::default()
    }
}

/// A text that may go on on the next page, but not by a single line.
fn paragraph(text: &str, width: f32, (size, high): (f32, f32), ink: Ink) -> Vec<Strip> {
    let all = lines(text, width, size, false);
    let count = all.len();
    let line = |(n, text): (usize, String)| Strip {
        height: high,
        before: if n == 0 { 6.0 } else { 0.0 },
        keep: n == 0 && count > 1 || n + 2 == count,
        marks: vec![Mark::Words {
            at: (0.0, size),
            size,
            bold: false,
            ink,
            text,
        }],
        again: None,
    };
    all.into_iter().enumerate().map(line).collect()
}

pub fn small(text: &str) -> Strip {
    Strip {
        before: 12.0,
        ..written(text, 480.0, (SMALL, SMALL_LINE), false, Ink::Grey)
    }
}

/// Beside a bar, so that they are seen.
fn cautions(all: &[String], width: f32) -> Vec<Strip> {
    let one = |(n, text): (usize, &String)| {
        let text = lines(text, width - 14.0, BODY, false);
        let height = text.len() as f32 * BODY_LINE + 3.0;
        let mut marks = vec![Mark::filled(vec![(0.0, 0.0), (3.0, 0.0), (3.0, height), (0.0, height)])];
        for (n, text) in text.into_iter().enumerate() {
            marks.push(Mark::words((11.0, n as f32 * BODY_LINE + 11.0), BODY, false, text));
        }
        Strip {
            height,
            before: if n == 0 { 9.0 } else { 0.0 },
            marks,
            ..Strip::default()
        }
    };
    all.iter().enumerate().map(one).collect()
}

/// Up to three side by side.
fn numbers(all: &[Number], width: f32) -> Vec<Strip> {
    const ACROSS: usize = 3;
    let each = width / ACROSS as f32;
    let row = |row: &[Number]| {
        let mut marks = Vec::new();
        let mut height: f32 = 0.0;
        for (n, number) in row.iter().enumerate() {
            let x = n as f32 * each;
            let mut y = 0.0;
            let parts = [
                (&number.what, SMALL, SMALL_LINE, false, Ink::Grey),
                (&number.number, 13.0, 16.5, true, Ink::Black),
                (&number.under, SMALL, SMALL_LINE, false, Ink::Grey),
            ];
            for (text, size, high, bold, ink) in parts {
                for text in lines(text, each - 12.0, size, bold) {
                    marks.push(Mark::Words {
                        at: (x, y + size),
                        size,
                        bold,
                        ink,
                        text,
                    });
                    y += high;
                }
            }
            height = height.max(y);
        }
        Strip {
            height,
            before: 9.0,
            marks,
            ..Strip::default()
        }
    };
    all.chunks(ACROSS).map(row).collect()
}

/// A box, the number of the step, and what is done.
fn steps(all: &[String], width: f32) -> Vec<Strip> {
    const BOX: f32 = 9.5;
    let number_ends = 18.0 + letters(true).width(&"0".repeat(all.len().to_string().len()), BODY);
    let text_at: Spot = (number_ends + 7.0, 12.0);
    let mut out = Vec::new();
    for (n, step) in all.iter().enumerate() {
        let text = lines(step, width - text_at.0, BODY, false);
        // A step longer than a page goes on.
        for (part, text) in text.chunks(45).enumerate() {
            let mut marks = Vec::new();
            if part == 0 {
                let number = (n + 1).to_string();
                marks.push(Mark::tick_box((0.5, 3.5), BOX));
                let at = number_ends - letters(true).width(&number, BODY);
                marks.push(Mark::words((at, text_at.1), BODY, true, number));
            }
            for (line, text) in text.iter().enumerate() {
                let y = text_at.1 + line as f32 * BODY_LINE;
                marks.push(Mark::words((text_at.0, y), BODY, false, text.clone()));
            }
            out.push(Strip {
                height: text.len() as f32 * BODY_LINE + 4.5,
                before: if n == 0 && part == 0 { 4.0 } else { 0.0 },
                marks,
                ..Strip::default()
            });
        }
    }
    out
}

/// A photo no larger than a hand; one that cannot be read is left out.
fn photo(picture: &Picture, width: f32) -> Option<Strip> {
    const HIGH: f32 = 230.0;
    let image = krilla::image::Image::from_jpeg(picture.jpeg.clone().into(), true).ok()?;
    let (wide, high) = image.size();
    let scale = (HIGH / high.max(1) as f32).min(width * 0.7 / wide.max(1) as f32);
    let size = (wide as f32 * scale, high as f32 * scale);
    Some(Strip {
        height: size.1,
        before: 10.0,
        marks: vec![Mark::Photo {
            at: (0.0, 0.0),
            size,
            jpeg: picture.jpeg.clone(),
        }],
        ..Strip::default()
    })
}
