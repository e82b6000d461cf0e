//! What a plan takes of one of its cloths, and what its layout leaves over:
//! for the history of a cloth, and for what goes back to the shelf.

use super::outline::AtHand;
use super::{Figures, Size};
use crate::measure::{Area, Length};
use crate::plan::{Outlined, Plan, ReadyCut};

/// What a plan takes of a cloth.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ClothUse {
    /// Of the full width, owned and bought, straightening included.
    pub length: Length,
    pub remnants: Vec<RemnantUsed>,
    /// Remnants with an outline that are cut into: `count` of each.
    pub outlined: Vec<Outlined>,
    pub ready_cut: Vec<ReadyUsed>,
    /// Largest first.
    pub left_over: Vec<LeftOver>,
    /// Parts the figures are without: more will be cut.
    pub not_counted: Vec<String>,
}

/// Remnants of one size that are cut into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RemnantUsed {
    pub width: Length,
    pub length: Length,
    pub count: u32,
}

/// Ready-cut patches that are used: `count` of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadyUsed(pub ReadyCut);

/// Rectangles nothing is cut from, worth keeping: `width` across the grain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftOver {
    pub size: Size,
    pub count: u32,
}

/// Nothing where the plan has no such cloth, or takes nothing of it.
pub fn cloth_use(plan: &Plan, figures: &Figures, cloth: &str) -> Option<ClothUse> {
    let known = plan.cloth(cloth)?;
    let f = figures.cloths.iter().find(|f| f.cloth == cloth)?;
    let mut used = ClothUse {
        length: f.length,
        not_counted: f.not_counted.clone(),
        ..ClothUse::default()
    };
    let at_hand = AtHand::of(known);
    let mut cut_into = vec![0u32; at_hand.all().len()];
    for sheet in f.layout.sheets.iter().filter(|s| !s.strips.is_empty()) {
        if let Some(count) = sheet.remnant.and_then(|at| cut_into.get_mut(at)) {
            *count = count.saturating_add(1);
        }
        for rect in &sheet.left_over {
            used.leave(Size {
                width: rect.width,
                height: rect.height,
            });
        }
    }
    for bound in figures
        .binding
        .iter()
        .filter(|b| b.cloth == cloth)
        .flat_map(|b| &b.cut_from)
    {
        if let Some(count) = cut_into.get_mut(bound.remnant) {
            *count = count.saturating_add(u32::try_from(bound.times).unwrap_or(0));
        }
    }
    let laid_on = |kind: usize| {
        let laid = f.used_lay().into_iter().flat_map(|lay| &lay.remnants);
        laid.filter(|r| r.kind == kind)
            .fold(0u32, |sum, r| sum.saturating_add(r.count))
    };
    for (at, count) in cut_into.iter_mut().enumerate().take(known.remnants.len()) {
        *count = count.saturating_add(laid_on(at));
    }
    // Of an outline, as many as are cut into at the rectangle that is used most,
    // besides those a lay lies on.
    let mut outlines = vec![0u32; known.outlined.len()];
    for (at, count) in cut_into.iter().enumerate() {
        if let Some(of) = at_hand.part(at).and_then(|part| outlines.get_mut(part.outlined)) {
            *of = (*of).max(*count);
        }
    }
    for (at, count) in outlines.iter_mut().enumerate() {
        *count = count.saturating_add(laid_on(known.remnants.len() + at));
    }
    for (outlined, count) in known.outlined.iter().zip(outlines).filter(|(_, count)| *count > 0) {
        used.outlined.push(Outlined {
            count,
            ..outlined.clone()
        });
    }
    for (remnant, count) in known.remnants.iter().zip(cut_into).filter(|(_, count)| *count > 0) {
        used.remnants.push(RemnantUsed {
            width: remnant.width,
            length: remnant.length,
            count,
        });
    }
    for ready in f.ready_cut.iter().filter(|r| r.used > 0) {
        if let (Some(of), Ok(count)) = (known.ready_cut.get(ready.at), u32::try_from(ready.used)) {
            used.ready_cut.push(ReadyUsed(ReadyCut { count, ..of.clone() }));
        }
    }
    used.left_over
        .sort_by_key(|l| std::cmp::Reverse(Area::of(l.size.width, l.size.height)));
    (f.is_used() || !used.remnants.is_empty() || !used.outlined.is_empty()).then_some(used)
}

impl ClothUse {
    fn leave(&mut self, size: Size) {
        match self.left_over.iter_mut().find(|l| l.size == size) {
            Some(known) => known.count = known.count.saturating_add(1),
            None => self.left_over.push(LeftOver { size, count: 1 }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;
    use crate::measure::INCH;

    #[test]
    fn lengths_remnants_and_what_is_left_over_are_told() {
        let plan = Plan::from_json(
            r#"{"format":1,"allowances":{"straightening":"0 in"},
            "cloths":[{"id":"c1","name":"Oat","usable_width":"42 in","owned":"40 in",
                "remnants":[{"width":"20 in","length":"20 in","count":2},{"width":"5 in","length":"5 in","count":1}]}],
            "pieces":[{"id":"p1","name":"Front","cut_count":1,"width":"30 in","height":"36 in","face":{"kind":"plain","cloth":"c1"}},
                {"id":"p2","name":"Pocket","cut_count":1,"width":"18 in","height":"18 in","face":{"kind":"plain","cloth":"c1"}}]}"#,
        )
        .unwrap();
        let figures = work_out(&plan);
        let used = cloth_use(&plan, &figures, "c1").unwrap();
        assert_eq!(used.length, INCH * 36);
        let remnant = &used.remnants[..];
        assert_eq!((remnant.len(), remnant[0].width, remnant[0].count), (1, INCH * 20, 1));
        let beside = used.left_over[0];
        assert_eq!((beside.size.width, beside.size.height), (INCH * 12, INCH * 36));
        assert_eq!(cloth_use(&plan, &figures, "c9"), None);
    }

    #[test]
    fn a_remnant_with_an_outline_is_cut_into_as_a_whole() {
        let plan = Plan::from_json(
            r#"{"format":1,"allowances":{"straightening":"0 in","seam":"0 in"},
            "cloths":[{"id":"c1","name":"Oat","usable_width":"42 in","outlined":[
                {"outline":{"sides":{"sides":["20 in","20 in","20 in","20 in"],"diagonal":"28 1/4 in"}},"count":3}]}],
            "pieces":[{"id":"p1","name":"Pocket","cut_count":2,"width":"14 in","height":"14 in","face":{"kind":"plain","cloth":"c1"}}]}"#,
        )
        .unwrap();
        let figures = work_out(&plan);
        let used = cloth_use(&plan, &figures, "c1").unwrap();
        assert_eq!((used.length, used.remnants.len()), (Length::ZERO, 0));
        assert_eq!((used.outlined.len(), used.outlined[0].count), (1, 2));
        assert_eq!(used.outlined[0].outline, plan.cloths[0].outlined[0].outline);
    }
}
