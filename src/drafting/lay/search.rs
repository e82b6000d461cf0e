//! The search: a first answer by sliding, then ever shorter ones by cutting the
//! strip shorter and untangling what that pushes together.
//!
//! It has no clock. The caller gives it steps (one step is one place looked at)
//! and gets the same layouts for the same seed and steps on any day.

use super::layout::{Layout, Spot};
use super::prepared::{Field, Prepared};
use super::problem::{Problem, ProblemError};
use super::proof::{self, Proof};
use super::repair;
use super::slide::{Aim, Slide};
use super::tangle::Tangle;
use fastrand::Rng;

/// Rounds without a noticeably better state before a length is given up.
const PATIENCE: u32 = 100;
/// Of so few copies the order matters most: two change places for every length
/// that is not reached at first.
const FEW: usize = 16;
/// How much shorter the strip is cut at first, and at last.
const FIRST_CUT: f64 = 0.02;
const LAST_CUT: f64 = 0.0005;
/// States kept of a length that was not reached.
const POOL: usize = 8;

/// How far a search has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// It may still find a layout, or a better one.
    Looking,
    /// No layout can be better than the one it has. Remnants have no better or worse.
    Best,
    /// There is no layout; `Search::proof` says why.
    Impossible,
}

pub struct Search {
    pub(super) prepared: Prepared,
    rng: Rng,
    steps: u64,
    best: Option<Layout>,
    least: f64,
    phase: Phase,
    proof: Option<Proof>,
}

enum Phase {
    Slide {
        slide: Slide,
        turn: usize,
    },
    /// On remnants, when sliding found no layout: on which of them each kind
    /// of piece has a place alone, as far as it was asked.
    Prove {
        places: Vec<Vec<usize>>,
        remnant: usize,
        left: Vec<Option<Spot>>,
    },
    Untangle(Box<Untangle>),
    Over,
}

struct Untangle {
    tangle: Tangle,
    /// The least tangled state seen at this length.
    least: (f64, Tangle),
    cut: f64,
    rounds: u32,
    /// Whether it began with two copies in each other's places.
    swapped: bool,
    /// States of this length that were given up, the least tangled first.
    pool: Vec<(f64, Vec<Spot>)>,
}

/// What of a copy says how early it is laid.
type Size = fn(&Prepared, usize) -> f64;

/// The ways to begin: what comes first, and what makes a place good.
const BEGINNINGS: [(Size, Aim); 3] = [(by_length, Aim::Middle), (by_area, Aim::End), (by_area, Aim::Start)];
/// How many of them a strip begins with; remnants take all until one fills them.
const STRIP_BEGINNINGS: usize = 2;

fn by_area(prepared: &Prepared, at: usize) -> f64 {
    prepared.kind(at).area
}

fn by_length(prepared: &Prepared, at: usize) -> f64 {
    let way = &prepared.kind(at).ways[0];
    way.width.hypot(way.height)
}

impl Search {
    pub fn new(problem: &Problem, seed: u64) -> Result<Search, ProblemError> {
        let prepared = Prepared::new(problem)?;
        let proof = proof::at_a_glance(&prepared);
        let phase = match proof {
            Some(_) => Phase::Over,
            None => Phase::Slide {
                slide: begin(&prepared, 0),
                turn: 0,
            },
        };
        let least = prepared.least_length();
        Ok(Search {
            prepared,
            rng: Rng::with_seed(seed),
            steps: 0,
            best: None,
            least,
            phase,
            proof,
        })
    }

    /// The best layout so far.
    pub fn best(&self) -> Option<&Layout> {
        self.best.as_ref()
    }

    pub fn steps(&self) -> u64 {
        self.steps
    }

    /// No layout on cloth from the bolt can be shorter than this, in millimetres.
    pub fn least_length(&self) -> f64 {
        self.least
    }

    pub fn state(&self) -> State {
        match (&self.phase, &self.proof) {
            (Phase::Over, Some(_)) => State::Impossible,
            (Phase::Over, None) => State::Best,
            _ => State::Looking,
        }
    }

    /// Why there is no layout, if that is proven.
    pub fn proof(&self) -> Option<&Proof> {
        self.proof.as_ref()
    }

    /// Takes a layout that another search of the same problem found, if it is
    /// better than its own; it is checked as any other.
    pub fn adopt(&mut self, layout: &Layout) {
        let better = self.best.as_ref().is_none_or(|best| layout.length < best.length);
        let ours = layout.spots.len() == self.prepared.copies.len()
            && (layout.spots.iter().enumerate()).all(|(at, s)| s.way < self.prepared.kind(at).ways.len());
        if better && ours && self.offer(&layout.spots) {
            if self.is_over() {
                self.phase = Phase::Over;
            } else if matches!(self.phase, Phase::Untangle(_)) {
                self.phase = Phase::Untangle(Box::new(self.cut(FIRST_CUT / 4.0)));
            }
        }
    }

    /// Looks on for about this many steps, or until no better layout can be.
    pub fn step(&mut self, budget: u64) -> State {
        let until = self.steps.saturating_add(budget);
        while self.steps < until && !matches!(self.phase, Phase::Over) {
            self.advance();
        }
        self.state()
    }

    /// Whether it still lays pieces one by one, or asks for proofs.
    pub fn is_beginning(&self) -> bool {
        matches!(self.phase, Phase::Slide { .. } | Phase::Prove { .. })
    }

    /// Looks until there is a first layout, of cloth from the bolt always; on
    /// remnants until all ways to begin are tried.
    pub fn first(&mut self) -> Option<&Layout> {
        while self.best.is_none() && matches!(self.phase, Phase::Slide { .. }) {
            self.advance();
        }
        self.best()
    }

    fn advance(&mut self) {
        let phase = std::mem::replace(&mut self.phase, Phase::Over);
        self.phase = match phase {
            Phase::Slide { slide, turn } => self.slide(slide, turn),
            Phase::Prove { places, remnant, left } => self.prove(places, remnant, left),
            Phase::Untangle(untangle) => self.untangle(untangle),
            Phase::Over => Phase::Over,
        };
    }

    fn slide(&mut self, mut slide: Slide, turn: usize) -> Phase {
        self.steps += 100;
        if slide.lay_next(&self.prepared) {
            return Phase::Slide { slide, turn };
        }
        let whole: Option<Vec<Spot>> = slide.spots.iter().copied().collect();
        if let Some(spots) = &whole {
            self.offer(spots);
        }
        if self.is_over() {
            return Phase::Over;
        }
        let strip = matches!(self.prepared.field, Field::Strip { .. });
        let turns = if strip { STRIP_BEGINNINGS } else { BEGINNINGS.len() };
        if turn + 1 < turns {
            let slide = begin(&self.prepared, turn + 1);
            return Phase::Slide { slide, turn: turn + 1 };
        }
        if strip {
            // On the bolt every piece that is not too wide has a place.
            return if self.best.is_some() {
                Phase::Untangle(Box::new(self.cut(FIRST_CUT)))
            } else {
                Phase::Over
            };
        }
        Phase::Prove {
            places: vec![Vec::new()],
            remnant: 0,
            left: slide.spots,
        }
    }

    /// One kind of piece on one remnant.
    fn prove(&mut self, mut places: Vec<Vec<usize>>, remnant: usize, left: Vec<Option<Spot>>) -> Phase {
        let Field::Remnants(list) = &self.prepared.field else {
            return Phase::Over;
        };
        let asked = places.len() - 1;
        let Some(kind) = self.prepared.kinds.get(asked) else {
            places.pop();
            self.proof = proof::conclude(&self.prepared, &places);
            return match self.proof {
                Some(_) => Phase::Over,
                None => Phase::Untangle(Box::new(self.strewn(left))),
            };
        };
        let Some(on) = list.get(remnant) else {
            places.push(Vec::new());
            return Phase::Prove {
                places,
                remnant: 0,
                left,
            };
        };
        let has = match on.like {
            Some(like) => places[asked].contains(&like),
            None => {
                let (has, work) = proof::has_place(kind, on);
                self.steps += work;
                has
            }
        };
        if has {
            places[asked].push(remnant);
        }
        Phase::Prove {
            places,
            remnant: remnant + 1,
            left,
        }
    }

    /// Takes a layout if it is better than the best; false if it fails the check.
    fn offer(&mut self, spots: &[Spot]) -> bool {
        if !super::check::holds(&self.prepared, spots) {
            return false;
        }
        let layout = self.prepared.layout(spots);
        if self.best.as_ref().is_none_or(|best| layout.length < best.length) {
            self.best = Some(layout);
        }
        true
    }

    fn is_over(&self) -> bool {
        match (&self.prepared.field, &self.best) {
            (Field::Remnants(_), best) => best.is_some(),
            (Field::Strip { .. }, Some(best)) => best.length <= self.least * (1.0 + 1e-6) + 1e-3,
            _ => false,
        }
    }

    /// The best layout pushed together at a random line into a strip that is
    /// shorter by this part.
    fn cut(&mut self, cut: f64) -> Untangle {
        let mut spots = self.best.as_ref().expect("a layout to cut").spots.clone();
        let end = self.prepared.end(&spots);
        let length = (end * (1.0 - cut)).max(self.least);
        let line = self.rng.f64() * end;
        for (at, spot) in spots.iter_mut().enumerate() {
            let way = &self.prepared.kind(at).ways[spot.way];
            if spot.x + way.width / 2.0 > line {
                spot.x -= end - length;
            }
        }
        let tangle = Tangle::new(&self.prepared, spots, length);
        Untangle::new(tangle, cut)
    }

    /// On remnants: what the slide found no place for is strewn over them.
    fn strewn(&mut self, spots: Vec<Option<Spot>>) -> Untangle {
        let spots = spots
            .iter()
            .enumerate()
            .map(|(at, spot)| spot.unwrap_or_else(|| repair::anywhere(&self.prepared, at, &mut self.rng)))
            .collect();
        Untangle::new(Tangle::new(&self.prepared, spots, 0.0), 0.0)
    }

    fn untangle(&mut self, mut u: Box<Untangle>) -> Phase {
        self.steps += 1;
        if u.tangle.total() > 0.0 {
            repair::round(&self.prepared, &mut u.tangle, &mut self.rng, &mut self.steps);
        }
        let total = u.tangle.total();
        if total == 0.0 {
            let sound = self.offer(&u.tangle.spots);
            if self.is_over() {
                return Phase::Over;
            }
            if sound {
                return Phase::Untangle(Box::new(self.cut(u.cut)));
            }
            // Untangled by the search's eyes, not by those of the check: from anew.
            return self.give_up(u);
        }
        if total < u.least.0 {
            // A step worth waiting for is a noticeable one.
            if total < 0.98 * u.least.0 {
                u.rounds = 0;
            }
            u.least = (total, u.tangle.clone());
        }
        u.rounds += 1;
        if u.rounds < PATIENCE {
            return Phase::Untangle(u);
        }
        self.give_up(u)
    }

    /// A length that was not reached: try another beginning for it, or a
    /// smaller cut.
    fn give_up(&mut self, mut u: Box<Untangle>) -> Phase {
        let total = u.least.0;
        let place = u.pool.partition_point(|(t, _)| *t <= total);
        u.pool.insert(place, (total, u.least.1.spots.clone()));
        u.pool.truncate(POOL);
        let strip = matches!(self.prepared.field, Field::Strip { .. });
        if strip && (u.swapped || self.prepared.copies.len() > FEW) {
            if u.cut > LAST_CUT {
                return Phase::Untangle(Box::new(self.cut((u.cut / 2.0).max(LAST_CUT))));
            }
            // Not even the smallest cut: from the largest again, two in each other's places.
            let next = self.cut(FIRST_CUT);
            return Phase::Untangle(Box::new(self.swapped(
                &next.tangle.spots,
                next.tangle.length,
                FIRST_CUT,
            )));
        }
        // The less tangled, the likelier.
        let chosen = (self.rng.f64() * self.rng.f64() * u.pool.len() as f64) as usize;
        let mut next = self.swapped(&u.pool[chosen].1, u.tangle.length, u.cut);
        next.pool = u.pool;
        Phase::Untangle(Box::new(next))
    }

    /// With two copies in each other's places.
    fn swapped(&mut self, spots: &[Spot], length: f64, cut: f64) -> Untangle {
        let mut spots = spots.to_vec();
        repair::swap_two(&self.prepared, &mut spots, &mut self.rng);
        let mut next = Untangle::new(Tangle::new(&self.prepared, spots, length), cut);
        next.swapped = true;
        next
    }
}

impl Untangle {
    fn new(tangle: Tangle, cut: f64) -> Untangle {
        Untangle {
            least: (tangle.total(), tangle.clone()),
            tangle,
            cut,
            rounds: 0,
            swapped: false,
            pool: Vec::new(),
        }
    }
}

fn begin(prepared: &Prepared, turn: usize) -> Slide {
    let (size, aim) = BEGINNINGS[turn];
    let mut order: Vec<usize> = (0..prepared.copies.len()).collect();
    // Pieces on the fold have one place only: they come first.
    order.sort_by(|a, b| {
        let pinned = |at: usize| prepared.kind(at).pinned;
        (pinned(*b).cmp(&pinned(*a))).then(size(prepared, *b).total_cmp(&size(prepared, *a)))
    });
    Slide::new(order, aim)
}
