//! Writing lengths: inch fractions and centimetres side by side, and one exact
//! text for files.

use super::{CM, EIGHTH, INCH, Length, MM, SIXTEENTH, YARD};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// The unit a bare number takes, and the one shown first.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize, Hash)]
pub enum Unit {
    #[default]
    #[serde(rename = "in")]
    Inch,
    #[serde(rename = "cm")]
    Cm,
}

impl Unit {
    pub const fn length(self) -> Length {
        match self {
            Unit::Inch => INCH,
            Unit::Cm => CM,
        }
    }
    pub const fn name(self) -> &'static str {
        match self {
            Unit::Inch => "in",
            Unit::Cm => "cm",
        }
    }
}

/// Which way a printed length may differ from the exact one. What is cut or
/// bought is printed `Up`; what a cut yields `Down`; a measure `Nearest`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Round {
    Nearest,
    Up,
    Down,
}

impl Length {
    fn rounded(self, step: Length, round: Round) -> Length {
        match round {
            Round::Nearest => self.round_to(step),
            Round::Up => self.ceil_to(step),
            Round::Down => self.floor_to(step),
        }
    }

    /// Inches in fractions down to 1/8: `10 1/2 in`.
    pub fn inches(self, round: Round) -> String {
        self.inches_by(EIGHTH, round)
    }

    /// Inches in fractions down to 1/16.
    pub fn sixteenths(self, round: Round) -> String {
        self.inches_by(SIXTEENTH, round)
    }

    fn inches_by(self, step: Length, round: Round) -> String {
        format!("{} in", fraction(self.rounded(step, round), INCH))
    }

    /// Centimetres to 0.1: `26.7 cm`.
    pub fn cm(self, round: Round) -> String {
        let tenths = self.rounded(MM, round).units() / MM.units();
        let sign = if tenths < 0 { "-" } else { "" };
        format!("{sign}{}.{} cm", tenths.abs() / 10, tenths.abs() % 10)
    }

    /// Yards in eighths, for cloth: `1 3/8 yd`.
    pub fn yards(self, round: Round) -> String {
        format!("{} yd", fraction(self.rounded(YARD_EIGHTH, round), YARD))
    }

    /// Metres to 0.01: `1.26 m`.
    pub fn metres(self, round: Round) -> String {
        let cms = self.rounded(CM, round).units() / CM.units();
        let sign = if cms < 0 { "-" } else { "" };
        format!("{sign}{}.{:02} m", cms.abs() / 100, cms.abs() % 100)
    }

    /// Both systems, the notebook's own first: `10 1/2 in (26.7 cm)`.
    pub fn both(self, lead: Unit, round: Round) -> String {
        match lead {
            Unit::Inch => format!("{} ({})", self.inches(round), self.cm(round)),
            Unit::Cm => format!("{} ({})", self.cm(round), self.inches(round)),
        }
    }

    /// As [`Length::both`], inches to 1/16: for marks that are measured off.
    pub fn both_sixteenths(self, lead: Unit, round: Round) -> String {
        match lead {
            Unit::Inch => format!("{} ({})", self.sixteenths(round), self.cm(round)),
            Unit::Cm => format!("{} ({})", self.cm(round), self.sixteenths(round)),
        }
    }

    /// What is cut, in both systems, never smaller than it is: as
    /// [`Length::both`] rounded up, but a length that stands exactly on a
    /// sixteenth is printed in sixteenths.
    pub fn cut(self, lead: Unit) -> String {
        let inches = if self.units() % SIXTEENTH.units() == 0 {
            self.sixteenths(Round::Up)
        } else {
            self.inches(Round::Up)
        };
        match lead {
            Unit::Inch => format!("{inches} ({})", self.cm(Round::Up)),
            Unit::Cm => format!("{} ({inches})", self.cm(Round::Up)),
        }
    }

    /// As [`Length::cut`], in the notebook's own unit alone.
    pub fn cut_one(self, lead: Unit) -> String {
        match lead {
            Unit::Inch if self.units() % SIXTEENTH.units() == 0 => self.sixteenths(Round::Up),
            Unit::Inch => self.inches(Round::Up),
            Unit::Cm => self.cm(Round::Up),
        }
    }

    /// As [`Length::both`], for cloth by the yard or metre: `1 3/8 yd (1.26 m)`.
    pub fn both_cloth(self, lead: Unit, round: Round) -> String {
        match lead {
            Unit::Inch => format!("{} ({})", self.yards(round), self.metres(round)),
            Unit::Cm => format!("{} ({})", self.metres(round), self.yards(round)),
        }
    }

    /// The one exact text of this length, which reads back to the same value:
    /// inch fractions where they are exact, else millimetres, else a count of
    /// 1/640 mm as a fraction.
    pub fn exact(self) -> String {
        const FINEST: i64 = INCH.units() / 128;
        let units = self.units();
        let sign = if units < 0 { "-" } else { "" };
        let abs = units.unsigned_abs();
        let size = Length::from_units(i64::try_from(abs).unwrap_or(i64::MAX));
        if size.units() % FINEST == 0 {
            format!("{sign}{} in", fraction(size, INCH))
        } else if size.units() % 64 == 0 {
            let tenths = size.units() / 64;
            match tenths % 10 {
                0 => format!("{sign}{} mm", tenths / 10),
                t => format!("{sign}{}.{t} mm", tenths / 10),
            }
        } else {
            let (whole, part) = (size.units() / 640, size.units() % 640);
            match whole {
                0 => format!("{sign}{part}/640 mm"),
                _ => format!("{sign}{whole} {part}/640 mm"),
            }
        }
    }
}

const YARD_EIGHTH: Length = Length::from_units(YARD.units() / 8);

/// `length` as a mixed number of `unit` in lowest terms. The length must be a
/// multiple of unit/128 (every caller rounds first).
fn fraction(length: Length, unit: Length) -> String {
    let sign = if length.is_negative() { "-" } else { "" };
    let abs = length.abs().units();
    let (whole, part) = (abs / unit.units(), abs % unit.units());
    if part == 0 {
        return format!("{sign}{whole}");
    }
    let common = gcd(part, unit.units());
    let (num, den) = (part / common, unit.units() / common);
    match whole {
        0 => format!("{sign}{num}/{den}"),
        _ => format!("{sign}{whole} {num}/{den}"),
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.exact())
    }
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.exact())
    }
}

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

/// In files a length always names its unit: a bare number would mean
/// something else in another notebook.
impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Length, D::Error> {
        let text = std::borrow::Cow::<str>::deserialize(from)?;
        if !text.chars().any(|c| c.is_alphabetic() || "'\"′″".contains(c)) {
            return Err(serde::de::Error::custom(format!(
                "“{text}” names no unit; write it like \"10 1/2 in\" or \"27 cm\""
            )));
        }
        Length::parse_signed(&text, Unit::Inch).map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prints_both_systems() {
        let x = Length::inches_frac(21, 2);
        assert_eq!(x.both(Unit::Inch, Round::Up), "10 1/2 in (26.7 cm)");
        assert_eq!(x.both(Unit::Cm, Round::Nearest), "26.7 cm (10 1/2 in)");
        assert_eq!(
            (YARD * 11).scale_up(1, 8).both_cloth(Unit::Inch, Round::Up),
            "1 3/8 yd (1.26 m)"
        );
        assert_eq!(Length::inches_frac(1, 3).inches(Round::Up), "3/8 in");
        assert_eq!(Length::inches_frac(1, 3).inches(Round::Down), "1/4 in");
        assert_eq!((-INCH).inches(Round::Nearest), "-1 in");
        assert_eq!((-MM).cm(Round::Nearest), "-0.1 cm");
        assert_eq!(Length::inches_frac(57, 16).cut(Unit::Inch), "3 9/16 in (9.1 cm)");
        assert_eq!(Length::inches_frac(1, 3).cut(Unit::Cm), "0.9 cm (3/8 in)");
        assert_eq!(Length::ZERO.both(Unit::Inch, Round::Up), "0 in (0.0 cm)");
    }

    #[test]
    fn exact_texts_read_back() {
        for units in [
            0,
            1,
            63,
            64,
            127,
            128,
            635,
            640,
            16_256,
            20_320,
            -16_256,
            -1,
            128_000_000,
            5_419,
            999_937,
        ] {
            let x = Length::from_units(units);
            let text = x.exact();
            assert_eq!(Length::parse_signed(&text, Unit::Cm), Ok(x), "{text}");
            let json = serde_json::to_string(&x).unwrap();
            assert_eq!(serde_json::from_str::<Length>(&json).unwrap(), x);
        }
        assert!(serde_json::from_str::<Length>("\"5\"").is_err());
    }
}
