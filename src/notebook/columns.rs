//! Values as they stand in columns; migrations/0001_notebook.sql says how.

use super::Id;
use crate::measure::Length;
use chrono::{DateTime, Datelike, NaiveDate, SecondsFormat, Utc};
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// An id.
pub struct Key(pub Id);
/// A moment.
pub struct At(pub DateTime<Utc>);
/// A day.
pub struct Day(pub NaiveDate);
/// A length.
pub struct Units(pub Length);
/// One of a closed list of words, as in files.
pub struct Word<T>(pub T);
/// A value as JSON.
pub struct Json<T>(pub T);

impl ToSql for Key {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(self.0.to_string().into())
    }
}

impl FromSql for Key {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Key> {
        Id::try_parse(value.as_str()?).map(Key).map_err(FromSqlError::other)
    }
}

/// Years beyond four digits would neither sort as text nor be read back. Pages
/// ask this first; the columns refuse whatever comes through.
pub fn has_plain_year(date: &impl Datelike) -> bool {
    (1..=9999).contains(&date.year())
}

impl ToSql for At {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        if !has_plain_year(&self.0) {
            return Err(failed(format!("the year {} is not kept", self.0.year())));
        }
        Ok(self.0.to_rfc3339_opts(SecondsFormat::Nanos, true).into())
    }
}

impl FromSql for At {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<At> {
        let read = DateTime::parse_from_rfc3339(value.as_str()?);
        read.map(|t| At(t.to_utc())).map_err(FromSqlError::other)
    }
}

impl ToSql for Day {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        if !has_plain_year(&self.0) {
            return Err(failed(format!("the year {} is not kept", self.0.year())));
        }
        Ok(self.0.to_string().into())
    }
}

impl FromSql for Day {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Day> {
        value.as_str()?.parse().map(Day).map_err(FromSqlError::other)
    }
}

impl ToSql for Units {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(self.0.units().into())
    }
}

impl FromSql for Units {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Units> {
        value.as_i64().map(|n| Units(Length::from_units(n)))
    }
}

impl<T: Serialize> ToSql for Word<T> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        match serde_json::to_value(&self.0).map_err(failed)? {
            serde_json::Value::String(word) => Ok(word.into()),
            other => Err(failed(format!("{other} is not a word"))),
        }
    }
}

impl<T: DeserializeOwned> FromSql for Word<T> {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Word<T>> {
        let word = serde_json::Value::String(value.as_str()?.to_string());
        serde_json::from_value(word).map(Word).map_err(FromSqlError::other)
    }
}

impl<T: Serialize> ToSql for Json<T> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(serde_json::to_string(&self.0).map_err(failed)?.into())
    }
}

impl<T: DeserializeOwned> FromSql for Json<T> {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Json<T>> {
        serde_json::from_str(value.as_str()?)
            .map(Json)
            .map_err(FromSqlError::other)
    }
}

fn failed(error: impl Into<Box<dyn std::error::Error + Send + Sync>>) -> rusqlite::Error {
    rusqlite::Error::ToSqlConversionFailure(error.into())
}

/// Now, to the millisecond: what a person can tell apart, and short to read in exports.
pub fn now() -> DateTime<Utc> {
    let now = Utc::now();
    DateTime::from_timestamp_millis(now.timestamp_millis()).unwrap_or(now)
}
