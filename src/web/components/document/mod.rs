//! A sheet as a part of a page: as it is on paper, with boxes that can be
//! ticked, and with print styles for who prints from the browser.

mod picture;

use super::{cautions, sentence};
use crate::sheets::Document;
use crate::sheets::document::{Block, Cell, Number, Row, Table};
use maud::{Markup, html};

pub fn document(sheet: &Document) -> Markup {
    html! {
        article.paper {
            header.paper-head {
                p.paper-kind { (sheet.kind) }
                h1 { (sheet.title) }
                p.meta { @if !sheet.state.is_empty() { (sheet.state) ", " } (sheet.date_words()) }
            }
            @for (n, block) in sheet.blocks.iter().enumerate() { (part(block, n)) }
        }
    }
}

fn part(block: &Block, n: usize) -> Markup {
    html! {
        @match block {
            Block::Heading(text) => h2 id=(format!("part-{n}")) { (text) },
            Block::Subheading(text) => h3 { (text) },
            Block::Text(text) => p { (sentence(text)) },
            Block::Small(text) => p.meta { (sentence(text)) },
            Block::Cautions(all) => (cautions(all)),
            Block::Numbers(all) => div.figures { @for number in all { (figure(number)) } },
            Block::Table(of) => (table(of)),
            Block::Steps(all) => ol.ticks { @for (n, step) in all.iter().enumerate() {
                li { label { input type="checkbox" autocomplete="off"; b.step-number { (n + 1) } span { (sentence(step)) } } }
            } },
            Block::Pictures(all) => div.paper-photos.alone[all.len() == 1] { @for picture in all { figure {
                img src=(format!("/photos/{}/page", picture.hash)) alt=(picture.says) loading=[(all.len() > 1).then_some("lazy")];
                @if !picture.under.is_empty() { figcaption { (sentence(&picture.under)) } }
            } } },
            Block::Drawings(all) => div.paper-drawings {
                @for (at, drawing) in all.iter().enumerate() { (picture::picture(drawing, &format!("{n}-{at}"))) }
            },
        }
    }
}

fn figure(number: &Number) -> Markup {
    super::figure(&number.what, html! { (number.number) }, html! { (number.under) })
}

fn table(of: &Table) -> Markup {
    html! {
        div.scroll { table.numbers.paper-table.few[of.columns.len() < 3 && !of.ticks] {
            thead { tr {
                @if of.ticks { th.paper-tick scope="col" { span.unseen-words { "Done" } } }
                @for column in &of.columns { th.num[column.right] scope="col" { (column.head) } }
            } }
            tbody { @for row in &of.rows { (row_of(of, row)) } }
        } }
    }
}

fn row_of(of: &Table, row: &Row) -> Markup {
    html! {
        tr {
            @if of.ticks { td.paper-tick { label { input type="checkbox" autocomplete="off" aria-label=(format!("Done: {}", said(row))); } } }
            @for (cell, column) in row.cells.iter().zip(&of.columns) {
                // On a phone every cell stands below the one before, its head beside it.
                td.num[column.right].big[column.strong] data-head=(column.head) { div { (words(cell)) } }
            }
        }
    }
}

/// The row in words, for the box before it.
fn said(row: &Row) -> String {
    let texts = row.cells.iter().map(|c| c.text.as_str()).filter(|t| !t.is_empty());
    texts.take(3).collect::<Vec<_>>().join(", ")
}

fn words(cell: &Cell) -> Markup {
    html! {
        @for (n, line) in cell.text.lines().enumerate() { @if n > 0 { br; } (sentence(line)) }
        @if cell.boxes > 0 { span.paper-boxes aria-hidden="true" { @for _ in 0..cell.boxes { i {} } } }
        @for line in cell.under.lines() { div.meta { (sentence(line)) } }
    }
}
