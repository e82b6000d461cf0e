//! Time: how much of each kind of work a plan holds, how long that took in
//! past projects, and what it comes to against the due date.
//!
//! - [`amounts`]: patches, panels, metres, pieces
//! - [`paces`]: minutes for an amount, from past projects or published
//! - [`by_steps`]: what the maker's steps say of it
//! - [`outlook`]: weeks, the day it is finished, the due date

mod amounts;
mod by_steps;
mod outlook;
mod paces;

pub use amounts::{Amount, WorkAmount, work_amounts};
pub use outlook::{Due, Outlook, Verdict, When};
pub use paces::{Paces, PastWork, Published, published_paces};

pub(super) use amounts::amounts;

use super::steps::{Shares, StepTime};
use super::{Change, Figures, Shown};
use crate::measure::{about_hours, capital, hours};
use crate::plan::{Plan, Work, limits};
use outlook::outlook;
use paces::Pace;
use serde::Serialize;

/// Whole minutes: the fewest and the most to reckon with, and the likely ones.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Minutes {
    pub low: i64,
    pub likely: i64,
    pub high: i64,
}

impl Minutes {
    fn even(minutes: i64) -> Minutes {
        Minutes {
            low: minutes,
            likely: minutes,
            high: minutes,
        }
    }

    fn plus(self, more: Minutes) -> Minutes {
        Minutes {
            low: self.low.saturating_add(more.low),
            likely: self.likely.saturating_add(more.likely),
            high: self.high.saturating_add(more.high),
        }
    }

    fn less(self, done: i64) -> Minutes {
        Minutes {
            low: (self.low - done).max(0),
            likely: (self.likely - done).max(0),
            high: (self.high - done).max(0),
        }
    }

    /// `7 h (4 h 30 to 14 h)`.
    pub fn words(self) -> String {
        if self.low == self.high {
            return hours(self.likely);
        }
        let range = format!("{} to {}", about_hours(self.low, false), about_hours(self.high, true));
        format!("{} ({range})", about_hours(self.likely, true))
    }
}

/// One kind of work: how much of it, and how long.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WorkFigures {
    pub work: Work,
    /// None of other work: it is not counted by an amount.
    pub amount: Option<Amount>,
    /// How the amount came about: "patches to cut".
    pub of: String,
    /// Logged for this project.
    pub logged: i64,
    /// For the whole amount; none where no pace is known.
    pub expected: Option<Minutes>,
    /// Expected and not yet logged.
    pub left: Option<Minutes>,
    /// Where the pace comes from, in words.
    pub pace: String,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct TimeFigures {
    /// Kinds of work the plan holds, or minutes were logged of.
    pub work: Vec<WorkFigures>,
    /// Sums over what is known.
    pub expected: Minutes,
    pub left: Minutes,
    pub logged: i64,
    /// Kinds of work in the plan whose pace is not known: the sums are without them.
    pub not_known: Vec<Work>,
    /// Where hours a week or a due date are known.
    pub outlook: Option<Outlook>,
    pub shown: Shown,
}

impl TimeFigures {
    /// Of a project that is finished: nothing is left, whatever was expected.
    pub fn of_finished(mut self) -> TimeFigures {
        for line in &mut self.work {
            line.left = Some(Minutes::default());
        }
        self.left = Minutes::default();
        self.not_known = Vec::new();
        self.outlook = None;
        self.shown.cautions = Vec::new();
        self
    }
}

/// The day it is asked, and the day it is to be finished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Days {
    pub today: chrono::NaiveDate,
    pub due: Option<chrono::NaiveDate>,
}

/// The amounts of a plan at the paces of past projects. `logged` are the
/// minutes of this project so far.
pub fn expected(
    figures: &Figures,
    plan: &Plan,
    past: &[PastWork],
    logged: &[(Work, i64)],
    days: Option<Days>,
) -> TimeFigures {
    reckoned(plan, amounts_in(figures), &Paces::of(past), logged, &[], days)
}

/// The amounts of a plan that is worked out.
pub fn amounts_in(figures: &Figures) -> Vec<WorkAmount> {
    let amounts = figures.time.work.iter().filter_map(|w| {
        Some(WorkAmount {
            work: w.work,
            amount: w.amount?,
            of: w.of.clone(),
        })
    });
    amounts.collect()
}

/// As [`expected`], from amounts alone, and with the project's steps: what is
/// ticked is not left to do, and minutes typed for steps stand in for a pace.
pub fn reckoned(
    plan: &Plan,
    amounts: Vec<WorkAmount>,
    paces: &Paces,
    logged: &[(Work, i64)],
    steps: &[StepTime],
    days: Option<Days>,
) -> TimeFigures {
    let mut time = TimeFigures::default();
    let done = |work: Work| -> i64 {
        let minutes = logged
            .iter()
            .filter(|(kind, _)| *kind == work)
            .map(|(_, m)| (*m).max(0));
        minutes.fold(0, i64::saturating_add)
    };
    for work in Work::ALL {
        let logged = done(work);
        let amount = amounts.iter().find(|a| a.work == work && a.amount.is_some_work());
        let line = match (work, amount) {
            (Work::Other, _) => other(plan, logged, steps),
            (_, Some(amount)) => {
                let typed = by_steps::typed(work, steps);
                let pace = typed.as_ref().unwrap_or_else(|| paces.get(work));
                Some(line(plan, amount, pace, logged, &mut time.shown))
            }
            (_, None) => (logged > 0).then(|| WorkFigures {
                work,
                amount: None,
                of: String::new(),
                logged,
                expected: None,
                left: None,
                pace: "not in the plan".into(),
            }),
        };
        let Some(mut line) = line else { continue };
        by_steps::apply(&mut line, steps);
        let done = by_steps::all_done(work, steps);
        time.logged = time.logged.saturating_add(logged);
        match (line.expected, line.left) {
            (Some(expected), Some(left)) => {
                time.expected = time.expected.plus(expected);
                time.left = time.left.plus(left);
                if logged > expected.high && !done {
                    time.shown.cautions.push(format!(
                        "More was logged of “{}” than expected at the most. If it is not done, what is left of it is not counted.",
                        work.name()
                    ));
                }
            }
            _ if line.amount.is_some() && !done => time.not_known.push(work),
            _ => {}
        }
        time.work.push(line);
    }
    if !time.not_known.is_empty() {
        time.shown.cautions.push(format!(
            "No pace is known yet for: {}. The sums are without that. It comes from the minutes you log: a finished project teaches it.",
            names(&time.not_known)
        ));
    }
    time.outlook = outlook(plan, &time, days);
    time
}

/// Minutes of work outside the figures, as the maker typed them: for the plan
/// or for steps of such work, whichever is more.
fn other(plan: &Plan, logged: i64, steps: &[StepTime]) -> Option<WorkFigures> {
    let typed = plan
        .time
        .as_ref()
        .map_or(0, |t| i64::from(t.other_minutes.min(limits::OTHER_MINUTES)));
    let typed = typed.max(Shares::of(Work::Other, steps).typed);
    let minutes = Minutes::even(typed);
    (typed > 0 || logged > 0).then(|| WorkFigures {
        work: Work::Other,
        amount: None,
        of: "designing, shopping, a first fitting".into(),
        logged,
        expected: (typed > 0).then_some(minutes),
        left: (typed > 0).then(|| minutes.less(logged)),
        pace: if typed > 0 { "as typed" } else { "none typed" }.into(),
    })
}

fn line(plan: &Plan, amount: &WorkAmount, pace: &Pace, logged: i64, shown: &mut Shown) -> WorkFigures {
    let expected = pace.minutes(amount.amount);
    if let Some(minutes) = expected {
        shown.working.push(format!(
            "{}: {} {} at {} = {}.",
            capital(amount.work.name()),
            amount.amount.words(plan.unit),
            amount.of,
            pace.words(plan.unit),
            minutes.words()
        ));
        shown.allowances.extend(pace.allowance(amount.work, plan.unit));
    }
    WorkFigures {
        work: amount.work,
        amount: Some(amount.amount),
        of: amount.of.clone(),
        logged,
        expected,
        left: expected.map(|e| e.less(logged)),
        pace: pace.source(),
    }
}

/// "cut, piece and press".
pub fn names(works: &[Work]) -> String {
    let names: Vec<&str> = works.iter().map(|w| w.name()).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).into(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// How the expected time of a plan changed; for [`super::effect`].
pub(super) fn change(before: &TimeFigures, after: &TimeFigures) -> Option<Change> {
    let (was, is) = (before.expected.likely, after.expected.likely);
    let words = |time: &TimeFigures| {
        let part = if time.not_known.is_empty() {
            ""
        } else {
            ", as far as known"
        };
        format!("{}{part}", time.expected.words())
    };
    let by = (is - was).abs();
    let (before, after) = (words(before), words(after));
    (before != after).then(|| Change {
        what: WHAT.into(),
        before,
        after,
        difference: match by {
            // Low, high or what is known differs alone.
            0 => "about as long".into(),
            _ => format!(
                "about {} {} work",
                about_hours(by, is > was),
                if is > was { "more" } else { "less" }
            ),
        },
    })
}

pub(super) const WHAT: &str = "Time expected";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::{effect, work_out};
    use chrono::NaiveDate;

    fn plan() -> Plan {
        Plan::from_json(
            r#"{"format":1,
            "cloths":[{"id":"c1","name":"Cream linen","usable_width":"42 in"}],
            "pieces":[{"id":"p1","name":"Sleeve","cut_count":2,"width":"18 in","height":"24 in",
              "face":{"kind":"patchwork","finished":"6 in","arrangement":"all-alike","units":[{"kind":"square","cloths":["c1"]}]}}]}"#,
        )
        .unwrap()
    }

    fn past(project: &str, work: Work, count: i64, minutes: i64) -> PastWork {
        PastWork {
            project: project.into(),
            work,
            amount: Amount::Count(count),
            minutes,
        }
    }

    #[test]
    fn past_projects_give_low_likely_and_high() {
        // 24 patches. 100 took 50 min, 50 took 40: 90 min for 150 are 14.4 for 24,
        // between 12 (0.5 each) and 19.2 (0.8 each).
        let past = [past("Runner", Work::Cut, 100, 50), past("Bag", Work::Cut, 50, 40)];
        let figures = work_out(&plan());
        let time = expected(&figures, &plan(), &past, &[(Work::Cut, 5)], None);
        let cut = &time.work[0];
        assert_eq!((cut.work, cut.amount), (Work::Cut, Some(Amount::Count(24))));
        let minutes = |low, likely, high| Some(Minutes { low, likely, high });
        assert_eq!(cut.expected, minutes(12, 15, 20));
        assert_eq!(cut.left, minutes(7, 10, 15));
        assert_eq!(
            time.expected,
            Minutes {
                low: 12,
                likely: 15,
                high: 20
            }
        );
        assert_eq!(time.logged, 5);
        // Nothing is known of the rest, and that is said.
        assert_eq!(time.not_known, [Work::Piece, Work::Press, Work::Shape, Work::Assemble]);
        assert!(
            time.shown
                .cautions
                .iter()
                .any(|c| c.contains("piece, press, cut to shape and assemble"))
        );
        // One project alone: wider, two thirds to one and a half.
        let one = expected(&figures, &plan(), &past[..1], &[], None);
        assert_eq!(one.work[0].expected, minutes(8, 12, 18));
        assert_eq!(one.work[0].pace, "Runner");
    }

    #[test]
    fn a_due_date_is_held_or_missed_by_so_much() {
        let mut plan = plan();
        plan.time = Some(crate::plan::TimePlan {
            minutes_a_week: 120,
            other_minutes: 600,
        });
        let day = |d| NaiveDate::from_ymd_opt(2027, 3, d).unwrap();
        let figures = work_out(&plan);
        let at = |due| {
            let days = Days {
                today: day(1),
                due: Some(due),
            };
            expected(&figures, &plan, &[], &[(Work::Other, 60)], Some(days))
                .outlook
                .expect("hours are known")
        };
        // 540 min at 120 a week: 4.5 weeks, 31.5 days.
        let late = at(day(15));
        assert_eq!(late.weeks.likely, 5);
        assert_eq!(late.finished.map(|f| f.likely), NaiveDate::from_ymd_opt(2027, 4, 2));
        // 14 days are 240 min; 540 would take 270 a week.
        let due = late.due.expect("a due date");
        assert_eq!(
            (due.available, due.needed_a_week, due.short_a_week),
            (Some(240), Some(270), Some(150))
        );
        assert!(
            late.words.iter().any(|w| w.contains("2 h 30 min a week short")),
            "{:?}",
            late.words
        );
        let held = at(NaiveDate::from_ymd_opt(2027, 4, 30).unwrap())
            .due
            .expect("a due date");
        assert_eq!(held.short_a_week, Some(0));
        let past = at(NaiveDate::from_ymd_opt(2027, 2, 28).unwrap());
        assert!(past.words.iter().any(|w| w.contains("is past")), "{:?}", past.words);
    }

    #[test]
    fn a_sum_that_leaves_work_out_promises_no_day() {
        let mut plan = plan();
        plan.time = Some(crate::plan::TimePlan {
            minutes_a_week: 120,
            other_minutes: 0,
        });
        let day = |m, d| NaiveDate::from_ymd_opt(2027, m, d).unwrap();
        // One project alone, so a wide range.
        let past = [past("Runner", Work::Cut, 10, 10)];
        let said = |a_week, due| {
            let mut plan = plan.clone();
            plan.time.as_mut().expect("hours are known").minutes_a_week = a_week;
            let days = Days {
                today: day(3, 1),
                due: Some(due),
            };
            let time = expected(&work_out(&plan), &plan, &past, &[], Some(days));
            assert!(!time.not_known.is_empty());
            time.outlook.expect("hours are known").words.join(" ")
        };
        let words = said(120, day(4, 30));
        assert!(
            words.contains("whose pace is known takes 1 week, so it is hardly finished before")
                && words.contains("what is known leaves")
                && !words.contains("finished by"),
            "{words}"
        );
        // A week has enough for what is likely, not for the slowest.
        let words = said(30, day(3, 8));
        assert!(
            words.contains("or lacks") && !words.contains("likely to be finished"),
            "{words}"
        );
    }

    #[test]
    fn of_a_finished_project_nothing_is_left() {
        let figures = work_out(&plan());
        let past = [past("Runner", Work::Cut, 100, 50)];
        let time = expected(&figures, &plan(), &past, &[(Work::Cut, 5)], None).of_finished();
        assert_eq!((time.left, time.logged), (Minutes::default(), 5));
        assert!(time.expected.likely > 0 && time.not_known.is_empty() && time.outlook.is_none());
    }

    #[test]
    fn more_work_takes_more_time_and_the_effect_says_so() {
        let past = [past("Runner", Work::Piece, 10, 25)];
        let mut after = plan();
        after.pieces[0].cut_count = 3;
        let with = |plan: &Plan| {
            let mut figures = work_out(plan);
            figures.time = expected(&figures, plan, &past, &[], None);
            figures
        };
        let changes = effect(&with(&plan()), &with(&after));
        let time = changes.iter().find(|c| c.what == WHAT).expect("it takes longer");
        assert_eq!(time.difference, "about 30 min more work");
    }
}
