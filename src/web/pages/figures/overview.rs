//! The figures looked up most, each a way to where it is worked out, and the
//! way to every section.

use crate::figures::time::TimeFigures;
use crate::figures::{ClothFigures, Figures};
use crate::measure::{Length, about_hours};
use crate::plan::Plan;
use crate::web::components::{cloth_length, letter, on_this_page};
use maud::{Markup, html};

pub fn overview(
    plan: &Plan,
    figures: &Figures,
    hours: &TimeFigures,
    cut: &[(usize, &ClothFigures)],
    currency: &str,
) -> Markup {
    let unit = plan.unit;
    let t = &figures.totals;
    let to_buy = figures.cloths.iter().filter(|c| c.to_buy > Length::ZERO).count();
    let first = cut.iter().find(|(_, c)| !c.cuts.is_empty());
    html! {
        nav.overview aria-label="Figures in short" {
            (way("#buy", "Cloth to buy", html! {
                @match to_buy { 0 => "nothing", 1 => "1 cloth", n => { (n) " cloths" } }
            }, html! {
                @if t.to_buy_known.as_hundredths() > 0 { (currency) " " (t.to_buy_known) @if !t.unpriced.is_empty() { " as far as known" } }
            }))
            @if t.panels > 0 {
                (way("#panels", "Panels", html! { (t.panels) }, html! { @if t.units > 0 { "of " (t.units) " units" } }))
            }
            @if let Some((_, c)) = first.filter(|_| t.patches > 0) {
                (way(&format!("#cloth-{}", c.cloth), "Patches", html! { (t.patches) }, html! { "to cut" }))
            }
            @if figures.quilting.total > Length::ZERO {
                (way("#quilting", "Quilting", cloth_length(figures.quilting.total, unit), html! {}))
            }
            @if let Some(b) = &figures.binding {
                (way("#binding", "Binding", cloth_length(b.total, unit), html! { "strips " (b.strip_width.cut(unit)) }))
            }
            @if !hours.work.is_empty() && hours.left.high > 0 {
                (way("#time", "Left to do", html! { (about_hours(hours.left.likely, true)) }, html! {
                    @if !hours.not_known.is_empty() { "as far as known" }
                }))
            }
        }
    }
}

fn way(href: &str, label: &str, value: Markup, under: Markup) -> Markup {
    html! {
        a.figure href=(href) {
            span.figure-label { (label) }
            span.figure-value { (value) }
            @if !under.0.is_empty() { span.figure-under { (under) } }
        }
    }
}

/// Every section of the page.
pub fn sections(figures: &Figures, hours: &TimeFigures, cut: &[(usize, &ClothFigures)]) -> Markup {
    on_this_page(html! {
        a href="#buy" { "To buy" }
        a href="#panels" { "Panels" }
        @for (i, c) in cut { a href=(format!("#cloth-{}", c.cloth)) { (letter(*i)) " " (c.name) } }
        @if !figures.quilting.pieces.is_empty() { a href="#quilting" { "Quilting" } }
        @if figures.binding.is_some() { a href="#binding" { "Binding" } }
        @if !hours.work.is_empty() { a href="#time" { "Time" } }
        @if !figures.closures.is_empty() { a href="#closures" { "Closures" } }
        @if figures.thread.is_some() { a href="#thread" { "Thread" } }
        @if figures.sizing.is_some() { a href="#sizing" { "Size" } }
        @if figures.care.is_some() { a href="#care" { "Care" } }
        @if figures.cost.lines.iter().any(|line| line.worth.is_some()) { a href="#cost" { "Cost" } }
    })
}
