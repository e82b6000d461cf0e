//! What quilting takes up, from how close its lines are.
//!
//! Measured, not derived: small samples of three densities, and five quilts
//! before and after. A panel is counted on to lose as much as the sample of its
//! density, and never less than the quilts did on average, each by the side it
//! lost most of.

use super::quilting::LineWay;
use crate::measure::{INCH, Length, Percent, Round, Unit};
use crate::plan::{Piece, TakeUpFrom};

/// A panel measured before and after it was quilted, in 1/8 in.
#[derive(Clone, Copy, Debug)]
pub struct Measured {
    pub before: (i64, i64),
    pub after: (i64, i64),
}

impl Measured {
    /// The loss of the side that lost more, up to 0.01 %.
    pub fn loss(self) -> Percent {
        percent_up(self.millionths(), 1)
    }

    fn millionths(self) -> i64 {
        let side = |before: i64, after: i64| -(-((before - after) * 1_000_000)).div_euclid(before.max(1));
        side(self.before.0, self.after.0).max(side(self.before.1, self.after.1))
    }
}

/// A part of so many millionths, each, up to 0.01 %.
fn percent_up(millionths: i64, parts: i64) -> Percent {
    Percent::hundredths(-(-millionths).div_euclid(parts * 100))
}

/// Samples 9 x 20 in quilted in a grid, by the spacing of their lines in 1/8 in.
pub const SAMPLES: [(i64, Measured); 3] = [(32, sample(72, 159)), (16, sample(71, 158)), (12, sample(70, 156))];
pub const SAMPLES_SOURCE: &str = "samples quilted in a grid, unwashed (Anything But Boring 2020, \
     anythingbutboring.com/2020/01/how-to-make-a-quilt-finish-at-a-certain-size/)";

/// Five quilts, unwashed.
pub const QUILTS: [Measured; 5] = [
    quilt((456, 496), (448, 490)),
    quilt((664, 840), (640, 816)),
    quilt((456, 544), (444, 532)),
    quilt((534, 677), (518, 662)),
    quilt((552, 552), (538, 538)),
];
pub const QUILTS_SOURCE: &str =
    "five quilts measured before and after (Along Came Quilting, alongcamequilting.com/blogs/blog/quilting-shrinkage)";

const fn sample(width: i64, height: i64) -> Measured {
    quilt((72, 160), (width, height))
}

const fn quilt(before: (i64, i64), after: (i64, i64)) -> Measured {
    Measured { before, after }
}

/// What quilting takes up of a piece, in width and height alike. It counts
/// only where the piece has layers.
pub fn take_up(piece: &Piece) -> Percent {
    match (piece.take_up_from, closest(piece)) {
        (TakeUpFrom::Spacing, Some(spacing)) => by_spacing(spacing),
        // Without lines there is nothing to go by: the checks say so.
        (TakeUpFrom::Spacing, None) | (TakeUpFrom::Typed, _) => piece.take_up,
    }
}

/// The closest lines of a piece, by any of the ways they run.
pub fn closest(piece: &Piece) -> Option<Length> {
    let quilting = piece.layers.as_ref()?.quilting.as_ref()?;
    let spacings = LineWay::ALL.into_iter().filter_map(|way| way.spacing(quilting));
    spacings.filter(|s| s.is_positive()).min()
}

/// The loss to count on for lines this far apart: of the sample of this
/// density or the next closer one, at least what quilts lost on average.
pub fn by_spacing(spacing: Length) -> Percent {
    of_samples(spacing).max(average())
}

/// What five quilts lost on average, each by its worse side.
pub fn average() -> Percent {
    percent_up(QUILTS.iter().map(|q| q.millionths()).sum(), QUILTS.len() as i64)
}

fn at(sample: (i64, Measured)) -> Length {
    INCH.scale_up(sample.0, 8)
}

/// By the samples alone. Closer than the closest of them the loss goes on
/// growing as it did between the last two.
fn of_samples(spacing: Length) -> Percent {
    // The widest sample that is not wider than these lines.
    if let Some(sample) = SAMPLES.iter().find(|s| at(**s) <= spacing) {
        return sample.1.loss();
    }
    let [.., (wide, less), (close, more)] = SAMPLES;
    let slope = more.loss().as_hundredths() - less.loss().as_hundredths();
    let by = (INCH.scale_up(close, 8) - spacing).units();
    let over = INCH.scale_up(wide - close, 8).units();
    Percent::hundredths(more.loss().as_hundredths() - (-(slope * by)).div_euclid(over))
}

fn is_beyond_samples(spacing: Length) -> bool {
    SAMPLES.iter().all(|s| spacing < at(*s))
}

/// Where the take-up of a piece comes from, as one line of its working.
pub(super) fn working(piece: &Piece, unit: Unit) -> Option<String> {
    let spacing = closest(piece).filter(|_| piece.take_up_from == TakeUpFrom::Spacing)?;
    let apart = match unit {
        Unit::Inch => spacing.inches(Round::Nearest),
        Unit::Cm => spacing.cm(Round::Nearest),
    };
    let (by_samples, average) = (of_samples(spacing), average());
    let sample = if is_beyond_samples(spacing) {
        let [.., closest] = SAMPLES;
        format!(
            "closer than any sample, so {by_samples}, beyond the {} of the closest ({} apart) by as much as the samples rise",
            closest.1.loss(),
            at(closest).both(unit, Round::Nearest)
        )
    } else {
        format!("the sample of that density or the next closer one lost {by_samples}")
    };
    Some(format!(
        "Take-up from the quilting, its closest lines {apart} apart: {sample}; quilts lost {average} on average. The larger counts: {}.",
        by_samples.max(average)
    ))
}

pub(super) fn caution(piece: &Piece) -> Option<String> {
    let spacing = closest(piece).filter(|_| piece.take_up_from == TakeUpFrom::Spacing)?;
    is_beyond_samples(spacing).then(|| {
        "The lines are closer together than any that were measured. Quilt a square of the same layers first, and measure it before and after."
            .into()
    })
}

pub(super) fn source(piece: &Piece) -> String {
    match piece.take_up_from {
        TakeUpFrom::Typed => format!("set for this piece; {QUILTS_SOURCE} lost 1.2 to 3.6 %"),
        TakeUpFrom::Spacing => format!("from the closest quilting lines: {SAMPLES_SOURCE}; {QUILTS_SOURCE}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MM;

    #[test]
    fn closer_lines_never_take_up_less() {
        let mut last = Percent::whole(100);
        for mm in 1..400 {
            let now = by_spacing(MM * mm);
            assert!(now <= last && now < Percent::whole(10), "{mm} mm: {now}");
            last = now;
        }
        assert_eq!(last, average());
        assert!(by_spacing(Length::from_units(1)) < Percent::whole(10));
        assert!(by_spacing(Length::MAX) == average());
    }
}
