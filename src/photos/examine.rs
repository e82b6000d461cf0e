use super::sniff::{PhotoFormat, sniff};
use super::taken::taken_at;
use super::whole::is_whole_jpeg;
use super::{PhotoError, PhotoHash};
use chrono::{DateTime, Utc};
use image::error::{ImageError, LimitErrorKind};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};
use std::io::Cursor;

/// The largest original kept.
pub const MAX_BYTES: u64 = 40 * 1024 * 1024;
/// The most pixels decoded: a small file can claim to be a picture the size
/// of a house.
pub const MAX_PIXELS: u64 = 80_000_000;
/// The most memory one picture may take while it is decoded.
const MAX_MEMORY: u64 = 512 * 1024 * 1024;

/// What is known of a photo once it has been read to its last pixel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Examined {
    pub hash: PhotoHash,
    pub format: PhotoFormat,
    /// As it is shown, turned upright.
    pub width: u32,
    pub height: u32,
    pub bytes: u64,
    pub taken_at: Option<DateTime<Utc>>,
}

/// Reads the whole picture. Every limit is checked before anything is decoded.
pub fn examine(bytes: &[u8]) -> Result<Examined, PhotoError> {
    let size = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
    if size > MAX_BYTES {
        return Err(PhotoError::TooLarge(size));
    }
    let format = sniff(bytes)?;
    if format == PhotoFormat::Jpeg && !is_whole_jpeg(bytes) {
        return Err(PhotoError::Damaged);
    }
    let (image, orientation) = decode(bytes, format)?;
    let (width, height) = if turns_sideways(orientation) {
        (image.height(), image.width())
    } else {
        (image.width(), image.height())
    };
    Ok(Examined {
        hash: PhotoHash::of(bytes),
        format,
        width,
        height,
        bytes: size,
        taken_at: taken_at(bytes),
    })
}

/// The pixels as they lie in the file, and how they are to be turned.
pub(super) fn decode(bytes: &[u8], format: PhotoFormat) -> Result<(DynamicImage, Orientation), PhotoError> {
    let mut limits = Limits::default();
    limits.max_alloc = Some(MAX_MEMORY);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format.for_reader());
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|e| refusal(&e, (0, 0)))?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MAX_PIXELS || decoder.total_bytes() > MAX_MEMORY {
        return Err(PhotoError::TooManyPixels { width, height });
    }
    // A photo whose note about its orientation is unreadable is shown as it lies.
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let image = DynamicImage::from_decoder(decoder).map_err(|e| refusal(&e, (width, height)))?;
    Ok((image, orientation))
}

fn refusal(error: &ImageError, (width, height): (u32, u32)) -> PhotoError {
    match error {
        ImageError::Limits(limit) if width > 0 && !matches!(limit.kind(), LimitErrorKind::Unsupported { .. }) => {
            PhotoError::TooManyPixels { width, height }
        }
        _ => PhotoError::Damaged,
    }
}

fn turns_sideways(orientation: Orientation) -> bool {
    matches!(
        orientation,
        Orientation::Rotate90 | Orientation::Rotate270 | Orientation::Rotate90FlipH | Orientation::Rotate270FlipH
    )
}
