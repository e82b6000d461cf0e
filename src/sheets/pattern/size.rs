//! Papers, and how much of one is printed on.

use kurbo::Size;

/// The paper a pattern is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum PatternPaper {
    #[default]
    A4,
    Letter,
    /// For a copy shop.
    A0,
    /// A roll 36 in wide, as long as it must be.
    Roll36,
}

/// Shared by two neighbouring sheets.
pub const OVERLAP: f64 = 10.0;

/// Free at every edge: printers at home reach within 6 mm.
const MARGIN: f64 = 8.0;

/// For the line at the foot.
const FOOT: f64 = 7.0;

/// The test squares and what stands beside them, at the head of large paper.
pub const HEAD: Size = Size::new(330.0, 116.0);

impl PatternPaper {
    pub const ALL: [PatternPaper; 4] = [
        PatternPaper::A4,
        PatternPaper::Letter,
        PatternPaper::A0,
        PatternPaper::Roll36,
    ];

    /// In addresses.
    pub const fn word(self) -> &'static str {
        match self {
            PatternPaper::A4 => "a4",
            PatternPaper::Letter => "letter",
            PatternPaper::A0 => "a0",
            PatternPaper::Roll36 => "roll36",
        }
    }

    pub const fn name(self) -> &'static str {
        match self {
            PatternPaper::A4 => "A4",
            PatternPaper::Letter => "Letter",
            PatternPaper::A0 => "A0",
            PatternPaper::Roll36 => "36 in roll",
        }
    }

    pub const fn what(self) -> &'static str {
        match self {
            PatternPaper::A4 => "at home, 21 × 29.7 cm, sheets glued together",
            PatternPaper::Letter => "at home, 8 1/2 × 11 in, sheets glued together",
            PatternPaper::A0 => "at a copy shop, 84.1 × 118.9 cm",
            PatternPaper::Roll36 => "at a copy shop, 36 in (91.4 cm) wide and as long as needed",
        }
    }

    pub fn read(word: &str) -> Option<PatternPaper> {
        PatternPaper::ALL.into_iter().find(|p| p.word() == word)
    }

    /// Width and height; of a roll its width, and the longest that is printed in one.
    pub const fn size(self) -> Size {
        match self {
            PatternPaper::A4 => Size::new(210.0, 297.0),
            PatternPaper::Letter => Size::new(215.9, 279.4),
            PatternPaper::A0 => Size::new(841.0, 1189.0),
            // A page of a PDF is 200 in long at most.
            PatternPaper::Roll36 => Size::new(914.4, 5080.0),
        }
    }

    /// The part of a sheet the pattern is drawn in.
    pub fn frame(self) -> Size {
        let page = self.size();
        Size::new(page.width - 2.0 * MARGIN, page.height - 2.0 * MARGIN - FOOT)
    }

    /// The frame's corner on the page.
    pub const fn corner(self) -> (f64, f64) {
        (MARGIN, MARGIN)
    }

    /// From one sheet to the next.
    pub fn step(self) -> Size {
        let frame = self.frame();
        Size::new(frame.width - OVERLAP, frame.height - OVERLAP)
    }

    /// Whether a page of its own holds the test squares.
    pub const fn has_cover(self) -> bool {
        matches!(self, PatternPaper::A4 | PatternPaper::Letter)
    }
}
