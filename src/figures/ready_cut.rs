//! Patches cut for an earlier project: used before any cloth is cut.
//!
//! The largest need comes first, and takes the patches that fit it closest. A
//! patch fits where it is at least as large as what would be cut, so that it
//! can be trimmed; a rectangle may be large enough for several. What is left
//! in stock is told as well.

use super::check::ready_cut_is_sound;
use super::panel::cuts_for;
use super::{ClothFigures, CutLine, Purpose, Shape, Size};
use crate::measure::{Length, Unit};
use crate::plan::{Cloth, ReadyCut, ReadyShape, limits};
use serde::Serialize;

/// Patches in stock, and what becomes of them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ReadyCutFigures {
    /// Position in the plan's list of ready-cut patches of this cloth.
    pub at: usize,
    pub shape: ReadyShape,
    /// As they are: both sides of a rectangle, else the one measure twice.
    pub size: Size,
    pub used: i64,
    /// What stays in stock.
    pub left: i64,
    pub uses: Vec<ReadyCutUse>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ReadyCutUse {
    /// What it is for: shape, size as it would have been cut, unit.
    pub shape: Shape,
    pub cut: Size,
    pub unit: String,
    /// Of those in stock.
    pub used: i64,
    /// What each is cut into: rectangles of the cut size; 1 if it is only trimmed.
    pub each: i64,
    /// Patches of the panels that need not be cut from cloth.
    pub patches: i64,
}

impl ClothFigures {
    /// Something is made of it: cut from the cloth, of ready-cut patches, or of
    /// remnants kept for the binding.
    pub fn is_used(&self) -> bool {
        !self.cuts.is_empty()
            || self.ready_cut.iter().any(|ready| ready.used > 0)
            || self.to_buy_if_none_owned.is_positive()
    }
}

/// One kind of patches in stock while it is handed out.
struct Stock<'a> {
    ready: &'a ReadyCut,
    figures: ReadyCutFigures,
}

/// Takes what is in stock off the cut list. Lines that need nothing more are left out of it.
pub(super) fn take(cloth: &Cloth, lines: &mut Vec<CutLine>) -> Vec<ReadyCutFigures> {
    if cloth.ready_cut.len() > limits::READY_CUT {
        return Vec::new();
    }
    let sound = cloth
        .ready_cut
        .iter()
        .enumerate()
        .filter(|(_, ready)| ready_cut_is_sound(ready));
    let mut stock: Vec<Stock> = sound.map(|(at, ready)| Stock::new(at, ready)).collect();
    if stock.is_empty() {
        return Vec::new();
    }
    let mut order: Vec<usize> = (0..lines.len()).collect();
    order.sort_by_key(|at| (std::cmp::Reverse(area(lines[*at].cut)), *at));
    for at in order {
        serve(&mut lines[at], &mut stock);
    }
    lines.retain(|line| line.count > 0);
    stock.into_iter().map(|s| s.figures).collect()
}

impl Stock<'_> {
    fn new(at: usize, ready: &ReadyCut) -> Stock<'_> {
        let size = Size {
            width: ready.width,
            height: if ready.shape == ReadyShape::Rectangle {
                ready.height
            } else {
                ready.width
            },
        };
        Stock {
            ready,
            figures: ReadyCutFigures {
                at,
                shape: ready.shape,
                size,
                used: 0,
                left: i64::from(ready.count),
                uses: Vec::new(),
            },
        }
    }
}

fn area(size: Size) -> i128 {
    i128::from(size.width.units()) * i128::from(size.height.units())
}

fn serve(line: &mut CutLine, stock: &mut [Stock]) {
    let Purpose::Patch { shape, unit } = &line.purpose else {
        return;
    };
    // What is of the very shape first, then the closest fit.
    let mut fitting: Vec<(usize, Fit)> = (0..stock.len())
        .filter_map(|at| Some((at, fit(stock[at].ready, *shape, line.cut, line.may_turn)?)))
        .collect();
    fitting.sort_by_key(|(at, fit)| (matches!(fit, Fit::Rectangles(_)), area(stock[*at].figures.size), *at));
    for (at, fit) in fitting {
        let of = &mut stock[at].figures;
        let (each, patches_each) = match fit {
            Fit::Patch => (1, 1),
            Fit::Rectangles(n) => (n, n.saturating_mul(shape.yields())),
        };
        let used = ((line.patches + patches_each - 1) / patches_each).min(of.left);
        if used <= 0 {
            continue;
        }
        let patches = line.patches.min(used * patches_each);
        of.left -= used;
        of.used += used;
        of.uses.push(ReadyCutUse {
            shape: *shape,
            cut: line.cut,
            unit: unit.clone(),
            used,
            each,
            patches,
        });
        line.patches -= patches;
        line.count = cuts_for(line.patches, *shape);
    }
}

enum Fit {
    /// It is the patch, perhaps too large.
    Patch,
    /// So many of the rectangles to cut come out of it.
    Rectangles(i64),
}

/// Whether a ready-cut patch can serve for what would be cut.
fn fit(ready: &ReadyCut, shape: Shape, cut: Size, may_turn: bool) -> Option<Fit> {
    let large_enough = match (ready.shape, shape) {
        (ReadyShape::HalfSquareTriangle, Shape::HalfSquareTriangle)
        | (ReadyShape::QuarterSquareTriangle, Shape::QuarterSquareTriangle) => ready.width >= cut.width,
        (ReadyShape::Triangle60, Shape::Triangle60) => ready.width >= cut.width && high_enough(ready.width, cut.height),
        // From flat to flat: the strip it would be cut from.
        (ReadyShape::Hexagon, Shape::Hexagon) => ready.width >= cut.height,
        (ReadyShape::Rectangle, Shape::Triangle60 | Shape::Diamond60) => false,
        (ReadyShape::Rectangle, _) => {
            let grid = |w: Length, h: Length| ready.width.times_fits(w).saturating_mul(ready.height.times_fits(h));
            let turned = if may_turn { grid(cut.height, cut.width) } else { 0 };
            let most = grid(cut.width, cut.height).max(turned);
            return (most > 0).then_some(Fit::Rectangles(most));
        }
        _ => false,
    };
    large_enough.then_some(Fit::Patch)
}

/// Whether an equilateral triangle of this side is as high: height² is 3/4 of side².
fn high_enough(side: Length, height: Length) -> bool {
    let square = |x: Length| i128::from(x.units()) * i128::from(x.units());
    3 * square(side) >= 4 * square(height)
}

impl ReadyCutFigures {
    /// What they are called: "half-square triangles of 3 7/8 in squares".
    pub fn named(&self, unit: Unit) -> String {
        let size = self.size.cut(unit);
        match self.shape {
            ReadyShape::Rectangle if self.size.width == self.size.height => format!("squares {size}"),
            ReadyShape::Rectangle => format!("rectangles {size}"),
            ReadyShape::HalfSquareTriangle => format!("half-square triangles of squares {size}"),
            ReadyShape::QuarterSquareTriangle => format!("quarter-square triangles of squares {size}"),
            ReadyShape::Triangle60 => format!("equilateral triangles {size} a side"),
            ReadyShape::Hexagon => format!("hexagons {size} from flat to flat"),
        }
    }

    /// One sentence of the working.
    pub(super) fn told(&self, unit: Unit) -> String {
        let uses: Vec<String> = self.uses.iter().map(|u| u.told(unit)).collect();
        format!(
            "Ready-cut {}: {} of {} used, {}; {} stay in stock.",
            self.named(unit),
            self.used,
            self.used + self.left,
            uses.join("; "),
            if self.left == 0 {
                "none".to_string()
            } else {
                self.left.to_string()
            }
        )
    }
}

impl ReadyCutUse {
    fn told(&self, unit: Unit) -> String {
        let how = if self.each > 1 {
            format!("each cut into {} of", self.each)
        } else {
            "trimmed to".into()
        };
        format!("{} {how} {} for {}", self.used, self.cut.cut(unit), self.unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{INCH, QUARTER};

    fn line(shape: Shape, width: i64, height: i64, patches: i64, may_turn: bool) -> CutLine {
        CutLine {
            purpose: Purpose::Patch {
                shape,
                unit: "unit".into(),
            },
            pieces: Vec::new(),
            cut: Size {
                width: QUARTER * width,
                height: QUARTER * height,
            },
            count: cuts_for(patches, shape),
            may_turn,
            patches,
            strips: None,
        }
    }

    fn ready(shape: ReadyShape, width: i64, height: i64, count: u32) -> ReadyCut {
        ReadyCut {
            shape,
            width: QUARTER * width,
            height: QUARTER * height,
            count,
        }
    }

    /// (count, patches) of the lines that are left, and what was used of each.
    fn taken(lines: &[CutLine], ready_cut: Vec<ReadyCut>) -> (Vec<(i64, i64)>, Vec<i64>) {
        let cloth = Cloth {
            ready_cut,
            ..Cloth::default()
        };
        let mut lines = lines.to_vec();
        let used = take(&cloth, &mut lines).iter().map(|r| r.used).collect();
        (lines.iter().map(|l| (l.count, l.patches)).collect(), used)
    }

    #[test]
    fn the_largest_need_takes_the_closest_fit() {
        use ReadyShape::Rectangle;
        let lines = [
            line(Shape::Square, 10, 10, 5, true),
            line(Shape::Square, 18, 18, 4, true),
        ];
        // 5 in squares go to the 4 1/2 in need; the 4 in ones to the 2 1/2 in need.
        let (left, used) = taken(&lines, vec![ready(Rectangle, 20, 20, 3), ready(Rectangle, 16, 16, 4)]);
        assert_eq!((left, used), (vec![(1, 1), (1, 1)], vec![3, 4]));
        // All there: the line is gone. The closest first: one of 20 is used at most.
        let (left, used) = taken(
            &lines[1..],
            vec![ready(Rectangle, 20, 20, 9), ready(Rectangle, 18, 18, 3)],
        );
        assert_eq!((left, used), (vec![], vec![1, 3]));
    }

    #[test]
    fn a_large_one_is_cut_into_several() {
        use ReadyShape::Rectangle;
        // 10 in squares hold sixteen of 2 1/2 in: 20 take two.
        let need = [line(Shape::Square, 10, 10, 20, true)];
        assert_eq!(taken(&need, vec![ready(Rectangle, 40, 40, 9)]), (vec![], vec![2]));
        // Squares to cut into two triangles each: 7 patches are four squares.
        let need = [line(Shape::HalfSquareTriangle, 15, 15, 7, true)];
        assert_eq!(taken(&need, vec![ready(Rectangle, 15, 16, 3)]), (vec![(1, 1)], vec![3]));
    }

    #[test]
    fn shapes_and_sides_must_fit() {
        use ReadyShape::*;
        let hst = [line(Shape::HalfSquareTriangle, 15, 15, 7, true)];
        assert_eq!(
            taken(&hst, vec![ready(HalfSquareTriangle, 15, 0, 3)]),
            (vec![(2, 4)], vec![3])
        );
        assert_eq!(
            taken(&hst, vec![ready(HalfSquareTriangle, 14, 0, 3)]),
            (vec![(4, 7)], vec![0])
        );
        assert_eq!(taken(&hst, vec![ready(QuarterSquareTriangle, 30, 0, 3)]).1, [0]);
        let rail = |turn| [line(Shape::Rectangle, 6, 18, 2, turn)];
        assert_eq!(taken(&rail(true), vec![ready(Rectangle, 18, 6, 2)]), (vec![], vec![2]));
        assert_eq!(taken(&rail(false), vec![ready(Rectangle, 18, 6, 2)]).1, [0]);
        // 5 in a side is 4.33 in high.
        assert_eq!(
            taken(
                &[line(Shape::Triangle60, 20, 17, 1, true)],
                vec![ready(Triangle60, 20, 0, 1)]
            )
            .1,
            [1]
        );
        assert_eq!(
            taken(
                &[line(Shape::Triangle60, 20, 18, 1, true)],
                vec![ready(Triangle60, 20, 0, 1)]
            )
            .1,
            [0]
        );
        assert_eq!(
            taken(&[line(Shape::Hexagon, 10, 8, 1, true)], vec![ready(Hexagon, 8, 0, 1)]).1,
            [1]
        );
        assert_eq!(
            taken(&[line(Shape::Hexagon, 10, 8, 1, true)], vec![ready(Hexagon, 7, 0, 1)]).1,
            [0]
        );
    }

    #[test]
    fn what_cannot_be_read_is_not_counted_on() {
        let lines = [line(Shape::Square, 10, 10, 5, true)];
        let mut broken = ready(ReadyShape::Rectangle, 20, 20, 3);
        broken.height = -INCH;
        assert_eq!(taken(&lines, vec![broken]).0, [(5, 5)]);
        assert_eq!(taken(&lines, vec![ready(ReadyShape::Rectangle, 20, 20, 0)]).0, [(5, 5)]);
    }
}
