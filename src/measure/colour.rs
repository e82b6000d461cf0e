//! Colours as measured: sRGB as it is written, CIE L*a*b* (D65, 2 degrees),
//! the CIEDE2000 difference, the contrast of the web guidelines.
//!
//! Written out here rather than taken from a library: it is a page of published
//! formulas, every one of which tests/handbook holds against printed values,
//! and the white point then is the one those values are printed for.

use std::fmt;

/// An sRGB colour, 8 bits a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rgb(pub [u8; 3]);

/// CIE L*a*b*.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lab {
    /// 0 black to 100 white.
    pub l: f64,
    pub a: f64,
    pub b: f64,
}

/// X, Y and Z of white: D65, 2 degrees, Y = 1.
pub const D65: [f64; 3] = [0.95047, 1.0, 1.08883];

/// What is seen of a cloth with the eyes half closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lightness {
    Dark,
    Medium,
    Light,
}

impl Lightness {
    /// Thirds of the scale of L*, which is made so that equal steps look equal.
    pub fn of(l: f64) -> Lightness {
        if l < 100.0 / 3.0 {
            Lightness::Dark
        } else if l < 200.0 / 3.0 {
            Lightness::Medium
        } else {
            Lightness::Light
        }
    }

    pub const fn name(self) -> &'static str {
        match self {
            Lightness::Dark => "dark",
            Lightness::Medium => "medium",
            Lightness::Light => "light",
        }
    }
}

impl fmt::Display for Rgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [r, g, b] = self.0;
        write!(f, "#{r:02x}{g:02x}{b:02x}")
    }
}

impl Rgb {
    /// `#rrggbb`, and nothing else.
    pub fn parse(text: &str) -> Option<Rgb> {
        let digits = text.strip_prefix('#').filter(|d| d.len() == 6)?;
        if !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
            return None;
        }
        let channel = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
        Some(Rgb([channel(0)?, channel(2)?, channel(4)?]))
    }

    /// As much light of each primary, 0 to 1.
    pub fn linear(self) -> [f64; 3] {
        self.0.map(|c| {
            let v = f64::from(c) / 255.0;
            if v <= 0.04045 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        })
    }

    /// The nearest colour that can be written; what lies outside is cut off.
    pub fn from_linear(light: [f64; 3]) -> Rgb {
        Rgb(light.map(|v| {
            let v = v.clamp(0.0, 1.0);
            let v = if v <= 0.003_130_8 {
                v * 12.92
            } else {
                1.055 * v.powf(1.0 / 2.4) - 0.055
            };
            // Between 0 and 255 by the line above; not a number becomes 0.
            (v * 255.0).round() as u8
        }))
    }

    pub fn lab(self) -> Lab {
        let light = self.linear();
        Lab::from_xyz(TO_XYZ.map(|row| dot(row, light)), D65)
    }

    /// The grey that is as light.
    pub fn in_lightness_only(self) -> Rgb {
        Lab {
            l: self.lab().l,
            a: 0.0,
            b: 0.0,
        }
        .rgb()
    }

    /// Relative luminance of the web guidelines, 0 to 1.
    pub fn luminance(self) -> f64 {
        dot([0.2126, 0.7152, 0.0722], self.linear())
    }

    /// Contrast of the web guidelines, 1 to 21, whichever of the two is lighter.
    pub fn contrast(self, other: Rgb) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }
}

impl Lab {
    /// `xyz` and `white` in the same scale.
    pub fn from_xyz(xyz: [f64; 3], white: [f64; 3]) -> Lab {
        let [x, y, z] = [0, 1, 2].map(|n| curve(xyz[n] / white[n]));
        Lab {
            l: 116.0 * y - 16.0,
            a: 500.0 * (x - y),
            b: 200.0 * (y - z),
        }
    }

    /// Red, green and blue light, under 0 or over 1 where no screen shows it.
    pub fn linear(self) -> [f64; 3] {
        let y = (self.l + 16.0) / 116.0;
        let parts = [y + self.a / 500.0, y, y - self.b / 200.0];
        let xyz = [0, 1, 2].map(|n| D65[n] * curve_back(parts[n]));
        FROM_XYZ.map(|row| dot(row, xyz))
    }

    pub fn rgb(self) -> Rgb {
        Rgb::from_linear(self.linear())
    }

    /// CIEDE2000 with all weights 1: about 1 is just seen side by side.
    /// After Sharma, Wu and Dalal 2005, whose pairs test the wrap of the hue.
    pub fn difference(self, other: Lab) -> f64 {
        let chroma = |lab: Lab| lab.a.hypot(lab.b);
        let mean_chroma7 = f64::midpoint(chroma(self), chroma(other)).powi(7);
        let g = 0.5 * (1.0 - (mean_chroma7 / (mean_chroma7 + 25f64.powi(7))).sqrt());
        let polar = |lab: Lab| {
            let a = lab.a * (1.0 + g);
            let hue = if a == 0.0 && lab.b == 0.0 {
                0.0
            } else {
                lab.b.atan2(a).to_degrees().rem_euclid(360.0)
            };
            (a.hypot(lab.b), hue)
        };
        let ((c1, h1), (c2, h2)) = (polar(self), polar(other));
        let grey = c1 * c2 == 0.0;
        let turn = h2 - h1;
        // The shorter way round.
        let turn = match () {
            () if grey => 0.0,
            () if turn > 180.0 => turn - 360.0,
            () if turn < -180.0 => turn + 360.0,
            () => turn,
        };
        let dl = other.l - self.l;
        let dc = c2 - c1;
        let dh = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin();
        let l = f64::midpoint(self.l, other.l);
        let c = f64::midpoint(c1, c2);
        let h = match () {
            () if grey => h1 + h2,
            () if (h1 - h2).abs() <= 180.0 => f64::midpoint(h1, h2),
            () if h1 + h2 < 360.0 => (h1 + h2 + 360.0) / 2.0,
            () => (h1 + h2 - 360.0) / 2.0,
        };
        let cos = |degrees: f64| degrees.to_radians().cos();
        let t =
            1.0 - 0.17 * cos(h - 30.0) + 0.24 * cos(2.0 * h) + 0.32 * cos(3.0 * h + 6.0) - 0.20 * cos(4.0 * h - 63.0);
        let sl = 1.0 + 0.015 * (l - 50.0).powi(2) / (20.0 + (l - 50.0).powi(2)).sqrt();
        let sc = 1.0 + 0.045 * c;
        let sh = 1.0 + 0.015 * c * t;
        let bend = 30.0 * (-((h - 275.0) / 25.0).powi(2)).exp();
        let rc = 2.0 * (c.powi(7) / (c.powi(7) + 25f64.powi(7))).sqrt();
        let rt = -(2.0 * bend).to_radians().sin() * rc;
        let (l, c, h) = (dl / sl, dc / sc, dh / sh);
        (l * l + c * c + h * h + rt * c * h).max(0.0).sqrt()
    }
}

/// sRGB primaries and D65: IEC 61966-2-1, worked out to more digits so that
/// white is exactly the white above.
const TO_XYZ: [[f64; 3]; 3] = [
    [0.412_456_4, 0.357_576_1, 0.180_437_5],
    [0.212_672_9, 0.715_152_2, 0.072_175_0],
    [0.019_333_9, 0.119_192_0, 0.950_304_1],
];
const FROM_XYZ: [[f64; 3]; 3] = [
    [3.240_454_2, -1.537_138_5, -0.498_531_4],
    [-0.969_266_0, 1.876_010_8, 0.041_556_0],
    [0.055_643_4, -0.204_025_9, 1.057_225_2],
];

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

const BREAK: f64 = 6.0 / 29.0;

fn curve(t: f64) -> f64 {
    if t > BREAK.powi(3) {
        t.cbrt()
    } else {
        t / (3.0 * BREAK * BREAK) + 4.0 / 29.0
    }
}

fn curve_back(t: f64) -> f64 {
    if t > BREAK {
        t.powi(3)
    } else {
        3.0 * BREAK * BREAK * (t - 4.0 / 29.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_colour_is_written_one_way() {
        assert_eq!(Rgb::parse("#C2a878").map(|c| c.to_string()).as_deref(), Some("#c2a878"));
        for bad in ["", "c2a878", "#c2a87", "#c2a8788", "#c2a87g", "#+2a878", "#ää9", "red"] {
            assert_eq!(Rgb::parse(bad), None, "{bad}");
        }
    }

    #[test]
    fn there_and_back_is_the_same_colour() {
        for r in (0..=255u8).step_by(17) {
            for g in (0..=255u8).step_by(15) {
                for b in (0..=255u8).step_by(51) {
                    let colour = Rgb([r, g, b]);
                    assert_eq!(colour.lab().rgb(), colour);
                    let [x, y, z] = colour.in_lightness_only().0;
                    assert!(x == y && y == z, "{colour} becomes {:?}", [x, y, z]);
                    let grey = colour.in_lightness_only().lab().l;
                    assert!((grey - colour.lab().l).abs() < 0.4, "{colour}");
                }
            }
        }
    }

    #[test]
    fn the_difference_is_the_same_both_ways() {
        let some = ["#000000", "#ffffff", "#c2a878", "#1d2450", "#00ff00", "#7f3300"];
        let some = some.map(|c| Rgb::parse(c).expect("a colour").lab());
        for a in some {
            assert_eq!(a.difference(a), 0.0);
            for b in some {
                assert!((a.difference(b) - b.difference(a)).abs() < 1e-9);
            }
        }
    }
}
