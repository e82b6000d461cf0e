//! Lays of outlines that are being looked for, or were: a first answer while
//! the page waits, better ones by a thread of their own, one search at a time.
//! Kept in memory, by what was asked for, until the program ends.

use crate::drafting::lay::{Layout, Problem, ProblemError, Proof, Search, State};
use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How long a page waits for its first answer, at most.
const FIRST: Duration = Duration::from_millis(400);
/// How long is looked for a better one.
pub const LOOKING: Duration = Duration::from_secs(60);
/// A page that was not asked for so long was left.
const LEFT: Duration = Duration::from_secs(40);
/// Places looked at between two looks at the clock.
const STEPS: u64 = 500;
/// Answers kept, the one asked for last at the end.
const KEPT: usize = 24;

/// A hash of the plan, the cloth and what was asked of it.
pub type Key = [u8; 32];

/// What is known of one lay.
#[derive(Clone)]
pub struct Found {
    pub layout: Option<Layout>,
    pub state: State,
    pub proof: Option<Proof>,
    /// No layout can be shorter, in millimetres.
    pub least: f64,
    pub steps: u64,
    /// How long it was looked for in the background, all in all.
    pub looked: Duration,
    pub looking: bool,
    /// How often it was begun.
    searches: u64,
    seen: Instant,
}

#[derive(Default)]
pub struct Lays {
    inner: Arc<Mutex<Inner>>,
    /// Held while a search is begun or ended: two who ask at once begin one after the other.
    turn: Mutex<()>,
}

#[derive(Default)]
struct Inner {
    found: VecDeque<(Key, Found)>,
    running: Option<Running>,
}

struct Running {
    stop: Arc<AtomicBool>,
    thread: JoinHandle<()>,
}

impl Inner {
    /// What is known, which has then been seen.
    fn get(&mut self, key: &Key) -> Option<&mut Found> {
        let at = self.found.iter().position(|(k, _)| k == key)?;
        let mut found = self.found.remove(at)?;
        found.1.seen = Instant::now();
        self.found.push_back(found);
        self.found.back_mut().map(|(_, f)| f)
    }
}

fn held(inner: &Mutex<Inner>) -> MutexGuard<'_, Inner> {
    inner.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Lays {
    /// What is known; a first answer where nothing is. Works for a moment: to
    /// be called where blocking is allowed.
    pub fn first(&self, key: Key, problem: &Problem) -> Result<Found, ProblemError> {
        if let Some(found) = held(&self.inner).get(&key) {
            return Ok(found.clone());
        }
        let start = Instant::now();
        let mut search = Search::new(problem, 0)?;
        while search.step(STEPS) == State::Looking && start.elapsed() < FIRST {}
        // However slow the computer is: cloth from the bolt has a first answer.
        search.first();
        let found = Found {
            layout: search.best().cloned(),
            state: search.state(),
            proof: search.proof().cloned(),
            least: search.least_length(),
            steps: search.steps(),
            looked: Duration::ZERO,
            looking: false,
            searches: 1,
            seen: Instant::now(),
        };
        let mut inner = held(&self.inner);
        // Of two that asked at once the first is kept.
        if let Some(other) = inner.get(&key) {
            return Ok(other.clone());
        }
        if inner.found.len() >= KEPT {
            inner.found.pop_front();
        }
        inner.found.push_back((key, found.clone()));
        Ok(found)
    }

    /// Looks for a better one in the background. Another search ends with what
    /// it has found so far.
    pub fn look(&self, key: Key, problem: Problem) -> Result<(), ProblemError> {
        let known = self.first(key, &problem)?;
        if known.looking || known.state != State::Looking {
            return Ok(());
        }
        let _turn = self.turn.lock().unwrap_or_else(PoisonError::into_inner);
        self.end();
        let mut inner = held(&self.inner);
        let Some(found) = inner.get(&key) else { return Ok(()) };
        found.looking = true;
        let seed = found.searches;
        found.searches += 1;
        let stop = Arc::new(AtomicBool::new(false));
        let shared = self.inner.clone();
        let told = stop.clone();
        let thread = std::thread::Builder::new()
            .name("lay".into())
            .spawn(move || run(&shared, key, &problem, seed, &told));
        match thread {
            Ok(thread) => inner.running = Some(Running { stop, thread }),
            Err(error) => {
                tracing::error!(%error, "no thread for a lay");
                if let Some(found) = inner.get(&key) {
                    found.looking = false;
                }
            }
        }
        Ok(())
    }

    /// Ends the search in the background, if there is one, and waits for its end.
    pub fn stop(&self) {
        let _turn = self.turn.lock().unwrap_or_else(PoisonError::into_inner);
        self.end();
    }

    fn end(&self) {
        let running = held(&self.inner).running.take();
        if let Some(running) = running {
            running.stop.store(true, Ordering::Relaxed);
            if running.thread.join().is_err() {
                tracing::error!("a lay broke off");
            }
        }
    }
}

/// Says that a search is over however it ends.
struct Ends<'a>(&'a Mutex<Inner>, Key);

impl Drop for Ends<'_> {
    fn drop(&mut self) {
        let mut inner = held(self.0);
        if let Some((_, found)) = inner.found.iter_mut().find(|(k, _)| *k == self.1) {
            found.looking = false;
        }
    }
}

fn run(shared: &Mutex<Inner>, key: Key, problem: &Problem, seed: u64, stop: &AtomicBool) {
    let _ends = Ends(shared, key);
    let Ok(mut search) = Search::new(problem, seed) else {
        return;
    };
    let known = held(shared)
        .found
        .iter()
        .find(|(k, _)| *k == key)
        .and_then(|(_, f)| f.layout.clone());
    if let Some(layout) = &known {
        search.adopt(layout);
    }
    let start = Instant::now();
    let (mut steps, mut before) = (0, Duration::ZERO);
    loop {
        let state = search.step(STEPS);
        let now = start.elapsed();
        let mut inner = held(shared);
        // Not `get`: a search that goes on has not been seen by anyone.
        let Some((_, found)) = inner.found.iter_mut().find(|(k, _)| *k == key) else {
            return;
        };
        found.steps += search.steps() - steps;
        found.looked += now - before;
        (steps, before) = (search.steps(), now);
        let better = |layout: &Layout| found.layout.as_ref().is_none_or(|old| layout.length < old.length);
        if let Some(layout) = search.best().filter(|l| better(l)) {
            found.layout = Some(layout.clone());
        }
        if state != State::Looking {
            found.state = state;
            found.proof = search.proof().cloned();
            return;
        }
        if stop.load(Ordering::Relaxed) || now >= LOOKING || found.seen.elapsed() >= LEFT {
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drafting::lay::{Cloth, Faces, Piece, Turns};
    use kurbo::Point;

    fn problem(count: usize) -> Problem {
        let corners = [(0.0, 0.0), (310.0, 20.0), (250.0, 190.0), (40.0, 230.0)];
        Problem {
            pieces: vec![Piece {
                name: "Yoke".into(),
                outline: corners.map(Point::from).to_vec(),
                count,
                turns: Turns::BothWays,
                faces: Faces::Alike,
                on_fold: false,
            }],
            cloth: Cloth::Single { width: 700.0 },
            gap: 0.0,
        }
    }

    #[test]
    fn a_second_search_ends_the_first_and_nothing_found_is_lost() {
        let lays = Lays::default();
        let length = |key: u8| lays.first([key; 32], &problem(5)).unwrap().layout.unwrap().length;
        let first = length(1);
        lays.look([1; 32], problem(5)).unwrap();
        assert!(lays.first([1; 32], &problem(5)).unwrap().looking);
        length(2);
        lays.look([2; 32], problem(5)).unwrap();
        assert!(!lays.first([1; 32], &problem(5)).unwrap().looking);
        assert!(lays.first([2; 32], &problem(5)).unwrap().looking);
        lays.stop();
        let after = lays.first([2; 32], &problem(5)).unwrap();
        assert!(!after.looking && after.looked > Duration::ZERO);
        assert!(length(1) <= first);
        assert!(held(&lays.inner).running.is_none());
    }

    #[test]
    fn few_answers_are_kept() {
        let lays = Lays::default();
        for key in 0..40 {
            lays.first([key; 32], &problem(1)).unwrap();
        }
        assert!(held(&lays.inner).found.len() <= KEPT);
    }

    #[test]
    fn one_that_cannot_be_bettered_is_not_looked_for() {
        let lays = Lays::default();
        let square = Problem {
            pieces: vec![Piece {
                outline: [(0.0, 0.0), (100.0, 0.0), (100.0, 700.0), (0.0, 700.0)]
                    .map(Point::from)
                    .to_vec(),
                ..problem(2).pieces[0].clone()
            }],
            ..problem(2)
        };
        assert_eq!(lays.first([9; 32], &square).unwrap().state, State::Best);
        lays.look([9; 32], square.clone()).unwrap();
        assert!(!lays.first([9; 32], &square).unwrap().looking);
    }
}
