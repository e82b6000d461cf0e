//! A photo with the lines that were marked on it, each with its length.

use crate::measure::{Round, Unit};
use crate::notebook::{MarkPoint, Photo, PhotoMark};
use maud::{Markup, html};

/// How wide the drawing over a photo is, whatever the photo measures.
const ACROSS: f64 = 1000.0;
/// Half of the short stroke at each end of a line.
const END: f64 = 16.0;

/// The photo as wide as its place, its marks drawn over it. Their numbers are
/// those of the list beside it; `chosen` is drawn stronger.
pub fn marked_photo(photo: &Photo, marks: &[&PhotoMark], alt: &str, unit: Unit, chosen: Option<&PhotoMark>) -> Markup {
    let hash = &photo.hash.0;
    let (small, page) = (format!("/photos/{hash}/small"), format!("/photos/{hash}/page"));
    html! {
        div.marked {
            img src=(page) srcset=(format!("{small} 480w, {page} 1280w")) sizes="(min-width: 60rem) 40rem, 100vw"
                width=(photo.width) height=(photo.height) alt=(alt);
            @if !marks.is_empty() {
                svg viewBox=(format!("0 0 {ACROSS} {:.1}", down(photo))) aria-hidden="true" {
                    @for (i, mark) in marks.iter().enumerate() {
                        (line(photo, mark, (marks.len() > 1).then_some(i + 1), unit, chosen.is_some_and(|c| c.id == mark.id)))
                    }
                }
            }
        }
    }
}

fn down(photo: &Photo) -> f64 {
    ACROSS * photo.height as f64 / photo.width.max(1) as f64
}

fn place(photo: &Photo, point: MarkPoint) -> (f64, f64) {
    let part = |n: i64| n.clamp(0, MarkPoint::FULL) as f64 / MarkPoint::FULL as f64;
    (part(point.x) * ACROSS, part(point.y) * down(photo))
}

fn line(photo: &Photo, mark: &PhotoMark, number: Option<usize>, unit: Unit, chosen: bool) -> Markup {
    let (from, to) = (place(photo, mark.from), place(photo, mark.to));
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let long = dx.hypot(dy).max(1.0);
    let (ex, ey) = (-dy / long * END, dx / long * END);
    let end = |(x, y): (f64, f64)| format!("M{:.1} {:.1}L{:.1} {:.1}", x - ex, y - ey, x + ex, y + ey);
    let d = format!(
        "M{:.1} {:.1}L{:.1} {:.1}{}{}",
        from.0,
        from.1,
        to.0,
        to.1,
        end(from),
        end(to)
    );
    let (lead, alt) = match unit {
        Unit::Inch => (mark.length.inches(Round::Nearest), mark.length.cm(Round::Nearest)),
        Unit::Cm => (mark.length.cm(Round::Nearest), mark.length.inches(Round::Nearest)),
    };
    let (anchor, x, y) = words_at(from, to, down(photo));
    html! {
        g.mark-drawn.chosen[chosen] {
            path.mark-ground d=(d) {}
            path.mark-line d=(d) {}
            text.mark-words x=(format!("{x:.1}")) y=(format!("{y:.1}")) text-anchor=(anchor) {
                tspan.mark-lead x=(format!("{x:.1}")) dy="-0.25em" { @if let Some(number) = number { (number) ": " } (lead) }
                tspan.mark-alt x=(format!("{x:.1}")) dy="1.2em" { (alt) }
            }
        }
    }
}

/// Where the words of a line stand: over a level line, right of an upright
/// one, and inward where the edge is near.
fn words_at(from: (f64, f64), to: (f64, f64), down: f64) -> (&'static str, f64, f64) {
    const WIDE: f64 = 220.0;
    const HIGH: f64 = 64.0;
    let (x, y) = ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0);
    let inside = |y: f64| y.clamp(HIGH, (down - HIGH).max(HIGH));
    if (to.0 - from.0).abs() < (to.1 - from.1).abs() {
        let right = x + 2.0 * END;
        return if right + WIDE < ACROSS {
            ("start", right, inside(y))
        } else {
            ("end", x - 2.0 * END, inside(y))
        };
    }
    let y = if y > 2.0 * HIGH { y - HIGH } else { y + HIGH };
    match x {
        x if x < WIDE => ("start", x.max(END), inside(y)),
        x if x > ACROSS - WIDE => ("end", x.min(ACROSS - END), inside(y)),
        x => ("middle", x, inside(y)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;
    use crate::notebook::{Id, PhotoHash};

    #[test]
    fn a_line_keeps_its_place_and_stands_in_both_units() {
        let hash = PhotoHash("ab".repeat(32));
        let photo = Photo {
            hash: hash.clone(),
            width: 200,
            height: 100,
            bytes: 1,
            taken_at: None,
            added_at: chrono::DateTime::UNIX_EPOCH,
        };
        let mark = PhotoMark {
            id: Id::nil(),
            photo: hash,
            from: MarkPoint { x: 1000, y: 5000 },
            to: MarkPoint { x: 9000, y: 5000 },
            length: INCH * 20,
            what: "hem".into(),
            version: 1,
        };
        let drawn = marked_photo(&photo, &[&mark], "the hem", Unit::Inch, None).into_string();
        assert!(drawn.contains("viewBox=\"0 0 1000 500.0\""), "{drawn}");
        assert!(drawn.contains("M100.0 250.0L900.0 250.0"), "{drawn}");
        assert!(drawn.contains("20 in") && drawn.contains("50.8 cm"), "{drawn}");
        let bare = marked_photo(&photo, &[], "the hem", Unit::Inch, None).into_string();
        assert!(!bare.contains("<svg"), "{bare}");
    }
}
