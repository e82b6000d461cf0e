//! Does this remnant give it? The binding from rectangles that are there,
//! each way, one remnant by itself or several joined.

use super::bias::Start;
use super::drawn::{BiasPiece, drawn};
use super::straight::strips_made;
use super::ways::{WAYS, join_loss};
use super::{continuous, needed};
use crate::figures::{BiasStrip, Shown, Size};
use crate::measure::{Length, Round};
use crate::plan::{BindingCut, Plan, limits};
use serde::Serialize;
use std::collections::BTreeMap;

/// Rectangles of one size that are there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Given {
    /// Across and along the grain.
    pub size: Size,
    pub count: i64,
}

/// What rectangles give of a plan's binding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FromRemnants {
    /// What must be there once it is sewn together, and the strip.
    pub total: Length,
    pub strip_width: Length,
    pub ways: Vec<FromRemnantsWay>,
    pub shown: Shown,
}

/// What they give cut one way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FromRemnantsWay {
    pub cut: BindingCut,
    /// What each of them gives by itself, in the order given.
    pub each: Vec<RemnantYield>,
    /// Those used, the best first: as few as give it, or all that give anything.
    pub used: Vec<RemnantUse>,
    /// Joins in all, within the remnants and between them.
    pub joins: i64,
    pub made: Length,
    pub enough: bool,
    /// What is still missing, or is left over when it is enough.
    pub missing: Length,
    pub over: Length,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct RemnantUse {
    /// Position in the list given.
    pub remnant: usize,
    pub times: i64,
}

impl FromRemnants {
    pub fn way(&self, cut: BindingCut) -> Option<&FromRemnantsWay> {
        self.ways.iter().find(|way| way.cut == cut)
    }
}

impl FromRemnantsWay {
    /// The strips of those used.
    pub fn strips(&self) -> Vec<BiasStrip> {
        let of = |used: &RemnantUse| {
            let strips = self.each.get(used.remnant).map(|one| one.strips.clone());
            let times = used.times;
            strips.unwrap_or_default().into_iter().map(move |s| BiasStrip {
                length: s.length,
                count: s.count * times,
            })
        };
        self.used.iter().flat_map(of).collect()
    }
}

/// What one rectangle gives cut one way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RemnantYield {
    /// What is cut from: the rectangle less what straightening takes along it.
    pub size: Size,
    pub count: i64,
    pub strips: Vec<BiasStrip>,
    /// Straight strips that run along the grain, not across it.
    pub lengthwise: bool,
    pub joins: i64,
    pub made: Length,
    /// Whether one of them alone is enough.
    pub enough: bool,
    pub missing: Length,
    pub over: Length,
    /// Bias strips as they lie on it.
    pub drawn: Vec<BiasPiece>,
}

/// What these rectangles give of the binding of the plan; `None` while its
/// length or the width of its strip is not known.
pub fn from_rectangles(plan: &Plan, given: &[Given]) -> Option<FromRemnants> {
    let settled = crate::drafting::settled(plan);
    let plan = &*settled.plan;
    let checked = crate::figures::check::check(&settled);
    if !checked.allowances.straightening {
        return None;
    }
    let (total, strip) = needed(plan, &checked)?;
    Some(answer(plan, total, strip, given))
}

pub(super) fn answer(plan: &Plan, total: Length, strip: Length, given: &[Given]) -> FromRemnants {
    let unit = plan.unit;
    let a = &plan.allowances;
    let given: Vec<Given> = given.iter().take(limits::REMNANTS).map(sensible).collect();
    let ways = WAYS
        .into_iter()
        .map(|cut| by_way(plan, cut, total, strip, &given))
        .collect();
    let mut shown = Shown::default();
    let several = given.iter().map(|g| g.count).sum::<i64>() > 1;
    shown.working.push(format!(
        "Needed: {} of strips {} wide. {} of the length of a remnant are counted as lost to straightening.",
        total.both(unit, Round::Up),
        strip.cut(unit),
        a.straightening.both(unit, Round::Nearest)
    ));
    let loss = |cut| join_loss(cut, strip).both(unit, Round::Up);
    if several {
        shown.working.push(format!(
            "Each join between two remnants takes {} of straight strips, {} of bias strips, {} of continuous bias.",
            loss(BindingCut::Straight),
            loss(BindingCut::BiasStrips),
            loss(BindingCut::Continuous)
        ));
    }
    shown.allowances = crate::figures::allowances::used(a, unit, &["straightening", "binding_shortest_strip"]);
    FromRemnants {
        total,
        strip_width: strip,
        ways,
        shown,
    }
}

fn by_way(plan: &Plan, cut: BindingCut, total: Length, strip: Length, given: &[Given]) -> FromRemnantsWay {
    let each: Vec<RemnantYield> = given.iter().map(|g| of_one(plan, cut, total, strip, *g)).collect();
    let loss = join_loss(cut, strip);
    let mut order: Vec<usize> = (0..each.len()).collect();
    order.sort_by_key(|at| (std::cmp::Reverse(each[*at].made), *at));
    let mut used: Vec<RemnantUse> = Vec::new();
    let (mut made, mut joins) = (Length::ZERO, 0);
    for at in order {
        let one = &each[at];
        // The first is joined to nothing; one that a join eats up gives nothing.
        let first = if used.is_empty() { one.made } else { one.made - loss };
        let further = one.made - loss;
        if made >= total || !first.is_positive() || one.count < 1 {
            continue;
        }
        let missing = total - made - first;
        let more = if missing.is_positive() && further.is_positive() {
            missing.times_needed(further).min(one.count - 1)
        } else {
            0
        };
        made += first + further * more;
        joins += (one.joins + 1) * (more + 1) - i64::from(used.is_empty());
        used.push(RemnantUse {
            remnant: at,
            times: more + 1,
        });
    }
    FromRemnantsWay {
        cut,
        used,
        joins,
        made,
        enough: made >= total,
        missing: (total - made).max(Length::ZERO),
        over: (made - total).max(Length::ZERO),
        each,
    }
}

fn of_one(plan: &Plan, cut: BindingCut, total: Length, strip: Length, given: Given) -> RemnantYield {
    let a = &plan.allowances;
    let size = Size {
        width: given.size.width.max(Length::ZERO),
        height: (given.size.height - a.straightening).max(Length::ZERO),
    };
    let shortest = a.binding_shortest_strip;
    let mut out = RemnantYield {
        size,
        count: given.count,
        strips: Vec::new(),
        lengthwise: false,
        joins: 0,
        made: Length::ZERO,
        enough: false,
        missing: total,
        over: Length::ZERO,
        drawn: Vec::new(),
    };
    let strips = match cut {
        BindingCut::Straight => {
            let across = straight(size.width, size.height, strip, shortest);
            let along = straight(size.height, size.width, strip, shortest);
            out.lengthwise = along.1 > across.1;
            if out.lengthwise { along } else { across }
        }
        BindingCut::BiasStrips => {
            let of = |start| drawn(size.width, size.height, strip, shortest, start);
            let made = |strips: &[BiasPiece]| strips.last().map_or(Length::ZERO, |s| s.so_far);
            let (corner, middle) = (of(Start::Corner), of(Start::Middle));
            out.drawn = if made(&middle) > made(&corner) { middle } else { corner };
            (grouped(&out.drawn), made(&out.drawn))
        }
        BindingCut::Continuous => {
            let made = continuous::made(size.width, size.height, strip);
            let strips = made.is_positive().then_some(BiasStrip { length: made, count: 1 });
            (strips.into_iter().collect(), made)
        }
    };
    (out.strips, out.made) = strips;
    let count: i64 = out.strips.iter().map(|s| s.count).sum();
    out.joins = (count - 1).max(0);
    out.enough = out.made >= total;
    out.missing = (total - out.made).max(Length::ZERO);
    out.over = (out.made - total).max(Length::ZERO);
    out
}

/// Equal strips together, the longest first.
fn grouped(pieces: &[BiasPiece]) -> Vec<BiasStrip> {
    let mut strips: BTreeMap<Length, i64> = BTreeMap::new();
    for piece in pieces {
        *strips.entry(piece.length).or_default() += 1;
    }
    let longest_first = strips.into_iter().rev();
    longest_first
        .map(|(length, count)| BiasStrip { length, count })
        .collect()
}

/// A rectangle nobody has gives nothing.
fn sensible(given: &Given) -> Given {
    let side = |l: Length| l.is_positive() && l <= Length::MAX;
    let count = given.count.clamp(0, i64::from(limits::REMNANT_COUNT));
    if side(given.size.width) && side(given.size.height) {
        Given { count, ..*given }
    } else {
        Given {
            size: Size {
                width: Length::ZERO,
                height: Length::ZERO,
            },
            count: 0,
        }
    }
}

/// Strips `length` long side by side over `over`, and what they make.
fn straight(length: Length, over: Length, strip: Length, shortest: Length) -> (Vec<BiasStrip>, Length) {
    let count = over.times_fits(strip);
    // What a join would take half of is no strip.
    if count == 0 || length < shortest.max(strip * 2) {
        return (Vec::new(), Length::ZERO);
    }
    (vec![BiasStrip { length, count }], strips_made(count, length, strip))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::work_out;
    use crate::measure::INCH;

    /// One closed run of 80 in without corners: 86 in of 2 1/2 in strips.
    fn plan(remnants: &str, cut: &str, from_remnants: bool) -> Plan {
        Plan::from_json(&format!(
            r#"{{"format":1,"allowances":{{"straightening":"0 in"}},
            "cloths":[{{"id":"c1","name":"Cream","usable_width":"42 in","remnants":[{remnants}]}}],
            "edges":[{{"id":"e1","name":"Hem","length":"80 in","count":1,"closed":true}}],
            "binding":{{"cloth":"c1","fold":"double","cut":"{cut}","finished_width":"3/8 in","from_remnants":{from_remnants}}}}}"#
        ))
        .unwrap()
    }

    const TWO: &str = r#"{"width":"20 in","length":"5 in","count":2},{"width":"9 in","length":"10 in","count":1}"#;

    #[test]
    fn several_are_joined_and_the_joins_are_paid_for() {
        let figures = work_out(&plan(TWO, "straight", false));
        let binding = figures.binding.unwrap();
        assert_eq!(binding.total, INCH * 86);
        let way = binding.remnants.as_ref().unwrap().way(BindingCut::Straight).unwrap();
        // Two strips of 20 in from each of the first: 40 less a join of 2 1/2 in.
        // The third gives 4 of 9 in (lengthwise 3 of 10 in): 36 less 7 1/2 in.
        let made: Vec<Length> = way.each.iter().map(|one| one.made).collect();
        assert_eq!(made, [Length::inches_frac(75, 2), Length::inches_frac(57, 2)]);
        // 37 1/2 + 37 1/2 + 28 1/2 less two joins between them.
        assert_eq!(way.made, Length::inches_frac(197, 2));
        assert_eq!((way.joins, way.enough), (7, true));
        assert_eq!(way.over, Length::inches_frac(25, 2));
        // By bias they do not give it.
        let bias = binding.remnants.as_ref().unwrap().way(BindingCut::BiasStrips).unwrap();
        assert!(!bias.enough && bias.missing == binding.total - bias.made);
    }

    #[test]
    fn what_is_cut_from_remnants_is_not_bought() {
        let (without, with) = (
            work_out(&plan(TWO, "straight", false)),
            work_out(&plan(TWO, "straight", true)),
        );
        let (before, after) = (without.binding.unwrap(), with.binding.unwrap());
        let saved = before.saving.unwrap();
        assert!(saved.is_positive());
        assert_eq!(without.cloths[0].to_buy - with.cloths[0].to_buy, saved);
        assert_eq!((after.saving, after.cut_from.len()), (None, 2));
        assert!(with.cloths[0].cuts.is_empty());
        // Others, who have no remnants, are told all of it, on every width.
        assert_eq!(
            with.cloths[0].to_buy_if_none_owned,
            without.cloths[0].to_buy_if_none_owned
        );
        assert_eq!(with.cloths[0].other_widths, without.cloths[0].other_widths);
        // Where they do not give it, all of it is counted as before.
        let short = work_out(&plan(TWO, "bias-strips", true));
        assert!(short.binding.unwrap().shown.cautions[0].contains("would be missing"));
        assert_eq!(short.cloths[0].cuts.len(), 1);
    }

    #[test]
    fn a_bigger_rectangle_never_gives_less() {
        let plan = plan("", "straight", false);
        let made = |w: i64, l: i64| {
            let size = Size {
                width: INCH * w,
                height: INCH * l,
            };
            let answer = from_rectangles(&plan, &[Given { size, count: 1 }]).unwrap();
            answer.ways.iter().map(|way| way.made).collect::<Vec<_>>()
        };
        for w in 3..30 {
            let (small, big) = (made(w, 12), made(w + 1, 13));
            // Straight and continuous; bias strips may lie worse once, by less than a strip.
            assert!(small[0] <= big[0] && small[2] <= big[2], "{w}");
            assert!(small[1] <= big[1] + INCH * 10, "{w}");
        }
    }
}
