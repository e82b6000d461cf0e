//! Drawings to scale. Points are in millimetres of the real thing, across and
//! down from the top left corner; letters and strokes are as large as they
//! are on paper, whatever the scale.

use crate::measure::{Length, MM};

pub type Point = (f64, f64);

#[derive(Clone, Debug, Default)]
pub struct Drawing {
    /// Above it; may be empty.
    pub title: String,
    /// What it shows, for those who cannot see it.
    pub says: String,
    pub caption: String,
    /// Of the real thing.
    pub width: f64,
    pub height: f64,
    /// One millimetre on paper is so many of the real thing.
    pub one_to: f64,
    /// Left free beside it for labels, in millimetres on paper.
    pub aside: f64,
    /// The same under it.
    pub below: f64,
    /// Stays on one page with what follows.
    pub keep: bool,
    pub shapes: Vec<Shape>,
}

impl Drawing {
    /// Width and height on paper in millimetres, without what is left free.
    pub fn on_paper(&self) -> (f64, f64) {
        (self.width / self.one_to, self.height / self.one_to)
    }
}

#[derive(Clone, Debug)]
pub enum Shape {
    /// Closed outlines of one kind together: thousands of patches stay small.
    Areas {
        outlines: Vec<Vec<Point>>,
        /// `(red, green, blue)`; nothing is paper.
        colour: Option<(u8, u8, u8)>,
        hatch: Hatch,
        line: Line,
    },
    /// Open lines of one kind together.
    Lines {
        paths: Vec<Vec<Point>>,
        line: Line,
    },
    Label(Label),
}

/// How an area is told from others without its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash, PartialOrd, Ord)]
pub enum Hatch {
    #[default]
    None,
    /// What is lost: close and fine.
    Waste,
    Rising,
    Falling,
    Level,
    Upright,
    Crossed,
    Slanted,
    Close,
}

impl Hatch {
    /// Of the nth cloth of a plan: the first is left plain.
    pub fn of_cloth(n: usize) -> Hatch {
        const ALL: [Hatch; 8] = [
            Hatch::None,
            Hatch::Rising,
            Hatch::Level,
            Hatch::Crossed,
            Hatch::Falling,
            Hatch::Upright,
            Hatch::Slanted,
            Hatch::Close,
        ];
        ALL[n % ALL.len()]
    }

    /// The ways its lines run, as `(across, down)` of one step, and how far apart they are in
    /// millimetres on paper.
    pub fn lines(self) -> (&'static [(f64, f64)], f64) {
        const UP: (f64, f64) = (1.0, -1.0);
        const DOWN: (f64, f64) = (1.0, 1.0);
        const ACROSS: (f64, f64) = (1.0, 0.0);
        const ALONG: (f64, f64) = (0.0, 1.0);
        match self {
            Hatch::None => (&[], 1.0),
            Hatch::Waste => (&[UP], 0.8),
            Hatch::Rising => (&[UP], 1.9),
            Hatch::Falling => (&[DOWN], 1.9),
            Hatch::Level => (&[ACROSS], 1.7),
            Hatch::Upright => (&[ALONG], 1.7),
            Hatch::Crossed => (&[ACROSS, ALONG], 2.1),
            Hatch::Slanted => (&[UP, DOWN], 2.3),
            Hatch::Close => (&[DOWN], 1.1),
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Line {
    None,
    /// Between patches.
    #[default]
    Fine,
    /// Round a panel, a cut across the whole cloth.
    Strong,
    /// The selvage: not cut.
    Dashed,
}

#[derive(Clone, Debug)]
pub struct Label {
    /// Its middle; of one that stands beside, its right end.
    pub at: Point,
    pub text: String,
    /// Height of its letters in points on paper.
    pub size: f64,
    pub ground: Ground,
    pub bold: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// Centred on a white disc.
    Disc,
    /// White on a dark square.
    Square,
    /// Centred, on what is there.
    Bare,
    /// Centred on a white disc without an edge.
    Light,
    /// To the left of its point.
    Beside,
}

/// For a drawing: nothing is worked out from it any more.
pub fn mm(length: Length) -> f64 {
    length.units() as f64 / MM.units() as f64
}

/// Points on paper as millimetres on paper.
pub const POINT: f64 = 25.4 / 72.0;

/// The largest usual scale at which so much fits in so much, all in
/// millimetres: 1 to 1, 1 to 2, 1 to 2.5 and so on.
pub fn scale_for(width: f64, height: f64, room: (f64, f64)) -> f64 {
    const USUAL: [f64; 26] = [
        1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 14.0, 16.0, 18.0, 20.0, 25.0, 30.0,
        40.0, 50.0, 75.0, 100.0, 150.0, 200.0,
    ];
    let needed = (width / room.0).max(height / room.1);
    let found = USUAL.into_iter().find(|scale| *scale >= needed);
    found.unwrap_or_else(|| if needed.is_finite() { needed.ceil() } else { 200.0 })
}

/// `1 : 2.5`.
pub fn scale_words(one_to: f64) -> String {
    format!("1 : {one_to}")
}

/// `#rrggbb`, light enough to write and hatch on: half of it paper.
pub fn tint(colour: &str) -> (u8, u8, u8) {
    let at = |from: usize| -> u8 {
        let own = colour
            .get(from..from + 2)
            .and_then(|two| u8::from_str_radix(two, 16).ok())
            .unwrap_or(0xb8);
        255 - (255 - own) / 2
    };
    (at(1), at(3), at(5))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_fits_at_a_usual_scale() {
        assert_eq!(scale_for(170.0, 50.0, (170.0, 200.0)), 1.0);
        assert_eq!(scale_for(1066.8, 500.0, (160.0, 200.0)), 7.0);
        for (w, h) in [(1.0, 1.0), (3_000.0, 10.0), (10.0, 200_000.0), (1e9, 1.0)] {
            let scale = scale_for(w, h, (160.0, 200.0));
            assert!(w / scale <= 160.0 && h / scale <= 200.0, "{w} {h} {scale}");
        }
    }

    #[test]
    fn any_text_has_a_tint() {
        assert_eq!(tint("#000000"), (128, 128, 128));
        assert_eq!(tint("#ffffff"), (255, 255, 255));
        assert_eq!(tint("ß"), tint("#b8b8b8"));
    }

    #[test]
    fn neighbours_in_a_plan_are_hatched_apart() {
        for n in 0..7 {
            assert_ne!(Hatch::of_cloth(n), Hatch::of_cloth(n + 1));
        }
    }
}
