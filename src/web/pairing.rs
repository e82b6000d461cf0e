//! One-time codes that let a device in. A code is made on the computer itself,
//! lives in memory alone, is good once and for ten minutes, and is dropped
//! when it has been guessed at too often.

use super::limit::{Limit, Rate};
use chrono::{DateTime, TimeDelta, Utc};
use sha2::{Digest, Sha256};
use std::net::IpAddr;
use std::sync::{Mutex, PoisonError};

/// No I, L, O, U: what is typed for them is read as 1, 1, 0 and refused.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Five random bits each: 60 in all.
pub const LETTERS: usize = 12;
pub const MINUTES: i64 = 10;
/// Wrong tries, from wherever they come, after which a code is dropped.
const WRONG: u32 = 10;

/// Each address may try five times at once, and then twice a minute.
const TRIES: Rate = Rate {
    at_once: 5,
    seconds_each: 30,
};

/// A code as it is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    text: String,
    pub until: DateTime<Utc>,
}

impl Code {
    /// As it goes into an address.
    pub fn plain(&self) -> &str {
        &self.text
    }

    /// As it is read out and typed: `K7QM-2XVD-9RTB`.
    pub fn spaced(&self) -> String {
        let groups: Vec<String> = self
            .text
            .as_bytes()
            .chunks(4)
            .map(|g| String::from_utf8_lossy(g).into_owned())
            .collect();
        groups.join("-")
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    Good,
    Wrong,
    /// This address tried too often; the code was not looked at.
    TooOften,
}

pub struct Pairing(Mutex<State>);

struct State {
    code: Option<Code>,
    wrong: u32,
    tries: Limit,
}

impl Default for Pairing {
    fn default() -> Pairing {
        Pairing(Mutex::new(State {
            code: None,
            wrong: 0,
            tries: Limit::new(TRIES),
        }))
    }
}

impl Pairing {
    /// A new code; the one before it is good no longer.
    pub fn new_code(&self, now: DateTime<Utc>) -> std::io::Result<Code> {
        let mut random = [0u8; LETTERS];
        getrandom::fill(&mut random).map_err(std::io::Error::other)?;
        let text = random
            .iter()
            .map(|b| char::from(ALPHABET[usize::from(b % 32)]))
            .collect();
        let code = Code {
            text,
            until: now + TimeDelta::minutes(MINUTES),
        };
        let mut state = self.state();
        state.code = Some(code.clone());
        state.wrong = 0;
        Ok(code)
    }

    /// The code in force.
    pub fn code(&self, now: DateTime<Utc>) -> Option<Code> {
        self.state().in_force(now)
    }

    /// `Good` uses the code up.
    pub fn try_code(&self, typed: &str, from: IpAddr, now: DateTime<Utc>) -> Outcome {
        let mut state = self.state();
        if !state.tries.another(from, now) {
            return Outcome::TooOften;
        }
        let Some(code) = state.in_force(now) else {
            return Outcome::Wrong;
        };
        // Hashes are compared, so that how long it takes tells nothing.
        if Sha256::digest(read(typed)) == Sha256::digest(&code.text) {
            state.code = None;
            return Outcome::Good;
        }
        state.wrong += 1;
        if state.wrong >= WRONG {
            tracing::warn!(wrong = WRONG, "too many wrong codes: the code is dropped");
            state.code = None;
        }
        Outcome::Wrong
    }

    fn state(&self) -> std::sync::MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl State {
    fn in_force(&self, now: DateTime<Utc>) -> Option<Code> {
        // A clock set back must not lengthen a code's life.
        let begun = |c: &&Code| now >= c.until - TimeDelta::minutes(MINUTES);
        self.code.as_ref().filter(|c| now < c.until).filter(begun).cloned()
    }
}

/// What was typed, as it is meant: small letters, spaces and hyphens are as good.
fn read(typed: &str) -> String {
    typed
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '-')
        .map(|c| match c.to_ascii_uppercase() {
            'O' => '0',
            'I' | 'L' => '1',
            other => other,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::net::Ipv4Addr;

    fn at(seconds: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(1_800_000_000 + seconds, 0).unwrap()
    }

    /// Another device each time.
    fn from(n: u32) -> IpAddr {
        Ipv4Addr::from_bits(0xC0A8_0100 + n).into()
    }

    #[test]
    fn a_code_is_good_once() {
        let pairing = Pairing::default();
        assert_eq!(pairing.try_code("", from(1), at(0)), Outcome::Wrong);
        let code = pairing.new_code(at(0)).unwrap();
        assert_eq!(pairing.code(at(1)), Some(code.clone()));
        assert_eq!(pairing.try_code(code.plain(), from(1), at(1)), Outcome::Good);
        assert_eq!(pairing.code(at(1)), None);
        assert_eq!(pairing.try_code(code.plain(), from(1), at(2)), Outcome::Wrong);
    }

    #[test]
    fn a_code_may_be_typed_as_it_is_read() {
        let pairing = Pairing::default();
        for (n, way) in [
            (1, (|c: &Code| c.spaced()) as fn(&Code) -> String),
            (2, |c| format!(" {} ", c.spaced().to_lowercase().replace('-', " "))),
            (3, |c| c.plain().replace('0', "o").replace('1', "l")),
        ] {
            let code = pairing.new_code(at(0)).unwrap();
            assert_eq!(code.plain().len(), LETTERS);
            let typed = way(&code);
            assert_eq!(pairing.try_code(&typed, from(n), at(1)), Outcome::Good, "{typed}");
        }
    }

    #[test]
    fn codes_are_random_over_the_whole_alphabet() {
        let pairing = Pairing::default();
        let mut met = std::collections::HashSet::new();
        let mut letters = std::collections::HashSet::new();
        for _ in 0..200 {
            let code = pairing.new_code(at(0)).unwrap();
            letters.extend(code.plain().bytes());
            assert!(met.insert(code.text));
        }
        assert_eq!(letters.len(), 32);
    }

    #[test]
    fn a_code_is_good_for_ten_minutes() {
        let pairing = Pairing::default();
        let code = pairing.new_code(at(0)).unwrap();
        assert_eq!(pairing.try_code(code.plain(), from(1), at(600)), Outcome::Wrong);
        assert_eq!(pairing.code(at(600)), None);
        // The clock set back before the code was made.
        assert_eq!(pairing.try_code(code.plain(), from(1), at(-1)), Outcome::Wrong);
        let code = pairing.new_code(at(0)).unwrap();
        assert_eq!(pairing.try_code(code.plain(), from(1), at(599)), Outcome::Good);
    }

    #[test]
    fn a_new_code_ends_the_one_before() {
        let pairing = Pairing::default();
        let first = pairing.new_code(at(0)).unwrap();
        let second = pairing.new_code(at(1)).unwrap();
        assert_eq!(pairing.try_code(first.plain(), from(1), at(2)), Outcome::Wrong);
        assert_eq!(pairing.try_code(second.plain(), from(1), at(2)), Outcome::Good);
    }

    #[test]
    fn ten_wrong_tries_drop_a_code_whoever_makes_them() {
        let pairing = Pairing::default();
        for (wrong, good) in [(9, Outcome::Good), (10, Outcome::Wrong)] {
            let code = pairing.new_code(at(0)).unwrap();
            for n in 0..wrong {
                assert_eq!(
                    pairing.try_code("0000-0000-0000", from(100 * wrong + n), at(1)),
                    Outcome::Wrong
                );
            }
            assert_eq!(pairing.try_code(code.plain(), from(1), at(2)), good);
        }
    }

    #[test]
    fn an_address_tries_five_times_and_then_twice_a_minute() {
        let pairing = Pairing::default();
        let code = pairing.new_code(at(0)).unwrap();
        let wrong = |now| pairing.try_code("wrong", from(1), now);
        for _ in 0..5 {
            assert_eq!(wrong(at(0)), Outcome::Wrong);
        }
        assert_eq!(wrong(at(0)), Outcome::TooOften);
        // Not even the good code is looked at.
        assert_eq!(pairing.try_code(code.plain(), from(1), at(29)), Outcome::TooOften);
        assert_eq!(wrong(at(30)), Outcome::Wrong);
        assert_eq!(wrong(at(31)), Outcome::TooOften);
        // Waiting long gives five again, not more.
        for _ in 0..4 {
            assert_eq!(wrong(at(5000)), Outcome::Wrong);
        }
        assert_eq!(wrong(at(5000)), Outcome::Wrong);
        assert_eq!(wrong(at(5000)), Outcome::TooOften);
        // Another device is not kept waiting.
        let code = pairing.new_code(at(5000)).unwrap();
        assert_eq!(pairing.try_code(code.plain(), from(2), at(5000)), Outcome::Good);
    }
}
