//! Hours a week and minutes of other work.

use super::Finder;
use crate::plan::limits;

pub(super) fn check(find: &mut Finder) {
    let Some(time) = &find.plan.time else { return };
    if time.minutes_a_week > limits::MINUTES_A_WEEK {
        find.add(
            "time/minutes_a_week",
            format!(
                "{} minutes are more than a week has. Type at most {} hours.",
                time.minutes_a_week,
                limits::MINUTES_A_WEEK / 60
            ),
        );
    }
    if time.other_minutes > limits::OTHER_MINUTES {
        find.add(
            "time/other_minutes",
            format!(
                "{} minutes of other work are more than a year of working days. Type at most {} hours.",
                time.other_minutes,
                limits::OTHER_MINUTES / 60
            ),
        );
    }
}
