//! What was found: of plans the answer itself, ready to be copied; of the rest
//! the words it was found by, and the way there.

use super::{Answered, Results};
use crate::notebook::{Excerpt, Found, FoundKind};
use crate::sheets::Line;
use crate::web::pages::log;
use chrono::Local;
use maud::{Markup, html};

pub fn show(results: &[Results]) -> Markup {
    html! {
        nav.jump aria-label="What was found" {
            @for r in results { a href=(format!("#{}", id(r.group.kind))) { (heading(r.group.kind)) " (" (count(r)) ")" } }
        }
        @for r in results {
            section id=(id(r.group.kind)) aria-labelledby=(format!("{}-h", id(r.group.kind))) {
                h2.group id=(format!("{}-h", id(r.group.kind))) { (heading(r.group.kind)) }
                @match r.group.kind {
                    FoundKind::Material | FoundKind::Piece => div.answers {
                        @for (i, a) in r.answered.iter().enumerate() { (answer(r.group.kind, i, a)) }
                    },
                    _ => ul.rows.found { @for found in &r.group.found { li { (row(found)) } } },
                }
                @if r.group.more { p.hint { "There is more. Add a word, or narrow it down above." } }
            }
        }
    }
}

const fn id(kind: FoundKind) -> &'static str {
    match kind {
        FoundKind::Material => "materials",
        FoundKind::Piece => "pieces",
        FoundKind::Project => "projects",
        FoundKind::Step => "steps",
        FoundKind::Entry => "log",
        FoundKind::Cloth => "shelf",
        FoundKind::Wearer => "wearers",
    }
}

const fn heading(kind: FoundKind) -> &'static str {
    match kind {
        FoundKind::Material => "What it is made of",
        FoundKind::Piece => "Pieces",
        FoundKind::Project => "Projects",
        FoundKind::Step => "Steps",
        FoundKind::Entry => "Log",
        FoundKind::Cloth => "On the shelf",
        FoundKind::Wearer => "Wearers",
    }
}

fn count(r: &Results) -> String {
    let shown = match r.group.kind {
        FoundKind::Material | FoundKind::Piece => r.answered.iter().map(|a| a.lines.len()).sum(),
        _ => r.group.found.len(),
    };
    format!("{shown}{}", if r.group.more { "+" } else { "" })
}

/// The text is on the page as it is copied, so that it can also be selected by hand.
fn answer(kind: FoundKind, number: usize, a: &Answered) -> Markup {
    let text = format!("{}-{number}-text", id(kind));
    let open = match kind {
        FoundKind::Piece => format!("/projects/{}", a.project),
        _ => format!("/projects/{}/materials", a.project),
    };
    html! {
        section.card {
            div.card-head {
                h3 { a href=(open) { (a.title) } }
                span.state data-state=(a.state.name()) { (a.state.name()) }
            }
            p.answer-text id=(text) {
                @for (i, l) in a.lines.iter().enumerate() {
                    @if i > 0 { "\n" }
                    (line(l))
                }
            }
            p.actions {
                button.button type="button" hidden data-copy=(format!("#{text}")) aria-label=(format!("Copy the answer of {}", a.title)) { "Copy" }
                span role="status" data-copied {}
            }
        }
    }
}

fn line(l: &Line) -> Markup {
    let web = ["https://", "http://"].iter().any(|s| l.link.starts_with(s));
    html! {
        b { (l.name) } (l.after_name())
        @for line in l.further() { "\n" (line) }
        @if !l.link.is_empty() {
            "\n"
            @if web { a.link href=(l.link) rel="noopener noreferrer nofollow" { (l.link) } } @else { (l.link) }
        }
    }
}

fn row(found: &Found) -> Markup {
    let (href, title) = place(found);
    html! {
        a.row href=(href) {
            span.row-text {
                b { (title) }
                @if let Some(at) = found.happened_at { " " span.meta { (at.with_timezone(&Local).format("%-d %B %Y")) } }
                @if !found.excerpt.is_empty() { span.found-words { (excerpt(&found.excerpt)) } }
            }
        }
    }
}

/// Where it is, and what it is called.
fn place(found: &Found) -> (String, &str) {
    let project = found.project.as_ref();
    match (found.kind, project) {
        (FoundKind::Entry, Some((id, title))) => match found.item.parse() {
            Ok(entry) => (log::address(*id, entry), title),
            Err(_) => (format!("/projects/{id}/log"), title),
        },
        (FoundKind::Step, Some((id, _))) => (format!("/projects/{id}/steps#step-{}", found.item), &found.title),
        (FoundKind::Cloth, _) => (format!("/cloth/{}", found.item), &found.title),
        (FoundKind::Wearer, _) => (format!("/wearers/{}", found.item), &found.title),
        (_, Some((id, title))) => (format!("/projects/{id}"), title),
        _ => ("/".into(), &found.title),
    }
}

fn excerpt(parts: &[Excerpt]) -> Markup {
    html! { @for part in parts { @if part.hit { mark { (part.text) } } @else { (part.text) } } }
}
