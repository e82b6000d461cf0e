//! The steps of a project: the list a plan begins with, and how long each of
//! the maker's own steps is expected to take.

use super::time::{Minutes, TimeFigures};
use crate::plan::{Plan, Work};

/// A step the plan asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StartingStep {
    pub work: Work,
    /// "Piece the panels".
    pub title: &'static str,
    /// How much of it the plan holds: "264 patches". Not part of the title:
    /// the plan goes on changing.
    pub amount: String,
    /// By the paces that are known.
    pub minutes: Option<Minutes>,
}

/// The steps of a plan in the order they are done: those it has work for.
pub fn starting_list(plan: &Plan, time: &TimeFigures) -> Vec<StartingStep> {
    let mut list = Vec::new();
    for line in &time.work {
        let (Some(title), Some(amount)) = (title(line.work), line.amount) else {
            continue;
        };
        list.push(StartingStep {
            work: line.work,
            title,
            amount: format!("{} {}", amount.words(plan.unit), line.of),
            minutes: line.expected,
        });
    }
    list
}

fn title(work: Work) -> Option<&'static str> {
    Some(match work {
        Work::Cut => "Cut the patches",
        Work::Piece => "Piece the panels",
        Work::Press => "Press the seams",
        Work::Layer => "Layer the panels",
        Work::Quilt => "Quilt the panels",
        Work::Shape => "Cut the pieces to shape",
        Work::Assemble => "Assemble the pieces",
        Work::Bind => "Make the binding and sew it on",
        Work::HandSew => "Sew by hand what is left",
        Work::Close => "Set the closures",
        Work::Other => return None,
    })
}

/// A step as time is reckoned with it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct StepTime {
    /// None counts as other work.
    pub work: Option<Work>,
    /// As the maker expects it, in minutes.
    pub minutes: Option<i64>,
    pub done: bool,
    /// Minutes logged for this step.
    pub logged: i64,
}

impl StepTime {
    pub(super) fn kind(&self) -> Work {
        self.work.unwrap_or(Work::Other)
    }
}

/// Minutes each step is expected to take: as typed; else its part of what its
/// kind of work takes by the figures, the steps of one kind sharing evenly what
/// the typed ones leave. None where that is not known.
pub fn expectations(steps: &[StepTime], time: &TimeFigures) -> Vec<Option<i64>> {
    steps
        .iter()
        .map(|step| match step.minutes {
            Some(minutes) => Some(minutes),
            None => {
                let work = step.work?;
                let line = time.work.iter().find(|line| line.work == work)?;
                line.amount?;
                let share = Shares::of(work, steps).untyped(line.expected?.likely);
                (share > 0).then_some(share)
            }
        })
        .collect()
}

/// What the steps of one kind of work say together.
pub(super) struct Shares {
    pub steps: usize,
    /// Sum of the typed minutes.
    pub typed: i64,
    /// How many have none typed.
    pub untyped: i64,
}

impl Shares {
    pub fn of(work: Work, steps: &[StepTime]) -> Shares {
        let mut shares = Shares {
            steps: 0,
            typed: 0,
            untyped: 0,
        };
        for step in steps.iter().filter(|s| s.kind() == work) {
            shares.steps += 1;
            match step.minutes {
                Some(minutes) => shares.typed = shares.typed.saturating_add(minutes.max(0)),
                None => shares.untyped += 1,
            }
        }
        shares
    }

    /// Every step has its minutes typed.
    pub fn all_typed(&self) -> bool {
        self.steps > 0 && self.untyped == 0
    }

    /// Minutes of each step without typed ones, of `expected` for all; up.
    pub fn untyped(&self, expected: i64) -> i64 {
        let rest = expected.saturating_sub(self.typed).max(0);
        match self.untyped {
            0 => 0,
            n => rest / n + i64::from(rest % n > 0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::time::{Amount, Paces, PastWork, reckoned};
    use crate::figures::work_out;

    fn plan() -> Plan {
        Plan::from_json(
            r#"{"format":1,
            "cloths":[{"id":"c1","name":"Cream linen","usable_width":"42 in"}],
            "pieces":[{"id":"p1","name":"Sleeve","cut_count":2,"width":"18 in","height":"24 in",
              "face":{"kind":"patchwork","finished":"6 in","arrangement":"all-alike","units":[{"kind":"square","cloths":["c1"]}]}}]}"#,
        )
        .unwrap()
    }

    /// 24 patches at a minute each.
    fn past() -> Vec<PastWork> {
        vec![PastWork {
            project: "Vest".into(),
            work: Work::Piece,
            amount: Amount::Count(100),
            minutes: 100,
        }]
    }

    fn time(plan: &Plan, logged: &[(Work, i64)], steps: &[StepTime]) -> TimeFigures {
        let amounts = crate::figures::time::work_amounts(plan);
        reckoned(plan, amounts, &Paces::of(&past()), logged, steps, None)
    }

    fn step(work: Work, minutes: Option<i64>, done: bool, logged: i64) -> StepTime {
        StepTime {
            work: Some(work),
            minutes,
            done,
            logged,
        }
    }

    fn left(time: &TimeFigures, work: Work) -> Option<(i64, i64, i64)> {
        let line = time.work.iter().find(|l| l.work == work).unwrap();
        line.left.map(|l| (l.low, l.likely, l.high))
    }

    #[test]
    fn the_list_holds_what_the_plan_has_in_the_order_of_work() {
        let mut plan = plan();
        let list = |plan: &Plan| -> Vec<(Work, String)> {
            let mut figures = work_out(plan);
            figures.time = time(plan, &[], &[]);
            let list = starting_list(plan, &figures.time);
            list.into_iter().map(|s| (s.work, s.amount)).collect()
        };
        let cut = |amount: &str| (Work::Cut, amount.to_string());
        assert_eq!(list(&plan)[0], cut("24 patches"));
        let kinds: Vec<Work> = list(&plan).into_iter().map(|(work, _)| work).collect();
        assert_eq!(
            kinds,
            [Work::Cut, Work::Piece, Work::Press, Work::Shape, Work::Assemble]
        );
        plan.pieces[0].face = None;
        let kinds: Vec<Work> = list(&plan).into_iter().map(|(work, _)| work).collect();
        assert_eq!(kinds, [Work::Shape, Work::Assemble]);
        assert!(list(&Plan::default()).is_empty());
        let first = starting_list(&plan, &time(&plan, &[], &[])).remove(0);
        assert_eq!((first.title, first.minutes), ("Cut the pieces to shape", None));
    }

    #[test]
    fn steps_of_one_kind_share_what_is_expected_of_it() {
        let plan = plan();
        let steps = [
            step(Work::Piece, Some(10), false, 0),
            step(Work::Piece, None, false, 0),
            step(Work::Piece, None, false, 0),
            step(Work::Cut, None, false, 0),
            StepTime::default(),
        ];
        // 24 min in all, 10 of them typed: 7 for each of the two others. No pace of cutting.
        assert_eq!(
            expectations(&steps, &time(&plan, &[], &steps)),
            [Some(10), Some(7), Some(7), None, None]
        );
    }

    #[test]
    fn what_is_left_is_what_is_not_ticked() {
        let plan = plan();
        let two = |done: bool, logged: i64| [step(Work::Piece, None, done, logged), step(Work::Piece, None, false, 0)];
        let none = time(&plan, &[], &two(false, 0));
        assert_eq!(left(&none, Work::Piece), Some((16, 24, 36)));
        // The first half took three times as long as expected: the second half is still to do.
        let half = time(&plan, &[(Work::Piece, 36)], &two(true, 36));
        assert_eq!(left(&half, Work::Piece), Some((8, 12, 18)));
        // Minutes tied to no step may be of what is not done yet.
        let untied = time(&plan, &[(Work::Piece, 41)], &two(true, 36));
        assert_eq!(left(&untied, Work::Piece), Some((3, 7, 13)));
        let all = [step(Work::Piece, None, true, 0), step(Work::Cut, None, true, 0)];
        let all = time(&plan, &[(Work::Piece, 90)], &all);
        assert_eq!(left(&all, Work::Piece), Some((0, 0, 0)));
        assert!(
            !all.shown.cautions.iter().any(|c| c.contains("More was logged")),
            "it is done"
        );
        assert_eq!(left(&all, Work::Cut), Some((0, 0, 0)), "done, though no pace is known");
        assert!(!all.not_known.contains(&Work::Cut) && all.not_known.contains(&Work::Press));
    }

    #[test]
    fn typed_minutes_stand_in_for_a_pace() {
        let plan = plan();
        let steps = [
            step(Work::Cut, Some(50), false, 0),
            step(Work::Cut, Some(40), true, 60),
            StepTime {
                minutes: Some(25),
                ..StepTime::default()
            },
        ];
        let time = time(&plan, &[(Work::Cut, 60)], &steps);
        let line = |work: Work| time.work.iter().find(|l| l.work == work).unwrap();
        assert_eq!(line(Work::Cut).expected.unwrap().likely, 90);
        assert_eq!(line(Work::Cut).left.unwrap().likely, 50);
        assert_eq!(line(Work::Cut).pace, "as typed in the steps");
        assert!(!time.not_known.contains(&Work::Cut));
        assert_eq!(line(Work::Other).left.unwrap().likely, 25);
    }

    #[test]
    fn hostile_minutes_neither_panic_nor_shrink_the_sum() {
        let plan = plan();
        for minutes in [i64::MAX, i64::MIN, 0] {
            let steps = [
                step(Work::Piece, Some(minutes), false, minutes),
                step(Work::Piece, Some(minutes), true, i64::MAX),
                step(Work::Piece, None, false, i64::MIN),
                step(Work::Other, Some(minutes), false, 1),
            ];
            let time = time(&plan, &[(Work::Piece, i64::MAX)], &steps);
            assert!(time.left.high >= 0);
            assert_eq!(expectations(&steps, &time).len(), 4);
        }
    }
}
