//! The cut sheet: cloth by cloth what is cut, drawn and in order, with boxes
//! to tick.
//!
//! - [`layout`]: the cutting layout of one cloth
//! - [`strips`]: the strips of the binding

mod layout;
mod strips;

use super::SheetOf;
use super::document::{Block, Cell, Column, Document, Number, Row, Table};
use super::lay_sheet;
use super::words::{at_sixty, in_both, letter, long, missing, purpose_words, wide};
use crate::figures::lay::kept_lay;
use crate::figures::{ClothFigures, CutLine, Figures, Size};
use crate::measure::{Length, Round, Unit};
use crate::plan::Plan;

pub fn cut_sheet(of: &SheetOf, plan: &Plan, figures: &Figures) -> Document {
    let unit = plan.unit;
    let used: Vec<(usize, &ClothFigures)> = figures.cloths.iter().enumerate().filter(|(_, c)| c.is_used()).collect();
    let mut blocks = missing(figures);
    if used.is_empty() {
        blocks.push(Block::Text(
            "Nothing is cut yet: the plan has no piece with a cloth.".into(),
        ));
    } else {
        blocks.push(Block::Table(overview(&used, unit)));
        blocks.push(Block::Small(layout::READ.into()));
    }
    if !figures.totals.cautions.is_empty() {
        blocks.push(Block::Cautions(figures.totals.cautions.clone()));
    }
    for (n, c) in used {
        cloth(plan, figures, n, c, &mut blocks);
    }
    if let Some(binding) = &figures.binding {
        strips::binding(plan, binding, &mut blocks);
    }
    Document {
        kind: "Cut sheet",
        title: of.title.clone(),
        state: of.state.clone(),
        date: of.date,
        blocks,
    }
}

fn size_cell(size: Size, unit: Unit) -> Cell {
    in_both(unit, |u| size.cut_one(u)).into()
}

pub(super) fn cloth_cell(length: Length, unit: Unit) -> Cell {
    in_both(unit, |u| long(length, u)).into()
}

pub(super) fn width_cell(width: Length, unit: Unit) -> Cell {
    in_both(unit, |u| wide(width, u)).into()
}

pub(super) fn cloth_columns() -> Vec<Column> {
    vec![
        Column::strong("Letter"),
        Column::words("Cloth"),
        Column::number("Usable width"),
        Column::number("Length cut from"),
        Column::number("Of it to buy"),
    ]
}

/// Every cloth, to lay them ready.
fn overview(used: &[(usize, &ClothFigures)], unit: Unit) -> Table {
    Table {
        columns: cloth_columns(),
        rows: used
            .iter()
            .map(|(n, c)| {
                let to_buy = match c.to_buy.is_positive() {
                    true => cloth_cell(c.to_buy, unit),
                    false => "nothing".into(),
                };
                Row::of(vec![
                    letter(*n).into(),
                    c.name.clone().into(),
                    width_cell(c.usable_width, unit),
                    cloth_cell(c.length_unwashed, unit),
                    to_buy,
                ])
            })
            .collect(),
        ticks: true,
    }
}

fn cloth(plan: &Plan, figures: &Figures, n: usize, c: &ClothFigures, blocks: &mut Vec<Block>) {
    let unit = plan.unit;
    blocks.push(Block::Heading(format!("{}  {}", letter(n), c.name)));
    if !c.not_counted.is_empty() {
        blocks.push(Block::Cautions(vec![format!(
            "Not counted yet: {}. The length is without it.",
            c.not_counted.join(", ")
        )]));
    }
    blocks.push(Block::Numbers(numbers(plan, c)));
    if !c.shown.cautions.is_empty() {
        blocks.push(Block::Cautions(c.shown.cautions.clone()));
    }
    if !c.ready_cut.is_empty() {
        blocks.push(Block::Subheading("Ready-cut patches, used first".into()));
        blocks.push(Block::Table(ready_cut(c, unit)));
    }
    if !c.cuts.is_empty() {
        blocks.push(Block::Subheading("Cut list".into()));
        blocks.push(Block::Table(cut_list(c, unit)));
    }
    if !c.layout.order.is_empty() {
        blocks.push(Block::Subheading("Order of cuts".into()));
        blocks.push(Block::Steps(c.layout.order.clone()));
    }
    layout::layout(c, unit, blocks);
    let known = plan.cloth(&c.cloth).filter(|_| c.used_lay().is_some());
    if let Some(Ok(held)) = known.and_then(|known| kept_lay(plan, figures, known)) {
        lay_sheet::drawn(&c.colour, unit, &held.answer(), blocks);
    }
    left_over(c, unit, blocks);
    let allowances: Vec<String> = c
        .shown
        .allowances
        .iter()
        .map(|a| format!("{}: {}", a.name, a.value))
        .collect();
    if !allowances.is_empty() {
        blocks.push(Block::Small(format!("Allowed for: {}.", allowances.join("; "))));
    }
}

fn numbers(plan: &Plan, c: &ClothFigures) -> Vec<Number> {
    let unit = plan.unit;
    let two = |what: &str, cell: Cell, more: String| {
        let under = [cell.under, more]
            .into_iter()
            .filter(|t| !t.is_empty())
            .collect::<Vec<_>>();
        Number::new(what, cell.text, under.join(" "))
    };
    let mut all = vec![
        two("Length cut from", cloth_cell(c.length_unwashed, unit), String::new()),
        two("At usable width", width_cell(c.usable_width, unit), String::new()),
    ];
    all.push(if c.to_buy.is_positive() {
        two("Of it to buy", cloth_cell(c.to_buy, unit), String::new())
    } else {
        Number::new("Of it to buy", "nothing", "what is at hand suffices")
    });
    if plan.cloth(&c.cloth).is_some_and(|known| known.one_way) {
        all.push(Number::new("One way", "do not turn", "print or nap runs one way"));
    }
    all
}

fn cut_list(c: &ClothFigures, unit: Unit) -> Table {
    /// More boxes than this are no help.
    const BOXES: i64 = 24;
    Table {
        columns: vec![
            Column::strong("Line"),
            Column::words("What"),
            Column::strong("Cut size"),
            Column::strong("Cut"),
            Column::words("Strips"),
        ],
        rows: c
            .cuts
            .iter()
            .enumerate()
            .map(|(n, line)| {
                let count = match line.patches == line.count {
                    true => Cell::from(line.count.to_string()),
                    false => Cell::new(line.count.to_string(), format!("{} triangles", line.patches)),
                };
                let strips = match line.strips {
                    Some(s) => Cell {
                        text: format!(
                            "{} {} {}",
                            s.strips,
                            if s.strips == 1 { "strip" } else { "strips" },
                            s.height.cut_one(unit)
                        ),
                        under: if at_sixty(&line.purpose) {
                            format!("{} a strip", s.per_strip)
                        } else {
                            format!("subcut {}, {} a strip", s.subcut.cut_one(unit), s.per_strip)
                        },
                        boxes: if s.strips <= BOXES { s.strips.max(0) as usize } else { 0 },
                    },
                    None => where_cut(line, c.laid(n)).into(),
                };
                Row::of(vec![
                    (n + 1).to_string().into(),
                    Cell::new(purpose_words(&line.purpose), line.pieces.join(", ")),
                    size_cell(line.cut, unit),
                    count,
                    strips,
                ])
            })
            .collect(),
        ticks: true,
    }
}

/// Of a line that is not cut as strips.
fn where_cut(line: &CutLine, laid: i64) -> String {
    match laid {
        0 => "see the layout".into(),
        all if all == line.count => "see the lay".into(),
        some => format!("{some} in the lay, {} in the layout", line.count - some),
    }
}

fn ready_cut(c: &ClothFigures, unit: Unit) -> Table {
    Table {
        columns: vec![
            Column::words("In stock"),
            Column::strong("Use"),
            Column::number("Stay"),
            Column::words("For"),
        ],
        rows: c
            .ready_cut
            .iter()
            .map(|r| {
                let uses: Vec<String> = r
                    .uses
                    .iter()
                    .map(|u| {
                        let each = if u.each > 1 {
                            format!(", each cut into {}", u.each)
                        } else {
                            String::new()
                        };
                        format!("{}, trimmed to {}{each}", u.unit, u.cut.cut(unit))
                    })
                    .collect();
                let uses = if uses.is_empty() {
                    "nothing of that size or smaller".to_string()
                } else {
                    uses.join("; ")
                };
                Row::of(vec![
                    r.named(unit).into(),
                    r.used.to_string().into(),
                    r.left.to_string().into(),
                    uses.into(),
                ])
            })
            .collect(),
        ticks: true,
    }
}

/// What goes back to the remnants.
fn left_over(c: &ClothFigures, unit: Unit, blocks: &mut Vec<Block>) {
    const NAMED: usize = 12;
    let all: Vec<String> = c
        .layout
        .sheets
        .iter()
        .flat_map(|s| &s.left_over)
        .map(|r| {
            let size = Size {
                width: r.width,
                height: r.height,
            };
            size.both(unit, Round::Down)
        })
        .collect();
    if all.is_empty() {
        return;
    }
    let more = match all.len().saturating_sub(NAMED) {
        0 => String::new(),
        n => format!(" and {n} more"),
    };
    let named = all.iter().take(NAMED).cloned().collect::<Vec<_>>().join("; ");
    blocks.push(Block::Text(format!("Left over, worth keeping: {named}{more}.")));
}
