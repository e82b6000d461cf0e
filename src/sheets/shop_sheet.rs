//! The shop list on paper: for a shop without a network, and for the purse.

use super::document::{Block, Cell, Column, Document, Row, Table};
use super::words::{in_both, long, wide};
use crate::figures::{ClothToBuy, ShopList, ThingKind, ThingToBuy};
use crate::measure::{Length, Money, Round, Unit};
use crate::plan::ClothKind;
use chrono::NaiveDate;

pub struct ShopSheet<'a> {
    pub list: &'a ShopList,
    /// Titles of the projects shopped for, in the list's order.
    pub titles: &'a [String],
    /// Keys of things that were bought already.
    pub bought: &'a [String],
    pub unit: Unit,
    pub currency: &'a str,
    pub date: NaiveDate,
}

pub fn shop_sheet(of: &ShopSheet) -> Document {
    let list = of.list;
    let mut blocks = vec![Block::Text(match of.titles {
        [] => "No open project is shopped for.".into(),
        titles => format!("For {}.", titles.join(", ")),
    })];
    let wanted: Vec<&ClothToBuy> = list.cloths.iter().filter(|c| c.to_buy > Length::ZERO).collect();
    for (kind, heading) in [(ClothKind::Cloth, "Cloth"), (ClothKind::Batting, "Batting")] {
        let cloths: Vec<&ClothToBuy> = wanted.iter().copied().filter(|c| c.kind == kind).collect();
        if !cloths.is_empty() {
            blocks.push(Block::Heading(heading.into()));
            blocks.push(Block::Table(cloth_table(of, &cloths)));
        }
    }
    let open: Vec<&ThingToBuy> = list.things.iter().filter(|t| !of.bought.contains(&t.key)).collect();
    for (kind, heading) in [
        (ThingKind::Notion, "Notions"),
        (ThingKind::Closure, "Buttons and other closures"),
        (ThingKind::Thread, "Thread"),
        (ThingKind::Tool, "Tools"),
    ] {
        let things: Vec<&ThingToBuy> = open.iter().copied().filter(|t| t.kind == kind).collect();
        if !things.is_empty() {
            blocks.push(Block::Heading(heading.into()));
            blocks.push(Block::Table(thing_table(of, &things)));
        }
    }
    if wanted.is_empty() && open.is_empty() && !of.titles.is_empty() {
        blocks.push(Block::Text("Nothing is to be bought for these projects.".into()));
    }
    if !list.not_counted.is_empty() {
        blocks.push(Block::Cautions(list.not_counted.clone()));
    }
    let (sum, without) = list.cost();
    if sum > Money::ZERO {
        let more = if without.is_empty() {
            String::new()
        } else {
            format!(", without {}: no price is known", without.join(", "))
        };
        blocks.push(Block::Text(format!("Together {} {sum}{more}.", of.currency)));
    }
    let enough: Vec<&str> = list
        .cloths
        .iter()
        .filter(|c| c.to_buy == Length::ZERO)
        .map(|c| c.name.as_str())
        .collect();
    if !enough.is_empty() {
        blocks.push(Block::Small(format!("Enough at hand: {}.", enough.join(", "))));
    }
    Document {
        kind: "To buy",
        title: "Shop list".into(),
        state: String::new(),
        date: of.date,
        blocks,
    }
}

impl ShopSheet<'_> {
    fn wanted_for(&self, places: impl Iterator<Item = usize>) -> String {
        let mut titles: Vec<&str> = Vec::new();
        for title in places.filter_map(|n| self.titles.get(n)) {
            if !titles.contains(&title.as_str()) {
                titles.push(title);
            }
        }
        format!("for {}", titles.join(", "))
    }

    fn cost(&self, cost: Option<Money>) -> Cell {
        cost.map_or("–".into(), |cost| cost.to_string().into())
    }
}

fn cloth_table(of: &ShopSheet, cloths: &[&ClothToBuy]) -> Table {
    /// As many other widths as can be read beside each other.
    const WIDTHS: usize = 6;
    let unit = of.unit;
    let row = |c: &&ClothToBuy| {
        let (to_buy, other) = in_both(unit, |u| long(c.to_buy, u));
        // A cloth must not be narrower than this one.
        let (width, width_other) = in_both(unit, |u| match u {
            Unit::Inch => c.usable_width.inches(Round::Up),
            Unit::Cm => c.usable_width.cm(Round::Up),
        });
        let widths: Vec<String> = c
            .other_widths
            .iter()
            .take(WIDTHS)
            .map(|w| format!("{}: {}", wide(w.width, unit), long(w.to_buy, unit)))
            .collect();
        let about = [c.fibre.clone(), of.wanted_for(c.of.iter().map(|(n, _)| *n))];
        let mut about: Vec<String> = about.into_iter().filter(|t| !t.is_empty()).collect();
        if !c.at_hand.is_empty() {
            about.push(format!("at hand: {}", c.at_hand));
        }
        Row::of(vec![
            Cell::new(c.name.clone(), about.join("; ")),
            Cell::new(width, width_other),
            Cell::new(to_buy, other),
            Cell::new("", widths.join("; ")),
            of.cost(c.cost),
        ])
    };
    Table {
        columns: vec![
            Column::words("Cloth"),
            Column::number("Usable width"),
            Column::strong("Length"),
            Column::words("Of another width, nothing at hand"),
            Column::number(of.currency),
        ],
        rows: cloths.iter().map(row).collect(),
        ticks: true,
    }
}

fn thing_table(of: &ShopSheet, things: &[&ThingToBuy]) -> Table {
    let row = |t: &&ThingToBuy| {
        let about = [of.wanted_for(t.of.iter().map(|(n, _)| *n)), t.remark.clone()];
        let about: Vec<String> = about.into_iter().filter(|t| !t.is_empty()).collect();
        Row::of(vec![
            Cell::new(t.name.clone(), about.join("; ")),
            t.quantity.clone().into(),
            of.cost(t.cost),
        ])
    };
    Table {
        columns: vec![
            Column::words("What"),
            Column::strong("How much"),
            Column::number(of.currency),
        ],
        rows: things.iter().map(row).collect(),
        ticks: true,
    }
}
