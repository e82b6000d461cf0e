//! Ready-cut patches of a cloth: what is used before anything is cut.

use crate::figures::ClothFigures;
use crate::measure::Unit;
use maud::{Markup, html};

pub(super) fn table(c: &ClothFigures, unit: Unit) -> Markup {
    html! {
        @if !c.ready_cut.is_empty() {
            h3 { "Ready-cut patches, used first" }
            div.scroll { table.numbers {
                thead { tr { th scope="col" { "In stock" } th.num scope="col" { "Use" } th.num scope="col" { "Stay" } th scope="col" { "For" } } }
                tbody { @for r in &c.ready_cut { tr {
                    th scope="row" { (r.named(unit)) }
                    td.num.big { (r.used) }
                    td.num { (r.left) }
                    td {
                        @if r.uses.is_empty() { "nothing of that size or smaller" }
                        @for u in &r.uses {
                            div { (u.unit) ", trimmed to " (u.cut.cut(unit)) @if u.each > 1 { ", each cut into " (u.each) } }
                        }
                    }
                } } }
            } }
        }
    }
}
