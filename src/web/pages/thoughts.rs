//! Second thoughts, shown where they help: when a project is opened again, and
//! when another is started from it.

use crate::notebook::{Id, Notebook, Result, SecondThought};
use maud::{Markup, html};

/// What would be done otherwise comes first; the rest a tap away.
pub fn show(thoughts: &[(String, SecondThought)]) -> Markup {
    const AT_ONCE: usize = 2;
    let mut thoughts: Vec<&(String, SecondThought)> = thoughts.iter().collect();
    thoughts.sort_by_key(|(_, thought)| thought.would_do_again);
    // One folded away would take as much room as it saves.
    let at_once = if thoughts.len() <= AT_ONCE + 1 {
        thoughts.len()
    } else {
        AT_ONCE
    };
    let (first, rest) = thoughts.split_at(at_once);
    let lines = |list: &[&(String, SecondThought)]| {
        html! { ul { @for (what, thought) in list {
            li {
                b { (what.trim_end_matches('.')) } ": "
                span.verdict { @if thought.would_do_again { "would do again." } @else { "would not do again." } }
                @if !thought.text.is_empty() { " " (thought.text) }
            }
        } } }
    };
    html! {
        @if !thoughts.is_empty() {
            aside.thoughts aria-labelledby="thoughts-h" {
                h2 #thoughts-h { "Second thoughts" }
                (lines(first))
                @if !rest.is_empty() {
                    details { summary { (rest.len()) " more" } (lines(rest)) }
                }
            }
        }
    }
}

/// Decisions the maker has judged later, in this project and the one it came from.
pub fn of(n: &Notebook, id: Id) -> Result<Vec<(String, SecondThought)>> {
    let mut list = Vec::new();
    let from = n.project(id)?.from.map(|(from, _)| from);
    for project in std::iter::once(id).chain(from) {
        // The older project may be in the bin by now.
        for entry in n.log(project).unwrap_or_default() {
            if let Some(thought) = entry.second_thought {
                list.push((entry.text.lines().next().unwrap_or("").to_string(), thought));
            }
        }
    }
    Ok(list)
}
