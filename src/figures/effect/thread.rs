//! What changed in the thread.

use super::{cloth_length, counted};
use crate::figures::{Change, Figures};
use crate::measure::{Length, Unit};

pub(super) fn changes(before: &Figures, after: &Figures, unit: Unit) -> Vec<Change> {
    let total = |f: &Figures| f.thread.as_ref().map_or(Length::ZERO, |t| t.total);
    let spools = |f: &Figures| f.thread.as_ref().map_or(0, |t| t.spools);
    let mut changes: Vec<Change> = cloth_length("Thread".into(), total(before), total(after), unit)
        .into_iter()
        .collect();
    let (was, is) = (spools(before), spools(after));
    if was != is {
        changes.push(counted("Spools of thread".into(), was, is, "spool", "spools"));
    }
    changes
}

#[cfg(test)]
mod tests {
    use crate::figures::{effect, work_out};
    use crate::plan::Plan;

    #[test]
    fn more_seams_take_more_thread() {
        let plan = |count: u32| {
            let json = format!(
                r#"{{"format":1,"thread":{{"spool":"10 m","seam_end":"0 in","waste":"0 %"}},"seams":[{{"id":"s1","name":"Sides","length":"1 yd","count":{count}}}]}}"#
            );
            work_out(&Plan::from_json(&json).unwrap())
        };
        let changes = effect(&plan(2), &plan(6));
        assert_eq!(
            (changes[0].what.as_str(), changes[0].difference.as_str()),
            ("Thread", "+10 yd (9.14 m)")
        );
        assert_eq!(changes[1].difference, "1 more spool");
    }
}
