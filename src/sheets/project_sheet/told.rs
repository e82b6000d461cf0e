//! The log: what was decided, what one would do otherwise, photos.

use super::ProjectSheet;
use crate::notebook::{Entry, EntryKind};
use crate::sheets::document::{Block, Cell, Column, Picture, Row, Table};
use crate::sheets::plain::{one_line, paragraphs};

/// The oldest first, each on the notebook's own day.
pub fn decisions(of: &ProjectSheet, blocks: &mut Vec<Block>) {
    /// Of what a decision changed in the figures; the page in the notebook has all.
    const EFFECTS: usize = 6;
    let day = |e: &Entry| (of.day_of)(e.happened_at).format("%-d %b %Y").to_string();
    let row = |e: &Entry| {
        let mut under: Vec<String> = Vec::new();
        let mut why = paragraphs(&e.why).into_iter();
        under.extend(why.next().map(|first| format!("Why: {first}")));
        under.extend(why);
        let mut effect: Vec<String> = e
            .effect
            .iter()
            .take(EFFECTS)
            .map(|c| format!("{} {}", c.what, c.difference))
            .collect();
        match e.effect.len().saturating_sub(EFFECTS) {
            0 => {}
            1 => effect.push("1 more figure".into()),
            n => effect.push(format!("{n} more figures")),
        }
        if !effect.is_empty() {
            under.push(format!("Effect: {}", effect.join("; ")));
        }
        Row::of(vec![
            day(e).into(),
            Cell::new(paragraphs(&e.text).join("\n"), under.join("\n")),
        ])
    };
    let decisions = of.log.iter().rev().filter(|e| e.kind == EntryKind::Decision);
    let rows: Vec<Row> = decisions.map(row).collect();
    if rows.is_empty() {
        return;
    }
    blocks.push(Block::Heading("Decisions".into()));
    blocks.push(Block::Table(Table {
        columns: vec![Column::number("Day"), Column::words("Decided")],
        rows,
        ticks: false,
    }));
}

pub fn second_thoughts(log: &[Entry], blocks: &mut Vec<Block>) {
    let thoughts = log.iter().rev().filter_map(|e| {
        let thought = e.second_thought.as_ref()?;
        let verdict = if thought.would_do_again {
            "would do it again"
        } else {
            "would not do it again"
        };
        let what = paragraphs(&e.text).into_iter().next().unwrap_or_default();
        Some(Row::of(vec![
            Cell::new(what, paragraphs(&thought.text).join("\n")),
            verdict.into(),
        ]))
    });
    let rows: Vec<Row> = thoughts.collect();
    if rows.is_empty() {
        return;
    }
    blocks.push(Block::Heading("Second thoughts".into()));
    blocks.push(Block::Table(Table {
        columns: vec![Column::words("What"), Column::words("Again?")],
        rows,
        ticks: false,
    }));
}

pub fn photos(of: &ProjectSheet, blocks: &mut Vec<Block>) {
    if of.photos.is_empty() {
        return;
    }
    blocks.push(Block::Heading("Photos".into()));
    let picture = |photo: &super::Photo| {
        let day = (of.day_of)(photo.taken).format("%-d %b %Y");
        let words = one_line(&photo.text);
        let under = if words.is_empty() {
            day.to_string()
        } else {
            format!("{day}: {words}")
        };
        Picture {
            hash: photo.hash.clone(),
            says: under.clone(),
            under,
            jpeg: photo.jpeg.clone(),
        }
    };
    blocks.push(Block::Pictures(of.photos.iter().map(picture).collect()));
}
