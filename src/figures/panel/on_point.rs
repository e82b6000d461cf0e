//! Blocks on point: outer ones whose corners touch the edge of the panel, one
//! fewer each way between them, triangles along the sides and in the corners.
//!
//! Sashing goes round every block, with posts where strips cross. A block and
//! half the sashing on each side of it stand where a block alone would: the
//! setting triangles, which lose as much to their sashing, stay the size of the
//! block, and the posts at the edge are cut through their middle.

use super::patches::from_squares;
use super::patchwork::{Inside, PatchworkOf};
use super::sashing;
use super::write::{Writer, quotient, seam_text};
use crate::figures::units::{diagonal, diagonal_at_least};
use crate::figures::{Setting, Shape, Size};
use crate::measure::{Length, Round};
use crate::plan::CuttingRule;

/// As many blocks as it takes to reach `needed`.
pub(super) fn inside(of: &PatchworkOf, needed: Size, write: &mut Writer) -> Inside {
    let cutting = of.cutting;
    let unit = cutting.unit;
    let block = of.face.finished;
    let sash = of.face.sashing.as_ref();
    let pitch = block + sash.map_or(Length::ZERO, |s| s.width);
    // A block is as wide as its diagonal; rounded down, so that enough are counted.
    let wide = diagonal_at_least(pitch);
    let count = |length: Length| length.times_needed(wide).max(1);
    let (columns, rows) = (count(needed.width), count(needed.height));
    write.line(format!(
        "A block on point is {} × 1.414 = {} wide.",
        match sash {
            Some(sash) => format!(
                "({} + {} sashing)",
                write.one(block, Round::Nearest),
                write.one(sash.width, Round::Nearest)
            ),
            None => write.one(block, Round::Nearest),
        },
        write.one(wide, Round::Nearest)
    ));
    for (length, count, along) in [(needed.width, columns, "across"), (needed.height, rows, "down")] {
        write.line(format!(
            "{} / {} = {}, so {count} outer blocks {along}.",
            write.one(length.max(Length::ZERO), Round::Up),
            write.one(wide, Round::Nearest),
            quotient(length.max(Length::ZERO), wide)
        ));
    }
    let between = (columns - 1).saturating_mul(rows - 1);
    let units = columns.saturating_mul(rows).saturating_add(between);
    let all = units.saturating_mul(of.panels);
    write.line(format!(
        "{columns} × {rows} outer blocks and {} × {} between them = {units} a panel{}.",
        columns - 1,
        rows - 1,
        if of.panels > 1 {
            format!(", {} panels: {all}", of.panels)
        } else {
            String::new()
        }
    ));
    let sides = (columns - 1 + rows - 1).saturating_mul(2);
    let mut patches = Vec::new();
    if let Some(setting) = &of.face.on_point {
        let size = write.one(block, Round::Nearest);
        let (side, corner) = (cutting.setting_side(block), cutting.setting_corner(block));
        patches.extend(from_squares(
            of.name,
            &setting.side,
            Shape::QuarterSquareTriangle,
            side,
            sides.saturating_mul(of.panels),
            format!("side triangles for {size} blocks on point"),
        ));
        patches.extend(from_squares(
            of.name,
            &setting.corner,
            Shape::HalfSquareTriangle,
            corner,
            of.panels.saturating_mul(4),
            format!("corner triangles for {size} blocks on point"),
        ));
        let seam = seam_text(cutting.seam, unit);
        let (side_seams, corner_seams) = match cutting.rule {
            CuttingRule::Trade => ("the trade's addition, ", "the trade's addition, "),
            CuttingRule::Exact => ("", ""),
        };
        if sides > 0 {
            write.line(format!(
                "{sides} side triangles: {size} × 1.414 and the seams ({side_seams}{seam} × 4.828) = squares cut {}; each gives 4.",
                side.cut(unit)
            ));
        }
        write.line(format!(
            "4 corner triangles: {size} / 1.414 and the seams ({corner_seams}{seam} × 3.414) = squares cut {}; each gives 2.",
            corner.cut(unit)
        ));
    }
    let sashed = sash.map(|s| sashing::round_blocks(of, s, columns, rows, units, sides, write));
    let (strips, posts, figures) = match sashed {
        Some(made) => (made.strips, made.posts, Some(made.figures)),
        None => Default::default(),
    };
    patches.extend(posts);
    let pitch_as_cut = cutting.as_cut(block) + sash.map_or(Length::ZERO, |s| cutting.as_cut(s.width));
    let size = |wide: Length| Size {
        width: wide * columns,
        height: wide * rows,
    };
    Inside {
        columns,
        rows,
        units,
        setting: Setting::OnPoint {
            side_triangles: sides,
            corner_triangles: 4,
        },
        sashing: figures,
        least: size(wide),
        most: size(diagonal(pitch_as_cut)),
        patches,
        strips,
    }
}
