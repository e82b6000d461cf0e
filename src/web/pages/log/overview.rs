//! The ways through a long log: one kind of entry alone, and the months and
//! days of the page.

use crate::notebook::{Entry, EntryKind, Id};
use crate::web::components::{entry_icon, on_this_page};
use chrono::{Datelike, Local, NaiveDate};
use maud::{Markup, html};

/// The kind that is asked for, by its name.
pub fn kind(asked: &str) -> Option<EntryKind> {
    EntryKind::ALL.into_iter().find(|k| k.name() == asked)
}

/// How many there are of each kind, each a way to these alone. `chosen` is the
/// kind shown now.
pub fn kinds(project: Id, counts: &[(EntryKind, usize)], chosen: Option<EntryKind>) -> Markup {
    let log = format!("/projects/{project}/log");
    let all: usize = counts.iter().map(|(_, n)| n).sum();
    html! {
        @if counts.len() > 1 || chosen.is_some() {
            nav.log-kinds aria-label="Kinds of entries" {
                a href=(log) aria-current=[chosen.is_none().then_some("page")] { "All " b { (all) } }
                @for kind in EntryKind::ALL {
                    @if let Some((_, n)) = counts.iter().find(|(k, _)| *k == kind) {
                        a href=(format!("{log}?kind={}", kind.name())) aria-current=[(chosen == Some(kind)).then_some("page")] {
                            (entry_icon(kind)) (several(kind, *n)) " " b { (n) }
                        }
                    }
                }
            }
        }
    }
}

fn several(kind: EntryKind, n: usize) -> &'static str {
    match (kind, n) {
        (EntryKind::Photo, 1) => "Photo",
        (EntryKind::Photo, _) => "Photos",
        (EntryKind::Note, 1) => "Note",
        (EntryKind::Note, _) => "Notes",
        (EntryKind::Decision, 1) => "Decision",
        (EntryKind::Decision, _) => "Decisions",
        (EntryKind::Measure, 1) => "Measure",
        (EntryKind::Measure, _) => "Measures",
        (EntryKind::Work, _) => "Work",
    }
}

/// The entries of each day, in the order they came in.
pub fn by_day(log: &[Entry]) -> Vec<(NaiveDate, Vec<&Entry>)> {
    let mut days: Vec<(NaiveDate, Vec<&Entry>)> = Vec::new();
    for entry in log {
        let day = entry.happened_at.with_timezone(&Local).date_naive();
        match days.last_mut() {
            Some((last, entries)) if *last == day => entries.push(entry),
            _ => days.push((day, vec![entry])),
        }
    }
    days
}

/// Where a day begins on the page.
pub fn place(day: NaiveDate) -> String {
    format!("day-{day}")
}

/// The months of the page or, of one month, its days: newest first, as they stand.
pub fn days(days: &[NaiveDate]) -> Markup {
    let mut months: Vec<NaiveDate> = Vec::new();
    for day in days {
        let same = |m: &NaiveDate| (m.year(), m.month()) == (day.year(), day.month());
        if !months.last().is_some_and(same) {
            months.push(*day);
        }
    }
    let (list, form) = if months.len() > 1 {
        (months.as_slice(), "%B %Y")
    } else {
        (days, "%-d %B")
    };
    html! {
        @if list.len() > 1 {
            (on_this_page(html! { @for day in list { a href=(format!("#{}", place(*day))) { (day.format(form)) } } }))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_leads_to_its_months_and_of_one_month_to_its_days() {
        let day = |text: &str| text.parse::<NaiveDate>().expect("a day");
        let words = |list: &[&str]| {
            let days_of: Vec<NaiveDate> = list.iter().map(|d| day(d)).collect();
            let page = days(&days_of).into_string();
            let mut links = page
                .split("href=\"#")
                .skip(1)
                .map(|l| l.split('<').next().unwrap_or("").replace("\">", " "));
            links.by_ref().collect::<Vec<_>>()
        };
        assert_eq!(
            words(&["2026-04-25", "2026-04-02", "2026-03-29", "2025-03-01"]),
            [
                "day-2026-04-25 April 2026",
                "day-2026-03-29 March 2026",
                "day-2025-03-01 March 2025"
            ]
        );
        assert_eq!(
            words(&["2026-04-25", "2026-04-02"]),
            ["day-2026-04-25 25 April", "day-2026-04-02 2 April"]
        );
        assert!(
            words(&["2026-04-25"]).is_empty() && words(&[]).is_empty(),
            "nowhere to go"
        );
    }
}
