//! Strips on pages: one below the other, a new page where the next one does
//! not fit, the heads of a table again on each, and at the foot of every page
//! what it belongs to and which of how many it is.

use super::Paper;
use super::letters::{UNKNOWN, letters, one_line};
use super::marks::{Mark, Stroke};
use super::strips::{Strip, small, strips_of};
use crate::sheets::document::Document;

/// Free at the sides, above and below, in points: 15, 13 and 17 mm. Printers
/// at home reach within 6 mm of the edge.
const SIDE: f32 = 42.5;
const TOP: f32 = 37.0;
const BOTTOM: f32 = 48.0;

pub type Page = Vec<Mark>;

pub fn pages(document: &Document, paper: Paper) -> Vec<Page> {
    let (wide, high) = paper.points();
    let room = (wide - 2.0 * SIDE, high - TOP - BOTTOM);
    let mut all = strips_of(document, room.0);
    let replaced = |mark: &Mark| matches!(mark, Mark::Words { text, .. } if text.contains(UNKNOWN));
    if all.iter().any(|strip| strip.marks.iter().any(replaced)) {
        all.push(small(&format!(
            "{UNKNOWN} stands for a sign that these letters do not have; the page in the notebook shows it."
        )));
    }
    let mut pages = placed(&all, room.1);
    let count = pages.len();
    for (n, page) in pages.iter_mut().enumerate() {
        for mark in page.iter_mut() {
            let here = std::mem::replace(mark, Mark::filled(Vec::new()));
            *mark = here.moved((SIDE, TOP));
        }
        foot(page, document, (wide, high), (n + 1, count));
    }
    pages
}

/// What every page says at its foot.
fn foot(page: &mut Page, document: &Document, (wide, high): (f32, f32), (n, of): (usize, usize)) {
    const SIZE: f32 = 8.0;
    let y = high - BOTTOM + 22.0;
    page.push(Mark::At(None));
    page.push(Mark::line((SIDE, y - 11.0), (wide - SIDE, y - 11.0), Stroke::grey(0.4)));
    let number = format!("page {n} of {of}");
    let at = wide - SIDE - letters(true).width(&number, SIZE);
    page.push(Mark::words((at, y), SIZE, true, number));
    let rest = [document.kind, &document.state, &document.date_words()]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" · ");
    let rest = format!(" · {rest}");
    let left = at - SIDE - 14.0 - letters(false).width(&rest, SIZE);
    let title = one_line(&document.title, left, SIZE, true);
    page.push(Mark::words((SIDE, y), SIZE, true, title.clone()));
    page.push(Mark::grey((SIDE + letters(true).width(&title, SIZE), y), SIZE, rest));
}

fn placed(all: &[Strip], high: f32) -> Vec<Page> {
    let mut pages: Vec<Page> = Vec::new();
    let mut page: Page = Vec::new();
    let mut y = 0.0;
    for (n, strip) in all.iter().enumerate() {
        let gap = if y > 0.0 { strip.before } else { 0.0 };
        if y > 0.0 && y + gap + together(&all[n..], high) > high {
            pages.push(std::mem::take(&mut page));
            y = 0.0;
            if let Some(head) = &strip.again {
                // Read out once, where the table begins.
                page.push(Mark::At(None));
                page.extend(head.marks.iter().filter(|m| !matches!(m, Mark::At(_))).cloned());
                y = head.height;
            }
        } else {
            y += gap;
        }
        page.extend(strip.marks.iter().map(|mark| mark.clone().moved((0.0, y))));
        y += strip.height;
    }
    if !page.is_empty() || pages.is_empty() {
        pages.push(page);
    }
    pages
}

/// The height of a strip and all that must stay with it; of more than a page,
/// itself alone.
fn together(strips: &[Strip], high: f32) -> f32 {
    let mut sum = strips.first().map_or(0.0, |s| s.height);
    for pair in strips.windows(2) {
        if !pair[0].keep {
            break;
        }
        sum += pair[1].before + pair[1].height;
        if sum > high {
            return strips[0].height;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strip(height: f32, keep: bool) -> Strip {
        Strip {
            height,
            keep,
            marks: vec![Mark::words((0.0, 0.0), 9.0, false, format!("{height}"))],
            ..Strip::default()
        }
    }

    fn counts(strips: &[Strip]) -> Vec<usize> {
        let words = |page: &Page| page.iter().filter(|m| matches!(m, Mark::Words { .. })).count();
        placed(strips, 100.0).iter().map(words).collect()
    }

    #[test]
    fn what_does_not_fit_stands_on_the_next_page() {
        assert_eq!(counts(&[strip(60.0, false), strip(40.0, false)]), [2]);
        assert_eq!(counts(&[strip(60.0, false), strip(41.0, false)]), [1, 1]);
        assert_eq!(counts(&[]), [0]);
    }

    #[test]
    fn a_heading_goes_with_what_follows() {
        assert_eq!(
            counts(&[strip(60.0, false), strip(10.0, true), strip(40.0, false)]),
            [1, 2]
        );
    }

    #[test]
    fn more_than_a_page_that_belongs_together_is_divided_all_the_same() {
        let long: Vec<Strip> = (0..30).map(|_| strip(10.0, true)).collect();
        assert_eq!(counts(&long), [10, 10, 10]);
    }

    #[test]
    fn a_table_has_its_heads_on_each_page() {
        let head = std::rc::Rc::new(strip(10.0, true));
        let mut all = vec![strip(10.0, true)];
        all.extend((0..12).map(|_| Strip {
            again: Some(head.clone()),
            ..strip(15.0, false)
        }));
        // 10 and six of 15 on each: 6 rows and a head.
        assert_eq!(counts(&all), [7, 7]);
    }
}
