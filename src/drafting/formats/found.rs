//! What a file holds: outlines to choose from, and sentences about the rest.

use kurbo::{BezPath, Point, Rect, Shape as _};
use std::fmt;

/// Why a file could not be read, with the line it is about where there is one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileProblem {
    pub line: Option<usize>,
    pub sentence: String,
    /// Nothing but the unit is missing: to be asked for.
    pub wants_unit: bool,
}

impl FileProblem {
    pub fn new(sentence: impl Into<String>) -> FileProblem {
        FileProblem {
            line: None,
            sentence: sentence.into(),
            wants_unit: false,
        }
    }

    pub fn at(line: usize, sentence: impl Into<String>) -> FileProblem {
        FileProblem {
            line: Some(line),
            ..FileProblem::new(sentence)
        }
    }

    pub(super) fn no_unit(sentence: impl Into<String>) -> FileProblem {
        FileProblem {
            wants_unit: true,
            ..FileProblem::new(sentence)
        }
    }
}

impl fmt::Display for FileProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(f, "Line {line}: {}", self.sentence),
            None => f.write_str(&self.sentence),
        }
    }
}

/// What was read of a file.
#[derive(Clone, Debug, Default)]
pub struct Found {
    pub outlines: Vec<FoundOutline>,
    /// What was left out or must be looked at, for the maker.
    pub notices: Vec<String>,
}

/// What a line is, as far as the file says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Role {
    #[default]
    Unknown,
    /// The edge of what is cut.
    Cut,
    Stitching,
}

/// One closed line of a file, in millimetres, `y` down and the grain upright
/// where the file tells it.
#[derive(Clone, Debug, Default)]
pub struct FoundOutline {
    pub name: String,
    /// Of the file.
    pub line: Option<usize>,
    pub role: Role,
    pub path: BezPath,
    /// On the outline or beside it.
    pub notches: Vec<Point>,
    pub grain: Option<[Point; 2]>,
    pub marks: Vec<(String, Point)>,
    pub inner: Vec<Inner>,
    /// How many the file says to cut, of a mirrored pair both.
    pub cut_count: Option<u32>,
    pub mirrored: bool,
    /// The cut line round it, where this is a stitching line: the allowances follow from it.
    pub cut: Option<BezPath>,
}

/// A line inside.
#[derive(Clone, Debug)]
pub struct Inner {
    pub name: String,
    pub path: BezPath,
}

impl FoundOutline {
    pub fn bounds(&self) -> Rect {
        self.path.bounding_box()
    }

    /// In square millimetres.
    pub fn area(&self) -> f64 {
        self.path.area().abs()
    }
}
