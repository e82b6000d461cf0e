//! Batting in packages, as text.

use super::Page;
use crate::figures::Figures;
use crate::measure::Round;

impl Page {
    pub(super) fn batting(&mut self, figures: &Figures) {
        if figures.batting.is_empty() {
            return;
        }
        self.heading("Batting in packages");
        for batting in &figures.batting {
            self.text.push('\n');
            self.line(0, &format!("{}, {} to cut", batting.name, batting.count));
            for package in &batting.packages {
                let best = if package.best { ", the least" } else { "" };
                let size = self.size(package.size, Round::Nearest);
                self.pair(package.name, &format!("{} of {size}{best}", package.count));
            }
            self.shown(&batting.shown);
        }
    }
}
