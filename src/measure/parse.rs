//! Reading lengths as people type them: `5/8`, `10 1/2`, `10-1/2"`, `10½`,
//! `1 1/4 yd`, `27cm`, `1,5 m`, `3'6"`, `600mm`.
//!
//! A bare number takes the unit handed in. Every refusal is a sentence that
//! says what to type instead.

use super::{CM, FOOT, INCH, Length, METRE, MM, Unit, YARD};

/// Why a typed length was refused. The text is meant to be shown beside the field.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    #[error("Type a length, such as 10 1/2 in or 27 cm.")]
    Empty,
    #[error("“{0}” cannot be read as a length. Type it like 10 1/2, 5/8 in, 27 cm or 1 1/4 yd.")]
    Unreadable(String),
    #[error("“{0}” has a fraction over nothing. Type a fraction such as 5/8.")]
    ZeroDenominator(String),
    #[error("“{0}” has a fraction finer than 1/1000. Use eighths, sixteenths, or mm.")]
    FineFraction(String),
    #[error("“{0}” can be read two ways. Write 1500 or 1.5 instead of a comma before three digits.")]
    TwoWays(String),
    #[error("A length here cannot be negative. Type it without the minus sign.")]
    Negative,
    #[error("This length must be more than nothing.")]
    Zero,
    #[error("“{0}” is longer than 200 m (about 218 yd). Check the unit.")]
    Huge(String),
}

impl Length {
    /// Reads a length that is at least nothing.
    pub fn parse(text: &str, bare: Unit) -> Result<Length, LengthError> {
        let length = Length::parse_signed(text, bare)?;
        if length.is_negative() {
            Err(LengthError::Negative)
        } else {
            Ok(length)
        }
    }

    /// Reads a length that must be more than nothing.
    pub fn parse_positive(text: &str, bare: Unit) -> Result<Length, LengthError> {
        let length = Length::parse(text, bare)?;
        if length.is_positive() {
            Ok(length)
        } else {
            Err(LengthError::Zero)
        }
    }

    /// Reads a length that may carry a sign: an alteration such as `+1` or `-2 cm`.
    pub fn parse_signed(text: &str, bare: Unit) -> Result<Length, LengthError> {
        let typed = text.trim();
        if typed.is_empty() {
            return Err(LengthError::Empty);
        }
        let shown: String = typed.chars().take(40).collect();
        let (negative, body) = match typed.chars().next() {
            Some('-' | '−' | '–') => (true, &typed[typed.chars().next().map_or(1, char::len_utf8)..]),
            Some('+') => (false, &typed[1..]),
            _ => (false, typed),
        };
        let tokens = tokens(body, &shown)?;
        let length = assemble(&tokens, bare, &shown)?;
        Ok(if negative { -length } else { length })
    }
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Token {
    /// A whole or decimal number: `num / den`, and whether it was a plain whole number.
    Number { num: i128, den: i128, whole: bool },
    /// A fraction `a/b`, and whether it stood directly after the number before
    /// it without a space, a hyphen or an own glyph (`101/2` is then not `10 1/2`).
    Fraction { num: i128, den: i128 },
    /// A unit, as its count of 1/640 mm.
    Unit(Length),
}

const MOST_DIGITS: usize = 9;

fn tokens(body: &str, shown: &str) -> Result<Vec<Token>, LengthError> {
    let unreadable = || LengthError::Unreadable(shown.to_string());
    let chars: Vec<char> = body.chars().collect();
    let mut out = Vec::new();
    let mut at = 0;
    while at < chars.len() {
        let c = chars[at];
        if c.is_whitespace() {
            at += 1;
        } else if c.is_ascii_digit() || ((c == '.' || c == ',') && out_is_open(&out)) {
            let (token, next) = number(&chars, at, shown)?;
            out.push(token);
            at = next;
        } else if let Some((num, den)) = glyph(c) {
            out.push(Token::Fraction { num, den });
            at += 1;
        } else if c == '-' || c == '‑' || c == '–' {
            // Only between a whole number and its fraction: 10-1/2.
            let joins = matches!(out.last(), Some(Token::Number { whole: true, .. }))
                && at + 1 < chars.len()
                && fraction_follows(&chars[at + 1..]);
            if !joins {
                return Err(unreadable());
            }
            at += 1;
        } else {
            let (unit, next) = unit(&chars, at).ok_or_else(unreadable)?;
            out.push(Token::Unit(unit));
            at = next;
        }
    }
    Ok(out)
}

/// A leading point or comma starts a number only where a number may start.
fn out_is_open(out: &[Token]) -> bool {
    matches!(out.last(), None | Some(Token::Unit(_)))
}

fn fraction_follows(rest: &[char]) -> bool {
    if rest.first().is_some_and(|c| glyph(*c).is_some()) {
        return true;
    }
    let digits = rest.iter().take_while(|c| c.is_ascii_digit()).count();
    digits > 0 && rest.get(digits).is_some_and(|c| is_slash(*c))
}

fn is_slash(c: char) -> bool {
    matches!(c, '/' | '⁄' | '∕')
}

fn number(chars: &[char], start: usize, shown: &str) -> Result<(Token, usize), LengthError> {
    let unreadable = || LengthError::Unreadable(shown.to_string());
    let run = |from: usize| chars[from..].iter().take_while(|c| c.is_ascii_digit()).count();
    let value = |from: usize, count: usize| -> i128 {
        chars[from..from + count]
            .iter()
            .fold(0, |n, c| n * 10 + i128::from(c.to_digit(10).unwrap_or(0)))
    };
    let whole_digits = run(start);
    if whole_digits > MOST_DIGITS {
        return Err(LengthError::Huge(shown.to_string()));
    }
    let whole = value(start, whole_digits);
    let mut at = start + whole_digits;
    match chars.get(at) {
        Some(c) if is_slash(*c) => {
            let den_digits = run(at + 1);
            if den_digits == 0 {
                return Err(unreadable());
            }
            if den_digits > 4 {
                return Err(LengthError::FineFraction(shown.to_string()));
            }
            let den = value(at + 1, den_digits);
            if den == 0 {
                return Err(LengthError::ZeroDenominator(shown.to_string()));
            }
            if den > 1000 {
                return Err(LengthError::FineFraction(shown.to_string()));
            }
            Ok((Token::Fraction { num: whole, den }, at + 1 + den_digits))
        }
        Some('.' | ',') => {
            let comma = chars[at] == ',';
            let digits = run(at + 1);
            if digits == 0 || digits > MOST_DIGITS {
                return Err(unreadable());
            }
            if comma && digits == 3 && whole_digits > 0 && whole > 0 {
                return Err(LengthError::TwoWays(shown.to_string()));
            }
            let den = 10i128.pow(digits as u32);
            let num = whole * den + value(at + 1, digits);
            at += 1 + digits;
            Ok((Token::Number { num, den, whole: false }, at))
        }
        _ if whole_digits == 0 => Err(unreadable()),
        _ => Ok((
            Token::Number {
                num: whole,
                den: 1,
                whole: true,
            },
            at,
        )),
    }
}

fn glyph(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}

fn unit(chars: &[char], start: usize) -> Option<(Length, usize)> {
    // Two single quotes are an inch mark where a keyboard has no better one.
    match chars[start] {
        '\'' | '’' | '′' if matches!(chars.get(start + 1), Some('\'' | '’' | '′')) => {
            return Some((INCH, start + 2));
        }
        '\'' | '’' | '′' => return Some((FOOT, start + 1)),
        '"' | '″' | '”' | '“' => return Some((INCH, start + 1)),
        _ => {}
    }
    let end = start + chars[start..].iter().take_while(|c| c.is_alphabetic()).count();
    let word: String = chars[start..end].iter().collect::<String>().to_lowercase();
    let length = match word.as_str() {
        "in" | "ins" | "inch" | "inches" => INCH,
        "ft" | "foot" | "feet" => FOOT,
        "yd" | "yds" | "yard" | "yards" => YARD,
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => MM,
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => CM,
        "m" | "metre" | "metres" | "meter" | "meters" => METRE,
        _ => return None,
    };
    // A full stop after an abbreviation: "in." at the end or before a space.
    let stop = chars.get(end) == Some(&'.') && chars.get(end + 1).is_none_or(|c| c.is_whitespace());
    Some((length, if stop { end + 1 } else { end }))
}

/// Puts the tokens together: one or more groups of `[number] [fraction] unit`,
/// largest unit first; a last group without a unit takes the next smaller one
/// (`3'6` is 3 ft 6 in) and a single bare group takes the notebook's unit.
fn assemble(tokens: &[Token], bare: Unit, shown: &str) -> Result<Length, LengthError> {
    let unreadable = || LengthError::Unreadable(shown.to_string());
    let mut total: i128 = 0;
    let mut last: Option<Length> = None;
    let mut at = 0;
    while at < tokens.len() {
        let mut num: i128 = 0;
        let mut den: i128 = 1;
        let mut any = false;
        if let Token::Number { num: n, den: d, whole } = tokens[at] {
            (num, den, any) = (n, d, true);
            at += 1;
            if let Some(Token::Fraction { num: fn_, den: fd }) = tokens.get(at) {
                // A decimal with a fraction, or 3 5/4, is a slip of the finger.
                if !whole || fn_ >= fd {
                    return Err(unreadable());
                }
                (num, den) = (num * fd + fn_, *fd);
                at += 1;
            }
        } else if let Token::Fraction { num: n, den: d } = tokens[at] {
            (num, den, any) = (n, d, true);
            at += 1;
        }
        if !any {
            return Err(unreadable());
        }
        let unit = match tokens.get(at) {
            Some(Token::Unit(unit)) => {
                at += 1;
                *unit
            }
            Some(_) => return Err(unreadable()),
            None => match last {
                None => bare.length(),
                Some(FOOT) => INCH,
                Some(METRE) => CM,
                Some(_) => return Err(unreadable()),
            },
        };
        // Groups go from large to small and stay in one system: 1 yd 5 in, not 5 in 1 yd.
        if let Some(before) = last
            && (unit >= before || is_metric(unit) != is_metric(before))
        {
            return Err(unreadable());
        }
        last = Some(unit);
        // To the nearest unit, halves up; exact for every fraction the trade uses.
        let wide = num * i128::from(unit.units());
        total += (wide * 2 + den).div_euclid(den * 2);
        if total > i128::from(Length::MAX.units()) {
            return Err(LengthError::Huge(shown.to_string()));
        }
    }
    if last.is_none() {
        return Err(unreadable());
    }
    Ok(Length::from_units(total as i64))
}

fn is_metric(unit: Length) -> bool {
    matches!(unit, MM | CM | METRE)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{EIGHTH, MM};

    fn inch(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap_or_else(|e| panic!("{text}: {e}"))
    }

    #[test]
    fn reads_what_people_type() {
        let f = Length::inches_frac;
        for (typed, length) in [
            ("5/8", f(5, 8)),
            ("10 1/2", f(21, 2)),
            ("10-1/2\"", f(21, 2)),
            ("10½", f(21, 2)),
            ("10 ½ in", f(21, 2)),
            ("10.5", f(21, 2)),
            ("10,5 in.", f(21, 2)),
            (".5", f(1, 2)),
            ("⅝″", f(5, 8)),
            ("1 1/4 yd", YARD.scale_up(5, 4)),
            ("1 yd 9 in", YARD.scale_up(5, 4)),
            ("1/3 yard", INCH * 12),
            ("27cm", CM * 27),
            ("27 CM", CM * 27),
            ("1,5 m", CM * 150),
            ("1 m 20", CM * 120),
            ("1 m 20 cm", CM * 120),
            ("3'6\"", INCH * 42),
            ("3'6", INCH * 42),
            ("3 ft 6 1/2 in", f(85, 2)),
            ("3’ 6''", INCH * 42),
            ("600mm", MM * 600),
            ("6.3 mm", MM.scale_up(63, 10)),
            ("0", Length::ZERO),
            ("44  inches", INCH * 44),
            ("0,125", EIGHTH),
            ("1500 mm", MM * 1500),
        ] {
            assert_eq!(inch(typed), length, "{typed}");
        }
        assert_eq!(Length::parse("27", Unit::Cm), Ok(CM * 27));
        assert_eq!(Length::parse_signed("+1", Unit::Inch), Ok(INCH));
        assert_eq!(Length::parse_signed("-2 cm", Unit::Inch), Ok(-(CM * 2)));
        assert_eq!(Length::parse_signed("−1/2", Unit::Inch), Ok(-f(1, 2)));
    }

    #[test]
    fn refuses_with_a_sentence() {
        for bad in [
            "",
            "  ",
            "abc",
            "5//8",
            "5/",
            "/8",
            "1/0",
            "10 5/4",
            "10.5 1/2",
            "1 2 3",
            "3 in 2 yd",
            "1 yd 20 cm",
            "5 6 in",
            "10-5",
            "--5",
            "5 parsecs",
            "in",
            "1,500 mm",
            "1/2000",
            "1e9",
            "9999999999",
            "300 m",
            "NaN",
            "10 1/2 1/4",
            "5 in in",
            "½½",
            "1..5",
            "5\u{0}",
            "3'6'",
        ] {
            let error = Length::parse(bad, Unit::Inch).expect_err(bad);
            let text = error.to_string();
            assert!(text.ends_with('.'), "{bad}: {text}");
        }
        assert_eq!(Length::parse("-1", Unit::Inch), Err(LengthError::Negative));
        assert_eq!(Length::parse_positive("0 cm", Unit::Inch), Err(LengthError::Zero));
        assert!(matches!(
            Length::parse("4/0", Unit::Inch),
            Err(LengthError::ZeroDenominator(_))
        ));
    }
}
