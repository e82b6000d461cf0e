//! Pieces that lie anywhere, as parts to cut: strips across the cloth, and in
//! each strip cuts from edge to edge of the part they divide.

use super::deep::Placed;
use super::fill::keep;
use super::{Block, Bolt, Free, Pattern};

/// Cuts nested deeper than this in a strip (subcuts, trims of a subcut) are
/// told one by one.
const USUAL_DEPTH: usize = 2;

/// A rectangle of a strip, and what becomes of it.
#[derive(Clone, Debug)]
pub(super) struct Part {
    pub x: i64,
    pub y: i64,
    pub width: i64,
    pub height: i64,
    pub what: What,
    /// What the order of cuts calls it: of parts that are divided on their own.
    pub number: Option<usize>,
}

#[derive(Clone, Debug)]
pub(super) enum What {
    LeftOver,
    Piece {
        line: usize,
    },
    Cut {
        /// Along the cloth; else across it.
        lengthwise: bool,
        /// From the left, or from the near edge.
        into: Vec<Part>,
    },
}

impl Part {
    /// Cuts within cuts.
    fn depth(&self) -> usize {
        match &self.what {
            What::Cut { into, .. } => 1 + into.iter().map(Part::depth).max().unwrap_or(0),
            _ => 0,
        }
    }

    fn left_over(&self, found: &mut Vec<Free>) {
        match &self.what {
            What::LeftOver => found.push(Free {
                x: self.x,
                y: self.y,
                width: self.width,
                height: self.height,
            }),
            What::Piece { .. } => {}
            What::Cut { into, .. } => into.iter().for_each(|part| part.left_over(found)),
        }
    }

    /// Numbers the parts that are divided on their own, each with its
    /// neighbours before any of them is divided: as the order of cuts tells them.
    pub fn count(&mut self, last: &mut usize) {
        let What::Cut { into, .. } = &mut self.what else { return };
        for part in into.iter_mut() {
            if matches!(part.what, What::Cut { .. }) && part.only_piece().is_none() {
                *last += 1;
                part.number = Some(*last);
            }
        }
        into.iter_mut()
            .filter(|p| p.number.is_some())
            .for_each(|p| p.count(last));
    }

    /// The one piece it holds: (line, width, height).
    pub fn only_piece(&self) -> Option<(usize, i64, i64)> {
        match &self.what {
            What::LeftOver => None,
            What::Piece { line } => Some((*line, self.width, self.height)),
            What::Cut { into, .. } => {
                let mut parts = into.iter().filter(|p| !matches!(p.what, What::LeftOver));
                match (parts.next(), parts.next()) {
                    (Some(part), None) => part.only_piece(),
                    _ => None,
                }
            }
        }
    }
}

/// The strips that `placed` is cut from, each with its parts.
pub(super) fn bolt(width: i64, placed: &[Placed]) -> Bolt {
    let mut bolt = Bolt::default();
    for (from, to, of_strip) in bands(placed.iter().collect(), |p| (p.y, p.y + p.height)) {
        let strip: Vec<Placed> = of_strip.iter().map(|p| Placed { y: p.y - from, ..**p }).collect();
        bolt.push(pattern(width, to - from, &strip), 1);
    }
    bolt.in_order()
}

fn pattern(width: i64, height: i64, placed: &[Placed]) -> Pattern {
    let mut pattern = Pattern {
        height,
        blocks: Vec::new(),
        free: Vec::new(),
        parts: None,
    };
    for p in placed {
        pattern.blocks.push(Block {
            line: p.line,
            turned: p.turned,
            x: p.x,
            y: p.y,
            width: p.width,
            height: p.height,
            across: 1,
            along: 1,
            step_x: p.width,
            step_y: p.height,
            flips: false,
        });
    }
    pattern.blocks.sort_by_key(|b| (b.x, b.y));
    let all = Part {
        x: 0,
        y: 0,
        width,
        height,
        what: What::LeftOver,
        number: None,
    };
    let parts = divide(all, placed.iter().collect(), true);
    let mut free = Vec::new();
    parts.left_over(&mut free);
    free.into_iter().for_each(|free| keep(free, &mut pattern));
    pattern.parts = (parts.depth() > USUAL_DEPTH).then_some(parts);
    pattern
}

/// `area` with the pieces in it, cut lengthwise or across first.
fn divide(mut area: Part, placed: Vec<&Placed>, lengthwise: bool) -> Part {
    match placed[..] {
        [] => return area,
        [one] if (one.width, one.height) == (area.width, area.height) => {
            area.what = What::Piece { line: one.line };
            return area;
        }
        _ => {}
    }
    for lengthwise in [lengthwise, !lengthwise] {
        let (start, size) = if lengthwise {
            (area.x, area.width)
        } else {
            (area.y, area.height)
        };
        let found = bands(placed.clone(), |p| {
            if lengthwise {
                (p.x, p.x + p.width)
            } else {
                (p.y, p.y + p.height)
            }
        });
        if let [(from, to, _)] = found[..]
            && from == start
            && to == start + size
        {
            continue;
        }
        let part = |from: i64, to: i64| {
            let (x, y, width, height) = if lengthwise {
                (from, area.y, to - from, area.height)
            } else {
                (area.x, from, area.width, to - from)
            };
            Part {
                x,
                y,
                width,
                height,
                what: What::LeftOver,
                number: None,
            }
        };
        let mut into = Vec::new();
        let mut at = start;
        for (from, to, inside) in found {
            if from > at {
                into.push(part(at, from));
            }
            into.push(divide(part(from, to), inside, !lengthwise));
            at = to;
        }
        if at < start + size {
            into.push(part(at, start + size));
        }
        area.what = What::Cut { lengthwise, into };
        return area;
    }
    // Cannot be: every layout of the search comes from cuts edge to edge.
    area
}

/// Groups that a cut can pass between, each with its ends.
fn bands(mut placed: Vec<&Placed>, ends: impl Fn(&Placed) -> (i64, i64)) -> Vec<(i64, i64, Vec<&Placed>)> {
    placed.sort_by_key(|p| ends(p));
    let mut bands: Vec<(i64, i64, Vec<&Placed>)> = Vec::new();
    for p in placed {
        let (from, to) = ends(p);
        match bands.last_mut() {
            Some((_, end, band)) if from < *end => {
                *end = to.max(*end);
                band.push(p);
            }
            _ => bands.push((from, to, vec![p])),
        }
    }
    bands
}
