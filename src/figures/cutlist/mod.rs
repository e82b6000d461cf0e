//! The cut list of one cloth: every rectangle of it, from all pieces, at a
//! given usable width.

mod face;

use super::binding;
use super::check::{Checked, called};
use super::joined::{Joined, joined};
use super::panel::cuts_for;
use super::units::coarse_mark;
use super::{CutLine, PieceFigures, Problem, Purpose, Shape, Size};
use crate::measure::{Length, Round};
use crate::plan::{BindingCut, Cloth, Plan, limits};
use face::face;
use std::collections::HashMap;

/// A layer joined from more lengths than this is no layer.
const MOST_LENGTHS: i64 = 40;

#[derive(Clone, Default)]
pub(super) struct CutList {
    pub lines: Vec<CutLine>,
    pub working: Vec<String>,
    pub cautions: Vec<String>,
    /// Allowances that entered: keys of the plan.
    pub fields: Vec<&'static str>,
    /// Index of a line by what makes it one line, so that merging stays quick.
    by_key: HashMap<Key, usize>,
}

#[derive(Clone, PartialEq, Eq, Hash)]
struct Key {
    kind: u8,
    shape: Option<Shape>,
    width: Length,
    height: Length,
    turn: bool,
}

impl CutList {
    fn add(&mut self, purpose: Purpose, piece: &str, cut: Size, patches: i64, may_turn: bool) {
        self.add_cuts(purpose, piece, cut, patches, patches, may_turn);
    }

    /// `cuts` rectangles of a shape that is sewn in sets before it is cut
    /// apart; of others they are counted anew from the patches.
    fn add_cuts(&mut self, purpose: Purpose, piece: &str, cut: Size, patches: i64, cuts: i64, may_turn: bool) {
        let (kind, shape) = match &purpose {
            Purpose::Patch { shape, .. } => (0, Some(*shape)),
            Purpose::Sashing => (7, None),
            Purpose::Border => (8, None),
            Purpose::PlainPanel => (1, None),
            Purpose::Backing => (2, None),
            Purpose::Batting => (3, None),
            Purpose::StraightBinding => (4, None),
            Purpose::BiasRectangle => (5, None),
            Purpose::ContinuousSquare => (6, None),
        };
        let key = Key {
            kind,
            shape,
            width: cut.width,
            height: cut.height,
            turn: may_turn,
        };
        let count = |patches, cuts| match shape {
            Some(shape) if !shape.sewn_first() => cuts_for(patches, shape),
            _ => cuts,
        };
        let at = *self.by_key.entry(key).or_insert(self.lines.len());
        match self.lines.get_mut(at) {
            Some(line) => {
                line.patches = line.patches.saturating_add(patches);
                line.count = count(line.patches, line.count.saturating_add(cuts));
                if !piece.is_empty() && !line.pieces.iter().any(|p| p == piece) {
                    line.pieces.push(piece.into());
                }
                if let (Purpose::Patch { unit, .. }, Purpose::Patch { unit: more, .. }) = (&mut line.purpose, &purpose)
                    && !unit.split("; ").any(|u| u == more)
                {
                    unit.push_str("; ");
                    unit.push_str(more);
                }
            }
            None => self.lines.push(CutLine {
                purpose,
                pieces: if piece.is_empty() { vec![] } else { vec![piece.into()] },
                cut,
                count: count(patches, cuts),
                may_turn,
                patches,
                strips: None,
            }),
        }
    }

    fn needs(&mut self, field: &'static str) {
        if !self.fields.contains(&field) {
            self.fields.push(field);
        }
    }
}

/// What of a cloth could not be counted, in words: its figures would run short.
pub(super) fn not_counted(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    cloth: &str,
) -> Vec<String> {
    let mut missing = Vec::new();
    for (n, piece) in plan.pieces.iter().enumerate() {
        let name = called(&piece.name, &piece.id);
        let figures = pieces.iter().find(|(at, _)| *at == n).map(|(_, f)| f);
        if piece.face.as_ref().is_some_and(|f| f.cloths().any(|c| c == cloth))
            && figures.is_none_or(|f| f.panel.is_none())
        {
            missing.push(format!("the face of {name}"));
        }
        let Some(layers) = &piece.layers else { continue };
        if layers.batting.as_deref() == Some(cloth) && figures.is_none_or(|f| f.batting.is_none()) {
            missing.push(format!("the batting of {name}"));
        }
        if layers.backing.as_deref() == Some(cloth) && figures.is_none_or(|f| f.backing.is_none()) {
            missing.push(format!("the backing of {name}"));
        }
    }
    let binding_sound = checked.binding && checked.edges && checked.allowances.binding;
    if plan.binding.as_ref().is_some_and(|b| b.cloth == cloth) && !plan.edges.is_empty() && !binding_sound {
        missing.push("the binding".into());
    }
    missing
}

/// Every rectangle of `cloth`, if it were `width` wide. The problems are those
/// of cuts that cannot lie on it.
pub(super) fn cut_list(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    cloth: &Cloth,
    width: Length,
) -> Result<CutList, Vec<Problem>> {
    let mut list = CutList::default();
    let mut problems = Vec::new();
    for (n, figures) in pieces {
        let Some(piece) = plan.pieces.get(*n) else { continue };
        face(plan, &mut list, &mut problems, piece, figures, cloth, width);
    }
    for (n, figures) in pieces {
        let Some(layers) = plan.pieces.get(*n).and_then(|p| p.layers.as_ref()) else {
            continue;
        };
        for (layer, size, purpose) in [
            (&layers.batting, figures.batting, Purpose::Batting),
            (&layers.backing, figures.backing, Purpose::Backing),
        ] {
            if let Some(size) = size
                && layer.as_deref() == Some(&cloth.id)
            {
                under(
                    plan,
                    checked,
                    &mut list,
                    &mut problems,
                    figures,
                    cloth,
                    width,
                    size,
                    purpose,
                );
            }
        }
    }
    let from_remnants = binding::kept_for_it(plan, checked, cloth);
    if !from_remnants.is_empty() {
        let count: i64 = from_remnants.iter().map(|u| u.times).sum();
        list.working.push(format!(
            "The binding is cut from {count} of the remnants, which are kept for it: nothing of it is counted here."
        ));
    } else if plan.binding.as_ref().is_some_and(|b| b.cloth == cloth.id)
        && let Some(bound) = binding::work_out(plan, checked, width)
    {
        match bound {
            Err(problem) => problems.push(problem),
            Ok(bound) => {
                let strips: i64 = bound.strips.iter().map(|s| s.count).sum();
                let (purpose, cut, count, turn) = match bound.cut {
                    BindingCut::Straight => (
                        Purpose::StraightBinding,
                        Size {
                            width,
                            height: bound.strip_width,
                        },
                        strips,
                        false,
                    ),
                    BindingCut::BiasStrips => (Purpose::BiasRectangle, bound.rectangle, 1, false),
                    BindingCut::Continuous => (Purpose::ContinuousSquare, bound.rectangle, 1, !cloth.one_way),
                };
                list.add(purpose, "", cut, count, turn);
            }
        }
    }
    let cuts = list.lines.iter().map(|l| l.count).fold(0, i64::saturating_add);
    if cuts > limits::CUTS {
        problems.push(Problem {
            field: format!("cloths/{}", cloth.id),
            message: format!(
                "{cuts} rectangles would be cut from {}; {} are the most that can be laid out. Make the patches larger, or divide the project.",
                called(&cloth.name, &cloth.id),
                limits::CUTS
            ),
        });
    }
    if problems.is_empty() { Ok(list) } else { Err(problems) }
}

#[allow(clippy::too_many_arguments)]
fn under(
    plan: &Plan,
    checked: &Checked,
    list: &mut CutList,
    problems: &mut Vec<Problem>,
    figures: &PieceFigures,
    cloth: &Cloth,
    width: Length,
    size: Size,
    purpose: Purpose,
) {
    let unit = plan.unit;
    let what = if purpose == Purpose::Batting {
        "batting"
    } else {
        "backing"
    };
    let seam = plan.allowances.backing_seam;
    let fits = size.width <= width || (!cloth.one_way && size.height <= width);
    if !fits && !checked.allowances.backing_seam {
        problems.push(Problem {
            field: "allowances/backing_seam".into(),
            message: format!(
                "The {what} of {} must be joined from lengths, and the seam for it cannot be used. Type a seam such as 1/2 in.",
                figures.name
            ),
        });
        return;
    }
    let Some(Joined { parts, joins, up }) =
        joined(size, figures.count, width, seam, cloth.one_way).filter(|j| j.joins < MOST_LENGTHS)
    else {
        problems.push(Problem {
            field: format!("cloths/{}/usable_width", cloth.id),
            message: format!(
                "{} is {} wide, too narrow to be joined for the {what} of {}. Choose a wider cloth.",
                called(&cloth.name, &cloth.id),
                width.both(unit, Round::Down),
                figures.name
            ),
        });
        return;
    };
    if joins > 0 {
        list.needs("backing_seam");
        let sum: Vec<String> = parts
            .iter()
            .map(|(part, count, _)| format!("{count} × {}", part.width.cut_one(unit)))
            .collect();
        list.working.push(format!(
            "The {what} of {} ({} by {}) is wider than the cloth: join {} with {joins} {} {} it, {} on each side of a seam. {} − {} for seams = {}.",
            figures.name,
            size.width.both(unit, Round::Up),
            size.height.both(unit, Round::Up),
            if joins == 1 {
                "two lengths".to_string()
            } else {
                format!("{} lengths", joins + 1)
            },
            if joins == 1 { "seam" } else { "seams" },
            if up { "up" } else { "across" },
            seam.both(unit, Round::Nearest),
            sum.join(" + "),
            (seam * 2 * joins).cut_one(unit),
            if up { size.width } else { size.height }.cut_one(unit),
        ));
    }
    list.needs(if purpose == Purpose::Batting {
        "batting_overage"
    } else {
        "backing_overage"
    });
    let full_width = |part: Size| part.width == width;
    for (part, count, turn) in parts {
        // A part as wide as the cloth keeps its very width; others are cut by the ruler.
        let mark = coarse_mark(unit);
        let up = part.width.ceil_to(mark);
        let cut = Size {
            width: if full_width(part) || up > width { part.width } else { up },
            height: part.height.ceil_to(mark),
        };
        list.add(purpose.clone(), &figures.name, cut, count * figures.count, turn);
    }
}

/// Rectangles to cut for the faces and layers of all pieces, an upper bound
/// taken before anything is laid out.
pub(super) fn cuts_in_all(pieces: &[(usize, PieceFigures)]) -> i64 {
    pieces
        .iter()
        .map(|(_, f)| {
            let patches: i64 = f
                .panel
                .iter()
                .flat_map(|p| p.patches.iter().map(|c| c.cuts))
                .fold(0, i64::saturating_add);
            let strips = f.panel.iter().flat_map(|p| p.strips.iter().map(|s| s.count));
            let strips: i64 = strips.fold(0, i64::saturating_add);
            patches.saturating_add(strips).saturating_add(f.count * 3)
        })
        .fold(0, i64::saturating_add)
}
