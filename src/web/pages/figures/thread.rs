//! Thread: by stitch, by seam, in spools.

use crate::figures::Figures;
use crate::figures::thread::{spool_both, stitch_name};
use crate::plan::Plan;
use crate::web::components::{cautions, cloth_length, figure, folding, working};
use maud::{Markup, html};

pub fn card_of(plan: &Plan, figures: &Figures, base: &str) -> Markup {
    let unit = plan.unit;
    let Some(t) = &figures.thread else { return html! {} };
    folding(
        "thread",
        "Thread",
        html! { b { (t.spools) } @if t.spools == 1 { " spool" } @else { " spools" } },
        html! { a.button.quiet href=(format!("{base}/thread")) { "Change" } },
        html! {
            div.figures {
                (figure("In all", cloth_length(t.total, unit), html! { "waste included" }))
                (figure("Spools", html! { (t.spools) }, html! { "of " (spool_both(t.spool, unit)) @if let Some(cost) = t.cost { ", " (cost) " in all" } }))
            }
            @if t.by_stitch.len() > 1 {
                div.scroll { table.numbers {
                    thead { tr { th scope="col" { "Stitch" } th.num scope="col" { "Seam" } th.num scope="col" { "Thread" } } }
                    tbody { @for s in &t.by_stitch { tr {
                        th scope="row" { (stitch_name(s.stitch)) }
                        td.num { (cloth_length(s.length, unit)) }
                        td.num { (cloth_length(s.thread, unit)) }
                    } } }
                } }
            }
            (cautions(&t.shown.cautions))
            (working(&t.shown))
        },
    )
}
