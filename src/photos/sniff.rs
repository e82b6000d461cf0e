use super::PhotoError;
use image::ImageFormat;

/// The formats kept as originals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoFormat {
    Jpeg,
    Png,
    Webp,
}

impl PhotoFormat {
    pub const ALL: [PhotoFormat; 3] = [PhotoFormat::Jpeg, PhotoFormat::Png, PhotoFormat::Webp];

    /// Also the ending of the kept file.
    pub const fn name(self) -> &'static str {
        match self {
            PhotoFormat::Jpeg => "jpg",
            PhotoFormat::Png => "png",
            PhotoFormat::Webp => "webp",
        }
    }

    pub fn from_name(name: &str) -> Option<PhotoFormat> {
        PhotoFormat::ALL.into_iter().find(|f| f.name() == name)
    }

    pub(super) const fn for_reader(self) -> ImageFormat {
        match self {
            PhotoFormat::Jpeg => ImageFormat::Jpeg,
            PhotoFormat::Png => ImageFormat::Png,
            PhotoFormat::Webp => ImageFormat::WebP,
        }
    }
}

/// The format by content; the name of a file says nothing.
pub fn sniff(bytes: &[u8]) -> Result<PhotoFormat, PhotoError> {
    if bytes.is_empty() {
        return Err(PhotoError::Empty);
    }
    if bytes.get(4..8) == Some(b"ftyp") {
        return Err(media(bytes));
    }
    if bytes.starts_with(b"\0\0\0\x0cJXL \r\n\x87\n") || bytes.starts_with(&[0xff, 0x0a]) {
        return Err(PhotoError::OtherFormat("JPEG XL"));
    }
    match image::guess_format(bytes) {
        Ok(ImageFormat::Jpeg) => Ok(PhotoFormat::Jpeg),
        Ok(ImageFormat::Png) => Ok(PhotoFormat::Png),
        Ok(ImageFormat::WebP) => Ok(PhotoFormat::Webp),
        Ok(ImageFormat::Gif) => Err(PhotoError::OtherFormat("GIF")),
        Ok(ImageFormat::Tiff) => Err(PhotoError::OtherFormat("TIFF")),
        Ok(ImageFormat::Bmp) => Err(PhotoError::OtherFormat("BMP")),
        _ => Err(PhotoError::NotAPicture),
    }
}

/// ISO base media: the brands after "ftyp" tell HEIC and AVIF from films. The
/// first may be a general one; then the others decide.
fn media(bytes: &[u8]) -> PhotoError {
    let end = usize::from(bytes.get(3).copied().unwrap_or(0)).min(bytes.len());
    let others = bytes.get(16..end).unwrap_or(&[]).as_chunks::<4>().0;
    let main = bytes.get(8..12).and_then(|b| <&[u8; 4]>::try_from(b).ok());
    let mut general = false;
    for brand in main.into_iter().chain(others) {
        match brand {
            b"avif" | b"avis" => return PhotoError::OtherFormat("AVIF"),
            b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"hevx" | b"hevm" | b"hevs" => return PhotoError::Heic,
            b"crx " => return PhotoError::OtherFormat("raw camera"),
            b"mif1" | b"msf1" => general = true,
            _ => {}
        }
    }
    match (general, main) {
        (true, _) => PhotoError::Heic,
        (false, Some(b"isom" | b"iso2" | b"mp41" | b"mp42" | b"qt  " | b"3gp4" | b"3gp5" | b"M4V ")) => {
            PhotoError::Film
        }
        (false, _) => PhotoError::NotAPicture,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn content_decides() {
        let said = |bytes: &[u8]| sniff(bytes).expect_err("refused").to_string();
        assert!(said(b"").contains("empty"));
        assert!(said(b"Dear diary, this is no picture.").contains("not a picture"));
        assert!(said(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic").contains("Most Compatible"));
        assert!(said(b"\0\0\0\x18ftypavif\0\0\0\0").contains("AVIF"));
        assert!(said(b"\0\0\0\x18ftypisom\0\0\0\0").contains("a film"));
        assert!(said(b"\0\0\0\x1cftypmif1\0\0\0\0mif1avifmiaf").contains("AVIF"));
        assert!(said(b"\0\0\0\x1cftypmif1\0\0\0\0mif1heicmiaf").contains("Most Compatible"));
        assert!(said(b"\0\0\0\x18ftypmif1").contains("Most Compatible"));
        assert!(said(b"\0\0\0\xffftyp????\0\0\0\0hei").contains("not a picture"));
        assert!(said(b"\0\0\0\x0cJXL \r\n\x87\n\0").contains("JPEG XL"));
        assert!(said(b"GIF89a\x01\0\x01\0").contains("GIF"));
        assert!(said(b"\0\0\0\x18ftyp").contains("not a picture"));
        assert_eq!(sniff(b"\xff\xd8\xff\xe0").ok(), Some(PhotoFormat::Jpeg));
    }
}
