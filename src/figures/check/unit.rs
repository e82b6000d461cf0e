//! One unit of a palette: its cloths, its parts, how many are made at a time.

use super::Finder;
use super::face::Usable;
use crate::measure::capital;
use crate::plan::{Unit, UnitKind};

/// A unit in a sentence, with its article.
pub(in crate::figures) fn a_unit(kind: UnitKind) -> String {
    match kind {
        UnitKind::Composed => "a unit composed of parts".into(),
        UnitKind::FlyingGeese => "a pair of flying geese".into(),
        UnitKind::Triangle60 => "an equilateral triangle".into(),
        kind => format!("a {}", kind.name()),
    }
}

/// The same for several: "equilateral triangles".
pub(super) fn units_of(kind: UnitKind) -> String {
    match kind {
        UnitKind::Composed => "units composed of parts".into(),
        UnitKind::FlyingGeese => "flying geese".into(),
        UnitKind::SquareInASquare => "squares in a square".into(),
        UnitKind::FourPatch | UnitKind::NinePatch => format!("{}es", kind.name()),
        kind => format!("{}s", kind.name()),
    }
}

pub(super) fn given(count: usize) -> String {
    match count {
        0 => "none is".into(),
        1 => "one is".into(),
        n => format!("{n} are"),
    }
}

pub(super) fn check_unit(find: &mut Finder, unit: &Unit, at: &str, usable: &Usable) -> bool {
    let mut sound = true;
    let by_pairs = unit.kind == UnitKind::HalfSquareTriangle;
    if by_pairs && !matches!(unit.at_a_time, 2 | 4 | 8) {
        sound = find.add(
            format!("{at}/at_a_time"),
            format!(
                "Half-square triangles are made 2, 4 or 8 at a time; {} is given. Choose one of these.",
                unit.at_a_time
            ),
        );
    }
    if !by_pairs && unit.at_a_time != 2 {
        sound = find.add(
            format!("{at}/at_a_time"),
            format!(
                "Only half-square triangles are made 4 or 8 at a time, not {}. Choose 2.",
                units_of(unit.kind)
            ),
        );
    }
    if unit.kind == UnitKind::Composed {
        return parts(find, unit, at, usable) && sound;
    }
    if !unit.parts.is_empty() {
        sound = find.add(
            format!("{at}/parts"),
            format!(
                "{} has no parts of its own. Choose a unit composed of parts, or take them out.",
                capital(&a_unit(unit.kind))
            ),
        );
    }
    positions(find, unit.kind, &unit.cloths, at, usable) && sound
}

/// A cloth for each position.
fn positions(find: &mut Finder, kind: UnitKind, cloths: &[String], at: &str, usable: &Usable) -> bool {
    let (least, most) = kind.positions();
    if !(least..=most).contains(&cloths.len()) {
        let needs = match (least, most) {
            (1, 1) => "one cloth".to_string(),
            (a, b) if a == b => format!("{a} cloths, one for each position"),
            (a, b) if kind == UnitKind::Rail => format!("{a} to {b} cloths, one for each strip"),
            (a, b) => format!("{a} to {b} cloths, in turn"),
        };
        return find.add(
            format!("{at}/cloths"),
            format!(
                "{} takes {needs}; {} given. Choose a cloth for each.",
                capital(&a_unit(kind)),
                given(cloths.len())
            ),
        );
    }
    let mut sound = true;
    for (m, cloth) in cloths.iter().enumerate() {
        sound &= find.reference(format!("{at}/cloths/{m}"), cloth, usable);
    }
    sound
}

fn parts(find: &mut Finder, unit: &Unit, at: &str, usable: &Usable) -> bool {
    if !unit.cloths.is_empty() {
        return find.add(
            format!("{at}/cloths"),
            "A unit composed of parts names its cloths in its parts. Take these out.",
        );
    }
    if !matches!(unit.parts.len(), 4 | 9 | 16) {
        return find.add(
            format!("{at}/parts"),
            format!(
                "A unit is composed of 4, 9 or 16 parts, as many across as down; {} given. Choose a unit for each.",
                given(unit.parts.len())
            ),
        );
    }
    let mut sound = true;
    for (n, part) in unit.parts.iter().enumerate() {
        let at = format!("{at}/parts/{n}");
        if !part.kind.may_be_part() {
            sound = find.add(
                format!("{at}/kind"),
                format!(
                    "{} cannot be a part of another unit. Choose squares, rails, half-square or quarter-square triangles.",
                    capital(&a_unit(part.kind))
                ),
            );
            continue;
        }
        if part.turn > 3 {
            sound = find.add(
                format!("{at}/turn"),
                format!(
                    "A part is turned by 0 to 3 quarters; {} is given. Type one of these.",
                    part.turn
                ),
            );
        }
        sound &= positions(find, part.kind, &part.cloths, &at, usable);
    }
    sound
}
