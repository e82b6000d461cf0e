//! Cost, as text.

use super::Page;
use crate::figures::Figures;

impl Page {
    pub(super) fn cost(&mut self, figures: &Figures) {
        let cost = &figures.cost;
        if cost.lines.is_empty() {
            return;
        }
        self.heading("Cost");
        for line in &cost.lines {
            let said = |money: Option<crate::measure::Money>| money.map_or("no price".into(), |m| m.to_string());
            let (spend, worth) = (said(line.to_spend), said(line.worth));
            self.item(&match line.worth {
                Some(_) => format!("{}: {spend} to spend, {worth} worth", line.what),
                None => format!("{}: no price", line.what),
            });
        }
        self.pair("to spend in all", &cost.to_spend.to_string());
        self.pair("worth of all in it", &cost.worth.to_string());
        self.shown(&cost.shown);
    }
}
