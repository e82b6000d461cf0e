//! Sections that fold, and the way to them: a long page stays in reach of a
//! thumb. Closed in the page as it is sent; the script opens them where the
//! screen is wide, where an address leads into one, and where they were left
//! open. On paper all of them are open.

use maud::{Markup, html};

/// A section of which, folded, its heading and `in_short` stay. `action` is a
/// link beside the heading while it is open.
pub fn folding(id: &str, heading: &str, in_short: Markup, action: Markup, body: Markup) -> Markup {
    html! {
        section.card.foldable id=(id) aria-labelledby=(format!("{id}-h")) {
            details.fold {
                summary.card-head {
                    h2 id=(format!("{id}-h")) { (heading) }
                    span.in-short { (in_short) }
                }
                div.fold-body {
                    @if !action.0.is_empty() { div.fold-action { (action) } }
                    (body)
                }
            }
        }
    }
}

/// One of several parts of a section, folded by itself.
pub fn folding_part(id: &str, heading: Markup, in_short: Markup, body: Markup) -> Markup {
    html! {
        article.panel-figure id=(id) {
            details.fold {
                summary { h3 { (heading) } span.in-short { (in_short) } }
                div.fold-body { (body) }
            }
        }
    }
}

/// The ways to the parts of a long page: a row that stays on top, or on a phone
/// a list that a button above the thumb opens.
pub fn on_this_page(links: Markup) -> Markup {
    html! {
        nav.jump #on-this-page popover aria-label="On this page" { (links) }
        button.button.to-sections type="button" popovertarget="on-this-page" { "On this page" }
    }
}
