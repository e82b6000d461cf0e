//! A lay that was kept: where on its cloth every copy of some pieces lies.
//!
//! It says places only. What they come to is worked out, and every figure asks
//! anew whether the pieces as they are today still lie there.

use crate::measure::Length;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// How pieces may be turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LayTurns {
    /// Along the grain, either way up.
    #[default]
    BothWays,
    /// All tops the same way: one-way print or nap.
    OneWay,
    /// Along or across the grain.
    Across,
}

/// What the pieces are laid on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Hash)]
pub enum LayGround {
    /// One layer of the usable width.
    #[default]
    Single,
    /// Folded lengthwise, right sides together.
    Folded,
    /// All remnants of the cloth.
    Remnants,
    /// One kind of them: rectangles first, then those with an outline, from 0.
    Remnant(usize),
}

impl LayGround {
    /// As it stands in forms and plans.
    pub fn word(self) -> String {
        match self {
            LayGround::Single => "single".into(),
            LayGround::Folded => "folded".into(),
            LayGround::Remnants => "remnants".into(),
            LayGround::Remnant(n) => format!("remnant-{}", n.saturating_add(1)),
        }
    }

    /// On a length of the whole width.
    pub const fn is_bolt(self) -> bool {
        matches!(self, LayGround::Single | LayGround::Folded)
    }
}

impl FromStr for LayGround {
    type Err = String;

    fn from_str(text: &str) -> Result<LayGround, String> {
        let number = || text.strip_prefix("remnant-")?.parse::<usize>().ok()?.checked_sub(1);
        match text {
            "single" => Ok(LayGround::Single),
            "folded" => Ok(LayGround::Folded),
            "remnants" => Ok(LayGround::Remnants),
            _ => number().map(LayGround::Remnant).ok_or_else(|| {
                format!("“{text}” is nothing to lay on; it takes single, folded, remnants or remnant-1")
            }),
        }
    }
}

impl Serialize for LayGround {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&self.word())
    }
}

impl<'de> Deserialize<'de> for LayGround {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<LayGround, D::Error> {
        let text = std::borrow::Cow::<str>::deserialize(from)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

/// The one lay that is kept of a cloth.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptLay {
    /// Id of the cloth; also what tells this lay from others.
    pub cloth: String,
    /// Ids of the pieces that were to be laid, all their copies.
    pub pieces: Vec<String>,
    pub ground: LayGround,
    #[serde(default)]
    pub turns: LayTurns,
    /// Least distance between two cut lines.
    #[serde(default)]
    pub gap: Length,
    pub copies: Vec<LaidCopy>,
}

/// One copy where it lies. On doubled cloth it is cut from both layers.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LaidCopy {
    pub piece: String,
    /// Which copy of it, from 0.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub copy: u32,
    /// Quarter turns, from along the cloth towards across it, after it is mirrored.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub quarters: u32,
    /// With its other face up than it is drawn in the pattern.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub mirrored: bool,
    /// Of remnants: which kind, rectangles first, and which of that kind, from 0.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub remnant: u32,
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub nth: u32,
    /// Where the corner of the rectangle round it lies that is nearest to the
    /// left selvage (the fold, a remnant's first corner) and the begin of the cloth.
    pub at: LayPoint,
}

fn is_nothing(n: &u32) -> bool {
    *n == 0
}

/// A point of a lay, in ten-millionths of a millimetre: finer than [`Length`],
/// because pieces touch there by the search's own measure, and rounded to
/// 1/640 mm they would reach into each other. Every length is exact in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct LayPoint {
    pub across: i64,
    pub along: i64,
}

/// Steps in a millimetre.
const STEPS: i64 = 10_000_000;
/// 200 m and no more, as of every length.
const MOST: i64 = 200_000 * STEPS;

impl LayPoint {
    /// The nearest point to so many millimetres; `None` beyond every cloth.
    pub fn near(across: f64, along: f64) -> Option<LayPoint> {
        let step = |mm: f64| {
            let steps = (mm * STEPS as f64).round();
            (steps.abs() <= MOST as f64).then_some(steps as i64)
        };
        Some(LayPoint {
            across: step(across)?,
            along: step(along)?,
        })
    }

    /// Across and along, in millimetres.
    pub fn mm(self) -> (f64, f64) {
        (self.across as f64 / STEPS as f64, self.along as f64 / STEPS as f64)
    }
}

impl fmt::Display for LayPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", decimal(self.across), decimal(self.along))
    }
}

fn decimal(steps: i64) -> String {
    let sign = if steps < 0 { "-" } else { "" };
    let (steps, one) = (steps.unsigned_abs(), STEPS.unsigned_abs());
    let (whole, part) = (steps / one, steps % one);
    let text = format!("{sign}{whole}.{part:07}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

impl FromStr for LayPoint {
    type Err = String;

    fn from_str(text: &str) -> Result<LayPoint, String> {
        let mut numbers = text.split_whitespace();
        match (numbers.next(), numbers.next(), numbers.next()) {
            (Some(across), Some(along), None) => Ok(LayPoint {
                across: steps(across)?,
                along: steps(along)?,
            }),
            _ => Err(format!(
                "“{text}” is no place on a cloth; it takes two numbers of millimetres, across and along"
            )),
        }
    }
}

fn steps(number: &str) -> Result<i64, String> {
    let wrong = || format!("“{number}” is not a number of millimetres");
    let digits = number.strip_prefix('-').unwrap_or(number);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || !all_digits(whole) || !all_digits(part) {
        return Err(wrong());
    }
    if part.len() > 7 {
        return Err(format!("“{number}” has more than seven decimals"));
    }
    let whole: i64 = whole
        .parse()
        .ok()
        .filter(|mm| *mm <= MOST / STEPS)
        .ok_or_else(|| format!("{number} mm is more than 200 m; check the unit"))?;
    let part: i64 = format!("{part:0<7}").parse().map_err(|_| wrong())?;
    let steps = whole * STEPS + part;
    if steps > MOST {
        return Err(format!("{number} mm is more than 200 m; check the unit"));
    }
    Ok(if number.starts_with('-') { -steps } else { steps })
}

impl Serialize for LayPoint {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for LayPoint {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<LayPoint, D::Error> {
        let text = std::borrow::Cow::<str>::deserialize(from)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_written_exactly_and_read_back() {
        for (across, along) in [
            (0, 0),
            (1, -1),
            (15_625, 3_048_000_000),
            (MOST, -MOST),
            (10, 123_456_789),
        ] {
            let point = LayPoint { across, along };
            assert_eq!(point.to_string().parse::<LayPoint>(), Ok(point), "{point}");
        }
        // Every length is one of them: 1/640 mm is 0.0015625 mm.
        assert_eq!(
            "0.0015625 12".parse(),
            Ok(LayPoint {
                across: 15_625,
                along: 12 * STEPS
            })
        );
        assert_eq!(LayPoint::near(1.0 / 640.0, 12.0), "0.0015625 12".parse().ok());
        assert_eq!(LayPoint::near(f64::NAN, 0.0), None);
        assert_eq!(LayPoint::near(200_001.0, 0.0), None);
    }

    #[test]
    fn what_is_no_place_is_refused_with_a_reason() {
        for (text, part) in [
            ("", "two numbers"),
            ("1", "two numbers"),
            ("1 2 3", "two numbers"),
            ("1 x", "not a number"),
            ("1 -", "not a number"),
            ("1 .5", "not a number"),
            ("1 1e5", "not a number"),
            ("1 --1", "not a number"),
            ("1 0.12345678", "seven decimals"),
            ("1 200000.1", "200 m"),
            ("99999999999999999999 1", "200 m"),
        ] {
            let error = text.parse::<LayPoint>().expect_err(text);
            assert!(error.contains(part), "{text}: {error}");
        }
    }

    #[test]
    fn grounds_read_back() {
        for ground in [
            LayGround::Single,
            LayGround::Folded,
            LayGround::Remnants,
            LayGround::Remnant(6),
        ] {
            assert_eq!(ground.word().parse(), Ok(ground));
        }
        for text in ["", "remnant-0", "remnant-", "remnant-x", "bolt"] {
            assert!(text.parse::<LayGround>().expect_err(text).contains("lay on"));
        }
    }
}
