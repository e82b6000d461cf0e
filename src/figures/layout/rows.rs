//! Equal pieces to cut, and the rows they lie in: rectangles side by side,
//! triangles tip to tail, diamonds leaning against each other.
//!
//! A row is as long as its first piece and one step for each further one. Its
//! two long sides are cut with the ruler square to nothing else, so to every
//! search a row is a rectangle. Hexagons are cut from rectangles tip to tip.

use crate::figures::{CutLine, Purpose, Shape};
use crate::measure::Length;

/// Equal pieces to cut. Sizes are counts of 1/640 mm: across and along.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    /// Of the rectangle round one piece.
    pub width: i64,
    pub height: i64,
    pub count: i64,
    pub turn: bool,
    /// By how much a row grows with each further piece: the width where pieces
    /// do not nest.
    pub step: i64,
    /// Every second one of a row lies with its tip down.
    pub flips: bool,
}

/// `step` of a row of diamonds: their side, from the height of the strip,
/// rounded up here and nowhere else.
pub(in crate::figures) fn diamond_side(height: Length) -> Length {
    height.times_irrational_up(2.0 / 3.0f64.sqrt())
}

impl Item {
    #[cfg(test)]
    pub fn rectangle(width: i64, height: i64, count: i64, turn: bool) -> Item {
        Item {
            width,
            height,
            count,
            turn,
            step: width,
            flips: false,
        }
    }

    pub fn of(line: &CutLine) -> Item {
        let width = line.cut.width.units();
        let shape = match &line.purpose {
            Purpose::Patch { shape, .. } => *shape,
            _ => Shape::Rectangle,
        };
        let (step, flips) = match shape {
            // On a cloth that runs one way every tip points the same way.
            Shape::Triangle60 if line.may_turn => (width - width / 2, true),
            Shape::Diamond60 => (diamond_side(line.cut.height).units().min(width), false),
            _ => (width, false),
        };
        Item {
            width,
            height: line.cut.height.units(),
            count: line.count,
            turn: line.may_turn,
            step,
            flips,
        }
    }

    /// Size of one as it lies, turned by a quarter or not.
    pub fn lying(&self, turned: bool) -> (i64, i64) {
        if turned {
            (self.height, self.width)
        } else {
            (self.width, self.height)
        }
    }

    /// From one to the next, across and along, as it lies.
    pub fn steps(&self, turned: bool) -> (i64, i64) {
        if turned {
            (self.height, self.step)
        } else {
            (self.step, self.height)
        }
    }

    /// The ways it may lie: two only where they differ.
    pub fn ways(&self) -> &'static [bool] {
        if self.turn && (self.width != self.height || self.nests()) {
            &[false, true]
        } else {
            &[false]
        }
    }

    /// Lies in rows that are shorter than so many pieces one by one.
    pub fn nests(&self) -> bool {
        self.step < self.width
    }

    /// What one takes of a long row.
    pub fn area(&self) -> f64 {
        self.step as f64 * self.height as f64
    }

    /// Pieces in a row no longer than `room`.
    pub fn fit(&self, room: i64) -> i64 {
        run(self.width, self.step, room)
    }

    /// Length of a row.
    pub fn row(&self, pieces: i64) -> i64 {
        self.width + (pieces - 1).max(0) * self.step
    }

    /// Height of the strip across the cloth that is cut for `left` of them, no
    /// higher than `room`. Turned rows run along the cloth, side by side, as long
    /// as it takes.
    pub fn strip_height(&self, turned: bool, width: i64, left: i64, room: i64) -> i64 {
        if !turned || !self.nests() {
            return self.lying(turned).1;
        }
        let side_by_side = (width / self.height.max(1)).max(1);
        let most = self.fit(room).max(1);
        self.row(((left + side_by_side - 1) / side_by_side).clamp(1, most))
    }
}

/// How many in a row of which the first takes `first` and each other `step`.
pub(super) fn run(first: i64, step: i64, room: i64) -> i64 {
    if room < first {
        0
    } else {
        1 + (room - first) / step.max(1)
    }
}

#[cfg(test)]
mod tests {
    use crate::figures::{CutLine, Layout, Purpose, Shape, Size, lay_out};
    use crate::measure::{INCH, Length, QUARTER, Unit};

    /// On 42 in, sizes in quarters of an inch.
    fn laid_out(shape: Shape, width: i64, height: i64, count: i64, may_turn: bool) -> (Length, Layout) {
        let line = CutLine {
            purpose: Purpose::Patch {
                shape,
                unit: "unit".into(),
            },
            pieces: Vec::new(),
            cut: Size {
                width: QUARTER * width,
                height: QUARTER * height,
            },
            count,
            may_turn,
            patches: count,
            strips: None,
        };
        let layout = lay_out(&[line], INCH * 42, Length::ZERO, Unit::Inch);
        (layout.sheets.iter().map(|s| s.length).sum(), layout)
    }

    fn said(layout: &Layout, part: &str) {
        let order = layout.order.join("\n");
        assert!(order.contains(part), "{part}: {order}");
    }

    #[test]
    fn triangles_lie_tip_to_tail() {
        // 5 in a side: 15 take 5 + 14 x 2 1/2 = 40 in; 16 would take 42 1/2.
        let (length, layout) = laid_out(Shape::Triangle60, 20, 18, 30, true);
        assert_eq!(length, QUARTER * 18 * 2);
        let placed = &layout.sheets[0].strips[0].placed;
        assert_eq!(placed.len(), 15);
        assert_eq!(placed[1].rect.x - placed[0].rect.x, QUARTER * 10);
        assert!(!placed[0].flipped && placed[1].flipped && !placed[2].flipped);
        said(
            &layout,
            "Cut 2 strips 4 1/2 in (11.5 cm) across the full width; subcut 30 triangles of 5 in a side tip to tail, 15 a strip.",
        );
        said(&layout, "to the left and to the right in turn");
        // On a cloth that runs one way 8 lie side by side.
        let (length, layout) = laid_out(Shape::Triangle60, 20, 18, 30, false);
        assert_eq!(length, QUARTER * 18 * 4);
        assert!(
            layout.sheets[0]
                .strips
                .iter()
                .flat_map(|s| &s.placed)
                .all(|p| !p.flipped && !p.turned)
        );
        said(&layout, "tip the same way");
    }

    #[test]
    fn rows_run_along_the_cloth_where_that_is_shorter() {
        // 7 of 10 in across: two strips of 8 3/4 in for 8. Along it: four rows of two, 15 in long.
        let (length, layout) = laid_out(Shape::Triangle60, 40, 35, 8, true);
        assert_eq!(length, INCH * 15);
        assert_eq!(
            layout.sheets[0].strips[0].placed.iter().filter(|p| p.flipped).count(),
            4
        );
        said(
            &layout,
            "divide it into strips 8 3/4 in wide lengthwise, as drawn, and from these 8 triangles of 10 in a side tip to tail.",
        );
    }

    #[test]
    fn diamonds_lean_on_each_other() {
        // From strips of 3 in: a side of 3.464 in, 5 1/4 in from tip to tip. 11 take 5.25 + 10 x 3.464 = 39.89 in.
        let (length, layout) = laid_out(Shape::Diamond60, 21, 12, 22, true);
        assert_eq!(length, INCH * 6);
        let placed = &layout.sheets[0].strips[0].placed;
        let step = placed[1].rect.x - placed[0].rect.x;
        assert_eq!(step.units(), (3.0 * 16256.0 * 2.0 / 3.0f64.sqrt()).ceil() as i64);
        said(&layout, "and 3 in from the last, measured square to it");
    }

    #[test]
    fn hexagons_are_cut_from_rectangles() {
        // 2 in from flat to flat, 2 1/2 from tip to tip: 16 in 42 in.
        let (length, layout) = laid_out(Shape::Hexagon, 10, 8, 32, true);
        assert_eq!(length, INCH * 4);
        said(&layout, "cut off both corners");
    }
}
