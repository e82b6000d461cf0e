//! One change of a plan, as a value: what a form saves. Two devices may change
//! different parts of one plan; only a change to the same part clashes.

use super::{
    Allowances, Binding, Closure, Cloth, Draft, Edge, KeptLay, MadeFor, Notion, Piece, Plan, Seam, Sizing, Thread,
    TimePlan,
};
use crate::measure::Unit;

/// A change to one part of a plan. A part with a new id is added at the end; a
/// part with a known id takes the place of the old one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edit {
    Cloth(Cloth),
    RemoveCloth(String),
    Piece(Box<Piece>),
    /// Several pieces in one step, all of them or none.
    Pieces(Vec<Piece>),
    RemovePiece(String),
    Draft(Draft),
    /// A draft and pieces made from it, all of them or none.
    Drafted(Draft, Vec<Piece>),
    RemoveDraft(String),
    /// A draft and every piece made from it.
    RemoveDrafted(String),
    Edge(Edge),
    RemoveEdge(String),
    Notion(Notion),
    RemoveNotion(String),
    Closure(Closure),
    RemoveClosure(String),
    Seam(Seam),
    RemoveSeam(String),
    Thread(Option<Thread>),
    Sizing(Option<Sizing>),
    Time(Option<TimePlan>, MadeFor),
    Binding(Option<Binding>),
    Allowances(Allowances, Unit),
    /// In the place of the one that was kept of its cloth.
    Lay(Box<KeptLay>),
    /// By the id of its cloth.
    RemoveLay(String),
    /// The whole plan: an older revision taken again, a plan read from a file.
    Whole(Box<Plan>),
}

/// The same part was changed elsewhere since the change began.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0} was changed on another device or in another tab since you opened it.")]
pub struct Clash(pub String);

impl Edit {
    /// Applies the change to `current`, having begun from `seen`. Refused
    /// where the part itself differs between the two.
    pub fn apply(&self, seen: &Plan, current: &Plan) -> Result<Plan, Clash> {
        let (seen, current) = (&seen.clone().as_written(), &current.clone().as_written());
        let mut plan = current.clone();
        match self {
            Edit::Cloth(cloth) => put(&mut plan.cloths, &seen.cloths, cloth, |c| &c.id, |c| &c.name)?,
            Edit::RemoveCloth(id) => {
                remove(&mut plan.cloths, &seen.cloths, id, |c| &c.id, |c| &c.name)?;
                // Without its cloth there is nothing to lay on.
                plan.lays.retain(|lay| lay.cloth != *id);
            }
            Edit::Piece(piece) => put_piece(&mut plan, seen, piece)?,
            Edit::Pieces(pieces) => {
                for piece in pieces {
                    put_piece(&mut plan, seen, piece)?;
                }
            }
            Edit::Draft(draft) => put_draft(&mut plan, seen, draft)?,
            Edit::Drafted(draft, pieces) => {
                put_draft(&mut plan, seen, draft)?;
                for piece in pieces {
                    put_piece(&mut plan, seen, piece)?;
                }
            }
            Edit::RemoveDraft(id) => remove(&mut plan.drafts, &seen.drafts, id, |d| &d.id, |d| &d.name)?,
            Edit::RemoveDrafted(id) => {
                let made: Vec<String> = current.drafted_from(id).map(|p| p.id.clone()).collect();
                for piece in &made {
                    remove(&mut plan.pieces, &seen.pieces, piece, |p| &p.id, |p| &p.name)?;
                }
                remove(&mut plan.drafts, &seen.drafts, id, |d| &d.id, |d| &d.name)?;
            }
            Edit::RemovePiece(id) => remove(&mut plan.pieces, &seen.pieces, id, |p| &p.id, |p| &p.name)?,
            Edit::Edge(edge) => {
                let edge = &edge.clone().as_written();
                put(&mut plan.edges, &seen.edges, edge, |e| &e.id, |e| &e.name)?;
            }
            Edit::RemoveEdge(id) => remove(&mut plan.edges, &seen.edges, id, |e| &e.id, |e| &e.name)?,
            Edit::Notion(notion) => put(&mut plan.notions, &seen.notions, notion, |n| &n.id, |n| &n.name)?,
            Edit::RemoveNotion(id) => remove(&mut plan.notions, &seen.notions, id, |n| &n.id, |n| &n.name)?,
            Edit::Closure(closure) => put(&mut plan.closures, &seen.closures, closure, |c| &c.id, |c| &c.name)?,
            Edit::RemoveClosure(id) => remove(&mut plan.closures, &seen.closures, id, |c| &c.id, |c| &c.name)?,
            Edit::Seam(seam) => put(&mut plan.seams, &seen.seams, seam, |s| &s.id, |s| &s.name)?,
            Edit::RemoveSeam(id) => remove(&mut plan.seams, &seen.seams, id, |s| &s.id, |s| &s.name)?,
            Edit::Thread(thread) => whole(&mut plan.thread, &seen.thread, thread, "The thread")?,
            Edit::Sizing(sizing) => whole(&mut plan.sizing, &seen.sizing, sizing, "The size table")?,
            Edit::Time(time, made_for) => {
                whole(&mut plan.time, &seen.time, time, "The time")?;
                whole(&mut plan.made_for, &seen.made_for, made_for, "For whom it is made")?;
            }
            Edit::Binding(binding) => whole(&mut plan.binding, &seen.binding, binding, "The binding")?,
            Edit::Allowances(allowances, unit) => {
                let same = (&seen.allowances, seen.unit) == (&current.allowances, current.unit);
                if !same && (&current.allowances, current.unit) != (allowances, *unit) {
                    return Err(Clash("The list of allowances".into()));
                }
                plan.allowances = allowances.clone();
                plan.unit = *unit;
            }
            Edit::Lay(lay) => {
                // Its cloth may have been taken out meanwhile.
                let there = current.cloth(&lay.cloth).is_some() || seen.cloth(&lay.cloth).is_none();
                there
                    .then(|| put(&mut plan.lays, &seen.lays, lay, |l| &l.cloth, |l| &l.cloth).ok())
                    .flatten()
                    .ok_or_else(|| Clash(lay_of(seen, &lay.cloth)))?;
            }
            Edit::RemoveLay(cloth) => {
                remove(&mut plan.lays, &seen.lays, cloth, |l| &l.cloth, |l| &l.cloth)
                    .map_err(|_| Clash(lay_of(current, cloth)))?;
            }
            Edit::Whole(whole) => {
                if seen != current && (**whole).clone().as_written() != *current {
                    return Err(Clash("The plan".into()));
                }
                plan = (**whole).clone();
            }
        }
        Ok(plan)
    }

    /// What the change is about, for the list of revisions: "Sleeve changed".
    pub fn title(&self, before: &Plan) -> String {
        fn said(known: bool, name: &str) -> String {
            if known {
                format!("{name} changed")
            } else {
                format!("{name} added")
            }
        }
        fn gone(name: Option<&str>) -> String {
            format!("{} taken out", name.unwrap_or("A part"))
        }
        match self {
            Edit::Cloth(c) => said(before.cloth(&c.id).is_some(), &c.name),
            Edit::RemoveCloth(id) => gone(before.cloth(id).map(|c| c.name.as_str())),
            Edit::Piece(p) => match before.piece(&p.id) {
                // What a maker looks for later: when the outline became another.
                Some(known) if known.pattern != p.pattern => format!("{}: outline changed", p.name),
                known => said(known.is_some(), &p.name),
            },
            Edit::Pieces(pieces) => match pieces.as_slice() {
                [one] => said(before.piece(&one.id).is_some(), &one.name),
                [first, rest @ ..] => format!("{} and {} more changed", first.name, rest.len()),
                [] => "Nothing changed".into(),
            },
            Edit::RemovePiece(id) => gone(before.piece(id).map(|p| p.name.as_str())),
            Edit::Draft(d) => said(before.draft(&d.id).is_some(), &format!("Draft {}", d.name)),
            Edit::Drafted(d, _) => said(before.draft(&d.id).is_some(), &format!("Draft {}", d.name)),
            Edit::RemoveDraft(id) | Edit::RemoveDrafted(id) => gone(before.draft(id).map(|d| d.name.as_str())),
            Edit::Edge(e) => said(before.edge(&e.id).is_some(), &format!("Edge {}", e.name)),
            Edit::RemoveEdge(id) => gone(before.edge(id).map(|e| e.name.as_str())),
            Edit::Notion(n) => said(before.notion(&n.id).is_some(), &n.name),
            Edit::RemoveNotion(id) => gone(before.notion(id).map(|n| n.name.as_str())),
            Edit::Closure(c) => said(before.closure(&c.id).is_some(), &c.name),
            Edit::RemoveClosure(id) => gone(before.closure(id).map(|c| c.name.as_str())),
            Edit::Seam(s) => said(before.seam(&s.id).is_some(), &format!("Seam {}", s.name)),
            Edit::RemoveSeam(id) => gone(before.seam(id).map(|s| s.name.as_str())),
            Edit::Thread(Some(_)) => said(before.thread.is_some(), "Thread"),
            Edit::Thread(None) => gone(Some("Thread")),
            Edit::Sizing(Some(_)) => said(before.sizing.is_some(), "Size table"),
            Edit::Sizing(None) => gone(Some("Size table")),
            Edit::Time(..) => "Time changed".into(),
            Edit::Binding(Some(_)) => said(before.binding.is_some(), "Binding"),
            Edit::Binding(None) => gone(Some("Binding")),
            Edit::Allowances(..) => "Allowances changed".into(),
            Edit::Lay(lay) => match before.lay(&lay.cloth) {
                None => format!("{} kept", lay_of(before, &lay.cloth)),
                Some(_) => format!("{} kept in place of the earlier one", lay_of(before, &lay.cloth)),
            },
            Edit::RemoveLay(cloth) => gone(Some(&lay_of(before, cloth))),
            Edit::Whole(_) => "Plan replaced".into(),
        }
    }
}

/// "The lay on Oat linen".
fn lay_of(plan: &Plan, cloth: &str) -> String {
    format!(
        "The lay on {}",
        plan.cloth(cloth).map_or("a cloth", |c| c.name.as_str())
    )
}

/// A part that is there once: it takes the place of the old one.
fn whole<T: Clone + PartialEq>(now: &mut T, seen: &T, new: &T, what: &str) -> Result<(), Clash> {
    if seen != now && now != new {
        return Err(Clash(what.into()));
    }
    *now = new.clone();
    Ok(())
}

fn put_piece(plan: &mut Plan, seen: &Plan, piece: &Piece) -> Result<(), Clash> {
    let piece = &piece.clone().as_written();
    put(&mut plan.pieces, &seen.pieces, piece, |p| &p.id, |p| &p.name)
}

fn put_draft(plan: &mut Plan, seen: &Plan, draft: &Draft) -> Result<(), Clash> {
    let draft = &draft.clone().as_written();
    put(&mut plan.drafts, &seen.drafts, draft, |d| &d.id, |d| &d.name)
}

fn put<T: Clone + PartialEq>(
    list: &mut Vec<T>,
    seen: &[T],
    new: &T,
    id: impl Fn(&T) -> &String,
    name: impl Fn(&T) -> &String,
) -> Result<(), Clash> {
    let before = seen.iter().find(|x| id(x) == id(new));
    let at = list.iter().position(|x| id(x) == id(new));
    let now = at.map(|i| &list[i]);
    if before != now && now != Some(new) {
        return Err(Clash(name(now.or(before).unwrap_or(new)).clone()));
    }
    match at {
        Some(i) => list[i] = new.clone(),
        None => list.push(new.clone()),
    }
    Ok(())
}

fn remove<T: Clone + PartialEq>(
    list: &mut Vec<T>,
    seen: &[T],
    gone: &String,
    id: impl Fn(&T) -> &String,
    name: impl Fn(&T) -> &String,
) -> Result<(), Clash> {
    let before = seen.iter().find(|x| id(x) == gone);
    if let Some(i) = list.iter().position(|x| id(x) == gone) {
        if before != Some(&list[i]) {
            return Err(Clash(name(&list[i]).clone()));
        }
        list.remove(i);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH;

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

    #[test]
    fn changes_of_different_parts_both_stay() {
        let seen = Plan {
            edges: vec![edge("e1", 10), edge("e2", 20)],
            ..Plan::default()
        };
        let current = Edit::Edge(edge("e1", 11)).apply(&seen, &seen).unwrap();
        let both = Edit::Edge(edge("e2", 22)).apply(&seen, &current).unwrap();
        assert_eq!(both.edges, [edge("e1", 11), edge("e2", 22)]);
    }

    #[test]
    fn several_pieces_change_together_or_not_at_all() {
        let piece = |id: &str, inches: i64| Piece {
            id: id.into(),
            name: format!("piece {id}"),
            width: INCH * inches,
            ..Piece::default()
        };
        let seen = Plan {
            pieces: vec![piece("p1", 1), piece("p2", 2), piece("p3", 3)],
            ..Plan::default()
        };
        let both = Edit::Pieces(vec![piece("p1", 11), piece("p3", 33)]);
        assert_eq!(both.title(&seen), "piece p1 and 1 more changed");
        let after = both.apply(&seen, &seen).unwrap();
        assert_eq!(after.pieces, [piece("p1", 11), piece("p2", 2), piece("p3", 33)]);
        let elsewhere = Edit::Piece(Box::new(piece("p3", 30))).apply(&seen, &seen).unwrap();
        assert_eq!(both.apply(&seen, &elsewhere), Err(Clash("piece p3".into())));
    }

    #[test]
    fn changes_of_the_same_part_clash_and_equal_ones_do_not() {
        let seen = Plan {
            edges: vec![edge("e1", 10)],
            ..Plan::default()
        };
        let current = Edit::Edge(edge("e1", 11)).apply(&seen, &seen).unwrap();
        assert_eq!(
            Edit::Edge(edge("e1", 12)).apply(&seen, &current),
            Err(Clash("edge e1".into()))
        );
        assert_eq!(
            Edit::RemoveEdge("e1".into()).apply(&seen, &current),
            Err(Clash("edge e1".into()))
        );
        // A resend of the same save is harmless.
        assert_eq!(Edit::Edge(edge("e1", 11)).apply(&seen, &current), Ok(current.clone()));
        // Taken out elsewhere, changed here: both versions are shown, nothing is lost.
        let without = Edit::RemoveEdge("e1".into()).apply(&seen, &seen).unwrap();
        assert!(Edit::Edge(edge("e1", 12)).apply(&seen, &without).is_err());
    }

    #[test]
    fn one_lay_is_kept_of_a_cloth_and_goes_with_it() {
        let lay = |piece: &str| {
            Edit::Lay(Box::new(KeptLay {
                cloth: "c1".into(),
                pieces: vec![piece.into()],
                ..KeptLay::default()
            }))
        };
        let seen = Plan {
            cloths: vec![Cloth {
                id: "c1".into(),
                name: "Oat".into(),
                ..Cloth::default()
            }],
            ..Plan::default()
        };
        assert_eq!(lay("p1").title(&seen), "The lay on Oat kept");
        let kept = lay("p1").apply(&seen, &seen).unwrap();
        assert_eq!(
            lay("p2").title(&kept),
            "The lay on Oat kept in place of the earlier one"
        );
        let other = lay("p2").apply(&kept, &kept).unwrap();
        assert_eq!((other.lays.len(), other.lays[0].pieces[0].as_str()), (1, "p2"));
        // Two who keep one each from the same plan: the second is told.
        assert_eq!(lay("p2").apply(&seen, &kept), Err(Clash("The lay on Oat".into())));
        assert_eq!(lay("p1").apply(&seen, &kept), Ok(kept.clone()));
        let out = Edit::RemoveLay("c1".into());
        assert_eq!(out.title(&kept), "The lay on Oat taken out");
        assert_eq!(out.apply(&kept, &kept).unwrap().lays, []);
        assert!(out.apply(&kept, &other).is_err());
        let without = Edit::RemoveCloth("c1".into()).apply(&kept, &kept).unwrap();
        assert_eq!(without.lays, []);
        // Its cloth went meanwhile: nothing to lay on.
        assert!(lay("p2").apply(&kept, &without).is_err());
    }
}
