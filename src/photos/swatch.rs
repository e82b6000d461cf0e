//! A swatch: the part of a photo a cloth is known by, its average colour and
//! its main ones.

use super::examine::decode;
use super::sized::{jpeg_of, on_white, shrink};
use super::{PhotoError, PhotoFormat};
use crate::measure::{Lab, Rgb};
use image::{DynamicImage, RgbImage, imageops};
use serde::{Deserialize, Serialize};

/// A rectangle of a picture as it is shown, in hundredths of a per cent of its
/// width and height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Region {
    pub left: u32,
    pub top: u32,
    pub width: u32,
    pub height: u32,
}

impl Region {
    pub const WHOLE: u32 = 10_000;
    /// Two per cent: less of a photo is too few threads to know a cloth by.
    pub const LEAST: u32 = 200;

    /// Inside the picture and not too small.
    pub fn is_sound(self) -> bool {
        let side = |from: u32, long: u32| {
            (Region::LEAST..=Region::WHOLE).contains(&long)
                && from.checked_add(long).is_some_and(|to| to <= Region::WHOLE)
        };
        side(self.left, self.width) && side(self.top, self.height)
    }

    /// In pixels of a picture: left, top, width, height; at least one pixel.
    fn pixels(self, width: u32, height: u32) -> (u32, u32, u32, u32) {
        let part = |n: u32, of: u32| {
            let at = u64::from(n) * u64::from(of) / u64::from(Region::WHOLE);
            u32::try_from(at).unwrap_or(of).min(of)
        };
        let side = |from: u32, long: u32, of: u32| {
            let start = part(from, of).min(of.saturating_sub(1));
            let end = part(from.saturating_add(long), of).clamp(start + 1, of.max(start + 1));
            (start, end - start)
        };
        let ((x, w), (y, h)) = (side(self.left, self.width, width), side(self.top, self.height, height));
        (x, y, w, h)
    }
}

/// What is seen in a region.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Colours {
    /// The light of all of it mixed, as from across the room.
    pub average: Rgb,
    /// One to five colours that can be told apart, the largest share first, in per cent.
    pub main: Vec<(Rgb, u32)>,
}

/// Pixels of the longest side of a swatch.
const SHOWN: u32 = 480;
const QUALITY: u8 = 82;
/// Pixels looked at for the colours.
const LOOKED_AT: u64 = 12_000;
const MOST_COLOURS: usize = 5;
/// Colours nearer than this (CIEDE2000) are one: shades of a weave, light that
/// falls from one side.
const ALIKE: f64 = 9.0;
/// A smaller share, in per cent, is a thread or a speck.
const SPECK: f64 = 3.0;
const ROUNDS: usize = 15;

pub(super) fn colours(bytes: &[u8], format: PhotoFormat, region: Region) -> Result<Colours, PhotoError> {
    Ok(of_pixels(&cropped(bytes, format, region)?))
}

/// The region as a JPEG with nothing in it but its pixels.
pub(super) fn picture(bytes: &[u8], format: PhotoFormat, region: Region) -> Result<Vec<u8>, PhotoError> {
    let crop = shrink(cropped(bytes, format, region)?, SHOWN)?;
    jpeg_of(&crop, QUALITY, jpeg_encoder::SamplingFactor::R_4_2_0)
}

fn cropped(bytes: &[u8], format: PhotoFormat, region: Region) -> Result<RgbImage, PhotoError> {
    let (image, orientation) = decode(bytes, format)?;
    let mut image = DynamicImage::ImageRgb8(on_white(image));
    image.apply_orientation(orientation);
    let (x, y, width, height) = region.pixels(image.width(), image.height());
    Ok(imageops::crop_imm(&image.into_rgb8(), x, y, width, height).to_image())
}

fn of_pixels(picture: &RgbImage) -> Colours {
    // A grid of single pixels, not a smaller picture: blending would make
    // colours of a check that are in no thread of it.
    let all = u64::from(picture.width()) * u64::from(picture.height());
    let stride = usize::try_from(all.div_ceil(LOOKED_AT).isqrt().max(1)).unwrap_or(1);
    let pixels: Vec<Rgb> = picture
        .rows()
        .step_by(stride)
        .flat_map(|row| row.step_by(stride).map(|p| Rgb(p.0)))
        .collect();
    let average = mixed(pixels.iter().map(|p| p.linear()));
    let points: Vec<Lab> = pixels.iter().map(|p| p.lab()).collect();
    Colours {
        average,
        main: main(&points),
    }
}

/// Light adds up; what is written in a file does not.
fn mixed(lights: impl Iterator<Item = [f64; 3]>) -> Rgb {
    let (mut sum, mut count) = ([0.0; 3], 0.0);
    for light in lights {
        for (sum, part) in sum.iter_mut().zip(light) {
            *sum += part;
        }
        count += 1.0;
    }
    Rgb::from_linear(sum.map(|s| s / f64::max(count, 1.0)))
}

/// k-means in L*a*b*, begun with the points that lie farthest from each other,
/// so the same picture always gives the same colours; then what looks alike is
/// put together and specks are left out.
fn main(points: &[Lab]) -> Vec<(Rgb, u32)> {
    let mut centres = begin(points);
    let mut shares = vec![0usize; centres.len()];
    for _ in 0..ROUNDS {
        let mut sums = vec![([0.0; 3], 0usize); centres.len()];
        for p in points {
            let (sum, count) = &mut sums[nearest(&centres, *p)];
            for (sum, part) in sum.iter_mut().zip([p.l, p.a, p.b]) {
                *sum += part;
            }
            *count += 1;
        }
        shares = sums.iter().map(|s| s.1).collect();
        let moved: Vec<Lab> = sums
            .iter()
            .zip(&centres)
            .map(|((sum, count), old)| mean(*sum, *count).unwrap_or(*old))
            .collect();
        let still = moved.iter().zip(&centres).all(|(a, b)| apart(*a, *b) < 0.01);
        centres = moved;
        if still {
            break;
        }
    }
    let mut groups: Vec<(Lab, f64)> = centres.into_iter().zip(shares.into_iter().map(|n| n as f64)).collect();
    groups.retain(|(_, share)| *share > 0.0);
    while let Some((a, b)) = closest(&groups).filter(|_| groups.len() > 1) {
        let ((one, n), (other, m)) = (groups[a], groups[b]);
        let part = |x: f64, y: f64| (x * n + y * m) / (n + m);
        groups[a] = (
            Lab {
                l: part(one.l, other.l),
                a: part(one.a, other.a),
                b: part(one.b, other.b),
            },
            n + m,
        );
        groups.remove(b);
    }
    groups.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.l.total_cmp(&b.0.l)));
    let all = points.len().max(1) as f64;
    let share = |n: f64| n * 100.0 / all;
    let first = groups.first().map_or(0.0, |g| g.1);
    groups
        .into_iter()
        .filter(|(_, n)| share(*n) >= SPECK || *n >= first)
        .map(|(lab, n)| (lab.rgb(), (share(n).round() as u32).clamp(1, 100)))
        .collect()
}

fn begin(points: &[Lab]) -> Vec<Lab> {
    let Some(first) = mean(
        points
            .iter()
            .fold([0.0; 3], |s, p| [s[0] + p.l, s[1] + p.a, s[2] + p.b]),
        points.len(),
    ) else {
        return Vec::new();
    };
    let mut centres = vec![first];
    let mut far: Vec<f64> = points.iter().map(|p| apart(*p, first)).collect();
    while centres.len() < MOST_COLOURS {
        let (at, distance) = far
            .iter()
            .enumerate()
            .fold((0, 0.0), |best, (n, d)| if *d > best.1 { (n, *d) } else { best });
        if distance < 1.0 {
            break;
        }
        centres.push(points[at]);
        for (d, p) in far.iter_mut().zip(points) {
            *d = d.min(apart(*p, points[at]));
        }
    }
    centres
}

fn mean(sum: [f64; 3], count: usize) -> Option<Lab> {
    let n = count as f64;
    (count > 0).then(|| Lab {
        l: sum[0] / n,
        a: sum[1] / n,
        b: sum[2] / n,
    })
}

fn apart(p: Lab, q: Lab) -> f64 {
    (p.l - q.l).powi(2) + (p.a - q.a).powi(2) + (p.b - q.b).powi(2)
}

fn nearest(centres: &[Lab], p: Lab) -> usize {
    let best = centres.iter().enumerate().map(|(n, c)| (n, apart(*c, p)));
    best.min_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |b| b.0)
}

/// The two that look most alike, if they do.
fn closest(groups: &[(Lab, f64)]) -> Option<(usize, usize)> {
    let mut best = None;
    for (n, (a, _)) in groups.iter().enumerate() {
        for (m, (b, _)) in groups.iter().enumerate().skip(n + 1) {
            let d = a.difference(*b);
            if d < ALIKE && best.is_none_or(|(least, _)| d < least) {
                best = Some((d, (n, m)));
            }
        }
    }
    best.map(|(_, pair)| pair)
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::Rgb as Pixel;

    fn checked(width: u32, height: u32, colour: impl Fn(u32, u32) -> [u8; 3]) -> Colours {
        of_pixels(&RgbImage::from_fn(width, height, |x, y| Pixel(colour(x, y))))
    }

    #[test]
    fn a_plain_cloth_has_one_colour() {
        let plain = checked(300, 200, |_, _| [40, 80, 120]);
        assert_eq!(plain.average, Rgb([40, 80, 120]));
        assert_eq!(plain.main, [(Rgb([40, 80, 120]), 100)]);
        // Threads a little lighter and darker are still one cloth.
        let woven = checked(
            300,
            200,
            |x, y| if (x + y) % 2 == 0 { [44, 84, 124] } else { [36, 76, 116] },
        );
        assert_eq!(woven.main.len(), 1, "{woven:?}");
    }

    #[test]
    fn a_print_has_its_colours_by_their_share() {
        // Four fifths cream, the rest rust, a line of black.
        let print = checked(500, 400, |x, y| match (x, y) {
            (_, 0) => [0, 0, 0],
            (0..100, _) => [150, 70, 30],
            _ => [240, 230, 210],
        });
        let shares: Vec<u32> = print.main.iter().map(|m| m.1).collect();
        // Of 100, one row in 400 of black left aside.
        assert_eq!(shares.len(), 2, "{print:?}");
        assert!(shares[0].abs_diff(80) <= 1 && shares[1].abs_diff(20) <= 1, "{print:?}");
        assert!(print.main[0].0.lab().difference(Rgb([240, 230, 210]).lab()) < 1.0);
        assert!(print.main[1].0.lab().difference(Rgb([150, 70, 30]).lab()) < 1.0);
    }

    #[test]
    fn black_and_white_threads_look_as_bright_as_their_light() {
        let half = checked(200, 200, |x, _| if x < 100 { [0; 3] } else { [255; 3] });
        // Half the light is far more than half of what is written: 188, not 128.
        assert_eq!(half.average, Rgb([188; 3]));
        assert_eq!(half.main.len(), 2);
    }

    #[test]
    fn regions_stay_inside() {
        let region = |left, top, width, height| Region {
            left,
            top,
            width,
            height,
        };
        assert!(region(0, 0, 10_000, 10_000).is_sound());
        for bad in [
            region(1, 0, 10_000, 10_000),
            region(0, 0, 199, 500),
            region(u32::MAX, 0, 500, 500),
            region(0, u32::MAX, u32::MAX, u32::MAX),
        ] {
            assert!(!bad.is_sound(), "{bad:?}");
            for (w, h) in [(1, 1), (7, 3), (4000, 3000)] {
                let (x, y, wide, high) = bad.pixels(w, h);
                assert!(wide >= 1 && high >= 1 && x + wide <= w && y + high <= h, "{bad:?}");
            }
        }
        assert_eq!(region(2500, 5000, 5000, 5000).pixels(400, 200), (100, 100, 200, 100));
    }
}
