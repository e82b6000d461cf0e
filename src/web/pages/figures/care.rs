//! Care of the whole, in the order of ISO 3758.

use crate::figures::Figures;
use crate::web::components::{cautions, folding, working};
use maud::{Markup, html};

pub fn card_of(figures: &Figures) -> Markup {
    let Some(care) = &figures.care else { return html! {} };
    folding(
        "care",
        "Care",
        html! { @if let Some(line) = care.lines.first() { (line.words) } @else { "not said yet" } },
        html! {},
        html! {
            @if care.lines.is_empty() {
                p.hint { "Nothing is said of the care of any material yet. Choose it in the form of each cloth." }
            } @else {
                dl.care-lines {
                    @for line in &care.lines { div {
                        dt { (line.treatment) }
                        dd { b { (line.words) } @if !line.limited_by.is_empty() { span.meta { "because of " (line.limited_by.join(" and ")) } } }
                    } }
                }
            }
            @for hint in &care.fibre_hints { p.hint { (hint) } }
            @if !care.lines.is_empty() || care.shown.cautions.len() > 1 { (cautions(&care.shown.cautions)) }
            (working(&care.shown))
        },
    )
}
