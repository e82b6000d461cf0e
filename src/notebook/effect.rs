use crate::figures::Change;
use crate::plan::Plan;

/// What going from one plan to the other does to the figures.
pub(super) fn effect(before: &Plan, after: &Plan) -> Vec<Change> {
    // TODO after the branch `figures` is merged:
    // figures::effect(&figures::work_out(before), &figures::work_out(after))
    let _ = (before, after);
    Vec::new()
}
