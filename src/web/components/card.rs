//! A section with a notch on its edge.

use maud::{Markup, html};

/// `id` makes the section a place to jump to.
pub fn card(id: &str, heading: &str, body: Markup) -> Markup {
    card_with(id, heading, html! {}, body)
}

/// As [`card`], with a link or button beside the heading.
pub fn card_with(id: &str, heading: &str, action: Markup, body: Markup) -> Markup {
    html! {
        section.card id=(id) aria-labelledby=(format!("{id}-h")) {
            div.card-head {
                h2 id=(format!("{id}-h")) { (heading) }
                (action)
            }
            (body)
        }
    }
}

/// What stands where nothing is yet: a sentence and the one thing to do.
pub fn empty(sentence: &str, href: &str, action: &str) -> Markup {
    empty_with(sentence, href, action, "button primary")
}

/// As [`empty`], where something else comes first.
pub fn empty_for_now(sentence: &str, href: &str, action: &str) -> Markup {
    empty_with(sentence, href, action, "button")
}

fn empty_with(sentence: &str, href: &str, action: &str, class: &str) -> Markup {
    html! {
        div.empty {
            p { (sentence) }
            a class=(class) href=(href) { (action) }
        }
    }
}
