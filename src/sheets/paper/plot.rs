//! Patterns as PDF: lines at their exact place, each page of its own size.

use super::letters::{BOLD, REGULAR, letters, printable};
use crate::sheets::pattern::ink::{Ink, Pen, Plot, PlotPage, Words};
use chrono::Datelike;
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point};
use krilla::metadata::{DateTime, Metadata};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use kurbo::{BezPath, PathEl, Shape};

/// Points of a millimetre.
const MM: f64 = 72.0 / 25.4;

/// The plot as a PDF file. What cannot be written is a fault of the program, told in a sentence.
pub fn plot(plot: &Plot) -> Result<Vec<u8>, String> {
    let font = |file: &'static [u8]| Font::new(file.into(), 0).ok_or("The letters of the program cannot be read.");
    let fonts = [font(REGULAR)?, font(BOLD)?];
    let mut file = krilla::Document::new();
    for page in &plot.pages {
        let settings =
            PageSettings::from_wh(points(page.size.width), points(page.size.height)).ok_or("The paper has no size.")?;
        let mut sheet = file.start_page_with(settings);
        let mut surface = sheet.surface();
        put(&mut surface, page, &fonts);
        surface.finish();
        sheet.finish();
    }
    let year = u16::try_from(plot.date.year()).unwrap_or(0);
    let day = DateTime::new(year)
        .month(plot.date.month() as u8)
        .day(plot.date.day() as u8);
    file.set_metadata(
        Metadata::new()
            .title(printable(&plot.title))
            .creator("Notchbook".into())
            .language("en".into())
            .creation_date(day),
    );
    file.finish()
        .map_err(|e| format!("The PDF could not be written: {e:?}."))
}

fn points(mm: f64) -> f32 {
    (mm * MM) as f32
}

fn put(surface: &mut Surface, page: &PlotPage, fonts: &[Font; 2]) {
    if let Some(clip) = page.within.and_then(|within| path(&within.to_path(0.1))) {
        surface.push_clip_path(&clip, &FillRule::NonZero);
        page.clipped.iter().for_each(|ink| draw(surface, ink, fonts));
        surface.pop();
    }
    page.marks.iter().for_each(|ink| draw(surface, ink, fonts));
}

fn draw(surface: &mut Surface, ink: &Ink, fonts: &[Font; 2]) {
    match ink {
        Ink::Line { path: line, pen } => {
            if let Some(path) = path(line) {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(pen)));
                surface.draw_path(&path);
            }
        }
        Ink::Area { path: area } => {
            if let Some(path) = path(area) {
                surface.set_stroke(None);
                surface.set_fill(Some(grey(0)));
                surface.draw_path(&path);
            }
        }
        Ink::Words(text) => words(surface, text, fonts),
    }
}

fn grey(lightness: u8) -> Fill {
    Fill {
        paint: luma::Color::new(lightness).into(),
        ..Fill::default()
    }
}

fn stroke(pen: &Pen) -> krilla::paint::Stroke {
    krilla::paint::Stroke {
        paint: luma::Color::new(if pen.grey { 130 } else { 0 }).into(),
        width: points(pen.width),
        line_cap: LineCap::Butt,
        line_join: LineJoin::Miter,
        dash: (!pen.dashes.is_empty()).then(|| StrokeDash {
            array: pen.dashes.iter().map(|d| d * MM as f32).collect(),
            offset: 0.0,
        }),
        ..krilla::paint::Stroke::default()
    }
}

fn path(line: &BezPath) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for element in line.elements() {
        match element {
            PathEl::MoveTo(p) => builder.move_to(points(p.x), points(p.y)),
            PathEl::LineTo(p) => builder.line_to(points(p.x), points(p.y)),
            PathEl::QuadTo(a, p) => builder.quad_to(points(a.x), points(a.y), points(p.x), points(p.y)),
            PathEl::CurveTo(a, b, p) => builder.cubic_to(
                points(a.x),
                points(a.y),
                points(b.x),
                points(b.y),
                points(p.x),
                points(p.y),
            ),
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}

fn words(surface: &mut Surface, words: &Words, fonts: &[Font; 2]) {
    let text = printable(&words.text);
    if text.is_empty() {
        return;
    }
    let type_of = letters(words.bold);
    let glyphs: Vec<KrillaGlyph> = text
        .char_indices()
        .map(|(from, sign)| {
            let (id, wide) = type_of.glyph(sign);
            let range = from..from + sign.len_utf8();
            KrillaGlyph::new(GlyphId::new(id), wide, 0.0, 0.0, 0.0, range, None)
        })
        .collect();
    surface.set_stroke(None);
    surface.set_fill(Some(grey(if words.grey { 90 } else { 0 })));
    let at = Point::from_xy(points(words.at.x), points(words.at.y));
    let font = fonts[usize::from(words.bold)].clone();
    surface.draw_glyphs(at, &glyphs, font, &text, words.size as f32, false);
}
