//! Minutes for an amount of work.
//!
//! From past projects: all their minutes over all their amount are the likely
//! pace. The fastest and the slowest of them are low and high, each at least a
//! tenth from the likely one; a single project says less, so low is two thirds
//! and high one and a half of its pace; what others published says least, so
//! it is half and double.

use super::{Amount, Minutes};
use crate::figures::AllowanceUsed;
use crate::measure::{INCH, Length, Unit};
use crate::plan::Work;

/// What a past project says of one kind of work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PastWork {
    pub project: String,
    pub work: Work,
    pub amount: Amount,
    pub minutes: i64,
}

/// A pace someone wrote down, with its source.
#[derive(Clone, Copy, Debug)]
pub struct Published {
    pub work: Work,
    pub amount: Amount,
    pub minutes: i64,
    pub source: &'static str,
}

const PUBLISHED: [Published; 2] = [
    Published {
        work: Work::Bind,
        // 1.65 h to make and attach the binding of which she sews 300 in down.
        amount: Amount::Along(Length::whole_inches(300)),
        minutes: 99,
        source: "a single maker: faithquilter.blogspot.com, March 2012 (1.65 h to make and attach 300 in)",
    },
    Published {
        work: Work::HandSew,
        amount: Amount::Along(Length::whole_inches(16)),
        minutes: 10,
        source: "a single maker: faithquilter.blogspot.com, March 2012 (16 in in 10 min)",
    },
];

/// Every published pace; of other kinds of work none was found that names
/// both an amount and the minutes.
pub fn published_paces() -> &'static [Published] {
    &PUBLISHED
}

/// `minutes` for `amount`, both over nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ratio {
    minutes: i64,
    amount: i64,
}

impl Ratio {
    fn of(minutes: i64, amount: Amount) -> Option<Ratio> {
        let amount = amount.units();
        (minutes > 0 && amount > 0).then_some(Ratio { minutes, amount })
    }

    fn slower_than(self, other: Ratio) -> bool {
        i128::from(self.minutes) * i128::from(other.amount) > i128::from(other.minutes) * i128::from(self.amount)
    }

    /// Times `num / den`, up or down to a whole minute.
    fn minutes(self, amount: Amount, num: i64, den: i64, up: bool) -> i64 {
        let top = i128::from(self.minutes)
            .saturating_mul(i128::from(amount.units()))
            .saturating_mul(i128::from(num));
        let bottom = i128::from(self.amount) * i128::from(den);
        let whole = top / bottom + i128::from(up && top % bottom > 0);
        i64::try_from(whole).unwrap_or(i64::MAX)
    }
}

pub(super) enum Pace {
    NotKnown,
    /// Minutes the maker typed for the steps of this work.
    Typed(i64),
    Published(&'static Published),
    /// The fastest, all together, the slowest; the projects' names.
    Past {
        fastest: Ratio,
        all: Ratio,
        slowest: Ratio,
        /// The amounts of all together.
        amount: Amount,
        projects: Vec<String>,
    },
}

/// The pace of every kind of work, worked out once for however many plans are
/// reckoned by them.
pub struct Paces(Vec<(Work, Pace)>);

impl Paces {
    pub fn of(past: &[PastWork]) -> Paces {
        Paces(Work::ALL.iter().map(|work| (*work, pace(*work, past))).collect())
    }

    pub(super) fn get(&self, work: Work) -> &Pace {
        self.0
            .iter()
            .find(|(of, _)| *of == work)
            .map_or(&Pace::NotKnown, |(_, pace)| pace)
    }
}

/// The first few of them by name: a shelf of finished projects is no source to read.
fn named(projects: &[String]) -> String {
    const BY_NAME: usize = 5;
    match projects.len() {
        0..=BY_NAME => projects.join(", "),
        n => format!("{} and {} more", projects[..BY_NAME].join(", "), n - BY_NAME),
    }
}

fn pace(work: Work, past: &[PastWork]) -> Pace {
    let mut projects: Vec<String> = Vec::new();
    let mut ratios: Vec<Ratio> = Vec::new();
    let mut amount = Amount::Count(0);
    for done in past.iter().filter(|p| p.work == work) {
        if let Some(ratio) = Ratio::of(done.minutes, done.amount) {
            ratios.push(ratio);
            amount = amount.plus(done.amount);
            projects.push(done.project.clone());
        }
    }
    let all = ratios.iter().fold(Ratio { minutes: 0, amount: 0 }, |sum, r| Ratio {
        minutes: sum.minutes.saturating_add(r.minutes),
        amount: sum.amount.saturating_add(r.amount),
    });
    let end = |slowest: bool| {
        ratios
            .iter()
            .copied()
            .reduce(|end, r| if r.slower_than(end) == slowest { r } else { end })
    };
    match (end(false), end(true)) {
        (Some(fastest), Some(slowest)) => Pace::Past {
            fastest,
            all,
            slowest,
            amount,
            projects,
        },
        _ => PUBLISHED
            .iter()
            .find(|p| p.work == work)
            .map_or(Pace::NotKnown, Pace::Published),
    }
}

impl Pace {
    pub(super) fn minutes(&self, amount: Amount) -> Option<Minutes> {
        let spread = |ratio: Ratio, less: (i64, i64), more: (i64, i64)| Minutes {
            low: ratio.minutes(amount, less.0, less.1, false),
            likely: ratio.minutes(amount, 1, 1, true),
            high: ratio.minutes(amount, more.0, more.1, true),
        };
        match self {
            Pace::NotKnown => None,
            Pace::Typed(minutes) => Some(Minutes::even(*minutes)),
            Pace::Published(p) => Some(spread(Ratio::of(p.minutes, p.amount)?, (1, 2), (2, 1))),
            Pace::Past { all, projects, .. } if projects.len() < 2 => Some(spread(*all, (2, 3), (3, 2))),
            Pace::Past {
                fastest, all, slowest, ..
            } => {
                let tenth = spread(*all, (9, 10), (11, 10));
                Some(Minutes {
                    low: tenth.low.min(fastest.minutes(amount, 1, 1, false)),
                    likely: tenth.likely,
                    high: tenth.high.max(slowest.minutes(amount, 1, 1, true)),
                })
            }
        }
    }

    /// `90 min for 150`.
    pub(super) fn words(&self, unit: Unit) -> String {
        match self {
            Pace::NotKnown => String::new(),
            Pace::Typed(_) => "the minutes typed in the steps".into(),
            Pace::Published(p) => format!("{} min for {} ({})", p.minutes, p.amount.near(unit), p.source),
            Pace::Past {
                all, amount, projects, ..
            } => {
                format!("{} min for {} ({})", all.minutes, amount.near(unit), named(projects))
            }
        }
    }

    pub(super) fn source(&self) -> String {
        match self {
            Pace::NotKnown => "not known yet".into(),
            Pace::Typed(_) => "as typed in the steps".into(),
            Pace::Published(p) => p.source.into(),
            Pace::Past { projects, .. } => named(projects),
        }
    }

    pub(super) fn allowance(&self, work: Work, unit: Unit) -> Option<AllowanceUsed> {
        let (value, source) = match self {
            Pace::NotKnown | Pace::Typed(_) => return None,
            Pace::Published(p) => (
                format!(
                    "{} min for {}; low is half, high double",
                    p.minutes,
                    p.amount.near(unit)
                ),
                p.source.to_string(),
            ),
            Pace::Past { projects, .. } if projects.len() < 2 => (
                "as in one past project; low two thirds, high one and a half".to_string(),
                named(projects),
            ),
            Pace::Past { projects, .. } => (
                format!(
                    "as in {} past projects; low the fastest, high the slowest of them, a tenth off at least",
                    projects.len()
                ),
                named(projects),
            ),
        };
        Some(AllowanceUsed {
            name: format!("Pace: {}", work.name()),
            value,
            source,
        })
    }
}

impl Amount {
    /// A kind of work is always counted the same way.
    fn plus(self, more: Amount) -> Amount {
        let sum = self.units().saturating_add(more.units());
        match more {
            Amount::Count(_) => Amount::Count(sum),
            Amount::Along(_) => Amount::Along(Length::from_units(sum)),
        }
    }

    /// For a pace: short lengths in inches and centimetres.
    fn near(self, unit: Unit) -> String {
        match self {
            Amount::Along(length) if length <= INCH * 36 => length.both(unit, crate::measure::Round::Nearest),
            other => other.words(unit),
        }
    }
}
