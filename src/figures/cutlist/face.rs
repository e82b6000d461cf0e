//! What the face of a piece takes of a cloth: its plain panel, or its patches
//! and the strips of its sashing and borders.

use super::{CutList, MOST_LENGTHS};
use crate::figures::check::called;
use crate::figures::joined::lengths;
use crate::figures::units::coarse_mark;
use crate::figures::{PieceFigures, Problem, Purpose, Size, StripCut, StripKind};
use crate::measure::{Length, Round, capital};
use crate::plan::{Cloth, Face, Piece, Plan};

/// No strip is joined from a shorter part than this, if the cloth is wide enough.
const SHORTEST_PART: Length = Length::whole_inches(4);

/// Patches and strips of one face.
pub(super) fn face(
    plan: &Plan,
    list: &mut CutList,
    problems: &mut Vec<Problem>,
    piece: &Piece,
    figures: &PieceFigures,
    cloth: &Cloth,
    width: Length,
) {
    let unit = plan.unit;
    let Some(panel) = &figures.panel else { return };
    match &piece.face {
        Some(Face::Plain(plain)) if plain.cloth == cloth.id => {
            let size = panel.before;
            let turned = Size {
                width: size.height,
                height: size.width,
            };
            if size.width <= width {
                list.add(Purpose::PlainPanel, &figures.name, size, figures.count, false);
            } else if turned.width <= width && !cloth.one_way {
                list.add(Purpose::PlainPanel, &figures.name, turned, figures.count, false);
                list.cautions.push(format!(
                    "{} is wider than the cloth and is laid turned: its height runs across the cloth, not along the grain.",
                    figures.name
                ));
            } else {
                let why = if turned.width <= width {
                    ", and this cloth runs one way, so it cannot be turned"
                } else {
                    ""
                };
                problems.push(Problem {
                    field: format!("pieces/{}/face", piece.id),
                    message: format!(
                        "{} needs a rectangle {} wide; {} is {} wide between the selvages{why}. Choose a wider cloth, or divide the piece.",
                        figures.name,
                        size.width.both(unit, Round::Up),
                        called(&cloth.name, &cloth.id),
                        width.both(unit, Round::Down)
                    ),
                });
            }
        }
        Some(Face::Patchwork(_)) => {
            for patch in panel.patches.iter().filter(|p| p.cloth == cloth.id) {
                let least = if cloth.one_way {
                    patch.cut.width
                } else {
                    patch.cut.width.min(patch.cut.height)
                };
                if least > width {
                    problems.push(Problem {
                        field: format!("cloths/{}/usable_width", cloth.id),
                        message: format!(
                            "{} is {} wide between the selvages; a patch of {} ({}) is cut {} wide. Choose a wider cloth, or a smaller finished size.",
                            called(&cloth.name, &cloth.id),
                            width.both(unit, Round::Down),
                            figures.name,
                            patch.unit,
                            least.cut(unit)
                        ),
                    });
                    continue;
                }
                let purpose = Purpose::Patch {
                    shape: patch.shape,
                    unit: patch.unit.clone(),
                };
                list.add_cuts(
                    purpose,
                    &figures.name,
                    patch.cut,
                    patch.patches,
                    patch.cuts,
                    !cloth.one_way,
                );
            }
            for strip in panel.strips.iter().filter(|s| s.cloth == cloth.id) {
                problems.extend(strip_of(plan, list, figures, strip, cloth, width).err());
            }
        }
        _ => {}
    }
}

/// A strip of sashing or border. One that is longer than the cloth is wide is
/// joined from parts; on a cloth that runs one way an upright strip lies along
/// the cloth, where it is as long as it may be.
fn strip_of(
    plan: &Plan,
    list: &mut CutList,
    figures: &PieceFigures,
    strip: &StripCut,
    cloth: &Cloth,
    width: Length,
) -> Result<(), Problem> {
    let unit = plan.unit;
    let purpose = match strip.kind {
        StripKind::Sashing => Purpose::Sashing,
        StripKind::Border => Purpose::Border,
    };
    let upright = strip.cut.width < strip.cut.height;
    let lying = if cloth.one_way || !upright {
        strip.cut
    } else {
        Size {
            width: strip.cut.height,
            height: strip.cut.width,
        }
    };
    let may_turn = !cloth.one_way;
    let problem = |message: String| Problem {
        field: format!("cloths/{}/usable_width", cloth.id),
        message,
    };
    let least = strip.cut.width.min(strip.cut.height);
    if lying.width <= width {
        list.add(purpose, &figures.name, lying, strip.count, may_turn);
        return Ok(());
    }
    let name = called(&cloth.name, &cloth.id);
    if least > width || (cloth.one_way && upright) {
        return Err(problem(format!(
            "{name} is {} wide between the selvages; {} of {} are cut {} wide. Choose a wider cloth, or make them narrower.",
            width.both(unit, Round::Down),
            strip.what,
            figures.name,
            least.cut(unit)
        )));
    }
    let seam = plan.allowances.seam;
    let Some(count) = lengths(lying.width, width, seam).filter(|n| *n <= MOST_LENGTHS) else {
        return Err(problem(format!(
            "{name} is {} wide, too narrow to join {} of {} from it, {} long. Choose a wider cloth.",
            width.both(unit, Round::Down),
            strip.what,
            figures.name,
            lying.width.both(unit, Round::Up)
        )));
    };
    let last = lying.width - (width - seam * 2) * (count - 1);
    // A stub is a nuisance to sew: it is made longer, and a full width shorter by as much.
    let longer = (SHORTEST_PART.min(width.scale_down(1, 2)) - last).max(Length::ZERO);
    let part = |length: Length| {
        // Up to a mark, as far as the cloth reaches.
        Size {
            width: length.ceil_to(coarse_mark(unit)).min(width),
            height: lying.height,
        }
    };
    let mut parts = vec![(part(width), count - 1), (part(last + longer), 1)];
    if longer.is_positive() {
        parts[0].1 -= 1;
        parts.insert(1, (part(width - longer), 1));
    }
    parts.retain(|(_, times)| *times > 0);
    let told: Vec<String> = parts
        .iter()
        .map(|(part, times)| match times {
            1 => part.width.cut_one(unit),
            n => format!("{n} × {}", part.width.cut_one(unit)),
        })
        .collect();
    for (part, times) in parts {
        // A strip as wide as the cloth lies across it.
        let turn = may_turn && part.width < width;
        list.add(
            purpose.clone(),
            &figures.name,
            part,
            strip.count.saturating_mul(times),
            turn,
        );
    }
    list.needs("seam");
    list.working.push(format!(
        "{} of {} are {} long, longer than the cloth is wide: join each from {}; a seam of {} on both sides of each join is counted.",
        capital(&strip.what),
        figures.name,
        lying.width.both(unit, Round::Up),
        told.join(" + "),
        seam.both(unit, Round::Nearest),
    ));
    Ok(())
}

#[cfg(test)]
mod tests {
    use crate::figures::{ClothFigures, Purpose, work_out};
    use crate::measure::{INCH, Length};
    use crate::plan::Plan;

    /// A cover of one square with a border, its border's cloth 42 in wide.
    fn bordered(side: i64, one_way: bool) -> ClothFigures {
        let plan = Plan::from_json(&format!(
            r#"{{"format":1,"cloths":[{{"id":"c1","name":"Cream","usable_width":"108 in"}},
            {{"id":"c2","name":"Rust","usable_width":"42 in","one_way":{one_way}}}],
            "pieces":[{{"id":"p1","name":"Cover","cut_count":1,"width":"{side} in","height":"{side} in",
            "face":{{"kind":"patchwork","finished":"{side} in","arrangement":"all-alike",
            "units":[{{"kind":"square","cloths":["c1"]}}],"borders":[{{"width":"2 in","cloth":"c2"}}]}}}}]}}"#
        ))
        .expect("a plan");
        let figures = work_out(&plan);
        assert!(figures.problems.is_empty(), "{:?}", figures.problems);
        figures.cloths.into_iter().nth(1).expect("the border's cloth")
    }

    /// Width, height, count and whether it may turn.
    fn lines(cloth: &ClothFigures) -> Vec<(f64, f64, i64, bool)> {
        let lines = cloth.cuts.iter().filter(|l| l.purpose == Purpose::Border);
        lines
            .map(|l| {
                let (w, h) = (l.cut.width.as_inches_f64(), l.cut.height.as_inches_f64());
                (w, h, l.count, l.may_turn)
            })
            .collect()
    }

    #[test]
    fn strips_longer_than_the_cloth_is_wide_are_joined() {
        // Sides 60 1/2 = 42 + 19 - 1/2, top and bottom 64 1/2 = 42 + 23 - 1/2.
        let cloth = bordered(60, false);
        assert_eq!(
            lines(&cloth),
            [(42.0, 2.5, 4, false), (19.0, 2.5, 2, true), (23.0, 2.5, 2, true),]
        );
        let told = cloth.shown.working.join(" ");
        assert!(told.contains("join each from 42 in + 19 in"), "{told}");
        assert!(told.contains("1/4 in (0.6 cm) on both sides of each join"), "{told}");
        assert!(cloth.shown.allowances.iter().any(|a| a.name.starts_with("Seam")));
    }

    #[test]
    fn no_part_is_a_stub() {
        // Sides 42 1/2 in: not 42 and a stub of 1 in.
        let found = lines(&bordered(42, false));
        assert_eq!(found[..2], [(39.0, 2.5, 2, true), (4.0, 2.5, 2, true)]);
    }

    #[test]
    fn on_cloth_that_runs_one_way_upright_strips_lie_along_it() {
        let found = lines(&bordered(60, true));
        assert_eq!(
            found,
            [(2.5, 60.5, 2, false), (42.0, 2.5, 2, false), (23.0, 2.5, 2, false),]
        );
        assert!(bordered(60, true).length >= INCH * 60 && bordered(60, false).length > Length::ZERO);
    }
}
