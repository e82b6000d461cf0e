//! The drawings beside the forms: the parts of a draft, the outline of a piece.

use crate::drafting::{DraftProblem, Part, Shape, Told, cautions, parts_of, shape_of};
use crate::measure::{Round, Unit};
use crate::plan::{Piece, Plan};
use crate::web::components::{self, cut_words, shape_drawing};
use maud::{Markup, html};

/// Before an id, as the focus of the figures beside a form.
pub const OF_DRAFT: &str = "drafts/";
pub const OF_OUTLINE: &str = "outlines/";

/// The drawing a focus asks for.
pub fn glimpse(plan: &Plan, focus: &str) -> Option<Markup> {
    if let Some(id) = focus.strip_prefix(OF_DRAFT) {
        return Some(draft(plan, id));
    }
    let piece = plan.piece(focus.strip_prefix(OF_OUTLINE)?)?;
    Some(html! {
        p.live-head { (piece.name) }
        (outline(plan, piece))
    })
}

/// In one line, in view over the save button of a phone; it leads to the drawing.
pub fn line(plan: &Plan, focus: &str) -> Option<String> {
    let said = |name: &str, shape: &Shape| {
        let size = shape.cut_size();
        format!(
            "{name} {} × {}",
            size.width.cut_one(plan.unit),
            size.height.cut_one(plan.unit)
        )
    };
    if let Some(id) = focus.strip_prefix(OF_DRAFT) {
        let parts = parts_of(plan, plan.draft(id)?).ok()?;
        let first = parts.first()?;
        let more = match parts.len() {
            1 => String::new(),
            n => format!(" and {} more", n - 1),
        };
        let place = Told {
            field: String::new(),
            name: &first.name,
            unit: plan.unit,
        };
        let shape = Shape::of(&first.outline, &place).ok()?;
        return Some(said(&first.name, &shape) + &more);
    }
    let piece = plan.piece(focus.strip_prefix(OF_OUTLINE)?)?;
    Some(said(&piece.name, &shape_of(plan, piece).ok()?))
}

fn draft(plan: &Plan, id: &str) -> Markup {
    let Some(draft) = plan.draft(id) else {
        return html! { p.hint { "The drawing appears here as soon as the measures are typed." } };
    };
    match parts_of(plan, draft) {
        Ok(parts) => html! {
            p.live-head { (draft.name) }
            div.shapes { @for part in &parts { (drawn_part(part, plan.unit)) } }
            (components::cautions(&cautions(plan, draft)))
        },
        Err(problems) => told(&problems),
    }
}

fn drawn_part(part: &Part, unit: Unit) -> Markup {
    let place = Told {
        field: String::new(),
        name: &part.name,
        unit,
    };
    match Shape::of(&part.outline, &place) {
        Ok(shape) => html! {
            figure.shape-figure {
                (shape_drawing(&shape, &part.name, unit))
                figcaption {
                    b { (part.name) } " "
                    span.count { "cut " (part.cut_count) @if part.mirrored { ", mirrored pair" } @if shape.fold_x().is_some() { ", on the fold" } }
                    @let size = shape.cut_size();
                    div.meta { (cut_words(size.width, size.height, unit)) }
                }
            }
        },
        Err(problems) => told(&problems),
    }
}

fn outline(plan: &Plan, piece: &Piece) -> Markup {
    match shape_of(plan, piece) {
        Ok(shape) => html! {
            figure.shape-figure {
                (shape_drawing(&shape, &piece.name, plan.unit))
                figcaption {
                    @let size = shape.cut_size();
                    div.meta { "Cut " (cut_words(size.width, size.height, plan.unit)) @if shape.fold_x().is_some() { ", to the fold" } @else if shape.is_opened_out() { ", opened out" } }
                    @if let Some(notice) = shape.fold_notice(&piece.name) { p.hint { (notice) } }
                    @if piece.draft().is_some_and(|d| plan.drafted_from(d).count() > 1) && !piece.outline_changes().is_empty() {
                        p.hint { "The other pieces of this draft are not changed with it: compare the edges that are sewn to each other." }
                    }
                    ul.edge-lengths { @for (i, edge) in shape.edges.iter().enumerate() {
                        li { span { span.edge-number { (i + 1) } " " (edge.name) } span.meta data-edge-length=(i) { (edge.length_nearest().both_sixteenths(plan.unit, Round::Nearest)) } }
                    } }
                }
            }
        },
        Err(problems) => told(&problems),
    }
}

/// The outline of a piece in a list.
pub fn piece_drawing(plan: &Plan, piece: &Piece) -> Option<Markup> {
    let shape = shape_of(plan, piece).ok()?;
    Some(components::shape_icon(&shape))
}

fn told(problems: &[DraftProblem]) -> Markup {
    html! {
        p.live-head { "Not drawn yet" }
        ul.missing { @for p in problems.iter().take(4) { li { (p.sentence) } } }
    }
}
