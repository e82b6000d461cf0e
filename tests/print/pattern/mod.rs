//! Patterns at full size: measured on the pages, put together by their join
//! marks as a person does, and held against the exact outline.

mod joined;
mod read_out;
mod told;

use crate::poppler::{Pdf, Raster};
use crate::sheets::day;
use notchbook::drafting::formats::{DrawnPiece, outline_of, svg};
use notchbook::measure::{Length, MM};
use notchbook::plan::{Notch, Pattern, Piece, Plan, Source};
use notchbook::sheets::{LaidOut, PatternPaper, PatternSheet, plot};

pub const DOTS: u32 = 300;

/// Millimetres of a dot.
pub fn mm(dots: f64) -> f64 {
    dots * 25.4 / f64::from(DOTS)
}

pub fn dots(mm: f64) -> f64 {
    mm * f64::from(DOTS) / 25.4
}

/// A piece without an outline.
pub fn rectangle(name: &str, width: i64, height: i64) -> Piece {
    Piece {
        id: name.into(),
        name: name.into(),
        cut_count: 1,
        width: MM * width,
        height: MM * height,
        ..Piece::default()
    }
}

/// A piece whose stitching line is a path in millimetres.
pub fn drawn(name: &str, path: &str, allowance: Length) -> Piece {
    let file = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='1000mm' height='1000mm' viewBox='0 0 1000 1000'><path d='{path}'/></svg>"
    );
    let found = svg::read(file.as_bytes(), None).expect("a drawing");
    let made = outline_of(&found.outlines[0], allowance, 0).expect("an outline");
    Piece {
        pattern: Some(Pattern {
            from: Source::Drawn(made.outline),
            finish: Vec::new(),
            changes: Vec::new(),
        }),
        ..rectangle(name, 1, 1)
    }
}

/// A sleeve with a round cap, 420 mm wide and 560 long, two notches.
pub fn sleeve() -> Piece {
    let mut sleeve = drawn(
        "Sleeve",
        "M0 180 C60 150 110 0 210 0 S360 150 420 180 L370 560 H50 Z",
        MM * 10,
    );
    sleeve.cut_count = 2;
    sleeve.mirrored = true;
    if let Some(Pattern {
        from: Source::Drawn(outline),
        ..
    }) = &mut sleeve.pattern
    {
        let edge = outline.edges[0].name.clone();
        outline.notches = vec![
            Notch {
                edge: edge.clone(),
                at: MM * 150,
                double: false,
            },
            Notch {
                edge,
                at: MM * 340,
                double: true,
            },
        ];
    }
    sleeve
}

pub struct Printed {
    pub sheet: PatternSheet,
    pub laid: LaidOut,
    pub pdf: Pdf,
}

pub fn sheet(pieces: Vec<Piece>) -> PatternSheet {
    let plan = Plan {
        pieces,
        ..Plan::default()
    };
    let pieces = plan.pieces.iter();
    PatternSheet {
        title: "Quilted poncho".into(),
        date: day(),
        pieces: pieces.map(|p| DrawnPiece::of(&plan, p).expect("an outline")).collect(),
    }
}

pub fn printed(pieces: Vec<Piece>, paper: PatternPaper) -> Printed {
    let sheet = sheet(pieces);
    let laid = sheet.lay_out(paper).expect("it fits");
    let bytes = plot(&sheet.plot(&laid)).expect("a PDF");
    if let Ok(folder) = std::env::var("NOTCHBOOK_PICTURES") {
        let name = format!(
            "{:.12}-{}-{}.pdf",
            sheet.pieces[0].name,
            sheet.pieces.len(),
            paper.word()
        );
        std::fs::write(std::path::Path::new(&folder).join(name), &bytes).expect("kept");
    }
    Printed {
        pdf: Pdf::of(&bytes),
        sheet,
        laid,
    }
}

/// The middle of the dark dots in a part of a page, and how large they are together, in
/// millimetres.
pub fn dark(page: &Raster, middle: (f64, f64), reach: f64) -> ((f64, f64), f64) {
    let (mut sum, mut count) = ((0.0, 0.0), 0.0);
    let around = |v: f64| (dots(v - reach).floor() as i64)..=(dots(v + reach).ceil() as i64);
    for y in around(middle.1) {
        for x in around(middle.0) {
            if page.dot(x, y) < 100 {
                sum.0 += x as f64 + 0.5;
                sum.1 += y as f64 + 0.5;
                count += 1.0;
            }
        }
    }
    ((mm(sum.0 / count), mm(sum.1 / count)), count * mm(1.0) * mm(1.0))
}

/// Where across a line its middle is, from the point it is expected at, in millimetres;
/// nothing where nothing is drawn.
pub fn across(page: &Raster, at: (f64, f64), way: (f64, f64)) -> Option<f64> {
    const STEP: f64 = 0.01;
    let (mut sum, mut weight) = (0.0, 0.0);
    for n in -90..=90 {
        let off = f64::from(n) * STEP;
        let (x, y) = (dots(at.0 + way.0 * off), dots(at.1 + way.1 * off));
        let dark = 255.0 - f64::from(page.dot(x.floor() as i64, y.floor() as i64));
        sum += dark * off;
        weight += dark;
    }
    // A line a quarter of a millimetre wide.
    (weight * STEP > 0.15 * 255.0).then(|| sum / weight)
}
