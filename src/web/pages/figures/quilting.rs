//! The card of the quilting: lines drawn on each panel, where they meet its
//! edges, how much is stitched.

use crate::figures::quilting::from_words;
use crate::figures::{EdgePoint, LineSet, LineWay, PieceQuilting, QuiltingFigures};
use crate::measure::{Round, Unit};
use crate::web::components::{cautions, cloth_length, figure, folding, length, length_up, quilting_drawing, working};
use maud::{Markup, html};

pub fn card(quilting: &QuiltingFigures, unit: Unit, base: &str) -> Markup {
    folding(
        "quilting",
        "Quilting",
        cloth_length(quilting.total, unit),
        html! {},
        html! {
            div.figures {
                (figure("To stitch in all", cloth_length(quilting.total, unit), html! { "from edge to edge of every panel" }))
            }
            (cautions(&quilting.cautions))
            @for piece in &quilting.pieces { (of_piece(piece, unit, base)) }
        },
    )
}

fn of_piece(piece: &PieceQuilting, unit: Unit, base: &str) -> Markup {
    html! {
        article.panel-figure {
            h3 { a href=(format!("{base}/pieces/{}", piece.piece)) { (piece.name) } " " span.count { (piece.count) @if piece.count == 1 { " panel" } @else { " panels" } } }
            div.panel-and-figures {
                div.panel-drawing { (quilting_drawing(piece.panel, &piece.sets, &piece.name, unit)) }
                div {
                    div.figure-lines {
                        (figure("Lines on a panel", html! { (piece.lines) }, html! { @for (i, set) in piece.sets.iter().enumerate() { @if i > 0 { ", " } (set.lines.len()) " " (set.way.name()) } }))
                        (figure("Stitched on a panel", cloth_length(piece.length, unit), html! {}))
                        @if piece.count > 1 { (figure("On all of them", cloth_length(piece.total, unit), html! {})) }
                    }
                    @for set in &piece.sets { (positions(set, unit)) }
                }
            }
            (cautions(&piece.shown.cautions))
            (working(&piece.shown))
        }
    }
}

/// Where each line meets the edges; the one through the middle is marked.
fn positions(set: &LineSet, unit: Unit) -> Markup {
    let from = match set.way {
        LineWay::Upright => "from the left edge",
        LineWay::Level => "from the top edge",
        LineWay::Rising | LineWay::Falling => "from",
    };
    html! {
        details.lines {
            summary { span { (words(set.way)) ", " (set.spacing.both(unit, Round::Nearest)) " apart: where they lie" } }
            div.scroll { table.numbers {
                thead { tr { th scope="col" { "Line" } th.num scope="col" { (from) } @if set.way.is_diagonal() { th.num scope="col" { "to" } th.num scope="col" { "Length" } } } }
                tbody { @for (n, line) in set.lines.iter().enumerate() { tr {
                    th scope="row" { (n + 1) @if n == set.middle { " " span.meta { "middle" } } }
                    td.num { (at(line.from, set.way, unit)) }
                    @if set.way.is_diagonal() {
                        td.num { (at(line.to, set.way, unit)) }
                        td.num { (length_up(line.length, unit)) }
                    }
                } } }
            } }
        }
    }
}

fn at(point: EdgePoint, way: LineWay, unit: Unit) -> Markup {
    html! {
        (length(point.at, unit))
        @if way.is_diagonal() { span.meta { (from_words(point.edge)) } }
    }
}

fn words(way: LineWay) -> &'static str {
    match way {
        LineWay::Upright => "Upright lines",
        LineWay::Level => "Level lines",
        LineWay::Rising => "Lines rising to the right",
        LineWay::Falling => "Lines falling to the right",
    }
}
