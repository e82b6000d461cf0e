//! What is drawn, as values: lines and words on pages, in millimetres from the
//! top left corner of each.

use super::label::{POINT, width};
use crate::sheets::paper::said::{Part, Place, Role};
use chrono::NaiveDate;
use kurbo::{Affine, BezPath, Point, Rect, Shape, Size};

/// A file of pages.
#[derive(Clone, Debug)]
pub struct Plot {
    pub title: String,
    pub date: NaiveDate,
    pub pages: Vec<PlotPage>,
}

#[derive(Clone, Debug)]
pub struct PlotPage {
    pub size: Size,
    pub marks: Vec<Ink>,
    /// Drawn within this part of the page alone.
    pub within: Option<Rect>,
    pub clipped: Vec<Ink>,
}

#[derive(Clone, Debug)]
pub enum Ink {
    Line {
        path: BezPath,
        pen: Pen,
    },
    /// Filled black.
    Area {
        path: BezPath,
    },
    Words(Words),
    /// What follows belongs to this place of what is read out; to none it is furniture
    /// of the page.
    At(Option<Place>),
}

/// From the left end of the line the letters stand on.
#[derive(Clone, Debug)]
pub struct Words {
    pub at: Point,
    /// Height of the letters in points.
    pub size: f64,
    pub bold: bool,
    pub grey: bool,
    pub text: String,
}

/// How a line is drawn: told apart in black and white.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// In millimetres.
    pub width: f64,
    /// Dashes and gaps in millimetres; nothing is an unbroken line.
    pub dashes: &'static [f32],
    pub grey: bool,
}

impl Pen {
    /// Where cloth is cut: unbroken and the boldest.
    pub const CUT: Pen = Pen::of(0.4, &[]);
    /// Where it is sewn: dashed.
    pub const STITCHING: Pen = Pen::of(0.25, &[4.0, 2.0]);
    /// Lines inside: short dashes.
    pub const INSIDE: Pen = Pen::of(0.25, &[1.2, 1.4]);
    /// The fold of the cloth: long and short.
    pub const FOLD: Pen = Pen::of(0.4, &[9.0, 2.0, 2.0, 2.0]);
    /// Grainline, crosses, arrows.
    pub const FINE: Pen = Pen::of(0.25, &[]);
    /// Where the next sheet is laid.
    pub const GLUE: Pen = Pen {
        width: 0.15,
        dashes: &[2.0, 2.0],
        grey: true,
    };
    pub const FRAME: Pen = Pen {
        width: 0.15,
        dashes: &[],
        grey: true,
    };

    const fn of(width: f64, dashes: &'static [f32]) -> Pen {
        Pen {
            width,
            dashes,
            grey: false,
        }
    }
}

impl Ink {
    pub fn line(from: Point, to: Point, pen: Pen) -> Ink {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        Ink::Line { path, pen }
    }

    pub fn words(at: Point, size: f64, bold: bool, text: impl Into<String>) -> Ink {
        Ink::Words(Words {
            at,
            size,
            bold,
            grey: false,
            text: text.into(),
        })
    }

    pub fn grey(at: Point, size: f64, text: impl Into<String>) -> Ink {
        Ink::Words(Words {
            at,
            size,
            bold: false,
            grey: true,
            text: text.into(),
        })
    }

    /// What follows is one part of what is read out.
    pub fn at(role: Role, number: usize) -> Ink {
        Ink::At(Some(vec![Part::new(role, number)]))
    }

    /// The rectangle round it; nothing of a place.
    pub fn bounds(&self) -> Option<Rect> {
        match self {
            Ink::Line { path, .. } | Ink::Area { path } => Some(path.bounding_box()),
            Ink::Words(w) => {
                let (wide, high) = (width(&w.text, w.size, w.bold), w.size * POINT);
                Some(Rect::new(w.at.x, w.at.y - high, w.at.x + wide, w.at.y + high * 0.3))
            }
            Ink::At(_) => None,
        }
    }

    /// Moved or made smaller; words keep the size of their letters.
    pub fn moved(&self, by: Affine) -> Ink {
        match self {
            Ink::Line { path, pen } => Ink::Line {
                path: by * path.clone(),
                pen: *pen,
            },
            Ink::Area { path } => Ink::Area {
                path: by * path.clone(),
            },
            Ink::Words(words) => Ink::Words(Words {
                at: by * words.at,
                ..words.clone()
            }),
            Ink::At(place) => Ink::At(place.clone()),
        }
    }
}
