//! What was measured: the outline drawn, its lengths, and how sure they are.

use super::Measured;
use crate::drafting::trace::FAR;
use crate::measure::{Length, Round, Unit, capital};
use crate::web::components::{card, cautions, length};
use maud::{Markup, html};

/// Longest side of the drawing, in its own measure.
const LONG: f64 = 480.0;

pub fn card_of(measured: &Measured, unit: Unit) -> Markup {
    let size = measured.shape.cut_size();
    card(
        "measured",
        "As measured",
        html! {
            (drawing(measured))
            dl.allowances {
                div { dt { "Cut size across" } dd { (length(size.width, unit)) } }
                div { dt { "Cut size along the grain" } dd { (length(size.height, unit)) } }
                @for edge in &measured.shape.edges { div { dt { (capital(&edge.name)) } dd { (length(edge.length_nearest(), unit)) } } }
            }
            (sure(measured, unit))
        },
    )
}

fn sure(measured: &Measured, unit: Unit) -> Markup {
    let traced = &measured.traced;
    let both = |l: Length| l.both(unit, Round::Up);
    let mut list: Vec<String> = Vec::new();
    match &traced.checked {
        Some(c) if c.is_off() => list.push(format!(
            "The check length is {} on the photo and {} by hand: off by {} ({}), more than 0.5 %. Do not cut by this: see that the print is to scale and the piece lies flat, measure the marks again, or take the photo anew.",
            c.on_photo.both(unit, Round::Nearest),
            c.by_hand.both(unit, Round::Nearest),
            off(c.off),
            percent(c.off_hundredths),
        )),
        None => list.push("No check length was measured. A print that is 1 % too small makes every piece 1 % too large, and nothing else shows it.".into()),
        Some(_) => {}
    }
    if traced.outside > FAR {
        list.push(
            "The piece reaches far beyond the marks, where small slips grow large. Put the marks round it.".into(),
        );
    }
    let brought = traced.brought.iter().flatten().count();
    html! {
        @if let Some(c) = traced.checked.as_ref().filter(|c| !c.is_off()) {
            p { b { "The check length agrees" } ": " (c.on_photo.both(unit, Round::Nearest)) " on the photo, " (c.by_hand.both(unit, Round::Nearest)) " by hand, off by " (off(c.off)) " (" (percent(c.off_hundredths)) ")." }
        }
        p.hint { "Edges are numbered in the drawing and measured along the line you tapped." }
        p.meta { "Slips of a finger alone may make its longer side " (both(traced.may_be_off)) " too long or too short."
            @if brought > 0 { " " (brought) @if brought == 1 { " mark was" } @else { " marks were" } " brought to the printed crossing." } }
        (cautions(&list))
    }
}

/// In millimetres to a tenth: what is off is small.
fn off(length: Length) -> String {
    format!("{:+.1} mm", length.as_mm_f64())
}

fn percent(hundredths: i64) -> String {
    format!("{:.2} %", hundredths.unsigned_abs() as f64 / 100.0)
}

fn drawing(measured: &Measured) -> Markup {
    let shape = &measured.shape;
    let around = shape.cut_bounds();
    let scale = LONG / around.width().max(around.height()).max(1.0);
    let place = kurbo::Affine::scale(scale) * kurbo::Affine::translate(-around.origin().to_vec2());
    let (cut, stitching) = (place * shape.cut_line(), place * shape.stitching());
    let (wide, high) = (around.width() * scale, around.height() * scale);
    let label = |i: usize| {
        let edge = &shape.edges[i];
        let at = place * shape.place(edge, edge.length() / 2.0).point;
        // Inward, so that it stands on the piece.
        let middle = kurbo::Point::new(wide / 2.0, high / 2.0);
        at + (middle - at).normalize() * 22.0
    };
    html! {
        figure.traced-drawing {
            svg viewBox=(format!("-8 -8 {:.1} {:.1}", wide + 16.0, high + 16.0)) role="img" aria-label="The traced outline, its grain upright" {
                path.cut d=(cut.to_svg()) {}
                path.stitching d=(stitching.to_svg()) {}
                @for i in 0..shape.edges.len() {
                    @let at = label(i);
                    text x=(format!("{:.1}", at.x)) y=(format!("{:.1}", at.y)) text-anchor="middle" dominant-baseline="central" { (i + 1) }
                }
            }
        }
    }
}
