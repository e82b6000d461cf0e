//! DXF for apparel: the layers of ASTM D6673, "Sewn Products Pattern Data
//! Interchange", as far as they are commonly known; written from memory, for the
//! standard's text is for sale.
//!
//! A piece is a block. Its layers are [`Layer`]; its words `Piece Name:` and
//! `Quantity:` stand on layer 1, those of the whole file (`Units: METRIC` for
//! millimetres, `Units: ENGLISH` for inches) outside of the blocks.
//!
//! - [`lines`]: a file's pairs of lines, checked one by one
//! - [`entity`]: what one of a drawing's parts draws or says
//! - [`spline`]: splines as curves
//! - [`read`](read()): pieces of a file
//! - [`write`](write()): pieces as blocks

mod entity;
mod lines;
mod read;
mod spline;
mod write;

pub use read::read;
pub use write::write;

/// What a layer of a piece's block holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Layer {
    /// The edge of what is cut.
    Boundary = 1,
    /// Points of it where it turns.
    TurnPoints = 2,
    /// Points of it along a curve.
    CurvePoints = 3,
    Notches = 4,
    /// Where the other half begins.
    Mirror = 6,
    Grain = 7,
    InternalLines = 8,
    Cutouts = 11,
    DrillHoles = 13,
    Sewing = 14,
    Annotation = 15,
}

impl Layer {
    const ALL: [Layer; 11] = [
        Layer::Boundary,
        Layer::TurnPoints,
        Layer::CurvePoints,
        Layer::Notches,
        Layer::Mirror,
        Layer::Grain,
        Layer::InternalLines,
        Layer::Cutouts,
        Layer::DrillHoles,
        Layer::Sewing,
        Layer::Annotation,
    ];

    fn name(self) -> String {
        (self as i32).to_string()
    }

    fn read(name: &str) -> Option<Layer> {
        let number: i32 = name.trim().parse().ok()?;
        Layer::ALL.into_iter().find(|layer| *layer as i32 == number)
    }
}
