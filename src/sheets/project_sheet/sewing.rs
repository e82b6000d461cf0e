//! What holds it together: binding, closures, thread.

use crate::figures::thread::spool_both;
use crate::figures::{ClosureFigures, Figures};
use crate::measure::Round;
use crate::plan::Plan;
use crate::sheets::document::{Block, Cell, Column, Row, Table};

pub fn binding(plan: &Plan, figures: &Figures, blocks: &mut Vec<Block>) {
    let Some(b) = &figures.binding else { return };
    let name = plan.cloth(&b.cloth).map_or("", |c| c.name.as_str());
    blocks.push(Block::Text(format!(
        "Binding: {} in strips cut {} wide, of {name}; {} when finished.",
        b.total.both(plan.unit, Round::Up),
        b.strip_width.cut(plan.unit),
        b.finished_width.both(plan.unit, Round::Nearest)
    )));
}

pub fn closures(plan: &Plan, figures: &Figures, blocks: &mut Vec<Block>) {
    if figures.closures.is_empty() {
        return;
    }
    let unit = plan.unit;
    let row = |f: &ClosureFigures| {
        let size = plan.closure(&f.closure).map(|c| c.size).filter(|s| s.is_positive());
        let mut about = Vec::new();
        if let Some(size) = size.filter(|_| f.zip.is_none()) {
            about.push(format!("{} across", size.both_sixteenths(unit, Round::Nearest)));
        }
        about.extend(f.ligne.map(|l| format!("{l} ligne")));
        about.extend(
            f.overlap
                .map(|o| format!("overlap {}", o.both_sixteenths(unit, Round::Up))),
        );
        about.extend(
            f.buttonhole
                .map(|b| format!("buttonhole {}", b.both_sixteenths(unit, Round::Up))),
        );
        let what = match f.zip {
            Some(zip) => format!("1 zip of {}", zip.both_sixteenths(unit, Round::Up)),
            None => format!("{} {}", f.count, f.kind.counted(f.count)),
        };
        let places: Vec<String> = f
            .positions
            .iter()
            .map(|p| p.both_sixteenths(unit, Round::Nearest))
            .collect();
        let places = if places.is_empty() {
            String::new()
        } else {
            format!("from the upper end: {}", places.join("; "))
        };
        Row::of(vec![
            Cell::new(f.name.clone(), about.join(", ")),
            Cell::new(what, places),
        ])
    };
    blocks.push(Block::Heading("Closures".into()));
    blocks.push(Block::Table(Table {
        columns: vec![Column::words("Along"), Column::words("What, and where").wide()],
        rows: figures.closures.iter().map(row).collect(),
        ticks: false,
    }));
}

pub fn thread(plan: &Plan, figures: &Figures, blocks: &mut Vec<Block>) {
    let Some(t) = figures.thread.as_ref().filter(|t| t.total.is_positive()) else {
        return;
    };
    let more = if t.not_counted.is_empty() { "" } else { "more than " };
    let spools = if t.spools == 1 { "spool" } else { "spools" };
    let without = if t.not_counted.is_empty() {
        String::new()
    } else {
        format!(", without {}", t.not_counted.join(", "))
    };
    blocks.push(Block::Text(format!(
        "Thread: {more}{}, {} {spools} of {}{without}.",
        t.total.both_cloth(plan.unit, Round::Up),
        t.spools,
        spool_both(t.spool, plan.unit)
    )));
}
