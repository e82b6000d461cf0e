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
    // ISO base media: the brand after "ftyp" tells HEIC and AVIF from films.
    if bytes.get(4..8) == Some(b"ftyp") {
        return Err(match bytes.get(8..12) {
            Some(b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"hevx" | b"hevm" | b"hevs" | b"mif1" | b"msf1") => {
                PhotoError::Heic
            }
            Some(b"avif" | b"avis") => PhotoError::OtherFormat("AVIF"),
            _ => PhotoError::NotAPicture,
        });
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
        assert!(said(b"\0\0\0\x18ftypisom\0\0\0\0").contains("not a picture"));
        assert!(said(b"GIF89a\x01\0\x01\0").contains("GIF"));
        assert!(said(b"\0\0\0\x18ftyp").contains("not a picture"));
        assert_eq!(sniff(b"\xff\xd8\xff\xe0").ok(), Some(PhotoFormat::Jpeg));
    }
}
