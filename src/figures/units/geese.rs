//! Flying geese, four at a time from one large and four small squares: two
//! small ones are sewn to opposite corners of the large one along both sides
//! of their diagonal and cut apart, then one more to each half.

use super::Cutting;
use crate::measure::Length;

/// Squares for flying geese: one `large` with four `small` gives four.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Geese {
    /// Of the geese.
    pub large: Length,
    /// Of the sky.
    pub small: Length,
}

impl Cutting {
    /// Geese `width` wide and half as high when finished.
    pub fn geese(self, width: Length) -> Geese {
        Geese {
            // A goose is a quarter of its square, half of the sky a half of its own.
            large: self.quarter_square(width),
            small: self.half_square(self.part(width, 2)),
        }
    }
}
