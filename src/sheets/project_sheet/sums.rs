//! Minutes expected and spent, and what it costs.

use super::ProjectSheet;
use crate::figures::time::TimeFigures;
use crate::measure::{Money, Unit, hours};
use crate::sheets::document::{Block, Cell, Column, Number, Row, Table};

pub fn time(time: &TimeFigures, unit: Unit, blocks: &mut Vec<Block>) {
    if time.work.is_empty() {
        return;
    }
    blocks.push(Block::Heading("Time".into()));
    let row = |line: &crate::figures::time::WorkFigures| {
        let amount = line
            .amount
            .map_or(line.of.clone(), |a| format!("{} {}", a.words(unit), line.of));
        Row::of(vec![
            Cell::new(line.work.name(), amount),
            line.expected.map_or("not known".into(), |m| m.words().into()),
            hours(line.logged).into(),
        ])
    };
    let mut rows: Vec<Row> = time.work.iter().map(row).collect();
    rows.push(Row::of(vec![
        Cell::new(
            "In all",
            if time.not_known.is_empty() {
                ""
            } else {
                "as far as known"
            },
        ),
        time.expected.words().into(),
        hours(time.logged).into(),
    ]));
    blocks.push(Block::Table(Table {
        columns: vec![
            Column::words("Work"),
            Column::number("Expected"),
            Column::number("Logged"),
        ],
        rows,
        ticks: false,
    }));
}

pub fn cost(of: &ProjectSheet, blocks: &mut Vec<Block>) {
    let cost = &of.figures.cost;
    if cost.to_spend == Money::ZERO && cost.worth == Money::ZERO {
        return;
    }
    let mut more = Vec::new();
    if !cost.unpriced.is_empty() {
        more.push(format!("without {}: no price is known", cost.unpriced.join(", ")));
    }
    blocks.push(Block::Heading("Cost".into()));
    blocks.push(Block::Numbers(vec![
        Number::new(
            "Still to spend",
            format!("{} {}", of.currency, cost.to_spend),
            more.join("; "),
        ),
        Number::new("What is in it is worth", format!("{} {}", of.currency, cost.worth), ""),
    ]));
}
