//! The time of a plan as plain text.

use super::Page;
use crate::figures::Figures;
use crate::measure::hours;

impl Page {
    pub(super) fn time(&mut self, figures: &Figures) {
        let time = &figures.time;
        if time.work.is_empty() {
            return;
        }
        self.heading("Time");
        for line in &time.work {
            let amount = line
                .amount
                .map(|a| format!("{} {}", a.words(self.unit), line.of))
                .unwrap_or_else(|| line.of.clone());
            let minutes = match line.expected {
                Some(minutes) => minutes.words(),
                None => "not known yet".into(),
            };
            self.pair(line.work.name(), &format!("{amount}: {minutes}"));
        }
        if time.expected.high > 0 {
            self.pair("in all, as far as known", &time.expected.words());
        }
        if let Some(outlook) = &time.outlook {
            self.pair("time a week", &hours(outlook.minutes_a_week));
            for sentence in &outlook.words {
                self.line(4, sentence);
            }
        }
        self.shown(&time.shown);
    }
}
