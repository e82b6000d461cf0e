//! An edge's path as SVG path data, in millimetres, every 1/640 mm exact.
//!
//! Of SVG only the absolute `L` and `C`: `L 120 0 C 120 40 100 80 90.5 120`.
//! One unit is 0.0015625 mm, so seven decimals write every length exactly.

use crate::measure::Length;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// A point of an outline: `x` across, `y` down along the grain.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spot {
    pub x: Length,
    pub y: Length,
}

impl Spot {
    pub const fn new(x: Length, y: Length) -> Spot {
        Spot { x, y }
    }
}

/// One part of a path, from where the part before it ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Segment {
    Line(Spot),
    /// A cubic curve: two control points and its end.
    Curve(Spot, Spot, Spot),
}

impl Segment {
    pub const fn end(&self) -> Spot {
        match self {
            Segment::Line(end) | Segment::Curve(_, _, end) => *end,
        }
    }
}

/// The path of one edge. It begins where the edge before it ends.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct EdgePath(pub Vec<Segment>);

impl EdgePath {
    pub fn end(&self) -> Option<Spot> {
        self.0.last().map(Segment::end)
    }
}

/// Ten million times one unit in millimetres: the scale numbers are read at.
const SCALE: i128 = 10_000_000;
const UNIT: i128 = 15_625;

impl fmt::Display for EdgePath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, segment) in self.0.iter().enumerate() {
            if at > 0 {
                f.write_str(" ")?;
            }
            match segment {
                Segment::Line(end) => write!(f, "L {}", Millimetres(*end))?,
                Segment::Curve(first, second, end) => write!(
                    f,
                    "C {} {} {}",
                    Millimetres(*first),
                    Millimetres(*second),
                    Millimetres(*end)
                )?,
            }
        }
        Ok(())
    }
}

/// A point as two numbers of millimetres.
struct Millimetres(Spot);

impl fmt::Display for Millimetres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", decimal(self.0.x), decimal(self.0.y))
    }
}

/// A length in millimetres as an exact decimal.
fn decimal(length: Length) -> String {
    let scaled = i128::from(length.units()) * UNIT;
    let sign = if scaled < 0 { "-" } else { "" };
    let (whole, part) = (scaled.abs() / SCALE, scaled.abs() % SCALE);
    if part == 0 {
        format!("{sign}{whole}")
    } else {
        let part = format!("{part:07}");
        format!("{sign}{whole}.{}", part.trim_end_matches('0'))
    }
}

impl FromStr for EdgePath {
    type Err = String;

    fn from_str(text: &str) -> Result<EdgePath, String> {
        let mut numbers: Vec<Length> = Vec::new();
        let mut segments = Vec::new();
        let mut letter = None;
        // A letter that no number followed yet.
        let mut bare = false;
        for word in words(text) {
            match word {
                Word::Letter(next) => {
                    if !numbers.is_empty() || bare {
                        return Err(short(letter));
                    }
                    letter = Some(next);
                    bare = true;
                }
                Word::Number(number) => {
                    let Some(letter) = letter else {
                        return Err(format!("the path begins with the number {number}; begin with L or C"));
                    };
                    bare = false;
                    numbers.push(millimetres(number)?);
                    let point = |at: usize| Spot::new(numbers[at], numbers[at + 1]);
                    match (letter, numbers.len()) {
                        ('L', 2) => segments.push(Segment::Line(point(0))),
                        ('C', 6) => segments.push(Segment::Curve(point(0), point(2), point(4))),
                        _ => continue,
                    }
                    numbers.clear();
                }
                Word::Other(sign) => {
                    return Err(format!(
                        "“{sign}” is not read in a path; it takes L with two numbers and C with six, in millimetres"
                    ));
                }
            }
        }
        if !numbers.is_empty() || bare || segments.is_empty() {
            return Err(short(letter));
        }
        Ok(EdgePath(segments))
    }
}

fn short(letter: Option<char>) -> String {
    match letter {
        Some('C') => "a curve C in the path has fewer than six numbers".into(),
        Some(_) => "a line L in the path has fewer than two numbers".into(),
        None => "the path is empty; it takes L with two numbers and C with six, in millimetres".into(),
    }
}

enum Word<'a> {
    Letter(char),
    Number(&'a str),
    Other(char),
}

/// Letters and numbers, with blanks, commas or nothing between.
fn words(text: &str) -> impl Iterator<Item = Word<'_>> {
    let mut rest = text;
    std::iter::from_fn(move || {
        rest = rest.trim_start_matches(|c: char| c.is_whitespace() || c == ',');
        let first = rest.chars().next()?;
        if matches!(first, 'L' | 'C') {
            rest = &rest[1..];
            return Some(Word::Letter(first));
        }
        let sign = usize::from(matches!(first, '-' | '+'));
        let mut dots = 0;
        let digits = rest[sign..]
            .find(|c: char| {
                dots += usize::from(c == '.');
                !(c.is_ascii_digit() || c == '.') || dots > 1
            })
            .unwrap_or(rest.len() - sign);
        if digits == 0 {
            rest = &rest[first.len_utf8()..];
            return Some(Word::Other(first));
        }
        let (number, after) = rest.split_at(sign + digits);
        rest = after;
        Some(Word::Number(number))
    })
}

/// A decimal number of millimetres, to the nearest 1/640 mm.
fn millimetres(number: &str) -> Result<Length, String> {
    let wrong = || format!("“{number}” is not a number of millimetres");
    let huge = || format!("{number} mm is more than 200 m; check the unit");
    let negative = number.starts_with('-');
    let digits = number.trim_start_matches(['-', '+']);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    if whole.is_empty() && part.is_empty() {
        return Err(wrong());
    }
    if whole.len() > 9 {
        return Err(huge());
    }
    let mut scaled: i128 = if whole.is_empty() {
        0
    } else {
        whole.parse::<i128>().map_err(|_| wrong())? * SCALE
    };
    let mut place = SCALE;
    for digit in part.bytes().take(7) {
        place /= 10;
        scaled += i128::from(digit - b'0') * place;
    }
    let units = i64::try_from((scaled + UNIT / 2).div_euclid(UNIT)).map_err(|_| huge())?;
    let length = Length::from_units(if negative { -units } else { units });
    if length.abs() > Length::MAX {
        Err(huge())
    } else {
        Ok(length)
    }
}

impl Serialize for EdgePath {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for EdgePath {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<EdgePath, D::Error> {
        let text = std::borrow::Cow::<str>::deserialize(from)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::MM;

    #[test]
    fn every_unit_is_written_exactly_and_reads_back() {
        for units in [0, 1, 2, 639, 640, 641, 16_256, 127, -1, -640, -123_457, 127_999_999] {
            let spot = Spot::new(Length::from_units(units), MM);
            let path = EdgePath(vec![Segment::Line(spot), Segment::Curve(spot, Spot::default(), spot)]);
            let text = path.to_string();
            assert_eq!(text.parse::<EdgePath>(), Ok(path), "{text}");
        }
    }

    #[test]
    fn the_usual_ways_of_writing_a_path_are_read() {
        let line = |x, y| Segment::Line(Spot::new(MM * x, MM * y));
        for text in ["L 10 20", "L10,20", "L10-.0 L10 20", "L 10.000 20"] {
            let path: EdgePath = text.parse().expect(text);
            assert_eq!(path.0.last(), Some(&line(10, 20)), "{text}");
        }
        let many: EdgePath = "L 1 2 3 4".parse().unwrap();
        assert_eq!(many.0, [line(1, 2), line(3, 4)]);
    }

    #[test]
    fn what_is_no_path_is_refused_with_a_reason() {
        for (text, part) in [
            ("", "is empty"),
            ("L", "fewer than two"),
            ("L 1", "fewer than two"),
            ("L 1 L 2 3", "fewer than two"),
            ("L 1 2 L", "fewer than two"),
            ("C 1 2 3 4 5", "fewer than six"),
            ("M 1 2", "“M” is not read"),
            ("l 1 2", "“l” is not read"),
            ("1 2", "begin with L or C"),
            ("L 1 300000", "200 m"),
            ("L 1 99999999999999999999", "200 m"),
            ("L 1e5 2", "“e” is not read"),
            ("L . 2", "not a number"),
            ("L 1 é", "“é” is not read"),
        ] {
            let error = text.parse::<EdgePath>().expect_err(text);
            assert!(error.contains(part), "{text}: {error}");
        }
    }
}
