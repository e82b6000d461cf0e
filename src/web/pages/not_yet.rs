//! The parts a plan does not have yet, in one short list: a line each, so that
//! what is there is not lost between what is not.

use super::part;
use crate::notebook::Project;
use crate::web::components::card;
use maud::{Markup, html};

/// Where a part is begun: the place its card will have, its form, what the
/// link says, what comes of it.
type Part = (&'static str, &'static str, &'static str, &'static str);

fn parts(project: &Project) -> Vec<Part> {
    let plan = &project.plan;
    let all: [(bool, Part); 5] = [
        (
            plan.edges.is_empty(),
            (
                "edges",
                "edges/new",
                "Add the first edge",
                "Raw edges to be bound: the binding is worked out from them.",
            ),
        ),
        (
            plan.closures.is_empty(),
            (
                "closures",
                "closures/new",
                "Add a row of closures",
                "Buttons, snaps, hooks or a zip: places, overlap, buttonholes.",
            ),
        ),
        (
            plan.thread.is_none() && plan.seams.is_empty(),
            (
                "thread",
                "thread",
                "Count the thread",
                "Choose the stitches and the spool; the seams are known from the plan.",
            ),
        ),
        (
            plan.sizing.is_none(),
            (
                "sizing",
                "sizing",
                "Type in the size table",
                "The pattern's sizes against the wearer's measures: which size, what to grade.",
            ),
        ),
        (
            plan.notions.is_empty(),
            (
                "notions",
                "notions/new",
                "Add a notion",
                "Snaps, tape, the needle you used: what a viewer will ask for.",
            ),
        ),
    ];
    all.into_iter()
        .filter(|(missing, _)| *missing)
        .map(|(_, part)| part)
        .collect()
}

pub fn card_of(project: &Project) -> Markup {
    let base = part::base(project);
    let parts = parts(project);
    html! {
        @if !parts.is_empty() {
            (card("not-yet", "Not in the plan yet", html! {
                ul.rows.begin { @for (id, address, action, why) in &parts {
                    li id=(id) { a href=(format!("{base}/{address}")) { (action) } span.meta { (why) } }
                } }
            }))
        }
    }
}
