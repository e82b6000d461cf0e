use super::examine::decode;
use super::{PhotoError, PhotoFormat};
use fast_image_resize::images::{Image, ImageRef};
use fast_image_resize::{FilterType, PixelType, ResizeAlg, ResizeOptions, Resizer};
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

    /// What is made in one go where this one is asked for, the largest first:
    /// pages name both of theirs, paper is asked for seldom.
    pub(super) const fn made_together(self) -> &'static [PhotoSize] {
        match self {
            PhotoSize::Small | PhotoSize::Page => &[PhotoSize::Page, PhotoSize::Small],
            PhotoSize::Print => &[PhotoSize::Print],
        }
    }

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

/// JPEGs of the picture in these sizes, the largest first: upright, with nothing
/// in them but the pixels. It is read once for all of them.
pub(super) fn sized_jpegs(bytes: &[u8], format: PhotoFormat, sizes: &[PhotoSize]) -> Result<Vec<Vec<u8>>, PhotoError> {
    let (image, orientation) = decode(bytes, format)?;
    let mut from = on_white(image);
    let mut jpegs = Vec::new();
    for size in sizes {
        // A smaller one is made of the one before: of that there is still twice as much or nearly.
        from = shrink(from, size.longest())?;
        // Turned after it is made small: much less to turn.
        let mut upright = DynamicImage::ImageRgb8(from.clone());
        upright.apply_orientation(orientation);
        jpegs.push(jpeg_of(&upright.into_rgb8(), size.quality(), size.sampling())?);
    }
    Ok(jpegs)
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
pub(super) fn shrink(image: RgbImage, longest: u32) -> Result<RgbImage, PhotoError> {
    let (width, height) = image.dimensions();
    let side = width.max(height);
    if side <= longest {
        return Ok(image);
    }
    let scaled = |part: u32| {
        let rounded = (u64::from(part) * u64::from(longest) + u64::from(side) / 2) / u64::from(side);
        u32::try_from(rounded).unwrap_or(longest).clamp(1, longest)
    };
    let (to_width, to_height) = (scaled(width), scaled(height));
    let from = ImageRef::new(width, height, image.as_raw(), PixelType::U8x3).map_err(|_| PhotoError::Damaged)?;
    let mut to = Image::new(to_width, to_height, PixelType::U8x3);
    // Every pixel counts, so that a weave does not become waves.
    let carefully = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3));
    Resizer::new()
        .resize(&from, &mut to, &carefully)
        .map_err(|_| PhotoError::Damaged)?;
    RgbImage::from_raw(to_width, to_height, to.into_vec()).ok_or(PhotoError::Damaged)
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
