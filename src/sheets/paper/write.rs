//! Pages as a PDF file.

use super::letters::{BOLD, REGULAR, letters};
use super::marks::{Ink, Mark, Spot, Stroke, both};
use super::pages::Page;
use super::said::{Place, Said, is_cell, is_figure};
use super::{Paper, letters};
use crate::sheets::document::{Document, Hatch};
use chrono::Datelike;
use krilla::SerializeSettings;
use krilla::color::{luma, rgb};
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::{DateTime, Metadata};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use krilla::text::{Font, GlyphId, KrillaGlyph};

/// Hatching of an area has at most so many lines.
const HATCHED: i64 = 4_000;

pub fn write(document: &Document, paper: Paper, pages: &[Page]) -> Result<Vec<u8>, String> {
    let font = |file: &'static [u8]| Font::new(file.into(), 0).ok_or("The letters of the program cannot be read.");
    let fonts = [font(REGULAR)?, font(BOLD)?];
    let (wide, high) = paper.points();
    let readable = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1);
    let mut file = krilla::Document::new_with(SerializeSettings {
        configuration: readable
            .finish()
            .map_err(|e| format!("The PDF cannot be made to be read out: {e:?}."))?,
        ..SerializeSettings::default()
    });
    let mut said = Said::default();
    for (number, marks) in pages.iter().enumerate() {
        let settings = PageSettings::from_wh(wide, high).ok_or("The paper has no size.")?;
        let mut page = file.start_page_with(settings);
        let mut surface = page.surface();
        one_page(&mut surface, marks, &fonts, (&mut said, number));
        surface.finish();
        page.finish();
    }
    file.set_metadata(metadata(document));
    file.set_tag_tree(said.tree());
    file.set_outline(said.outline());
    file.finish()
        .map_err(|e| format!("The PDF could not be written: {e:?}."))
}

/// Marks in runs that belong to one place of what is said; rules, boxes and
/// hatching outside drawings belong to none.
fn one_page(surface: &mut Surface, marks: &[Mark], fonts: &[Font; 2], (said, number): (&mut Said, usize)) {
    let mut place: Option<&Place> = None;
    let mut from = 0;
    while let Some(first) = marks.get(from) {
        let spoken = |mark: &Mark, place: Option<&Place>| {
            place.is_some_and(|p| is_figure(p) || matches!(mark, Mark::Words { .. } | Mark::Photo { .. }))
        };
        if let Mark::At(at) = first {
            place = at.as_ref();
            from += 1;
            let mut here = marks[from..].iter().take_while(|m| !matches!(m, Mark::At(_)));
            if let Some(cell) = place.filter(|p| is_cell(p))
                && !here.any(|m| spoken(m, place))
            {
                let nothing = surface.start_tagged(ContentTag::Other);
                surface.end_tagged();
                said.add(cell, nothing, number, [0.0; 4]);
            }
            continue;
        }
        let is_spoken = spoken(first, place);
        let ends = |m: &Mark| matches!(m, Mark::At(_)) || spoken(m, place) != is_spoken;
        let to = marks[from..].iter().position(ends).map_or(marks.len(), |n| from + n);
        let run = &marks[from..to];
        let leaf = surface.start_tagged(match (place, is_spoken) {
            (Some(p), true) if is_figure(p) => ContentTag::Other,
            (Some(_), true) => ContentTag::Span(SpanTag::empty()),
            (Some(_), false) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            (None, _) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther)),
        });
        for mark in run {
            put(surface, mark, fonts);
        }
        surface.end_tagged();
        if let Some(place) = place.filter(|_| is_spoken) {
            let bounds = run.iter().filter_map(Mark::bounds).reduce(both).unwrap_or_default();
            said.add(place, leaf, number, bounds);
        }
        from = to;
    }
}

fn metadata(document: &Document) -> Metadata {
    let date = document.date;
    let year = u16::try_from(date.year()).unwrap_or(0);
    let day = DateTime::new(year).month(date.month() as u8).day(date.day() as u8);
    Metadata::new()
        .title(letters::printable(&format!("{}, {}", document.kind, document.title)))
        .creator("Notchbook".into())
        .language("en".into())
        .creation_date(day)
}

fn put(surface: &mut Surface, mark: &Mark, fonts: &[Font; 2]) {
    match mark {
        Mark::At(_) => {}
        Mark::Words {
            at,
            size,
            bold,
            ink,
            text,
        } => words(surface, *at, *size, *ink, text, *bold, &fonts[usize::from(*bold)]),
        Mark::Path {
            outlines,
            closed,
            fill,
            hatch,
            line,
        } => area(surface, (outlines, *closed), *fill, *hatch, *line),
        Mark::Photo { at, size, jpeg } => {
            if let (Ok(image), Some(size)) = (
                Image::from_jpeg(jpeg.clone().into(), true),
                Size::from_wh(size.0, size.1),
            ) {
                surface.push_transform(&Transform::from_translate(at.0, at.1));
                surface.draw_image(image, size);
                surface.pop();
            }
        }
        Mark::Disc { middle, radius, edge } => disc(surface, *middle, *radius, *edge),
    }
}

fn words(surface: &mut Surface, at: Spot, size: f32, ink: Ink, text: &str, bold: bool, font: &Font) {
    if text.is_empty() {
        return;
    }
    // Read out, the last word of a line does not run into the next.
    let text = &format!("{text} ");
    let type_of = letters(bold);
    let glyphs: Vec<KrillaGlyph> = text
        .char_indices()
        .map(|(from, sign)| {
            let (id, wide) = type_of.glyph(sign);
            KrillaGlyph::new(
                GlyphId::new(id),
                wide,
                0.0,
                0.0,
                0.0,
                from..from + sign.len_utf8(),
                None,
            )
        })
        .collect();
    surface.set_stroke(None);
    surface.set_fill(Some(grey(match ink {
        Ink::Black => 0,
        Ink::Grey => 70,
        Ink::White => 255,
    })));
    surface.draw_glyphs(Point::from_xy(at.0, at.1), &glyphs, font.clone(), text, size, false);
}

fn grey(lightness: u8) -> Fill {
    Fill {
        paint: luma::Color::new(lightness).into(),
        ..Fill::default()
    }
}

fn pen(stroke: Stroke) -> krilla::paint::Stroke {
    krilla::paint::Stroke {
        paint: luma::Color::new(if stroke.grey { 140 } else { 0 }).into(),
        width: stroke.width,
        line_cap: LineCap::Butt,
        line_join: LineJoin::Miter,
        dash: stroke.dashed.then(|| StrokeDash {
            array: vec![5.0, 2.5],
            offset: 0.0,
        }),
        ..krilla::paint::Stroke::default()
    }
}

fn path(outlines: &[Vec<Spot>], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for outline in outlines {
        for (n, (x, y)) in outline.iter().enumerate() {
            if n == 0 {
                builder.move_to(*x, *y);
            } else {
                builder.line_to(*x, *y);
            }
        }
        if closed && !outline.is_empty() {
            builder.close();
        }
    }
    builder.finish()
}

fn area(
    surface: &mut Surface,
    (outlines, closed): (&[Vec<Spot>], bool),
    fill: Option<(u8, u8, u8)>,
    hatch: Hatch,
    line: Option<Stroke>,
) {
    let Some(path) = path(outlines, closed) else {
        return;
    };
    if let Some((red, green, blue)) = fill {
        surface.set_stroke(None);
        surface.set_fill(Some(Fill {
            paint: rgb::Color::new(red, green, blue).into(),
            ..Fill::default()
        }));
        surface.draw_path(&path);
    }
    let (ways, apart) = hatch.lines();
    if !ways.is_empty()
        && let Some(lines) = self::path(&hatching(outlines, ways, apart), false)
    {
        surface.push_clip_path(&path, &FillRule::NonZero);
        surface.set_fill(None);
        surface.set_stroke(Some(pen(Stroke::of(0.3))));
        surface.draw_path(&lines);
        surface.pop();
    }
    if let Some(line) = line {
        surface.set_fill(None);
        surface.set_stroke(Some(pen(line)));
        surface.draw_path(&path);
    }
}

/// Lines over all of the outlines, in step with those of any other drawing on
/// the page.
fn hatching(outlines: &[Vec<Spot>], ways: &[(f64, f64)], apart: f64) -> Vec<Vec<Spot>> {
    let all = || outlines.iter().flatten().map(|(x, y)| (f64::from(*x), f64::from(*y)));
    let apart = apart * 72.0 / 25.4;
    let mut lines = Vec::new();
    for (dx, dy) in ways {
        let long = dx.hypot(*dy);
        let (dx, dy) = (dx / long, dy / long);
        let span = |of: &dyn Fn((f64, f64)) -> f64| {
            all()
                .map(of)
                .fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(v), b.max(v)))
        };
        let (from, to) = span(&|(x, y)| x * dx + y * dy);
        let (first, last) = span(&|(x, y)| x * -dy + y * dx);
        if first > last {
            continue;
        }
        let (first, last) = ((first / apart).ceil() as i64, (last / apart).floor() as i64);
        for n in first..=last.min(first.saturating_add(HATCHED)) {
            let off = n as f64 * apart;
            let at = |along: f64| ((along * dx - off * dy) as f32, (along * dy + off * dx) as f32);
            lines.push(vec![at(from), at(to)]);
        }
    }
    lines
}

fn disc(surface: &mut Surface, (x, y): Spot, r: f32, edge: bool) {
    // A circle by four curves.
    let k = r * 0.552_285;
    let mut b = PathBuilder::new();
    b.move_to(x + r, y);
    b.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
    b.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
    b.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
    b.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
    b.close();
    if let Some(path) = b.finish() {
        surface.set_fill(Some(grey(255)));
        surface.set_stroke(edge.then(|| pen(Stroke::of(0.4))));
        surface.draw_path(&path);
    }
}
