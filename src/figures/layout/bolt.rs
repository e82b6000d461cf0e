//! An open-ended length of cloth: several ways tried, the least kept.

use super::chance::Chance;
use super::fill::{Filler, plain_strip};
use super::rows::run;
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
    let mut chance = Chance::new();
    for round in 0..SHIFTS {
        if done(&best) || budget.is_spent() {
            break;
        }
        let worth: Vec<f64> = area.iter().map(|a| a * (0.8 + 0.4 * chance.part())).collect();
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

/// No layout is shorter: the tallest piece lying flat; the area; and the area
/// where a piece counts for the part of the width it takes from any others.
pub(super) fn floor(job: &Job, counts: &[i64]) -> i64 {
    let width = i128::from(job.width.max(1));
    let mut tallest = 0;
    // Area times the number in a strip, the plain area first.
    let mut areas = [0i128; MOST_IN_A_STRIP + 1];
    for (item, count) in job.items.iter().zip(counts).filter(|(_, n)| **n > 0) {
        let fits = || {
            let ways = item.ways().iter().map(|turned| item.lying(*turned));
            ways.filter(|(w, _)| *w <= job.width)
        };
        let wide = || {
            let ways = item.ways().iter().filter(|turned| item.lying(**turned).0 <= job.width);
            ways.map(|turned| item.steps(*turned))
        };
        tallest = tallest.max(fits().map(|(_, h)| h).min().unwrap_or(0));
        for (most, area) in areas.iter_mut().enumerate() {
            // Of a nested piece what it adds to its row: rectangles of that size
            // lie side by side wherever the pieces do.
            let of_one = wide().map(|(w, h)| i128::from(h) * share(i128::from(w), width, most as i128));
            *area += of_one.min().unwrap_or(0) * i128::from(*count);
        }
    }
    let by_area = areas.into_iter().enumerate().map(|(most, area)| {
        let whole = width * (most as i128).max(1);
        i64::try_from((area + whole - 1) / whole).unwrap_or(i64::MAX)
    });
    by_area.fold(tallest, i64::max)
}

/// Numbers of pieces in a strip for which wide pieces are counted.
const MOST_IN_A_STRIP: usize = 24;

/// What a piece `w` wide counts for, times `most`: its width, or, where only
/// `most` pieces wider than `width / (most + 1)` lie side by side, so many of
/// these parts as it is wide (a dual feasible function). Pieces of exactly so
/// many parts count for their width.
fn share(w: i128, width: i128, most: i128) -> i128 {
    match most {
        0 => w,
        _ if (most + 1) * w % width == 0 => w * most,
        _ => (most + 1) * w / width * width,
    }
}

/// How each line lies if it is cut by itself: what takes less length.
fn lying_alone(job: &Job, counts: &[i64]) -> Vec<bool> {
    job.items
        .iter()
        .zip(counts)
        .map(|(item, count)| {
            let length = |turned: bool| {
                let (w, _) = item.lying(turned);
                let a_strip = run(w, item.steps(turned).0, job.width);
                let high = i128::from(item.strip_height(turned, job.width, *count, i64::MAX));
                match a_strip {
                    0 => i128::MAX,
                    // Rows along the cloth are as long as it takes.
                    _ if turned && item.nests() => high,
                    _ => i128::from((count + a_strip - 1) / a_strip) * high,
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
        let item = &job.items[*line];
        let h = item.strip_height(upright[*line], job.width, left[*line], i64::MAX);
        (h, item.lying(upright[*line]).0, std::cmp::Reverse(*line))
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
            filler.strip(job.width, i64::MAX, tallest, upright[tallest], &left)
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
    let high = |line: usize| job.items[line].strip_height(upright[line], job.width, left[line], i64::MAX);
    let mut drivers: Vec<usize> = (0..job.items.len()).filter(|line| left[*line] > 0).collect();
    drivers.sort_by_key(|line| {
        (
            std::cmp::Reverse((high(*line), job.items[*line].lying(upright[*line]).0)),
            *line,
        )
    });
    for driver in drivers {
        let height = high(driver);
        if seen.contains(&height) {
            continue;
        }
        seen.push(height);
        let Some(pattern) = filler.strip(job.width, i64::MAX, driver, upright[driver], left) else {
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

#[cfg(test)]
mod tests {
    use super::super::Item;
    use super::*;

    #[test]
    fn wide_pieces_count_for_the_width_they_take() {
        let floor = |items: &[(i64, i64, i64, bool)]| {
            let items: Vec<Item> = items
                .iter()
                .map(|&(width, height, count, turn)| Item::rectangle(width, height, count, turn))
                .collect();
            let job = Job {
                width: 40,
                straightening: 0,
                items,
            };
            floor(&job, &job.counts())
        };
        // One in a strip: three strips; two in a strip: half of four; exactly
        // half the width takes half; turned, three of 12 lie side by side; beside
        // 21 lies one of 14, so that these three count for half each.
        assert_eq!(floor(&[(21, 10, 3, false)]), 30);
        assert_eq!(floor(&[(14, 10, 4, false)]), 20);
        assert_eq!(floor(&[(20, 10, 3, false)]), 15);
        assert_eq!(floor(&[(21, 12, 3, true)]), 21);
        assert_eq!(floor(&[(21, 10, 1, false), (14, 10, 2, false), (40, 3, 1, false)]), 18);
    }
}
