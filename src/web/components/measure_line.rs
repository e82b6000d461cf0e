//! One measure over time as a small line, a dot for each day it was taken.

use crate::figures::measured::MeasureHistory;
use crate::measure::INCH;
use maud::{Markup, html};

const WIDTH: i64 = 160;
const HEIGHT: i64 = 64;
const EDGE: i64 = 10;

/// Days run to the right, larger is higher. What changed by less than an inch
/// is not drawn as if it had changed much; what never changed is a level line.
pub fn measure_line(history: &MeasureHistory) -> Markup {
    let taken = &history.taken;
    let (Some((first, _)), Some((last, _))) = (taken.first(), taken.last()) else {
        return html! {};
    };
    let days = (*last - *first).num_days();
    let lengths = || taken.iter().map(|(_, length)| length.units());
    let (least, most) = (lengths().min().unwrap_or(0), lengths().max().unwrap_or(0));
    if taken.len() < 2 || days <= 0 {
        return html! {};
    }
    let span = (most - least).max(INCH.units());
    let foot = least - (span - (most - least)) / 2;
    let part = |of: i64, all: i64, room: i64| (i128::from(of) * i128::from(room) / i128::from(all.max(1))) as i64;
    let points: Vec<(i64, i64)> = taken
        .iter()
        .map(|(day, length)| {
            let x = EDGE + part((*day - *first).num_days(), days, WIDTH - 2 * EDGE);
            let y = HEIGHT - EDGE - part(length.units() - foot, span, HEIGHT - 2 * EDGE);
            (x, y)
        })
        .collect();
    let line: Vec<String> = points.iter().map(|(x, y)| format!("{x},{y}")).collect();
    html! {
        svg.measure-line viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) aria-hidden="true" {
            polyline points=(line.join(" ")) {}
            @for (i, (x, y)) in points.iter().enumerate() { circle.newest[i + 1 == points.len()] cx=(x) cy=(y) r="4" {} }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::CM;

    fn drawn(taken: &[(&str, i64)]) -> String {
        let history = MeasureHistory {
            name: "waist girth".into(),
            taken: taken.iter().map(|(day, cm)| (day.parse().unwrap(), CM * *cm)).collect(),
        };
        measure_line(&history).into_string()
    }

    #[test]
    fn days_run_right_and_more_is_higher() {
        let svg = drawn(&[("2025-01-01", 70), ("2025-01-03", 74), ("2025-01-05", 72)]);
        assert!(svg.contains("points=\"10,54 80,10 150,32\""), "{svg}");
        assert_eq!(svg.matches("<circle").count(), 3);
    }

    #[test]
    fn one_day_draws_nothing_and_what_never_changed_is_level() {
        assert_eq!(drawn(&[("2025-01-01", 70)]), "");
        assert_eq!(drawn(&[("2025-01-01", 70), ("2025-01-01", 71)]), "");
        assert!(drawn(&[("2025-01-01", 70), ("2026-01-01", 70)]).contains("10,32 150,32"));
        let little = drawn(&[("2025-01-01", 70), ("2026-01-01", 71)]);
        assert!(little.contains("10,41 150,24"), "{little}");
    }
}
