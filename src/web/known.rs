//! What was worked out a moment ago and is asked for again: figures, which
//! depend on their plan alone, and shared pages, which hold until anything in
//! the notebook is changed.

use crate::figures::{self, Figures};
use crate::plan::Plan;
use actix_web::http::header::EntityTag;
use actix_web::web::Bytes;
use sha2::{Digest, Sha256};
use std::collections::{HashMap, VecDeque};
use std::sync::{Arc, Mutex, PoisonError};

/// A page as it goes out, and its tag.
#[derive(Clone)]
pub struct Tagged {
    pub body: Bytes,
    pub tag: EntityTag,
}

#[derive(Default)]
pub struct Known {
    /// By a hash of the plan, the one asked for last at the end.
    figures: Mutex<VecDeque<([u8; 32], Arc<Figures>)>>,
    shared: Mutex<Shared>,
}

#[derive(Default)]
struct Shared {
    /// [`crate::notebook::Notebook::state`] all pages were made at.
    state: u64,
    pages: HashMap<String, Tagged>,
    bytes: usize,
}

/// Figures of a garment hold a few hundred kilobytes.
const PLANS: usize = 12;
/// All shared pages together.
const PAGES: usize = 8 * 1024 * 1024;

impl Known {
    /// As [`figures::work_out`].
    pub fn figures(&self, plan: &Plan) -> Arc<Figures> {
        let key: [u8; 32] = Sha256::digest(plan.to_json()).into();
        let held = || self.figures.lock().unwrap_or_else(PoisonError::into_inner);
        {
            let mut list = held();
            if let Some(at) = list.iter().position(|(k, _)| *k == key)
                && let Some(found) = list.remove(at)
            {
                let figures = found.1.clone();
                list.push_back(found);
                return figures;
            }
        }
        // Not held while working: two who ask at once both work it out.
        let figures = Arc::new(figures::work_out(plan));
        let mut list = held();
        if list.len() >= PLANS {
            list.pop_front();
        }
        list.push_back((key, figures.clone()));
        figures
    }

    /// A shared page as it was made at this state of the notebook.
    pub fn shared(&self, state: u64, address: &str) -> Option<Tagged> {
        let shared = self.shared.lock().unwrap_or_else(PoisonError::into_inner);
        match shared.state == state {
            true => shared.pages.get(address).cloned(),
            false => None,
        }
    }

    /// `state` is the one asked for before the page was made.
    pub fn keep_shared(&self, state: u64, address: &str, page: &Tagged) {
        let mut shared = self.shared.lock().unwrap_or_else(PoisonError::into_inner);
        if shared.state != state || shared.bytes + page.body.len() > PAGES {
            *shared = Shared {
                state,
                ..Shared::default()
            };
        }
        if page.body.len() <= PAGES && shared.pages.insert(address.to_string(), page.clone()).is_none() {
            shared.bytes += page.body.len();
        }
    }
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

    #[test]
    fn shared_pages_hold_until_something_changes() {
        let known = Known::default();
        let page = |text: &str| Tagged {
            body: Bytes::from(text.to_string()),
            tag: EntityTag::new_strong("t".into()),
        };
        known.keep_shared(3, "/s/a", &page("one"));
        assert_eq!(known.shared(3, "/s/a").unwrap().body, "one");
        assert!(known.shared(4, "/s/a").is_none());
        assert!(known.shared(3, "/s/b").is_none());
        known.keep_shared(4, "/s/b", &page("two"));
        assert!(known.shared(3, "/s/a").is_none() && known.shared(4, "/s/a").is_none());
        for n in 0..20 {
            known.keep_shared(4, &format!("/s/{n}"), &page(&"x".repeat(PAGES / 3)));
        }
        assert!(known.shared.lock().unwrap().bytes <= PAGES);
    }
}
