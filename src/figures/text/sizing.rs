//! Size and ease, as text.

use super::Page;
use crate::figures::Figures;
use crate::measure::{Length, Round};

impl Page {
    pub(super) fn sizing(&mut self, figures: &Figures) {
        let Some(s) = &figures.sizing else { return };
        self.heading("Size and ease");
        let named = |n: Option<usize>| n.and_then(|n| s.sizes.get(n)).cloned();
        self.pair("sizes", &s.sizes.join(", "));
        if let Some(size) = named(s.recommended) {
            self.pair("by the measures", &size);
        }
        self.line(2, &s.why);
        let taken = named(s.taken);
        if let Some(size) = &taken {
            self.pair("told for size", size);
        }
        let unit = self.unit;
        let show = |l: Length| l.both(unit, Round::Nearest);
        for fit in s.rows.iter().filter(|fit| fit.wearer.is_some()) {
            let mut words = Vec::new();
            if let Some(wearer) = fit.wearer {
                words.push(format!("wearer {}", show(wearer)));
            }
            if let Some(garment) = fit.garment {
                words.push(format!("finished {}", show(garment)));
            }
            if let Some(ease) = s.taken.and_then(|n| fit.ease.get(n)) {
                words.push(format!("ease {}", show(*ease)));
            }
            if let Some(to) = named(fit.grade_to) {
                words.push(format!("grade to size {to}"));
            }
            if let Some(alter) = fit.alter.filter(|a| *a != Length::ZERO) {
                let way = if alter.is_negative() { "take in" } else { "let out" };
                words.push(format!("{way} {}", show(alter.abs())));
            }
            self.item(&format!("{}: {}", fit.name, words.join(", ")));
        }
        self.shown(&s.shown);
    }
}
