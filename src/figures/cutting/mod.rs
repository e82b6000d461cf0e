//! How the cuts of a cloth come off what is at hand and off new cloth: all of
//! them as rectangles, or some pieces by the lay that was kept of them and the
//! rest as rectangles beyond it.
//!
//! - [`words`]: the working

mod words;

pub(super) use words::{Told, lay_step, working};

use super::cloth::deeper;
use super::cutlist::CutList;
use super::layout::{Job, Stocked, with_stock};
use super::{CutLine, ReadyCutFigures, ready_cut};
use crate::measure::Length;
use crate::plan::{Allowances, Cloth, Remnant};

/// One way to cut all of it. Every sheet of it can be drawn.
#[derive(Clone)]
pub(super) struct Cutting {
    /// As they are cut, besides what is taken from ready-cut patches.
    pub list: CutList,
    /// The lines with no more than is laid out as rectangles, in the same order.
    pub rest: Vec<CutLine>,
    pub ready_cut: Vec<ReadyCutFigures>,
    /// What the rest takes of an open length: by strips and subcuts alone, and
    /// by the layout that is kept to.
    pub strips_only: Length,
    pub whole: Length,
    pub stocked: Stocked,
    pub lay: Option<LaidOut>,
    /// Straightening included.
    pub from_owned: Length,
    pub from_bought: Length,
}

/// The lay in a way to cut.
#[derive(Clone, Debug)]
pub(super) struct LaidOut {
    /// Of each line, how many lie in it.
    pub laid: Vec<i64>,
    /// Of the cloth's width; nothing on remnants.
    pub length: Length,
    pub from: LaidFrom,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LaidFrom {
    Remnants,
    Owned,
    Bought,
}

impl Cutting {
    /// Everything as rectangles.
    pub fn as_rectangles(cloth: &Cloth, a: &Allowances, list: CutList, remnants: &[(usize, Remnant)]) -> Cutting {
        let (list, ready_cut) = served(cloth, list);
        let rest = list.lines.clone();
        let mut cutting = Cutting {
            list,
            rest,
            ready_cut,
            strips_only: Length::ZERO,
            whole: Length::ZERO,
            stocked: Stocked::default(),
            lay: None,
            from_owned: Length::ZERO,
            from_bought: Length::ZERO,
        };
        cutting.lay_out(cloth, a, remnants);
        cutting
    }

    /// With the lay, `rest` being what is cut besides. Of several places for it
    /// the one that leaves least to buy.
    pub fn with_lay(
        cloth: &Cloth,
        a: &Allowances,
        list: CutList,
        rest: &CutList,
        remnants: &[(usize, Remnant)],
        length: Length,
    ) -> Cutting {
        let (mut list, ready_cut) = served(cloth, list);
        // What is said of pieces that lie in the lay is said of it.
        list.working.clone_from(&rest.working);
        list.cautions.clone_from(&rest.cautions);
        list.fields.clone_from(&rest.fields);
        let laid: Vec<i64> = list.lines.iter().map(|line| line.count - beside(line, rest)).collect();
        let from = if length.is_positive() {
            LaidFrom::Bought
        } else {
            LaidFrom::Remnants
        };
        let mut lines = list.lines.clone();
        for (line, laid) in lines.iter_mut().zip(&laid) {
            // Only plain panels are laid: of these each is one patch.
            line.count -= laid;
            line.patches -= laid;
        }
        let mut cutting = Cutting {
            list,
            rest: lines,
            ready_cut,
            strips_only: Length::ZERO,
            whole: Length::ZERO,
            stocked: Stocked::default(),
            lay: Some(LaidOut { laid, length, from }),
            from_owned: Length::ZERO,
            from_bought: Length::ZERO,
        };
        if from == LaidFrom::Bought && cloth.owned >= length + a.straightening {
            let mut on_owned = cutting.clone();
            let left = Cloth {
                owned: cloth.owned - length,
                ..cloth.clone()
            };
            on_owned.lay_out(&left, a, remnants);
            on_owned.add(LaidFrom::Owned, length, a);
            cutting.lay_out(cloth, a, remnants);
            cutting.add(LaidFrom::Bought, length, a);
            return if on_owned.from_bought <= cutting.from_bought {
                on_owned
            } else {
                cutting
            };
        }
        cutting.lay_out(cloth, a, remnants);
        if from == LaidFrom::Bought {
            cutting.add(from, length, a);
        }
        cutting
    }

    /// The rest on what is at hand first.
    fn lay_out(&mut self, cloth: &Cloth, a: &Allowances, remnants: &[(usize, Remnant)]) {
        if self.lay.is_some() && self.rest.iter().all(|line| line.count <= 0) {
            return;
        }
        let job = Job::new(&self.rest, cloth.usable_width, a.straightening);
        let strips_only = job.least();
        let nested = deeper(&job, &strips_only, cloth, a);
        let whole = nested.as_ref().unwrap_or(&strips_only);
        let remnants: Vec<(usize, &Remnant)> = remnants.iter().map(|(at, r)| (*at, r)).collect();
        self.stocked = with_stock(&job, whole, &remnants, cloth.owned);
        self.strips_only = strips_only.length(a.straightening);
        self.whole = whole.length(a.straightening);
        self.from_owned = self.stocked.taken_from_owned();
        self.from_bought = self.stocked.taken_from_bought();
    }

    /// The lay on the same length as the strips, behind them: their last cut is
    /// its straight edge. Where there are none it is straightened itself.
    fn add(&mut self, from: LaidFrom, length: Length, a: &Allowances) {
        let of = match from {
            LaidFrom::Remnants => return,
            LaidFrom::Owned => &mut self.from_owned,
            LaidFrom::Bought => &mut self.from_bought,
        };
        *of += if of.is_positive() {
            length
        } else {
            length + a.straightening
        };
        if let Some(lay) = &mut self.lay {
            lay.from = from;
        }
    }

    /// How many of a line lie in the lay.
    pub fn laid(&self, line: usize) -> i64 {
        self.lay.as_ref().and_then(|l| l.laid.get(line)).copied().unwrap_or(0)
    }

    /// Length of the lay that is taken from here.
    pub fn lay_from(&self, from: LaidFrom) -> Length {
        match &self.lay {
            Some(lay) if lay.from == from => lay.length,
            _ => Length::ZERO,
        }
    }

    /// Rectangles laid out as such.
    pub fn rectangles(&self) -> i64 {
        self.rest.iter().map(|line| line.count).sum()
    }

    pub fn length(&self) -> Length {
        self.from_owned + self.from_bought
    }
}

/// The cut list without what ready-cut patches serve for.
fn served(cloth: &Cloth, mut list: CutList) -> (CutList, Vec<ReadyCutFigures>) {
    let ready_cut = ready_cut::take(cloth, &mut list.lines);
    (list, ready_cut)
}

/// How many of a line are cut besides the lay. Nothing but plain panels lies in one.
fn beside(line: &CutLine, rest: &CutList) -> i64 {
    if line.purpose != super::Purpose::PlainPanel {
        return line.count;
    }
    let same = |l: &&CutLine| l.purpose == line.purpose && l.cut == line.cut && l.may_turn == line.may_turn;
    rest.lines.iter().find(same).map_or(0, |l| l.count)
}
