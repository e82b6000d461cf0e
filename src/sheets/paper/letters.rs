//! The type on paper: how wide a text is and where its lines break. Signs it
//! does not have are replaced, never left out: a name in another script stands
//! there as boxes, and the sheet says what they are.

use crate::sheets::words::kept_together;
use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider};
use std::sync::OnceLock;

/// Stands for a sign the type does not have.
pub const UNKNOWN: char = '□';

pub static REGULAR: &[u8] = include_bytes!("fonts/lato-regular.ttf");
pub static BOLD: &[u8] = include_bytes!("fonts/lato-bold.ttf");

/// One weight of the type.
pub struct Letters {
    characters: Charmap<'static>,
    metrics: GlyphMetrics<'static>,
    per_em: f32,
}

/// The type, regular or bold.
pub fn letters(bold: bool) -> &'static Letters {
    static LOADED: OnceLock<[Letters; 2]> = OnceLock::new();
    let both = LOADED.get_or_init(|| [load(REGULAR), load(BOLD)]);
    &both[usize::from(bold)]
}

fn load(file: &'static [u8]) -> Letters {
    let font = FontRef::new(file).expect("the type that is part of the program can be read");
    let at = LocationRef::default();
    Letters {
        characters: font.charmap(),
        metrics: font.glyph_metrics(Size::unscaled(), at),
        per_em: f32::from(font.metrics(Size::unscaled(), at).units_per_em),
    }
}

impl Letters {
    /// The number of a glyph and how far it moves the pen, in ems.
    pub fn glyph(&self, sign: char) -> (u32, f32) {
        let id = self.characters.map(sign).unwrap_or_default();
        let wide = self.metrics.advance_width(id).unwrap_or(0.0);
        (id.to_u32(), wide / self.per_em)
    }

    fn has(&self, sign: char) -> bool {
        self.characters.map(sign).is_some()
    }

    pub fn width(&self, text: &str, size: f32) -> f32 {
        text.chars().map(|sign| self.glyph(sign).1).sum::<f32>() * size
    }
}

/// A text as it can be printed.
pub fn printable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '\n' | '\t' | '\r' => out.push(' '),
            // Join, direct and vary other signs; nothing by themselves.
            '\u{200b}'..='\u{200f}'
            | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}'
            | '\u{fe00}'..='\u{fe0f}'
            | '\u{1f3fb}'..='\u{1f3ff}'
            | '\u{e0000}'..='\u{e01ef}'
            | '\u{feff}' => {}
            sign if sign.is_control() => {}
            sign if letters(false).has(sign) => out.push(sign),
            _ => out.push(UNKNOWN),
        }
    }
    out
}

/// The lines of a text so many points wide. Breaks between words, never within
/// a length; a word that is wider by itself is divided anywhere.
pub fn lines(text: &str, width: f32, size: f32, bold: bool) -> Vec<String> {
    let with = letters(bold);
    let mut out = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        let mut used = 0.0;
        let blank = with.width(" ", size);
        for word in kept_together(&printable(paragraph)) {
            let wide = with.width(&word, size);
            if !line.is_empty() && used + blank + wide > width {
                out.push(std::mem::take(&mut line));
                used = 0.0;
            }
            if !line.is_empty() {
                line.push(' ');
                used += blank;
            }
            if wide <= width {
                line.push_str(&word);
                used += wide;
                continue;
            }
            for sign in word.chars() {
                let wide = with.glyph(sign).1 * size;
                if used + wide > width && !line.is_empty() {
                    out.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                line.push(sign);
                used += wide;
            }
        }
        out.push(line);
    }
    out
}

/// One line, its end cut off where it is too long.
pub fn one_line(text: &str, width: f32, size: f32, bold: bool) -> String {
    let with = letters(bold);
    let text = printable(text);
    if with.width(&text, size) <= width {
        return text;
    }
    let mut left = width - with.width("…", size);
    let fits = text.chars().take_while(|sign| {
        left -= with.glyph(*sign).1 * size;
        left >= 0.0
    });
    fits.collect::<String>().trim_end().to_string() + "…"
}

/// The widest part that is never broken, and the whole text on one line.
pub fn least_and_whole(text: &str, size: f32, bold: bool) -> (f32, f32) {
    let with = letters(bold);
    let text = printable(text);
    let least = kept_together(&text)
        .iter()
        .map(|word| with.width(word, size))
        .fold(0.0, f32::max);
    (least, with.width(&text, size))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_equally_wide_so_that_columns_align() {
        for bold in [false, true] {
            let all: Vec<f32> = ('0'..='9').map(|digit| letters(bold).glyph(digit).1).collect();
            assert!(all.iter().all(|wide| *wide == all[0] && *wide > 0.0), "{all:?}");
        }
    }

    #[test]
    fn every_sign_the_figures_use_is_there() {
        for sign in "×→−½¼¾⅛⅜⅝⅞′″°±²√–—…“”’□•≥≤".chars() {
            assert!(letters(false).has(sign) && letters(true).has(sign), "{sign}");
        }
    }

    #[test]
    fn what_the_type_does_not_have_is_replaced() {
        assert_eq!(printable("Kleid für Ida"), "Kleid für Ida");
        assert_eq!(printable("שמלה"), "□□□□");
        assert_eq!(printable("👩\u{200d}🧵"), "□□");
        assert_eq!(printable("a\u{202e}b\u{0}c\td"), "abc d");
    }

    #[test]
    fn no_line_is_too_wide_no_length_broken_and_no_word_lost() {
        let text = "cut 12 strips 4 7/8 in (12.4 cm) high, then subcut 10 1/2 in (26.7 cm)";
        for width in [60.0, 90.0, 140.0, 1000.0] {
            let lines = lines(text, width, 9.0, false);
            assert!(lines.iter().all(|l| letters(false).width(l, 9.0) <= width), "{lines:?}");
            assert_eq!(lines.join(" "), text);
            assert!(
                lines.iter().all(|l| !l.ends_with(" 4") && !l.ends_with("(12.4")),
                "{lines:?}"
            );
        }
    }

    #[test]
    fn a_word_wider_than_its_place_is_divided() {
        let word = "W".repeat(500);
        let lines = lines(&word, 50.0, 9.0, false);
        assert!(lines.len() > 50 && lines.iter().all(|l| letters(false).width(l, 9.0) <= 50.0));
        assert_eq!(lines.concat(), word);
        assert!(letters(false).width(&one_line(&word, 50.0, 9.0, false), 9.0) <= 50.0);
    }
}
