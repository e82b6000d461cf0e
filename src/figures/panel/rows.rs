//! Equilateral triangles, diamonds and hexagons in rows. The rows end in
//! points or in a zigzag: a straight edge is cut inside them, and only what is
//! left then is counted on.
//!
//! Let `f` be the side of a patch and `n` patches stand in a row.
//! - Triangles, pointing up and down in turn, are `h = 0.866 f` high. A row is
//!   a band with slanting ends; each patch moves it on by `f / 2`, and half a
//!   side is lost at either end: `(n - 1) f / 2` wide. Its next row mirrors it.
//! - Diamonds lean to the right: a band with slanting ends, `n f` long; every
//!   second row is moved by half a side, so that points meet: `(n - 1) f`.
//! - Hexagons stand on a point, `1.732 f` wide; every second row is moved by
//!   half of that: `(n - 1/2) 1.732 f`. Rows go into each other by half a side,
//!   and half a side is lost at the top and the bottom: `(3 rows - 1) f / 2`.

use super::patchwork::{Inside, PatchworkOf};
use super::write::{Writer, seam_text};
use crate::figures::units::SQRT_3;
use crate::figures::{Setting, Size};
use crate::measure::{Length, Round};
use crate::plan::{Patchwork, UnitKind};

pub(super) fn is_in_rows(face: &Patchwork) -> bool {
    face.units.first().is_some_and(|u| u.kind.in_rows())
}

/// The straight rectangle that can be cut from rows of patches, rounded down:
/// raw at edges that are cut through patches, sewn in where the edge of the
/// patches is straight itself.
fn covered(kind: UnitKind, side: Length, columns: i64, rows: i64) -> Size {
    let high = side.times_irrational_down(SQRT_3 / 2.0);
    match kind {
        UnitKind::Triangle60 => Size {
            width: side.scale_down(columns - 1, 2),
            height: high * rows,
        },
        UnitKind::Diamond60 => Size {
            width: side * (columns - 1),
            height: high * rows,
        },
        _ => Size {
            width: side.times_irrational_down(SQRT_3).scale_down(columns * 2 - 1, 2),
            height: side.scale_down(rows.saturating_mul(3) - 1, 2),
        },
    }
}

/// What is lost of [`covered`] where its edges are cut and not sewn yet: a seam
/// on both sides.
fn to_sew_in(kind: UnitKind, seam: Length) -> Size {
    Size {
        width: seam * 2,
        height: match kind {
            UnitKind::Hexagon => seam * 2,
            _ => Length::ZERO,
        },
    }
}

fn finished(kind: UnitKind, side: Length, columns: i64, rows: i64, seam: Length) -> Size {
    let (covered, lost) = (covered(kind, side, columns, rows), to_sew_in(kind, seam));
    Size {
        width: covered.width - lost.width,
        height: covered.height - lost.height,
    }
}

/// Patches a row, and rows.
fn counts(kind: UnitKind, side: Length, needed: Size, seam: Length) -> (i64, i64) {
    let lost = to_sew_in(kind, seam);
    let wide = (needed.width + lost.width).max(Length::from_units(1));
    let high = (needed.height + lost.height).max(Length::from_units(1));
    let row = side.times_irrational_down(SQRT_3 / 2.0);
    match kind {
        UnitKind::Triangle60 => (1 + (wide * 2).times_needed(side), high.times_needed(row)),
        UnitKind::Diamond60 => (1 + wide.times_needed(side), high.times_needed(row)),
        _ => {
            let halves = (wide * 2).times_needed(side.times_irrational_down(SQRT_3));
            let thirds = (high * 2).times_needed(side);
            ((halves + 2).div_euclid(2), (thirds + 3).div_euclid(3))
        }
    }
}

/// As many patches as it takes to reach `needed`.
pub(super) fn inside(of: &PatchworkOf, needed: Size, write: &mut Writer) -> Inside {
    let cutting = of.cutting;
    let side = of.face.finished;
    let kind = of.face.units.first().map_or(UnitKind::Hexagon, |u| u.kind);
    let (columns, rows) = counts(kind, side, needed, cutting.seam);
    let least = finished(kind, side, columns, rows, cutting.seam);
    let units = columns.saturating_mul(rows);
    let (setting, name) = match kind {
        UnitKind::Triangle60 => (Setting::Triangles, "triangles"),
        UnitKind::Diamond60 => (Setting::Diamonds, "diamonds"),
        _ => (Setting::Hexagons, "hexagons"),
    };
    let near = |length: Length| write.one(length, Round::Nearest);
    let seams = format!("− 2 × {} seam", seam_text(cutting.seam, cutting.unit));
    let across = match kind {
        UnitKind::Triangle60 => format!("({columns} − 1) × {} half a side", near(side.scale_down(1, 2))),
        UnitKind::Diamond60 => format!("({columns} − 1) × {}", near(side)),
        _ => format!("({columns} − 1/2) × {}", near(side.times_irrational_down(SQRT_3))),
    };
    let down = match kind {
        UnitKind::Hexagon => format!("({rows} × 3 − 1) × {} half a side {seams}", near(side.scale_down(1, 2))),
        _ => format!("{rows} × {}", near(side.times_irrational_down(SQRT_3 / 2.0))),
    };
    let (wide, high) = (
        write.one(least.width, Round::Down),
        write.one(least.height, Round::Down),
    );
    write.line(format!(
        "{columns} {name} a row, their ends cut straight: {across} {seams} = {wide} across."
    ));
    write.line(format!(
        "{rows} rows{}: {down} = {high} down.",
        if kind == UnitKind::Hexagon {
            ", the zigzag above and below cut straight"
        } else {
            ""
        }
    ));
    let all = units.saturating_mul(of.panels);
    write.line(format!(
        "{columns} × {rows} = {units} {name} a panel{}.",
        if of.panels > 1 {
            format!(", {} panels: {all}", of.panels)
        } else {
            String::new()
        }
    ));
    Inside {
        columns,
        rows,
        units,
        setting,
        sashing: None,
        least,
        most: finished(kind, cutting.as_cut60(kind, side), columns, rows, cutting.seam),
        patches: Vec::new(),
        strips: Vec::new(),
    }
}
