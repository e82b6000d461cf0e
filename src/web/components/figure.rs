//! A figure with its working: the number big, both units, and how it came
//! about one tap away.

use crate::figures::{Change, Shown};
use crate::sheets::sentence;
use maud::{Markup, html};

/// One figure: what it is, the number, a line under it.
pub fn figure(label: &str, value: Markup, under: Markup) -> Markup {
    html! {
        div.figure {
            div.figure-label { (label) }
            div.figure-value { (value) }
            div.figure-under { (under) }
        }
    }
}

/// The working, allowances and sources behind a figure, folded.
pub fn working(shown: &Shown) -> Markup {
    if shown.working.is_empty() && shown.allowances.is_empty() {
        return html! {};
    }
    html! {
        details.working {
            summary { "Working and allowances" }
            @if !shown.working.is_empty() {
                ol { @for line in &shown.working { li { (sentence(line)) } } }
            }
            @if !shown.allowances.is_empty() {
                dl.allowances {
                    @for a in &shown.allowances {
                        div { dt { (a.name) } dd { b { (a.value) } " " span.source { (a.source) } } }
                    }
                }
            }
        }
    }
}

pub fn cautions(lines: &[String]) -> Markup {
    if lines.is_empty() {
        return html! {};
    }
    html! {
        div.caution role="note" {
            @for line in lines { p { (sentence(line)) } }
        }
    }
}

/// What a change does to the figures: the most important at once, the rest
/// one tap away.
pub fn changes(list: &[Change]) -> Markup {
    changes_at_once(list, 5)
}

/// As [`changes`], where many of them stand on a page.
pub fn changes_in_a_list(list: &[Change]) -> Markup {
    changes_at_once(list, 2)
}

fn changes_at_once(list: &[Change], most: usize) -> Markup {
    // One line folded away would take as much room as it saves.
    let at_once = if list.len() <= most + 1 { list.len() } else { most };
    let (first, rest) = list.split_at(at_once);
    html! {
        ul.changes { @for change in first { (change_line(change)) } }
        @if !rest.is_empty() {
            details.more {
                summary { (rest.len()) " more figures" }
                ul.changes { @for change in rest { (change_line(change)) } }
            }
        }
    }
}

fn change_line(change: &Change) -> Markup {
    html! {
        li {
            span.what { (change.what) } " "
            b { (change.difference) } " "
            span.from-to { (change.before) " → " (change.after) }
        }
    }
}
