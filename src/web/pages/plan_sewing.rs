//! The plan page's sections for what is sewn on and how: closures.

use crate::figures::Figures;
use crate::notebook::Project;
use crate::plan::ClosureKind;
use crate::web::components::{card_with, empty_for_now, length_up};
use crate::web::pages::closures::gaps_words;
use maud::{Markup, html};

pub fn sections(project: &Project, figures: &Figures) -> Markup {
    html! {
        (closures(project, figures))
    }
}

fn closures(project: &Project, figures: &Figures) -> Markup {
    let plan = &project.plan;
    let base = format!("/projects/{}/closures", project.id);
    card_with(
        "closures",
        "Closures",
        html! { @if !plan.closures.is_empty() { a.button href=(format!("{base}/new")) { "Add a row" } } },
        html! {
            @if plan.closures.is_empty() {
                (empty_for_now("Buttons, snaps, hooks or a zip along a line: their places, overlap and buttonholes are worked out.", &format!("{base}/new"), "Add a row of closures"))
            }
            ul.rows { @for c in &plan.closures {
                @let f = figures.closures.iter().find(|f| f.closure == c.id);
                li { a.row href=(format!("{base}/{}", c.id)) {
                    div.row-text { b { (c.name) } " " span.count { (kind_words(c.kind, f.map_or(2, |f| f.count))) }
                        @if let Some(f) = f { @if f.zip.is_none() { div.meta { (gaps_words(f, plan.unit)) } } } }
                    @if let Some(f) = f { div.row-figure {
                        @match f.zip { Some(zip) => (length_up(zip, plan.unit)), None => span.len { span.lead { (f.count) } } }
                    } }
                } }
            } }
        },
    )
}

pub fn kind_words(kind: ClosureKind, count: i64) -> &'static str {
    match (kind, count) {
        (ClosureKind::Button, 1) => "button",
        (ClosureKind::Button, _) => "buttons",
        (ClosureKind::Snap, 1) => "snap",
        (ClosureKind::Snap, _) => "snaps",
        (ClosureKind::HookAndEye, 1) => "hook and eye",
        (ClosureKind::HookAndEye, _) => "hooks and eyes",
        (ClosureKind::Zip, _) => "zip",
    }
}
