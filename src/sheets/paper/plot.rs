//! Patterns as PDF: lines at their exact place, each page of its own size.

use super::letters::{BOLD, REGULAR, letters, printable};
use super::said::{Place, Said, is_figure};
use crate::sheets::pattern::ink::{Ink, Pen, Plot, PlotPage, Words};
use chrono::Datelike;
use krilla::SerializeSettings;
use krilla::color::luma;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::geom::{Path, PathBuilder, Point};
use krilla::metadata::{DateTime, Metadata};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use kurbo::{BezPath, PathEl, Rect, Shape};

/// Points of a millimetre.
const MM: f64 = 72.0 / 25.4;

/// The plot as a PDF file that can be read out (PDF/UA-1). What cannot be written is a fault
/// of the program, told in a sentence.
pub fn plot(plot: &Plot) -> Result<Vec<u8>, String> {
    let font = |file: &'static [u8]| Font::new(file.into(), 0).ok_or("The letters of the program cannot be read.");
    let fonts = [font(REGULAR)?, font(BOLD)?];
    let readable = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1);
    let mut file = krilla::Document::new_with(SerializeSettings {
        configuration: readable
            .finish()
            .map_err(|e| format!("The PDF cannot be made to be read out: {e:?}."))?,
        ..SerializeSettings::default()
    });
    let mut said = Said::default();
    for (number, page) in plot.pages.iter().enumerate() {
        let settings =
            PageSettings::from_wh(points(page.size.width), points(page.size.height)).ok_or("The paper has no size.")?;
        let mut sheet = file.start_page_with(settings);
        let mut surface = sheet.surface();
        put(&mut surface, page, &fonts, (&mut said, number));
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
    file.set_tag_tree(said.tree());
    file.set_outline(said.outline());
    file.finish()
        .map_err(|e| format!("The PDF could not be written: {e:?}."))
}

fn points(mm: f64) -> f32 {
    (mm * MM) as f32
}

fn put(surface: &mut Surface, page: &PlotPage, fonts: &[Font; 2], (said, number): (&mut Said, usize)) {
    let whole = Rect::from_origin_size((0.0, 0.0), page.size);
    if let Some(within) = page.within
        && let Some(clip) = path(&within.to_path(0.1))
    {
        surface.push_clip_path(&clip, &FillRule::NonZero);
        tagged(surface, &page.clipped, fonts, within, (said, number));
        surface.pop();
    }
    tagged(surface, &page.marks, fonts, whole, (said, number));
}

/// Ink in runs that belong to one place of what is said. Of a figure all is drawn for it, of
/// other places the words alone; the rest is furniture of the page.
fn tagged(surface: &mut Surface, inks: &[Ink], fonts: &[Font; 2], within: Rect, (said, number): (&mut Said, usize)) {
    let mut place: Option<&Place> = None;
    let mut from = 0;
    while let Some(first) = inks.get(from) {
        if let Ink::At(at) = first {
            place = at.as_ref();
            from += 1;
            continue;
        }
        let spoken = |ink: &Ink| place.is_some_and(|p| is_figure(p) || matches!(ink, Ink::Words(_)));
        let is_spoken = spoken(first);
        let ends = |ink: &Ink| matches!(ink, Ink::At(_)) || spoken(ink) != is_spoken;
        let to = inks[from..].iter().position(ends).map_or(inks.len(), |n| from + n);
        let run = &inks[from..to];
        from = to;
        let bounds = run.iter().filter_map(Ink::bounds).reduce(|a, b| a.union(b));
        // What lies wholly outside is neither drawn nor read out.
        let Some(seen) = bounds.filter(|b| b.overlaps(within)).map(|b| b.intersect(within)) else {
            continue;
        };
        let leaf = surface.start_tagged(match place {
            Some(p) if is_spoken && is_figure(p) => ContentTag::Other,
            Some(_) if is_spoken => ContentTag::Span(SpanTag::empty()),
            Some(_) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            None => ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther)),
        });
        run.iter().for_each(|ink| draw(surface, ink, fonts));
        surface.end_tagged();
        if let Some(place) = place.filter(|_| is_spoken) {
            said.add(place, leaf, number, [seen.x0, seen.y0, seen.x1, seen.y1].map(points));
        }
    }
}

fn draw(surface: &mut Surface, ink: &Ink, fonts: &[Font; 2]) {
    match ink {
        Ink::At(_) => {}
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
    // Read out, the last word of a line does not run into the next.
    let text = text + " ";
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
