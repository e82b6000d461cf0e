//! A photo as light and dark, for finding printed marks on it.

use super::examine::decode;
use super::sized::on_white;
use super::{PhotoError, PhotoFormat};
use image::DynamicImage;

/// Row by row from the upper left, upright.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GreyPhoto {
    pub width: usize,
    pub height: usize,
    pub pixels: Vec<u8>,
}

pub(super) fn grey(bytes: &[u8], format: PhotoFormat) -> Result<GreyPhoto, PhotoError> {
    let (image, orientation) = decode(bytes, format)?;
    // Glass is paper: what is clear counts as white.
    let mut image = DynamicImage::ImageLuma8(DynamicImage::ImageRgb8(on_white(image)).into_luma8());
    image.apply_orientation(orientation);
    let image = image.into_luma8();
    Ok(GreyPhoto {
        width: image.width() as usize,
        height: image.height() as usize,
        pixels: image.into_raw(),
    })
}
