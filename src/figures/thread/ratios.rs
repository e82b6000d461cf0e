//! How much thread a length of seam takes, by stitch: printed ratios, the
//! formulas for thick layers, and the arithmetic of samples, waste and spools.

use crate::measure::{Length, Percent, YARD};
use crate::plan::Stitch;
use serde::{Serialize, Serializer};
use std::fmt;

/// Thread for a length of seam: thousandths, all threads of the stitch together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ratio(i64);

impl Ratio {
    pub const fn thousandths(n: i64) -> Ratio {
        Ratio(n)
    }

    pub const fn as_thousandths(self) -> i64 {
        self.0
    }

    /// What a seam of this length takes, rounded up to 1/640 mm.
    pub fn of(self, seam: Length) -> Length {
        seam.scale_up(self.0, 1000)
    }
}

/// To a hundredth, never less than it is: `2.5`, `3.61`.
impl fmt::Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundredths = self.0.saturating_add(9).div_euclid(10);
        let (whole, part) = (hundredths / 100, hundredths % 100);
        match part {
            0 => write!(f, "{whole}"),
            p if p % 10 == 0 => write!(f, "{whole}.{}", p / 10),
            p => write!(f, "{whole}.{p:02}"),
        }
    }
}

impl Serialize for Ratio {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

const COATS: &str = "Coats Standard Stitch Type Classification, scribd.com/document/49933681";
const CARR: &str =
    "Carr & Latham, Technology of Clothing Manufacture, and Coats India, quoted at scribd.com/document/194966618";
const PRACTICE: &str = "common practice, tails of each needleful counted in";

/// The ratios printed for a stitch, each with its source.
pub fn printed(stitch: Stitch) -> &'static [(Ratio, &'static str)] {
    match stitch {
        Stitch::S101 => &[(Ratio(5_000), COATS), (Ratio(4_000), CARR)],
        Stitch::S103 => &[(Ratio(4_500), COATS)],
        Stitch::S301 => &[(Ratio(2_500), COATS), (Ratio(2_500), CARR)],
        Stitch::S304 => &[(Ratio(5_500), COATS), (Ratio(7_000), CARR)],
        Stitch::S401 => &[(Ratio(5_500), CARR)],
        Stitch::S406 => &[(Ratio(18_000), CARR)],
        Stitch::S503 => &[(Ratio(12_000), CARR)],
        Stitch::S504 => &[(Ratio(14_000), CARR)],
        Stitch::S512 => &[(Ratio(18_000), CARR)],
        Stitch::S516 => &[(Ratio(20_000), CARR)],
        Stitch::S602 => &[(Ratio(25_000), CARR)],
        Stitch::S605 => &[(Ratio(28_000), CARR)],
        Stitch::S606 => &[(Ratio(32_000), CARR)],
        Stitch::Hand => &[(Ratio(3_000), PRACTICE)],
    }
}

/// The largest printed ratio of a stitch: where sources disagree, thread must
/// not run short.
pub fn ratio(stitch: Stitch) -> (Ratio, &'static str) {
    printed(stitch)
        .iter()
        .copied()
        .max_by_key(|(ratio, _)| *ratio)
        .unwrap_or((Ratio(3_000), PRACTICE))
}

pub const UNION_SPECIAL: &str =
    "Union Special formulas, textilecalculation.blogspot.com/2015/06/how-to-calculate-amount-of-sewing.html";

/// The formula for a seam of some thickness: `stitches` in the length `per`,
/// `width` of an overedge. Rounded up to a thousandth. `None` where no formula
/// is printed, or nothing is stitched.
pub fn by_formula(stitch: Stitch, stitches: i64, per: Length, thickness: Length, width: Length) -> Option<Ratio> {
    if !per.is_positive() || stitches < 0 || thickness.is_negative() || width.is_negative() {
        return None;
    }
    // T × S and W × S have no unit: thousandths of them.
    let times = |length: Length, n: i64| {
        (length * n)
            .scale_up(stitches.min(1_000_000), 1)
            .scale_up(1000, per.units())
            .units()
    };
    let (fixed, more) = match stitch {
        Stitch::S101 => (3, times(thickness, 2)),
        Stitch::S301 => (2, times(thickness, 2)),
        Stitch::S401 => (4, times(thickness, 2)),
        Stitch::S504 => (3, times(width, 4).saturating_add(times(thickness, 4))),
        _ => return None,
    };
    Some(Ratio(more.saturating_add(fixed * 1000)))
}

/// Threads a stitch is sewn with, each from a spool or bobbin of its own.
pub const fn threads(stitch: Stitch) -> i64 {
    match stitch {
        Stitch::Hand | Stitch::S101 | Stitch::S103 => 1,
        Stitch::S301 | Stitch::S304 | Stitch::S401 | Stitch::S503 => 2,
        Stitch::S406 | Stitch::S504 => 3,
        Stitch::S512 | Stitch::S602 => 4,
        Stitch::S516 | Stitch::S605 => 5,
        Stitch::S606 => 9,
    }
}

/// What a seam takes, by a stretch of it whose thread was pulled out and
/// measured: `pulled` from `over`. Rounded up.
pub fn by_sample(seam: Length, pulled: Length, over: Length) -> Option<Length> {
    over.is_positive().then(|| seam.scale_up(pulled.units(), over.units()))
}

pub fn with_waste(thread: Length, waste: Percent) -> Length {
    thread.scale_up(waste.as_hundredths().saturating_add(10_000), 10_000)
}

/// Whole spools, never short.
pub fn spools(thread: Length, spool: Length) -> Option<i64> {
    spool.is_positive().then(|| {
        if thread.is_positive() {
            thread.times_needed(spool)
        } else {
            0
        }
    })
}

/// Stitches in `per`, in hundredths, to the nearest: 2.5 mm are 10.16 an inch.
pub fn stitches_in(per: Length, stitch: Length) -> Option<i64> {
    stitch
        .is_positive()
        .then(|| (per * 200 + stitch).scale_down(1, 2 * stitch.units()).units())
}

/// Top thread of machine quilting by the size of the quilt, in yards: light,
/// medium and heavy. For comparison only: the bobbin takes as much again.
pub const MACHINE_QUILTING: [(&str, [i64; 3]); 4] = [
    ("crib", [200, 400, 600]),
    ("twin", [400, 800, 1200]),
    ("queen", [600, 1100, 1600]),
    ("king", [700, 1300, 2000]),
];
pub const MACHINE_QUILTING_SOURCE: &str =
    "Superior Threads newsletter, April-May 2006, superiorthreads.com/newsletters/400";

/// Top and bobbin thread of a machine-quilted quilt of that size, by the table.
pub fn machine_quilting(size: &str, density: usize) -> Option<Length> {
    let (_, yards) = MACHINE_QUILTING.iter().find(|(name, _)| *name == size)?;
    yards.get(density).map(|yards| YARD * (yards * 2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{INCH, METRE, MM};

    #[test]
    fn thick_layers_take_more() {
        let thin = by_formula(Stitch::S301, 1, MM * 2, MM, Length::ZERO).unwrap();
        let thick = by_formula(Stitch::S301, 1, MM * 2, MM * 4, Length::ZERO).unwrap();
        assert_eq!((thin, thick), (Ratio(3_000), Ratio(6_000)));
        assert_eq!(by_formula(Stitch::Hand, 1, MM, MM, MM), None);
        assert_eq!(by_formula(Stitch::S301, 1, Length::ZERO, MM, MM), None);
        let huge = Length::from_units(i64::MAX);
        assert!(by_formula(Stitch::S504, i64::MAX, Length::from_units(1), huge, huge).is_some());
    }

    #[test]
    fn a_ratio_is_printed_up() {
        assert_eq!(Ratio(2_500).to_string(), "2.5");
        assert_eq!(Ratio(3_601).to_string(), "3.61");
        assert_eq!(Ratio(14_000).to_string(), "14");
        assert_eq!(Ratio(2_500).of(INCH), INCH.scale_up(5, 2));
    }

    #[test]
    fn spools_are_never_short() {
        assert_eq!(spools(METRE * 100, METRE * 100), Some(1));
        assert_eq!(spools(METRE * 100 + MM, METRE * 100), Some(2));
        assert_eq!(spools(Length::ZERO, METRE), Some(0));
        assert_eq!(spools(METRE, Length::ZERO), None);
    }
}
