//! How many of each unit a panel holds, and the patches they are cut from.

use super::patchwork::{Inside, PatchworkOf};
use super::rules;
use super::write::Writer;
use crate::figures::units::UnitCut;
use crate::figures::{PatchCut, Setting, Shape, Size};
use crate::measure::{Length, Round, Unit as System};
use crate::plan::{Unit, UnitKind};

/// Rectangles to cut for a number of patches that are cut singly.
pub fn cuts_for(patches: i64, shape: Shape) -> i64 {
    let yields = shape.yields();
    patches.saturating_add(yields - 1).div_euclid(yields)
}

/// Patches of all panels, from the units alone.
pub(super) fn patches(of: &PatchworkOf, inside: &Inside, write: &mut Writer) -> Vec<PatchCut> {
    let mut list = List {
        name: of.name,
        patches: Vec::new(),
    };
    let finished = of.finished();
    let units = &of.face.units;
    if let (true, Some(unit)) = (super::rows::is_in_rows(of.face), units.first()) {
        in_rows(of, inside, unit, &mut list);
        write.shown.working.extend(rules::of_unit(of.cutting, unit, finished));
        return list.patches;
    }
    for (unit, count) in units.iter().zip(of_each(of, inside)) {
        let count = count.saturating_mul(of.panels);
        if count == 0 {
            continue;
        }
        let label = label(unit, finished, of.cutting.unit);
        if units.len() > 1 {
            write.line(format!("{count} of the {label}, counted from the top left corner."));
        }
        for cut in of.cutting.unit_cuts(unit, finished) {
            list.add(&cut, count, &label);
        }
        write.shown.working.extend(rules::of_unit(of.cutting, unit, finished));
    }
    list.patches
}

/// How many of each unit of the palette one panel holds, position by position.
fn of_each(of: &PatchworkOf, inside: &Inside) -> Vec<i64> {
    let palette = of.face.units.len();
    if palette <= 1 {
        return vec![inside.units; palette];
    }
    let mut counts = vec![0; palette];
    let on_point = matches!(inside.setting, Setting::OnPoint { .. });
    let rows = if on_point { inside.rows * 2 - 1 } else { inside.rows };
    for row in 0..rows {
        // On point every second row stands between the others, one shorter.
        let columns = inside.columns - i64::from(on_point && row % 2 == 1);
        let row = of.face.row_of(at(row), at(columns));
        for (unit, _) in row {
            if let Some(count) = counts.get_mut(unit) {
                *count += 1;
            }
        }
    }
    counts
}

fn at(n: i64) -> usize {
    usize::try_from(n).unwrap_or(0)
}

/// Patches sewn in rows, one cloth after the other.
fn in_rows(of: &PatchworkOf, inside: &Inside, unit: &Unit, list: &mut List) {
    let finished = of.finished();
    let label = label(unit, finished, of.cutting.unit);
    let mut counts = vec![0i64; unit.cloths.len()];
    for row in 0..at(inside.rows) {
        for column in 0..at(inside.columns) {
            if let Some(count) = counts.get_mut(unit.cloth_in_turn(column, row)) {
                *count += 1;
            }
        }
    }
    for (cut, count) in of.cutting.unit_cuts(unit, finished).iter().zip(counts) {
        list.add(cut, count.saturating_mul(of.panels), &label);
    }
}

struct List<'a> {
    name: &'a str,
    patches: Vec<PatchCut>,
}

impl List<'_> {
    /// Patches of `units` units. Those of one cloth, size and kind of unit
    /// stand together.
    fn add(&mut self, cut: &UnitCut, units: i64, label: &str) {
        let patches = units.saturating_mul(cut.patches);
        let cuts = cut.cuts(units);
        if patches == 0 {
            return;
        }
        let same = self
            .patches
            .iter_mut()
            .find(|p| p.cloth == cut.cloth && p.shape == cut.shape && p.cut == cut.cut && p.unit == label);
        match same {
            Some(patch) => {
                patch.patches += patches;
                patch.cuts = if cut.shape.sewn_first() {
                    patch.cuts + cuts
                } else {
                    cuts_for(patch.patches, patch.shape)
                };
            }
            None => self.patches.push(PatchCut {
                cloth: cut.cloth.clone(),
                shape: cut.shape,
                cut: cut.cut,
                patches,
                cuts,
                unit: label.to_string(),
                pieces: vec![self.name.to_string()],
            }),
        }
    }
}

/// Plain squares of a finished size, if there are any.
pub(super) fn squares(of: &PatchworkOf, cloth: &str, side: Length, count: i64, label: String) -> Option<PatchCut> {
    from_squares(of.name, cloth, Shape::Square, of.cutting.square(side), count, label)
}

/// Patches cut from squares of one size, if there are any.
pub(super) fn from_squares(
    name: &str,
    cloth: &str,
    shape: Shape,
    side: Length,
    patches: i64,
    label: String,
) -> Option<PatchCut> {
    (patches > 0).then(|| PatchCut {
        cloth: cloth.into(),
        shape,
        cut: Size {
            width: side,
            height: side,
        },
        patches,
        cuts: cuts_for(patches, shape),
        unit: label,
        pieces: vec![name.into()],
    })
}

/// A unit in few words: "half-square triangle 4 in finished".
pub(super) fn label(unit: &Unit, finished: Size, system: System) -> String {
    let one = |length: Length| match system {
        System::Inch => length.inches(Round::Nearest),
        System::Cm => length.cm(Round::Nearest),
    };
    let size = if finished.width == finished.height {
        one(finished.width)
    } else {
        finished.one(system, Round::Nearest)
    };
    let square = finished.width == finished.height;
    match unit.kind {
        UnitKind::Rail => format!("rail of {} strips, {size} finished", unit.cloths.len()),
        UnitKind::Square if !square => format!("rectangle {size} finished"),
        UnitKind::Composed => format!("unit of {} parts, {size} finished", unit.parts.len()),
        UnitKind::FlyingGeese => format!("pair of flying geese {size} finished"),
        UnitKind::HalfSquareTriangle if unit.at_a_time > 2 => {
            format!("{} {size} finished, {} at a time", unit.kind.name(), unit.at_a_time)
        }
        kind if kind.in_rows() => format!("{} with sides of {size} finished", kind.name()),
        kind => format!("{} {size} finished", kind.name()),
    }
}
