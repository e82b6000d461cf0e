//! Where the words of a piece stand: inside of it, on no line, and if possible on
//! one sheet.

use super::ink::{Ink, Words};
use super::piece::chords;
use crate::drafting::formats::DrawnPiece;
use crate::sheets::paper::letters::{letters, printable};
use kurbo::{Point, Rect, Size};

/// Millimetres of a point.
pub const POINT: f64 = 25.4 / 72.0;

/// Sizes of the name that are tried, in points; what stands under it is smaller.
const SIZES: [f64; 6] = [16.0, 13.0, 10.0, 8.0, 6.5, 5.0];
const UNDER: f64 = 0.72;
const LEADING: f64 = 1.35;

/// Places across and down that are tried.
const TRIED: usize = 28;

/// How wide a text is, in millimetres.
pub fn width(text: &str, size: f64, bold: bool) -> f64 {
    f64::from(letters(bold).width(text, size as f32)) * POINT
}

/// The name and how many to cut, apart; `clear` are parts of the piece that are seen on
/// one sheet alone.
pub fn words(piece: &DrawnPiece, clear: &[Rect]) -> [Ink; 2] {
    let name = printable(&piece.name);
    let cut = piece.cut_words();
    let bounds = piece.bounds();
    let chords = chords(piece);
    for size in SIZES {
        let name = shortened(&name, bounds.width() * 0.8, size);
        let room = Size::new(
            width(&name, size, true).max(width(&cut, size * UNDER, false)) + 3.0,
            size * (1.0 + UNDER) * LEADING * POINT + 2.0,
        );
        if let Some(middle) = place(piece, room, &chords, clear) {
            return lines(middle, size, &name, &cut);
        }
    }
    // A strip or a small piece: on its lines rather than nowhere.
    let size = SIZES[SIZES.len() - 1];
    lines(
        bounds.center(),
        size,
        &shortened(&name, bounds.width().max(25.0), size),
        &cut,
    )
}

fn shortened(name: &str, wide: f64, size: f64) -> String {
    let room = wide.max(20.0) / POINT;
    crate::sheets::paper::letters::one_line(name, room as f32, size as f32, true)
}

fn lines(middle: Point, size: f64, name: &str, cut: &str) -> [Ink; 2] {
    let high = size * POINT;
    let at = |text: &str, size: f64, bold: bool, y: f64| {
        Ink::Words(Words {
            at: Point::new(middle.x - width(text, size, bold) / 2.0, middle.y + y),
            size,
            bold,
            grey: false,
            text: text.to_string(),
        })
    };
    [
        at(name, size, true, -high * 0.15),
        at(cut, size * UNDER, false, high * LEADING * UNDER),
    ]
}

/// The middle of a rectangle so large inside of the piece and off its lines.
fn place(piece: &DrawnPiece, room: Size, chords: &[(Point, Point)], clear: &[Rect]) -> Option<Point> {
    let bounds = piece.bounds();
    let (wide, high) = (bounds.width() - room.width, bounds.height() - room.height);
    if wide <= 0.0 || high <= 0.0 {
        return None;
    }
    let mut best: Option<(f64, Point)> = None;
    for i in 0..=TRIED {
        for j in 0..=TRIED {
            let middle = Point::new(
                bounds.x0 + room.width / 2.0 + wide * i as f64 / TRIED as f64,
                bounds.y0 + room.height / 2.0 + high * j as f64 / TRIED as f64,
            );
            let mut cost = (middle - bounds.center()).hypot() / bounds.width().max(bounds.height());
            let rect = Rect::from_center_size(middle, room);
            let whole = clear.iter().any(|c| c.contains_rect(rect));
            if !whole {
                cost += 10.0;
            }
            if best.is_none_or(|(least, _)| cost < least)
                && inside(&piece.cut, middle)
                && !chords.iter().any(|(a, b)| crosses(rect, *a, *b))
            {
                best = Some((cost, middle));
            }
        }
    }
    best.map(|(_, p)| p)
}

fn inside(polygon: &[Point], p: Point) -> bool {
    let count = polygon.len();
    let mut within = false;
    for n in 0..count {
        let (a, b) = (polygon[n], polygon[(n + 1) % count]);
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
            within = !within;
        }
    }
    within
}

/// Whether a chord touches a rectangle.
fn crosses(rect: Rect, a: Point, b: Point) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (start, way, low, high) in [(a.x, b.x - a.x, rect.x0, rect.x1), (a.y, b.y - a.y, rect.y0, rect.y1)] {
        if way.abs() < 1e-12 {
            if start < low || start > high {
                return false;
            }
            continue;
        }
        let (one, other) = ((low - start) / way, (high - start) / way);
        from = from.max(one.min(other));
        to = to.min(one.max(other));
    }
    from <= to
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chord_is_seen_to_touch_a_rectangle() {
        let rect = Rect::new(10.0, 10.0, 20.0, 20.0);
        let p = Point::new;
        assert!(crosses(rect, p(0.0, 15.0), p(30.0, 15.0)));
        assert!(crosses(rect, p(12.0, 12.0), p(13.0, 13.0)));
        assert!(crosses(rect, p(0.0, 0.0), p(11.0, 11.0)));
        assert!(!crosses(rect, p(0.0, 15.0), p(9.0, 15.0)));
        assert!(!crosses(rect, p(0.0, 25.0), p(25.0, 40.0)));
        assert!(!crosses(rect, p(15.0, 0.0), p(15.0, 9.0)));
    }
}
