//! The piecing sheet: each patchwork panel drawn in the letters of its cloths,
//! its units, its patches, row by row, and which way seams are pressed.
//!
//! - [`panel`]: the panel drawn to scale
//! - [`on_point`]: its blocks on point, and the rows they are sewn in
//! - [`in_rows`]: its triangles, diamonds and hexagons
//! - [`painter`]: patches in their cloths
//! - [`legend`]: what the letters and hatchings are
//! - [`rows`]: the rows in words

mod in_rows;
mod legend;
mod on_point;
mod painter;
mod panel;
mod rows;

use super::SheetOf;
use super::document::{Block, Cell, Column, Document, Drawing, Number, Row, Table, mm, scale_for};
use super::words::{in_both, letter, missing, shape_words};
use crate::drafting::shape_of;
use crate::figures::{Figures, PanelFigures, PieceFigures, dark_to_light};
use crate::measure::{Round, Unit};
use crate::plan::{Face, Patchwork, Plan, UnitKind};

pub fn piecing_sheet(of: &SheetOf, plan: &Plan, figures: &Figures) -> Document {
    let mut blocks = missing(figures);
    let mut any = false;
    for piece in &figures.pieces {
        let face = plan.piece(&piece.piece).and_then(|p| p.face.as_ref());
        if let (Some(Face::Patchwork(face)), Some(panel)) = (face, &piece.panel) {
            any = true;
            of_piece(plan, piece, face, panel, &mut blocks);
        }
    }
    if !any {
        blocks.push(Block::Text("No piece of the plan has a patchwork yet.".into()));
    }
    Document {
        kind: "Piecing sheet",
        title: of.title.clone(),
        state: of.state.clone(),
        date: of.date,
        blocks,
    }
}

fn of_piece(plan: &Plan, piece: &PieceFigures, face: &Patchwork, panel: &PanelFigures, blocks: &mut Vec<Block>) {
    let unit = plan.unit;
    blocks.push(Block::Heading(piece.name.clone()));
    let size = |what: &str, size: crate::figures::Size, round: Round| {
        let (first, second) = in_both(unit, |u| size.one(u, round));
        Number::new(what, first, second)
    };
    let panels = match (piece.count, piece.mirrored) {
        (1, _) => "1 panel".to_string(),
        (n, false) => format!("{n} panels"),
        (n, true) => format!("{n} panels, half of them mirrored"),
    };
    blocks.push(Block::Numbers(vec![
        Number::new(
            "Units",
            format!("{} × {}", panel.columns, panel.rows),
            format!("{} in each of {panels}", panel.units),
        ),
        size("Sewn, raw edge to raw edge", panel.before, panel.setting.round()),
        size("After quilting at least", panel.after, Round::Down),
    ]));
    if !piece.shown.cautions.is_empty() {
        blocks.push(Block::Cautions(piece.shown.cautions.clone()));
    }
    let in_rows = face.units.first().is_some_and(|u| u.kind.in_rows());
    if !in_rows {
        blocks.push(Block::Subheading("Units".into()));
        blocks.push(Block::Drawings(units(plan, face, panel)));
    }
    blocks.push(Block::Subheading(panel::heading(face, panel)));
    let drawn = drawn_panels(plan, piece, face, panel);
    if drawn.is_empty() {
        blocks.push(Block::Text(
            "This panel has too many patches to be drawn; its rows are listed below.".into(),
        ));
    } else {
        // Side by side where both are narrow enough.
        blocks.push(Block::Drawings(drawn));
    }
    blocks.push(Block::Drawings(legend::legend(plan, face)));
    pressing(plan, face, blocks);
    if !in_rows {
        blocks.push(Block::Table(rows::rows(face, panel, piece.count)));
    }
    blocks.push(Block::Subheading("Patches".into()));
    blocks.push(Block::Table(patches(plan, panel)));
    if !panel.strips.is_empty() {
        blocks.push(Block::Subheading("Sashing and borders".into()));
        blocks.push(Block::Table(strips(plan, panel)));
    }
}

/// The panel, and of a mirrored pair the other half; on each the outline of the
/// piece where it has one.
fn drawn_panels(plan: &Plan, piece: &PieceFigures, face: &Patchwork, panel: &PanelFigures) -> Vec<Drawing> {
    let outline = plan
        .piece(&piece.piece)
        .filter(|p| p.pattern.is_some())
        .and_then(|p| shape_of(plan, p).ok())
        .map(|shape| shape.whole_cut_polygon().iter().map(|p| (p.x, p.y)).collect::<Vec<_>>());
    let halves: &[bool] = if piece.mirrored && piece.count > 1 {
        &[false, true]
    } else {
        &[false]
    };
    let drawn = halves.iter().map(|mirrored| {
        let drawn = panel::Drawn {
            name: &piece.name,
            outline: outline.clone(),
            mirrored: *mirrored,
        };
        panel::panel(plan, face, panel, &drawn)
    });
    let mut drawn: Vec<Drawing> = drawn.flatten().collect();
    // The last alone stays with the legend: there may be no page for both and that.
    if let [one, _] = drawn.as_mut_slice() {
        one.keep = false;
    }
    drawn
}

/// `b`: what the second unit is called in rows.
fn unit_letter(n: usize) -> char {
    char::from(b'a' + (n % 26) as u8)
}

fn named(plan: &Plan, id: &str) -> String {
    let place = plan.cloths.iter().position(|c| c.id == id);
    place.map_or("?".into(), |n| format!("{} {}", letter(n), plan.cloths[n].name))
}

/// The units alone, large.
fn units(plan: &Plan, face: &Patchwork, panel: &PanelFigures) -> Vec<Drawing> {
    let lead = plan.unit;
    let several = face.units.len() > 1;
    let (width, height) = (mm(face.finished), mm(face.finished_height.unwrap_or(face.finished)));
    let one_to = scale_for(width, height, (34.0, 34.0));
    let size = |wide: Option<crate::measure::Length>, high: Option<crate::measure::Length>, round: Round| {
        let wide = wide?;
        Some(match high.filter(|h| *h != wide) {
            Some(height) => crate::figures::Size { width: wide, height }.both(lead, round),
            None => wide.both(lead, round),
        })
    };
    let finished = size(panel.unit_finished, panel.unit_finished_height, Round::Nearest);
    let trim = size(panel.unit_trim, panel.unit_trim_height, Round::Up);
    let caption = [
        finished.map(|size| format!("{size} finished")),
        trim.map(|size| format!("trim to {size}")),
    ];
    let caption = caption.into_iter().flatten().collect::<Vec<_>>().join("\n");
    face.units
        .iter()
        .enumerate()
        .map(|(n, unit)| {
            let mut painter = painter::Painter::new(plan);
            painter.unit(unit, 0, (width, height), &|p| p);
            let name = unit.kind.name();
            Drawing {
                title: if several {
                    format!("{}  {name}", unit_letter(n))
                } else {
                    name.into()
                },
                says: format!("Unit {}: {name}", unit_letter(n)),
                caption: caption.clone(),
                width,
                height,
                one_to,
                aside: 0.0,
                below: 0.0,
                keep: false,
                shapes: painter.shapes(one_to),
            }
        })
        .collect()
}

fn pressing(plan: &Plan, face: &Patchwork, blocks: &mut Vec<Block>) {
    blocks.push(Block::Subheading("Sewing and pressing".into()));
    let first = face.units.first().map(|u| u.kind);
    let order: Vec<String> = dark_to_light(plan, face)
        .into_iter()
        .map(|n| named(plan, &plan.cloths[n].id))
        .collect();
    let several = |u: &crate::plan::Unit| !u.kind.in_rows() && crate::sheets::shapes::patches(u, 0).len() > 1;
    let pieced = face.units.iter().any(several);
    if order.len() > 1 && pieced {
        blocks.push(Block::Text(format!(
            "Within a unit, press a seam towards the darker of its two cloths (common practice). From dark to light: {}.",
            order.join(", ")
        )));
    }
    let how = if face.on_point.is_some() {
        "The rows rise from the lower left to the upper right. Sew each from one end to the other, with the triangles at its ends, then row to row; the corner triangles that end no row come last (common practice). Press the seams of odd rows towards the upper right and of even rows towards the lower left: so they lie against each other where rows meet."
    } else if first == Some(UnitKind::Hexagon) {
        "Sew the hexagons of a row to each other, then row to row, from corner to corner: begin and end every seam at the seam allowance, not at the edge (common practice). Press the rows when they are joined."
    } else if first.is_some_and(UnitKind::in_rows) {
        "Sew the patches of a row to each other, then row to row. Press the seams of odd rows to the right and of even rows to the left: so they lie against each other where rows meet (common practice). Their sides are on the bias: press without pulling."
    } else {
        "Sew the units of a row to each other, then row to row. Press the seams of odd rows to the right and of even rows to the left: so they lie against each other where rows meet (common practice)."
    };
    blocks.push(Block::Text(how.into()));
    if face.sashing.is_some() {
        blocks.push(Block::Text(
            "Press seams beside sashing towards the sashing (common practice).".into(),
        ));
    }
}

fn patches(plan: &Plan, panel: &PanelFigures) -> Table {
    Table {
        columns: vec![
            Column::words("Cloth"),
            Column::words("What").wide(),
            Column::number("Cut size"),
            Column::number("Cut"),
            Column::strong("Patches"),
        ],
        rows: panel
            .patches
            .iter()
            .map(|cut| {
                let size = in_both(plan.unit, |u: Unit| cut.cut.cut_one(u));
                Row::of(vec![
                    named(plan, &cut.cloth).into(),
                    Cell::new(shape_words(cut.shape), cut.unit.clone()),
                    size.into(),
                    cut.cuts.to_string().into(),
                    cut.patches.to_string().into(),
                ])
            })
            .collect(),
        ticks: true,
    }
}

fn strips(plan: &Plan, panel: &PanelFigures) -> Table {
    Table {
        columns: vec![
            Column::words("Cloth"),
            Column::words("What").wide(),
            Column::number("Cut size"),
            Column::strong("Count"),
        ],
        rows: panel
            .strips
            .iter()
            .map(|strip| {
                let size = in_both(plan.unit, |u: Unit| strip.cut.cut_one(u));
                Row::of(vec![
                    named(plan, &strip.cloth).into(),
                    strip.what.clone().into(),
                    size.into(),
                    strip.count.to_string().into(),
                ])
            })
            .collect(),
        ticks: true,
    }
}
