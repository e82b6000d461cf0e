//! What the maker's steps say of a kind of work: minutes typed for all of its
//! steps stand in for a pace, and of what is left the ticked steps are no part.

use super::paces::Pace;
use super::{Minutes, WorkFigures};
use crate::figures::steps::{Shares, StepTime};
use crate::plan::Work;

fn of(work: Work, steps: &[StepTime]) -> impl Iterator<Item = &StepTime> {
    steps.iter().filter(move |s| s.kind() == work)
}

pub(super) fn all_done(work: Work, steps: &[StepTime]) -> bool {
    of(work, steps).next().is_some() && of(work, steps).all(|s| s.done)
}

/// The maker's own word on all of this work.
pub(super) fn typed(work: Work, steps: &[StepTime]) -> Option<Pace> {
    let shares = Shares::of(work, steps);
    shares.all_typed().then_some(Pace::Typed(shares.typed))
}

/// Left is the part of the steps that are not ticked, less the minutes that
/// may be of them: those logged for them, or for no step.
pub(super) fn apply(line: &mut WorkFigures, steps: &[StepTime]) {
    let work = line.work;
    let shares = Shares::of(work, steps);
    if shares.steps == 0 || (line.amount.is_none() && work != Work::Other) {
        return;
    }
    let Some(mut expected) = line.expected else {
        if all_done(work, steps) && line.amount.is_some() {
            line.left = Some(Minutes::default());
        }
        return;
    };
    // The typed ones alone take longer than the pace says of all.
    expected.low = expected.low.max(shares.typed);
    expected.likely = expected.likely.max(shares.typed);
    expected.high = expected.high.max(shares.typed);
    line.expected = Some(expected);
    let rest = expected.likely.saturating_sub(shares.typed);
    let other = work == Work::Other;
    let share = if other { 0 } else { shares.untyped(expected.likely) };
    let undone = of(work, steps).filter(|s| !s.done);
    let mut part = undone
        .map(|s| s.minutes.unwrap_or(share).max(0))
        .fold(0, i64::saturating_add);
    if other {
        // Typed for the plan and of no step: no tick takes it away.
        part = part.saturating_add(rest);
    }
    let part = part.min(expected.likely);
    let gone = of(work, steps)
        .filter(|s| s.done)
        .map(|s| s.logged.max(0))
        .fold(0, i64::saturating_add);
    let taken = line.logged.saturating_sub(gone).max(0);
    let scaled = |minutes: i64, up: bool| -> i64 {
        let (top, all) = (
            i128::from(minutes) * i128::from(part),
            i128::from(expected.likely.max(1)),
        );
        let whole = top / all + i128::from(up && top % all > 0);
        i64::try_from(whole).unwrap_or(i64::MAX).saturating_sub(taken).max(0)
    };
    line.left = Some(Minutes {
        low: scaled(expected.low, false),
        likely: scaled(expected.likely, true),
        high: scaled(expected.high, true),
    });
}
