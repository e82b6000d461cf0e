//! The deeper search: cuts from edge to edge, but nested as deep as it takes,
//! lengthwise and across in turn.
//!
//! The pieces are taken in an order; each goes into the corner of the free
//! rectangle it fits closest, and two cuts divide what is left of that
//! rectangle in two. The order, and which of the two cuts comes first, are then
//! changed a little at a time. A change is kept while the area that finds no
//! place within the length is no more than it was some changes ago, so that the
//! search can leave a dead end.

use super::chance::Chance;
use super::{Bolt, Job, bolt, parts};

/// More single pieces than this are left to the strips, which waste little of
/// so many.
const MOST_PIECES: i64 = 250;
/// Steps (free rectangles looked at) by the number of lines: a few different
/// sizes are soon tried, many are worth more trouble: it grows with the fourth
/// power of the lines.
const LEAST_STEPS: i64 = 200_000;
const STEPS_BY_LINES: i64 = 120;
const MOST_STEPS: i64 = 60_000_000;
/// How many changes ago a layout must have been no better.
const MEMORY: usize = 30;

#[derive(Clone, Copy)]
struct Piece {
    line: usize,
    /// As it lies unturned.
    width: i64,
    height: i64,
    turn: bool,
}

#[derive(Clone, Copy)]
struct Room {
    x: i64,
    y: i64,
    width: i64,
    height: i64,
}

/// What is changed bit by bit.
#[derive(Clone)]
struct Choice {
    /// Positions in the list of pieces.
    order: Vec<usize>,
    /// By piece: the other one of the two cuts beside it comes first.
    other_cut: Vec<bool>,
}

/// The state before the piece at some place of the order.
#[derive(Clone, Default)]
struct Before {
    rooms: Vec<Room>,
    unplaced: f64,
}

#[derive(Clone, Copy)]
pub(super) struct Placed {
    pub line: usize,
    pub turned: bool,
    pub x: i64,
    pub y: i64,
    pub width: i64,
    pub height: i64,
}

struct Search<'a> {
    pieces: &'a [Piece],
    /// No narrower or shorter rectangle holds any piece.
    smallest: i64,
    width: i64,
    length: i64,
    steps: i64,
}

/// A layout no longer than `room`; where there is one, perhaps a shorter one,
/// by whole steps of `step`. `None` if none is found.
pub(super) fn within(job: &Job, counts: &[i64], room: i64, step: i64) -> Option<Bolt> {
    let floor = bolt::floor(job, counts);
    let count: i64 = counts.iter().map(|n| (*n).max(0)).sum();
    let nests = job.items.iter().zip(counts).any(|(item, n)| *n > 0 && item.nests());
    if nests || room < floor || !(2..=MOST_PIECES).contains(&count) {
        return None;
    }
    let mut pieces = Vec::new();
    for (line, (item, n)) in job.items.iter().zip(counts).enumerate() {
        for _ in 0..*n {
            pieces.push(Piece {
                line,
                width: item.width,
                height: item.height,
                turn: item.ways().len() > 1,
            });
        }
    }
    let lines = counts.iter().filter(|n| **n > 0).count() as i64;
    let mut search = Search {
        smallest: pieces.iter().map(|p| p.width.min(p.height)).min().unwrap_or(0),
        pieces: &pieces,
        width: job.width,
        length: room,
        steps: (STEPS_BY_LINES * lines.pow(4)).clamp(LEAST_STEPS, MOST_STEPS),
    };
    search
        .run(floor, step.max(1))
        .map(|placed| parts::bolt(job.width, &placed))
}

impl Search<'_> {
    fn run(&mut self, floor: i64, step: i64) -> Option<Vec<Placed>> {
        let mut rooms = Vec::new();
        let mut choice = self.beginning(None, &mut rooms)?;
        let mut unplaced = f64::INFINITY;
        let mut best = None;
        let mut before = vec![Before::default(); self.pieces.len()];
        let mut trial = choice.clone();
        let mut chance = Chance::new();
        let mut memory = [0.0; MEMORY];
        let mut changes = 0;
        // A new length: the layout so far begins its memory.
        let mut fresh = true;
        let mut first = Some(0);
        loop {
            if let Some(from) = first.take() {
                choice.clone_from(&trial);
                rooms.clone_from(&before[from].rooms);
                if from == 0 {
                    rooms = vec![self.all()];
                }
                let already = before[from].unplaced;
                unplaced = self.decode(&choice, from, already, f64::INFINITY, &mut rooms, Some(&mut before));
                if std::mem::take(&mut fresh) {
                    memory.fill(unplaced);
                }
            }
            if unplaced == 0.0 {
                let placed = self.placed(&choice);
                let used = placed.iter().map(|p| p.y + p.height).max().unwrap_or(0);
                best = Some(placed);
                while self.length >= used {
                    self.length -= step;
                }
                if self.length < floor {
                    break;
                }
                fresh = true;
                trial = self.beginning(Some(&choice), &mut rooms)?;
                first = Some(0);
                continue;
            }
            if self.steps <= 0 {
                break;
            }
            let from = self.change(&mut trial, &mut chance);
            let back_then = memory[changes % MEMORY];
            rooms.clone_from(&before[from].rooms);
            let limit = unplaced.max(back_then);
            let with = self.decode(&trial, from, before[from].unplaced, limit, &mut rooms, None);
            if with <= limit {
                first = Some(from);
                unplaced = with;
            } else {
                trial.clone_from(&choice);
            }
            memory[changes % MEMORY] = unplaced;
            changes += 1;
        }
        best
    }

    fn all(&self) -> Room {
        Room {
            x: 0,
            y: 0,
            width: self.width,
            height: self.length,
        }
    }

    /// What to begin with at this length: the largest pieces first, by several
    /// measures, or what was found so far.
    fn beginning(&mut self, so_far: Option<&Choice>, rooms: &mut Vec<Room>) -> Option<Choice> {
        type Measure = fn(&Piece) -> (i128, i64);
        let measures: [Measure; 4] = [
            |p| (i128::from(p.width) * i128::from(p.height), 0),
            |p| (i128::from(p.width.max(p.height)), p.width.min(p.height)),
            |p| (i128::from(p.width) + i128::from(p.height), 0),
            |p| (i128::from(p.width.min(p.height)), p.width.max(p.height)),
        ];
        let pieces = self.pieces;
        let sorted = measures.into_iter().map(|measure| {
            let mut order: Vec<usize> = (0..pieces.len()).collect();
            order.sort_by_key(|at| std::cmp::Reverse(measure(&pieces[*at])));
            Choice {
                order,
                other_cut: vec![false; pieces.len()],
            }
        });
        let tried: Vec<(f64, Choice)> = so_far
            .cloned()
            .into_iter()
            .chain(sorted)
            .map(|choice| (self.whole(&choice, rooms), choice))
            .collect();
        let least = tried.into_iter().min_by(|(a, _), (b, _)| a.total_cmp(b));
        least.map(|(_, choice)| choice)
    }

    /// Changes one or two things; the first place of the order they touch.
    fn change(&self, choice: &mut Choice, chance: &mut Chance) -> usize {
        let count = choice.order.len();
        let far = count * 3 / 10 + 1;
        let mut first = count - 1;
        for _ in 0..=chance.below(2) {
            let at = chance.below(count);
            let by = 1 + chance.below(far);
            let other = if chance.below(2) == 0 {
                at.saturating_sub(by)
            } else {
                (at + by).min(count - 1)
            };
            match chance.below(5) {
                0 | 1 => {
                    choice.order.swap(at, other);
                    first = first.min(at).min(other);
                }
                2 | 3 => {
                    let piece = choice.order.remove(at);
                    choice.order.insert(other, piece);
                    first = first.min(at).min(other);
                }
                _ => {
                    let piece = choice.order[at];
                    choice.other_cut[piece] = !choice.other_cut[piece];
                    first = first.min(at);
                }
            }
        }
        first
    }

    fn whole(&mut self, choice: &Choice, rooms: &mut Vec<Room>) -> f64 {
        rooms.clear();
        rooms.push(self.all());
        self.decode(choice, 0, 0.0, f64::INFINITY, rooms, None)
    }

    /// The area that finds no place; not worked out to the end once it is
    /// above `limit`.
    fn decode(
        &mut self,
        choice: &Choice,
        from: usize,
        already: f64,
        limit: f64,
        rooms: &mut Vec<Room>,
        mut note: Option<&mut Vec<Before>>,
    ) -> f64 {
        let mut unplaced = already;
        for (at, piece) in choice.order.iter().enumerate().skip(from) {
            if let Some(before) = note.as_deref_mut() {
                before[at].rooms.clone_from(rooms);
                before[at].unplaced = unplaced;
            }
            self.steps -= rooms.len() as i64 + 4;
            if self.place(*piece, choice, rooms).is_none() {
                let piece = self.pieces[*piece];
                unplaced += piece.width as f64 * piece.height as f64;
                if unplaced > limit {
                    break;
                }
            }
        }
        unplaced
    }

    /// Puts one piece where it fits closest, and divides what is left there.
    fn place(&self, at: usize, choice: &Choice, rooms: &mut Vec<Room>) -> Option<(Room, bool)> {
        let piece = self.pieces[at];
        let mut best: Option<((i64, i64), usize, bool)> = None;
        for (n, room) in rooms.iter().enumerate() {
            for turned in [false, true] {
                let (w, h) = if turned {
                    (piece.height, piece.width)
                } else {
                    (piece.width, piece.height)
                };
                if (turned && !piece.turn) || w > room.width || h > room.height {
                    continue;
                }
                let (beside, above) = (room.width - w, room.height - h);
                let fit = (beside.min(above), beside.max(above));
                if best.as_ref().is_none_or(|(least, ..)| fit < *least) {
                    best = Some((fit, n, turned));
                }
            }
        }
        let (_, n, turned) = best?;
        let room = rooms.swap_remove(n);
        let (width, height) = if turned {
            (piece.height, piece.width)
        } else {
            (piece.width, piece.height)
        };
        let (beside, above) = (room.width - width, room.height - height);
        // Usually the cut that leaves the larger rectangle whole.
        let across = (room.width as f64 * above as f64 > beside as f64 * room.height as f64) != choice.other_cut[at];
        let mut add = |x: i64, y: i64, width: i64, height: i64| {
            if width >= self.smallest && height >= self.smallest {
                rooms.push(Room { x, y, width, height });
            }
        };
        let (x, y) = (room.x, room.y);
        if across {
            add(x, y + height, room.width, above);
            add(x + width, y, beside, height);
        } else {
            add(x + width, y, beside, room.height);
            add(x, y + height, width, above);
        }
        Some((Room { x, y, width, height }, turned))
    }

    fn placed(&self, choice: &Choice) -> Vec<Placed> {
        let mut rooms = vec![self.all()];
        let place = |at: &usize| {
            self.place(*at, choice, &mut rooms).map(|(room, turned)| Placed {
                line: self.pieces[*at].line,
                turned,
                x: room.x,
                y: room.y,
                width: room.width,
                height: room.height,
            })
        };
        choice.order.iter().filter_map(place).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Item, parts::What};
    use super::*;

    fn job(width: i64, items: &[(i64, i64, i64)]) -> Job {
        Job {
            width,
            straightening: 0,
            items: items
                .iter()
                .map(|&(width, height, count)| Item::rectangle(width, height, count, false))
                .collect(),
        }
    }

    #[test]
    fn deeper_cuts_save_what_strips_cannot() {
        // Two columns of 10: 7 and twice 5 x 7 on it; 9 and 5. No cut but those
        // between the columns goes from edge to edge of all of it.
        let job = job(20, &[(10, 7, 1), (5, 7, 2), (10, 5, 1), (10, 9, 1)]);
        assert_eq!(job.least().strips_length(), 16);
        let bolt = within(&job, &job.counts(), 15, 1).expect("14 is enough");
        assert_eq!(bolt.strips_length(), 14);
        let (strip, times) = &bolt.runs[0];
        assert_eq!((bolt.runs.len(), *times, strip.blocks.len()), (1, 1, 5));
        let parts = strip.parts.as_ref().expect("cuts nested three deep");
        let What::Cut { lengthwise, into } = &parts.what else {
            panic!("not cut")
        };
        assert!(*lengthwise);
        assert_eq!(into.len(), 2);
        // Less than the area is never tried.
        assert!(within(&job, &job.counts(), 13, 1).is_none());
    }

    #[test]
    fn the_same_job_has_the_same_layout() {
        let job = job(97, &[(31, 17, 3), (13, 41, 2), (23, 29, 4), (11, 7, 9), (47, 19, 2)]);
        let room = job.least().strips_length() - 1;
        let told = || within(&job, &job.counts(), room, 1).map(|b| format!("{:?}", b.runs));
        assert_eq!(told(), told());
    }
}
