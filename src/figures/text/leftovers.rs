//! What the cloth at hand gives, as plain text.

use super::Page;
use crate::figures::PieceFromLeftovers;
use crate::measure::Round;
use crate::plan::Plan;

/// How many of each piece there is enough for, wrapped like the figures.
pub fn leftovers_as_text(plan: &Plan, pieces: &[PieceFromLeftovers]) -> String {
    let mut page = Page {
        unit: plan.unit,
        text: String::new(),
    };
    page.heading("From the cloth at hand, with nothing to buy");
    for piece in pieces {
        page.pair(&piece.name, &format!("{} of {}", piece.covered, piece.wanted));
        for out in &piece.runs_out {
            let short = page.both(out.short, Round::Up);
            page.item(&format!("one more lacks {short} of {}", out.name));
        }
    }
    if pieces.is_empty() {
        page.line(2, "No piece has a face that can be worked out yet.");
    } else {
        page.line(
            2,
            "Each piece as if nothing else were made; faces alone, without batting and backing.",
        );
    }
    page.text
}
