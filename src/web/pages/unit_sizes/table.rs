//! The plans compared: one column each, the present one first.

use super::Column;
use crate::figures::{self, Change, PieceFigures};
use crate::measure::{Length, Round, Unit};
use crate::plan::Piece;
use crate::web::components::{changes, cloth_length, size};
use maud::{Markup, html};

pub fn table(chosen: &[&Piece], columns: &[Column], currency: &str) -> Markup {
    let Some(now) = columns.first() else {
        return html! {};
    };
    let unit = now.plan.unit;
    let differences: Vec<Vec<Change>> = columns
        .iter()
        .map(|c| figures::effect(&now.figures, &c.figures))
        .collect();
    let used: Vec<usize> = (0..now.figures.cloths.len())
        .filter(|i| columns.iter().any(|c| !c.figures.cloths[*i].cuts.is_empty()))
        .collect();
    html! {
        section.card aria-labelledby="sizes-h" {
            div.card-head { h2 #sizes-h { "What each takes" } }
            div.scroll.size-scroll tabindex="0" role="region" aria-labelledby="sizes-h" {
                table.numbers.unit-sizes {
                    thead { tr {
                        th scope="col" { "" }
                        @for (n, column) in columns.iter().enumerate() {
                            th.num scope="col" {
                                @if n == 0 { span.meta { "now" } }
                                (head(chosen, column))
                            }
                        }
                    } }
                    tbody {
                        @for piece in chosen {
                            tr {
                                th scope="row" { (piece.name) div.meta { "units across × down, panel" } }
                                @for column in columns { td.num { (panel(column, piece)) } }
                            }
                        }
                        tr {
                            th scope="row" { "Patches" }
                            @for column in columns {
                                td.num { b { (column.figures.totals.patches) } (patches(now, column)) }
                            }
                        }
                        @for i in used {
                            tr {
                                th scope="row" { (now.figures.cloths[i].name) div.meta { "to buy" } }
                                @for (column, changed) in columns.iter().zip(&differences) {
                                    @let cloth = &column.figures.cloths[i];
                                    td.num {
                                        @if !cloth.not_counted.is_empty() { span.meta { "cannot be counted" } }
                                        @else if cloth.to_buy > Length::ZERO { (cloth_length(cloth.to_buy, unit)) }
                                        @else { "suffices" }
                                        (difference(changed, &format!("{} to buy", cloth.name)))
                                    }
                                }
                            }
                        }
                        tr {
                            th scope="row" { "Cost of cloth to buy" div.meta { (currency) @if !now.figures.totals.unpriced.is_empty() { ", priced cloth only" } } }
                            @for (column, changed) in columns.iter().zip(&differences) {
                                td.num { b { (column.figures.totals.to_buy_known) } (difference(changed, "Cloth to buy, cost")) }
                            }
                        }
                        tr.take-row {
                            th scope="row" { "Take it" }
                            @for (n, _) in columns.iter().enumerate() {
                                td.num {
                                    @if n == 0 { span.meta { "as it is" } }
                                    @else { button.button type="submit" name="take" value=(n) { "Take " (words(chosen, &columns[n])) } }
                                }
                            }
                        }
                    }
                }
            }
            @for (column, changed) in columns.iter().zip(&differences).skip(1) {
                details.more {
                    summary { (words(chosen, column)) ": all that changes" }
                    @if changed.is_empty() { p.hint { "This changes no figure." } }
                    (changes(changed))
                }
            }
        }
    }
}

/// The size over a column; where pieces differ, each with its own.
fn head(chosen: &[&Piece], column: &Column) -> Markup {
    let unit = column.plan.unit;
    let alike = column.sizes.windows(2).all(|w| w[0].1 == w[1].1);
    html! {
        @match column.sizes.first() {
            Some((_, size)) if alike => { span.len { span.lead { (one(*size, unit)) } span.alt { (one(*size, other(unit))) } } }
            _ => {
                @for (id, size) in &column.sizes {
                    div { @if let Some(piece) = chosen.iter().find(|p| p.id == *id) { span.meta { (piece.name) " " } } b { (one(*size, unit)) } }
                }
            }
        }
    }
}

/// "3 in", "Front 3 in, Sleeve 2 in".
fn words(chosen: &[&Piece], column: &Column) -> String {
    let unit = column.plan.unit;
    let alike = column.sizes.windows(2).all(|w| w[0].1 == w[1].1);
    match column.sizes.first() {
        Some((_, size)) if alike => one(*size, unit),
        _ => column
            .sizes
            .iter()
            .map(|(id, size)| {
                let name = chosen.iter().find(|p| p.id == *id).map_or("", |p| p.name.as_str());
                format!("{name} {}", one(*size, unit))
            })
            .collect::<Vec<_>>()
            .join(", "),
    }
}

fn one(size: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => size.inches(Round::Nearest),
        Unit::Cm => size.cm(Round::Nearest),
    }
}

fn other(unit: Unit) -> Unit {
    match unit {
        Unit::Inch => Unit::Cm,
        Unit::Cm => Unit::Inch,
    }
}

fn panel(column: &Column, piece: &Piece) -> Markup {
    let of = |f: &&PieceFigures| f.piece == piece.id;
    let panel = column.figures.pieces.iter().find(of).and_then(|f| f.panel.as_ref());
    let own = format!("pieces/{}/", piece.id);
    html! {
        @match panel {
            Some(panel) => {
                b { (panel.columns) " × " (panel.rows) }
                (size(panel.before, column.plan.unit, panel.setting.round()))
            }
            None => {
                @for problem in column.figures.problems.iter().filter(|p| p.field.starts_with(&own)).take(1) {
                    p.error.cannot { (problem.message) }
                }
            }
        }
    }
}

fn patches(now: &Column, column: &Column) -> Markup {
    let more = column.figures.totals.patches - now.figures.totals.patches;
    html! {
        @if more > 0 { div.meta { "+" (more) } }
        @else if more < 0 { div.meta { "−" (-more) } }
    }
}

fn difference(changed: &[Change], what: &str) -> Markup {
    html! {
        @if let Some(change) = changed.iter().find(|c| c.what == what) { div.meta { (change.difference) } }
    }
}
