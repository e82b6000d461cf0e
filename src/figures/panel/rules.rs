//! How the cut size of each patch came about, and what to mind when it is sewn.

use super::patchwork::PatchworkOf;
use super::write::Writer;
use super::write::seam_text;
use crate::figures::units::{Cutting, across};
use crate::figures::{Setting, Size};
use crate::measure::{Length, Round, Unit as System};
use crate::plan::{CuttingRule, Unit, UnitKind};

fn one(system: System, length: Length) -> String {
    match system {
        System::Inch => length.inches(Round::Nearest),
        System::Cm => length.cm(Round::Nearest),
    }
}

/// The working of one unit.
pub(super) fn of_unit(cutting: Cutting, unit: &Unit, finished: Size) -> Vec<String> {
    let system = cutting.unit;
    let side = finished.width;
    let (f, s) = (one(system, side), seam_text(cutting.seam, system));
    let cut = |length: Length| length.cut(system);
    let more = |length: Length, than: Length| (length - than).cut_one(system);
    // "Parts: 6 in / 2 = 3 in finished."
    let part = |n: usize| {
        let part = cutting.part(side, n);
        (part, format!("{f} / {n} = {}", one(system, part)))
    };
    match unit.kind {
        UnitKind::HalfSquareTriangle => vec![half_squares(cutting, unit.at_a_time, side)],
        UnitKind::QuarterSquareTriangle => {
            let square = cutting.quarter_square(side);
            vec![format!(
                "Quarter-square triangles: {f} + {} for the seams ({s} × 4.828, up to the ruler's mark) = squares cut {}; each gives 4.",
                more(square, side),
                cut(square)
            )]
        }
        UnitKind::Rail => {
            let strips = unit.cloths.len();
            let size = cutting.rail(finished, strips);
            vec![format!(
                "Rail: {f} / {strips} + 2 × {s} seam = strips cut {} by {}.",
                cut(size.width),
                cut(size.height)
            )]
        }
        UnitKind::FlyingGeese => {
            let geese = cutting.geese(side);
            let (half, half_text) = part(2);
            vec![
                format!(
                    "Flying geese, two in a unit, each {f} wide and {half_text} high. Geese: {f} + {} for the seams ({s} × 4.828, up to the ruler's mark) = large squares cut {}; each gives 4.",
                    more(geese.large, side),
                    cut(geese.large)
                ),
                format!(
                    "Sky: {} + {} for the seams ({s} × 3.414, up to the ruler's mark) = small squares cut {}, four to each large one.",
                    one(system, half),
                    more(geese.small, half),
                    cut(geese.small)
                ),
            ]
        }
        UnitKind::SquareInASquare => {
            let squares = cutting.square_in_a_square(side);
            let (half, half_text) = part(2);
            vec![
                format!(
                    "Square in a square: the centre {f} / 1.414 + 2 × {s} seam = squares cut {}.",
                    cut(squares.centre)
                ),
                format!(
                    "Its corners: {half_text}, and {} for the seams ({s} × 3.414, up to the ruler's mark) = squares cut {}; each gives 2, a unit takes 4.",
                    more(squares.corner, half),
                    cut(squares.corner)
                ),
            ]
        }
        UnitKind::FourPatch | UnitKind::NinePatch => {
            let n = if unit.kind == UnitKind::FourPatch { 2 } else { 3 };
            let (part, text) = part(n);
            vec![format!(
                "{}: {text}, and 2 × {s} seam = squares cut {}; {} of the first cloth and {} of the second.",
                if n == 2 { "Four-patch" } else { "Nine-patch" },
                cut(cutting.square(part)),
                if n == 2 { 2 } else { 5 },
                if n == 2 { 2 } else { 4 },
            )]
        }
        UnitKind::Pinwheel => {
            let (part, text) = part(2);
            vec![
                format!("Pinwheel: four half-square triangle units, {text} finished each."),
                half_squares(cutting, 2, part),
            ]
        }
        UnitKind::Composed => {
            let n = across(unit.parts.len());
            let (part, text) = part(n);
            let mut lines = vec![format!("{n} × {n} parts, {text} finished each.")];
            let size = Size {
                width: part,
                height: part,
            };
            for made in &unit.parts {
                let alone = Unit::new(made.kind, made.cloths.clone());
                for line in of_unit(cutting, &alone, size) {
                    if !lines.contains(&line) {
                        lines.push(line);
                    }
                }
            }
            lines
        }
        UnitKind::Triangle60 => {
            let size = cutting.triangle60(side);
            vec![format!(
                "Equilateral triangles: {f} × 0.866 high and 3 × {s} seam = strips cut {}; cut at 60 degrees each way, the sides measure {} or a little less.",
                cut(size.height),
                cut(size.width)
            )]
        }
        UnitKind::Diamond60 => {
            let size = cutting.diamond60(side);
            vec![format!(
                "Diamonds: {f} × 0.866 high and 2 × {s} seam = strips cut {0}; cut across at 60 degrees, {0} apart.",
                cut(size.height)
            )]
        }
        UnitKind::Hexagon => {
            let size = cutting.hexagon(side);
            vec![format!(
                "Hexagons: {f} × 1.732 from flat to flat and 2 × {s} seam = strips cut {}; {} from tip to tip.",
                cut(size.height),
                cut(size.width)
            )]
        }
        UnitKind::Square if finished.width != finished.height => {
            let size = cutting.rectangle(finished);
            vec![format!(
                "Rectangles: {f} and {}, each with 2 × {s} seam = cut {}.",
                one(system, finished.height),
                size.cut(system)
            )]
        }
        UnitKind::Square => vec![format!(
            "Squares: {f} + 2 × {s} seam = cut {}.",
            cut(cutting.square(side))
        )],
    }
}

fn half_squares(cutting: Cutting, at_a_time: u32, side: Length) -> String {
    let system = cutting.unit;
    let (f, s) = (one(system, side), seam_text(cutting.seam, system));
    match at_a_time {
        4 => format!(
            "Half-square triangles, four at a time: ({f} + 2 × {s}) × 1.414 + 2 × {s} = squares cut {}; each pair, sewn all round and cut corner to corner both ways, gives 4.",
            cutting.half_squares_four(side).cut(system)
        ),
        8 => {
            let cut = cutting.half_squares_eight(side);
            format!(
                "Half-square triangles, eight at a time: 2 × {f} + {} for the seams (2 × {s} × 3.414, up to the ruler's mark) = squares cut {}; each pair gives 8.",
                (cut - side * 2).cut_one(system),
                cut.cut(system)
            )
        }
        _ => {
            let cut = cutting.half_square(side);
            format!(
                "Half-square triangles: {f} + {} for the seams ({s} × 3.414, up to the ruler's mark) = squares cut {}; each gives 2.",
                (cut - side).cut_one(system),
                cut.cut(system)
            )
        }
    }
}

/// Whether triangles are sewn into the unit, so that it is trimmed.
fn has_triangles(unit: &Unit) -> bool {
    let triangles = |kind: UnitKind| {
        matches!(
            kind,
            UnitKind::HalfSquareTriangle
                | UnitKind::QuarterSquareTriangle
                | UnitKind::FlyingGeese
                | UnitKind::SquareInASquare
                | UnitKind::Pinwheel
        )
    };
    triangles(unit.kind) || unit.parts.iter().any(|p| triangles(p.kind))
}

/// How many equal parts of squares stand side by side in a unit; 1 where it is
/// not sewn from such.
fn parts_across(unit: &Unit) -> usize {
    match unit.kind {
        UnitKind::FourPatch | UnitKind::Pinwheel => 2,
        UnitKind::NinePatch => 3,
        UnitKind::Composed => across(unit.parts.len()),
        _ => 1,
    }
}

/// What to mind when these units are sewn.
pub(super) fn cautions(of: &PatchworkOf, setting: Setting, write: &mut Writer) {
    let (cutting, units) = (of.cutting, &of.face.units);
    let system = cutting.unit;
    let finished = of.finished();
    let side = finished.width;
    let trimmed = cutting.square(side);
    let mut mind = |text: String| write.shown.cautions.push(text);
    if units.iter().any(has_triangles) {
        mind(match cutting.rule {
            CuttingRule::Trade => format!("Sew triangle units first, then trim them to {}.", trimmed.cut(system)),
            CuttingRule::Exact => {
                "Triangles are cut to exact geometry: there is next to nothing to trim, so sew the seam exactly.".into()
            }
        });
    }
    let rails = units.iter().filter(|u| u.kind == UnitKind::Rail);
    let wider = rails
        .map(|u| cutting.sewn(cutting.rail(finished, u.cloths.len()).width, u.cloths.len()) - trimmed)
        .max()
        .unwrap_or(Length::ZERO);
    if wider.is_positive() {
        mind(format!(
            "Rail strips are cut up to the next mark, so a sewn rail is up to {} too wide: trim it to {}, the same from both sides.",
            wider.cut(system),
            trimmed.cut(system)
        ));
    }
    let larger = units
        .iter()
        .map(|u| {
            let n = parts_across(u);
            cutting.sewn(cutting.square(cutting.part(side, n)), n) - trimmed
        })
        .max()
        .unwrap_or(Length::ZERO);
    if larger.is_positive() {
        mind(format!(
            "Parts are cut up to the next mark, so a sewn unit is up to {} too large: trim it to {}, the same from all sides.",
            larger.cut(system),
            trimmed.cut(system)
        ));
    }
    if units
        .iter()
        .any(|u| u.kind == UnitKind::HalfSquareTriangle && u.at_a_time == 4)
    {
        mind(
            "Four at a time, the outer edges of the units are on the bias: press without pulling. Tables that divide by 0.64 instead cut too small below 3 in (7.6 cm)."
                .into(),
        );
    }
    match setting {
        Setting::OnPoint { .. } => mind(
            "Cut the setting triangles as said: then their edge along the panel is on the straight grain. Cut the other way round, the panel's edges would stretch."
                .into(),
        ),
        Setting::Triangles | Setting::Diamonds | Setting::Hexagons => mind(
            "The rows end in points: the panel is cut straight through the patches at its edges, and its size is counted after that."
                .into(),
        ),
        Setting::Plain | Setting::Straight => {}
    }
}
