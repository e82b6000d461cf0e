//! Lengths and sizes as the working of a panel writes them.

use crate::figures::{Shown, Size};
use crate::measure::{Length, MM, Percent, Round, SIXTEENTH, Unit};

pub(super) struct Writer {
    pub unit: Unit,
    pub shown: Shown,
}

impl Writer {
    pub fn one(&self, length: Length, round: Round) -> String {
        match self.unit {
            Unit::Inch => length.inches(round),
            Unit::Cm => length.cm(round),
        }
    }
    pub fn size(&self, size: Size, round: Round) -> String {
        format!(
            "{} wide, {} high",
            size.width.both(self.unit, round),
            size.height.both(self.unit, round)
        )
    }
    pub fn line(&mut self, text: String) {
        self.shown.working.push(text);
    }
}

/// A quotient to two places, rounded up: 6.01 rather than 6.00 where the sixth
/// unit does not quite reach.
pub(super) fn quotient(length: Length, by: Length) -> String {
    let by = i128::from(by.units().max(1));
    let hundredths = (i128::from(length.units()) * 100 + by - 1) / by;
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

/// A seam as it is sewn. Rounded to the marks of a ruler, 1/4 in would be 0.6 cm
/// and the sum beside it wrong: what is not on a mark is printed in millimetres.
pub(super) fn seam_text(seam: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch if seam.units() % SIXTEENTH.units() == 0 => seam.sixteenths(Round::Nearest),
        Unit::Cm if seam.units() % MM.units() == 0 => seam.cm(Round::Nearest),
        _ => {
            let text = format!("{:.2}", seam.as_mm_f64());
            format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
        }
    }
}

/// 2.5 % as 0.025.
pub(super) fn decimal(percent: Percent) -> String {
    let text = format!("{:.4}", percent.as_hundredths() as f64 / 10_000.0);
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seam_is_printed_as_it_is_sewn() {
        for (seam, unit, text) in [
            ("1/4 in", Unit::Inch, "1/4 in"),
            ("3/16 in", Unit::Inch, "3/16 in"),
            ("7 mm", Unit::Inch, "7 mm"),
            ("1/4 in", Unit::Cm, "6.35 mm"),
            ("7 mm", Unit::Cm, "0.7 cm"),
        ] {
            assert_eq!(seam_text(Length::parse(seam, Unit::Inch).unwrap(), unit), text);
        }
    }

    #[test]
    fn a_count_that_is_just_missed_does_not_look_whole() {
        assert_eq!(
            quotient(
                Length::whole_inches(24) + Length::from_units(1),
                Length::whole_inches(4)
            ),
            "6.01"
        );
        assert_eq!(quotient(Length::whole_inches(24), Length::whole_inches(4)), "6.00");
        assert_eq!(quotient(Length::inches_frac(49, 2), Length::whole_inches(4)), "6.13");
    }
}
