//! Photos as strips: one alone as large as a hand, several side by side.

use super::letters::{lines, printable};
use super::marks::Mark;
use super::said::{Part, Role};
use super::strips::{SMALL, SMALL_LINE, Strip};
use crate::sheets::document::Picture;

/// One that stands alone, and of several: so high at most.
const ALONE: f32 = 230.0;
const BESIDE: f32 = 125.0;
const ACROSS: usize = 3;
const BETWEEN: f32 = 14.0;
/// Lines under one.
const WORDS: usize = 4;

/// Those that cannot be read are left out.
pub fn photos(all: &[Picture], width: f32, block: usize) -> Vec<Strip> {
    let room = match all.len() {
        1 => (width * 0.7, ALONE),
        _ => ((width - BETWEEN * (ACROSS - 1) as f32) / ACROSS as f32, BESIDE),
    };
    let sized: Vec<(&Picture, (f32, f32))> = all.iter().filter_map(|p| Some((p, size(p, room)?))).collect();
    let rows = sized.chunks(ACROSS).enumerate();
    rows.map(|(n, row)| beside(row, room.0, (block, n * ACROSS))).collect()
}

fn size(picture: &Picture, room: (f32, f32)) -> Option<(f32, f32)> {
    let image = krilla::image::Image::from_jpeg(picture.jpeg.clone().into(), true).ok()?;
    let (wide, high) = image.size();
    let scale = (room.1 / high.max(1) as f32).min(room.0 / wide.max(1) as f32);
    Some((wide as f32 * scale, high as f32 * scale))
}

fn beside(row: &[(&Picture, (f32, f32))], each: f32, (block, first): (usize, usize)) -> Strip {
    let highest = row.iter().map(|(_, size)| size.1).fold(0.0, f32::max);
    let mut strip = Strip {
        height: highest,
        before: 10.0,
        ..Strip::default()
    };
    for (n, (picture, size)) in row.iter().enumerate() {
        let x = n as f32 * (each + BETWEEN);
        let part = |role: Role| Mark::at(&[Part::of_block(role, block, first + n)]);
        strip.marks.push(part(Role::Figure(printable(&picture.says))));
        strip.marks.push(Mark::Photo {
            // On one line at the foot.
            at: (x, highest - size.1),
            size: *size,
            jpeg: picture.jpeg.clone(),
        });
        let mut words = lines(&picture.under, each, SMALL, false);
        if words.len() > WORDS {
            words.truncate(WORDS);
            if let Some(last) = words.last_mut() {
                last.push('…');
            }
        }
        strip.marks.push(part(Role::Paragraph));
        for (line, text) in words.into_iter().enumerate() {
            let y = highest + 3.0 + line as f32 * SMALL_LINE;
            strip.marks.push(Mark::grey((x, y + SMALL), SMALL, text));
            strip.height = strip.height.max(y + SMALL_LINE);
        }
    }
    strip
}
