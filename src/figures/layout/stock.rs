//! What is at hand comes first: remnants, then the length owned, then the
//! cloth to buy. Each is a piece of its own: no cut can run from one into
//! another, and each is straightened once.

use super::bolt::Effort;
use super::fill::Filler;
use super::{Bolt, Budget, Item, Job, Pattern, bolt};
use crate::measure::Length;
use crate::plan::Remnant;

/// Steps for one sheet of a given size, and for all remnants of a cloth; when
/// they are spent, columns are simply taken in order of size.
const STEPS_A_SHEET: i64 = 20_000;
const STEPS_IN_ALL: i64 = 150_000;
/// Strip heights weighed at each strip of a remnant.
const DRIVERS: usize = 10;

/// Where a sheet comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::figures) enum Source {
    /// Position in the plan's list of remnants.
    Remnant(usize),
    Owned,
    ToBuy,
}

/// Sheets cut alike.
#[derive(Clone, Debug)]
pub(in crate::figures) struct Sheets {
    pub source: Source,
    pub width: i64,
    /// Of a remnant its whole length, else what is taken, straightening included.
    pub length: i64,
    pub times: i64,
    pub(super) bolt: Bolt,
}

#[derive(Clone, Debug, Default)]
pub(in crate::figures) struct Stocked {
    pub sheets: Vec<Sheets>,
    /// There are remnants, and leaving them whole takes less to buy.
    pub remnants_left_whole: bool,
}

impl Stocked {
    fn length_of(&self, source: Source) -> Length {
        let units: i64 = self
            .sheets
            .iter()
            .filter(|s| s.source == source)
            .map(|s| s.length * s.times)
            .sum();
        Length::from_units(units)
    }
    /// Taken from the length owned, straightening included.
    pub fn taken_from_owned(&self) -> Length {
        self.length_of(Source::Owned)
    }
    /// Taken from cloth still to be bought, straightening included.
    pub fn taken_from_bought(&self) -> Length {
        self.length_of(Source::ToBuy)
    }
    pub fn uses_remnants(&self) -> bool {
        self.sheets.iter().any(|s| matches!(s.source, Source::Remnant(_)))
    }
}

/// The layout on what is at hand. `whole` is the least for the job on one open length.
pub(in crate::figures) fn with_stock(
    job: &Job,
    whole: &Bolt,
    remnants: &[(usize, &Remnant)],
    owned: Length,
) -> Stocked {
    let counts = job.counts();
    let (sheets, left) = on_remnants(job, remnants, &counts);
    let without = on_lengths(job, whole.clone(), &counts, owned.units());
    if sheets.is_empty() {
        return without;
    }
    let mut with = on_lengths(job, bolt::least(job, &left, Effort::FULL), &left, owned.units());
    if with.taken_from_bought() > without.taken_from_bought() {
        return Stocked {
            remnants_left_whole: true,
            ..without
        };
    }
    with.sheets.splice(0..0, sheets);
    with
}

/// All of it on a length to buy.
pub(super) fn to_buy(job: &Job, bolt: Bolt) -> Stocked {
    let length = job.straightening + bolt.strips_length();
    let sheets = Sheets {
        source: Source::ToBuy,
        width: job.width,
        length,
        times: 1,
        bolt,
    };
    Stocked {
        sheets: if sheets.bolt.runs.is_empty() {
            Vec::new()
        } else {
            vec![sheets]
        },
        ..Stocked::default()
    }
}

/// Remnants one after the other, the largest first, each as full as can be.
fn on_remnants(job: &Job, remnants: &[(usize, &Remnant)], counts: &[i64]) -> (Vec<Sheets>, Vec<i64>) {
    let mut left = counts.to_vec();
    let mut sheets = Vec::new();
    let mut steps = STEPS_IN_ALL;
    let mut order: Vec<&(usize, &Remnant)> = remnants.iter().collect();
    order.sort_by_key(|(at, r)| {
        let area = i128::from(r.width.units()) * i128::from(r.length.units());
        (std::cmp::Reverse(area), *at)
    });
    for (at, remnant) in order {
        let (width, length) = (remnant.width.units(), remnant.length.units());
        let mut there = i64::from(remnant.count);
        while there > 0 {
            let bolt = on_sheet(job, width, length - job.straightening, &left, &mut steps);
            if bolt.runs.is_empty() {
                break;
            }
            let mut used: Vec<(usize, i64)> = Vec::new();
            for (pattern, times) in &bolt.runs {
                for (line, n) in pattern.used() {
                    match used.iter_mut().find(|(l, _)| *l == line) {
                        Some((_, sum)) => *sum += n * times,
                        None => used.push((line, n * times)),
                    }
                }
            }
            let times = used
                .iter()
                .map(|(line, n)| left[*line] / n)
                .min()
                .unwrap_or(1)
                .clamp(1, there);
            for (line, n) in used {
                left[line] -= n * times;
            }
            there -= times;
            sheets.push(Sheets {
                source: Source::Remnant(*at),
                width,
                length,
                times,
                bolt,
            });
        }
    }
    (sheets, left)
}

/// A sheet of a given length, filled strip by strip with what uses it best.
fn on_sheet(job: &Job, width: i64, length: i64, counts: &[i64], steps: &mut i64) -> Bolt {
    if length <= 0 {
        return Bolt::default();
    }
    let area: Vec<f64> = job.items.iter().map(Item::area).collect();
    let mut best: Option<(f64, Bolt)> = None;
    for by_height in [false, true] {
        let given = STEPS_A_SHEET.min(*steps);
        let mut budget = Budget(given);
        let mut filler = Filler {
            items: &job.items,
            worth: &area,
            budget: &mut budget,
        };
        let mut left = counts.to_vec();
        let mut bolt = Bolt::default();
        let mut room = length;
        let mut used = 0.0;
        while let Some(pattern) = best_strip(&mut filler, width, room, &left, by_height) {
            let times = pattern.repeats(&left).max(1).min(room / pattern.height);
            used += worth(&pattern, &area) * times as f64;
            pattern.take(times, &mut left);
            room -= pattern.height * times;
            bolt.push(pattern, times);
        }
        *steps -= given - budget.0;
        if best.as_ref().is_none_or(|(most, _)| used > *most) {
            best = Some((used, bolt));
        }
    }
    best.map(|(_, bolt)| bolt.in_order()).unwrap_or_default()
}

fn worth(pattern: &Pattern, area: &[f64]) -> f64 {
    pattern
        .blocks
        .iter()
        .map(|b| area[b.line] * (b.across * b.along) as f64)
        .sum()
}

/// The strip that uses most: of its own height, or of cloth in all.
fn best_strip(filler: &mut Filler, width: i64, room: i64, left: &[i64], by_height: bool) -> Option<Pattern> {
    let mut drivers: Vec<(usize, bool)> = Vec::new();
    for (line, item) in filler.items.iter().enumerate() {
        for turned in item.ways() {
            let (w, h) = item.lying(*turned);
            if left[line] > 0 && w <= width && h <= room {
                drivers.push((line, *turned));
            }
        }
    }
    // The largest pieces are hardest to place: they come first.
    drivers.sort_by(|(a, s), (b, t)| {
        let (x, y) = (filler.items[*a].area(), filler.items[*b].area());
        y.total_cmp(&x).then(a.cmp(b)).then(s.cmp(t))
    });
    drivers.truncate(DRIVERS);
    let area: Vec<f64> = filler.items.iter().map(Item::area).collect();
    let mut best: Option<(f64, Pattern)> = None;
    for (line, turned) in drivers {
        let Some(pattern) = filler.strip(width, room, line, turned, left) else {
            continue;
        };
        let mut value = worth(&pattern, &area);
        if !by_height {
            value /= pattern.height as f64;
        }
        if best.as_ref().is_none_or(|(most, _)| value > *most) {
            best = Some((value, pattern));
        }
    }
    best.map(|(_, pattern)| pattern)
}

/// The length owned, and what must be bought beyond it.
fn on_lengths(job: &Job, whole: Bolt, counts: &[i64], owned: i64) -> Stocked {
    let sheet = |source, bolt: Bolt| {
        (!bolt.runs.is_empty()).then(|| Sheets {
            source,
            width: job.width,
            length: job.straightening + bolt.strips_length(),
            times: 1,
            bolt,
        })
    };
    if job.straightening + whole.strips_length() <= owned {
        return Stocked {
            sheets: sheet(Source::Owned, whole).into_iter().collect(),
            ..Stocked::default()
        };
    }
    let room = owned - job.straightening;
    // Either as many of the strips as the length owned holds, or it filled
    // afresh and the rest laid out anew.
    let (first, rest) = divide(&whole, room);
    let mut best = (first, rest);
    let fresh = on_sheet(job, job.width, room, counts, &mut (STEPS_A_SHEET * 2));
    if !fresh.runs.is_empty() {
        let mut left = counts.to_vec();
        for (pattern, times) in &fresh.runs {
            pattern.take(*times, &mut left);
        }
        let rest = bolt::least(job, &left, Effort::FULL);
        if rest.strips_length() < best.1.strips_length() {
            best = (fresh, rest);
        }
    }
    Stocked {
        sheets: [sheet(Source::Owned, best.0), sheet(Source::ToBuy, best.1)]
            .into_iter()
            .flatten()
            .collect(),
        ..Stocked::default()
    }
}

/// Strips that fill `room` as far as they can, and the others.
fn divide(whole: &Bolt, room: i64) -> (Bolt, Bolt) {
    const STATES: usize = 100;
    const TIMES: i64 = 30;
    const RUNS: usize = 30;
    // Sums of heights that can be reached, each with how many of every run.
    let mut sums: Vec<(i64, Vec<i64>)> = vec![(0, Vec::new())];
    for (at, (pattern, times)) in whole.runs.iter().enumerate() {
        let mut next: Vec<(i64, Vec<i64>)> = Vec::new();
        if at >= RUNS {
            // So many different strips: simply as many of each as there is room for.
            sums.truncate(1);
        }
        for (sum, taken) in &sums {
            let most = (*times).min((room - sum).max(0) / pattern.height);
            let stride = if at >= RUNS { most.max(1) } else { (most / TIMES).max(1) };
            let mut n = most;
            while n >= 0 {
                let mut taken = taken.clone();
                taken.push(n);
                next.push((sum + n * pattern.height, taken));
                n -= stride;
            }
            if most % stride != 0 {
                let mut taken = taken.clone();
                taken.push(0);
                next.push((*sum, taken));
            }
        }
        next.sort_by(|a, b| b.cmp(a));
        next.dedup_by_key(|(sum, _)| *sum);
        next.truncate(STATES);
        sums = next;
    }
    let mut parts = (Bolt::default(), Bolt::default());
    let Some((_, taken)) = sums.first() else { return parts };
    for ((pattern, times), n) in whole.runs.iter().zip(taken) {
        if *n > 0 {
            parts.0.push(pattern.clone(), *n);
        }
        if times - n > 0 {
            parts.1.push(pattern.clone(), times - n);
        }
    }
    parts
}
