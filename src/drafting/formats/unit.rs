//! What one of a file's units is.

/// One unit of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileUnit {
    Millimetre,
    Centimetre,
    Inch,
    /// 1/72 in.
    Point,
    /// 1/96 in.
    Pixel,
}

impl FileUnit {
    pub const ALL: [FileUnit; 5] = [
        FileUnit::Millimetre,
        FileUnit::Centimetre,
        FileUnit::Inch,
        FileUnit::Point,
        FileUnit::Pixel,
    ];

    pub const fn millimetres(self) -> f64 {
        match self {
            FileUnit::Millimetre => 1.0,
            FileUnit::Centimetre => 10.0,
            FileUnit::Inch => 25.4,
            FileUnit::Point => 25.4 / 72.0,
            FileUnit::Pixel => 25.4 / 96.0,
        }
    }

    /// As it stands in forms.
    pub const fn word(self) -> &'static str {
        match self {
            FileUnit::Millimetre => "mm",
            FileUnit::Centimetre => "cm",
            FileUnit::Inch => "in",
            FileUnit::Point => "pt",
            FileUnit::Pixel => "px",
        }
    }

    pub const fn name(self) -> &'static str {
        match self {
            FileUnit::Millimetre => "1 millimetre",
            FileUnit::Centimetre => "1 centimetre",
            FileUnit::Inch => "1 inch",
            FileUnit::Point => "1 point (1/72 in)",
            FileUnit::Pixel => "1 pixel (1/96 in)",
        }
    }

    pub fn read(word: &str) -> Option<FileUnit> {
        FileUnit::ALL.into_iter().find(|u| u.word() == word)
    }
}
