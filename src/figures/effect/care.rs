//! What changed in the care of the whole.

use super::{differs, pairs};
use crate::figures::{CareLine, Change, Figures};

pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let lines = |f: &Figures| -> Vec<CareLine> { f.care.as_ref().map_or(Vec::new(), |c| c.lines.clone()) };
    let (was, is) = (lines(before), lines(after));
    pairs(&was, &is, |line| line.treatment)
        .into_iter()
        .filter_map(|(old, new)| {
            let words = |line: Option<&CareLine>| line.map_or("not known".to_string(), |l| l.words.clone());
            let treatment = new.or(old)?.treatment;
            differs(
                format!("Care, {}", treatment.to_lowercase()),
                words(old),
                words(new),
                words(new),
            )
        })
        .collect()
}
