//! The project sheet: what was made, for whom, from what, and how it went; the
//! page to keep in a ring binder.
//!
//! - [`sewing`]: binding, closures, thread
//! - [`told`]: the log: decisions, second thoughts, photos
//! - [`sums`]: minutes and cost

mod sewing;
mod sums;
mod told;

use super::cut::{cloth_cell, cloth_columns, width_cell};
use super::document::{Block, Cell, Column, Document, Number, Picture, Row, Table};
use super::outline_change_words;
use super::plain::paragraphs;
use super::words::{in_both, letter, missing};
use crate::figures::Figures;
use crate::figures::time::TimeFigures;
use crate::measure::{Length, Round, Unit};
use crate::notebook::{Entry, Project};
use crate::plan::Plan;
use chrono::{DateTime, NaiveDate, Utc};
use std::sync::Arc;

pub struct ProjectSheet<'a> {
    pub project: &'a Project,
    pub figures: &'a Figures,
    pub time: &'a TimeFigures,
    pub log: &'a [Entry],
    /// Its chosen or newest picture, as a JPEG.
    pub picture: Option<Arc<Vec<u8>>>,
    /// Other photos of the log that are shown, the oldest first.
    pub photos: &'a [Photo],
    pub currency: &'a str,
    pub date: NaiveDate,
    /// The day of a moment where the notebook is.
    pub day_of: fn(DateTime<Utc>) -> NaiveDate,
}

/// A photo of the log.
pub struct Photo {
    pub hash: String,
    pub taken: DateTime<Utc>,
    /// Markdown: the words of its entry.
    pub text: String,
    pub jpeg: Arc<Vec<u8>>,
}

pub fn project_sheet(of: &ProjectSheet) -> Document {
    let (project, figures) = (of.project, of.figures);
    let plan = &project.plan;
    let mut blocks = missing(figures);
    about(of, &mut blocks);
    if !plan.pieces.is_empty() {
        blocks.push(Block::Heading("Pieces".into()));
        blocks.push(Block::Table(pieces(plan, figures)));
    }
    if figures.cloths.iter().any(|c| c.is_used()) {
        blocks.push(Block::Heading("Cloth".into()));
        blocks.push(Block::Table(cloths(figures, plan.unit)));
    }
    sewing::binding(plan, figures, &mut blocks);
    sewing::closures(plan, figures, &mut blocks);
    sewing::thread(plan, figures, &mut blocks);
    measures(project, figures, &mut blocks);
    allowances(figures, &mut blocks);
    told::decisions(of, &mut blocks);
    told::second_thoughts(of.log, &mut blocks);
    sums::time(of.time, plan.unit, &mut blocks);
    sums::cost(of, &mut blocks);
    told::photos(of, &mut blocks);
    Document {
        kind: "Project sheet",
        title: project.details.title.clone(),
        state: format!("Revision {} of the plan", project.revision),
        date: of.date,
        blocks,
    }
}

fn about(of: &ProjectSheet, blocks: &mut Vec<Block>) {
    let details = &of.project.details;
    let pattern = &details.pattern;
    let filled = |parts: [&str; 2]| {
        let parts = parts.into_iter().filter(|p| !p.is_empty());
        parts.collect::<Vec<_>>().join(", ")
    };
    let mut numbers = Vec::new();
    if !of.project.for_whom.is_empty() {
        numbers.push(Number::new("For", of.project.for_whom.clone(), ""));
    }
    numbers.push(Number::new(
        "State",
        details.state.name(),
        details
            .due
            .map_or(String::new(), |due| format!("due {}", due.format("%-d %B %Y"))),
    ));
    let named = filled([&pattern.name, &pattern.maker]);
    numbers.push(Number::new(
        "Pattern",
        if named.is_empty() { "own draft".into() } else { named },
        if pattern.size.is_empty() {
            String::new()
        } else {
            format!("size {}", pattern.size)
        },
    ));
    blocks.push(Block::Numbers(numbers));
    if let (Some(hash), Some(jpeg)) = (&of.project.photo, &of.picture) {
        blocks.push(Block::Pictures(vec![Picture {
            hash: hash.0.clone(),
            says: format!("{}, newest or chosen picture", details.title),
            under: String::new(),
            jpeg: jpeg.clone(),
        }]));
    }
    blocks.extend(paragraphs(&details.about).into_iter().map(Block::Text));
}

fn pieces(plan: &Plan, figures: &Figures) -> Table {
    let unit = plan.unit;
    let row = |piece: &crate::plan::Piece| {
        let known = figures.pieces.iter().find(|f| f.piece == piece.id);
        let altered = piece.alterations.iter().map(|a| {
            let sign = if a.by.is_positive() { "+" } else { "" };
            let by = in_both(unit, |u| match u {
                Unit::Inch => a.by.inches(Round::Nearest),
                Unit::Cm => a.by.cm(Round::Nearest),
            });
            let why = if a.reason.is_empty() {
                String::new()
            } else {
                format!(": {}", a.reason)
            };
            format!("{sign}{} {} in {}{why}", by.0, by.1, a.along.name())
        });
        let changes = piece.outline_changes().iter().map(|c| {
            let why = if c.reason.is_empty() {
                String::new()
            } else {
                format!(": {}", c.reason)
            };
            outline_change_words(&c.change, unit) + &why
        });
        let altered = altered.chain(changes);
        let size = |of: Option<crate::figures::Size>, round: Round| {
            of.map_or(Cell::from("–"), |size| in_both(unit, |u| size.one(u, round)).into())
        };
        let panel = known.and_then(|f| f.panel.as_ref());
        Row::of(vec![
            Cell::new(piece.name.clone(), altered.collect::<Vec<_>>().join("; ")),
            Cell::new(
                piece.cut_count.to_string(),
                if piece.mirrored { "mirrored" } else { "" },
            ),
            size(known.map(|f| f.finished), Round::Up),
            panel.map_or(size(None, Round::Up), |p| size(Some(p.before), p.setting.round())),
            match panel.filter(|p| p.units > 0) {
                Some(p) => format!("{} × {}", p.columns, p.rows).into(),
                None => "plain".into(),
            },
        ])
    };
    Table {
        columns: vec![
            Column::words("Piece, altered by"),
            Column::number("Cut"),
            Column::number("Piece"),
            Column::number("Panel, sewn"),
            Column::number("Units"),
        ],
        rows: plan.pieces.iter().map(row).collect(),
        ticks: false,
    }
}

fn cloths(figures: &Figures, unit: Unit) -> Table {
    let used = figures.cloths.iter().enumerate().filter(|(_, c)| c.is_used());
    Table {
        columns: cloth_columns(),
        rows: used
            .map(|(n, c)| {
                let not_counted = match c.not_counted.as_slice() {
                    [] => String::new(),
                    parts => format!("without {}", parts.join(", ")),
                };
                Row::of(vec![
                    letter(n).into(),
                    Cell::new(c.name.clone(), not_counted),
                    width_cell(c.usable_width, unit),
                    cloth_cell(c.length_unwashed, unit),
                    if c.to_buy.is_positive() {
                        cloth_cell(c.to_buy, unit)
                    } else {
                        "nothing".into()
                    },
                ])
            })
            .collect(),
        ticks: false,
    }
}

fn measures(project: &Project, figures: &Figures, blocks: &mut Vec<Block>) {
    let unit = project.plan.unit;
    let both = |length: Length| length.both(unit, Round::Nearest);
    if project.measurements.is_some() || figures.sizing.is_some() {
        blocks.push(Block::Heading("Measurements".into()));
    }
    if let Some(set) = &project.measurements {
        blocks.push(Block::Small(format!("Taken on {}.", set.taken_on.format("%-d %B %Y"))));
        blocks.push(Block::Table(Table {
            columns: vec![Column::words("Measure"), Column::number("Length")],
            rows: set
                .values
                .iter()
                .map(|m| Row::of(vec![m.name.clone().into(), both(m.value).into()]))
                .collect(),
            ticks: false,
        }));
    }
    if let Some(s) = &figures.sizing {
        blocks.push(Block::Subheading("Size and ease".into()));
        blocks.push(Block::Text(s.why.clone()));
        let known = s.rows.iter().filter(|fit| fit.wearer.is_some());
        let one = |length: Option<Length>| Cell::from(length.map_or("–".to_string(), both));
        blocks.push(Block::Table(Table {
            columns: vec![
                Column::words("Measure"),
                Column::number("Wearer"),
                Column::number("Finished"),
                Column::number("Ease"),
            ],
            rows: known
                .map(|fit| {
                    let ease = s.taken.and_then(|n| fit.ease.get(n)).copied();
                    Row::of(vec![
                        fit.name.to_string().into(),
                        one(fit.wearer),
                        one(fit.garment),
                        one(ease),
                    ])
                })
                .collect(),
            ticks: false,
        }));
    }
}

/// Every allowance once, with where it comes from.
fn allowances(figures: &Figures, blocks: &mut Vec<Block>) {
    let mut all: Vec<(&str, &str, &str)> = Vec::new();
    let shown = figures
        .pieces
        .iter()
        .map(|p| &p.shown)
        .chain(figures.cloths.iter().map(|c| &c.shown));
    for a in shown
        .chain(figures.binding.iter().map(|b| &b.shown))
        .flat_map(|s| &s.allowances)
    {
        let line = (a.name.as_str(), a.value.as_str(), a.source.as_str());
        if !all.contains(&line) {
            all.push(line);
        }
    }
    if all.is_empty() {
        return;
    }
    blocks.push(Block::Heading("Allowances".into()));
    blocks.push(Block::Table(Table {
        columns: vec![Column::words("What"), Column::number("How much")],
        rows: all
            .into_iter()
            .map(|(name, value, source)| Row::of(vec![Cell::new(name, source), value.into()]))
            .collect(),
        ticks: false,
    }));
}
