//! What the minutes left come to in weeks, and against the due date.

use super::{Days, Minutes, TimeFigures, names};
use crate::measure::{about_hours, hours};
use crate::plan::{Plan, limits};
use chrono::NaiveDate;
use serde::Serialize;

/// Days, by the fewest, the likely and the most minutes left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct When {
    pub early: NaiveDate,
    pub likely: NaiveDate,
    pub late: NaiveDate,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Due {
    pub date: NaiveDate,
    /// From today; less than nothing once it is past.
    pub days: i64,
    /// Minutes until then, where hours a week are known.
    pub available: Option<i64>,
    /// Minutes a week the likely work left would take; none once it is past.
    pub needed_a_week: Option<i64>,
    /// How much of that is missing every week; 0 where it is enough.
    pub short_a_week: Option<i64>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Outlook {
    pub minutes_a_week: i64,
    /// Begun weeks until it is finished; nothing where hours a week are not known.
    pub weeks: Minutes,
    pub finished: Option<When>,
    pub due: Option<Due>,
    /// The same as sentences.
    pub words: Vec<String>,
}

/// Whether it will be finished in time, in a few words for a list of projects.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    pub words: String,
    /// It needs the maker's attention.
    pub short: bool,
}

impl TimeFigures {
    /// Nothing where there is no due date and hours a week are not known, or
    /// no work is left.
    pub fn verdict(&self) -> Option<Verdict> {
        let outlook = self.outlook.as_ref()?;
        let left = self.left;
        let partly = !self.not_known.is_empty();
        let least = if partly { "at least " } else { "" };
        let verdict = |short: bool, words: String| Some(Verdict { words, short });
        if left.high == 0 && !partly {
            return None;
        }
        let Some(due) = outlook.due else {
            // A sum that leaves work out must not promise a day.
            let day = outlook.finished.filter(|_| left.high > 0)?.likely.format("%-d %B %Y");
            let words = if partly {
                format!("Hardly finished before {day}")
            } else {
                format!("Finished by about {day}")
            };
            return verdict(false, words);
        };
        if left.high == 0 {
            return verdict(false, "Whether in time is not known yet".into());
        }
        let (Some(needed), Some(available)) = (due.needed_a_week, due.available) else {
            return match due.needed_a_week {
                Some(needed) => verdict(
                    false,
                    format!("In time with {least}{} a week", about_hours(needed, true)),
                ),
                None if due.days == 0 => verdict(true, "To be finished today".into()),
                None => verdict(true, "The day is past".into()),
            };
        };
        if left.likely > available {
            let short = about_hours(needed - outlook.minutes_a_week, true);
            verdict(true, format!("Not in time: {least}{short} a week short"))
        } else if left.high > available {
            verdict(false, "Likely in time, if it does not go slowly".into())
        } else if partly {
            verdict(false, "In time, as far as known".into())
        } else {
            verdict(
                false,
                format!("In time, with {} to spare", about_hours(available - left.high, false)),
            )
        }
    }
}

/// Nothing where neither hours a week nor a due date are known.
pub(super) fn outlook(plan: &Plan, time: &TimeFigures, days: Option<Days>) -> Option<Outlook> {
    let a_week = plan
        .time
        .as_ref()
        .map_or(0, |t| i64::from(t.minutes_a_week.min(limits::MINUTES_A_WEEK)));
    let due = days.and_then(|d| d.due.map(|due| (d.today, due)));
    if a_week == 0 && due.is_none() {
        return None;
    }
    let left = time.left;
    let weeks = if a_week == 0 {
        Minutes::default()
    } else {
        Minutes {
            low: up(left.low, 1, a_week),
            likely: up(left.likely, 1, a_week),
            high: up(left.high, 1, a_week),
        }
    };
    let finished = days.filter(|_| a_week > 0).and_then(|d| {
        let after = |minutes| {
            d.today
                .checked_add_days(chrono::Days::new(u64::try_from(up(minutes, 7, a_week)).ok()?))
        };
        Some(When {
            early: after(left.low)?,
            likely: after(left.likely)?,
            late: after(left.high)?,
        })
    });
    let due = due.map(|(today, date)| against(left, a_week, today, date));
    let mut outlook = Outlook {
        minutes_a_week: a_week,
        weeks,
        finished,
        due,
        words: Vec::new(),
    };
    outlook.words = words(&outlook, time);
    Some(outlook)
}

/// `minutes × times / by`, up to a whole number.
fn up(minutes: i64, times: i64, by: i64) -> i64 {
    let (top, by) = (i128::from(minutes) * i128::from(times), i128::from(by.max(1)));
    i64::try_from(top / by + i128::from(top % by > 0)).unwrap_or(i64::MAX)
}

fn against(left: Minutes, a_week: i64, today: NaiveDate, date: NaiveDate) -> Due {
    let days = date.signed_duration_since(today).num_days();
    let needed = (days > 0).then(|| up(left.likely, 7, days));
    let known = a_week > 0;
    Due {
        date,
        days,
        available: known.then(|| days.max(0).saturating_mul(a_week) / 7),
        needed_a_week: needed,
        short_a_week: needed.filter(|_| known).map(|n| (n - a_week).max(0)),
    }
}

fn words(outlook: &Outlook, time: &TimeFigures) -> Vec<String> {
    let mut words = Vec::new();
    let day = |date: NaiveDate| date.format("%-d %B %Y").to_string();
    let left = time.left;
    // A sum that leaves work out must not promise a day.
    let without = match time.not_known.as_slice() {
        [] => String::new(),
        kinds => format!(" Not counted, as its pace is not known yet: {}.", names(kinds)),
    };
    if left.high == 0 {
        if time.not_known.is_empty() {
            words.push("As far as the plan tells, no work is left.".into());
        } else if time.expected.high == 0 {
            // Nothing is known: no word of how much is left.
            let kinds = names(&time.not_known);
            words.push(format!(
                "How long it takes is not known yet: no pace is for {kinds}. It comes from the minutes you log."
            ));
        } else {
            words.push(format!("Of what is known, no work is left.{without}"));
        }
        return words;
    }
    if outlook.minutes_a_week > 0 {
        let weeks = outlook.weeks;
        let takes = match weeks {
            w if w.low == w.high && w.high == 1 => "1 week".to_string(),
            w if w.low == w.high => format!("{} weeks", w.high),
            w if w.likely == w.low || w.likely == w.high => format!("{} to {} weeks", w.low, w.high),
            w => format!("{} ({} to {}) weeks", w.likely, w.low, w.high),
        };
        let a_week = hours(outlook.minutes_a_week);
        if without.is_empty() {
            let by = match outlook.finished {
                Some(when) if when.early == when.late => format!(": finished by about {}", day(when.likely)),
                Some(when) => format!(
                    ": finished by about {}, between {} and {}",
                    day(when.likely),
                    day(when.early),
                    day(when.late)
                ),
                None => String::new(),
            };
            words.push(format!("At {a_week} a week it takes {takes}{by}."));
        } else {
            let not_before = match outlook.finished {
                Some(when) => format!(", so it is hardly finished before {}", day(when.likely)),
                None => String::new(),
            };
            words.push(format!(
                "At {a_week} a week the work whose pace is known takes {takes}{not_before}.{without}"
            ));
        }
    }
    if let Some(due) = outlook.due {
        words.push(verdict(&due, left, outlook.minutes_a_week, !time.not_known.is_empty()));
    }
    words
}

fn verdict(due: &Due, left: Minutes, a_week: i64, partly: bool) -> String {
    let date = due.date.format("%-d %B %Y");
    let least = if partly { "at least " } else { "" };
    let (Some(needed), Some(available)) = (due.needed_a_week, due.available) else {
        return match due.needed_a_week {
            // Hours a week are not known.
            Some(needed) => format!(
                "Due {date}: {least}{} a week until then. Say how much time you have a week to see whether that is enough.",
                about_hours(needed, true)
            ),
            None if due.days == 0 => format!(
                "Due today, with {least}{} of work left.",
                about_hours(left.likely, true)
            ),
            None => format!(
                "The due date, {date}, is past, with {least}{} of work left.",
                about_hours(left.likely, true)
            ),
        };
    };
    if left.likely > available {
        return format!(
            "Due {date}: {least}{} a week short. Until then there are {}, and {least}{} of work are left: {least}{} a week instead of {}.",
            about_hours(needed - a_week, true),
            about_hours(available, false),
            about_hours(left.likely, true),
            about_hours(needed, true),
            hours(a_week)
        );
    }
    if partly && left.high > available {
        return format!(
            "Due {date}: what is known leaves {} to spare, or lacks {} if it goes as slowly as it may.",
            about_hours(available - left.likely, false),
            about_hours(left.high - available, true)
        );
    }
    if left.high > available {
        return format!(
            "Due {date}: it is likely to be finished, with {} to spare; if all goes as slowly as it may, {} are missing.",
            about_hours(available - left.likely, false),
            about_hours(left.high - available, true)
        );
    }
    if partly {
        return format!(
            "Due {date}: what is known leaves {} to spare.",
            about_hours(available - left.likely, false)
        );
    }
    format!(
        "Due {date}: in time, with {} to spare even if it goes slowly.",
        about_hours(available - left.high, false)
    )
}

#[cfg(test)]
mod tests {
    use crate::figures::time::{Days, Paces, amounts_in, reckoned};
    use crate::figures::work_out;
    use crate::plan::Plan;

    /// A plan of which no pace is known is not one of which no work is left.
    #[test]
    fn nothing_known_is_not_nothing_left() {
        let plan = Plan::from_json(
            r#"{"format":1,"cloths":[{"id":"c1","name":"Cream","usable_width":"42 in"}],
            "pieces":[{"id":"p1","name":"Front","cut_count":2,"width":"12 in","height":"12 in",
            "face":{"kind":"patchwork","finished":"4 in","arrangement":"all-alike","units":[{"kind":"square","cloths":["c1"]}]}}]}"#,
        )
        .expect("a plan");
        let today = "2026-11-29".parse().expect("a day");
        let due = "2027-01-20".parse().ok();
        let days = Days { today, due };
        let time = reckoned(
            &plan,
            amounts_in(&work_out(&plan)),
            &Paces::of(&[]),
            &[],
            &[],
            Some(days),
        );
        assert_eq!((time.expected.high, time.not_known.is_empty()), (0, false));
        let words = time.outlook.expect("an outlook").words.join(" ");
        assert!(
            words.contains("not known yet") && !words.contains("no work is left"),
            "{words}"
        );
    }
}
