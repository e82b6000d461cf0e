//! What the lay that is kept of a cloth does for what is bought of it: nothing,
//! where it no longer holds; else the shorter of all cuts as rectangles, and the
//! lay with the rest as rectangles.

use super::PieceFigures;
use super::binding::{RemnantUse, remnants_left};
use super::check::Checked;
use super::cloth::{none_owned, to_ask_for};
use super::cutlist::{CutList, cut_list};
use super::cutting::Cutting;
use super::lay::{HeldLay, held, pieces_on};
use super::outline::AtHand;
use crate::measure::{Length, Round, Unit};
use crate::plan::{Allowances, Cloth, Plan, Remnant};
use serde::Serialize;

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct KeptLayFigures {
    pub state: LayState,
    /// Which of the two ways it is and both lengths, or why it holds no longer
    /// and what to do: one or two sentences.
    pub told: String,
    /// Length of the cloth's width it takes; nothing on remnants.
    pub length: Length,
    /// How many copies are laid, on doubled cloth two at once.
    pub placed: usize,
    /// To buy with the lay, where it holds, and with all as rectangles.
    pub to_buy_with: Option<Length>,
    pub to_buy_without: Length,
    /// With nothing at hand; only where it is used and lies on cloth from the bolt.
    pub to_buy_if_none_owned: Option<Length>,
    /// Where it is used: of each line of the cut list, how many lie in it.
    pub laid: Vec<i64>,
    /// Where it is used: of each kind of remnant, rectangles first, how many it takes.
    pub remnants: Vec<LaidRemnant>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LayState {
    /// What is bought follows from it.
    Used,
    /// It holds, and cutting rectangles takes less.
    NotShorter,
    /// The plan changed: it is not counted on.
    NoLongerHolds,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct LaidRemnant {
    /// Index into the plan's remnants of the cloth; those with an outline are
    /// counted on after these.
    pub kind: usize,
    pub count: u32,
}

/// What is known of a cloth when the lay is asked about.
pub(super) struct Asked<'a> {
    pub plan: &'a Plan,
    pub checked: &'a Checked,
    pub pieces: &'a [(usize, PieceFigures)],
    pub cloth: &'a Cloth,
    /// The whole cut list.
    pub list: &'a CutList,
    pub at_hand: &'a AtHand,
    pub for_binding: &'a [RemnantUse],
    pub as_rectangles: &'a Cutting,
}

/// The figures of the kept lay, and the way to cut by it where that is taken.
pub(super) fn kept_lay(asked: &Asked) -> Option<(KeptLayFigures, Option<Cutting>)> {
    let lay = asked.plan.lay(&asked.cloth.id)?;
    let (a, cloth, unit) = (&asked.plan.allowances, asked.cloth, asked.plan.unit);
    let ask_for = |length: Length| to_ask_for(length, cloth.shrinkage, a.shop_step);
    let without = ask_for(asked.as_rectangles.from_bought);
    let nothing = KeptLayFigures {
        state: LayState::NoLongerHolds,
        told: String::new(),
        length: Length::ZERO,
        placed: lay.copies.len(),
        to_buy_with: None,
        to_buy_without: without,
        to_buy_if_none_owned: None,
        laid: Vec::new(),
        remnants: Vec::new(),
    };
    let found = held(asked.plan, pieces_on(asked.plan, asked.pieces, &cloth.id), cloth, lay)
        .and_then(|held| Ok((remnants_beside(asked, &held)?, held)))
        .and_then(|(remnants, held)| Ok((rest_of(asked, &lay.pieces)?, remnants, held)));
    let (rest, remnants, held) = match found {
        Ok(found) => found,
        Err(why) => {
            let told = format!("The kept lay is not counted on any more. {why} Lay the pieces again, or take it out.");
            return Some((KeptLayFigures { told, ..nothing }, None));
        }
    };
    let length = held.answer().length;
    let cutting = Cutting::with_lay(cloth, a, asked.list.clone(), &rest, &remnants, length);
    let with = ask_for(cutting.from_bought);
    let rank = |to_buy: Length, cutting: &Cutting| (to_buy, cutting.length());
    let used = rank(with, &cutting) <= rank(without, asked.as_rectangles);
    let both = |length: Length| bought_words(length, unit);
    let holds = KeptLayFigures {
        length,
        to_buy_with: Some(with),
        ..nothing
    };
    if !used {
        let told = if with == without {
            format!(
                "The kept lay holds, but is not used: with it {} would be cut from, as rectangles {}; to buy it is {} either way.",
                cutting.length().both(unit, Round::Up),
                asked.as_rectangles.length().both(unit, Round::Up),
                both(with)
            )
        } else {
            format!(
                "The kept lay holds, but is not used: with it {} is to buy, with all as rectangles {}.",
                both(with),
                both(without)
            )
        };
        let state = LayState::NotShorter;
        return Some((KeptLayFigures { state, told, ..holds }, None));
    }
    // On remnants, and where some are kept for the binding, nothing at hand means
    // another way to cut: that of rectangles is told.
    let alone = (length.is_positive() && asked.for_binding.is_empty()).then(|| {
        let beside = if rest.lines.is_empty() {
            Length::ZERO
        } else {
            none_owned(&rest.lines, cloth, a)
        };
        ask_for(together(beside, length, a)).max(with)
    });
    let told = format!(
        "The kept lay holds and is used: with it {} is to buy, with all as rectangles {}.",
        both(with),
        both(without)
    );
    let figures = KeptLayFigures {
        state: LayState::Used,
        told,
        to_buy_if_none_owned: alone,
        laid: (0..cutting.list.lines.len()).map(|line| cutting.laid(line)).collect(),
        remnants: held
            .remnants()
            .into_iter()
            .map(|(kind, count)| LaidRemnant { kind, count })
            .collect(),
        ..holds
    };
    Some((figures, Some(cutting)))
}

/// Behind the strips, whose last cut is its straight edge, or alone.
fn together(beside: Length, length: Length, a: &Allowances) -> Length {
    if beside.is_positive() {
        beside + length
    } else {
        length + a.straightening
    }
}

fn bought_words(length: Length, unit: Unit) -> String {
    if length.is_positive() {
        length.both_cloth(unit, Round::Up)
    } else {
        "nothing".into()
    }
}

/// What is cut besides the pieces that are laid.
fn rest_of(asked: &Asked, laid: &[String]) -> Result<CutList, String> {
    let mut pieces = asked.pieces.to_vec();
    for (_, figures) in pieces.iter_mut().filter(|(_, f)| laid.contains(&f.piece)) {
        figures.panel = None;
    }
    let width = asked.cloth.usable_width;
    cut_list(asked.plan, asked.checked, &pieces, asked.cloth, width)
        .map_err(|_| "What else is cut from this cloth cannot be worked out.".into())
}

/// The remnants that are left for the rest. Refused where the lay and the
/// binding would be cut from the same.
fn remnants_beside(asked: &Asked, held: &HeldLay) -> Result<Vec<(usize, Remnant)>, String> {
    let mut left = remnants_left(asked.at_hand, asked.for_binding);
    let own = asked.cloth.remnants.len();
    for (kind, count) in held.remnants() {
        // All rectangles of an outline go with it.
        let of_it = |at: usize| match asked.at_hand.part(at) {
            Some(part) => own + part.outlined == kind,
            None => at == kind,
        };
        for at in (0..asked.at_hand.all().len()).filter(|at| of_it(*at)) {
            match left.iter_mut().find(|(place, _)| *place == at) {
                Some((_, remnant)) if remnant.count >= count => remnant.count -= count,
                _ if asked.for_binding.iter().any(|used| used.remnant == at) => {
                    return Err("The binding is cut from a remnant that it needs.".into());
                }
                _ => return Err("A remnant it lies on cannot be cut from as it is entered.".into()),
            }
        }
    }
    left.retain(|(_, remnant)| remnant.count > 0);
    Ok(left)
}

impl super::ClothFigures {
    /// The lay, where what is bought follows from it.
    pub fn used_lay(&self) -> Option<&KeptLayFigures> {
        self.lay.as_ref().filter(|lay| lay.state == LayState::Used)
    }

    /// How many of a line of the cut list lie in the kept lay, and not in the layout.
    pub fn laid(&self, line: usize) -> i64 {
        let lay = self.used_lay();
        lay.and_then(|lay| lay.laid.get(line)).copied().unwrap_or(0)
    }

    /// To buy with nothing at hand by someone who has the lay.
    pub fn to_buy_bare(&self) -> Length {
        let with = self.used_lay().and_then(|lay| lay.to_buy_if_none_owned);
        self.to_buy_if_none_owned.min(with.unwrap_or(self.to_buy_if_none_owned))
    }
}
