//! What stands before the sheets: test squares, how it is printed and joined, the
//! map, the pieces. On large paper at the head of the first sheet.

use super::ink::{Ink, Pen, PlotPage};
use super::label::POINT;
use super::size::{HEAD, PatternPaper};
use super::{LaidOut, PatternSheet, date_words};
use crate::sheets::paper::letters::{self, printable};
use crate::sheets::paper::said::{Part, Role};
use kurbo::{Point, Rect, Shape, Size};

/// The squares to measure before anything is cut.
pub const METRIC: f64 = 100.0;
pub const INCHES: f64 = 4.0 * 25.4;

const BODY: f64 = 9.0;
const LINE: f64 = BODY * 1.35 * POINT;

/// Lines of text below each other; where the next one would stand.
fn text(all: &mut Vec<Ink>, at: Point, wide: f64, size: f64, bold: bool, text: &str) -> f64 {
    let mut y = at.y;
    for line in letters::lines(text, (wide / POINT) as f32, size as f32, bold) {
        y += size * 1.35 * POINT;
        all.push(Ink::words(Point::new(at.x, y - size * 0.35 * POINT), size, bold, line));
    }
    y
}

/// The nth square, and what stands in it.
fn square(all: &mut Vec<Ink>, n: usize, at: Point, side: f64, said: &[&str]) {
    let path = Rect::from_origin_size(at, (side, side)).to_path(0.1);
    let words = "A square to measure before anything is cut; what stands in it says how large it is.";
    all.push(Ink::at(Role::Figure(words.into()), n));
    all.push(Ink::Line { path, pen: Pen::FINE });
    all.push(Ink::at(Role::Paragraph, n));
    let mut y = at.y + 8.0;
    for line in said {
        y = text(all, Point::new(at.x + 5.0, y), side - 10.0, BODY, false, line);
    }
}

fn squares(all: &mut Vec<Ink>, metric: Point, inches: Point) {
    square(
        all,
        1,
        metric,
        METRIC,
        &[
            "Test square: 100 mm (10 cm) each side.",
            "Measure it across and down, to the middle of its lines. If it is smaller or larger, print again at 100 %, actual size: do not scale, do not fit to the page.",
        ],
    );
    square(
        all,
        2,
        inches,
        INCHES,
        &["Test square: 4 in each side.", "For a ruler in inches."],
    );
}

fn how(paper: PatternPaper, joined: bool) -> Vec<&'static str> {
    let mut all = vec!["Print at 100 %, do not scale. Measure a test square before you cut."];
    if joined && paper.has_cover() {
        all.push("Cut each sheet along the line at its left and upper edge where another sheet joins there, lay it on its neighbour up to the dashed line with its name, so that the halves of each diamond meet, and tape or glue it.");
    } else if joined {
        all.push("Sheets overlap: lay each on its neighbour up to the dashed line with its name, so that the halves of each diamond meet.");
    }
    all.push("Unbroken bold line: cut. Long dashes: sew. Short dashes: lines inside. Triangle: notch. Long arrow: grainline, parallel to the selvage.");
    all
}

/// As a list; where the next line would stand.
fn instructions(all: &mut Vec<Ink>, at: Point, wide: f64, laid: &LaidOut) -> f64 {
    let mut y = at.y;
    for (n, said) in how(laid.paper, laid.tiles.all.len() > 1).into_iter().enumerate() {
        let item = [Role::List, Role::Item, Role::Body].into_iter().zip([0, n, 0]);
        all.push(Ink::At(Some(
            item.map(|(role, number)| Part::new(role, number)).collect(),
        )));
        y = text(all, Point::new(at.x, y), wide, BODY, false, said) + 1.2;
    }
    y
}

/// Paragraphs of pieces are counted from here.
const FIRST_PIECE: usize = 10;

/// The first page, and more where there are many pieces.
pub fn pages(sheet: &PatternSheet, laid: &LaidOut) -> Vec<PlotPage> {
    let paper = laid.paper;
    let page = paper.size();
    let (left, top) = paper.corner();
    let map = sheet.map(laid);
    let mut all = vec![Ink::at(Role::Heading(1, printable(&sheet.title)), 0)];
    let mut y = text(
        &mut all,
        Point::new(left, top),
        page.width - 2.0 * left,
        18.0,
        true,
        &title(&sheet.title),
    );
    all.push(Ink::at(Role::Paragraph, 0));
    y = text(
        &mut all,
        Point::new(left, y),
        page.width - 2.0 * left,
        BODY,
        false,
        &format!(
            "Pattern at full size, {}. {} pages of {}.",
            date_words(sheet.date),
            map.pages,
            paper.name()
        ),
    );
    let y = y + 5.0;
    squares(&mut all, Point::new(left, y), Point::new(left, y + METRIC + 6.0));
    let x = left + INCHES + 6.0;
    let wide = page.width - left - x;
    let (inks, high) = map.inks(Point::new(x, y), Size::new(wide, 95.0));
    all.push(Ink::at(Role::Figure(map.says()), 3));
    all.extend(inks);
    let mut y = y + high + 3.0;
    y = instructions(&mut all, Point::new(x, y), wide, laid) + 2.0;
    let foot = page.height - top - 3.0;
    let mut pages = Vec::new();
    let mut column = (x, wide);
    for (n, piece) in map.pieces.iter().enumerate() {
        let cut = sheet
            .pieces
            .iter()
            .find(|p| p.name == piece.name)
            .map(|p| p.cut_words());
        let says = format!("{}, sheet {}", cut.unwrap_or_default(), few(&piece.on));
        let listed = |all: &mut Vec<Ink>, (x, wide): (f64, f64), y: f64| {
            all.push(Ink::at(Role::Heading(2, printable(&piece.name)), n));
            let y = text(all, Point::new(x, y), wide, BODY, true, &piece.name);
            all.push(Ink::at(Role::Paragraph, FIRST_PIECE + n));
            text(all, Point::new(x, y), wide, BODY, false, &says) + 1.2
        };
        let mut lines = Vec::new();
        let next = listed(&mut lines, column, y);
        if next > foot {
            pages.push(PlotPage {
                size: page,
                marks: std::mem::take(&mut all),
                within: None,
                clipped: Vec::new(),
            });
            column = (left, page.width - 2.0 * left);
            y = listed(&mut all, column, top);
            continue;
        }
        all.extend(lines);
        y = next;
    }
    pages.push(PlotPage {
        size: page,
        marks: all,
        within: None,
        clipped: Vec::new(),
    });
    pages
}

/// Long names stay on one page.
fn title(title: &str) -> String {
    title.chars().take(120).collect()
}

/// `A1, A2 and 5 more`.
fn few(on: &[String]) -> String {
    match on.len() {
        0..=8 => on.join(", "),
        n => format!("{} and {} more", on[..6].join(", "), n - 6),
    }
}

/// On the plane of large paper, at its head.
pub fn head(sheet: &PatternSheet, laid: &LaidOut) -> Vec<Ink> {
    let mut all = vec![Ink::at(Role::Heading(1, printable(&sheet.title)), 0)];
    // Below the name of the sheet.
    let top = 12.0;
    let x = METRIC + INCHES + 20.0;
    let wide = HEAD.width - x;
    let mut y = text(&mut all, Point::new(x, top), wide, 16.0, true, &title(&sheet.title));
    let said = format!(
        "Pattern at full size, {}, on {}.",
        date_words(sheet.date),
        laid.paper.name()
    );
    all.push(Ink::at(Role::Paragraph, 0));
    y = text(&mut all, Point::new(x, y), wide, BODY, false, &said) + LINE / 2.0;
    instructions(&mut all, Point::new(x, y), wide, laid);
    squares(&mut all, Point::new(2.0, top), Point::new(METRIC + 12.0, top));
    all
}
