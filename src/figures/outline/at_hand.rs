//! All rectangles that can be cut from the leftovers of a cloth.

use super::{is_sound, outline};
use crate::figures::Rect;
use crate::figures::check::remnant_is_sound;
use crate::plan::{Cloth, Remnant, limits};

/// Of the cloth's remnants each at its place in the plan's list; after them
/// the rectangles of those with an outline.
pub(in crate::figures) struct AtHand {
    all: Vec<Remnant>,
    /// Outline and place in it, for what follows the cloth's own rectangles.
    parts: Vec<OutlinePart>,
}

/// A rectangle of a remnant with an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::figures) struct OutlinePart {
    /// Position in the cloth's list of outlines, and in that outline's rectangles.
    pub outlined: usize,
    pub number: usize,
    pub rect: Rect,
}

impl AtHand {
    /// Nothing of lists that are too long: what is wrong is told elsewhere.
    pub fn of(cloth: &Cloth) -> AtHand {
        let mut out = AtHand {
            all: Vec::new(),
            parts: Vec::new(),
        };
        if cloth.remnants.len() > limits::REMNANTS || cloth.outlined.len() > limits::OUTLINED {
            return out;
        }
        out.all.clone_from(&cloth.remnants);
        for (outlined, one) in cloth.outlined.iter().enumerate().filter(|(_, o)| is_sound(o)) {
            let rectangles = outline(&one.outline).map(|o| o.rectangles).unwrap_or_default();
            for (number, rect) in rectangles.into_iter().enumerate() {
                out.all.push(Remnant {
                    width: rect.width,
                    length: rect.height,
                    count: one.count,
                });
                out.parts.push(OutlinePart { outlined, number, rect });
            }
        }
        out
    }

    pub fn all(&self) -> &[Remnant] {
        &self.all
    }

    /// Those that may be cut from, with their place.
    pub fn sound(&self) -> Vec<(usize, &Remnant)> {
        let all = self.all.iter().enumerate();
        all.filter(|(_, r)| remnant_is_sound(r)).collect()
    }

    /// Where it is a part of an outline: which.
    pub fn part(&self, at: usize) -> Option<&OutlinePart> {
        let own = self.all.len() - self.parts.len();
        self.parts.get(at.checked_sub(own)?)
    }
}
