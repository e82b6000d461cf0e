//! Rows of closures, as text.

use super::Page;
use crate::figures::{ClosureFigures, Figures};
use crate::measure::{Length, Round};

impl Page {
    pub(super) fn closures(&mut self, figures: &Figures) {
        if figures.closures.is_empty() {
            return;
        }
        self.heading("Closures");
        for row in &figures.closures {
            self.text.push('\n');
            self.closure(row);
        }
        if figures.closures.len() > 1 {
            self.text.push('\n');
            self.pair("in all", &figures.closures_in_all().to_string());
        }
    }

    fn closure(&mut self, c: &ClosureFigures) {
        self.line(0, &format!("{}, {}", c.name, c.kind.name()));
        let unit = self.unit;
        let mark = |l: Length| l.both_sixteenths(unit, Round::Nearest);
        let up = |l: Length| l.both_sixteenths(unit, Round::Up);
        if let Some(zip) = c.zip {
            self.pair("zip", &up(zip));
        } else {
            self.pair("how many", &c.count.to_string());
            let from_top: Vec<String> = c.positions.iter().map(|p| mark(*p)).collect();
            self.pair("from the upper end", &from_top.join("; "));
            let gaps: Vec<String> = c.gaps.iter().map(|g| mark(*g)).collect();
            if !gaps.is_empty() {
                self.pair("from one to the next", &gaps.join("; "));
            }
        }
        if let (Some(extension), Some(overlap)) = (c.extension, c.overlap) {
            self.pair("beyond the centre line", &up(extension));
            self.pair("overlap", &up(overlap));
        }
        if let Some(hole) = c.buttonhole {
            self.pair("buttonhole", &up(hole));
        }
        if let Some(start) = c.hole_starts {
            self.pair("begins past the centre", &mark(start));
        }
        if let Some(ligne) = c.ligne {
            self.pair("nearest trade size", &format!("{ligne} ligne"));
        }
        if let Some(cost) = c.cost {
            self.pair("cost", &cost.to_string());
        }
        self.shown(&c.shown);
    }
}
