//! The figures: a pure function of a plan. No database, no HTML, no clock.
//!
//! `work_out` never fails as a whole: what cannot be worked out is left out
//! and named in `problems`, so that one unreadable piece does not hide the
//! rest of the plan.
//!
//! A plan's outlines are settled first ([`crate::drafting::settled`]), so that
//! sizes of drafted pieces are never stale.
//!
//! In the order they are worked out:
//! - [`check`]: names, references and limits of the plan
//! - [`units`]: cut sizes of patches
//! - [`panel`]: from a piece to its panel and patches, batting and backing
//! - [`take_up`]: what quilting draws in
//! - [`quilting`]: its lines on the panel
//! - [`binding`]: from edges to strips and the cloth they are cut from
//! - [`batting`]: packages it is sold in
//! - [`joined`]: backing and batting wider than their cloth
//! - [`cutlist`]: every rectangle of one cloth
//! - [`ready_cut`]: patches in stock that serve for some of them
//! - [`outline`]: remnants that are no rectangles, as rectangles inside them
//! - [`layout`]: those rectangles on the cloth, strip by strip
//! - [`cutting`]: all of them as rectangles, or some by a kept lay and the rest beyond it
//! - [`kept_lay`]: what the lay that is kept of a cloth does for what is bought
//! - [`cloth`]: length, what to buy, cost
//! - [`widths`]: the same on other widths
//! - [`closures`]: where buttons and snaps sit, overlap, buttonholes
//! - [`thread`]: seams by stitch, waste, spools
//! - [`sizing`]: the wearer against a pattern's size table, ease
//! - [`care`]: the mildest treatment all materials bear
//! - [`cost`]: what is to be spent, what it is worth
//! - [`time`]: amounts of work, and how long they take
//! - [`steps`]: the list of steps it begins with, and what each takes
//! - [`totals`]: the whole project
//!
//! Asked the other way:
//! - [`leftovers`]: what can be made of what is at hand
//! - [`measured`]: measures over time, and what newer ones mean for the size
//! - [`lay`]: the outlines of pieces laid on their cloth
//! - [`shopping`]: what several plans together still want to be bought
//! - [`uses`]: what a plan takes of a cloth, and what that leaves over
//!
//! Beside the figures:
//! - [`contrast`]: how light the cloths are, and which neighbours hardly differ
//! - [`pressing`]: which of a patchwork's cloths are darker
//!
//! From figures to words:
//! - [`effect`]: what a change of the plan changed in them
//! - [`text`]: all of them as plain text
//! - [`allowances`]: every allowance and its source

mod allowances;
pub mod batting;
pub mod binding;
pub mod care;
mod check;
pub mod closures;
mod cloth;
pub mod contrast;
mod cost;
mod cutlist;
mod cutting;
mod effect;
pub mod joined;
mod kept_lay;
pub mod lay;
mod layout;
mod leftovers;
pub mod measured;
mod outline;
mod panel;
mod pressing;
pub mod quilting;
mod ready_cut;
mod result;
pub mod shopping;
pub mod sizing;
pub mod steps;
pub mod take_up;
mod text;
pub mod thread;
pub mod time;
mod totals;
pub mod units;
mod uses;
mod widths;

pub use allowances::{AllowanceSource, allowance_sources};
pub use batting::{BattingFigures, Packages};
pub use binding::{BiasPiece, BindingWay, FromRemnants, FromRemnantsWay, NoWay, Point, RemnantUse, RemnantYield};
pub use care::{CareFigures, CareLine};
pub use closures::ClosureFigures;
pub use contrast::{ClothLightness, ClothPair, Contrast, contrast, in_lightness_only};
pub use cost::{CostFigures, CostKind, CostLine};
pub use effect::{Cell, Row, beside, effect, summary};
pub use kept_lay::{KeptLayFigures, LaidRemnant, LayState};
pub use layout::{lay_out, lay_out_on};
pub use leftovers::{
    LargestPanel, PanelFromLeftovers, PanelWish, PieceFromLeftovers, RunsOut, largest_panel, pieces_from_leftovers,
};
pub use outline::{OutlineCorner, OutlineFigures, outline, outline_words};
pub use pressing::dark_to_light;
pub use quilting::{EdgePoint, GuideLine, LineSet, LineWay, PanelEdge, PieceQuilting, QuiltingFigures};
pub use ready_cut::{ReadyCutFigures, ReadyCutUse};
pub use result::*;
pub use shopping::{ClothToBuy, ShopList, ThingKind, ThingToBuy, Together, Wanting, shop_list};
pub use sizing::{SizeFit, SizePlace, SizingFigures};
pub use text::{as_text, leftovers_as_text};
pub use thread::{SeamThread, Sewn, StitchThread, ThreadFigures};
pub use uses::{ClothUse, LeftOver, ReadyUsed, RemnantUsed, cloth_use};
pub use widths::to_buy_on;

use crate::drafting::{Settled, settled};
use crate::plan::{Plan, limits};

/// All figures of a plan. Total: any plan value gives an answer.
pub fn work_out(plan: &Plan) -> Figures {
    let settled = settled(plan);
    let plan = &*settled.plan;
    let Parts {
        checked,
        mut problems,
        pieces,
        quilting,
        closures,
        mut binding,
    } = parts(&settled);
    let amounts = time::amounts(plan, &checked, &pieces, &quilting, &closures, binding.as_ref());
    let batting = batting::battings(plan, &checked, &pieces);
    let cloths = cloth::cloths(plan, &checked, &pieces, &mut problems);
    if let Some(binding) = &mut binding {
        binding.saving = cloth::saved_by_remnants(plan, &checked, &pieces, &cloths);
    }
    let pieces: Vec<PieceFigures> = pieces.into_iter().map(|(_, figures)| figures).collect();
    let thread = thread::thread(plan, &checked, &pieces, &quilting, binding.as_ref());
    let sizing = sizing::sizing(plan, &checked);
    let care = care::care(plan);
    let cost = cost::cost(plan, &cloths, binding.as_ref(), &closures, thread.as_ref());
    let time = time::reckoned(plan, amounts, &time::Paces::of(&[]), &[], &[], None);
    let totals = totals::totals(plan, &pieces, &cloths);
    Figures {
        unit: plan.unit,
        pieces,
        cloths,
        binding,
        closures,
        thread,
        sizing,
        care,
        cost,
        quilting,
        batting,
        time,
        totals,
        problems,
    }
}

/// What is worked out before any cloth is laid out.
struct Parts {
    checked: check::Checked,
    problems: Vec<Problem>,
    /// Beside their place in the plan.
    pieces: Vec<(usize, PieceFigures)>,
    quilting: QuiltingFigures,
    closures: Vec<ClosureFigures>,
    binding: Option<BindingFigures>,
}

fn parts(settled: &Settled) -> Parts {
    let plan = &*settled.plan;
    let checked = check::check(settled);
    let mut problems = checked.problems.clone();
    let mut pieces = panel::pieces(plan, &checked, &mut problems);
    let quilting = quilting::quilting(plan, &checked, &pieces, &mut problems);
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
        .and_then(|at| binding::whole(plan, &checked, &plan.cloths[at]));
    let closures = closures::closures(plan, &checked);
    Parts {
        checked,
        problems,
        pieces,
        quilting,
        closures,
        binding,
    }
}

/// What in the plan a figure cannot be worked out from. Lays out nothing, so
/// it is quick enough for every keystroke.
pub fn problems(plan: &Plan) -> Vec<Problem> {
    let settled = settled(plan);
    let plan = &*settled.plan;
    let checked = check::check(&settled);
    let mut problems = checked.problems.clone();
    let pieces = panel::pieces(plan, &checked, &mut problems);
    quilting::quilting(plan, &checked, &pieces, &mut problems);
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
