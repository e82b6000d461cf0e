//! The swatch card: room to staple a piece of each cloth, and beside it what
//! one wants to know when it is found again in ten years.

use super::SheetOf;
use super::document::{Block, Document, Drawing, Hatch, Line, Shape};
use super::words::letter;
use crate::figures::care::words;
use crate::figures::{ClothFigures, Figures};
use crate::measure::{Percent, Round};
use crate::plan::{Care, Cloth, Plan};

/// Of the room for one swatch, in millimetres: two stand side by side.
const ROOM: (f64, f64) = (84.0, 42.0);

pub fn swatch_card(of: &SheetOf, plan: &Plan, figures: &Figures) -> Document {
    let mut blocks = Vec::new();
    if plan.cloths.is_empty() {
        blocks.push(Block::Text("The plan has no cloth yet.".into()));
    } else {
        blocks.push(Block::Small(
            "Staple a piece of the cloth into each frame, its grain upright.".into(),
        ));
        let cards = plan.cloths.iter().enumerate().map(|(n, c)| {
            let known = figures.cloths.iter().find(|f| f.cloth == c.id);
            card(plan, n, c, known)
        });
        blocks.push(Block::Drawings(cards.collect()));
    }
    Document {
        kind: "Swatch card",
        title: of.title.clone(),
        state: of.state.clone(),
        date: of.date,
        blocks,
    }
}

fn card(plan: &Plan, n: usize, cloth: &Cloth, known: Option<&ClothFigures>) -> Drawing {
    let unit = plan.unit;
    let mut lines = vec![if cloth.fibre.is_empty() {
        "Fibre: ______________________".to_string()
    } else {
        cloth.fibre.clone()
    }];
    lines.push(format!("Usable width {}", cloth.usable_width.both(unit, Round::Down)));
    lines.push(if cloth.shrinkage > Percent::ZERO {
        format!("Shrinks by {} in the first wash", cloth.shrinkage)
    } else {
        "Shrinkage: __________________".to_string()
    });
    if cloth.one_way {
        lines.push("Print or nap runs one way".into());
    }
    lines.push(match &cloth.care {
        Some(care) => care_words(care).join("; "),
        None => "Care: ______________________".into(),
    });
    if let Some(known) = known.filter(|k| k.length_unwashed.is_positive()) {
        lines.push(format!(
            "{} cut from",
            known.length_unwashed.both_cloth(unit, Round::Up)
        ));
    }
    let uses = plan.uses_of(&cloth.id);
    if !uses.is_empty() {
        lines.push(format!("For {}", uses.join(", ")));
    }
    let (width, height) = ROOM;
    let title = format!("{}  {}", letter(n), cloth.name);
    Drawing {
        says: format!("Room for a swatch of {title}"),
        title,
        caption: lines.join("\n"),
        width,
        height,
        one_to: 1.0,
        aside: 0.0,
        below: 0.0,
        keep: false,
        shapes: vec![Shape::Areas {
            outlines: vec![vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]],
            colour: None,
            hatch: Hatch::None,
            line: Line::Dashed,
        }],
    }
}

/// In the order of ISO 3758.
fn care_words(care: &Care) -> Vec<&'static str> {
    vec![
        words::of(&words::WASHING, care.washing),
        words::of(&words::BLEACHING, care.bleaching),
        words::of(&words::TUMBLE, care.tumble_drying),
        words::of(&words::NATURAL, care.natural_drying),
        words::of(&words::IRONING, care.ironing),
        words::of(&words::DRY_CLEANING, care.dry_cleaning),
    ]
}
