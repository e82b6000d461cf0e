//! What a page is made of, in points from its top left corner.

use super::letters::letters;
use super::said::{Part, Place};
use crate::sheets::document::Hatch;
use std::sync::Arc;

pub type Spot = (f32, f32);

#[derive(Clone, Debug)]
pub enum Mark {
    /// What follows belongs here in what the sheet says, until the next of these;
    /// nothing: it is not read out.
    At(Option<Place>),
    /// From the left end of the line the letters stand on.
    Words {
        at: Spot,
        size: f32,
        bold: bool,
        ink: Ink,
        text: String,
    },
    Path {
        outlines: Vec<Vec<Spot>>,
        closed: bool,
        fill: Option<(u8, u8, u8)>,
        hatch: Hatch,
        line: Option<Stroke>,
    },
    /// A JPEG, so wide and high.
    Photo { at: Spot, size: Spot, jpeg: Arc<Vec<u8>> },
    /// A white disc for a label.
    Disc { middle: Spot, radius: f32, edge: bool },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    Black,
    Grey,
    White,
}

#[derive(Clone, Copy, Debug)]
pub struct Stroke {
    pub width: f32,
    pub grey: bool,
    pub dashed: bool,
}

impl Stroke {
    pub const fn of(width: f32) -> Stroke {
        Stroke {
            width,
            grey: false,
            dashed: false,
        }
    }

    pub const fn grey(width: f32) -> Stroke {
        Stroke {
            width,
            grey: true,
            dashed: false,
        }
    }
}

/// Bounds round two.
pub fn both(a: [f32; 4], b: [f32; 4]) -> [f32; 4] {
    [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])]
}

impl Mark {
    /// What follows belongs here.
    pub fn at(place: &[Part]) -> Mark {
        Mark::At(Some(place.to_vec()))
    }

    pub fn words(at: Spot, size: f32, bold: bool, text: impl Into<String>) -> Mark {
        Mark::Words {
            at,
            size,
            bold,
            ink: Ink::Black,
            text: text.into(),
        }
    }

    pub fn grey(at: Spot, size: f32, text: impl Into<String>) -> Mark {
        Mark::Words {
            at,
            size,
            bold: false,
            ink: Ink::Grey,
            text: text.into(),
        }
    }

    pub fn line(from: Spot, to: Spot, stroke: Stroke) -> Mark {
        Mark::Path {
            outlines: vec![vec![from, to]],
            closed: false,
            fill: None,
            hatch: Hatch::None,
            line: Some(stroke),
        }
    }

    pub fn filled(corners: Vec<Spot>) -> Mark {
        Mark::Path {
            outlines: vec![corners],
            closed: true,
            fill: Some((0, 0, 0)),
            hatch: Hatch::None,
            line: None,
        }
    }

    pub fn rectangle((x, y): Spot, (wide, high): Spot, stroke: Stroke) -> Mark {
        Mark::Path {
            outlines: vec![vec![(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]],
            closed: true,
            fill: None,
            hatch: Hatch::None,
            line: Some(stroke),
        }
    }

    /// A box to tick.
    pub fn tick_box(at: Spot, side: f32) -> Mark {
        Mark::rectangle(at, (side, side), Stroke::of(0.8))
    }

    /// Left, top, right and bottom of what it covers.
    pub fn bounds(&self) -> Option<[f32; 4]> {
        match self {
            Mark::At(_) => None,
            Mark::Words {
                at: (x, y),
                size,
                bold,
                text,
                ..
            } => Some([*x, y - size, x + letters(*bold).width(text, *size), y + size * 0.3]),
            Mark::Path { outlines, .. } => {
                let spots = outlines.iter().flatten();
                spots.map(|(x, y)| [*x, *y, *x, *y]).reduce(both)
            }
            Mark::Photo {
                at: (x, y),
                size: (wide, high),
                ..
            } => Some([*x, *y, x + wide, y + high]),
            Mark::Disc {
                middle: (x, y), radius, ..
            } => Some([x - radius, y - radius, x + radius, y + radius]),
        }
    }

    pub fn moved(mut self, (dx, dy): Spot) -> Mark {
        let go = |spot: &mut Spot| *spot = (spot.0 + dx, spot.1 + dy);
        match &mut self {
            Mark::Words { at, .. } | Mark::Photo { at, .. } => go(at),
            Mark::Path { outlines, .. } => outlines.iter_mut().flatten().for_each(go),
            Mark::Disc { middle, .. } => go(middle),
            Mark::At(_) => {}
        }
        self
    }
}
