//! What of the plan is not laid here, and why; and what is cut besides of what
//! is: never left out silently.

use super::Laid;
use crate::figures::lay::{NotLaid, WhyNotLaid, layers_under, not_laid};
use crate::web::components::card as card_of;
use crate::web::pages::part;
use maud::{Markup, html};

pub fn card(laid: &Laid) -> Markup {
    let left = not_laid(&laid.plan, &laid.figures, &laid.cloth.id);
    let under = layers_under(&laid.plan, &laid.figures, &laid.cloth.id);
    if left.is_empty() && under.is_empty() {
        return html! {};
    }
    card_of(
        "besides",
        "Not laid here",
        html! {
            ul.lay-besides {
                @for piece in &left { li { b { (piece.name) } ": " (why(laid, piece)) "." } }
                @for (name, batting, backing) in &under { li {
                    b { (name) } " is quilted; what lies under it is cut by itself: "
                    @if let Some(cloth) = batting { "batting, " (cloth_link(laid, cloth)) @if backing.is_some() { "; " } }
                    @if let Some(cloth) = backing { "backing, " (cloth_link(laid, cloth)) }
                    "."
                } }
            }
        },
    )
}

fn why(laid: &Laid, piece: &NotLaid) -> Markup {
    let base = part::base(&laid.project);
    html! {
        @match &piece.why {
            WhyNotLaid::Pieced { of_it: true } => { "sewn from patches; those of this cloth are in its " a href=(laid.figures()) { "cutting layout" } }
            WhyNotLaid::Pieced { of_it: false } => { "sewn from patches of other cloths, in their " a href=(format!("{base}/figures#panels")) { "cutting layouts" } }
            WhyNotLaid::OtherCloth { cloth, name } => { "cut from " (name) "; " a href=(format!("{base}/lay/{cloth}")) { "lay it there" } }
            WhyNotLaid::NoFace => { "no cloth is chosen for it yet; " a href=(format!("{base}/pieces/{}#face", piece.piece)) { "choose its face" } }
            WhyNotLaid::NotWorkedOut => { "its size or outline cannot be worked out yet; " a href=(format!("{base}/pieces/{}", piece.piece)) { "look at it" } }
        }
    }
}

fn cloth_link(laid: &Laid, id: &str) -> Markup {
    let name = laid.plan.cloth(id).map_or("a cloth", |c| c.name.as_str());
    html! { a href=(format!("{}/figures#cloth-{id}", part::base(&laid.project))) { (name) } }
}
