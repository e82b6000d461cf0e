use super::{MAX_BYTES, MAX_PIXELS};

/// Said beside the field for the photo, so each says what to do.
#[derive(Debug, thiserror::Error)]
pub enum PhotoError {
    #[error(
        "This photo has {} MB; at most {} MB fit. Send it smaller, or take it again at a lower resolution. Nothing else you typed is lost.",
        megabytes(*.0), MAX_BYTES / MEGABYTE
    )]
    TooLarge(u64),
    #[error("This file is empty. The phone may not have finished saving it: choose the photo again.")]
    Empty,
    #[error("This file is not a picture, whatever its name says. Choose a JPEG, PNG or WebP photo.")]
    NotAPicture,
    #[error(
        "This is a HEIC photo, which most browsers cannot show. Send it as JPEG: on an iPhone choose Settings, Camera, Formats, Most Compatible; on an Android phone turn off the high efficiency format in the settings of its camera. One taken already becomes a JPEG when the phone's gallery saves a copy of it as JPEG."
    )]
    Heic,
    #[error("This is a film. The log keeps photos: take one, or save a still of the film as JPEG.")]
    Film,
    #[error("This is a picture in the {0} format. Notchbook keeps JPEG, PNG and WebP: save or send it as JPEG.")]
    OtherFormat(&'static str),
    #[error(
        "This picture has {width} × {height} pixels; at most {} million fit. Send it smaller.",
        MAX_PIXELS / 1_000_000
    )]
    TooManyPixels { width: u32, height: u32 },
    #[error("This photo is damaged or not all of it arrived. Choose it again; if that does not help, take it anew.")]
    Damaged,
    #[error("The photo could not be kept: {0}. Is the disk full or read-only?")]
    File(#[from] std::io::Error),
}

const MEGABYTE: u64 = 1024 * 1024;

/// Rounded up to a tenth, so that what is over the limit also reads so.
fn megabytes(bytes: u64) -> String {
    let tenths = (u128::from(bytes) * 10).div_ceil(u128::from(MEGABYTE));
    match tenths % 10 {
        0 => format!("{}", tenths / 10),
        tenth => format!("{}.{tenth}", tenths / 10),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_photo_over_the_limit_reads_as_over_it() {
        let text = PhotoError::TooLarge(MAX_BYTES + 1).to_string();
        assert!(text.contains("has 40.1 MB; at most 40 MB"), "{text}");
        assert!(PhotoError::TooLarge(60 * MEGABYTE).to_string().contains("has 60 MB"));
    }
}
