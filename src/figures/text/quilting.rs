//! Lines of quilting as text.

use super::Page;
use crate::figures::Figures;
use crate::measure::Round;

impl Page {
    pub(super) fn quilting(&mut self, figures: &Figures) {
        let quilting = &figures.quilting;
        if quilting.pieces.is_empty() {
            return;
        }
        self.heading("Quilting");
        self.pair("to stitch in all", &quilting.total.both_cloth(self.unit, Round::Up));
        for caution in &quilting.cautions {
            self.line(2, &format!("Mind: {caution}"));
        }
        for piece in &quilting.pieces {
            self.text.push('\n');
            self.line(0, &format!("{}, {} panels", piece.name, piece.count));
            for set in &piece.sets {
                let lines = set.lines.len();
                let text = format!(
                    "{lines} {}, {} apart",
                    if lines == 1 { "line" } else { "lines" },
                    self.both(set.spacing, Round::Nearest)
                );
                self.pair(set.way.name(), &text);
            }
            self.pair("stitched on a panel", &self.both(piece.length, Round::Up));
            self.pair("on all of them", &piece.total.both_cloth(self.unit, Round::Up));
            self.shown(&piece.shown);
        }
    }
}
