//! Which edge of an outline that is drawn as a half lies on the fold.

use crate::measure::Length;
use crate::plan::{EdgeKind, OutlineEdge};
use crate::web::components::choice;
use crate::web::form::{Reader, Shown, Typed};
use maud::Markup;

const FIELD: &str = "fold";

pub(super) fn field(form: &Shown, edges: &[OutlineEdge]) -> Markup {
    let mut options = vec![(String::new(), "none: it is drawn whole".to_string())];
    let each = edges.iter().enumerate();
    options.extend(each.map(|(i, edge)| (i.to_string(), format!("{} {}", i + 1, edge.name))));
    choice(
        form,
        FIELD,
        "Drawn as a half: on the fold lies",
        "A straight edge. The piece is cut and counted twice as large, and nothing is cut along the fold.",
        &options,
    )
}

/// Whether the form has this edge on the fold.
pub(super) fn is(typed: &Typed, edge: usize) -> bool {
    typed.get(FIELD) == edge.to_string()
}

/// How an edge is finished, and its allowance: on the fold there is none.
pub(super) fn read(r: &mut Reader<'_>, edge: usize) -> (EdgeKind, Length) {
    let field = format!("kind_{edge}");
    if r.typed.has(FIELD) {
        if is(r.typed, edge) {
            return (EdgeKind::Fold, Length::ZERO);
        }
        // The row of the edge that was on the fold does not ask.
        if ["", EdgeKind::Fold.name()].contains(&r.typed.get(&field)) {
            return (EdgeKind::Seam, r.length_or_zero(&format!("allowance_{edge}")));
        }
    }
    (r.choice(&field), r.length_or_zero(&format!("allowance_{edge}")))
}
