//! What leads from one plan to another, part by part: so that two people's
//! changes of different parts can be brought together.

use super::{Clash, Edit, Plan};

/// The changes that make `to` of `from`. The order of parts is not told.
pub fn differences(from: &Plan, to: &Plan) -> Vec<Edit> {
    let (from, to) = (&from.clone().as_written(), &to.clone().as_written());
    let mut edits = Vec::new();
    let mut list = |edit: Edit| edits.push(edit);
    if (&from.allowances, from.unit) != (&to.allowances, to.unit) {
        list(Edit::Allowances(to.allowances.clone(), to.unit));
    }
    changed(&from.cloths, &to.cloths, |c| &c.id, |c| list(Edit::Cloth(c.clone())));
    changed(
        &from.pieces,
        &to.pieces,
        |p| &p.id,
        |p| list(Edit::Piece(Box::new(p.clone()))),
    );
    changed(&from.drafts, &to.drafts, |d| &d.id, |d| list(Edit::Draft(d.clone())));
    changed(&from.edges, &to.edges, |e| &e.id, |e| list(Edit::Edge(e.clone())));
    changed(&from.notions, &to.notions, |n| &n.id, |n| list(Edit::Notion(n.clone())));
    changed(
        &from.closures,
        &to.closures,
        |c| &c.id,
        |c| list(Edit::Closure(c.clone())),
    );
    changed(&from.seams, &to.seams, |s| &s.id, |s| list(Edit::Seam(s.clone())));
    changed(
        &from.lays,
        &to.lays,
        |l| &l.cloth,
        |l| list(Edit::Lay(Box::new(l.clone()))),
    );
    gone(&from.lays, &to.lays, |l| &l.cloth, |id| list(Edit::RemoveLay(id)));
    gone(&from.pieces, &to.pieces, |p| &p.id, |id| list(Edit::RemovePiece(id)));
    gone(&from.drafts, &to.drafts, |d| &d.id, |id| list(Edit::RemoveDraft(id)));
    gone(&from.edges, &to.edges, |e| &e.id, |id| list(Edit::RemoveEdge(id)));
    gone(&from.notions, &to.notions, |n| &n.id, |id| list(Edit::RemoveNotion(id)));
    gone(
        &from.closures,
        &to.closures,
        |c| &c.id,
        |id| list(Edit::RemoveClosure(id)),
    );
    gone(&from.seams, &to.seams, |s| &s.id, |id| list(Edit::RemoveSeam(id)));
    gone(&from.cloths, &to.cloths, |c| &c.id, |id| list(Edit::RemoveCloth(id)));
    if from.binding != to.binding {
        list(Edit::Binding(to.binding.clone()));
    }
    if from.thread != to.thread {
        list(Edit::Thread(to.thread.clone()));
    }
    if from.sizing != to.sizing {
        list(Edit::Sizing(to.sizing.clone()));
    }
    if (&from.time, from.made_for) != (&to.time, to.made_for) {
        list(Edit::Time(to.time.clone(), to.made_for));
    }
    edits
}

/// What was done to `from` on the way to `to`, done to `current` as well.
/// Refused where the same part was changed on both ways.
pub fn bring_over(from: &Plan, to: &Plan, current: &Plan) -> Result<Plan, Clash> {
    if current == from {
        return Ok(to.clone());
    }
    differences(from, to)
        .iter()
        .try_fold(current.clone(), |plan, edit| edit.apply(from, &plan))
}

fn changed<T: PartialEq>(from: &[T], to: &[T], id: impl Fn(&T) -> &String, mut tell: impl FnMut(&T)) {
    for new in to {
        if from.iter().find(|old| id(old) == id(new)) != Some(new) {
            tell(new);
        }
    }
}

fn gone<T>(from: &[T], to: &[T], id: impl Fn(&T) -> &String, mut tell: impl FnMut(String)) {
    for old in from {
        if !to.iter().any(|new| id(new) == id(old)) {
            tell(id(old).clone());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{INCH, Unit};
    use crate::plan::{
        Closure, Cloth, Draft, DraftKind, Edge, KeptLay, MadeFor, Notion, Piece, Seam, Sizing, Thread, Tie, TimePlan,
    };

    fn edge(id: &str, inches: i64) -> Edge {
        Edge {
            id: id.into(),
            name: format!("edge {id}"),
            length: INCH * inches,
            count: 1,
            corners: 0,
            closed: false,
            from: None,
        }
    }

    /// One of every part, each of `name`.
    fn whole(name: &str) -> Plan {
        let name = name.to_string();
        Plan {
            unit: if name == "new" { Unit::Cm } else { Unit::Inch },
            cloths: vec![Cloth {
                id: "c1".into(),
                name: name.clone(),
                ..Cloth::default()
            }],
            pieces: vec![Piece {
                id: "p1".into(),
                name: name.clone(),
                ..Piece::default()
            }],
            drafts: vec![Draft {
                id: "d1".into(),
                name: name.clone(),
                seam: INCH,
                kind: DraftKind::Tie(Tie {
                    length: INCH,
                    width: INCH,
                    point: INCH,
                    count: 1,
                }),
            }],
            edges: vec![Edge {
                name: name.clone(),
                ..edge("e1", 1)
            }],
            notions: vec![Notion {
                id: "n1".into(),
                name: name.clone(),
                ..Notion::default()
            }],
            closures: vec![Closure {
                id: "k1".into(),
                name: name.clone(),
                ..Closure::default()
            }],
            seams: vec![Seam {
                id: "s1".into(),
                name: name.clone(),
                ..Seam::default()
            }],
            lays: vec![KeptLay {
                cloth: "c1".into(),
                pieces: vec![name.clone()],
                ..KeptLay::default()
            }],
            thread: (name == "new").then(Thread::default),
            sizing: (name == "new").then(Sizing::default),
            time: (name == "new").then(TimePlan::default),
            made_for: if name == "new" { MadeFor::Child } else { MadeFor::Adult },
            ..Plan::default()
        }
    }

    #[test]
    fn every_part_is_told() {
        for (from, to) in [
            (whole("old"), whole("new")),
            (Plan::default(), whole("new")),
            (whole("old"), Plan::default()),
        ] {
            let mut plan = from.clone();
            for edit in differences(&from, &to) {
                plan = edit.apply(&from, &plan).expect("nothing else was changed");
            }
            assert_eq!(plan, to);
            assert!(differences(&to, &to).is_empty());
        }
    }

    #[test]
    fn changes_of_other_parts_stay_and_of_the_same_clash() {
        let from = Plan {
            edges: vec![edge("e1", 10), edge("e2", 20)],
            ..Plan::default()
        };
        let mine = Plan {
            edges: vec![edge("e1", 11), edge("e2", 20)],
            ..from.clone()
        };
        let other = Plan {
            edges: vec![edge("e1", 10), edge("e2", 22), edge("e3", 3)],
            ..from.clone()
        };
        let both = bring_over(&from, &mine, &other).expect("different parts");
        assert_eq!(both.edges, [edge("e1", 11), edge("e2", 22), edge("e3", 3)]);
        let same = Plan {
            edges: vec![edge("e1", 12), edge("e2", 20)],
            ..from.clone()
        };
        assert_eq!(bring_over(&from, &mine, &same), Err(Clash("edge e1".into())));
        assert_eq!(bring_over(&from, &mine, &from), Ok(mine));
    }
}
