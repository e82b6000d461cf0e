//! An open-ended length of cloth: several ways tried, the least kept.

use super::fill::{Filler, plain_strip};
use super::{Bolt, Budget, Item, Job};

/// Steps for a job of one line, and for each further line.
const STEPS: i64 = 6_000;
const STEPS_A_LINE: i64 = 3_000;
const MOST_STEPS: i64 = 40_000;
/// Lines up to which every strip height is weighed at every strip, and up to
/// which every way of lying is tried.
const FEW: usize = 8;
const VERY_FEW: usize = 3;
/// Tries with the worth of pieces shifted a little.
const SHIFTS: u64 = 24;

/// Which piece sets the height of the next strip.
#[derive(Clone, Copy, PartialEq)]
enum Next {
    Tallest,
    /// The one whose strip is fullest.
    Fullest,
}

/// How much trouble to take, and when what is found is good enough.
#[derive(Clone, Copy)]
pub(super) struct Effort {
    /// The budget is divided by this.
    pub part: i64,
    /// Lengths that are the same once rounded up to this (with what is added
    /// before rounding) need not be told apart.
    pub step: Option<(i64, i64)>,
}

impl Effort {
    /// For the layout that is drawn and cut by.
    pub const FULL: Effort = Effort { part: 1, step: None };

    fn rounded(self, length: i64) -> i64 {
        match self.step {
            Some((step, added)) if step > 0 => (length.saturating_add(added).saturating_add(step - 1)) / step,
            _ => length,
        }
    }
}

/// The least length found that holds `counts` of the job's items.
pub(super) fn least(job: &Job, counts: &[i64], effort: Effort) -> Bolt {
    search(job, counts, effort).in_order()
}

fn search(job: &Job, counts: &[i64], effort: Effort) -> Bolt {
    let items = &job.items;
    if counts.iter().all(|n| *n <= 0) {
        return Bolt::default();
    }
    let lines = counts.iter().filter(|n| **n > 0).count();
    let mut budget = Budget((STEPS + STEPS_A_LINE * lines as i64).min(MOST_STEPS) / effort.part);
    let floor = floor(job, counts);
    let area: Vec<f64> = items.iter().map(Item::area).collect();

    // Each line by itself lies as takes least. This try is always made, and it
    // is no longer than the lines cut one after the other: bigger or more
    // pieces never make that shorter.
    let alone = lying_alone(job, counts);
    let mut best = plain(job, &alone, counts);
    let done = |best: &Bolt| effort.rounded(best.strips_length()) <= effort.rounded(floor);
    if done(&best) {
        return best;
    }
    let ways = lying(job, &alone, counts, lines);
    for upright in &ways {
        better(&mut best, plain(job, upright, counts));
    }
    let modes: &[Next] = if lines <= FEW {
        &[Next::Tallest, Next::Fullest]
    } else {
        &[Next::Tallest]
    };
    for upright in &ways {
        for next in modes {
            if done(&best) || budget.is_spent() {
                return best;
            }
            better(&mut best, strips(job, upright, *next, &area, counts, &mut budget));
        }
    }
    let mut chance = Chance(0x9E37_79B9_7F4A_7C15);
    for round in 0..SHIFTS {
        if done(&best) || budget.is_spent() {
            break;
        }
        let worth: Vec<f64> = area.iter().map(|a| a * (0.8 + 0.4 * chance.next())).collect();
        let upright = &ways[round as usize % ways.len()];
        let next = modes[round as usize % modes.len()];
        better(&mut best, strips(job, upright, next, &worth, counts, &mut budget));
    }
    best
}

fn better(best: &mut Bolt, other: Bolt) {
    if other.rank() < best.rank() {
        *best = other;
    }
}

/// No layout is shorter: the area, and the tallest piece lying flat.
fn floor(job: &Job, counts: &[i64]) -> i64 {
    let mut area: i128 = 0;
    let mut tallest = 0;
    for (item, count) in job.items.iter().zip(counts).filter(|(_, n)| **n > 0) {
        area += i128::from(item.width) * i128::from(item.height) * i128::from(*count);
        let flat = item
            .ways()
            .iter()
            .map(|turned| item.lying(*turned))
            .filter(|(w, _)| *w <= job.width)
            .map(|(_, h)| h)
            .min();
        tallest = tallest.max(flat.unwrap_or(0));
    }
    let width = i128::from(job.width.max(1));
    let by_area = (area + width - 1) / width;
    tallest.max(i64::try_from(by_area).unwrap_or(i64::MAX))
}

/// How each line lies if it is cut by itself: what takes less length.
fn lying_alone(job: &Job, counts: &[i64]) -> Vec<bool> {
    job.items
        .iter()
        .zip(counts)
        .map(|(item, count)| {
            let length = |turned: bool| {
                let (w, h) = item.lying(turned);
                match job.width / w {
                    0 => i128::MAX,
                    a_strip => {
                        let strips = (count + a_strip - 1) / a_strip;
                        i128::from(strips) * i128::from(h)
                    }
                }
            };
            item.ways().len() > 1 && length(true) < length(false)
        })
        .collect()
}

/// The ways for the lines to lie that are tried, `alone` first.
fn lying(job: &Job, alone: &[bool], counts: &[i64], lines: usize) -> Vec<Vec<bool>> {
    let items = &job.items;
    let free: Vec<usize> = (0..items.len())
        .filter(|line| {
            let item = &items[*line];
            let both = item.ways().iter().all(|turned| item.lying(*turned).0 <= job.width);
            counts[*line] > 0 && item.ways().len() > 1 && both
        })
        .collect();
    let mut ways = vec![alone.to_vec()];
    let mut add = |way: Vec<bool>| {
        if !ways.contains(&way) {
            ways.push(way);
        }
    };
    if free.len() <= VERY_FEW {
        for mask in 0..1u32 << free.len() {
            let mut way = alone.to_vec();
            for (bit, line) in free.iter().enumerate() {
                way[*line] = mask & (1 << bit) != 0;
            }
            add(way);
        }
    } else {
        for flat in [true, false] {
            let mut way = alone.to_vec();
            for line in &free {
                let (_, h) = items[*line].lying(false);
                let (_, turned) = items[*line].lying(true);
                way[*line] = (turned < h) == flat;
            }
            add(way);
        }
        if lines <= FEW {
            for line in &free {
                let mut way = alone.to_vec();
                way[*line] = !way[*line];
                add(way);
            }
        }
    }
    ways
}

/// Strips of equal heights only.
fn plain(job: &Job, upright: &[bool], counts: &[i64]) -> Bolt {
    let mut left = counts.to_vec();
    let mut bolt = Bolt::default();
    while let Some(driver) = tallest(job, upright, &left) {
        let pattern = plain_strip(&job.items, job.width, upright, driver, &left);
        let times = pattern.repeats(&left);
        if times == 0 {
            // Cannot be: the cut list holds only what fits across the cloth.
            left[driver] = 0;
            continue;
        }
        pattern.take(times, &mut left);
        bolt.push(pattern, times);
    }
    bolt
}

/// The tallest line that is left, as it lies; of equal ones the widest.
fn tallest(job: &Job, upright: &[bool], left: &[i64]) -> Option<usize> {
    (0..job.items.len()).filter(|line| left[*line] > 0).max_by_key(|line| {
        let (w, h) = job.items[*line].lying(upright[*line]);
        (h, w, std::cmp::Reverse(*line))
    })
}

/// Strips with whatever fills them best.
fn strips(job: &Job, upright: &[bool], next: Next, worth: &[f64], counts: &[i64], budget: &mut Budget) -> Bolt {
    let mut left = counts.to_vec();
    let mut bolt = Bolt::default();
    let mut filler = Filler {
        items: &job.items,
        worth,
        budget,
    };
    while let Some(tallest) = tallest(job, upright, &left) {
        let pattern = if next == Next::Tallest {
            filler.strip(job.width, tallest, upright[tallest], &left)
        } else {
            fullest(&mut filler, job, upright, &left)
        };
        let Some(pattern) = pattern else {
            left[tallest] = 0;
            continue;
        };
        let times = pattern.repeats(&left).max(1);
        pattern.take(times, &mut left);
        bolt.push(pattern, times);
    }
    bolt
}

fn fullest(filler: &mut Filler, job: &Job, upright: &[bool], left: &[i64]) -> Option<super::Pattern> {
    let mut best: Option<(f64, super::Pattern)> = None;
    let mut seen: Vec<i64> = Vec::new();
    let mut drivers: Vec<usize> = (0..job.items.len()).filter(|line| left[*line] > 0).collect();
    drivers.sort_by_key(|line| {
        let (w, h) = job.items[*line].lying(upright[*line]);
        (std::cmp::Reverse((h, w)), *line)
    });
    for driver in drivers {
        let (_, height) = job.items[driver].lying(upright[driver]);
        if seen.contains(&height) {
            continue;
        }
        seen.push(height);
        let Some(pattern) = filler.strip(job.width, driver, upright[driver], left) else {
            continue;
        };
        let value: f64 = pattern
            .blocks
            .iter()
            .map(|b| filler.worth[b.line] * (b.across * b.along) as f64)
            .sum();
        let fullness = value / pattern.height as f64;
        // The taller of two equally full ones: what is small fills gaps later.
        if best.as_ref().is_none_or(|(most, _)| fullness > *most) {
            best = Some((fullness, pattern));
        }
    }
    best.map(|(_, pattern)| pattern)
}

/// Numbers in 0..1, the same ones every time (xorshift).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}
