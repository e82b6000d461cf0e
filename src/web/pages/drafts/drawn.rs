//! The drawings beside the forms: the parts of a draft, the outline of a piece.

use crate::drafting::{DraftProblem, Part, SewnTo, Shape, Told, cautions, parts_of, sewn_to, shape_of, unequal_seams};
use crate::measure::{Length, Round, Unit};
use crate::plan::{Draft, DraftKind, Piece, Plan};
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

/// In one line with a small drawing, in view over the save button of a phone;
/// it leads to the large one.
pub fn line(plan: &Plan, focus: &str) -> Option<Markup> {
    if let Some(id) = focus.strip_prefix(OF_DRAFT) {
        let parts = parts_of(plan, plan.draft(id)?).ok()?;
        let shapes: Vec<(&str, Shape)> = parts
            .iter()
            .filter_map(|part| {
                let place = Told {
                    field: String::new(),
                    name: &part.name,
                    unit: plan.unit,
                };
                Some((part.name.as_str(), Shape::of(&part.outline, &place).ok()?))
            })
            .collect();
        return in_one_line(&shapes, plan.unit);
    }
    let piece = plan.piece(focus.strip_prefix(OF_OUTLINE)?)?;
    in_one_line(&[(&piece.name, shape_of(plan, piece).ok()?)], plan.unit)
}

/// More would be too small to see.
const IN_A_LINE: usize = 3;

fn in_one_line(shapes: &[(&str, Shape)], unit: Unit) -> Option<Markup> {
    let (name, first) = shapes.first()?;
    let size = first.cut_size();
    Some(html! {
        span.live-shapes { @for (_, shape) in shapes.iter().take(IN_A_LINE) { (components::shape_icon(shape)) } }
        span {
            (name) " " (size.width.cut_one(unit)) " × " (size.height.cut_one(unit))
            @if shapes.len() > 1 { " and " (shapes.len() - 1) " more" }
        }
    })
}

fn draft(plan: &Plan, id: &str) -> Markup {
    let Some(draft) = plan.draft(id) else {
        return html! { p.hint { "The drawing appears here as soon as the measures are typed." } };
    };
    match parts_of(plan, draft) {
        Ok(parts) => html! {
            p.live-head { (draft.name) }
            @if let Ok(Some(sewn)) = sewn_to(plan, draft) { (working(&sewn, plan.unit)) }
            (seams(plan, draft))
            div.shapes { @for part in &parts { (drawn_part(part, plan.unit)) } }
            (components::cautions(&cautions(plan, draft)))
        },
        Err(problems) => told(&problems),
    }
}

/// Seams whose two sides are not as long as each other.
fn seams(plan: &Plan, draft: &Draft) -> Markup {
    let unequal = unequal_seams(plan, draft);
    html! { @if !unequal.is_empty() { ul.missing { @for sentence in &unequal { li { (sentence) } } } } }
}

/// Whether the seams between its pieces are not compared by the program.
fn compared_by_hand(draft: &Draft) -> bool {
    !matches!(draft.kind, DraftKind::ThreePanelHood(_))
}

/// How the length of what it is sewn to comes about.
fn working(sewn: &SewnTo, unit: Unit) -> Markup {
    let both = |length: Length| length.both_sixteenths(unit, Round::Nearest);
    html! {
        table.sewn-working {
            tbody {
                @for e in &sewn.edges { tr {
                    th scope="row" { (e.piece) ", " (e.edge) @if e.times > 1 { ", " (e.times) " × " (both(e.length)) } }
                    td { (both(e.length * i64::from(e.times))) }
                } }
                @if sewn.half { tr { th scope="row" { "Half of all" } td { (both(sewn.length + sewn.shorter_by)) } } }
                @if sewn.shorter_by != Length::ZERO { tr { th scope="row" { "Shorter by" } td { "− " (both(sewn.shorter_by)) } } }
                tr.total { th scope="row" { "Made for" } td { b { (both(sewn.length)) } } }
            }
        }
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
                    @let draft = piece.draft().and_then(|d| plan.draft(d));
                    @if let Some(draft) = draft { (seams(plan, draft)) }
                    @if draft.is_some_and(|d| compared_by_hand(d) && plan.drafted_from(&d.id).count() > 1) && !piece.outline_changes().is_empty() {
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
