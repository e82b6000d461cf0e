use super::examine::decode;
use super::{PhotoError, PhotoFormat};
use image::imageops::FilterType;
use image::{DynamicImage, RgbImage};
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

/// How large a photo is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PhotoSize {
    /// In a list.
    Small,
    /// On a page.
    Page,
    /// On paper.
    Print,
}

impl PhotoSize {
    pub const ALL: [PhotoSize; 3] = [PhotoSize::Small, PhotoSize::Page, PhotoSize::Print];

    /// Pixels of the longest side.
    pub const fn longest(self) -> u32 {
        match self {
            PhotoSize::Small => 480,
            PhotoSize::Page => 1280,
            PhotoSize::Print => 2400,
        }
    }

    const fn quality(self) -> u8 {
        match self {
            PhotoSize::Small => 78,
            PhotoSize::Page => 82,
            PhotoSize::Print => 90,
        }
    }

    /// Paper shows a coloured thread on cloth that a screen does not.
    const fn sampling(self) -> SamplingFactor {
        match self {
            PhotoSize::Small | PhotoSize::Page => SamplingFactor::R_4_2_0,
            PhotoSize::Print => SamplingFactor::R_4_4_4,
        }
    }
}

/// A JPEG of the picture, upright, with nothing in it but the pixels.
pub(super) fn sized_jpeg(bytes: &[u8], format: PhotoFormat, size: PhotoSize) -> Result<Vec<u8>, PhotoError> {
    let (image, orientation) = decode(bytes, format)?;
    // Turned after it is made small: much less to turn.
    let mut image = shrink(DynamicImage::ImageRgb8(on_white(image)), size.longest());
    image.apply_orientation(orientation);
    jpeg_of(&image.into_rgb8(), size.quality(), size.sampling())
}

pub(super) fn jpeg_of(image: &RgbImage, quality: u8, sampling: SamplingFactor) -> Result<Vec<u8>, PhotoError> {
    let (Ok(width), Ok(height)) = (u16::try_from(image.width()), u16::try_from(image.height())) else {
        return Err(PhotoError::Damaged);
    };
    let mut jpeg = Vec::new();
    let mut encoder = Encoder::new(&mut jpeg, quality);
    encoder.set_sampling_factor(sampling);
    encoder.set_progressive(true);
    encoder.set_optimized_huffman_tables(true);
    encoder
        .encode(image.as_raw(), width, height, ColorType::Rgb)
        .map_err(|_| PhotoError::Damaged)?;
    Ok(jpeg)
}

/// Never larger than it is.
pub(super) fn shrink(image: DynamicImage, longest: u32) -> DynamicImage {
    let (width, height) = (image.width(), image.height());
    let side = width.max(height);
    if side <= longest {
        return image;
    }
    let scaled = |part: u32, to: u32| {
        let rounded = (u64::from(part) * u64::from(to) + u64::from(side) / 2) / u64::from(side);
        u32::try_from(rounded).unwrap_or(to).clamp(1, to)
    };
    // By means of areas to twice the size, then carefully: a photo of a phone
    // becomes a small one in a fifth of the time, and even a weave of single
    // threads differs by less than shows (36 dB and more).
    let near = longest * 2;
    let image = if side > near {
        image.thumbnail_exact(scaled(width, near), scaled(height, near))
    } else {
        image
    };
    image.resize_exact(scaled(width, longest), scaled(height, longest), FilterType::Lanczos3)
}

/// JPEG knows no transparency: what shines through is white paper.
pub(super) fn on_white(image: DynamicImage) -> RgbImage {
    if !image.color().has_alpha() {
        return image.into_rgb8();
    }
    let from = image.into_rgba8();
    let mut flat = RgbImage::new(from.width(), from.height());
    for (to, from) in flat.pixels_mut().zip(from.pixels()) {
        let [r, g, b, a] = from.0.map(u32::from);
        let over = |c: u32| u8::try_from((c * a + 255 * (255 - a) + 127) / 255).unwrap_or(255);
        to.0 = [over(r), over(g), over(b)];
    }
    flat
}
