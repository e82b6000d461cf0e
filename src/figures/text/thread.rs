//! Thread, as text.

use super::Page;
use crate::figures::Figures;
use crate::figures::thread::{spool_both, stitch_name};
use crate::measure::Round;

impl Page {
    pub(super) fn thread(&mut self, figures: &Figures) {
        let Some(t) = &figures.thread else { return };
        self.heading("Thread");
        let unit = self.unit;
        self.pair("in all, with waste", &t.total.both_cloth(unit, Round::Up));
        for s in &t.by_stitch {
            self.item(&format!(
                "{}: {} for {} of seam",
                stitch_name(s.stitch),
                s.thread.both_cloth(unit, Round::Up),
                s.length.both_cloth(unit, Round::Up)
            ));
        }
        self.pair("spools", &format!("{} of {}", t.spools, spool_both(t.spool, unit)));
        if let Some(cost) = t.cost {
            self.pair("cost", &cost.to_string());
        }
        self.shown(&t.shown);
    }
}
