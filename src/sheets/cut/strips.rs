//! The strips of the binding: how many, how wide, and of bias strips where
//! each lies on its rectangle and its true length.

use super::size_cell;
use crate::figures::{BindingFigures, Size};
use crate::measure::{Round, Unit};
use crate::plan::Plan;
use crate::sheets::document::{
    Block, Cell, Column, Drawing, Ground, Hatch, Label, Line, Number, POINT, Row, Shape, Table, mm, scale_for,
    scale_words, tint,
};
use crate::sheets::words::{in_both, way_name};

pub fn binding(plan: &Plan, b: &BindingFigures, blocks: &mut Vec<Block>) {
    let unit = plan.unit;
    let place = plan.cloths.iter().position(|c| c.id == b.cloth);
    let cloth = place.map_or(String::new(), |n| {
        format!("{} {}", crate::sheets::letter(n), plan.cloths[n].name)
    });
    blocks.push(Block::Heading("Binding".into()));
    let strip = in_both(unit, |u| b.strip_width.cut_one(u));
    let total = in_both(unit, |u| match u {
        Unit::Inch => b.total.inches(Round::Up),
        Unit::Cm => b.total.cm(Round::Up),
    });
    let from = size_cell(b.rectangle, unit);
    let mut numbers = vec![
        Number::new(
            "Strip width",
            strip.0,
            format!("{} {}", strip.1, way_name(b.cut).to_lowercase()),
        ),
        Number::new("Needed in all", total.0, total.1),
    ];
    numbers.push(if b.cut_from.is_empty() {
        Number::new(
            "Rectangle to cut it from",
            from.text,
            format!("{} of {cloth}", from.under),
        )
    } else {
        let used: i64 = b.cut_from.iter().map(|u| u.times).sum();
        Number::new("Cut from remnants", used.to_string(), format!("of {cloth}"))
    });
    blocks.push(Block::Numbers(numbers));
    if !b.shown.cautions.is_empty() {
        blocks.push(Block::Cautions(b.shown.cautions.clone()));
    }
    if !b.drawn.is_empty() {
        blocks.push(Block::Drawings(vec![drawing(plan, b, unit)]));
        blocks.push(Block::Table(drawn_strips(b, unit)));
    } else if !b.strips.is_empty() {
        blocks.push(Block::Table(equal_strips(b, unit)));
    }
}

/// Strips of one length together, a box for each.
fn equal_strips(b: &BindingFigures, unit: Unit) -> Table {
    Table {
        columns: vec![
            Column::strong("Strips"),
            Column::number("True length"),
            Column::words("Cut"),
        ],
        rows: b
            .strips
            .iter()
            .map(|s| {
                let boxes = crate::sheets::document::Cell {
                    boxes: s.count.clamp(0, 40) as usize,
                    ..Default::default()
                };
                let length: Cell = in_both(unit, |u| one(s.length, u)).into();
                Row::of(vec![s.count.to_string().into(), length, boxes])
            })
            .collect(),
        ticks: false,
    }
}

fn one(length: crate::measure::Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => length.inches(Round::Down),
        Unit::Cm => length.cm(Round::Down),
    }
}

fn drawn_strips(b: &BindingFigures, unit: Unit) -> Table {
    Table {
        columns: vec![
            Column::strong("Strip"),
            Column::number("True length"),
            Column::number("Joined, so far"),
            // Room to write, and the lengths close to the boxes.
            Column::words("Notes"),
        ],
        rows: b
            .drawn
            .iter()
            .map(|strip| {
                let of = |length| format!("{} {}", one(length, unit), in_both(unit, |u| one(length, u)).1);
                Row::of(vec![
                    strip.number.to_string().into(),
                    of(strip.length).into(),
                    of(strip.so_far).into(),
                    "".into(),
                ])
            })
            .collect(),
        ticks: true,
    }
}

fn drawing(plan: &Plan, b: &BindingFigures, unit: Unit) -> Drawing {
    let Size { width, height } = b.rectangle;
    let (wide, high) = (mm(width), mm(height));
    let one_to = scale_for(wide, high, (150.0, 110.0));
    let colour = plan.cloth(&b.cloth).map(|c| tint(&c.colour));
    let mut shapes = vec![
        Shape::Areas {
            outlines: vec![vec![(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]],
            colour: None,
            hatch: Hatch::None,
            line: Line::Strong,
        },
        Shape::Areas {
            outlines: b
                .drawn
                .iter()
                .map(|s| s.corners.iter().map(|p| (mm(p.x), mm(p.y))).collect())
                .collect(),
            colour,
            hatch: Hatch::None,
            line: Line::Fine,
        },
    ];
    let size = (mm(b.strip_width) / one_to / POINT * 0.5).clamp(4.0, 8.0);
    for strip in &b.drawn {
        let count = strip.corners.len().max(1) as f64;
        let sum = |of: fn(&crate::figures::Point) -> crate::measure::Length| {
            strip.corners.iter().map(|p| mm(of(p))).sum::<f64>() / count
        };
        shapes.push(Shape::Label(Label {
            at: (sum(|p| p.x), sum(|p| p.y)),
            text: strip.number.to_string(),
            size,
            ground: Ground::Disc,
            bold: true,
        }));
    }
    Drawing {
        title: String::new(),
        says: format!(
            "{} bias strips on a rectangle of {}",
            b.drawn.len(),
            b.rectangle.cut(unit)
        ),
        caption: format!(
            "{} across the cloth, {} along it; drawn {}.",
            width.cut(unit),
            height.cut(unit),
            scale_words(one_to)
        ),
        width: wide,
        height: high,
        one_to,
        aside: 0.0,
        below: 0.0,
        keep: false,
        shapes,
    }
}
