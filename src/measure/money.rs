//! Amounts of money as typed: whole hundredths of the notebook's currency.

use super::Length;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// An amount in hundredths. In JSON a text such as `"12.50"`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Money(i64);

#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MoneyError {
    #[error("“{0}” is not a price. Type a number such as 12 or 12.50.")]
    Unreadable(String),
    #[error("A price is at least 0.")]
    Negative,
    #[error("A price here is at most 999,999.")]
    Huge,
}

impl Money {
    pub const ZERO: Money = Money(0);
    pub const fn hundredths(n: i64) -> Money {
        Money(n)
    }
    pub const fn as_hundredths(self) -> i64 {
        self.0
    }
    /// What `length` costs at this price for each `per`, rounded up to a hundredth.
    pub fn for_length(self, length: Length, per: Length) -> Money {
        let wide = i128::from(self.0) * i128::from(length.units());
        let per = i128::from(per.units());
        Money((-((-wide).div_euclid(per))).clamp(0, i128::from(i64::MAX)) as i64)
    }
}

impl std::ops::Add for Money {
    type Output = Money;
    fn add(self, other: Money) -> Money {
        Money(self.0.saturating_add(other.0))
    }
}

impl FromStr for Money {
    type Err = MoneyError;
    fn from_str(text: &str) -> Result<Money, MoneyError> {
        let body = text.trim();
        let unreadable = || MoneyError::Unreadable(body.chars().take(40).collect());
        if body.starts_with(['-', '−']) {
            return Err(MoneyError::Negative);
        }
        let (whole, part) = body.split_once(['.', ',']).unwrap_or((body, ""));
        let digits = |s: &str| s.chars().all(|c| c.is_ascii_digit());
        if !digits(whole) || !digits(part) || (whole.is_empty() && part.is_empty()) || part.len() > 2 {
            return Err(unreadable());
        }
        if whole.len() > 6 {
            return Err(MoneyError::Huge);
        }
        let whole: i64 = if whole.is_empty() {
            0
        } else {
            whole.parse().map_err(|_| unreadable())?
        };
        let part: i64 = format!("{part:0<2}").parse().map_err(|_| unreadable())?;
        Ok(Money(whole * 100 + part))
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{:02}", self.0 / 100, self.0 % 100)
    }
}

impl fmt::Debug for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self}")
    }
}

impl Serialize for Money {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Money {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Money, D::Error> {
        let text = std::borrow::Cow::<str>::deserialize(from)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::YARD;

    #[test]
    fn reads_prints_and_multiplies_up() {
        let price: Money = "12,5".parse().unwrap();
        assert_eq!(price.to_string(), "12.50");
        assert_eq!(price.for_length(YARD.scale_up(11, 8), YARD).to_string(), "17.19");
        for bad in ["", "-1", "1.234", "abc", "1234567", "1.2.3"] {
            assert!(bad.parse::<Money>().is_err(), "{bad}");
        }
    }
}
