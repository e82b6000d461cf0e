//! Percentages as typed: whole hundredths of one per cent, so they are exact.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// A percentage, exact to 0.01 %. In JSON a text such as `"2.5 %"`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Percent(i64);

#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PercentError {
    #[error("Type a percentage, such as 3 or 2.5.")]
    Empty,
    #[error("“{0}” is not a percentage. Type a number such as 3 or 2.5.")]
    Unreadable(String),
    #[error("A percentage here is at least 0.")]
    Negative,
    #[error("{0} % is too much. Type a number up to 1000.")]
    Huge(String),
}

impl Percent {
    pub const ZERO: Percent = Percent(0);
    pub const fn hundredths(n: i64) -> Percent {
        Percent(n)
    }
    pub const fn whole(n: i64) -> Percent {
        Percent(n * 100)
    }
    /// Hundredths of one per cent: 2.5 % is 250, the whole is 10,000.
    pub const fn as_hundredths(self) -> i64 {
        self.0
    }
}

impl FromStr for Percent {
    type Err = PercentError;
    fn from_str(text: &str) -> Result<Percent, PercentError> {
        let typed = text.trim();
        let body = typed.strip_suffix('%').unwrap_or(typed).trim();
        if body.is_empty() {
            return Err(PercentError::Empty);
        }
        if body.starts_with(['-', '−']) {
            return Err(PercentError::Negative);
        }
        let unreadable = || PercentError::Unreadable(typed.chars().take(40).collect());
        let (whole, part) = match body.split_once(['.', ',']) {
            Some((whole, part)) => (whole, part),
            None => (body, ""),
        };
        let digits = |s: &str| s.chars().all(|c| c.is_ascii_digit());
        if !digits(whole) || !digits(part) || (whole.is_empty() && part.is_empty()) {
            return Err(unreadable());
        }
        if part.len() > 2 {
            return Err(unreadable());
        }
        if whole.len() > 4 {
            return Err(PercentError::Huge(whole.chars().take(12).collect()));
        }
        let whole: i64 = if whole.is_empty() {
            0
        } else {
            whole.parse().map_err(|_| unreadable())?
        };
        let part: i64 = format!("{part:0<2}").parse().map_err(|_| unreadable())?;
        if whole > 1000 {
            return Err(PercentError::Huge(whole.to_string()));
        }
        Ok(Percent(whole * 100 + part))
    }
}

impl fmt::Display for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, part) = (self.0 / 100, self.0 % 100);
        match part {
            0 => write!(f, "{whole} %"),
            p if p % 10 == 0 => write!(f, "{whole}.{} %", p / 10),
            p => write!(f, "{whole}.{p:02} %"),
        }
    }
}

impl fmt::Debug for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self}")
    }
}

impl Serialize for Percent {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Percent {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Percent, D::Error> {
        let text = std::borrow::Cow::<str>::deserialize(from)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_prints() {
        for (typed, hundredths, printed) in [
            ("3", 300, "3 %"),
            ("2.5", 250, "2.5 %"),
            ("2,5 %", 250, "2.5 %"),
            ("0.25%", 25, "0.25 %"),
            (" .5 ", 50, "0.5 %"),
            ("100", 10_000, "100 %"),
        ] {
            let p: Percent = typed.parse().unwrap();
            assert_eq!(p.as_hundredths(), hundredths, "{typed}");
            assert_eq!(p.to_string(), printed);
            assert_eq!(p.to_string().parse::<Percent>().unwrap(), p);
        }
        for bad in ["", "%", "-3", "three", "1.234", "99999", "3 5", "٣"] {
            assert!(bad.parse::<Percent>().is_err(), "{bad}");
        }
    }
}
