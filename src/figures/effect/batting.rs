//! What changed in the packages a batting could be bought in.

use super::pairs;
use crate::figures::{BattingFigures, Change, Figures};

pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let best = |f: Option<&BattingFigures>| match f {
        None => "none".to_string(),
        Some(f) => match f.packages.iter().find(|p| p.best) {
            Some(p) => format!("{} {}", p.count, p.name),
            None => "no package".into(),
        },
    };
    let mut changes = Vec::new();
    for (old, new) in pairs(&before.batting, &after.batting, |f| &f.cloth) {
        let (was, is) = (best(old), best(new));
        if was != is {
            changes.push(Change {
                what: format!("{} in packages", new.or(old).map_or("", |f| f.name.as_str())),
                difference: format!("{is} instead of {was}"),
                before: was,
                after: is,
            });
        }
    }
    changes
}
