//! Packages a batting could be bought in, beside the length off the bolt.

use crate::figures::BattingFigures;
use crate::measure::{Round, Unit};
use crate::web::components::{cautions, size, working};
use maud::{Markup, html};

pub fn packages(batting: &BattingFigures, unit: Unit) -> Markup {
    html! {
        h3 { "Or in packages" }
        @if !batting.packages.is_empty() {
            table.numbers.packages {
                thead { tr { th scope="col" { "Package" } th.num scope="col" { "Size" } th.num scope="col" { "How many" } } }
                tbody { @for p in &batting.packages { tr {
                    th scope="row" { (p.name) @if p.best { " " span.state { "least" } } }
                    td.num { (size(p.size, unit, Round::Nearest)) }
                    td.num.big { (p.count) }
                } } }
            }
        }
        (cautions(&batting.shown.cautions))
        (working(&batting.shown))
    }
}
