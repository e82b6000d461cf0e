//! What was worked out a moment ago and is asked for again: figures, which
//! depend on their plan alone; the timer, shared pages and the maker's own,
//! which hold until anything in the notebook is changed.

mod pages;

pub use pages::{Pages, Weighed};

use super::fresh::Template;
use crate::figures::{self, Figures};
use crate::notebook::{LineChoice, ProjectDetails, Timer};
use crate::plan::Plan;
use crate::sheets::{self, Line};
use actix_web::http::header::EntityTag;
use actix_web::web::Bytes;
use sha2::{Digest, Sha256};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

/// A page as it goes out, and its tag.
#[derive(Clone)]
pub struct Tagged {
    pub body: Bytes,
    pub tag: EntityTag,
}

impl Weighed for Tagged {
    fn weight(&self) -> usize {
        self.body.len()
    }
}

pub struct Known {
    /// By a hash of the plan, the one asked for last at the end.
    figures: Mutex<VecDeque<([u8; 32], Arc<Figures>)>>,
    /// By a hash of all they are made of, the ones asked for last at the end.
    answers: Mutex<VecDeque<([u8; 32], Arc<Vec<Line>>)>>,
    /// By the state it was asked at.
    timer: Mutex<Option<(u64, Option<Timer>)>>,
    /// What viewers see, by its address.
    pub shared: Pages<Tagged>,
    /// What the maker sees, by all that it depends on besides the notebook.
    pub own: Pages<Arc<Template>>,
}

impl Default for Known {
    fn default() -> Known {
        Known {
            figures: Mutex::default(),
            answers: Mutex::default(),
            timer: Mutex::default(),
            shared: Pages::new(SHARED),
            own: Pages::new(OWN),
        }
    }
}

/// Figures of a garment hold a few hundred kilobytes.
const PLANS: usize = 12;
/// Lines of one plan hold a few kilobytes.
const ANSWERS: usize = 250;
/// All shared pages together, and all of the maker's.
const SHARED: usize = 4 * 1024 * 1024;
const OWN: usize = 12 * 1024 * 1024;

impl Known {
    /// As [`figures::work_out`].
    pub fn figures(&self, plan: &Plan) -> Arc<Figures> {
        let key: [u8; 32] = Sha256::digest(plan.to_json()).into();
        known(&self.figures, key, PLANS, || figures::work_out(plan))
    }

    /// As [`sheets::answers`]: a few lines of each plan, of many plans.
    pub fn answers(&self, details: &ProjectDetails, plan: &Plan, choices: &[LineChoice]) -> Arc<Vec<Line>> {
        let mut hash = Sha256::new();
        hash.update(plan.to_json());
        for of in [serde_json::to_vec(details), serde_json::to_vec(choices)] {
            // Ends with a byte that is in no JSON.
            hash.update([of.unwrap_or_default().as_slice(), &[0]].concat());
        }
        known(&self.answers, hash.finalize().into(), ANSWERS, || {
            sheets::answers(details, plan, &self.figures(plan), choices)
        })
    }

    /// The timer at this state of the notebook, where it was asked for.
    pub fn timer(&self, state: u64) -> Option<Option<Timer>> {
        let held = self.timer.lock().unwrap_or_else(PoisonError::into_inner);
        held.as_ref()
            .filter(|(of, _)| *of == state)
            .map(|(_, timer)| timer.clone())
    }

    /// `state` is the one asked for before the timer was.
    pub fn keep_timer(&self, state: u64, timer: &Option<Timer>) {
        let mut held = self.timer.lock().unwrap_or_else(PoisonError::into_inner);
        if held.as_ref().is_none_or(|(of, _)| *of <= state) {
            *held = Some((state, timer.clone()));
        }
    }
}

/// What is held under this key, else worked out; at most so many are held.
fn known<T>(
    held: &Mutex<VecDeque<([u8; 32], Arc<T>)>>,
    key: [u8; 32],
    most: usize,
    work_out: impl FnOnce() -> T,
) -> Arc<T> {
    let lock = || held.lock().unwrap_or_else(PoisonError::into_inner);
    {
        let mut list = lock();
        if let Some(at) = list.iter().position(|(k, _)| *k == key)
            && let Some(found) = list.remove(at)
        {
            let value = found.1.clone();
            list.push_back(found);
            return value;
        }
    }
    // Not held while working: two who ask at once both work it out.
    let value = Arc::new(work_out());
    let mut list = lock();
    if list.len() >= most {
        list.pop_front();
    }
    list.push_back((key, value.clone()));
    value
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;
    use crate::plan::Piece;

    fn plan(n: i64) -> Plan {
        let piece = Piece {
            id: "p1".into(),
            name: "Front".into(),
            cut_count: 1,
            width: INCH * n,
            height: INCH * 9,
            ..Piece::default()
        };
        Plan {
            pieces: vec![piece],
            ..Plan::default()
        }
    }

    #[test]
    fn figures_are_those_of_their_plan_and_few_are_kept() {
        let known = Known::default();
        let first = known.figures(&plan(1));
        assert!(Arc::ptr_eq(&first, &known.figures(&plan(1))));
        for n in 2..40 {
            let found = known.figures(&plan(n));
            assert_eq!(*found, figures::work_out(&plan(n)));
            // The first is asked for all the time, and stays.
            assert!(Arc::ptr_eq(&first, &known.figures(&plan(1))));
        }
        assert!(known.figures.lock().unwrap().len() <= PLANS);
    }
}
