use crate::figures::{self, Change};
use crate::plan::Plan;

/// What going from one plan to the other does to the figures.
pub(super) fn effect(before: &Plan, after: &Plan) -> Vec<Change> {
    figures::effect(&figures::work_out(before), &figures::work_out(after))
}
