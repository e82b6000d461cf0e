//! Cost: what is to be spent, what all that is in it is worth.

use crate::figures::Figures;
use crate::measure::Money;
use crate::web::components::{cautions, figure, folding, working};
use maud::{Markup, html};

pub fn card_of(figures: &Figures, currency: &str) -> Markup {
    let cost = &figures.cost;
    let priced = cost.lines.iter().any(|line| line.worth.is_some());
    let said = |money: Option<Money>| money.map_or("–".to_string(), |m| m.to_string());
    let but = if cost.unpriced.is_empty() {
        ""
    } else {
        "as far as prices are known"
    };
    html! {
        @if priced {
            (folding("cost", "Cost", html! { "to spend " b { (currency) " " (cost.to_spend) } }, html! {}, html! {
                div.figures {
                    (figure("To spend", html! { (currency) " " (cost.to_spend) }, html! { (but) }))
                    (figure("Worth of all in it", html! { (currency) " " (cost.worth) }, html! { "owned and bought, " (if but.is_empty() { "without your hours" } else { but }) }))
                }
                div.scroll { table.numbers {
                    thead { tr { th scope="col" { "What" } th.num scope="col" { "To spend" } th.num scope="col" { "Worth" } } }
                    tbody { @for line in &cost.lines { tr {
                        th scope="row" { (line.what) }
                        td.num { (said(line.to_spend)) }
                        td.num { (said(line.worth)) }
                    } } }
                } }
                (cautions(&cost.shown.cautions))
                (working(&cost.shown))
            }))
        }
    }
}
