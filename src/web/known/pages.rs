//! Pages that hold until anything in the notebook is changed, bounded in bytes.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

/// What is kept of a page.
pub trait Weighed {
    /// Bytes it takes in memory.
    fn weight(&self) -> usize;
}

pub struct Pages<T> {
    /// All of them together.
    most: usize,
    held: Mutex<Held<T>>,
}

struct Held<T> {
    /// [`crate::notebook::Notebook::state`] all pages were made at.
    state: u64,
    pages: HashMap<String, Kept<T>>,
    bytes: usize,
    /// Counts what is asked for.
    asked: u64,
}

struct Kept<T> {
    page: T,
    /// When it was asked for last.
    asked: u64,
}

impl<T: Weighed + Clone> Pages<T> {
    pub fn new(most: usize) -> Pages<T> {
        Pages {
            most,
            held: Mutex::new(Held {
                state: 0,
                pages: HashMap::new(),
                bytes: 0,
                asked: 0,
            }),
        }
    }

    /// The page as it was made at this state of the notebook.
    pub fn get(&self, state: u64, key: &str) -> Option<T> {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if held.state != state {
            return None;
        }
        held.asked += 1;
        let asked = held.asked;
        let kept = held.pages.get_mut(key)?;
        kept.asked = asked;
        Some(kept.page.clone())
    }

    /// `state` is the one asked for before the page was made. A page of an
    /// earlier state than those that are held is not kept.
    pub fn keep(&self, state: u64, key: &str, page: T) {
        let weight = weight(key, &page);
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        if state < held.state || weight > self.most {
            return;
        }
        if state > held.state {
            held.pages.clear();
            held.bytes = 0;
            held.state = state;
        }
        while held.bytes + weight > self.most {
            // Those asked for least lately go first.
            let Some(oldest) = held
                .pages
                .iter()
                .min_by_key(|(_, k)| k.asked)
                .map(|(key, _)| key.clone())
            else {
                break;
            };
            held.remove(&oldest);
        }
        held.remove(key);
        held.asked += 1;
        let asked = held.asked;
        held.bytes += weight;
        held.pages.insert(key.to_string(), Kept { page, asked });
    }
}

impl<T: Weighed> Held<T> {
    fn remove(&mut self, key: &str) {
        if let Some(gone) = self.pages.remove(key) {
            self.bytes -= weight(key, &gone.page);
        }
    }
}

/// With what a key and an entry of the table take.
fn weight<T: Weighed>(key: &str, page: &T) -> usize {
    page.weight() + key.len() + 200
}

#[cfg(test)]
mod tests {
    use super::*;

    impl Weighed for &str {
        fn weight(&self) -> usize {
            self.len()
        }
    }

    #[test]
    fn pages_hold_until_something_changes() {
        let pages = Pages::new(1 << 20);
        pages.keep(3, "/a", "one");
        assert_eq!(pages.get(3, "/a"), Some("one"));
        assert_eq!(pages.get(4, "/a"), None);
        assert_eq!(pages.get(3, "/b"), None);
        pages.keep(4, "/b", "two");
        assert_eq!((pages.get(3, "/a"), pages.get(4, "/a")), (None, None));
        assert_eq!(pages.get(4, "/b"), Some("two"));
        // Made before the change, ready after it.
        pages.keep(3, "/c", "late");
        assert_eq!((pages.get(3, "/c"), pages.get(4, "/c")), (None, None));
        assert_eq!(pages.get(4, "/b"), Some("two"));
    }

    #[test]
    fn memory_is_bounded_and_what_is_asked_for_stays() {
        let text = "x".repeat(1000);
        let pages = Pages::new(20_000);
        for n in 0..200 {
            pages.keep(1, &format!("/{n}"), text.as_str());
            // Kept twice, counted once.
            pages.keep(1, &format!("/{n}"), text.as_str());
            assert!(pages.get(1, "/0").is_some(), "{n}: asked for all the time");
            let held = pages.held.lock().unwrap();
            let sum: usize = held.pages.iter().map(|(k, p)| weight(k, &p.page)).sum();
            assert_eq!(sum, held.bytes);
            assert!(sum <= 20_000 && (n < 16 || held.pages.len() > 14), "{n}: {sum}");
        }
        assert!(pages.get(1, "/100").is_none());
        let huge = "x".repeat(30_000);
        pages.keep(1, "/huge", huge.as_str());
        assert!(pages.get(1, "/huge").is_none() && pages.get(1, "/0").is_some());
    }
}
