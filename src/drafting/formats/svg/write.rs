//! Pieces as an SVG drawing in millimetres: one unit is one millimetre.

use crate::drafting::formats::DrawnPiece;
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape, Vec2};
use std::fmt::Write;

/// Between two pieces, and round all of them, in millimetres.
const BETWEEN: f64 = 20.0;

/// Pieces side by side, a group each: cut line, stitching line, notches, grainline, marks,
/// lines inside, words.
pub fn write(title: &str, pieces: &[DrawnPiece]) -> String {
    let mut body = String::new();
    let (mut x, mut high) = (BETWEEN, 0.0_f64);
    for (n, piece) in pieces.iter().enumerate() {
        let bounds = drawn_bounds(piece);
        let by = Vec2::new(x - bounds.x0, BETWEEN - bounds.y0);
        group(&mut body, piece, n + 1, by);
        x += bounds.width() + BETWEEN;
        high = high.max(bounds.height());
    }
    let (wide, high) = (number(x), number(high + 2.0 * BETWEEN));
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{high}mm\" viewBox=\"0 0 {wide} {high}\">\n\
         <title>{}</title>\n\
         <desc>Full size, one unit is one millimetre. Cut along the solid line, sew along the dashed one.</desc>\n\
         <g fill=\"none\" stroke=\"#000\" stroke-width=\"0.35\" font-family=\"sans-serif\" font-size=\"6\">\n\
         {body}</g>\n</svg>\n",
        escaped(title)
    )
}

fn drawn_bounds(piece: &DrawnPiece) -> Rect {
    let inner = piece.inner.iter().map(|(_, line)| line.bounding_box());
    inner.fold(piece.bounds(), |all, b| all.union(b))
}

fn group(out: &mut String, piece: &DrawnPiece, n: usize, by: Vec2) {
    let to = Affine::translate(by);
    let path = |out: &mut String, id: &str, style: &str, line: &BezPath| {
        let _ = writeln!(out, "<path id=\"{id}\"{style} d=\"{}\"/>", data(&(to * line.clone())));
    };
    let _ = writeln!(out, "<g id=\"piece-{n}\">\n<title>{}</title>", escaped(&piece.name));
    path(out, &format!("cut-line-{n}"), "", &crate::drafting::path_of(&piece.cut));
    if let Some(stitching) = &piece.stitching {
        path(
            out,
            &format!("stitching-line-{n}"),
            " stroke-dasharray=\"4 2\"",
            stitching,
        );
    }
    let marks: BezPath = piece.notches.iter().flat_map(notch).collect();
    if !marks.elements().is_empty() {
        path(out, &format!("notches-{n}"), "", &marks);
    }
    let [from, end] = piece.grain;
    path(
        out,
        &format!("grainline-{n}"),
        "",
        &BezPath::from_vec(vec![PathEl::MoveTo(from), PathEl::LineTo(end)]),
    );
    for (i, (name, line)) in piece.inner.iter().enumerate() {
        let _ = writeln!(
            out,
            "<path id=\"inside-{n}-{}\" stroke-dasharray=\"1 1.5\" d=\"{}\"><title>{}</title></path>",
            i + 1,
            data(&(to * line.clone())),
            escaped(name)
        );
    }
    for (name, at) in &piece.marks {
        let p = *at + by;
        let _ = writeln!(
            out,
            "<path d=\"M{} {}h4m-2 -2v4\"><title>{}</title></path>",
            number(p.x - 2.0),
            number(p.y),
            escaped(name)
        );
    }
    let words = piece.bounds().center() + by;
    let lines = [piece.name.clone(), piece.cut_words()];
    for (i, line) in lines.iter().enumerate() {
        let _ = writeln!(
            out,
            "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\" fill=\"#000\" stroke=\"none\">{}</text>",
            number(words.x),
            number(words.y + 8.0 * i as f64),
            escaped(line)
        );
    }
    out.push_str("</g>\n");
}

/// From the stitching line out to the cut line; at least 4 mm long, inwards.
fn notch(notch: &crate::drafting::formats::DrawnNotch) -> Vec<PathEl> {
    let reach = (notch.cut - notch.stitched).hypot();
    let begin = notch.cut - notch.outward * reach.max(4.0);
    let aside: &[f64] = if notch.double { &[-2.0, 2.0] } else { &[0.0] };
    aside
        .iter()
        .flat_map(|by| {
            let along = notch.along * *by;
            [PathEl::MoveTo(begin + along), PathEl::LineTo(notch.cut + along)]
        })
        .collect()
}

/// Path data with every coordinate to 1/10,000 mm.
fn data(path: &BezPath) -> String {
    let p = |p: &Point| format!("{} {}", number(p.x), number(p.y));
    let words: Vec<String> = path
        .elements()
        .iter()
        .map(|element| match element {
            PathEl::MoveTo(a) => format!("M{}", p(a)),
            PathEl::LineTo(a) => format!("L{}", p(a)),
            PathEl::QuadTo(a, b) => format!("Q{} {}", p(a), p(b)),
            PathEl::CurveTo(a, b, c) => format!("C{} {} {}", p(a), p(b), p(c)),
            PathEl::ClosePath => "Z".into(),
        })
        .collect();
    words.join(" ")
}

fn number(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            sign if sign.is_control() || matches!(sign, '\u{fffe}' | '\u{ffff}') => out.push(' '),
            sign => out.push(sign),
        }
    }
    out
}
