//! Minutes of work: reading what people type, and printing them.

/// `45 min`, `2 h`, `1 h 20 min`.
pub fn hours(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, min) => format!("{min} min"),
        (h, 0) => format!("{h} h"),
        (h, min) => format!("{h} h {min} min"),
    }
}

/// An expected time, no finer than it can be known: to 5 minutes, over two
/// hours to a quarter of one. Up, or down where less is the safe side.
pub fn about_hours(minutes: i64, up: bool) -> String {
    let step = match minutes {
        ..=20 => 1,
        21..=120 => 5,
        _ => 15,
    };
    let down = minutes / step * step;
    hours(if up && down < minutes {
        down.saturating_add(step)
    } else {
        down
    })
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MinutesError {
    #[error("Type minutes such as 90, or hours and minutes such as 1:30 or 1 h 30.")]
    Unreadable,
    #[error("An hour has 60 minutes: after the hours type 0 to 59.")]
    Over59,
    #[error("This is more time than can be kept. Check the hours.")]
    TooMany,
}

/// Reads `90`, `90 min`, `1:30`, `1 h 30 min`, `1h30`, `1 1/2 h`, `1.5 h`, `1,5 h`. A bare
/// number is minutes. Part of a minute is rounded up.
pub fn parse_minutes(text: &str) -> Result<u32, MinutesError> {
    let text = text
        .trim()
        .to_lowercase()
        .replace('½', " 1/2")
        .replace('¼', " 1/4")
        .replace('¾', " 3/4");
    if text.chars().count() > 40 {
        return Err(MinutesError::Unreadable);
    }
    if let Some((h, m)) = text.split_once(':') {
        return together(whole(h)?, whole(m)?);
    }
    if let Some((h, rest)) = text.split_once('h') {
        let rest = rest
            .trim_start_matches("ours")
            .trim_start_matches("our")
            .trim_start_matches("rs")
            .trim_start_matches('r');
        let rest = rest.trim().trim_start_matches("and ").trim();
        if rest.is_empty() {
            return fraction(h, 60);
        }
        return together(whole(h)?, whole(without_min(rest))?);
    }
    fraction(without_min(&text), 1)
}

fn without_min(text: &str) -> &str {
    let text = text.trim();
    ["minutes", "minute", "min.", "min", "m"]
        .iter()
        .find_map(|end| text.strip_suffix(end))
        .unwrap_or(text)
        .trim_end()
}

fn whole(text: &str) -> Result<u32, MinutesError> {
    let text = text.trim();
    let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    if !digits {
        return Err(MinutesError::Unreadable);
    }
    text.parse().map_err(|_| MinutesError::TooMany)
}

fn together(hours: u32, minutes: u32) -> Result<u32, MinutesError> {
    if minutes > 59 {
        return Err(MinutesError::Over59);
    }
    let all = hours.checked_mul(60).and_then(|m| m.checked_add(minutes));
    all.ok_or(MinutesError::TooMany)
}

/// `1 1/2`, `3/4`, `1.5`, `2` times `each` minutes, rounded up.
fn fraction(text: &str, each: u64) -> Result<u32, MinutesError> {
    let text = text.trim();
    let (top, bottom): (u64, u64) = if let Some((before, below)) = text.split_once('/') {
        let below = u64::from(whole(below)?);
        let (units, above) = match before.trim().rsplit_once(' ') {
            Some((units, above)) => (whole(units)?, whole(above)?),
            None => (0, whole(before)?),
        };
        if below == 0 || below > 1_000 {
            return Err(MinutesError::Unreadable);
        }
        (u64::from(units) * below + u64::from(above), below)
    } else if let Some((units, part)) = text.split_once(['.', ',']) {
        if part.len() > 3 {
            return Err(MinutesError::Unreadable);
        }
        let scale = 10u64.pow(u32::try_from(part.len()).unwrap_or(0));
        (u64::from(whole(units)?) * scale + u64::from(whole(part)?), scale)
    } else {
        (u64::from(whole(text)?), 1)
    };
    u32::try_from((top * each).div_ceil(bottom)).map_err(|_| MinutesError::TooMany)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_people_type_is_read() {
        for (text, minutes) in [
            ("90", 90),
            (" 90 min ", 90),
            ("90m", 90),
            ("1:30", 90),
            ("0:05", 5),
            ("1 h 30 min", 90),
            ("1h30", 90),
            ("1 hour and 5 minutes", 65),
            ("2 hours", 120),
            ("2h", 120),
            ("2 hrs", 120),
            ("1 1/2 h", 90),
            ("1½ h", 90),
            ("½ h", 30),
            ("1.5 h", 90),
            ("1,25 h", 75),
            ("0", 0),
            ("12.5", 13),
            ("0.333 h", 20),
        ] {
            assert_eq!(parse_minutes(text), Ok(minutes), "{text}");
        }
    }

    #[test]
    fn what_cannot_be_meant_is_refused() {
        for text in [
            "",
            "h",
            ":",
            "an hour",
            "-5",
            "1:75",
            "1 h 60",
            "1:2:3",
            "1/0 h",
            "1.2345 h",
            "99999999999",
            "4294967295 h",
            "1.",
            "5 m 3",
            "1 2 3",
        ] {
            let error = parse_minutes(text).expect_err(text).to_string();
            assert!(error.ends_with('.'), "{error}");
        }
    }

    #[test]
    fn printed_minutes_read_back() {
        assert_eq!(about_hours(196, true), "3 h 30 min");
        assert_eq!(
            (about_hours(196, false), about_hours(8, true)),
            ("3 h 15 min".into(), "8 min".into())
        );
        assert_eq!(
            (about_hours(119, true), about_hours(121, true)),
            ("2 h".into(), "2 h 15 min".into())
        );
        assert_eq!(hours(0), "0 min");
        assert_eq!(hours(60), "1 h");
        for minutes in 0..1_000u32 {
            assert_eq!(parse_minutes(&hours(i64::from(minutes))), Ok(minutes));
        }
    }
}
