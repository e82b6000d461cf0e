//! The edges a draft is sewn to, as rows of its form.

use super::kinds::{each_edge, edge_of, edge_value};
use super::table::Field;
use crate::measure::Round;
use crate::plan::{Plan, SewnEdge, limits};
use crate::web::components::{choice, field_errors, length_input, number};
use crate::web::form::{Reader, Shown, Typed};
use maud::{Markup, html};
use serde_json::Value;

/// Empty rows beyond those in use: front and back at once.
const SPARE: usize = 2;

fn edge_key(i: usize) -> String {
    format!("sewn_{i}")
}

fn times_key(i: usize) -> String {
    format!("sewn_times_{i}")
}

/// Whether any edge is chosen.
pub fn chosen(typed: &Typed) -> bool {
    (0..limits::SEWN_EDGES).any(|i| !typed.get(&edge_key(i)).is_empty())
}

pub fn fill(typed: &mut Typed, value: Option<&Value>) {
    let edges: Option<Vec<SewnEdge>> = value.cloned().and_then(|v| serde_json::from_value(v).ok());
    for (i, edge) in edges.unwrap_or_default().into_iter().enumerate() {
        typed.set(&edge_key(i), edge_value(&edge.of()));
        typed.set(&times_key(i), edge.times.map(|t| t.to_string()).unwrap_or_default());
    }
}

pub fn read(r: &mut Reader) -> Vec<SewnEdge> {
    let mut edges = Vec::new();
    for i in 0..limits::SEWN_EDGES {
        let typed_times = !r.typed.get(&times_key(i)).trim().is_empty();
        let Some(of) = edge_of(r.typed.get(&edge_key(i))) else {
            if typed_times {
                r.errors.add(edge_key(i), "Choose the edge, or empty the row.");
            }
            continue;
        };
        let times = typed_times.then(|| r.count(&times_key(i), 1..=limits::CUT_COUNT));
        edges.push(SewnEdge {
            piece: of.piece,
            edge: of.edge,
            times,
        });
    }
    edges
}

/// The edges, with what they are shortened by.
pub fn show(form: &Shown, field: &Field, shorter: Option<&Field>, plan: &Plan, draft: Option<&str>) -> Markup {
    let options = options(plan, draft);
    let open = chosen(&form.typed) || form.errors.has(field.key) || shorter.is_some_and(|f| form.errors.has(f.key));
    let open = open || (0..limits::SEWN_EDGES).any(|i| form.errors.has(&edge_key(i)) || form.errors.has(&times_key(i)));
    let used = (0..limits::SEWN_EDGES)
        .rev()
        .find(|i| !form.typed.get(&edge_key(*i)).is_empty() || !form.typed.get(&times_key(*i)).is_empty());
    let rows = (used.map_or(0, |i| i + 1) + SPARE).min(limits::SEWN_EDGES);
    html! {
        details.sewn-to id=(field.key) open[open] {
            summary { (field.label) " edges of outlines" }
            p.hint { (field.hint) " Times is how often the edge is there: empty, as often as its piece is cut, on the fold both halves." }
            @if options.is_empty() && !open {
                p.hint { "No other piece of this plan has an outline yet: draft it, read it from a file or trace it first." }
            } @else {
                (field_errors(form, field.key))
                @for i in 0..rows { (row(form, i, &options)) }
                button.button.quiet type="button" hidden data-add-row data-most=(limits::SEWN_EDGES) { "Another edge" }
                @if let Some(f) = shorter { (length_input(form, f.key, f.label, f.hint)) }
            }
        }
    }
}

fn row(form: &Shown, i: usize, options: &[(String, String)]) -> Markup {
    let taken = form.typed.get(&edge_key(i));
    let mut all = vec![(String::new(), "none".to_string())];
    if !taken.is_empty() && !options.iter().any(|(value, _)| value == taken) {
        all.push((taken.to_string(), "no longer there: choose another".to_string()));
    }
    all.extend(options.iter().cloned());
    html! {
        div.sewn-row data-row {
            (choice(form, &edge_key(i), &format!("Edge {}", i + 1), "", &all))
            (number(form, &times_key(i), "Times", ""))
        }
    }
}

/// All edges but the draft's own, with how often each counts if nothing is typed.
fn options(plan: &Plan, draft: Option<&str>) -> Vec<(String, String)> {
    each_edge(plan, draft, |piece, shape, edge| {
        let length = edge.length_nearest().both_sixteenths(plan.unit, Round::Nearest);
        let times = shape.times_sewn(piece.cut_count);
        format!("{}: {}, {length}, {times} ×", piece.name, edge.name)
    })
}
