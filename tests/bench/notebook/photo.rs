//! A photo of 12 megapixels to all its sizes, against libvips.

use notchbook::photos::{PhotoSize, Store};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

const WIDTH: u32 = 4032;
const HEIGHT: u32 = 3024;
const ROUNDS: usize = 5;

/// Cloth-like: a weave, folds and noise.
fn picture() -> Vec<u8> {
    let mut state = 1_u32;
    let image = image::RgbImage::from_fn(WIDTH, HEIGHT, |x, y| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        let fold = ((x as f32 / 310.0).sin() * 40.0 + (y as f32 / 450.0).cos() * 30.0) as i32;
        let weave = if (x / 3 + y / 3) % 2 == 0 { 18 } else { -18 };
        let at = |base: i32| (base + fold + weave + (state & 15) as i32).clamp(0, 255) as u8;
        image::Rgb([at(150), at(110), at(90)])
    });
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 90);
    encoder.encode_image(&image).expect("a photo");
    bytes
}

pub fn print(place: &Path) {
    let bytes = picture();
    let file = place.join("photo.jpg");
    std::fs::write(&file, &bytes).expect("a file");
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for round in 0..ROUNDS {
        let root = place.join(format!("store-{round}"));
        let store = Store::open(&root).expect("a store");
        let begun = Instant::now();
        let photo = store.examine(&bytes).expect("a photo");
        store.keep(&bytes, &photo).expect("kept");
        let kept = begun.elapsed().as_secs_f64();
        let begun = Instant::now();
        for size in PhotoSize::ALL {
            store.sized(&photo.hash, photo.format, size).expect("a size");
        }
        ours.push((begun.elapsed().as_secs_f64(), kept));
        theirs.extend(vips(&file, place));
    }
    let middle = |mut v: Vec<f64>| {
        v.sort_by(f64::total_cmp);
        v[v.len() / 2]
    };
    let sizes = middle(ours.iter().map(|o| o.0).collect());
    let kept = middle(ours.iter().map(|o| o.1).collect());
    println!(
        "\nA photo of {:.1} megapixels, {:.1} MB: looked at and kept in {kept:.3} s, all {} sizes in {sizes:.3} s",
        f64::from(WIDTH * HEIGHT) / 1e6,
        bytes.len() as f64 / 1e6,
        PhotoSize::ALL.len()
    );
    match theirs.is_empty() {
        true => println!("  libvips is not installed (libvips-tools): nothing to compare with."),
        false => {
            let vips = middle(theirs);
            println!("  libvips' command line: {vips:.3} s; ratio {:.2}", sizes / vips);
        }
    }
}

/// The same sizes by `vipsthumbnail`, one after the other, as a shell would.
fn vips(file: &Path, place: &Path) -> Option<f64> {
    let begun = Instant::now();
    for size in PhotoSize::ALL {
        let side = size.longest();
        let out = place.join(format!("vips-{side}.jpg"));
        let done = Command::new("vipsthumbnail")
            .arg(file)
            .args(["--size", &format!("{side}x{side}>")])
            .arg("-o")
            .arg(format!("{}[Q=82,optimize_coding,interlace,strip]", out.display()))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .ok()?;
        if !done.success() {
            return None;
        }
    }
    Some(begun.elapsed().as_secs_f64())
}
