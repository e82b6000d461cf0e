//! Care, as text.

use super::Page;
use crate::figures::Figures;

impl Page {
    pub(super) fn care(&mut self, figures: &Figures) {
        let Some(care) = &figures.care else { return };
        // Nothing was said of any material: nothing to print but what is missing.
        if care.lines.is_empty() && care.fibre_hints.is_empty() && care.shown.cautions.len() < 2 {
            return;
        }
        self.heading("Care");
        for line in &care.lines {
            self.pair(&line.treatment.to_lowercase(), &line.words);
        }
        for hint in &care.fibre_hints {
            self.line(2, hint);
        }
        self.shown(&care.shown);
    }
}
