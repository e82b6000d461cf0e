//! How much of each kind of work a plan holds.

use crate::figures::check::Checked;
use crate::figures::{
    BindingFigures, ClosureFigures, CutLine, Parts, PieceFigures, Purpose, QuiltingFigures, cutlist, parts,
};
use crate::measure::{Length, Round, Unit};
use crate::plan::{Plan, Stitch, Work};
use serde::Serialize;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Amount {
    Count(i64),
    Along(Length),
}

impl Amount {
    /// For arithmetic: a count, or 1/640 mm.
    pub(super) fn units(self) -> i64 {
        match self {
            Amount::Count(n) => n,
            Amount::Along(length) => length.units(),
        }
    }

    pub fn is_some_work(self) -> bool {
        self.units() > 0
    }

    /// `48`, `5 1/2 yd (5.03 m)`.
    pub fn words(self, unit: Unit) -> String {
        match self {
            Amount::Count(n) => n.to_string(),
            Amount::Along(length) => length.both_cloth(unit, Round::Up),
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkAmount {
    pub work: Work,
    pub amount: Amount,
    /// What is counted: "patches", "of binding sewn down".
    pub of: String,
}

/// The amounts of a plan, without laying anything out: quick enough to ask of
/// every past project.
pub fn work_amounts(plan: &Plan) -> Vec<WorkAmount> {
    let settled = crate::drafting::settled(plan);
    let plan = &*settled.plan;
    let Parts {
        checked,
        pieces,
        quilting,
        closures,
        binding,
        ..
    } = parts(&settled);
    amounts(plan, &checked, &pieces, &quilting, &closures, binding.as_ref())
}

/// Patches to cut from all cloths.
fn to_cut(plan: &Plan, checked: &Checked, pieces: &[(usize, PieceFigures)]) -> i64 {
    let mut patches: i64 = 0;
    for (cloth, sound) in plan.cloths.iter().zip(&checked.cloths) {
        if *sound && let Ok(list) = cutlist::cut_list(plan, checked, pieces, cloth, cloth.usable_width) {
            let of_patches = |line: &&CutLine| matches!(line.purpose, Purpose::Patch { .. });
            for line in list.lines.iter().filter(of_patches) {
                patches = patches.saturating_add(line.patches);
            }
        }
    }
    patches
}

pub(in crate::figures) fn amounts(
    plan: &Plan,
    checked: &Checked,
    pieces: &[(usize, PieceFigures)],
    quilting: &QuiltingFigures,
    closures: &[ClosureFigures],
    binding: Option<&BindingFigures>,
) -> Vec<WorkAmount> {
    let cut = to_cut(plan, checked, pieces);
    let figures = || pieces.iter().map(|(_, figures)| figures);
    let sewn = figures().flat_map(|p| &p.panel).flat_map(|p| &p.patches);
    let sewn = sewn.map(|p| p.patches).fold(0, i64::saturating_add);
    let quilted = |p: &&PieceFigures| p.batting.is_some() || p.backing.is_some();
    let layered = figures().filter(quilted).map(|p| p.count).sum();
    let count = figures().map(|p| p.count).sum();
    let closures = closures.iter().map(|c| c.count).fold(0, i64::saturating_add);
    let (hand, of_hand) = by_hand(plan, binding);
    let all = [
        (Work::Cut, Amount::Count(cut), "patches"),
        (Work::Piece, Amount::Count(sewn), "patches"),
        (Work::Press, Amount::Count(sewn), "patches"),
        (Work::Layer, Amount::Count(layered), "quilted panels"),
        (Work::Quilt, Amount::Along(quilting.total), "of quilting lines"),
        (Work::Shape, Amount::Count(count), "pieces"),
        (Work::Assemble, Amount::Count(count), "pieces"),
        (
            Work::Bind,
            Amount::Along(binding.map_or(Length::ZERO, |b| b.total)),
            "of binding made and sewn on",
        ),
        (Work::HandSew, Amount::Along(hand), of_hand),
        (Work::Close, Amount::Count(closures), "closures"),
    ];
    all.into_iter()
        .filter(|(_, amount, _)| amount.is_some_work())
        .map(|(work, amount, of)| WorkAmount {
            work,
            amount,
            of: counted(amount, of).into(),
        })
        .collect()
}

/// One of them is one: "1 closure".
fn counted(amount: Amount, many: &str) -> &str {
    match (amount, many) {
        (Amount::Count(1), "patches") => "patch",
        (Amount::Count(1), many) => many.trim_end_matches('s'),
        (_, many) => many,
    }
}

/// Binding sewn down the second time, and the seams that are said to be sewn
/// by hand.
fn by_hand(plan: &Plan, binding: Option<&BindingFigures>) -> (Length, &'static str) {
    let thread = plan.thread.clone().unwrap_or_default();
    let down = binding
        .filter(|_| thread.binding == Stitch::Hand)
        .map_or(0, |b| b.edges.units());
    let seams = plan
        .seams
        .iter()
        .filter(|s| s.stitch == Stitch::Hand && s.length.is_positive() && s.length <= Length::MAX)
        .map(|s| s.length.units().saturating_mul(i64::from(s.count)))
        .fold(0, i64::saturating_add);
    let of = match (down > 0, seams > 0) {
        (true, true) => "of binding sewn down and of hand-sewn seams",
        (true, false) => "of binding sewn down",
        _ => "of hand-sewn seams",
    };
    (Length::from_units(down.saturating_add(seams)), of)
}
