//! The cutting layout of one cloth: whole strips across it, subcuts from the
//! strips, smaller pieces stacked in what is left of a taller strip.
//!
//! - [`rows`]: what is cut, and how it lies in a row
//! - [`fill`]: one strip, or any rectangle, filled with columns of pieces
//! - [`bolt`]: an open-ended length of cloth, the least of several tries
//! - [`deep`]: cuts nested as deep as it takes, where that saves cloth to buy
//! - [`parts`]: such a layout as strips and the cuts within them
//! - [`stock`]: remnants and the length at hand first, then the cloth to buy
//! - [`draw`]: where every rectangle lies
//! - [`outline`]: the corners of a piece as it lies
//! - [`words`]: the order of cuts
//! - [`chance`]: the same random numbers every time
//!
//! Every cut runs from edge to edge of what it divides, as a ruler does. The
//! search takes a fixed number of steps and no clock, so one plan always has
//! one layout. Equal pieces are handled as groups; only the drawing places
//! them one by one.
//!
//! Strips come first, because they are cut by hand with a ruler and seldom
//! wrong. The deeper search only ever replaces them where less is bought. It
//! leaves cloths with nested rows alone: a row has no length of its own until
//! it is known how many lie in it, and the search moves pieces one by one.

mod bolt;
mod chance;
mod deep;
mod draw;
mod fill;
mod outline;
mod parts;
mod rows;
mod stock;
mod words;

pub(super) use draw::{Drawn, draw, strips_of};
pub(super) use stock::{Stocked, with_stock};

use super::outline::AtHand;
use super::{CutLine, Layout};
use crate::measure::{INCH, Length, Unit};
use crate::plan::Cloth;
use bolt::Effort;
use rows::Item;

/// A rectangle with both sides at least this is worth keeping.
pub(super) const WORTH_KEEPING: Length = Length::from_units(INCH.units() * 4);

/// Any cut list on an open-ended length of this width, by whichever search
/// takes least cloth. Lines too wide for it are left out.
pub fn lay_out(lines: &[CutLine], width: Length, straightening: Length, unit: Unit) -> Layout {
    let fits = |line: &CutLine| {
        let sides = [line.cut.width, line.cut.height];
        let narrower = if line.may_turn {
            sides[0].min(sides[1])
        } else {
            sides[0]
        };
        narrower <= width && sides.iter().all(|side| side.is_positive())
    };
    let mut job = Job::new(lines, width, straightening);
    for (item, line) in job.items.iter_mut().zip(lines) {
        item.count = if fits(line) { item.count } else { 0 };
    }
    let strips = job.least();
    let finest = Length::from_units(1);
    let bolt = job
        .deeper(strips.length(straightening) - finest, finest)
        .unwrap_or(strips);
    let stocked = stock::to_buy(&job, bolt);
    draw(
        &stocked,
        &Drawn {
            lines,
            remnants: &AtHand::of(&Cloth::default()),
            straightening,
            unit,
            before_lay: false,
        },
    )
}

/// Any cut list on a cloth as it is at hand: its remnants first, then the
/// length owned, then cloth to buy. Every line must fit across the width.
pub fn lay_out_on(lines: &[CutLine], cloth: &Cloth, straightening: Length, unit: Unit) -> Layout {
    let job = Job::new(lines, cloth.usable_width, straightening);
    let at_hand = AtHand::of(cloth);
    let stocked = with_stock(&job, &job.least(), &at_hand.sound(), cloth.owned);
    draw(
        &stocked,
        &Drawn {
            lines,
            remnants: &at_hand,
            straightening,
            unit,
            before_lay: false,
        },
    )
}

/// What is to be cut from a cloth of this width.
pub(super) struct Job {
    width: i64,
    /// Lost at the start of each length.
    straightening: i64,
    /// In the order of the cut list.
    items: Vec<Item>,
}

impl Job {
    /// Every line must fit across the width, turned if it may be.
    pub fn new(lines: &[CutLine], width: Length, straightening: Length) -> Job {
        Job {
            width: width.units(),
            straightening: straightening.units(),
            items: lines.iter().map(Item::of).collect(),
        }
    }

    fn counts(&self) -> Vec<i64> {
        self.items.iter().map(|item| item.count).collect()
    }

    /// The least length of an open-ended cloth found for all of it.
    pub fn least(&self) -> Bolt {
        bolt::least(self, &self.counts(), Effort::FULL)
    }

    /// A layout with cuts nested deeper than strips and subcuts that is no longer
    /// than `room`, straightening included, or shorter by whole steps.
    pub fn deeper(&self, room: Length, step: Length) -> Option<Bolt> {
        let room = room.units() - self.straightening;
        deep::within(self, &self.counts(), room, step.units())
    }

    /// As [`Job::least`] with less trouble, for a length that will be rounded up to the
    /// shop's step and is not drawn.
    pub fn about_least(&self, step: Length) -> Bolt {
        let effort = Effort {
            part: 4,
            step: Some((step.units(), self.straightening)),
        };
        bolt::least(self, &self.counts(), effort)
    }
}

/// Equal pieces side by side and one behind the other in a strip.
#[derive(Clone, Copy, Debug)]
struct Block {
    line: usize,
    turned: bool,
    x: i64,
    y: i64,
    /// Size of one piece as it lies.
    width: i64,
    height: i64,
    across: i64,
    along: i64,
    /// From one piece to the next: its size, or less in a row of nested ones.
    step_x: i64,
    step_y: i64,
    /// Every second one of a row has its tip down.
    flips: bool,
}

impl Block {
    fn new(items: &[Item], line: usize, turned: bool, (x, y): (i64, i64), (across, along): (i64, i64)) -> Block {
        let item = &items[line];
        let (width, height) = item.lying(turned);
        let (step_x, step_y) = item.steps(turned);
        Block {
            line,
            turned,
            x,
            y,
            width,
            height,
            across,
            along,
            step_x,
            step_y,
            flips: item.flips,
        }
    }

    fn nests(&self) -> bool {
        self.step_x < self.width || self.step_y < self.height
    }
}

/// A rectangle of a strip that nothing is cut from.
#[derive(Clone, Copy, Debug)]
struct Free {
    x: i64,
    y: i64,
    width: i64,
    height: i64,
}

/// One strip and what is cut from it.
#[derive(Clone, Debug)]
struct Pattern {
    height: i64,
    blocks: Vec<Block>,
    free: Vec<Free>,
    /// Where cuts are nested deeper than subcuts and what is trimmed from them.
    parts: Option<parts::Part>,
}

impl Pattern {
    /// Pieces of each line cut from one such strip.
    fn used(&self) -> Vec<(usize, i64)> {
        let mut used: Vec<(usize, i64)> = Vec::new();
        for block in &self.blocks {
            let count = block.across * block.along;
            match used.iter_mut().find(|(line, _)| *line == block.line) {
                Some((_, n)) => *n += count,
                None => used.push((block.line, count)),
            }
        }
        used
    }

    /// How many such strips `left` fills whole; at least one if it fills any.
    fn repeats(&self, left: &[i64]) -> i64 {
        self.used().iter().map(|(line, n)| left[*line] / n).min().unwrap_or(0)
    }

    fn take(&self, times: i64, left: &mut [i64]) {
        for (line, n) in self.used() {
            left[line] -= n * times;
        }
    }
}

/// Strips one after the other, equal ones together.
#[derive(Clone, Debug, Default)]
pub(super) struct Bolt {
    runs: Vec<(Pattern, i64)>,
}

impl Bolt {
    /// Straightening not included.
    fn strips_length(&self) -> i64 {
        self.runs.iter().map(|(p, times)| p.height * times).sum()
    }

    /// Length of cloth it takes; nothing if nothing is cut.
    pub fn length(&self, straightening: Length) -> Length {
        if self.runs.is_empty() {
            Length::ZERO
        } else {
            Length::from_units(self.strips_length()) + straightening
        }
    }

    /// Less cloth first, then fewer strips, then fewer different cuts.
    fn rank(&self) -> (i64, i64, usize) {
        (
            self.strips_length(),
            self.runs.iter().map(|(_, times)| times).sum(),
            self.runs.iter().map(|(p, _)| p.blocks.len()).sum(),
        )
    }

    fn push(&mut self, pattern: Pattern, times: i64) {
        self.runs.push((pattern, times));
    }

    /// Strips of one height together, the tallest first, among them those of
    /// one kind of piece before mixed ones: the order in which they are cut.
    fn in_order(mut self) -> Bolt {
        self.runs.sort_by_key(|(pattern, _)| {
            let first = pattern.blocks.first();
            let line = first.map_or(0, |b| b.line);
            let across = first.map_or(0, |b| b.across);
            (
                std::cmp::Reverse(pattern.height),
                pattern.blocks.len(),
                line,
                std::cmp::Reverse(across),
            )
        });
        self
    }
}

/// Steps a search may still take.
struct Budget(i64);

impl Budget {
    fn spend(&mut self, steps: usize) {
        self.0 -= steps as i64;
    }
    fn is_spent(&self) -> bool {
        self.0 <= 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn job(width: i64, items: &[(i64, i64, i64, bool)]) -> Job {
        Job {
            width,
            straightening: 0,
            items: items
                .iter()
                .map(|&(width, height, count, turn)| Item::rectangle(width, height, count, turn))
                .collect(),
        }
    }

    fn length(width: i64, items: &[(i64, i64, i64, bool)]) -> i64 {
        job(width, items).least().strips_length()
    }

    #[test]
    fn small_pieces_are_stacked_in_what_is_left_of_a_strip() {
        // In half inches, 42 in cloth. Seven of 13 take two strips; the second
        // has 71 x 13 left beside its one: 14 columns of two 5s, and 6 x 13 in
        // the first: one column more. Thirty 5s cost nothing.
        assert_eq!(length(84, &[(13, 13, 7, true)]), 26);
        assert_eq!(length(84, &[(13, 13, 7, true), (5, 5, 30, true)]), 26);
        assert_eq!(length(84, &[(13, 13, 7, true), (5, 5, 31, true)]), 31);
    }

    #[test]
    fn a_layout_without_waste_is_found() {
        // 10 x 6, 6 x 4 and 4 x 4 fill 20 across and 14 along.
        let items = [(10, 6, 2, true), (12, 8, 1, true), (8, 4, 2, true)];
        assert_eq!(length(20, &items), 14);
        // Rails that only fit all by lying both ways: 3 of 7 x 2 and 3 of 2 x 7 in 13 across.
        assert_eq!(length(13, &[(7, 2, 6, true)]), 7);
    }

    #[test]
    fn what_may_not_turn_does_not() {
        assert_eq!(length(12, &[(5, 12, 2, false)]), 12);
        assert_eq!(length(12, &[(5, 12, 2, true)]), 10);
        for (pattern, _) in &job(12, &[(5, 12, 2, false)]).least().runs {
            assert!(pattern.blocks.iter().all(|b| !b.turned));
        }
    }

    #[test]
    fn thousands_of_patches_are_a_few_groups() {
        let bolt = job(
            1000,
            &[(7, 7, 60_000, true), (5, 9, 60_000, true), (3, 3, 60_000, true)],
        )
        .least();
        assert!(bolt.runs.len() < 40, "{} groups", bolt.runs.len());
        let area = 60_000 * (49 + 45 + 9);
        assert!(bolt.strips_length() * 1000 < area * 105 / 100);
    }
}
