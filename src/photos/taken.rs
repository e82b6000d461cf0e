use chrono::{DateTime, FixedOffset, Local, NaiveDate, TimeZone, Utc};
use exif::{In, Tag, Value};
use std::io::Cursor;

/// When the shutter went, if the camera noted it. A note without a time zone
/// is taken as this computer's: phone and laptop stand in the same room.
pub fn taken_at(bytes: &[u8]) -> Option<DateTime<Utc>> {
    let exif = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)).ok()?;
    let text = |tag| match &exif.get_field(tag, In::PRIMARY)?.value {
        Value::Ascii(parts) => parts.first().cloned(),
        _ => None,
    };
    let mut noted = exif::DateTime::from_ascii(&text(Tag::DateTimeOriginal)?).ok()?;
    if let Some(offset) = text(Tag::OffsetTimeOriginal) {
        // A blank or unreadable offset is as good as none.
        let _ = noted.parse_offset(&offset);
    }
    let local = NaiveDate::from_ymd_opt(noted.year.into(), noted.month.into(), noted.day.into())?.and_hms_opt(
        noted.hour.into(),
        noted.minute.into(),
        noted.second.into(),
    )?;
    match noted.offset {
        Some(minutes) => FixedOffset::east_opt(i32::from(minutes) * 60)?
            .from_local_datetime(&local)
            .earliest()
            .map(|t| t.to_utc()),
        None => Local.from_local_datetime(&local).earliest().map(|t| t.to_utc()),
    }
}
