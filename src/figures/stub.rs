use super::*;
use crate::plan::Plan;
pub fn work_out(_plan: &Plan) -> Figures {
    todo!()
}
pub fn problems(_plan: &Plan) -> Vec<Problem> {
    todo!()
}
pub fn effect(_b: &Figures, _a: &Figures) -> Vec<Change> {
    todo!()
}
pub fn as_text(_plan: &Plan, _f: &Figures) -> String {
    todo!()
}
