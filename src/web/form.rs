//! What a form sent, read field by field: every refusal is a sentence kept
//! beside its field, and everything typed is kept to be shown again.

use crate::measure::{Length, MinutesError, Money, Percent, Unit, hours, parse_minutes};
use chrono::NaiveDate;
use std::ops::RangeInclusive;
use std::str::FromStr;

/// The fields as sent: names may repeat.
#[derive(Clone, Debug, Default)]
pub struct Typed(pub Vec<(String, String)>);

impl Typed {
    /// The first value of a field, or nothing.
    pub fn get(&self, name: &str) -> &str {
        self.0.iter().find(|(n, _)| n == name).map_or("", |(_, v)| v)
    }

    pub fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.0.iter().filter(move |(n, _)| n == name).map(|(_, v)| v.as_str())
    }

    pub fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(n, _)| n == name)
    }

    /// A ticked box.
    pub fn ticked(&self, name: &str) -> bool {
        matches!(self.get(name), "on" | "yes" | "true" | "1")
    }

    pub fn set(&mut self, name: &str, value: impl Into<String>) {
        self.0.retain(|(n, _)| n != name);
        self.0.push((name.into(), value.into()));
    }

    pub fn add(&mut self, name: &str, value: impl Into<String>) {
        self.0.push((name.into(), value.into()));
    }
}

/// Sentences beside fields.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Errors(pub Vec<(String, String)>);

impl Errors {
    pub fn add(&mut self, field: impl Into<String>, message: impl ToString) {
        self.0.push((field.into(), message.to_string()));
    }

    pub fn of<'a>(&'a self, field: &'a str) -> impl Iterator<Item = &'a str> {
        self.0.iter().filter(move |(f, _)| f == field).map(|(_, m)| m.as_str())
    }

    pub fn has(&self, field: &str) -> bool {
        self.0.iter().any(|(f, _)| f == field)
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// A form as it is shown: what is in it and what is wrong with it.
#[derive(Clone, Debug, Default)]
pub struct Shown {
    pub typed: Typed,
    pub errors: Errors,
}

impl From<Typed> for Shown {
    fn from(typed: Typed) -> Shown {
        Shown {
            typed,
            errors: Errors::default(),
        }
    }
}

/// Longest texts taken.
pub const NAME: usize = 120;
pub const LINE: usize = 500;
pub const TEXT: usize = 20_000;

/// Reads a form; the values of refused fields are placeholders, never used
/// because `errors` is then not empty.
pub struct Reader<'a> {
    pub typed: &'a Typed,
    pub errors: Errors,
    pub unit: Unit,
}

impl<'a> Reader<'a> {
    pub fn new(typed: &'a Typed, unit: Unit) -> Reader<'a> {
        Reader {
            typed,
            errors: Errors::default(),
            unit,
        }
    }

    /// Text of one line, trimmed; refused when longer than `most` characters.
    pub fn line(&mut self, field: &str, most: usize) -> String {
        let text = clean_line(self.typed.get(field));
        self.within(field, &text, most);
        text
    }

    /// As `line`, refused when empty with the given sentence.
    pub fn required(&mut self, field: &str, most: usize, sentence: &str) -> String {
        let text = self.line(field, most);
        if text.is_empty() {
            self.errors.add(field, sentence);
        }
        text
    }

    /// Text of several lines, line ends made one kind.
    pub fn text(&mut self, field: &str) -> String {
        self.paragraphs(field, TEXT)
    }

    /// As `text`, of so many characters at most.
    pub fn paragraphs(&mut self, field: &str, most: usize) -> String {
        let text = self.typed.get(field).replace("\r\n", "\n").replace('\r', "\n");
        let text: String = text
            .chars()
            .filter(|c| !c.is_control() || matches!(c, '\n' | '\t'))
            .collect();
        let text = text.trim().to_string();
        self.within(field, &text, most);
        text
    }

    fn within(&mut self, field: &str, text: &str, most: usize) {
        let count = text.chars().count();
        if count > most {
            self.errors.add(
                field,
                format!("This is {count} characters long; {most} fit. Shorten it a little."),
            );
        }
    }

    pub fn length(&mut self, field: &str) -> Length {
        let read = Length::parse(self.typed.get(field), self.unit);
        self.taken(field, read)
    }

    pub fn length_positive(&mut self, field: &str) -> Length {
        let read = Length::parse_positive(self.typed.get(field), self.unit);
        self.taken(field, read)
    }

    /// Nothing typed is nothing.
    pub fn length_or_zero(&mut self, field: &str) -> Length {
        if self.typed.get(field).trim().is_empty() {
            Length::ZERO
        } else {
            self.length(field)
        }
    }

    pub fn count(&mut self, field: &str, range: RangeInclusive<u32>) -> u32 {
        let typed = self.typed.get(field).trim();
        match typed.parse::<u32>() {
            Ok(n) if range.contains(&n) => n,
            _ => {
                let (low, high) = (range.start(), range.end());
                self.errors
                    .add(field, format!("Type a whole number from {low} to {high}."));
                *low
            }
        }
    }

    /// Minutes, or hours and minutes.
    pub fn minutes(&mut self, field: &str, range: RangeInclusive<u32>) -> u32 {
        let read = parse_minutes(self.typed.get(field));
        let minutes = self.taken(field, read);
        if !self.errors.has(field) && !range.contains(&minutes) {
            let (least, most) = (hours((*range.start()).into()), hours((*range.end()).into()));
            self.errors.add(field, format!("Type {least} to {most}."));
        }
        minutes
    }

    /// Hours as minutes: a bare number is hours. Nothing typed is none.
    pub fn hours_or_none(&mut self, field: &str, most: u32) -> u32 {
        let typed = self.typed.get(field).trim();
        if typed.is_empty() {
            return 0;
        }
        let bare = typed
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' ' | '½' | '¼' | '¾'));
        let read = parse_minutes(&if bare { format!("{typed} h") } else { typed.to_string() });
        // A bare number is hours here: the sentence must not ask for minutes.
        let minutes = match read {
            Err(MinutesError::Unreadable) => {
                self.errors.add(
                    field,
                    "Type hours such as 5, or hours and minutes such as 2:30 or 1 h 30.",
                );
                0
            }
            read => self.taken(field, read),
        };
        if minutes > most {
            self.errors.add(field, format!("Type at most {}.", hours(most.into())));
        }
        minutes
    }

    pub fn percent_or_zero(&mut self, field: &str) -> Percent {
        self.optional::<Percent>(field).unwrap_or_default()
    }

    pub fn money(&mut self, field: &str) -> Option<Money> {
        self.optional::<Money>(field)
    }

    fn optional<T: FromStr<Err: ToString> + Default>(&mut self, field: &str) -> Option<T> {
        let typed = self.typed.get(field).trim();
        if typed.is_empty() {
            return None;
        }
        let read = typed.parse::<T>();
        Some(self.taken(field, read))
    }

    pub fn date(&mut self, field: &str) -> Option<NaiveDate> {
        let typed = self.typed.get(field).trim();
        if typed.is_empty() {
            return None;
        }
        let date = NaiveDate::parse_from_str(typed, "%Y-%m-%d").ok();
        match date {
            Some(d) if (1900..=2200).contains(&chrono::Datelike::year(&d)) => Some(d),
            _ => {
                self.errors
                    .add(field, "Type the date as year-month-day, such as 2027-03-14.");
                None
            }
        }
    }

    /// A web address, or nothing. Only http and https: a link is shown to viewers.
    pub fn link(&mut self, field: &str) -> String {
        let text = self.line(field, LINE);
        let ok = text.is_empty()
            || ["http://", "https://"].iter().any(|s| {
                text.to_ascii_lowercase().starts_with(s) && text.len() > s.len() && !text.contains(char::is_whitespace)
            });
        if !ok {
            self.errors.add(
                field,
                "A link starts with https:// and has no spaces. Copy it from the browser's address bar.",
            );
        }
        text
    }

    /// One of a list of choices written in kebab-case, by serde.
    pub fn choice<T: serde::de::DeserializeOwned + Default>(&mut self, field: &str) -> T {
        let typed = self.typed.get(field);
        match serde_json::from_value(serde_json::Value::String(typed.to_string())) {
            Ok(value) => value,
            Err(_) => {
                self.errors.add(field, "Choose one of the list.");
                T::default()
            }
        }
    }

    pub fn taken<T: Default, E: ToString>(&mut self, field: &str, read: Result<T, E>) -> T {
        read.unwrap_or_else(|error| {
            self.errors.add(field, error);
            T::default()
        })
    }
}

/// One line: control characters out, white space at the ends trimmed.
pub fn clean_line(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect::<String>()
        .trim()
        .to_string()
}

/// A choice as its kebab-case word, the reverse of [`Reader::choice`].
pub fn word<T: serde::Serialize>(value: &T) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

/// A length as it stands in a field: in the unit it was most likely typed in,
/// always with its unit, always exact.
pub fn length_text(length: Length, unit: Unit) -> String {
    let tenth_mm = length.units() % 64 == 0;
    if unit == Unit::Cm && tenth_mm {
        return centimetres(length);
    }
    let exact = length.exact();
    if exact.ends_with(" in") || !tenth_mm {
        exact
    } else {
        centimetres(length)
    }
}

/// Exactly, for a whole count of tenths of a millimetre: `27 cm`, `2.54 cm`.
fn centimetres(length: Length) -> String {
    let hundredths = length.units() / 64;
    let sign = if hundredths < 0 { "-" } else { "" };
    let (whole, part) = (hundredths.abs() / 100, hundredths.abs() % 100);
    match part {
        0 => format!("{sign}{whole} cm"),
        p if p % 10 == 0 => format!("{sign}{whole}.{} cm", p / 10),
        p => format!("{sign}{whole}.{p:02} cm"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn field_texts_read_back() {
        for units in [0, 64, 127, 16_256, 6400, 172_800, 20_320, 5_419, -16_256, -640] {
            for unit in [Unit::Inch, Unit::Cm] {
                let length = Length::from_units(units);
                let text = length_text(length, unit);
                assert_eq!(Length::parse_signed(&text, unit), Ok(length), "{text}");
            }
        }
        assert_eq!(length_text(Length::from_units(172_800), Unit::Inch), "27 cm");
        assert_eq!(length_text(Length::from_units(16_256), Unit::Cm), "2.54 cm");
    }

    #[test]
    fn refusals_stand_beside_their_field() {
        let typed = Typed(vec![
            ("w".into(), "1/0".into()),
            ("n".into(), "0".into()),
            ("link".into(), "javascript:alert(1)".into()),
            ("due".into(), "14.3.2027".into()),
        ]);
        let mut r = Reader::new(&typed, Unit::Inch);
        r.length_positive("w");
        r.count("n", 1..=9);
        r.link("link");
        r.date("due");
        r.required("name", NAME, "Give it a name.");
        let fields: Vec<&str> = r.errors.0.iter().map(|(f, _)| f.as_str()).collect();
        assert_eq!(fields, ["w", "n", "link", "due", "name"]);
    }
}
