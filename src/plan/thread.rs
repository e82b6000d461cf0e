//! Seams and the thread they take.

use crate::measure::{Length, METRE, Money, Percent, Unit, YARD};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A stitch by its number in ISO 4915.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, Hash)]
pub enum Stitch {
    /// Single-thread chainstitch.
    #[serde(rename = "101")]
    S101,
    /// Blindstitch.
    #[serde(rename = "103")]
    S103,
    /// Lockstitch: the straight stitch of a household machine.
    #[default]
    #[serde(rename = "301")]
    S301,
    /// Zigzag lockstitch.
    #[serde(rename = "304")]
    S304,
    /// Two-thread chainstitch.
    #[serde(rename = "401")]
    S401,
    /// Two-needle bottom covering chainstitch.
    #[serde(rename = "406")]
    S406,
    /// Two-thread overedge.
    #[serde(rename = "503")]
    S503,
    /// Three-thread overedge.
    #[serde(rename = "504")]
    S504,
    /// Four-thread mock safety.
    #[serde(rename = "512")]
    S512,
    /// Five-thread safety.
    #[serde(rename = "516")]
    S516,
    /// Two-needle covering chainstitch.
    #[serde(rename = "602")]
    S602,
    /// Three-needle covering chainstitch.
    #[serde(rename = "605")]
    S605,
    /// Four-needle flat seam.
    #[serde(rename = "606")]
    S606,
    /// Sewn by hand.
    #[serde(rename = "hand")]
    Hand,
}

impl Stitch {
    pub const ALL: [Stitch; 14] = [
        Stitch::S301,
        Stitch::S304,
        Stitch::S503,
        Stitch::S504,
        Stitch::S512,
        Stitch::S516,
        Stitch::S101,
        Stitch::S103,
        Stitch::S401,
        Stitch::S406,
        Stitch::S602,
        Stitch::S605,
        Stitch::S606,
        Stitch::Hand,
    ];
}

/// A seam the figures cannot know of: a side seam, a hem, an overedge.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seam {
    pub id: String,
    pub name: String,
    /// Of one.
    pub length: Length,
    pub count: u32,
    #[serde(default)]
    pub stitch: Stitch,
}

/// How thread is counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Thread {
    /// Stitch of seams between patches and of panels.
    pub piecing: Stitch,
    /// Stitch of the quilting lines.
    pub quilting: Stitch,
    /// How binding is sewn down the second time; the first time it is a lockstitch.
    pub binding: Stitch,
    /// Of the machine, for seams through all layers.
    pub stitch_length: Length,
    /// How thick all layers are under the foot: quilting through them takes more thread.
    pub layers: Length,
    /// Beyond each end of a seam.
    pub seam_end: Length,
    /// Lost to breaks, bobbins and trials.
    pub waste: Percent,
    /// Length on one spool; may be longer than any cloth.
    #[serde(with = "spool_text")]
    pub spool: Length,
    /// Of one spool.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
}

impl Default for Thread {
    fn default() -> Thread {
        Thread {
            piecing: Stitch::S301,
            quilting: Stitch::S301,
            binding: Stitch::Hand,
            stitch_length: Length::from_units(640 * 5 / 2),
            layers: Length::from_units(640 * 2),
            seam_end: Length::from_units(640 * 30),
            waste: Percent::hundredths(2_000),
            spool: METRE * 100,
            price: None,
        }
    }
}

/// A cone holds up to 50,000 m, far beyond [`Length::MAX`]: its length is
/// written in whole metres or yards where it is, and read so.
pub fn spool_words(length: Length) -> String {
    let whole = |unit: Length| length.units() % unit.units() == 0;
    if whole(METRE) {
        format!("{} m", length.units() / METRE.units())
    } else if whole(YARD) {
        format!("{} yd", length.units() / YARD.units())
    } else {
        format!("{}/640 mm", length.units())
    }
}

/// Reads `1000 m`, `500 yd` or any other length; a bare number is metres, or
/// yards in a notebook of inches.
pub fn read_spool(text: &str, lead: Unit) -> Result<Length, String> {
    let typed = text.trim();
    let number = |end: &str| typed.strip_suffix(end).and_then(|n| n.trim().parse::<i64>().ok());
    let bare = match lead {
        Unit::Inch => YARD,
        Unit::Cm => METRE,
    };
    let units = [
        ("/640 mm", Length::from_units(1)),
        ("yd", YARD),
        ("m", METRE),
        ("", bare),
    ];
    let whole = units.into_iter().find_map(|(end, unit)| {
        // Not the m of cm and mm: those leave a letter, which is no number.
        number(end).map(|n| unit * n)
    });
    match whole {
        Some(length) => Ok(length),
        None => Length::parse_signed(typed, lead).map_err(|error| error.to_string()),
    }
}

mod spool_text {
    use super::{Deserialize, Deserializer, Length, Serializer, Unit, read_spool, spool_words};

    pub fn serialize<S: Serializer>(length: &Length, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(&spool_words(*length))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Length, D::Error> {
        let text = std::borrow::Cow::<str>::deserialize(from)?;
        if !text.contains(char::is_alphabetic) {
            return Err(serde::de::Error::custom(format!(
                "“{text}” names no unit; write it like \"100 m\" or \"500 yd\""
            )));
        }
        read_spool(&text, Unit::Cm).map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_spools_read_back() {
        for length in [
            METRE * 100,
            METRE * 5_000,
            YARD * 850,
            Length::from_units(1_234_567_891),
        ] {
            let thread = Thread {
                spool: length,
                ..Thread::default()
            };
            let json = serde_json::to_string(&thread).unwrap();
            assert_eq!(serde_json::from_str::<Thread>(&json).unwrap(), thread, "{json}");
        }
        assert_eq!(read_spool("500", Unit::Inch), Ok(YARD * 500));
        assert_eq!(read_spool("1000 m", Unit::Inch), Ok(METRE * 1000));
        assert_eq!(read_spool("27 cm", Unit::Inch), Ok(Length::from_units(172_800)));
        assert!(read_spool("much", Unit::Cm).is_err());
        assert!(serde_json::from_str::<Thread>(r#"{"spool":"100"}"#).is_err());
    }
}
