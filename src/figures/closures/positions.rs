//! Where closures sit between a fixed first and a fixed last one.

use crate::measure::Length;

/// Centres from the upper end of the line, first to last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Positions {
    pub centres: Vec<Length>,
    /// From each to the next.
    pub gaps: Vec<Length>,
}

impl Positions {
    pub fn widest(&self) -> Length {
        self.gaps.iter().copied().max().unwrap_or_default()
    }

    /// Between the widest gap and the narrowest: nothing where all are even.
    /// One step of 1/640 mm is rounding and counts as even.
    pub fn unevenness(&self) -> Length {
        let least = self.gaps.iter().copied().min().unwrap_or_default();
        let apart = self.widest() - least;
        if apart.units() <= 1 { Length::ZERO } else { apart }
    }
}

/// `above` even gaps from `first` to `mark`, then `below` even ones to `last`.
/// Each centre is rounded once, down to 1/640 mm, so that errors do not add up
/// and no gap is longer than its share rounded up.
fn placed(first: Length, mark: Length, last: Length, above: i64, below: i64) -> Positions {
    let mut centres = vec![first];
    for (from, to, parts) in [(first, mark, above), (mark, last, below)] {
        centres.extend((1..=parts).map(|n| from + (to - from).scale_down(n, parts)));
    }
    let gaps = centres.windows(2).map(|two| two[1] - two[0]).collect();
    Positions { centres, gaps }
}

/// How many closures the spacing limit takes at least: no gap exceeds it.
/// `mark` must carry one where it lies between first and last.
pub fn least_count(first: Length, last: Length, spacing: Length, mark: Option<Length>) -> i64 {
    let gaps = |span: Length| {
        if span.is_positive() {
            span.times_needed(spacing)
        } else {
            0
        }
    };
    match between(first, last, mark) {
        Some(mark) => 1i64
            .saturating_add(gaps(mark - first))
            .saturating_add(gaps(last - mark)),
        None => 1i64.saturating_add(gaps(last - first)),
    }
}

/// The fewest closures with no gap over `spacing`.
pub fn by_spacing(first: Length, last: Length, spacing: Length, mark: Option<Length>) -> Positions {
    match between(first, last, mark) {
        Some(mark) => placed(
            first,
            mark,
            last,
            (mark - first).times_needed(spacing),
            (last - mark).times_needed(spacing),
        ),
        None if last > first => placed(first, last, last, (last - first).times_needed(spacing), 0),
        None => placed(first, first, first, 0, 0),
    }
}

/// Exactly `count` closures. With a mark between first and last, as many gaps
/// above and below it as make the widest gap least, and of those the most even.
/// One alone sits at the mark, else at `first`; two leave the mark out.
pub fn by_count(first: Length, last: Length, count: i64, mark: Option<Length>) -> Positions {
    let mark = between(first, last, mark);
    if count <= 1 || last <= first {
        let at = mark.unwrap_or(first);
        return placed(at, at, at, 0, 0);
    }
    match mark.filter(|_| count > 2) {
        Some(mark) => (1..count - 1)
            .map(|above| placed(first, mark, last, above, count - 1 - above))
            .min_by_key(|p| (p.widest(), p.unevenness()))
            .unwrap_or_else(|| placed(first, last, last, count - 1, 0)),
        None => placed(first, last, last, count - 1, 0),
    }
}

/// A mark at an end is carried by the closure there and divides nothing.
fn between(first: Length, last: Length, mark: Option<Length>) -> Option<Length> {
    mark.filter(|m| first < *m && *m < last)
}

/// The most even arrangement with at most `more` closures beyond the fewest:
/// `None` where the fewest are as even as any.
pub fn more_even(first: Length, last: Length, spacing: Length, mark: Option<Length>, more: i64) -> Option<Positions> {
    let fewest = by_spacing(first, last, spacing, mark);
    let count = fewest.centres.len() as i64;
    (count + 1..=count + more)
        .map(|n| by_count(first, last, n, mark))
        .filter(|p| p.widest() <= spacing && p.unevenness() < fewest.unevenness())
        .min_by_key(|p| (p.unevenness(), p.centres.len()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{EIGHTH, INCH};

    #[test]
    fn the_fewest_within_the_limit() {
        // 21 in at no more than 3 1/2: six gaps of 3 1/2, seven closures.
        let p = by_spacing(INCH, INCH * 22, EIGHTH * 28, None);
        assert_eq!(p.centres.len(), 7);
        assert_eq!(p.gaps, [EIGHTH * 28; 6]);
        // A hair less allowed takes one more.
        let less = EIGHTH * 28 - Length::from_units(1);
        assert_eq!(by_spacing(INCH, INCH * 22, less, None).centres.len(), 8);
        assert_eq!(least_count(INCH, INCH * 22, less, None), 8);
    }

    #[test]
    fn the_mark_carries_one() {
        // 7 in above the mark and 14 below: even at 3 1/2.
        let mark = Some(INCH * 8);
        let p = by_spacing(INCH, INCH * 22, EIGHTH * 28, mark);
        assert_eq!(p.unevenness(), Length::ZERO);
        assert!(p.centres.contains(&(INCH * 8)));
        // 8 in above: three gaps of 2 2/3 against four of 3 1/4.
        let p = by_spacing(INCH, INCH * 22, EIGHTH * 28, Some(INCH * 9));
        assert_eq!(p.centres.len(), 8);
        assert!(p.centres.contains(&(INCH * 9)));
        assert!(p.unevenness().is_positive());
        // One more: 2 2/3 against 2 3/5, nearly even.
        let even = more_even(INCH, INCH * 22, EIGHTH * 28, Some(INCH * 9), 2).unwrap();
        assert_eq!(even.centres.len(), 9);
        assert!(even.centres.contains(&(INCH * 9)));
    }

    #[test]
    fn a_given_count_is_kept() {
        let p = by_count(INCH, INCH * 22, 8, Some(INCH * 9));
        assert_eq!(p.centres.len(), 8);
        assert!(p.centres.contains(&(INCH * 9)));
        assert_eq!(by_count(INCH, INCH * 22, 1, Some(INCH * 9)).centres, [INCH * 9]);
        assert_eq!(by_count(INCH, INCH, 3, None).centres, [INCH]);
        let ends = by_count(INCH, INCH * 22, 2, Some(INCH * 9));
        assert_eq!(ends.centres, [INCH, INCH * 22]);
    }
}
