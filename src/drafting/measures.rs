//! Reading a draft's measures: each is checked where it is taken, so that one
//! answer names everything that is wrong.

use super::DraftProblem;
use super::shape::round;
use crate::measure::{Length, Round, Unit};

pub(super) struct Measures {
    at: String,
    pub unit: Unit,
    pub seam: Length,
    problems: Vec<DraftProblem>,
}

impl Measures {
    /// Of the draft at `at`, with its seam allowance.
    pub fn new(at: &str, unit: Unit, seam: Length) -> Measures {
        let mut new = Measures {
            at: at.to_string(),
            unit,
            seam,
            problems: Vec::new(),
        };
        new.between("seam", "The seam allowance", seam, Length::ZERO, Length::whole_mm(100));
        new
    }

    /// More than nothing and at most `most`; in millimetres.
    pub fn positive(&mut self, field: &str, what: &str, length: Length, most: Length) -> f64 {
        if length.is_positive() {
            self.between(field, what, length, Length::ZERO, most)
        } else {
            self.wrong(
                field,
                format!("{what} is {}. Type a length of more than nothing.", self.show(length)),
            );
            round::mm(length)
        }
    }

    /// At least `least` and at most `most`; in millimetres.
    pub fn between(&mut self, field: &str, what: &str, length: Length, least: Length, most: Length) -> f64 {
        if length < least || length > most {
            let most = most.both(self.unit, Round::Down);
            let limits = if least == Length::ZERO {
                format!("at most {most}")
            } else {
                format!("at least {} and at most {most}", least.both(self.unit, Round::Up))
            };
            self.wrong(field, format!("{what} is {}. Type {limits}.", self.show(length)));
        }
        round::mm(length)
    }

    pub fn wrong(&mut self, field: &str, sentence: String) {
        self.problems
            .push(DraftProblem::new(format!("{}/{field}", self.at), sentence));
    }

    pub fn show(&self, length: Length) -> String {
        length.both(self.unit, Round::Nearest)
    }

    /// Millimetres in a sentence, rounded down: the most of something.
    pub fn show_most(&self, mm: f64) -> String {
        round::nearest(mm).both(self.unit, Round::Down)
    }

    /// The least of something.
    pub fn show_least(&self, mm: f64) -> String {
        round::nearest(mm).both(self.unit, Round::Up)
    }

    /// Whether all measures up to here are sound.
    pub fn sound(&self) -> bool {
        self.problems.is_empty()
    }

    pub fn end<T>(self, made: impl FnOnce() -> T) -> Result<T, Vec<DraftProblem>> {
        if self.sound() { Ok(made()) } else { Err(self.problems) }
    }
}
