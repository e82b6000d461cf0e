//! Single strips at 45 degrees from a rectangle of the cloth.

use super::drawn::drawn;
use super::{Cut, bias_join_loss, least};
use crate::figures::units::coarse_mark;
use crate::figures::{BiasStrip, Size};
use crate::measure::{Length, Round};
use crate::plan::Plan;
use std::collections::BTreeMap;
use std::f64::consts::SQRT_2;

/// Where the first cut lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Start {
    /// From a corner: one cut line runs into the corner.
    Corner,
    /// The middle strip lies evenly about the middle of the rectangle.
    Middle,
}

/// The strips a rectangle gives, longest first; strips shorter than `shortest` are left out.
///
/// In the rectangle [0, W] x [0, L] the cut lines are x - y = t, a strip's
/// width times the square root of 2 apart (rounded up). Along the line t the
/// cloth reaches over min(W, L + t) - max(0, t) across. A strip is counted as
/// long as the shorter of its two edges. Its ends stay on the grain; where they
/// lean towards each other every second strip is turned end for end, and the
/// slope is a bonus. Only the middle strip of an all but square rectangle has
/// a corner at both ends: joined there it loses a strip's width, which the
/// slopes of its neighbours make good.
pub fn bias_strips(width: Length, length: Length, strip: Length, shortest: Length, start: Start) -> Vec<BiasStrip> {
    let mut strips: BTreeMap<Length, i64> = BTreeMap::new();
    for (_, long) in lines(width, length, strip, shortest, start) {
        *strips.entry(long).or_default() += 1;
    }
    strips
        .into_iter()
        .rev()
        .map(|(length, count)| BiasStrip { length, count })
        .collect()
}

/// How far apart the cut lines are along an edge of the rectangle.
pub(super) fn spacing(strip: Length) -> Length {
    strip.times_irrational_up(SQRT_2)
}

/// The strips one after the other, from the lower left corner of the rectangle
/// to the upper right: the line each begins at (x - y) and its length.
pub(super) fn lines(
    width: Length,
    length: Length,
    strip: Length,
    shortest: Length,
    start: Start,
) -> impl Iterator<Item = (Length, Length)> {
    let (w, l) = (width.units(), length.units());
    let spacing = spacing(strip).units();
    // A strip that a join would eat up whole is no strip.
    let shortest = shortest.max(bias_join_loss() * 2);
    let first = match start {
        Start::Corner => 0,
        Start::Middle => (w - l).div_euclid(2) - spacing / 2,
    };
    let reach = move |t: i64| (w.min(l.saturating_add(t)) - t.max(0)).max(0);
    let sound = w > 0 && l > 0 && spacing > 0;
    // The lowest line at or above -L in step with the first.
    let lowest = sound.then(|| first - (first.saturating_add(l)).div_euclid(spacing) * spacing);
    let all = std::iter::successors(lowest, move |t| t.checked_add(spacing));
    all.take_while(move |t| t.saturating_add(spacing) <= w)
        .map(move |t| {
            let across = reach(t).min(reach(t + spacing));
            let long = Length::from_units(across).times_irrational_down(SQRT_2);
            (Length::from_units(t), long)
        })
        .filter(move |(_, long)| *long >= shortest)
}

/// Length of the strips sewn end to end.
pub fn bias_total(strips: &[BiasStrip]) -> Length {
    let count: i64 = strips.iter().map(|s| s.count).sum();
    let long: Length = strips.iter().map(|s| s.length * s.count).sum();
    long - bias_join_loss() * (count - 1).max(0)
}

pub(super) fn cut(plan: &Plan, total: Length, strip: Length, width: Length) -> Result<Cut, String> {
    let unit = plan.unit;
    let shortest = plan.allowances.binding_shortest_strip;
    let made = |length: Length, start| bias_total(&bias_strips(width, length, strip, shortest, start));
    let step = coarse_mark(unit);
    // From the corner, a longer rectangle never gives less, so the least can be searched for.
    let floor = total.scale_down(strip.units(), width.units());
    let most = Length::from_units(i64::MAX / 8);
    let longest = width.times_irrational_down(SQRT_2);
    if longest < shortest.max(bias_join_loss() * 2) {
        return Err(format!(
            "Bias strips across {} are at most {} long, shorter than the shortest strip of {}. Choose a wider cloth.",
            width.both(unit, Round::Down),
            longest.both(unit, Round::Down),
            shortest.both(unit, Round::Nearest)
        ));
    }
    let mut length = least(step, floor, most, |l| made(l, Start::Corner) >= total)
        .ok_or_else(|| "This binding takes more cloth than can be planned. Choose a wider cloth.".to_string())?;
    let mut start = Start::Corner;
    // A little shorter may do with the strips about the middle.
    let mut shorter = floor.max(length - strip * 2).ceil_to(step).max(step);
    while shorter < length {
        if made(shorter, Start::Middle) >= total {
            (length, start) = (shorter, Start::Middle);
            break;
        }
        shorter += step;
    }
    let strips = bias_strips(width, length, strip, shortest, start);
    let made = bias_total(&strips);
    let count: i64 = strips.iter().map(|s| s.count).sum();
    let longest = strips.first().map_or(Length::ZERO, |s| s.length);
    let working = vec![
        format!(
            "Bias strips from a rectangle {} across and {} along, each {} wide, measured square to the cut (about {} apart along its edge).",
            width.both(unit, Round::Down),
            length.both(unit, Round::Up),
            strip.cut(unit),
            strip.times_irrational_up(SQRT_2).both(unit, Round::Up)
        ),
        match start {
            Start::Corner => "Cut the first line at 45 degrees from a corner.".to_string(),
            Start::Middle => "Lay the middle strip evenly about the middle of the rectangle.".to_string(),
        },
        format!(
            "{count} {} of {} or more, the longest {}; {} joins take {} each: {} in all.",
            if count == 1 { "strip" } else { "strips" },
            shortest.both(unit, Round::Nearest),
            longest.both(unit, Round::Down),
            count - 1,
            bias_join_loss().both(unit, Round::Nearest),
            made.both(unit, Round::Down)
        ),
    ];
    Ok(Cut {
        strips,
        joins: count - 1,
        made,
        rectangle: Size { width, height: length },
        drawn: drawn(width, length, strip, shortest, start),
        working,
        cautions: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Area, INCH};

    #[test]
    fn strips_stay_under_the_area_of_the_rectangle() {
        for (w, l, strip) in [(42, 18, 2), (31, 20, 3), (12, 40, 2), (7, 7, 2)] {
            for start in [Start::Corner, Start::Middle] {
                let strips = bias_strips(INCH * w, INCH * l, INCH * strip, INCH, start);
                let long: Length = strips.iter().map(|s| s.length * s.count).sum();
                let most = Area::of(INCH * w, INCH * l).length_at(INCH * strip);
                assert!(long <= most, "{w} x {l}: {long:?} of {most:?}");
                assert!(long * 2 > most || w < 10, "{w} x {l}: {long:?} of {most:?}");
            }
        }
    }

    #[test]
    fn a_longer_rectangle_never_gives_less_from_the_corner() {
        let strip = Length::inches_frac(5, 2);
        let made = |eighths: i64| {
            let length = Length::inches_frac(eighths, 8);
            bias_total(&bias_strips(INCH * 42, length, strip, INCH * 8, Start::Corner))
        };
        for eighths in 1..800 {
            assert!(made(eighths) <= made(eighths + 1), "{eighths}");
        }
    }
}
