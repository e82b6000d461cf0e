use super::examine::decode;
use super::{PhotoError, PhotoFormat};
use fast_image_resize::{ResizeOptions, Resizer};
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
    let mut image = shrink(eight_bits(image), size.longest())?;
    image.apply_orientation(orientation);
    let flat = on_white(image);
    let (Ok(width), Ok(height)) = (u16::try_from(flat.width()), u16::try_from(flat.height())) else {
        return Err(PhotoError::Damaged);
    };
    let mut jpeg = Vec::new();
    let mut encoder = Encoder::new(&mut jpeg, size.quality());
    encoder.set_sampling_factor(size.sampling());
    encoder.set_progressive(true);
    encoder.set_optimized_huffman_tables(true);
    encoder
        .encode(flat.as_raw(), width, height, ColorType::Rgb)
        .map_err(|_| PhotoError::Damaged)?;
    Ok(jpeg)
}

fn eight_bits(image: DynamicImage) -> DynamicImage {
    if image.color().has_alpha() {
        DynamicImage::ImageRgba8(image.into_rgba8())
    } else {
        DynamicImage::ImageRgb8(image.into_rgb8())
    }
}

/// Never larger than it is.
fn shrink(image: DynamicImage, longest: u32) -> Result<DynamicImage, PhotoError> {
    let (width, height) = (image.width(), image.height());
    let side = width.max(height);
    if side <= longest {
        return Ok(image);
    }
    let scaled = |part: u32| {
        let rounded = (u64::from(part) * u64::from(longest) + u64::from(side) / 2) / u64::from(side);
        u32::try_from(rounded).unwrap_or(longest).clamp(1, longest)
    };
    let mut small = DynamicImage::new(scaled(width), scaled(height), image.color());
    Resizer::new()
        .resize(&image, &mut small, &ResizeOptions::new())
        .map_err(|_| PhotoError::Damaged)?;
    Ok(small)
}

/// JPEG knows no transparency: what shines through is white paper.
fn on_white(image: DynamicImage) -> RgbImage {
    match image {
        DynamicImage::ImageRgba8(from) => {
            let mut flat = RgbImage::new(from.width(), from.height());
            for (to, from) in flat.pixels_mut().zip(from.pixels()) {
                let [r, g, b, a] = from.0.map(u32::from);
                let over = |c: u32| u8::try_from((c * a + 255 * (255 - a) + 127) / 255).unwrap_or(255);
                to.0 = [over(r), over(g), over(b)];
            }
            flat
        }
        other => other.into_rgb8(),
    }
}
