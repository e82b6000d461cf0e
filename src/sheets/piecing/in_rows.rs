//! Triangles, diamonds and hexagons in rows of their own, their ragged ends
//! cut off straight.

use super::painter::Painter;
use crate::figures::PanelFigures;
use crate::plan::{Patchwork, UnitKind};
use crate::sheets::document::mm;

/// All patches, those at the edges cut off.
pub fn draw(painter: &mut Painter, face: &Patchwork, panel: &PanelFigures) {
    let Some(unit) = face.units.first() else { return };
    let s = mm(face.finished);
    let (h, tall) = (s / 2.0, s * 3f64.sqrt() / 2.0);
    let n = unit.cloths.len().max(1) as i64;
    let (across, down, left, top) = match unit.kind {
        UnitKind::Triangle60 => (h, tall, h, 0.0),
        UnitKind::Diamond60 => (s, tall, h, 0.0),
        _ => (2.0 * tall, s + h, tall, h),
    };
    for row in 0..panel.rows.clamp(0, 10_000) {
        for column in -2..panel.columns.clamp(0, 10_000) + 2 {
            let odd = row.rem_euclid(2) as f64;
            let (x, y) = (column as f64 * across - left, row as f64 * down - top);
            let outline = match unit.kind {
                UnitKind::Triangle60 if (column + row).rem_euclid(2) == 0 => {
                    vec![(x, y + tall), (x + h, y), (x + s, y + tall)]
                }
                UnitKind::Triangle60 => vec![(x, y), (x + s, y), (x + h, y + tall)],
                UnitKind::Diamond60 => {
                    let x = x - odd * h;
                    vec![(x + h, y), (x + h + s, y), (x + s, y + tall), (x, y + tall)]
                }
                _ => {
                    let x = x + odd * tall;
                    vec![
                        (x + tall, y),
                        (x + 2.0 * tall, y + h),
                        (x + 2.0 * tall, y + h + s),
                        (x + tall, y + 2.0 * s),
                        (x, y + h + s),
                        (x, y + h),
                    ]
                }
            };
            let turn = (column + row).rem_euclid(n) as usize;
            let cloth = unit.cloths.get(turn).map_or("", String::as_str);
            painter.patch(cloth, outline, s * 0.35);
        }
    }
}

/// The middle of a row, down from the upper edge.
pub fn middle(face: &Patchwork, row: usize) -> f64 {
    let s = mm(face.finished);
    let tall = s * 3f64.sqrt() / 2.0;
    match face.units.first().map(|u| u.kind) {
        Some(UnitKind::Hexagon) => row as f64 * 1.5 * s + s / 2.0,
        _ => (row as f64 + 0.5) * tall,
    }
}
