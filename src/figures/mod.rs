//! The figures: a pure function of a plan. No database, no HTML, no clock.
//!
//! `work_out` never fails as a whole: what cannot be worked out is left out
//! and named in `problems`, so that one unreadable piece does not hide the
//! rest of the plan.
//!
//! In the order they are worked out:
//! - [`check`]: names, references and limits of the plan
//! - [`units`]: cut sizes of patches
//! - [`panel`]: from a piece to its panel and patches, batting and backing
//! - [`binding`]: from edges to strips and the cloth they are cut from
//! - [`joined`]: backing and batting wider than their cloth
//! - [`cutlist`]: every rectangle of one cloth
//! - [`ready_cut`]: patches in stock that serve for some of them
//! - [`layout`]: those rectangles on the cloth, strip by strip
//! - [`cloth`]: length, what to buy, cost
//! - [`widths`]: the same on other widths
//! - [`totals`]: the whole project
//!
//! Asked the other way:
//! - [`leftovers`]: what can be made of what is at hand
//!
//! From figures to words:
//! - [`effect`]: what a change of the plan changed in them
//! - [`text`]: all of them as plain text
//! - [`allowances`]: every allowance and its source

mod allowances;
pub mod binding;
mod check;
mod cloth;
mod cutlist;
mod effect;
pub mod joined;
mod layout;
mod leftovers;
mod panel;
mod ready_cut;
mod result;
mod text;
mod totals;
pub mod units;
mod widths;

pub use allowances::{AllowanceSource, allowance_sources};
pub use effect::{effect, summary};
pub use layout::{lay_out, lay_out_on};
pub use leftovers::{
    LargestPanel, PanelFromLeftovers, PanelWish, PieceFromLeftovers, RunsOut, largest_panel, pieces_from_leftovers,
};
pub use ready_cut::{ReadyCutFigures, ReadyCutUse};
pub use result::*;
pub use text::as_text;

use crate::plan::{Plan, limits};

/// All figures of a plan. Total: any plan value gives an answer.
pub fn work_out(plan: &Plan) -> Figures {
    let checked = check::check(plan);
    let mut problems = checked.problems.clone();
    let mut pieces = panel::pieces(plan, &checked, &mut problems);
    let cuts = cutlist::cuts_in_all(&pieces);
    if cuts > limits::CUTS {
        problems.push(too_many_cuts(cuts));
        // Their cloths would take too long to lay out, and without them run short.
        for (_, piece) in &mut pieces {
            piece.panel = None;
            piece.batting = None;
            piece.backing = None;
        }
    }
    let binding = plan
        .binding
        .as_ref()
        .and_then(|b| plan.cloths.iter().position(|c| c.id == b.cloth))
        .filter(|at| checked.cloths.get(*at).is_some_and(|sound| *sound))
        .and_then(|at| binding::work_out(plan, &checked, plan.cloths[at].usable_width))
        .and_then(Result::ok);
    let cloths = cloth::cloths(plan, &checked, &pieces, &mut problems);
    let pieces: Vec<PieceFigures> = pieces.into_iter().map(|(_, figures)| figures).collect();
    let totals = totals::totals(plan, &pieces, &cloths);
    Figures {
        unit: plan.unit,
        pieces,
        cloths,
        binding,
        totals,
        problems,
    }
}

/// What in the plan a figure cannot be worked out from. Lays out nothing, so
/// it is quick enough for every keystroke.
pub fn problems(plan: &Plan) -> Vec<Problem> {
    let checked = check::check(plan);
    let mut problems = checked.problems.clone();
    let pieces = panel::pieces(plan, &checked, &mut problems);
    let cuts = cutlist::cuts_in_all(&pieces);
    if cuts > limits::CUTS {
        problems.push(too_many_cuts(cuts));
        return problems;
    }
    if checked.allowances.straightening && checked.allowances.shop_step {
        for (cloth, sound) in plan.cloths.iter().zip(&checked.cloths) {
            if *sound && let Err(found) = cutlist::cut_list(plan, &checked, &pieces, cloth, cloth.usable_width) {
                problems.extend(found);
            }
        }
    }
    problems
}

fn too_many_cuts(cuts: i64) -> Problem {
    Problem {
        field: "pieces".into(),
        message: format!(
            "The plan takes {cuts} rectangles to cut; {} are the most that can be laid out. Make the finished sizes larger, or divide it into two projects.",
            limits::CUTS
        ),
    }
}
