//! The outline of a piece as it lies, for drawings.

use super::rows::diamond_side;
use crate::figures::{CutLine, Placed, Purpose, Shape};
use crate::measure::Length;

impl Placed {
    /// Its corners one after the other, as (across, along). `line` is the line it is of.
    pub fn corners(&self, line: &CutLine) -> Vec<(Length, Length)> {
        let shape = match &line.purpose {
            Purpose::Patch { shape, .. } => *shape,
            _ => Shape::Rectangle,
        };
        let (w, h) = (line.cut.width, line.cut.height);
        let half = |x: Length| x.scale_down(1, 2);
        // As it lies unturned, from the corner of its rectangle.
        let corners: Vec<(Length, Length)> = match shape {
            Shape::Triangle60 if self.flipped => vec![(Length::ZERO, Length::ZERO), (w, Length::ZERO), (half(w), h)],
            Shape::Triangle60 => vec![(Length::ZERO, h), (half(w), Length::ZERO), (w, h)],
            Shape::Diamond60 => {
                let side = diamond_side(h).min(w);
                vec![
                    (Length::ZERO, h),
                    (w - side, Length::ZERO),
                    (w, Length::ZERO),
                    (side, h),
                ]
            }
            Shape::Hexagon => {
                let (near, far) = (w.scale_down(1, 4), w - w.scale_down(1, 4));
                vec![
                    (Length::ZERO, half(h)),
                    (near, Length::ZERO),
                    (far, Length::ZERO),
                    (w, half(h)),
                    (far, h),
                    (near, h),
                ]
            }
            _ => vec![
                (Length::ZERO, Length::ZERO),
                (w, Length::ZERO),
                (w, h),
                (Length::ZERO, h),
            ],
        };
        corners
            .into_iter()
            // A quarter turn to the right.
            .map(|(x, y)| if self.turned { (h - y, x) } else { (x, y) })
            .map(|(x, y)| (self.rect.x + x, self.rect.y + y))
            .collect()
    }
}
