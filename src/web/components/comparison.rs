//! Plans beside each other, figure by figure: the same rows for all of them,
//! what differs told by words and weight.

use crate::figures::{Cell, Row};
use maud::{Markup, html};

/// `plans` are the columns' headings, the first what the others are held
/// against. `between` heads the last against the one before it.
pub fn comparison(caption: &str, plans: &[&str], between: Option<&str>, rows: &[Row]) -> Markup {
    html! {
        // A phone lays the rows out as a grid; the roles stay what they are.
        table.beside role="table" data-plans=(plans.len()) {
            caption.quiet { (caption) }
            thead role="rowgroup" { tr role="row" {
                th role="columnheader" scope="col" { "Figure" }
                @for plan in plans { th role="columnheader" scope="col" { (plan) } }
                @if let Some(between) = between { th role="columnheader" scope="col" { (between) } }
            } }
            tbody role="rowgroup" { @for row in rows { tr role="row" {
                th role="rowheader" scope="row" { (row.what) }
                @for (plan, c) in plans.iter().zip(&row.cells) { (cell(plan, c, plan == &plans[0])) }
                @if let Some(between) = between { td.between role="cell" data-plan=(between) {
                    @if let Some(difference) = &row.between { (difference) } @else { span.same { "the same" } }
                } }
            } } }
        }
    }
}

fn cell(plan: &str, cell: &Cell, first: bool) -> Markup {
    html! {
        td.differs[cell.difference.is_some()] role="cell" data-plan=(plan) {
            span.value { (cell.value) }
            @match &cell.difference {
                Some(difference) => span.by { (difference) },
                None if !first => span.by.same { "the same" },
                None => {}
            }
        }
    }
}
