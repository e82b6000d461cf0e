//! Closures: where each sits, drawn and as a table, overlap and holes.

use crate::figures::{ClosureFigures, Figures};
use crate::measure::{Length, Round, Unit};
use crate::plan::Plan;
use crate::web::components::{
    cautions, closure_line, figure, folding, length_cut, length_sixteenths, length_up, working,
};
use crate::web::pages::closures::gaps_words;
use maud::{Markup, html};

pub fn card_of(plan: &Plan, figures: &Figures, base: &str) -> Markup {
    let rows = &figures.closures;
    html! {
        @if !rows.is_empty() {
            (folding("closures", "Closures", html! { b { (figures.closures_in_all()) } }, html! {}, html! {
                @for row in rows {
                    article.panel-figure {
                        h3 { a href=(format!("{base}/closures/{}", row.closure)) { (row.name) } " "
                            span.count { (row.count) " " (row.kind.counted(row.count)) } }
                        (one(plan, row))
                    }
                }
                @if rows.len() > 1 { p { b { (figures.closures_in_all()) } " closures in all." } }
            }))
        }
    }
}

fn one(plan: &Plan, f: &ClosureFigures) -> Markup {
    let unit = plan.unit;
    let size = plan.closure(&f.closure).map_or(Length::ZERO, |c| c.size);
    html! {
        div.closure-figure {
            (closure_line(f, size, unit))
            div {
                div.figures {
                    @if let Some(zip) = f.zip { (figure("Zip", length_up(zip, unit), html! { "at least" })) }
                    @else { (figure("How many", html! { (f.count) }, html! { (gaps_words(f, unit)) })) }
                    @if let (Some(overlap), Some(extension)) = (f.overlap, f.extension) {
                        (figure("Overlap", length_cut(overlap, unit), html! { (extension.both_sixteenths(unit, Round::Up)) " beyond the centre on each front" }))
                    }
                    @if let (Some(hole), Some(start)) = (f.buttonhole, f.hole_starts) {
                        (figure("Buttonhole", length_cut(hole, unit), html! { "lying across it begins " (start.both_sixteenths(unit, Round::Nearest)) " past the centre, toward the edge" }))
                    }
                    @if let Some(ligne) = f.ligne { (figure("Trade size", html! { (ligne) " L" }, html! { "ligne, nearest" })) }
                }
                @if f.positions.len() > 1 {
                    details.closure-places {
                        summary { "Every place, from the upper end" }
                        (places(f, unit))
                    }
                }
            }
        }
        (cautions(&f.shown.cautions))
        (working(&f.shown))
    }
}

fn places(f: &ClosureFigures, unit: Unit) -> Markup {
    html! {
        div.scroll { table.numbers {
            thead { tr { th.num scope="col" { "" } th.num scope="col" { "From the upper end" } th.num scope="col" { "To the next" } } }
            tbody { @for (n, x) in f.positions.iter().enumerate() { tr {
                th.num scope="row" { (n + 1) }
                td.num { (length_sixteenths(*x, unit)) @if f.bust_level == Some(*x) { div.meta { "bust level" } } }
                td.num { @if let Some(gap) = f.gaps.get(n) { (length_sixteenths(*gap, unit)) } }
            } } }
        } }
    }
}
