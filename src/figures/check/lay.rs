//! Kept lays. Whether one still holds is no question of the plan by itself.

use super::{Finder, called};
use crate::plan::limits;

pub(super) fn check(find: &mut Finder) {
    let plan = find.plan;
    if !find.list("lays", "lays", plan.lays.len(), limits::LAYS) {
        return;
    }
    for (at, lay) in plan.lays.iter().enumerate() {
        let field = format!("lays/{}", lay.cloth);
        let Some(cloth) = plan.cloth(&lay.cloth) else {
            find.add(
                field,
                format!(
                    "A lay is kept of the cloth “{}”, which is not in the plan. Add the cloth, or take the lay out of the plan's file.",
                    called(&lay.cloth, "")
                ),
            );
            continue;
        };
        let name = called(&cloth.name, &cloth.id);
        if plan.lays[..at].iter().any(|other| other.cloth == lay.cloth) {
            find.add(
                field.clone(),
                format!("Two lays are kept of {name}, and only the first is counted on. Take one out."),
            );
        }
        if lay.copies.len() > limits::LAID_COPIES {
            find.add(
                field,
                format!(
                    "The lay on {name} lays {} copies; {} are the most. Lay fewer pieces at once.",
                    lay.copies.len(),
                    limits::LAID_COPIES
                ),
            );
        }
    }
}
