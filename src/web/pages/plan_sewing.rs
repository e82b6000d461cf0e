//! The plan page's sections for what is sewn on and how: closures, seams
//! and thread, the size.

use crate::figures::Figures;
use crate::figures::thread::{spool_both, stitch_name};
use crate::notebook::Project;
use crate::web::components::{card, card_with, cloth_length, length_up};
use crate::web::pages::closures::gaps_words;
use maud::{Markup, html};

pub fn sections(project: &Project, figures: &Figures) -> Markup {
    html! {
        (closures(project, figures))
        (thread(project, figures))
        (sizing(project, figures))
    }
}

fn closures(project: &Project, figures: &Figures) -> Markup {
    let plan = &project.plan;
    let base = format!("{}/closures", super::part::base(project));
    if plan.closures.is_empty() {
        return html! {};
    }
    card_with(
        "closures",
        "Closures",
        html! { a.button href=(format!("{base}/new")) { "Add a row" } },
        html! {
            ul.rows { @for c in &plan.closures {
                @let f = figures.closures.iter().find(|f| f.closure == c.id);
                li { a.row href=(format!("{base}/{}", c.id)) {
                    div.row-text { b { (c.name) } " " span.count { (c.kind.counted(f.map_or(2, |f| f.count))) }
                        @if let Some(f) = f { @if f.zip.is_none() { div.meta { (gaps_words(f, plan.unit)) } } } }
                    @if let Some(f) = f { div.row-figure {
                        @match f.zip { Some(zip) => (length_up(zip, plan.unit)), None => span.len { span.lead { (f.count) } } }
                    } }
                } }
            } }
        },
    )
}

fn thread(project: &Project, figures: &Figures) -> Markup {
    let plan = &project.plan;
    let base = super::part::base(project);
    if plan.thread.is_none() && plan.seams.is_empty() {
        return html! {};
    }
    card_with(
        "thread",
        "Seams and thread",
        html! { a.button href=(format!("{base}/seams/new")) { "Add a seam" } },
        html! {
                ul.rows {
                    @for s in &plan.seams {
                        li { a.row href=(format!("{base}/seams/{}", s.id)) {
                            div.row-text { b { (s.name) } " " span.count { (s.count) " ×" } div.meta { (stitch_name(s.stitch)) } }
                            div.row-figure { (length_up(s.length, plan.unit)) }
                        } }
                    }
                    li { a.row href=(format!("{base}/thread")) {
                        div.row-text { b { "Thread" }
                            @if let Some(t) = &figures.thread { div.meta { (t.spools) @if t.spools == 1 { " spool of " } @else { " spools of " } (spool_both(t.spool, plan.unit)) } } }
                        @if let Some(t) = &figures.thread { div.row-figure { span.label { "in all" } (cloth_length(t.total, plan.unit)) } }
                    } }
                }
        },
    )
}

fn sizing(project: &Project, figures: &Figures) -> Markup {
    let address = format!("{}/sizing", super::part::base(project));
    if project.plan.sizing.is_none() {
        return html! {};
    }
    card(
        "sizing",
        "Size and ease",
        html! {
            @match (&project.plan.sizing, &figures.sizing) {
                (None, _) => {}
                (Some(_), None) => ul.rows { li { a.row href=(address) { div.row-text { b { "Size table" } div.meta { "cannot be read yet" } } } } },
                (Some(table), Some(s)) => ul.rows { li { a.row href=(address) {
                    div.row-text { b { "Size table" } " " span.count { (table.sizes.join(", ")) } div.meta { (s.why) } }
                    @if let Some(size) = s.taken.and_then(|n| s.sizes.get(n)) { div.row-figure { span.label { "size" } span.len { span.lead { (size) } } } }
                } } },
            }
        },
    )
}
