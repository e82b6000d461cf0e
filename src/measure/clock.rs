//! A moment of a video: reading what people type, and printing it.

/// The latest moment that is taken: 23:59:59.
pub const LATEST_MOMENT: u32 = 24 * 3600 - 1;

/// `4:05`, `1:04:05`.
pub fn video_time(seconds: u32) -> String {
    let (h, m, s) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if h > 0 {
        format!("{h}:{m:02}:{s:02}")
    } else {
        format!("{m}:{s:02}")
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum VideoTimeError {
    #[error("Type the time in the video as minutes and seconds, such as 4:05, or with hours, such as 1:04:05.")]
    Unreadable,
    #[error("A minute has 60 seconds and an hour 60 minutes: after a colon type 00 to 59.")]
    Over59,
    #[error("A time in the video is less than 24 hours.")]
    TooLate,
}

/// Reads `4:05`, `75:30` and `1:04:05` as seconds.
pub fn parse_video_time(text: &str) -> Result<u32, VideoTimeError> {
    let parts: Vec<&str> = text.trim().split(':').map(str::trim).collect();
    let [first, rest @ ..] = parts.as_slice() else {
        return Err(VideoTimeError::Unreadable);
    };
    if rest.is_empty() || rest.len() > 2 || rest.iter().any(|part| part.len() > 2) {
        return Err(VideoTimeError::Unreadable);
    }
    let mut seconds = whole(first)?;
    for part in rest {
        let part = whole(part)?;
        if part > 59 {
            return Err(VideoTimeError::Over59);
        }
        seconds = seconds.saturating_mul(60).saturating_add(part);
    }
    // With hours, the minutes have 59 at most; without, they may be 75.
    if seconds > LATEST_MOMENT {
        return Err(VideoTimeError::TooLate);
    }
    Ok(seconds)
}

fn whole(text: &str) -> Result<u32, VideoTimeError> {
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(VideoTimeError::Unreadable);
    }
    text.parse().map_err(|_| VideoTimeError::TooLate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_are_read_and_printed() {
        for (text, seconds) in [
            ("0:00", 0),
            ("4:05", 245),
            (" 4 : 5 ", 245),
            ("75:30", 4530),
            ("1:04:05", 3845),
            ("23:59:59", LATEST_MOMENT),
        ] {
            assert_eq!(parse_video_time(text), Ok(seconds), "{text}");
            assert_eq!(parse_video_time(&video_time(seconds)), Ok(seconds), "{text}");
        }
        assert_eq!((video_time(245), video_time(3845)), ("4:05".into(), "1:04:05".into()));
    }

    #[test]
    fn what_is_no_moment_is_refused() {
        use VideoTimeError::{Over59, TooLate, Unreadable};
        for (text, error) in [
            ("", Unreadable),
            ("4", Unreadable),
            ("4:", Unreadable),
            (":05", Unreadable),
            ("4:005", Unreadable),
            ("-1:00", Unreadable),
            ("1:2:3:4", Unreadable),
            ("4m05", Unreadable),
            ("4:60", Over59),
            ("1:60:00", Over59),
            ("24:00:00", TooLate),
            ("99999999999:00", TooLate),
        ] {
            assert_eq!(parse_video_time(text), Err(error), "{text}");
        }
    }
}
