//! What changed in the size.

use super::{NONE, differs};
use crate::figures::{Change, Figures, SizingFigures};

pub(super) fn changes(before: &Figures, after: &Figures) -> Vec<Change> {
    let size = |f: &Figures, which: fn(&SizingFigures) -> Option<usize>| {
        let sizing = f.sizing.as_ref()?;
        sizing.sizes.get(which(sizing)?).cloned()
    };
    [
        ("Size taken", (|s| s.taken) as fn(&SizingFigures) -> Option<usize>),
        ("Size by the measures", |s| s.recommended),
    ]
    .into_iter()
    .filter_map(|(what, which)| {
        let (was, is) = (size(before, which), size(after, which));
        let difference = match (&was, &is) {
            (Some(was), Some(is)) => format!("{was} to {is}"),
            (None, Some(is)) => format!("now {is}"),
            (_, None) => "none now".into(),
        };
        let [was, is] = [was, is].map(|size| size.unwrap_or_else(|| NONE.into()));
        differs(what.into(), was, is, difference)
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use crate::figures::{effect, work_out};
    use crate::plan::Plan;

    #[test]
    fn another_wearer_takes_another_size() {
        let plan = |wearer: &str| {
            let json = format!(
                r#"{{"format":1,"sizing":{{"sizes":["8","10","12"],"rows":[{{"name":"bust girth","body":["31 in","32 in","34 in"],"wearer":"{wearer}"}}]}}}}"#
            );
            work_out(&Plan::from_json(&json).unwrap())
        };
        let changes = effect(&plan("31 in"), &plan("33 in"));
        assert!(
            changes.iter().all(|c| c.difference == "8 to 12") && changes.len() == 2,
            "{changes:?}"
        );
    }
}
