//! Blocks of a sheet as strips as wide as the page's frame. A strip is never
//! divided between two pages.

use super::letters::{letters, lines, printable};
use super::marks::{Ink, Mark, Spot, Stroke};
use super::said::{Part, Role};
use super::{photos, picture, rows};
use crate::sheets::document::{Block, Document, Number};
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

impl Strip {
    /// The same, all of it belonging here.
    fn at(mut self, part: Part) -> Strip {
        self.marks.insert(0, Mark::at(&[part]));
        self
    }
}

/// The whole sheet, with its title.
pub fn strips_of(document: &Document, width: f32) -> Vec<Strip> {
    let mut out = vec![title(document, width)];
    // The title is the block before the first.
    for (n, block) in (1..).zip(&document.blocks) {
        let one = |role: Role| Part::of_block(role, n, 0);
        match block {
            Block::Heading(text) => out.push(heading(text, width, n)),
            Block::Subheading(text) => {
                let here = one(Role::Heading(3, printable(text)));
                out.push(Strip {
                    before: 11.0,
                    keep: true,
                    ..written(text, width, (10.5, 14.0), true, Ink::Black).at(here)
                });
            }
            Block::Text(text) => {
                let strips = paragraph(text, width, (BODY, BODY_LINE), Ink::Black).into_iter();
                out.extend(strips.map(|strip| strip.at(one(Role::Paragraph))));
            }
            Block::Small(text) => {
                let strips = paragraph(text, width, (SMALL, SMALL_LINE), Ink::Grey).into_iter();
                out.extend(strips.map(|strip| strip.at(one(Role::Paragraph))));
            }
            Block::Cautions(all) => out.extend(cautions(all, width, n)),
            Block::Numbers(all) => out.extend(numbers(all, width, n)),
            Block::Table(table) => out.extend(rows::rows(table, width, n)),
            Block::Steps(all) => out.extend(steps(all, width, n)),
            Block::Pictures(all) => out.extend(photos::photos(all, width, n)),
            Block::Drawings(all) => out.extend(picture::pictures(all, width, n)),
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
    let paragraph = |n: usize| Mark::at(&[Part::of_block(Role::Paragraph, 0, n)]);
    marks.push(paragraph(0));
    marks.push(Mark::words((0.0, 9.0), 10.0, true, document.kind));
    let mut y = 32.0;
    let heading = Role::Heading(1, printable(&document.title));
    marks.push(Mark::at(&[Part::of_block(heading, 0, 0)]));
    for line in lines(&document.title, width, 20.0, true) {
        marks.push(Mark::words((0.0, y), 20.0, true, line));
        y += 24.0;
    }
    marks.push(paragraph(1));
    marks.push(right(&date, 9.0));
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
fn heading(text: &str, width: f32, block: usize) -> Strip {
    const INDENT: f32 = 11.0;
    let mut marks = vec![
        Mark::at(&[Part::of_block(Role::Heading(2, printable(text)), block, 0)]),
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
        ..written(text, 480.0, (SMALL, SMALL_LINE), false, Ink::Grey).at(Part::new(Role::Paragraph, usize::MAX))
    }
}

/// Beside a bar, so that they are seen.
fn cautions(all: &[String], width: f32, block: usize) -> Vec<Strip> {
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
        .at(Part::of_block(Role::Paragraph, block, n))
    };
    all.iter().enumerate().map(one).collect()
}

/// Up to three side by side.
fn numbers(all: &[Number], width: f32, block: usize) -> Vec<Strip> {
    const ACROSS: usize = 3;
    let each = width / ACROSS as f32;
    let list = Part::of_block(Role::List, block, 0);
    let row = |(at, row): (usize, &[Number])| {
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
            let item = Part::new(Role::Item, at * ACROSS + n);
            for (part, (text, size, high, bold, ink)) in parts.into_iter().enumerate() {
                let role = if part == 0 { Role::Label } else { Role::Body };
                marks.push(Mark::at(&[list.clone(), item.clone(), Part::new(role, 0)]));
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
    all.chunks(ACROSS).enumerate().map(row).collect()
}

/// A box, the number of the step, and what is done.
fn steps(all: &[String], width: f32, block: usize) -> Vec<Strip> {
    const BOX: f32 = 9.5;
    let number_ends = 18.0 + letters(true).width(&"0".repeat(all.len().to_string().len()), BODY);
    let text_at: Spot = (number_ends + 7.0, 12.0);
    let mut out = Vec::new();
    let list = Part::of_block(Role::Numbered, block, 0);
    for (n, step) in all.iter().enumerate() {
        let at = |role: Role| Mark::at(&[list.clone(), Part::new(Role::Item, n), Part::new(role, 0)]);
        let text = lines(step, width - text_at.0, BODY, false);
        // A step longer than a page goes on.
        for (part, text) in text.chunks(45).enumerate() {
            let mut marks = Vec::new();
            if part == 0 {
                let number = (n + 1).to_string();
                marks.push(at(Role::Label));
                marks.push(Mark::tick_box((0.5, 3.5), BOX));
                let x = number_ends - letters(true).width(&number, BODY);
                marks.push(Mark::words((x, text_at.1), BODY, true, number));
            }
            marks.push(at(Role::Body));
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
